package layout

import (
	"fmt"
	"slices"

	"dryfit/shapes"
)

// Supply is what a build's supply has to bear, worked out from its wires, the figures of
// its parts and its mass. Currents are in A, voltages in V.
type Supply struct {
	Nets  []*Net
	Packs []*PackUse
	Rails []*RailUse
	Leads []*LeadUse
	// Hover and Full are what the whole craft takes from its packs, hovering and with every
	// motor at full throttle.
	Hover, Full Form
	Mass        Form // g, that hovers
	Assumed     []string

	asm    *Assembly
	motors []*motorUse
	share  *shapes.Dim
}

// PackUse is one pack, or several that are joined.
type PackUse struct {
	Net   *Net
	Packs []*Pack
	Full  float64 // V, every cell full
	Sag   float64 // V under load, [SagPerCell] a cell
	// Steady is what it gives steadily: half of what its label says, A.
	Steady   Form
	HoverA   Form
	FullA    Form
	Limited  bool   // the firmware's limit holds it at FullA
	FullName string // for tables: "4 x 4.2"
}

// RailUse is one regulated rail.
type RailUse struct {
	Owner *Component
	Rail  *shapes.Rail // nil: the part does not list it
	Volts float64
	Net   *Net      // what it drives; nil if nothing
	Input *NetPlace // what feeds its part; nil if nothing that is wired
	Load  Form
	Loads []RailLoad
}

// RailLoad is what one part takes from a net.
type RailLoad struct {
	Owner *Component
	Amps  Form
	Why   string // "" for its own draw, else "for its 5 V"
}

type motorUse struct {
	motor, esc  *Component
	hover, full Form
}

// Constants of the supply, with their reasons.
const (
	// SagPerCell is the voltage of a cell in V that a supply must work at: a pack under load
	// late in a flight.
	SagPerCell = 3.3
	// nominalPerCell is what a cell gives on average, V.
	nominalPerCell = 3.7
	// togetherShare is how much of the sum of all motors' peaks a craft takes at full throttle:
	// peaks are taken one by one on the bench on a fresh pack with the largest usual prop.
	togetherShare = 0.8
	// steadyShare of a label's discharge rate is what a pack gives steadily; labels are
	// optimistic.
	steadyShare = 0.5
	// railTol is how far a regulated rail may lie off its voltage.
	railTol = 0.03
	// converterShare of what a regulator takes comes out of it: switching regulators of this
	// size 80 to 90 %.
	converterShare = 0.85
	// hoverPower: induced power goes with thrust to the power 1.5 (momentum theory of an ideal
	// rotor), and current with power on a steady pack.
	hoverPower = 1.5
)

// Supply is the build's supply, which callers must not change. A build without wires has packs
// and motors but no rails and no leads. What [Resolve] returned works it out once.
func (a *Assembly) Supply() *Supply {
	if a.supply != nil {
		return a.supply()
	}
	return a.workOutSupply()
}

func (a *Assembly) workOutSupply() *Supply {
	s := &Supply{Nets: a.Nets(), asm: a}
	s.share = &shapes.Dim{
		Name: "share of the motors' peaks at full throttle", Value: 100 * togetherShare, Plus: 5, Minus: 10, Unit: shapes.Ratio,
		Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true, Range: true, Conf: "K", Kind: "trade",
	}
	s.Mass, _ = a.TakeOffMass()
	s.findMotors()
	s.findRails()
	s.findPacks()
	s.findLeads()
	s.say()
	return s
}

// missingFigure is a figure of a part that nobody gave.
func missingFigure(name string, u shapes.Unit) *shapes.Dim {
	return &shapes.Dim{Name: name, Unit: u, Missing: true, TolSource: shapes.Assumed}
}

func figureOr(d *shapes.Dim, name string, u shapes.Unit) *shapes.Dim {
	if d != nil {
		return d
	}
	return missingFigure(name, u)
}

// findMotors takes every rotor's motor: at full throttle the current of its class, in a hover
// the share of it that its thrust needs.
func (s *Supply) findMotors() {
	var thrust Form
	for _, r := range s.asm.Rotors {
		m := r.Motor
		if m == nil || m.Part == nil || m.Part.Motor == nil {
			continue
		}
		thrust = thrust.Add(Of(figureOr(m.Part.Motor.MaxThrust, m.Label+" max thrust", shapes.Gf)))
	}
	// Every motor bears the same share of its greatest thrust.
	share := s.Mass.Over(thrust).ToThe(hoverPower)
	for _, r := range s.asm.Rotors {
		m := r.Motor
		if m == nil || m.Part == nil || m.Part.Motor == nil {
			continue
		}
		full := Of(figureOr(m.Part.Motor.MaxCurrent, m.Label+" max current", shapes.Amp))
		s.motors = append(s.motors, &motorUse{motor: m, full: full, hover: full.Times(share)})
	}
	for _, c := range s.asm.Circuits {
		if c.Kind != MotorCircuit {
			continue
		}
		for _, u := range s.motors {
			switch u.motor {
			case c.From:
				u.esc = c.To
			case c.To:
				u.esc = c.From
			}
		}
	}
}

