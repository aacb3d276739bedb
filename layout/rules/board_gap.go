package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// Needs between boards and towards plates, mm: frame flex pushes joints of hard-mounted
// boards together and shorts them under 1.5; a soft-mounted board travels, so 2.0. Solder
// tails keep 2.0 from bare carbon, which conducts, and 1.0 from an insulated plate.
const (
	gapHard      = 1.5
	gapSoft      = 2.0
	gapCarbon    = 2.0
	gapInsulated = 1.0
	// besides is how near in plan two zones must come to count as facing each other: a
	// part's outline is only known so well.
	besides = 0.5
)

var boardGap = &Rule{
	Name:     "board-gap",
	Group:    "stack",
	Question: "do facing parts of two boards, or of board and plate, keep apart",
	Why:      "Parts of two boards that touch short on the bench or in the first crash: an ESC drawn 5 mm tall is 9 with thick leads on its pads. Bare carbon conducts as well.",
	Need:     "1.5 mm between hard-mounted boards, 2.0 when either is soft-mounted (it travels); 2.0 from a board's face to a plate that conducts, as bare carbon does, 1.0 to one that does not.",
	How:      "Zone by zone: what stands on the lower board against what hangs under the upper one where they face each other in plan (nearer than 0.5 mm sideways counts), and likewise the plate that the stack stands on. Heights are sums of the clamped layers, so what both share cancels. Boards that are not neighbours are told only if they do not keep apart.",
	Fix:      "A taller spacer, an insulating sheet, or turn one board so that other zones face.",
	Run:      runBoardGap,
}

func runBoardGap(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		boards := boardLevels(s)
		for i, b := range boards {
			for _, plate := range p.Asm.Plates {
				// Told for the plate that the stack stands on; for others if it does not hold.
				judged += p.toCarrier(s, b, plate, i == 0 && plate.ID == s.On)
			}
			for j, below := range boards[:i] {
				judged += p.betweenBoards(s, below, b, j == i-1)
			}
		}
	}
	if judged == 0 {
		p.Nothing("no stack holds a board")
	}
}

func boardLevels(s *layout.Stack) []*layout.Level {
	var out []*layout.Level
	for i := range s.Levels {
		if s.Levels[i].Board {
			out = append(out, &s.Levels[i])
		}
	}
	return out
}

func plateOf(asm *layout.Assembly, id string) *layout.Plate {
	for _, pl := range asm.Plates {
		if pl.ID == id {
			return pl
		}
	}
	return nil
}

// facing finds, over all pairs whose plans come nearer than besides, the pair with the
// least to spare in height, judged against need. The finding holds the two places.
func facing(base layout.Finding, lower, upper []*layout.Body, need layout.Form) (f layout.Finding, lo, hi *layout.Body) {
	var worst worstOf
	for _, l := range lower {
		for _, u := range upper {
			g := nearInPlan(l.Plan, u.Plan)
			if g.Dist > besides {
				continue
			}
			if worst.add(base.Judge(u.Bottom.Sub(l.Top), need)) {
				lo, hi = l, u
				at := g.A.Add(g.B).Mul(0.5)
				if g.Dist < 0 {
					at = common(l, u, at)
				}
				worst.f.HasPlace, worst.f.A, worst.f.B = true, lift(at, l.Top.Nominal()), lift(at, u.Bottom.Nominal())
			}
		}
	}
	return worst.f, lo, hi
}

// boardBodies returns the bodies that belong to the board itself.
func boardBodies(c *layout.Component) []*layout.Body {
	var out []*layout.Body
	for _, b := range c.Bodies {
		if b.Kind == layout.PcbBody || b.Kind == layout.ZoneBody {
			out = append(out, b)
		}
	}
	return out
}

