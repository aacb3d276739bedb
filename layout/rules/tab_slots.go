package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// Play of a tab in its slot in mm: slots are drawn 0.1 to 0.2 wider than the measured sheet, a
// trade figure; beyond that and what cutters are off, 0.1, a tab rattles.
const (
	tabPlayAim = 0.15
	tabPlayMax = 0.3
)

// tabs judges the slots of a plate that take tabs: whether the tab goes in, and whether it is
// held. One pair of findings an entry.
func (p *Pass) tabs(pl *layout.Plate) {
	var done []string
	for i := range pl.Holes {
		h := &pl.Holes[i]
		if h.Tab == nil || hasWord(done, h.Group) {
			continue
		}
		done = append(done, h.Group)
		width, t := known(h.Diameter, pl.Name+" slot width"), known(h.Tab, "tab thickness")
		what := "a sheet of " + mm(t.Value)
		near := p.plateName(pl)
		at := lift(h.At, pl.Top.Nominal())
		base := layout.Finding{Subjects: []string{pl.ID}, Pos: h.Pos, Near: near, HasPlace: true, A: at, B: at}
		if h.TabOf != "" {
			what = "the " + spoken(h.TabOf) + " plate, " + mm(t.Value) + " thick,"
			for _, other := range p.Asm.Plates {
				if other.Name == h.TabOf {
					base.Subjects = append(base.Subjects, other.ID)
					break // its other copies are of the same sheet
				}
			}
		}
		slot := "the slot of " + mm(width.Value) + " in " + near
		if isMissing(t) || isMissing(width) {
			f := base.Judge(layout.Of(width), layout.Of(t))
			f.Message = fmt.Sprintf("whether the tab goes into the slot in %s is not known", near)
			f.Fix = unknownFix(&f)
			p.Report(f)
			continue
		}
		play := layout.Of(width).Plus(t, -1)
		in := base.Judge(play, layout.Form{})
		in.Message = fmt.Sprintf("the tab of %s goes into %s with %s of play", what, slot, mm(in.Measured))
		if in.Verdict == layout.Fail {
			in.Message = fmt.Sprintf("the tab of %s is %s too thick for %s", what, mm(-in.Margin), slot)
		}
		if mustMend(&in) {
			in.Fix = tabFix(t)
		}
		loose := base
		loose.AtMost = true
		loose = loose.Judge(play, layout.Fixed(tabPlayMax))
		loose.Message = fmt.Sprintf("the tab of %s has %s of play in %s, %s at most is wanted", what, mm(loose.Measured), slot, mm(tabPlayMax))
		if mustMend(&loose) {
			loose.Fix = tabFix(t)
		}
		p.Report(in)
		p.Report(loose)
	}
}

// tabFix says what the slot should measure, and to measure the sheet where it is not.
func tabFix(t *shapes.Dim) string {
	s := fmt.Sprintf("make the slot %s wide", mm(up(t.Value+tabPlayAim, 0.05)))
	if !t.HasTol || t.TolSource != shapes.Given {
		return "measure the sheet and write it with its tolerance, then " + s
	}
	return s
}
