package shapes

import (
	"fmt"
	"strconv"
	"strings"
)

// Figure is one thing known of a part, for lists: a dimension, or a text where there is
// none.
type Figure struct {
	Label string
	Dim   *Dim // nil: Text holds
	Text  string
}

type figures struct{ list []Figure }

func (f *figures) dim(label string, d *Dim) {
	if d != nil {
		f.list = append(f.list, Figure{Label: label, Dim: d})
	}
}

func (f *figures) text(label, text string) {
	if text != "" {
		f.list = append(f.list, Figure{Label: label, Text: text})
	}
}

func (f *figures) number(label string, v float64, unit string) {
	if v > 0 || v < 0 {
		f.text(label, strings.TrimSpace(trim(v)+" "+unit))
	}
}

func (f *figures) numbers(label string, v []float64, unit string) {
	if len(v) == 0 {
		return
	}
	words := make([]string, len(v))
	for i, x := range v {
		words[i] = trim(x)
	}
	f.text(label, strings.Join(words, ", ")+" "+unit)
}

func trim(v float64) string { return strconv.FormatFloat(round6(v), 'f', -1, 64) }

// Figures lists everything known of the part in a stable order, the same for every part
// of its kind.
func (p *Part) Figures() []Figure {
	f := &figures{}
	f.dim("mass", p.Mass)
	f.text("mass", p.NoMass)
	if v := p.Volts; v != nil {
		f.text("input", trim(v.Lo)+" to "+trim(v.Hi)+" V")
	}
	f.dim("current", p.Amps)
	f.dim("draw", p.Draw)
	f.dim("input clamped at", p.Clamp)
	f.dim("capacitance", p.Capacitance)
	if p.Compass {
		f.text("compass", "in it")
	}
	f.dim("its signals off power leads", p.Quiet)
	for _, r := range p.Rails {
		f.dim("rail of "+trim(r.Volts)+" V", r.Amps)
		f.dim("rail of "+trim(r.Volts)+" V needs above it", r.Dropout)
	}
	f.body(p.Body)
	f.square(p.Square)
	f.ports(p)
	f.rotor(p)
	f.kit(p)
	f.hardware(p)
	return f.list
}

func (f *figures) body(b *Body) {
	if b == nil {
		return
	}
	if b.Outline != nil {
		f.text("outline", fmt.Sprintf("drawn, %d pieces", b.Outline.Len()))
	}
	f.dim("diameter", b.Diameter)
	f.dim("length", b.Length)
	f.dim("width", b.Width)
	f.dim("height", b.Height)
	f.number("corner radius", b.Corner, "mm")
	f.dim("board edge", b.Edge)
	f.dim("pcb", b.Pcb)
	f.dim("above", b.Above)
	f.dim("below", b.Below)
	for _, z := range b.Zones {
		label := "zone " + z.Name + ", " + z.Face.String()
		if z.Hot {
			label += ", hot"
		}
		if z.Live {
			label += ", at pack voltage"
		}
		f.dim(label, z.Height)
	}
}

// String names the face.
func (f Face) String() string {
	if f == Bottom {
		return "bottom"
	}
	return "top"
}

func (f *figures) square(s *SquarePattern) {
	if s == nil {
		return
	}
	f.dim("hole side", s.X)
	if s.Y != s.X {
		f.dim("hole side, y", s.Y)
	}
	f.dim("hole", s.Hole)
	f.dim("hole place", s.Place)
	f.text("screw", s.Screw)
	f.dim("hole clear", s.Clear)
	f.text("hole rings", s.Ring)
	f.number("holes turned", s.Turn, "deg")
	f.text("holes", strconv.Itoa(s.Count))
}

func (f *figures) ports(p *Part) {
	for i := range p.Ports {
		port := &p.Ports[i]
		text := port.Plug
		switch {
		case port.Button:
			text = "button"
		case port.Card:
			text = "card slot"
		}
		if port.Edge != "" {
			text += ", " + port.Edge + " edge"
			if port.Along > 0 || port.Along < 0 {
				text += " " + trim(port.Along) + " mm from its middle"
			}
		} else {
			text += fmt.Sprintf(", at %s, %s", trim(port.At.X), trim(port.At.Y))
		}
		if port.Upward {
			text += ", opens away from the face"
		}
		text += ", " + port.Face.String()
		if port.Reach {
			text += ", to be reached when assembled"
		}
		f.text("port "+port.Name, text)
		f.dim("port "+port.Name+" axis", port.Axis)
		f.dim("port "+port.Name+" overhang", port.Overhang)
		f.pins(port)
	}
	for i := range p.Pads {
		f.pad(&p.Pads[i])
	}
}

// pins lists the ways of a plug in order, with what each carries where its name does not
// say it.
func (f *figures) pins(port *Port) {
	var words []string
	for _, pin := range port.Pins {
		word := pin.Name
		if pin.Role != "" && string(pin.Role) != pin.Name {
			word += " (" + string(pin.Role) + ")"
		}
		words = append(words, word)
	}
	f.text("port "+port.Name+" ways", strings.Join(words, ", "))
	for _, pin := range port.Pins {
		f.electric("port "+port.Name+" "+pin.Name, pin.Electric)
	}
}

