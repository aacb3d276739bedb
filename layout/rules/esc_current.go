package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// A speed controller's steady rating must be 1.2 to 1.3 times its motor's peak.
const (
	escMargin    = 1.2
	escMarginTol = 0.1
)

var escCurrent = &Rule{
	Name:     "esc-current",
	Group:    "supply",
	Question: "does each speed controller bear its motor at full throttle",
	Why:      "A speed controller that runs at its limit gets hot, loses step and burns; the craft falls.",
	Need:     "A steady rating of 1.2 times the motor's full-throttle peak at least, 1.3 to be sure, as builders' guides say: ratings hold with moving air, and peaks of one size of motor spread by a fifth with the winding and the prop.",
	How:      "The motor's greatest current times 1.2, up to 1.3, against the rating of the channel that its leads go to, in A.",
	Fix:      "A larger speed controller, a smaller prop, or a motor of lower current.",
	Run:      runEscCurrent,
}

func runEscCurrent(p *Pass) {
	if p.noWires() {
		return
	}
	s := p.Asm.Supply()
	for _, c := range p.Asm.Circuits {
		if c.Kind != layout.MotorCircuit {
			continue
		}
		motor, esc := c.From, c.To
		if motor.Part == nil || motor.Part.Motor == nil {
			motor, esc = esc, motor
		}
		if _, full, ok := s.MotorAmps(motor); ok && esc.Part != nil {
			p.drives(c, motor, esc, full)
		}
	}
	if len(p.findings) == 0 {
		p.Nothing("no motor's leads are among the wires")
	}
}

func (p *Pass) drives(c *layout.Circuit, motor, esc *layout.Component, full layout.Form) {
	margin := limitOf("margin over the motor's peak", escMargin, escMarginTol, 0, "")
	rated := layout.Of(figure(esc.Part.Amps, esc.Label+" amps", shapes.Amp))
	f := p.circuitAt(c, shapes.Amp)
	f.Subjects = []string{esc.ID, motor.ID}
	f.Near = "at " + p.call(motor.ID)
	f.AtMost = true
	f = f.Judge(full.Times(margin), rated)
	f.Message = fmt.Sprintf("%s takes %s at full throttle, 1.2 times that is %s", p.call(motor.ID), ampere(full.Nominal()), ampere(f.Measured))
	if len(rated.Missing()) == 0 {
		f.Message += fmt.Sprintf(", and %s is for %s", p.call(esc.ID), ampere(rated.Nominal()))
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s bears %s cannot be told", p.call(esc.ID), p.call(motor.ID))
		f.Fix = fmt.Sprintf("look up %s and write it down", dimNames(f.Missing))
	case mustMend(&f):
		f.Fix = fmt.Sprintf("a speed controller of %s or more, or a smaller prop and the current measured with it under `max-current:`", ampere(up(full.Nominal()*(escMargin+escMarginTol), 5)))
	}
	p.Report(f)
}