// draw is a sum of currents: of motors, and of all else.
type draw struct {
	motors      int
	hover, full Form // of the motors, full without the share
	rest        Form
}

func (d draw) plus(e draw) draw {
	return draw{motors: d.motors + e.motors, hover: d.hover.Add(e.hover), full: d.full.Add(e.full), rest: d.rest.Add(e.rest)}
}

// atHover and atFull are the two currents. Several motors do not peak together.
func (d draw) atHover() Form { return d.hover.Add(d.rest) }

func (s *Supply) atFull(d draw) Form {
	if d.motors > 1 {
		return d.full.Times(Of(s.share).Scale(0.01)).Add(d.rest)
	}
	return d.full.Add(d.rest)
}

// placeDraw is what a place takes: its part's own draw, what its rails give on, and the
// motors that it drives. above are the places that this one is reckoned for: boards that feed
// each other in a circle count once.
func (s *Supply) placeDraw(p *NetPlace, above []*NetPlace) (draw, []RailLoad) {
	var d draw
	var loads []RailLoad
	if !p.Takes() || slices.Contains(above, p) {
		return d, nil
	}
	above = append(above[:len(above):len(above)], p)
	if s.inputOf(p.Owner) == p {
		for _, u := range s.motors {
			if u.esc == p.Owner {
				d.motors++
				d.hover, d.full = d.hover.Add(u.hover), d.full.Add(u.full)
			}
		}
	}
	if own, ok := s.ownDraw(p); ok {
		d.rest = d.rest.Add(own)
		loads = append(loads, RailLoad{Owner: p.Owner, Amps: own})
	}
	if s.inputOf(p.Owner) != p {
		return d, loads
	}
	for _, n := range s.Nets {
		if n.Kind != RailNet || n == p.Net || n.Gives[0].Owner != p.Owner {
			continue
		}
		out, _ := s.netDraw(n, above)
		in := s.voltsOf(p.Net)
		if in <= 0 {
			continue
		}
		amps := out.rest.Scale(n.Rated() / in / converterShare)
		d.rest = d.rest.Add(amps)
		loads = append(loads, RailLoad{Owner: p.Owner, Amps: amps, Why: fmt.Sprintf("for its %g V", n.Rated())})
	}
	return d, loads
}

// ownDraw is the current of a part's own at a place; ok is false where it takes none that is
// worth telling: plain distribution, capacitors, and speed controllers beside their motors.
func (s *Supply) ownDraw(p *NetPlace) (Form, bool) {
	part := p.Owner.Part
	if part == nil {
		return Form{}, false
	}
	for _, t := range p.Terminals {
		if t.Draws != nil {
			return Of(t.Draws), true
		}
	}
	if s.inputOf(p.Owner) != p {
		return Form{}, false
	}
	if part.Draw != nil {
		return Of(part.Draw), true
	}
	switch part.Kind {
	case shapes.PowerBoard, shapes.Capacitor, shapes.EscSingle, shapes.EscFour, shapes.Regulator, shapes.Block:
		return Form{}, false
	}
	return Of(missingFigure(p.Owner.Label+" draw", shapes.Amp)), true
}

// inputOf is the place that feeds a part: its pack pads, else the first of its feeds that is
// wired to something that gives.
func (s *Supply) inputOf(c *Component) *NetPlace {
	var best *NetPlace
	for _, n := range s.Nets {
		for _, p := range n.Places {
			if p.Owner != c || !p.Takes() {
				continue
			}
			if best == nil || rankInput(p) < rankInput(best) {
				best = p
			}
		}
	}
	return best
}

func rankInput(p *NetPlace) int {
	r := 0
	if p.Net.Kind == UnfedNet {
		r = 2
	}
	if p.Role != shapes.PackRole {
		r++
	}
	return r
}

// voltsOf is the voltage at which a net is reckoned when power is turned into current:
// what a cell gives on average, or what the rail gives.
func (s *Supply) voltsOf(n *Net) float64 {
	if n.Kind == PackNet {
		return nominalPerCell * float64(n.Packs[0].Part.Pack.Cells)
	}
	return n.Rated()
}

func (s *Supply) netDraw(n *Net, above []*NetPlace) (draw, []RailLoad) {
	var sum draw
	var loads []RailLoad
	for _, p := range n.Places {
		d, l := s.placeDraw(p, above)
		sum = sum.plus(d)
		loads = append(loads, l...)
	}
	return sum, loads
}

