package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
)

var wireSweep = &Rule{
	Name:     "wire-sweep",
	Group:    "wires",
	Question: "do the lengths of wire between ties keep clear of the props",
	Why:      "A loose lead is drawn into the disc: it is chopped, and the motor stops in the air.",
	Need:     "The radial clearance of hard parts beyond all that the wire can reach: 3 mm up to 3 inch, 5 at 5 inch, 8 from 7 inch; twice that where a pair of plugs hangs in a length of more than 38 mm, as it can swing.",
	How:      "Between two places that hold it (joints, plugs, ties) at a distance d a length L can bulge √(L² − d²)/2 to the side. L is the routed length with its share of the slack. What it can reach, half its thickness included and confined by the plates over and under it, against each disc with blade flex: in plan or in height, the greater, in mm.",
	Fix:      "Tie it once more, where the message says; where nothing to tie it to is near, less slack, or another way with `via:`.",
	Run:      runWireSweep,
}

func runWireSweep(p *Pass) {
	ways := 0
	for _, c := range p.Asm.Circuits {
		if !routed(c) {
			continue
		}
		ways++
		if len(p.Asm.Rotors) > 0 {
			p.sweptWire(c)
		}
	}
	switch {
	case len(p.Asm.Circuits) == 0:
		p.Nothing("the build has no `wires:`")
	case len(p.Asm.Rotors) == 0:
		p.Nothing("the build has no rotors")
	case ways == 0:
		p.Nothing("no wire has a way yet, as wire-route tells")
	}
}

func (p *Pass) sweptWire(c *layout.Circuit) {
	var worst worstOf
	var held layout.Stretch
	var rotor *layout.Rotor
	for _, s := range p.Asm.Stretches(c) {
		for _, r := range p.Asm.Rotors {
			need := p.Need(s.SweepNeed(r))
			if _, most := need.Worst(); worst.found && worst.f.Verdict != layout.Unknown && s.Beyond(r, most+max(0, worst.f.Margin)+0.01) {
				continue // better than the worst so far in any case
			}
			gap, at := p.Asm.DiscGap(&s, r)
			f := wireFinding(c)
			f.Subjects = append(f.Subjects[:1], propID(r))
			f.HasPlace, f.A, f.B = true, at, at
			f = f.Judge(gap, need)
			if worst.add(f) {
				held, rotor = s, r
			}
		}
	}
	if rotor == nil {
		return
	}
	f := worst.f
	disc := "the " + spoken(rotor.Name) + " disc"
	free := fmt.Sprintf("%s of %s between two places that hold %s", mm(held.Hi-held.Lo), wiresOf(c), themOrIt(c))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s keep off %s hangs on a dimension that is missing", free, disc)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s can bulge %s into %s, and %s off it is needed", free, mm(-f.Measured), disc, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s can bulge to %s from %s, %s needed", free, mm(f.Measured), disc, mm(f.Needed))
	}
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = p.holdWire(c, &held, rotor, f.Needed)
	}
	p.Report(f)
}

// holdWire says how a length is kept off a disc: by one more tie where there is something to tie it to, else by less slack, else by
// another way.
func (p *Pass) holdWire(c *layout.Circuit, held *layout.Stretch, r *layout.Rotor, need float64) string {
	if over := held.Surplus(); over > 0 {
		return fmt.Sprintf("the pack's own lead is %s longer than its way: have it shortened, or fold it up and hold it with hook and loop", mm(math.Round(over)))
	}
	if along, opens, ok := p.Asm.TieBetween(c, held); ok {
		at := c.Route.Place(along)
		how := "tie %s down once more, near x %s, y %s, %s from the start"
		if opens {
			how = "hold %s with hook and loop, near x %s, y %s, %s from the start"
		}
		return fmt.Sprintf(how, themOrIt(c), num(math.Round(at.X)), num(math.Round(at.Y)), mm(math.Round(along)))
	}
	if slack, ok := p.Asm.SlackFor(held, r, need); ok {
		return fmt.Sprintf("nothing to tie %s to is near: leave %s no more than %s of slack", themOrIt(c), themOrIt(c), mm(slack))
	}
	return fmt.Sprintf("lead %s another way with `via:`, farther from the %s disc: tying alone does not help", themOrIt(c), spoken(r.Name))
}

func themOrIt(c *layout.Circuit) string {
	if len(c.Wires) == 1 {
		return "it"
	}
	return "them"
}
