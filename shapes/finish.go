package shapes

import "dryfit/shapes/read"

// blocks reads the figures of the part's kind.
func (d *decoder) blocks(f *read.Fields, p *Part) {
	if p.Kind.bodied() {
		d.body(f, p)
	}
	switch p.Kind {
	case Controller, EscFour, AllInOne, PowerBoard:
		d.square(f, p)
	case VideoTx, CameraKind, Regulator, Receiver, GPS, Payload, Block:
		if p.Kind != CameraKind {
			d.square(f, p)
		}
	}
	switch p.Kind {
	case MotorKind:
		d.motor(f, p)
	case PropKind:
		d.prop(f, p)
	case CameraKind:
		d.camera(f, p)
	case AntennaKind:
		d.antenna(f, p)
	case Battery:
		d.pack(f, p)
	case Connector:
		d.plug(f, p)
	case ThreadKind:
		d.threadPart(f, p)
	case StandoffKind:
		d.standoff(f, p)
	case GrommetKind:
		d.grommet(f, p)
	case StrapKind:
		d.strap(f, p)
	case TieKind:
		d.tie(f, p)
	case PadKind:
		d.cushion(f, p)
	case SleeveKind:
		d.sleeve(f, p)
	case MaterialKind:
		d.material(f, p)
	case WireKind:
		d.wire(f, p)
	}
	if p.Kind.bodied() || p.Kind == CameraKind {
		d.ports(f, p)
		d.pads(f, p)
	}
}

// finish fills in what the file may leave out: figures that have a sound default are
// Assumed, those that rules need and nobody can guess are Missing. No figure that its
// kind needs is nil afterwards.
func finish(d *decoder, f *read.Fields, p *Part) {
	if b := p.Body; b != nil {
		finishBody(d, p, b)
	}
	if s := p.Square; s != nil {
		finishSquare(d, s)
	}
	for i := range p.Ports {
		port := &p.Ports[i]
		if port.Button || port.Card {
			continue
		}
		if port.Axis == nil && port.Edge != "" {
			port.Axis = d.lacking(port.Name+" axis", MM)
		}
		if port.Overhang == nil && port.Edge != "" {
			port.Overhang = d.lacking(port.Name+" overhang", MM)
		}
	}
	placePorts(p)
	if p.Mass == nil && p.NoMass == "" && weighs(p.Kind) {
		p.Mass = d.lacking("mass", Gram)
	}
	if m := p.Motor; m != nil {
		d.fill(&m.OverallH, "overall height", MM)
		d.fill(&m.BellGap, "bell gap", MM)
		d.fill(&m.BaseD, "base", MM)
		d.fill(&m.ThreadUsable, "thread usable", MM)
		d.fill(&m.CentreHole, "centre hole", MM)
		d.fill(&m.Shaft, "shaft", MM)
		d.fill(&m.MaxCurrent, "max current", Amp)
		d.fill(&m.MaxThrust, "max thrust", Gf)
		d.fill(&m.BellD, "bell", MM)
		d.fill(&m.BodyH, "body height", MM)
	}
	if q := p.Prop; q != nil {
		d.fill(&q.NominalD, "diameter", MM)
		d.fill(&q.RealD, "real diameter", MM)
		d.fill(&q.HubT, "hub thickness", MM)
		d.fill(&q.HubD, "hub diameter", MM)
		d.fill(&q.FlexUp, "flex up", MM)
		d.fill(&q.FlexDown, "flex down", MM)
		d.fill(&q.BelowHub, "below hub", MM)
	}
	if c := p.Camera; c != nil {
		d.fill(&c.Width, "width", MM)
		d.fill(&c.Height, "height", MM)
		d.fill(&c.Depth, "depth", MM)
		d.fill(&c.LensD, "lens diameter", MM)
		d.fill(&c.LensLength, "lens length", MM)
		d.fill(&c.PivotBack, "pivot back", MM)
		d.fill(&c.Fov, "fov", Deg)
		if c.SideScrews {
			d.fill(&c.ScrewMax, "screw max", MM)
		}
	}
	if a := p.Antenna; a != nil {
		d.fill(&a.Rod, "rod", MM)
		d.fill(&a.RodD, "rod diameter", MM)
	}
	if k := p.Pack; k != nil {
		d.fill(&k.Capacity, "capacity", MAh)
		d.fill(&k.LeadRoom, "lead room", MM)
		d.fill(&k.Swell, "swell", MM)
	}
}

func (d *decoder) fill(into **Dim, what string, u Unit) {
	if *into == nil {
		*into = d.lacking(what, u)
	}
}

// weighs tells the kinds whose parts count one by one in a take-off mass.
func weighs(k Kind) bool {
	switch k {
	case Connector, ThreadKind, StandoffKind, MaterialKind, WireKind, SleeveKind, PadKind, StrapKind, TieKind, GrommetKind:
		return false
	}
	return true
}

func finishBody(d *decoder, p *Part, b *Body) {
	switch b.Shape {
	case BoardBody:
		d.fill(&b.Length, "length", MM)
		d.fill(&b.Width, "width", MM)
		if b.Pcb == nil { // 1.6 is the stock thickness of circuit boards, sold to ±10 %
			b.Pcb = d.assumed("pcb", 1.6, 0.16)
		}
		d.fill(&b.Above, "above", MM)
		d.fill(&b.Below, "below", MM)
	case CanBody:
		d.fill(&b.Diameter, "diameter", MM)
		d.fill(&b.Length, "length", MM)
	default:
		d.fill(&b.Length, "length", MM)
		d.fill(&b.Width, "width", MM)
		d.fill(&b.Height, "height", MM)
	}
	if b.Edge == nil && b.Shape == BoardBody { // routed board edges hold about ±0.2
		b.Edge = d.assumed("edge", 0, 0.2)
	}
}

// finishSquare fills in the holes that boards with a usual pattern have.
func finishSquare(d *decoder, s *SquarePattern) {
	d.fill(&s.X, "hole side", MM)
	d.fill(&s.Y, "hole side", MM)
	if s.Place == nil { // drilled holes of circuit boards hold about ±0.1
		s.Place = d.assumed("hole place", 0, 0.1)
	}
	// Holes as they come with a soft mount; board makers drill little else.
	usual := []struct {
		side  float64
		screw string
		hole  float64
		lo    float64
		hi    float64
	}{
		{30.5, "M3", 4.0, 3.9, 4.3},
		{25.5, "M2", 3.2, 2.8, 3.6},
		{20, "M2", 3.0, 2.8, 3.6},
		{16, "M2", 1.9, 1.6, 2.2},
	}
	for _, u := range usual {
		if s.X.Missing || s.X.Value < u.side-0.3 || s.X.Value > u.side+0.3 {
			continue
		}
		if s.Hole == nil {
			s.Hole = d.assumed("hole", u.hole, 0)
			s.Hole.Plus, s.Hole.Minus, s.Hole.Range = clean(u.hi-u.hole), clean(u.hole-u.lo), true
		}
		if s.Screw == "" {
			s.Screw = u.screw
		}
	}
	d.fill(&s.Hole, "hole", MM)
	if s.Clear == nil {
		// What a head, nut or post needs free round each hole: its width and 0.5.
		switch s.Screw {
		case "M3":
			s.Clear = d.assumed("hole clear", 6.5, 0)
		case "M2", "M1.6":
			s.Clear = d.assumed("hole clear", 4.5, 0)
		default:
			s.Clear = d.lacking("hole clear", MM)
		}
	}
}
