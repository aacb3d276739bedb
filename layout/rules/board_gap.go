package rules

import (
	"fmt"

	"github.com/golang/geo/r3"

	"dryfit/geom"
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
	Need:     "1.5 mm between hard-mounted boards, 2.0 when either is soft-mounted (it travels); 2.0 from a board's underside to bare carbon, 1.0 to a plate that does not conduct.",
	How:      "Zone by zone: what stands on the lower board against what hangs under the upper one where they face each other in plan (nearer than 0.5 mm sideways counts). Heights are sums of the clamped layers, so what both share cancels.",
	Fix:      "A taller spacer, an insulating sheet, or turn one board so that other zones face.",
	Run:      runBoardGap,
}

func runBoardGap(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		boards := boardLevels(s)
		for i, b := range boards {
			if i == 0 {
				if plate := plateOf(p.Asm, s.On); plate != nil {
					judged += p.underside(s, b, plate)
				}
				continue
			}
			judged += p.betweenBoards(s, boards[i-1], b)
		}
	}
	if judged == 0 {
		p.Nothing("no stack holds a board that faces another board or a plate")
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

// facing is the nearest approach of two sets of bodies that face each other in height.
type facing struct {
	gap    layout.Form // upper's bottom less lower's top
	lo, hi *layout.Body
	at     geom.Gap
	worst  float64
}

// face finds, over all pairs whose plans come nearer than besides, the pair with the
// least vertical gap at worst case.
func face(lower, upper []*layout.Body) (best facing, ok bool) {
	for _, lo := range lower {
		for _, up := range upper {
			g := geom.DistanceSets(lo.Plan, up.Plan)
			if g.Dist > besides {
				continue
			}
			gap := up.Bottom.Sub(lo.Top)
			w, _ := gap.Worst()
			if !ok || w < best.worst-1e-9 {
				best, ok = facing{gap, lo, up, g, w}, true
			}
		}
	}
	return best, ok
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

func (p *Pass) betweenBoards(s *layout.Stack, first, second *layout.Level) int {
	lower, upper := first, second
	if s.Down {
		lower, upper = second, first
	}
	best, ok := face(boardBodies(lower.Component), boardBodies(upper.Component))
	if !ok {
		p.Report(layout.Finding{
			Verdict: layout.OK, Subjects: []string{second.Component.ID, first.Component.ID}, Pos: second.Component.Pos,
			Message: fmt.Sprintf("%s and %s do not face each other in plan", lower.Component.Label, upper.Component.Label),
		})
		return 1
	}
	need := gapHard
	if lower.Grommet != nil || upper.Grommet != nil {
		need = gapSoft
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{second.Component.ID, first.Component.ID}, Pos: second.Component.Pos,
		Near: fmt.Sprintf("stack %s, %s under %s", s.Name, words(best.lo), words(best.hi)),
	}.Judge(best.gap, p.Need(need))
	f.HasPlace = true
	f.A, f.B = best.points()
	f.Message = fmt.Sprintf("%s of %s and %s of %s are %.2f mm apart", words(best.lo), lower.Component.Label,
		words(best.hi), upper.Component.Label, f.Measured)
	f.Fix = p.tallerSpacer(s, first, second, &f)
	p.Report(f)
	return 1
}

func (p *Pass) underside(s *layout.Stack, b *layout.Level, plate *layout.Plate) int {
	mine := boardBodies(b.Component)
	var best facing
	var ok bool
	if s.Down {
		best, ok = face(mine, plate.Bodies)
	} else {
		best, ok = face(plate.Bodies, mine)
	}
	if !ok {
		return 0
	}
	need, what := gapInsulated, "the plate"
	if plate.Material != nil && plate.Material.Material != nil && plate.Material.Material.Conducts {
		need, what = gapCarbon, "bare carbon"
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{b.Component.ID, plate.ID}, Pos: b.Component.Pos,
		Near: fmt.Sprintf("stack %s, at plate %s", s.Name, plate.Name),
	}.Judge(best.gap, p.Need(need))
	f.HasPlace = true
	f.A, f.B = best.points()
	part := best.hi
	if s.Down {
		part = best.lo
	}
	f.Message = fmt.Sprintf("%s of %s is %.2f mm from %s of plate %s", words(part), b.Component.Label, f.Measured, what, plate.Name)
	f.Fix = p.tallerSpacer(s, nil, b, &f)
	p.Report(f)
	return 1
}

// tallerSpacer says which spacer to lengthen and to what, by the stock lengths of its
// class when the build names one. The spacer is the last before the second board.
func (p *Pass) tallerSpacer(s *layout.Stack, first, second *layout.Level, f *layout.Finding) string {
	if f.Verdict != layout.Fail && f.Verdict != layout.Tight {
		return unknownFix(f)
	}
	short := -f.Worst
	var spacer *layout.Level
	for i := range s.Levels {
		l := &s.Levels[i]
		if l == second {
			break
		}
		if l == first {
			spacer = nil
			continue
		}
		if !l.Board && l.Component != nil && l.Component.Kind == "spacer" {
			spacer = l
		}
	}
	if spacer == nil {
		return fmt.Sprintf("put a spacer of %s more between them", mm(up(short, 0.1)))
	}
	now := spacer.To.Sub(spacer.From).Nominal()
	if s.Down {
		now = -now
	}
	want := now + short
	if stock := nextStock(spacer.Component.Part, want); stock > 0 {
		return fmt.Sprintf("take %s of %.4g mm in place of %.4g (the next that is sold and holds at worst case)", spacer.Component.Label, stock, now)
	}
	return fmt.Sprintf("take %s of %s or more in place of %.4g", spacer.Component.Label, mm(up(want, 0.1)), now)
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

// points returns where the gap is: the top of the lower and the bottom of the upper
// body, one over the other.
func (f *facing) points() (a, b r3.Vector) {
	x, y := (f.at.A.X+f.at.B.X)/2, (f.at.A.Y+f.at.B.Y)/2
	return r3.Vector{X: x, Y: y, Z: f.lo.Top.Nominal()}, r3.Vector{X: x, Y: y, Z: f.hi.Bottom.Nominal()}
}
