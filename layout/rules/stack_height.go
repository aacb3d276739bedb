package rules

import (
	"fmt"

	"dryfit/layout"
)

// Air that the plate over a part must leave, mm: 1.0 over hard parts, 3.0 over hot ones
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
	Need:     "1.0 mm of air over hard parts, 3.0 mm over hot ones (video transmitters, zones marked hot).",
	How:      "From the top of each body of the stack, and of what is mounted on it, to the underside of each plate over it in plan (nearer than 0.5 mm sideways counts); for a hanging stack the other way up. The sum of boards, spacers, part heights and grommets against the posts, with shared dimensions cancelled. The body with the least to spare is told, of hard and of hot ones. What keeps off a plate only sideways is judged by body-gap.",
	Fix:      "Longer posts, lower spacers, or move a board aft.",
	Run:      runStackHeight,
}

func runStackHeight(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		for _, plate := range p.Asm.Plates {
			if !overStack(p.Asm, s, plate) {
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

// overStack reports whether a plate lies on the open side of a stack: above the foot of
// one that stands, below that of one that hangs. The plate that carries it, with its
// copies, does not.
func overStack(asm *layout.Assembly, s *layout.Stack, plate *layout.Plate) bool {
	on := plateOf(asm, s.On)
	switch {
	case on != nil && plate.Name == on.Name:
		return false
	case s.Down:
		return plate.Top.Nominal() < s.Top.Nominal()-touch
	}
	return plate.Bottom.Nominal() > s.Bottom.Nominal()+touch
}

// toPlate is the air between a body of a stack and a plate on its open side.
func toPlate(s *layout.Stack, b *layout.Body, plate *layout.Plate) layout.Form {
	if s.Down {
		return b.Bottom.Sub(plate.Top)
	}
	return plate.Bottom.Sub(b.Top)
}

// air judges the bodies of a stack against one plate on its open side, the hot ones or
// the others. It returns how many findings it gave.
func (p *Pass) air(s *layout.Stack, plate *layout.Plate, hot bool) int {
	need := p.Need(airHard)
	if hot {
		need = p.Need(airHot)
	}
	var worst worstOf
	var body *layout.Body
	for _, c := range stackComponents(p.Asm, s) {
		for _, b := range c.Bodies {
			if b.Hot != hot || b.Soft {
				continue
			}
			g := nearInPlan(b.Plan, plate.Outline)
			gap := toPlate(s, b, plate)
			if g.Dist > besides || g.Dist >= 0 && gap.Nominal() < 0 {
				continue // beside the plate, not under it
			}
			f := layout.Finding{Subjects: []string{c.ID, plate.ID}, Pos: c.Pos, HasPlace: true}
			if worst.add(f.Judge(gap, need)) {
				body = b
				at := g.A.Add(g.B).Mul(0.5)
				if g.Dist < 0 {
					at = common(b, plateBody(plate), at)
				}
				worst.f.A, worst.f.B = lift(at, b.Top.Nominal()), lift(at, plate.Bottom.Nominal())
				if s.Down {
					worst.f.A, worst.f.B = lift(at, b.Bottom.Nominal()), lift(at, plate.Top.Nominal())
				}
			}
		}
	}
	if body == nil {
		return 0
	}
	f := worst.f
	where := "under"
	if s.Down {
		where = "over"
	}
	f.Near = fmt.Sprintf("stack %s, %s %s", spoken(s.Name), where, p.call(plate.ID))
	what := p.piece(body)
	if hot {
		what += ", which is hot,"
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s ends %s %s hangs on a dimension that is missing", what, where, p.call(plate.ID))
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s stands %s into %s, %s of air needed", what, mm(-f.Measured), p.call(plate.ID), mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s ends %s %s %s, %s of air needed", what, mm(f.Measured), where, p.call(plate.ID), mm(f.Needed))
	}
	f.Fix = p.morePost(s, plate, &f)
	p.Report(f)
	return 1
}

// plateBody returns the body of a plate.
func plateBody(plate *layout.Plate) *layout.Body {
	return &layout.Body{Plan: plate.Outline, Bottom: plate.Bottom, Top: plate.Top}
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

// morePost says how long the posts must be that keep a plate off a stack, by the stock
// lengths of their class when it is known.
func (p *Pass) morePost(s *layout.Stack, plate *layout.Plate, f *layout.Finding) string {
	if !mustMend(f) {
		return unknownFix(f)
	}
	lack := -f.Worst
	var sets, words []string
	for _, post := range p.Asm.Posts {
		// Posts that hold the plate off what lies on the stack's side.
		holds := post.Upper == plate.ID && post.Lower != ""
		if s.Down {
			holds = post.Lower == plate.ID && post.Upper != ""
		}
		if !holds || hasWord(sets, post.Set) {
			continue
		}
		sets = append(sets, post.Set)
		now := post.Length.Value
		if stock := nextStock(post.Part, now+lack); stock > 0 {
			words = append(words, fmt.Sprintf("posts %s of %s in place of %s", spoken(post.Set), mm(stock), num(now)))
		} else {
			words = append(words, fmt.Sprintf("posts %s of %s or more in place of %s", spoken(post.Set), mm(up(now+lack, 0.1)), num(now)))
		}
	}
	if len(sets) == 0 {
		return fmt.Sprintf("move %s %s away, or make the stack as much lower", p.call(plate.ID), mm(up(lack, 0.1)))
	}
	return fmt.Sprintf("take %s, or make the stack %s lower", speak(words), mm(up(lack, 0.1)))
}
