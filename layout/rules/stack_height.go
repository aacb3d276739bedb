package rules

import (
	"fmt"

	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// Air that the plate over a stack must leave, mm: 1.0 over hard parts, 3.0 over hot ones
// (a video transmitter, a heat sink), so that the plate does not bow and heat gets out.
const (
	airHard = 1.0
	airHot  = 3.0
)

var stackHeight = &Rule{
	Name:     "stack-height",
	Group:    "stack",
	Question: "does the plate over a stack close without touching it",
	Why:      "A plate that screws pull down on the tallest part bows, and the part creaks and cracks; a hot part without air shuts down.",
	Need:     "1.0 mm of air over hard parts, 3.0 mm over parts marked hot.",
	How:      "From the top of each body of the stack, and of what is mounted on it, to the underside of the plate over it in plan; for a hanging stack the other way up. The sum of boards, spacers, part heights and grommets against the posts, with shared dimensions cancelled.",
	Fix:      "Longer posts, lower spacers, or move a board aft.",
	Run:      runStackHeight,
}

func runStackHeight(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		for _, plate := range p.Asm.Plates {
			if plate.ID == s.On {
				continue
			}
			judged += p.air(s, plate, false)
			judged += p.air(s, plate, true)
		}
	}
	if judged == 0 {
		p.Nothing("no plate lies over a stack")
	}
}

// air judges the bodies of a stack against one plate on its open side, the hot ones or
// the others. It returns how many findings it gave.
func (p *Pass) air(s *layout.Stack, plate *layout.Plate, hot bool) int {
	var best facing
	var of *layout.Component
	found := false
	for _, c := range stackComponents(p.Asm, s) {
		for _, b := range c.Bodies {
			if b.Hot != hot || b.Soft {
				continue
			}
			g := geom.DistanceSets(b.Plan, plate.Outline)
			if g.Dist > besides {
				continue
			}
			f := facing{lo: b, at: g, gap: plate.Bottom.Sub(b.Top)}
			if s.Down {
				f.gap = b.Bottom.Sub(plate.Top)
			}
			// A plate on the far side of the whole stack is not over it; one that the stack
			// reaches into is.
			if s.Down && plate.Top.Nominal() >= s.Top.Nominal() || !s.Down && plate.Bottom.Nominal() <= s.Bottom.Nominal() {
				continue
			}
			f.worst, _ = f.gap.Worst()
			if !found || f.worst < best.worst-1e-9 {
				best, of, found = f, c, true
			}
		}
	}
	if !found {
		return 0
	}
	need := airHard
	if hot {
		need = airHot
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{of.ID, plate.ID}, Pos: of.Pos, HasPlace: true,
		Near: fmt.Sprintf("stack %s, under plate %s", s.Name, plate.Name),
	}.Judge(best.gap, p.Need(need))
	x, y := (best.at.A.X+best.at.B.X)/2, (best.at.A.Y+best.at.B.Y)/2
	f.A = r3.Vector{X: x, Y: y, Z: best.lo.Top.Nominal()}
	f.B = r3.Vector{X: x, Y: y, Z: plate.Bottom.Nominal()}
	side := "under"
	if s.Down {
		side = "over"
		f.A.Z, f.B.Z = best.lo.Bottom.Nominal(), plate.Top.Nominal()
	}
	what := words(best.lo)
	if what != of.Label {
		what += " of " + of.Label
	}
	if hot {
		what += " (hot)"
	}
	f.Message = fmt.Sprintf("%s ends %.2f mm %s plate %s", what, f.Measured, side, plate.Name)
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s stands %.2f mm into plate %s", what, -f.Measured, plate.Name)
	}
	f.Fix = p.longerPosts(plate, &f)
	p.Report(f)
	return 1
}

// stackComponents returns the boards, spacers and nuts of a stack and everything that is
// mounted on one of them, however many layers high.
func stackComponents(asm *layout.Assembly, s *layout.Stack) []*layout.Component {
	in := map[string]bool{}
	var out []*layout.Component
	for i := range s.Levels {
		if c := s.Levels[i].Component; c != nil && !in[c.ID] {
			in[c.ID] = true
			out = append(out, c)
		}
	}
	for grown := true; grown; {
		grown = false
		for _, c := range asm.Components {
			if !in[c.ID] && in[c.On] {
				in[c.ID] = true
				out = append(out, c)
				grown = true
			}
		}
	}
	return out
}

// longerPosts says how long the posts under a plate must be, by the stock lengths of
// their class when it is known.
func (p *Pass) longerPosts(plate *layout.Plate, f *layout.Finding) string {
	if f.Verdict != layout.Fail && f.Verdict != layout.Tight {
		return unknownFix(f)
	}
	short := -f.Worst
	for _, post := range p.Asm.Posts {
		if post.Upper != plate.ID && post.Lower != plate.ID {
			continue
		}
		now := post.Length.Value
		if stock := nextStock(post.Part, now+short); stock > 0 {
			return fmt.Sprintf("take posts %s of %.4g mm in place of %.4g, or lower the stack by %s", post.Set, stock, now, mm(up(short, 0.1)))
		}
		return fmt.Sprintf("take posts %s of %s or more in place of %.4g, or lower the stack by %s", post.Set, mm(up(now+short, 0.1)), now, mm(up(short, 0.1)))
	}
	return fmt.Sprintf("raise plate %s or lower the stack by %s", plate.Name, mm(up(short, 0.1)))
}
