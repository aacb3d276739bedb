package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

const (
	packDrop  = 0.3  // V at full throttle, there and back
	railDrop  = 0.03 // share of a rail's voltage
	ampsPower = 1.4  // free-air current goes about with the diameter to this power, by the catalogue's figures
)

var wireGauge = &Rule{
	Name:     "wire-gauge",
	Group:    "wires",
	Question: "is each supply wire thick enough for its current and its length",
	Why:      "A wire that is too thin gets hot beside plastics and solder, and what it drops is missing at the motors or restarts a receiver.",
	Need:     "Hovering at most what the gauge bears in free air, less by how many loaded pairs lie in one bundle (one 100 %, two 80, three 70, four 65, five 60: IEC 60364-5-52); at full throttle at most what the trade accepts for a few seconds; and a drop there and back of at most 0.3 V at pack voltage, as builders take it for pack leads, or 3 % of a regulated rail, as much as its regulator may be off. Leads that come with a motor are its maker's choice; one of another gauge must be no thinner.",
	How:      "A and V. Resistance by gauge at 60 °C, 20 to 100, with 0.393 % a kelvin; length as cut, with the lead that hangs on the pack. The worst of the three is told.",
	Fix:      "A thicker or shorter wire.",
	Run:      runWireGauge,
}

func runWireGauge(p *Pass) {
	if p.noWires() {
		return
	}
	s := p.Asm.Supply()
	for _, c := range p.Asm.Circuits {
		switch {
		case c.Kind == layout.MotorCircuit:
			p.phaseGauge(c)
		case len(s.LeadsOf(c)) > 0:
			p.supplyGauge(s, c)
		}
	}
	if len(p.findings) == 0 {
		p.Nothing("no wire carries a supply, and motors keep the leads that they come with")
	}
}

// phaseGauge judges leads that the build gives a gauge of its own.
func (p *Pass) phaseGauge(c *layout.Circuit) {
	motor := c.From
	if motor.Part == nil || motor.Part.Motor == nil {
		motor = c.To
	}
	if motor.Part == nil || motor.Part.Motor == nil || motor.Part.Motor.LeadGauge <= 0 || len(c.Wires) == 0 {
		return
	}
	w := c.Wires[0]
	if w.Chosen || w.Gauge == nil || w.Gauge.Wire == nil {
		return
	}
	own, is := motor.Part.Motor.LeadGauge, w.Gauge.Wire.Gauge
	f := p.circuitAt(c, "")
	f.Near = "at " + p.call(motor.ID)
	f.Verdict = layout.OK
	f.Message = fmt.Sprintf("%s comes with leads of %s AWG and is wired with %s AWG", p.call(motor.ID), num(own), num(is))
	if is > own+0.01 {
		f.Verdict = layout.Fail
		f.Fix = fmt.Sprintf("take %s AWG or thicker: the motor's own leads set what it needs", num(own))
	}
	p.Report(f)
}

// bunched is the share of its free-air current that a wire bears among n loaded pairs in one
// bundle (IEC 60364-5-52, circuits bunched in air).
func bunched(n int) float64 {
	table := []float64{1, 1, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50}
	return table[min(n, len(table)-1)]
}

// bundled says how many loaded pairs lie together.
func bundled(pairs int) string {
	if pairs < 2 {
		return "in free air"
	}
	return fmt.Sprintf("as one of %d loaded pairs in a bundle", pairs)
}

// idle reports whether nothing flows that anyone knows of: capacitors take no steady current.
func idle(u *layout.LeadUse) bool {
	return u.Full.Nominal() <= 0 && len(u.Full.Missing()) == 0
}

func (p *Pass) supplyGauge(s *layout.Supply, c *layout.Circuit) {
	leads := s.LeadsOf(c)
	pairs := 0
	for _, u := range leads {
		if u.Wire.Role != shapes.GroundRole && u.Hover.Nominal() > 0 {
			pairs++
		}
	}
	var worst tightest
	for _, u := range leads {
		if idle(u) {
			continue
		}
		wire := u.Wire.Gauge.Wire
		name := u.Wire.Gauge.Name
		steady := layout.Of(figure(wire.Amps, name+" amps", shapes.Amp)).Scale(bunched(pairs))
		worst.add(p.carries(c, u, u.Hover, steady, "hovering", fmt.Sprintf("bears %s %s", ampere(steady.Nominal()), bundled(pairs))))
		burst := layout.Of(figure(wire.Burst, name+" burst", shapes.Amp))
		worst.add(p.carries(c, u, u.Full, burst, "at full throttle", fmt.Sprintf("bears %s for a few seconds", ampere(burst.Nominal()))))
	}
	if f, ok := p.drops(s, c, leads); ok {
		worst.add(f)
	}
	if worst.found {
		p.Report(worst.f)
	}
}

