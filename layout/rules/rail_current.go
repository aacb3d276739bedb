package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// Of a regulator's current builders use 70 to 80 %.
const (
	railShare    = 80.0
	railShareTol = 10.0
)

var railCurrent = &Rule{
	Name:     "rail-current",
	Group:    "supply",
	Question: "does each regulator give what hangs on it",
	Why:      "An overloaded regulator gets hot, sags and restarts in flight: receiver, camera and controller with it.",
	Need:     "What all parts on a rail draw at most, at 70 % of what its regulator is rated for; up to 80 % counts as possible. A regulator without moving air gives less than its sheet says; the share is the trade's.",
	How:      "Sum in A of what each part on the net draws at most, and of what the rails that are made from it give on, over 85 % for the conversion, against the regulator's steady current.",
	Fix:      "Another rail, a second regulator, or parts that draw less.",
	Run:      runRailCurrent,
}

func runRailCurrent(p *Pass) {
	if p.noWires() {
		return
	}
	for _, r := range p.Asm.Supply().Rails {
		p.railLoad(r)
	}
	if len(p.findings) == 0 {
		p.Nothing("no regulated rail feeds anything over a wire")
	}
}

func (p *Pass) railLoad(r *layout.RailUse) {
	name := fmt.Sprintf("%s %s amps", r.Owner.Label, volts(r.Volts))
	var listed *shapes.Dim
	if r.Rail != nil {
		listed = r.Rail.Amps
	}
	rated := layout.Of(figure(listed, name, shapes.Amp))
	share := limitOf("share of a regulator's current that is used", railShare, 0, railShareTol, shapes.Ratio)
	need := rated.Times(share).Scale(0.01)
	f := p.supplyAt(r.Net.Gives[0], shapes.Amp)
	for _, l := range r.Loads {
		if len(f.Subjects) < 2 && l.Owner != r.Owner {
			f.Subjects = append(f.Subjects, l.Owner.ID)
		}
	}
	f.AtMost = true
	f = f.Judge(r.Load, need)
	var parts []string
	for _, l := range r.Loads {
		parts = append(parts, p.loadWords(l))
	}
	if len(parts) == 0 {
		parts = []string{"nothing that draws"}
	}
	f.Message = fmt.Sprintf("the %s of %s feeds %s", volts(r.Volts), p.call(r.Owner.ID), speak(parts))
	if len(rated.Missing()) == 0 {
		f.Message += fmt.Sprintf("; its regulator gives %s", ampere(rated.Nominal()))
	}
	switch {
	case overAnyway(&f, r.Load, need):
		f.Verdict = layout.Fail
		f.Fix = "take the largest of them to another rail or regulator"
	case f.Verdict == layout.Unknown:
		f.Fix = fmt.Sprintf("look up %s and write it down", dimNames(f.Missing))
	case mustMend(&f):
		f.Fix = fmt.Sprintf("a regulator of %s or more, or take the largest of them to another rail", ampere(up(r.Load.Nominal()/(railShare-railShareTol)*100, 0.5)))
	}
	p.Report(f)
}

func (p *Pass) loadWords(l layout.RailLoad) string {
	if len(l.Amps.Missing()) > 0 {
		return p.call(l.Owner.ID) + " with a draw that is not said"
	}
	w := p.call(l.Owner.ID) + " with " + ampere(l.Amps.Nominal())
	if l.Why != "" {
		w += " " + l.Why
	}
	return w
}