// findRails lists the regulated rails that something is wired to.
func (s *Supply) findRails() {
	for _, n := range s.Nets {
		if n.Kind != RailNet {
			continue
		}
		owner := n.Gives[0].Owner
		u := &RailUse{Owner: owner, Volts: n.Rated(), Net: n, Input: s.inputOf(owner)}
		for i := range owner.Part.Rails {
			if r := &owner.Part.Rails[i]; abs(r.Volts-u.Volts) < 0.05 {
				u.Rail = r
			}
		}
		d, loads := s.netDraw(n, nil)
		u.Load, u.Loads = d.rest, loads
		s.Rails = append(s.Rails, u)
	}
}

// limitTol is how far off the current that firmware measures and limits by may be.
const limitTol = 0.1

// limitOf is a limit of current with the tolerance of the sensor that it goes by.
func limitOf(d *shapes.Dim) *shapes.Dim {
	if d == nil || d.Missing || d.HasTol {
		return d
	}
	out := *d
	out.Plus, out.Minus, out.TolSource = limitTol*d.Value, limitTol*d.Value, shapes.Assumed
	return &out
}

// limited is what flows at most where the firmware holds the current of all packs of a net.
// Where the limit may come into play, it counts.
func limited(n *Net, full Form) (Form, bool) {
	var limit Form
	for _, k := range n.Packs {
		if k.Limit == nil || k.Limit.Missing {
			return full, false
		}
		limit = limit.Plus(k.Limit, 1)
	}
	if _, most := full.Worst(); len(n.Packs) == 0 || most <= limit.Nominal() && len(full.Missing()) == 0 {
		return full, false
	}
	return limit, true
}

// findPacks sums up what each pack, or set of joined packs, has to give. Without a wire to a
// pack all motors count for the packs together.
func (s *Supply) findPacks() {
	for _, n := range s.Nets {
		if n.Kind != PackNet {
			continue
		}
		u := packUse(n.Packs)
		u.Net = n
		d, _ := s.netDraw(n, nil)
		u.HoverA = d.atHover()
		u.FullA, u.Limited = limited(n, s.atFull(d))
		s.Packs = append(s.Packs, u)
		s.Hover, s.Full = s.Hover.Add(u.HoverA), s.Full.Add(u.FullA)
	}
	if len(s.Packs) > 0 || len(s.asm.Packs) == 0 {
		return
	}
	u := packUse(s.asm.Packs)
	var d draw
	for _, m := range s.motors {
		d.motors++
		d.hover, d.full = d.hover.Add(m.hover), d.full.Add(m.full)
	}
	u.HoverA, u.FullA = d.atHover(), s.atFull(d)
	s.Packs = append(s.Packs, u)
	s.Hover, s.Full = u.HoverA, u.FullA
}

func packUse(packs []*Pack) *PackUse {
	u := &PackUse{Packs: packs}
	for _, k := range packs {
		p := k.Part.Pack
		u.Full = max(u.Full, float64(p.Cells)*p.CellFull)
		if sag := SagPerCell * float64(p.Cells); u.Sag <= 0 || sag < u.Sag {
			u.Sag = sag
		}
		rate := missingFigure(k.Label+" discharge rate", "")
		if p.Discharge > 0 {
			rate = &shapes.Dim{Name: k.Label + " discharge rate", Value: p.Discharge}
		}
		capacity := figureOr(p.Capacity, k.Label+" capacity", shapes.MAh)
		u.Steady = u.Steady.Add(Of(capacity).Scale(steadyShare / 1000).Times(Of(rate)))
	}
	p := packs[0].Part.Pack
	u.FullName = fmt.Sprintf("%d x %g", p.Cells, p.CellFull)
	return u
}

// RailVolts is what a regulated rail gives, as a form with the regulator's tolerance.
func RailVolts(n *Net) Form {
	v := n.Rated()
	return Of(&shapes.Dim{
		Name: n.String(), Value: v, Plus: railTol * v, Minus: railTol * v, Unit: shapes.Volt, HasTol: true,
		Source: shapes.Catalogue, TolSource: shapes.Assumed,
	})
}

// PackOf returns what a pack has to give, nil for a net that no pack drives.
func (s *Supply) PackOf(n *Net) *PackUse {
	for _, u := range s.Packs {
		if u.Net != nil && u.Net == n {
			return u
		}
	}
	return nil
}

// RailOf returns the rail that drives a net, nil for none.
func (s *Supply) RailOf(n *Net) *RailUse {
	for _, u := range s.Rails {
		if u.Net == n {
			return u
		}
	}
	return nil
}

// NetOf returns the net that a terminal is on, nil if it has no wire.
func (s *Supply) NetOf(t *Terminal) *Net {
	for _, n := range s.Nets {
		for _, p := range n.Places {
			for _, u := range p.Terminals {
				if u == t {
					return n
				}
			}
		}
	}
	return nil
}