// tightest keeps the finding that should be told first where measures have several units: the
// graver verdict, then the smaller margin as a share of its need.
type tightest struct {
	f     layout.Finding
	found bool
}

func (t *tightest) add(f layout.Finding) {
	share := func(f *layout.Finding) float64 { return f.Margin / math.Max(math.Abs(f.Needed), 1e-9) }
	a, b := rank(f.Verdict), rank(t.f.Verdict)
	if !t.found || a < b || a == b && tidy(share(&f)) < tidy(share(&t.f)) {
		t.f, t.found = f, true
	}
}

// carries judges one wire's current against what its gauge bears.
func (p *Pass) carries(c *layout.Circuit, u *layout.LeadUse, amps, bears layout.Form, when, words string) layout.Finding {
	f := p.circuitAt(c, shapes.Amp)
	f.AtMost = true
	f = at(f.Judge(amps, bears), u.Wire.From, u.Wire.To)
	gauge := u.Wire.Gauge.Wire.Gauge
	which := fmt.Sprintf("the %s wire from %s to %s", spoken(u.Wire.Way), p.call(c.From.ID), p.call(c.To.ID))
	f.Message = fmt.Sprintf("%s carries %s %s and %s", which, ampere(amps.Nominal()), when, words)
	if gauge > 0 {
		f.Message = fmt.Sprintf("%s, %s AWG, carries %s %s and %s", which, num(gauge), ampere(amps.Nominal()), when, words)
	}
	if u.Ring {
		f.Message += "; there is a second way round, and each is reckoned with all of it"
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s bears what it carries %s cannot be told", which, when)
		f.Fix = fmt.Sprintf("look up %s and write it down", dimNames(f.Missing))
	case mustMend(&f):
		f.Fix = "a thicker wire" + thicker(gauge, math.Pow(amps.Nominal()/bears.Nominal(), 1/ampsPower))
	}
	return f
}

// thicker says which gauge is thicker by at least a factor in diameter, in even gauges: a
// step of one is a factor of 92^(1/39).
func thicker(gauge, factor float64) string {
	if gauge <= 0 || !(factor > 0) {
		return ""
	}
	steps := math.Log(math.Max(factor, 1.0001)) / math.Log(92) * 39
	n := math.Floor((gauge-steps)/2+1e-9) * 2
	if n < 8 {
		return ", or two side by side"
	}
	return fmt.Sprintf(", about %s AWG", num(n))
}

// drops judges what a circuit loses at full throttle; ok is false where nobody knows its
// length and nothing flows.
func (p *Pass) drops(s *layout.Supply, c *layout.Circuit, leads []*layout.LeadUse) (layout.Finding, bool) {
	var net *layout.Net
	var most *layout.LeadUse
	for _, u := range leads {
		net = u.Net
		if u.Wire.Role != shapes.GroundRole && (most == nil || u.Full.Nominal() > most.Full.Nominal()) {
			most = u
		}
	}
	if most == nil || idle(most) {
		return layout.Finding{}, false
	}
	need := layout.Fixed(packDrop)
	if net.Kind == layout.RailNet {
		need = layout.Fixed(railDrop * net.Rated())
	}
	f := p.circuitAt(c, shapes.Volt)
	f.AtMost = true
	drop, ok := s.DropThereAndBack(c)
	if !ok {
		drop = layout.Of(figure(nil, "routed length of "+c.Label, shapes.MM))
	}
	f = f.Judge(drop, need)
	f.Message = fmt.Sprintf("%s drop %s there and back at %s, of %s that may be", p.bundle(c), millivolts(drop.Nominal()), ampere(most.Full.Nominal()), volts(need.Nominal()))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("what %s drop cannot be told", p.bundle(c))
		f.Fix = unroutedFix(&f, c)
	case mustMend(&f):
		f.Fix = "a shorter wire, or a thicker one" + thicker(most.Wire.Gauge.Wire.Gauge, math.Sqrt(drop.Nominal()/need.Nominal()))
	}
	return f, true
}