func (f *figures) pad(pad *Pad) {
	text := fmt.Sprintf("at %s, %s, %s", trim(pad.At.X), trim(pad.At.Y), pad.Face)
	if pad.Ways > 1 {
		text += fmt.Sprintf(", %d in a row at %s deg, %s mm apart", pad.Ways, trim(pad.Row), trim(pad.Pitch))
	}
	if pad.HasFacing {
		text += ", wires leave at " + trim(pad.Facing) + " deg"
	}
	if pad.Role != "" {
		text += ", " + string(pad.Role)
	}
	f.text("pad "+pad.Name, text)
	f.dim("pad "+pad.Name+" size", pad.Size)
	f.electric("pad "+pad.Name, pad.Electric)
}

func (f *figures) electric(label string, e Electric) {
	if e.Takes != nil {
		f.text(label+" takes", trim(e.Takes.Lo)+" to "+trim(e.Takes.Hi)+" V")
	}
	f.dim(label+" draws", e.Draws)
}

func (f *figures) rotor(p *Part) {
	if m := p.Motor; m != nil {
		f.text("stator", m.Stator)
		f.dim("bell", m.BellD)
		f.dim("body height", m.BodyH)
		f.dim("overall height", m.OverallH)
		f.dim("bell gap", m.BellGap)
		f.dim("base", m.BaseD)
		for _, c := range m.Circles {
			f.dim("bolt circle", c.Diameter)
			f.dim("bolt circle across", c.Across)
			text := strconv.Itoa(c.Count) + " holes"
			if c.Screw != "" {
				text += " " + c.Screw
			}
			f.text("holes", text)
		}
		f.dim("usable thread", m.ThreadUsable)
		f.dim("penetration to aim for", m.Penetration)
		f.dim("usable thread in the bell", m.BellThread)
		f.dim("centre hole in the arm", m.CentreHole)
		f.dim("shaft", m.Shaft)
		f.text("prop mounts", strings.Join(m.Mounts, ", "))
		f.dim("stub over the prop seat", m.Stub)
		f.dim("threaded part", m.ThreadedPart)
		f.dim("shoulder", m.Shoulder)
		if m.LeftHand {
			f.text("stub thread", "left-handed")
		}
		f.dim("most current", m.MaxCurrent)
		f.dim("most thrust", m.MaxThrust)
		f.dim("lead length", m.LeadLength)
		f.number("lead gauge", m.LeadGauge, "AWG")
		f.cells(m.CellsLo, m.CellsHi)
	}
	if q := p.Prop; q != nil {
		f.dim("label diameter", q.NominalD)
		f.dim("real diameter", q.RealD)
		f.dim("hub thickness", q.HubT)
		f.dim("hub diameter", q.HubD)
		f.numbers("bores", q.Bores, "mm")
		f.text("mounts", strings.Join(q.Mounts, ", "))
		f.dim("flex up", q.FlexUp)
		f.dim("flex down", q.FlexDown)
		f.dim("below the hub", q.BelowHub)
		f.text("blades", strconv.Itoa(q.Blades))
	}
}

func (f *figures) cells(lo, hi int) {
	switch {
	case lo == 0:
	case lo == hi:
		f.text("cells", strconv.Itoa(lo))
	default:
		f.text("cells", fmt.Sprintf("%d to %d", lo, hi))
	}
}

func (f *figures) kit(p *Part) {
	if c := p.Camera; c != nil {
		f.dim("width between the screw faces", c.Width)
		f.dim("height", c.Height)
		f.dim("depth with the lens", c.Depth)
		f.dim("lens diameter", c.LensD)
		f.dim("lens length", c.LensLength)
		f.dim("side screws from the back", c.PivotBack)
		f.dim("field of view, diagonal", c.Fov)
		if c.SideScrews {
			f.text("side screw", c.SideScrew)
			f.dim("side screw enters at most", c.ScrewMax)
		} else {
			f.text("side screw", "none: clipped in")
		}
	}
	if a := p.Antenna; a != nil {
		f.dim("rod", a.Rod)
		f.dim("rod diameter", a.RodD)
		f.dim("head", a.Head)
		f.dim("head diameter", a.HeadD)
		f.dim("active length", a.Active)
		f.dim("span", a.Span)
		if a.Soft {
			f.text("soft", "bends aside when touched")
		}
		f.text("plug", a.Plug)
	}
	if k := p.Pack; k != nil {
		f.cells(k.Cells, k.Cells)
		f.dim("capacity", k.Capacity)
		f.number("full cell", k.CellFull, "V")
		f.number("label discharge", k.Discharge, "C")
		f.text("plug", k.Plug)
		f.number("lead gauge", k.LeadGauge, "AWG")
		f.dim("lead room", k.LeadRoom)
		f.dim("lead length", k.LeadLength)
		f.dim("swelling", k.Swell)
	}
	if g := p.Plug; g != nil {
		f.text("family", g.Family)
		f.text("ways", strconv.Itoa(g.Ways))
		f.dim("width", g.Width)
		f.dim("height", g.Height)
		f.dim("beyond the socket", g.Beyond)
		f.dim("beyond, angled plug", g.Angled)
		f.dim("bend of the leads", g.Bend)
		f.dim("room for fingers", g.Hand)
		f.number("rated", g.Rated, "A")
		f.number("peak", g.Peak, "A")
		f.dim("mass of the pair", g.MassPair)
	}
}

