package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

const (
	leadFree    = 80.0 // mm of pack lead that needs nothing
	leadFreeTol = 30.0 // some boards only 50
	microPerMM  = 2.2  // µF for each mm more: 220 a 100
	legLimit    = 10.0 // mm
	legLimitTol = 5.0  // better 5
	capVolts    = 1.2  // rated volts over the full pack
)

var leadLength = &Rule{
	Name:     "lead-length",
	Group:    "wires",
	Question: "are pack leads short, or backed by a capacitor close to the ESC",
	Why:      "Every millimetre of lead is about 1 nH: when motors brake, a long lead throws spikes at the speed controllers that kill them. A capacitor on long legs is as good as none, and its legs break.",
	Need:     "Leads of 50 to 80 mm from the pack to the speed controller without added capacitance; beyond that 220 µF for every 100 mm at the controller, as builders do; capacitor legs of 5 to 10 mm at most; rated volts 1.2 times the full pack.",
	How:      "Conductor length in mm, the pack's own lead and what is cut for it, along the wires from the pack to each speed controller; a capacitor on the way starts the count anew. A capacitor's legs are stiff and count in the straight line. Capacitance in µF of all capacitors that are wired to the same part.",
	Fix:      "Shorter leads, or a low-resistance capacitor right at the speed controller's pack pads.",
	Run:      runLeadLength,
}

func runLeadLength(p *Pass) {
	if p.noWires() {
		return
	}
	s := p.Asm.Supply()
	told := map[string]bool{}
	for _, n := range s.Nets {
		if n.Kind != layout.PackNet {
			continue
		}
		for _, pl := range n.Places {
			switch {
			case pl.Owner.Part == nil:
			case pl.Owner.Part.Kind == shapes.Capacitor:
				p.capacitor(s, pl)
			case p.isDriver(s, pl.Owner):
				p.leadTo(s, n, pl, told)
			}
		}
	}
	if len(p.findings) == 0 {
		p.Nothing("no pack lead goes to a speed controller")
	}
}

// isDriver reports whether a component drives motors.
func (p *Pass) isDriver(s *layout.Supply, c *layout.Component) bool {
	switch c.Part.Kind {
	case shapes.EscSingle, shapes.EscFour, shapes.AllInOne:
		return true
	}
	for _, r := range p.Asm.Rotors {
		if r.Motor != nil && s.Driver(r.Motor) == c {
			return true
		}
	}
	return false
}

// leadTo follows the wires from the pack to a speed controller and judges each stretch up
// to a capacitor or the controller. told keeps what another controller's way has told.
func (p *Pass) leadTo(s *layout.Supply, n *layout.Net, esc *layout.NetPlace, told map[string]bool) {
	way := wayFromPack(n, esc)
	if len(way) == 0 {
		return
	}
	var length layout.Form
	start := way[0].from
	for _, hop := range way {
		cut, hung, _ := hop.wire.Circuit.Conductor(hop.wire.Wire)
		length = length.Add(cut).Add(hung)
		caps := p.capsAt(n, hop.to)
		if len(caps) == 0 && hop.to != esc {
			continue
		}
		key := start.Owner.ID + " " + hop.to.Owner.ID
		if !told[key] {
			told[key] = true
			p.stretch(start, hop, length, caps)
		}
		length, start = layout.Form{}, hop.to
	}
}

// hop is one wire of a way from the pack.
type hop struct {
	from, to *layout.NetPlace
	wire     *layout.NetWire
}

// wayFromPack returns the way with the fewest wires from a pack of the net to a place; none
// if there is none.
func wayFromPack(n *layout.Net, to *layout.NetPlace) []hop {
	came := map[*layout.NetPlace]hop{}
	var queue []*layout.NetPlace
	for _, pl := range n.Places {
		for _, k := range n.Packs {
			if k.Component == pl.Owner {
				came[pl] = hop{}
				queue = append(queue, pl)
			}
		}
	}
	for len(queue) > 0 {
		pl := queue[0]
		queue = queue[1:]
		for _, w := range n.Wires {
			next := w.A
			if w.A == pl {
				next = w.B
			}
			if w.A != pl && w.B != pl {
				continue
			}
			if _, ok := came[next]; !ok {
				came[next] = hop{from: pl, to: next, wire: w}
				queue = append(queue, next)
			}
		}
	}
	var out []hop
	for at := to; ; {
		h, ok := came[at]
		if !ok || h.wire == nil {
			break
		}
		out = append([]hop{h}, out...)
		at = h.from
	}
	return out
}

// capsAt lists the capacitors that are wired to a place.
func (p *Pass) capsAt(n *layout.Net, pl *layout.NetPlace) []*layout.Component {
	var out []*layout.Component
	for _, w := range n.Wires {
		for _, e := range [][2]*layout.NetPlace{{w.A, w.B}, {w.B, w.A}} {
			if e[0] == pl && e[1].Owner.Part != nil && e[1].Owner.Part.Kind == shapes.Capacitor {
				out = append(out, e[1].Owner)
			}
		}
	}
	return out
}