// betweenBoards judges two boards of a stack, first the one nearer to its plate. Boards
// with another between them are told only if that does not hold.
func (p *Pass) betweenBoards(s *layout.Stack, first, second *layout.Level, aloud bool) int {
	lower, upper := first, second
	if s.Down {
		lower, upper = second, first
	}
	need := gapHard
	if lower.Grommet != nil || upper.Grommet != nil {
		need = gapSoft
	}
	base := layout.Finding{
		Subjects: []string{second.Component.ID, first.Component.ID}, Pos: second.Component.Pos, Near: "stack " + spoken(s.Name),
	}
	f, lo, hi := facing(base, boardBodies(lower.Component), boardBodies(upper.Component), p.Need(need))
	down, over := p.call(lower.Component.ID), p.call(upper.Component.ID)
	switch {
	case lo == nil && aloud:
		base.Verdict = layout.OK
		base.Message = fmt.Sprintf("%s and %s do not face each other", down, over)
		p.Report(base)
		return 1
	case lo == nil || !aloud && !mustMend(&f):
		return 0
	}
	f.Near = fmt.Sprintf("stack %s, between %s and %s", spoken(s.Name), down, over)
	what, other := p.part(lo)+" of "+down, p.part(hi)+" of "+over
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s and %s are apart hangs on a dimension that is missing", down, over)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s and %s run %s into each other, %s apart needed", what, other, mm(-f.Measured), mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s and %s are %s apart, %s needed", what, other, mm(f.Measured), mm(f.Needed))
	}
	f.Fix = p.tallerSpacer(s, first, second, &f)
	p.Report(f)
	return 1
}

// toCarrier judges a board against a plate on the side from which its stack grows.
func (p *Pass) toCarrier(s *layout.Stack, b *layout.Level, plate *layout.Plate, aloud bool) int {
	bodies := []*layout.Body{plateBody(plate)}
	mine := boardBodies(b.Component)
	if s.Down && plate.Bottom.Sub(b.FaceUp).Nominal() < 0 || !s.Down && b.FaceDown.Sub(plate.Top).Nominal() < 0 {
		return 0 // beside the board or beyond it
	}
	need, what := gapInsulated, ""
	if m := plate.Material; m != nil && m.Material != nil && m.Material.Conducts {
		need, what = gapCarbon, "the conducting face of "
	}
	base := layout.Finding{
		Subjects: []string{b.Component.ID, plate.ID}, Pos: b.Component.Pos,
		Near: fmt.Sprintf("stack %s, at %s", spoken(s.Name), p.call(plate.ID)),
	}
	name := p.call(b.Component.ID)
	lower, upper := bodies, mine
	if s.Down {
		lower, upper = mine, bodies
	}
	f, lo, hi := facing(base, lower, upper, p.Need(need))
	switch {
	case lo == nil && aloud:
		base.Verdict = layout.OK
		base.Message = fmt.Sprintf("%s lies over a cut-out of %s", name, p.call(plate.ID))
		p.Report(base)
		return 1
	case lo == nil || !aloud && !mustMend(&f):
		return 0
	}
	part := hi
	if s.Down {
		part = lo
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s keeps off %s hangs on a dimension that is missing", name, p.call(plate.ID))
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s of %s runs %s into %s, %s apart needed", p.part(part), name, mm(-f.Measured), p.call(plate.ID), mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s of %s is %s from %s%s, %s needed", p.part(part), name, mm(f.Measured), what, p.call(plate.ID), mm(f.Needed))
	}
	f.Fix = p.tallerSpacer(s, nil, b, &f)
	p.Report(f)
	return 1
}

// tallerSpacer says which spacer to lengthen and to what, by the stock lengths of its
// class when the build names one: the last between the two boards, or with no first one
// between the plate and the second.
func (p *Pass) tallerSpacer(s *layout.Stack, first, second *layout.Level, f *layout.Finding) string {
	if !mustMend(f) {
		return unknownFix(f)
	}
	lack := -f.Worst
	var spacer *layout.Level
	for i := range s.Levels {
		l := &s.Levels[i]
		if l == second {
			break
		}
		switch {
		case l == first:
			spacer = nil
		case !l.Board && l.Component != nil && l.Component.Kind == "spacer":
			spacer = l
		}
	}
	if spacer == nil {
		return fmt.Sprintf("put a spacer or washers of %s between them", mm(up(lack, 0.1)))
	}
	now := spacer.To.Sub(spacer.From).Nominal()
	name := p.call(spacer.Component.ID)
	if stock := nextStock(spacer.Component.Part, now+lack); stock > 0 {
		return fmt.Sprintf("make %s %s long in place of %s, the next length sold that holds at worst case", name, mm(stock), num(now))
	}
	return fmt.Sprintf("make %s %s long or more in place of %s", name, mm(up(now+lack, 0.1)), num(now))
}

// nextStock returns the least length sold that is at least want, 0 if none is known.
func nextStock(part *shapes.Part, want float64) float64 {
	if part == nil || part.Standoff == nil {
		return 0
	}
	best := 0.0
	for _, l := range part.Standoff.Lengths {
		if l >= want-1e-9 && (best == 0 || l < best) {
			best = l
		}
	}
	return best
}
