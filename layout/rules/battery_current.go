package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

var batteryCurrent = &Rule{
	Name:     "battery-current",
	Group:    "supply",
	Question: "does the pack give what full throttle takes",
	Why:      "A pack that is drawn too hard sags, swells and may burn; the craft loses height just when it wants power.",
	Need:     "Capacity times half of the label's discharge rate: labels are optimistic, and builders budget half of them as steady. Against it stand 80 % of the sum of all motors' peaks, 70 to 85 %, and what all else draws.",
	How:      "In A: amp-hours times label rate times a half, of all packs that are joined, against the sum for full throttle. Motors' peaks are those of their class or of the build; a peak measured with the prop and pack in hand under `max-current:` says more.",
	Fix:      "A pack of higher capacity or rate, a smaller prop, or a limit of the current in the firmware, written as `limit:` of the battery.",
	Run:      runBatteryCurrent,
}

func runBatteryCurrent(p *Pass) {
	if p.noWires() {
		return
	}
	s := p.Asm.Supply()
	for _, u := range s.Packs {
		if u.Net == nil {
			continue
		}
		p.packGives(u)
	}
	if len(p.findings) == 0 {
		p.Nothing("no pack is among what is wired")
	}
}

func (p *Pass) packGives(u *layout.PackUse) {
	f := layout.Finding{Unit: shapes.Amp, AtMost: true, Pos: u.Packs[0].Pos, Near: "at " + p.call(u.Packs[0].ID)}
	var capacity float64
	for _, k := range u.Packs {
		f.Subjects = append(f.Subjects, k.ID)
		if k.Part.Pack.Capacity != nil {
			capacity += k.Part.Pack.Capacity.Value / 1000
		}
	}
	for _, pl := range u.Net.Places {
		if !pl.Takes() && pl.Owner == u.Packs[0].Component {
			f = at(f, pl.Terminals[0], across(pl))
		}
	}
	f = f.Judge(u.FullA, u.Steady)
	f.Message = fmt.Sprintf("full throttle takes %s, hovering %s", ampere(u.FullA.Nominal()), ampere(u.HoverA.Nominal()))
	if u.Limited {
		f.Message = fmt.Sprintf("the firmware holds full throttle to %s, hovering takes %s", ampere(u.FullA.Nominal()), ampere(u.HoverA.Nominal()))
	}
	if len(u.Steady.Missing()) == 0 {
		f.Message += fmt.Sprintf(", and half of what the label of %s says is %s", p.call(u.Packs[0].ID), ampere(u.Steady.Nominal()))
	}
	switch {
	case overAnyway(&f, u.FullA, u.Steady):
		f.Verdict = layout.Fail
		f.Fix = "a pack of higher capacity or rate"
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s gives what full throttle takes cannot be told without %s", p.call(u.Packs[0].ID), dimNames(f.Missing))
		f.Fix = fmt.Sprintf("read %s off the label or sheet and write it down", dimNames(f.Missing))
	case mustMend(&f) && capacity > 0:
		rate := math.Ceil(2*(f.Measured+f.Margin-f.Worst)/capacity/5-1e-9) * 5
		f.Fix = fmt.Sprintf("a pack whose label says %s or more at this capacity, motors that take less with the prop in hand, or a limit of the current in the firmware (`limit:`)", num(rate))
	case mustMend(&f):
		f.Fix = "a pack of higher capacity or rate"
	}
	p.Report(f)
}