func (f *figures) hardware(p *Part) {
	if t := p.Thread; t != nil {
		f.text("size", t.Size)
		f.number("major diameter", t.Major, "mm")
		f.number("pitch", t.Pitch, "mm")
		f.number("tap drill", t.TapDrill, "mm")
		for _, h := range t.Heads {
			text := fmt.Sprintf("%s across, %s high", trim(h.D), trim(h.H))
			if h.Key != "" {
				text += ", " + h.Key
			}
			f.text(h.Form+" head", text+", "+h.Standard+", conf "+h.Conf)
		}
		f.number("nut across flats", t.NutAF, "mm")
		f.number("nut across corners", t.NutCorner, "mm")
		f.number("nut height", t.NutH, "mm")
		f.dim("insert nut height", t.LockNutH)
		f.number("washer inside", t.WasherID, "mm")
		f.number("washer outside", t.WasherOD, "mm")
		f.number("washer thickness", t.WasherT, "mm")
		f.number("hole, fine", t.HoleFine, "mm")
		f.number("hole, medium", t.HoleMedium, "mm")
		f.dim("hole in carbon plates", t.PlateHole)
		f.numbers("lengths sold", t.Lengths, "mm")
		f.numbers("lengths that come with motors and props", t.KitLengths, "mm")
	}
	if s := p.Standoff; s != nil {
		f.text("thread", s.Thread)
		f.text("material", s.Material)
		if s.Hex {
			f.dim("across flats", s.OD)
			f.dim("across corners", s.Corner)
		} else {
			f.dim("diameter", s.OD)
		}
		f.numbers("lengths sold", s.Lengths, "mm")
		f.dim("length tolerance", s.LengthTol)
		f.dim("stud", s.Stud)
		f.dim("thread depth", s.ThreadDepth)
		if s.Through > 0 {
			f.number("tapped right through, up to a length of", s.Through, "mm")
		}
		f.number("mass", s.MassPerMM, "g a millimetre")
		if s.Conducts {
			f.text("conducts", "joins what it touches electrically")
		}
	}
	if g := p.Grommet; g != nil {
		f.dim("board hole", g.BoardHole)
		f.dim("groove", g.Groove)
		f.dim("outside", g.OD)
		f.dim("bore", g.Bore)
		f.dim("height, free", g.Free)
		f.dim("height, tightened", g.Tight)
		f.dim("below the board", g.Below)
		f.dim("above the board", g.Above)
	}
	if s := p.Strap; s != nil {
		f.dim("width", s.Width)
		f.dim("thickness", s.Thickness)
		f.dim("buckle thickness", s.BuckleT)
		f.dim("buckle width", s.BuckleW)
		f.numbers("lengths sold", s.Lengths, "mm")
	}
	if t := p.Tie; t != nil {
		f.dim("width", t.Width)
		f.dim("thickness", t.Thickness)
		f.dim("head length", t.HeadL)
		f.dim("head width", t.HeadW)
		f.dim("head height", t.HeadH)
		f.numbers("lengths sold", t.Lengths, "mm")
	}
	if c := p.Cushion; c != nil {
		f.dim("thickness as sold", c.Free)
		f.dim("thickness under a part", c.Tight)
	}
	if s := p.Sleeve; s != nil {
		f.dim("inside as supplied", s.Supplied)
		f.dim("inside after shrinking", s.Recovered)
		f.dim("wall after shrinking", s.Wall)
	}
	f.stock(p)
}

func (f *figures) stock(p *Part) {
	if m := p.Material; m != nil {
		f.dim("density", m.Density)
		if m.Conducts {
			f.text("conducts", "edges and holes are bare")
		}
		f.numbers("thicknesses sold", m.Thicknesses, "mm")
		f.dim("cut tolerance", m.CutTol)
		f.dim("hole tolerance", m.HoleTol)
		f.dim("hole place tolerance", m.PlaceTol)
	}
	if w := p.Wire; w != nil {
		f.number("gauge", w.Gauge, "AWG")
		f.dim("outside", w.OD)
		f.dim("mass a metre", w.MassPerM)
		f.number("resistance", w.OhmPerKm, "Ω/km")
		f.dim("steady current in free air", w.Amps)
		f.dim("burst current", w.Burst)
		f.dim("least bend radius", w.MinBend)
	}
}
