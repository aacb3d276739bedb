package rules

import (
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

// overEsc is what a speed controller under the disc needs on top of the figure for a
// bare arm, in mm.
const overEsc = 2

// propUnderside asks how high the blades pass over what lies under the disc.
var propUnderside = &Rule{
	Name:     "prop-underside",
	Group:    "rotors",
	Question: "do the blades pass over the arm and all that lies on it",
	Why:      "At the first hard punch or knock the blades dip and the arm bends: they cut grooves into the arm, a speed controller or a tie head.",
	Need: "From the lowest blade point at rest: 3 mm for props up to 3 inch, 5 mm at 5 inch, 8 mm at 7 inch, 10 mm at 10 inch, linear in " +
		"between, and 2 mm more over a speed controller with its sleeve, leads and tie heads. These figures of the trade are about twice the usual " +
		"dip of a blade, so they hold for blades at rest and have the dip and the bending of the arm in them. Where a blade dips further than " +
		"that, it must at full dip still not touch.",
	How: "Height in mm from the highest thing under the disc to the lowest point of the blades: motor height, less what the blade root hangs " +
		"below its seat, less the thing's height over the mounting face. For motors below the arm the same upside down. Each rotor tells all that does not hold, " +
		"and the highest of what holds.",
	Fix: "lay the part flat or move it out from under the disc, turn tie heads down, or take a taller motor",
	Run: runPropUnderside,
}

func runPropUnderside(p *Pass) {
	if len(p.Asm.Rotors) == 0 {
		p.Nothing("the build has no rotors")
		return
	}
	for _, r := range p.Asm.Rotors {
		var found perPart
		for _, b := range inTheWay(p.Asm, r) {
			if planDistance(r, b) >= 0 {
				continue // not under the disc
			}
			if m := reachOf(r, b); m.ofUnderside(r) {
				found.add(partOf(b), p.underBody(r, b, &m))
			}
		}
		if len(found.list) == 0 {
			p.Report(layout.Finding{
				Verdict:  layout.OK,
				Subjects: []string{propID(r)},
				Near:     spoken(r.Name),
				Message:  fmt.Sprintf("nothing lies under the %s disc", spoken(r.Name)),
				Pos:      r.Pos,
			})
			continue
		}
		found.report(p)
	}
}

// underBody judges one body under a disc by the worse of two measures: the blades at
// rest with the full need, and the blades at full flex, which must not touch.
func (p *Pass) underBody(r *layout.Rotor, b *layout.Body, m *reach) layout.Finding {
	need := p.Need(undersideNeed(labelD(r)))
	onEsc := b.Part != nil && b.Part.Kind == shapes.EscSingle || p.isEsc(b.Of)
	if onEsc {
		need = need.Shift(overEsc)
	}
	spot := spotUnder(r, b)
	blade, top := r.Lo, b.Top
	if r.Below {
		blade, top = r.Hi, b.Bottom
	}
	base := layout.Finding{
		Subjects: []string{b.Of, propID(r)},
		HasPlace: true,
		A:        lift(spot, blade.Nominal()),
		B:        lift(spot, top.Nominal()),
		Near:     spoken(r.Name) + " disc",
		Pos:      b.Pos,
	}
	f := base.Judge(m.rest, need)
	flexed := false
	if len(m.flexed.Missing()) == 0 {
		if g := base.Judge(m.flexed, layout.Form{}); worse(&g, &f) {
			f, flexed = g, true
		}
	}
	what := p.callBody(b)
	blades := "the " + spoken(r.Name) + " blades"
	passes, over := "over", "at rest"
	if r.Below {
		passes = "under"
	}
	if flexed {
		over = "at full flex"
	}
	needed := ", " + mm(f.Needed) + " needed"
	if f.Needed <= 0 {
		needed = ""
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s pass %s %s hangs on a dimension that is missing", blades, passes, what)
		f.Fix = "measure " + dimNames(f.Missing)
		return f
	case f.Measured >= 0:
		f.Message = fmt.Sprintf("%s %s pass %s %s %s%s", blades, over, mm(f.Measured), passes, what, needed)
	default:
		f.Message = fmt.Sprintf("%s reaches %s into the height of %s %s%s", what, mm(-f.Measured), blades, over, needed)
	}
	if f.Verdict == layout.OK {
		return f
	}
	lack := mm(up(-f.Worst, 0.1))
	switch {
	case b.Kind == layout.PlateBody:
		f.Fix = fmt.Sprintf("take a motor that is %s taller, or a prop that hangs less below its seat", lack)
	case isTie(b):
		f.Fix = fmt.Sprintf("turn the tie head to the side or under the arm, or take a motor that is %s taller", lack)
	default:
		f.Fix = fmt.Sprintf("bring %s down by %s, or move it out from under the disc", what, lack)
		if r.Below {
			f.Fix = fmt.Sprintf("bring %s up by %s, or move it out from over the disc", what, lack)
		}
	}
	return f
}

// isEsc reports whether a component is a single speed controller.
func (p *Pass) isEsc(id string) bool {
	c := p.component(id)
	return c != nil && c.Part != nil && c.Part.Kind == shapes.EscSingle
}

// spotUnder returns a plan point at which to draw a height between a disc and a body
// under or over it: half way along the arm where the body reaches there, else the
// middle of the body, else its point nearest to the axis.
func spotUnder(r *layout.Rotor, b *layout.Body) r2.Point {
	half := r.At.Sub(r.ArmDir.Mul(r.Radius.Nominal() / 2))
	near, dist, _ := edgeOf(b.Plan, r.At)
	for _, g := range b.Plan {
		if g.Contains(half) {
			return half
		}
	}
	for _, g := range b.Plan {
		c := g.Bound().Center()
		if g.Contains(c) && c.Sub(r.At).Norm() < r.Radius.Nominal() {
			return c
		}
	}
	if dist > r.Radius.Nominal() {
		return r.At
	}
	return near
}