func (p *Pass) stretch(start *layout.NetPlace, end hop, length layout.Form, caps []*layout.Component) {
	free := limitOf("length of pack lead that needs no capacitor", leadFree, 0, leadFreeTol, shapes.MM)
	from, to := p.call(start.Owner.ID), p.call(end.to.Owner.ID)
	asked := math.Max(0, (length.Nominal()-leadFree)*microPerMM)
	sure := math.Max(0, (length.Nominal()-leadFree+leadFreeTol)*microPerMM)
	f := layout.Finding{Unit: shapes.MM, Subjects: []string{end.to.Owner.ID, start.Owner.ID}, Pos: end.wire.Circuit.Pos, Near: "at " + to}
	f = at(f, end.to.Terminals[0], end.wire.Wire.From)
	if len(caps) == 0 {
		f.AtMost = true
		f = f.Judge(length, free)
		f.Message = fmt.Sprintf("from %s to %s there are %s of lead and no capacitor", from, to, mm(length.Nominal()))
		if f.Verdict == layout.Unknown {
			f.Message = fmt.Sprintf("how much lead there is from %s to %s cannot be told", from, to)
		}
		f.Fix = unroutedFix(&f, end.wire.Circuit)
		if mustMend(&f) {
			f.Fix = fmt.Sprintf("wire a capacitor of %s µF or more right at %s, or shorten the lead", num(up(math.Max(sure, 100), 10)), to)
		}
		p.Report(f)
		return
	}
	var has layout.Form
	var names []string
	for _, c := range caps {
		has = has.Add(layout.Of(figure(c.Part.Capacitance, c.Label+" capacitance", shapes.MicroFarad)))
		names = append(names, p.call(c.ID))
		f.Subjects = append(f.Subjects, c.ID)
	}
	f.Unit = shapes.MicroFarad
	f = f.Judge(has, length.Sub(free).Scale(microPerMM))
	f.Message = fmt.Sprintf("from %s to %s there are %s of lead, which asks for %s µF there; %s gives %s", from, to, mm(length.Nominal()), num(asked), speak(names), num(has.Nominal()))
	if f.Verdict == layout.Unknown {
		f.Message = fmt.Sprintf("whether what %s %s is enough for the lead from %s to %s cannot be told", speak(names), map[bool]string{true: "gives", false: "give"}[len(names) == 1], from, to)
	}
	f.Fix = unroutedFix(&f, end.wire.Circuit)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("a capacitor of %s µF or more, a second one, or a shorter lead", num(up(sure, 10)))
	}
	p.Report(f)
}

// capacitor judges the rating and the legs of one that hangs on the pack.
func (p *Pass) capacitor(s *layout.Supply, pl *layout.NetPlace) {
	full := s.PackOf(pl.Net).Full
	who := p.call(pl.Owner.ID)
	rated := layout.Of(figure(nil, pl.Owner.Label+" volts", shapes.Volt))
	words := "volts that are not said"
	if v := pl.Owner.Part.Volts; v != nil {
		rated, words = layout.Fixed(v.Hi), volts(v.Hi)
	}
	f := p.supplyAt(pl, shapes.Volt).Judge(rated, layout.Fixed(capVolts*full))
	f.Message = fmt.Sprintf("%s is for %s, and the full pack gives %s, of which it should bear 1.2 times", who, words, volts(full))
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("a capacitor for %s or more", volts(up(capVolts*full, 5)))
	}
	p.Report(f)

	w := wireAt(pl)
	legs := layout.Of(figure(nil, "legs of "+pl.Owner.Label, shapes.MM))
	if r := w.Circuit.Route; r != nil && r.Blocked == nil {
		// Stiff legs reach straight across a gap; the way of a soft lead would lie on a plate.
		line := r.Line()
		legs = layout.Fixed(line[len(line)-1].Sub(line[0]).Norm())
	}
	g := p.supplyAt(pl, shapes.MM)
	g.AtMost = true
	g = g.Judge(legs, limitOf("legs of a capacitor that still help", legLimit, 0, legLimitTol, shapes.MM))
	g.Message = fmt.Sprintf("the legs of %s are %s long, straight to %s", who, mm(legs.Nominal()), p.call(across(pl).Owner.ID))
	if g.Verdict == layout.Unknown {
		g.Message = fmt.Sprintf("how long the legs of %s are cannot be told", who)
	}
	g.Fix = unroutedFix(&g, w.Circuit)
	if mustMend(&g) {
		g.Fix = fmt.Sprintf("move %s next to the pads, tie its body down, and keep the legs under 5 mm", who)
	}
	p.Report(g)
}
