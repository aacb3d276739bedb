package rules

import (
	"fmt"

	"dryfit/layout"
)

// leastFloor is what a counterbore must leave of a plate under the head, mm.
const leastFloor = 1.2

var screwReach = &Rule{
	Name:     "screw-reach",
	Group:    "stack",
	Question: "do bolts reach through nuts and spacers, and no further than they may",
	Why:      "A bolt that ends inside the nut's insert shakes loose; one that is too long bottoms in its spacer or stands into what lies over it.",
	Need:     "Plain nuts: the whole nut and one turn of thread; nuts with an insert: two turns past it; spacers: 1.5 diameters in nylon, 1 in aluminium and brass, 0.8 in steel, and 0.5 mm short of the end of the thread; 1.0 mm of air from the end of a bolt to what lies beyond; 1.0 mm between two screws in one spacer; 1.2 mm of plate left under a counterbored head.",
	How:      "Length of the bolt or stud less all that it clamps (plates, spacers, boards, grommets as tightened), in mm, at worst case on both sides. Equal joints are told once.",
	Fix:      "The length that is named, a washer, or other spacers.",
	Run:      runScrewReach,
}

func runScrewReach(p *Pass) {
	list := p.fastenings(layout.StackBolt, layout.SpacerScrew, layout.StackStud, layout.StackNut, layout.PlateBolt)
	told := len(list)
	for _, f := range list {
		p.reaches(f)
		p.freeBetween(f, "the spacer")
	}
	for _, f := range p.Asm.Fastenings {
		for _, l := range f.Layers {
			if l.Kind == "counterbored plate" {
				p.floor(f, l)
				told++
			}
		}
	}
	if told == 0 {
		p.Nothing("no bolts go through a stack or plates, and no head is counterbored")
	}
}

// freeBetween judges what two screws in one post or spacer leave free; it is told once for
// the two.
func (p *Pass) freeBetween(f *layout.Fastening, what string) {
	free, ok := f.Free()
	if !ok || p.before(f.Twin, f) {
		return
	}
	g := p.jointFinding(f)
	g = g.Judge(free, layout.Fixed(1))
	g.Near = p.nearJoints(f) + " and " + p.nearJoints(f.Twin)
	if g.Near == p.nearJoints(f)+" and "+p.nearJoints(f) {
		g.Near = p.nearJoints(f)
	}
	switch {
	case g.Verdict == layout.Unknown:
		g.Message = fmt.Sprintf("what %s and %s leave free of %s hangs on a dimension that is missing", f.Label(), f.Twin.Label(), what)
		g.Fix = unknownFix(&g)
	case g.Measured < 0:
		g.Message = fmt.Sprintf("%s and %s overlap by %s in %s of %s, %s between them needed", f.Label(), f.Twin.Label(), mm(-g.Measured), what, mm(f.Between.Nominal()), mm(1))
	default:
		g.Message = fmt.Sprintf("%s and %s leave %s free in %s of %s, %s needed", f.Label(), f.Twin.Label(), mm(g.Measured), what, mm(f.Between.Nominal()), mm(1))
	}
	if mustMend(&g) {
		g.Fix = fmt.Sprintf("take screws that are %s shorter together, or a longer one of %s", mm(up(-g.Worst, 0.1)), what)
	}
	p.Report(g)
}

// before reports whether a fastening stands earlier in the build than another.
func (p *Pass) before(f, g *layout.Fastening) bool {
	for _, o := range p.Asm.Fastenings {
		if o == f || o == g {
			return o == f
		}
	}
	return false
}

// floor judges what a counterbore leaves under the head.
func (p *Pass) floor(f *layout.Fastening, l layout.Layer) {
	g := p.jointFinding(f)
	g.Subjects = []string{l.Component, g.Subjects[0]}
	g = g.Judge(l.Thickness, layout.Fixed(leastFloor))
	g.Message = fmt.Sprintf("the counterbore leaves %s of %s under the heads, %s needed", mm(g.Measured), spoken(l.Name), mm(g.Needed))
	switch {
	case g.Verdict == layout.Unknown:
		g.Fix = unknownFix(&g)
	case mustMend(&g):
		g.Fix = fmt.Sprintf("counterbore %s less, or take a thicker plate", mm(up(-g.Worst, 0.1)))
	}
	p.Report(g)
}
