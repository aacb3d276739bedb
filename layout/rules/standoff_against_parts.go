package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// Needs round posts, spacers and nuts, mm. The ring that boards keep free round a hole
// (6.5 for M3, 4.5 for M2) holds the air already: it is a round head or post and 0.5, and
// the corners of a nut or hex spacer may sweep all of it, but not more. Towards a drawn
// zone nothing is held yet, so half of the 0.5 is asked for. A frame post keeps 1.0 from
// a board's edge, a metal one 2.0 from pads at pack potential.
const (
	zoneAir  = 0.25
	postAir  = 1.0
	postLive = 2.0
	// softReach is how near in height a spacer must come to what stands on the face of a
	// board in grommets to be judged against it: such a board travels up to 1.0 each way.
	softReach = 1.0
)

var standoffAgainstParts = &Rule{
	Name:     "standoff-against-parts",
	Group:    "stack",
	Question: "do posts, spacers and nuts keep off board parts and board edges",
	Why:      "The corners of a hex spacer sweep over the parts beside the hole and shear them off; a metal post against a board's edge shorts it, worst of all at pads on pack potential.",
	Need:     "Corners of spacers and nuts inside the ring that the board keeps free round its holes (the ring holds 0.5 mm of air already); hexagons whose flats alone fit in it can be held still, and are no more than tight. Of nylon too: the corners shear parts off, whatever they conduct. 0.25 mm from them to a zone; 1.0 mm from a frame post to a board, 2.0 from a metal one to a zone at pack potential.",
	How:      "In plan: the circle over the corners of each spacer, nut or washer against the free ring of the board's holes and against each zone on the face that it sits on; each frame post against each board at its height, both with their uncertainty in plan. A board in grommets keeps off its spacers by their thickness: it is judged only where a part comes nearer than 1.0 mm to them in height.",
	Fix:      "A round or slimmer spacer, turn the board, or move the posts.",
	Run:      runStandoffAgainstParts,
}

func runStandoffAgainstParts(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		judged += p.spacersOnBoards(s)
		for _, board := range boardLevels(s) {
			var sets []string
			for _, post := range p.Asm.Posts {
				if !hasWord(sets, post.Set) {
					sets = append(sets, post.Set)
					judged += p.postsAgainstBoard(post.Set, board)
				}
			}
		}
	}
	if judged == 0 {
		p.Nothing("no board sits on spacers or stands beside a post")
	}
}

// spacersOnBoards judges each spacer, nut or washer against the boards next to it in the
// stack.
func (p *Pass) spacersOnBoards(s *layout.Stack) (judged int) {
	for i := range s.Levels {
		l := &s.Levels[i]
		if l.Board || l.Component == nil || l.Width == nil {
			continue
		}
		for _, j := range []int{i - 1, i + 1} {
			if j < 0 || j >= len(s.Levels) || !s.Levels[j].Board {
				continue
			}
			board := &s.Levels[j]
			// Beyond the spacer a standing stack shows the lower face of its board, a hanging
			// one the upper.
			up := (j > i) == s.Down
			if p.inRing(s, l, board, up) {
				judged++
			}
			if p.besideZones(s, l, board, up) {
				judged++
			}
		}
	}
	return judged
}

// nearInHeight reports whether a body on a face of a board comes so near to a spacer in height
// that the two can meet: always on a board that is clamped hard.
func nearInHeight(l, board *layout.Level, z *layout.Body, up bool) bool {
	if board.Grommet == nil {
		return true
	}
	gap := z.Bottom.Sub(l.To)
	if up {
		gap = l.From.Sub(z.Top)
	}
	w, _ := gap.Worst()
	return w < softReach-touch || len(gap.Missing()) > 0
}

// onFace reports whether a body stands on the upper (or lower) face of a board.
func onFace(board *layout.Level, z *layout.Body, up bool) bool {
	return z.Kind == layout.ZoneBody && (z.Bottom.Nominal() >= board.FaceUp.Nominal()-touch) == up
}

// spacerFinding starts a finding on a spacer and a board.
func (p *Pass) spacerFinding(s *layout.Stack, l, board *layout.Level) layout.Finding {
	return layout.Finding{
		Subjects: []string{l.Component.ID, board.Component.ID}, Pos: l.Component.Pos,
		Near: fmt.Sprintf("stack %s, at the holes of %s", spoken(s.Name), p.call(board.Component.ID)),
	}
}

// inRing judges a spacer against the ring that the board keeps free of parts round its
// holes; false if nothing outside the ring can reach the spacer.
func (p *Pass) inRing(s *layout.Stack, l, board *layout.Level, up bool) bool {
	sq := board.Component.Part.Square
	if sq == nil {
		return false
	}
	reached := board.Grommet == nil
	for _, z := range board.Component.Bodies {
		reached = reached || onFace(board, z, up) && !isDrawnZone(z) && nearInHeight(l, board, z, up)
	}
	if !reached {
		return false
	}
	clear := known(sq.Clear, board.Component.Label+" free ring round its holes")
	start := p.spacerFinding(s, l, board)
	f := start.Judge(layout.Form{}.Plus(clear, 0.5).Plus(l.Width, -0.5), layout.Form{})
	flats := flatsOf(l)
	held := f.Verdict == layout.Fail && flats != nil && flats.Value <= clear.Value
	if held {
		// Turned it sweeps parts off, held still with a flat towards them it does not.
		turned := *flats
		turned.Name = l.Component.Label + " as it may be turned"
		turned.Plus = l.Width.Value + l.Width.Plus - flats.Value
		f = start.Judge(layout.Form{}.Plus(clear, 0.5).Plus(&turned, -0.5), layout.Form{})
	}
	if len(s.Screws) > 0 {
		z := board.FaceDown.Nominal()
		if up {
			z = board.FaceUp.Nominal()
		}
		at := s.Screws[0].At
		f.HasPlace, f.A, f.B = true, lift(at, z), lift(at, z)
		f.A.X += l.Width.Value / 2
		f.B.X += clear.Value / 2
	}
	name, on := p.call(l.Component.ID), p.call(board.Component.ID)
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s stays within the free ring round the holes of %s hangs on a dimension that is missing", name, on)
	case held:
		f.Message = fmt.Sprintf("%s is %s across its flats and %s over its corners, and %s keeps %s free round its holes: the corners sweep parts off when it is turned", name, mm(flats.Value), mm(l.Width.Value), on, mm(clear.Value))
	default:
		f.Message = fmt.Sprintf("%s is %s over its corners, and %s keeps %s free round its holes", name, mm(l.Width.Value), on, mm(clear.Value))
	}
	f.Fix = p.thinner(s, l, board, &f)
	if held && mustMend(&f) {
		f.Fix = fmt.Sprintf("hold it still with a flat towards the parts and turn the screw, or take a round one of %s or less", mm(down(clear.Value-clear.Minus, 0.1)))
	}
	p.Report(f)
	return true
}

// flatsOf is the width across flats of a hexagonal spacer, nil for round ones and others.
func flatsOf(l *layout.Level) *shapes.Dim {
	p := l.Component.Part
	if p == nil || p.Standoff == nil || !p.Standoff.Hex || isMissing(p.Standoff.OD) || isMissing(l.Width) || p.Standoff.OD.Value >= l.Width.Value {
		return nil
	}
	return p.Standoff.OD
}

// besideZones judges a spacer against the zones on the face of the board that it sits
// against; false if there is none.
func (p *Pass) besideZones(s *layout.Stack, l, board *layout.Level, up bool) bool {
	var worst worstOf
	var zone *layout.Body
	for _, z := range board.Component.Bodies {
		if !isDrawnZone(z) || !onFace(board, z, up) || !nearInHeight(l, board, z, up) {
			continue
		}
		for _, b := range l.Component.Bodies {
			m := measurePlan(b, z)
			if m.gap.Empty {
				continue
			}
			f := p.spacerFinding(s, l, board).Judge(m.gap.Form, p.Need(zoneAir))
			f.HasPlace = true
			f.A, f.B = m.points()
			if worst.add(f) {
				zone = z
			}
		}
	}
	if zone == nil {
		return false
	}
	f := worst.f
	name, on := p.call(l.Component.ID), p.piece(zone)
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s keeps off %s hangs on a dimension that is missing", name, on)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s stands %s on %s, %s apart needed", name, mm(-f.Measured), on, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s comes %s from %s, %s needed", name, mm(f.Measured), on, mm(f.Needed))
	}
	f.Fix = p.thinner(s, l, board, &f)
	p.Report(f)
	return true
}

// thinner says how slim the spacer or nut must be, as long as a screw still goes through
// one of that size.
func (p *Pass) thinner(s *layout.Stack, l, board *layout.Level, f *layout.Finding) string {
	if !mustMend(f) {
		return unknownFix(f)
	}
	name := p.call(l.Component.ID)
	most := down(l.Width.Value+2*f.Worst, 0.1)
	turn := fmt.Sprintf("turn or flip %s so that another place lies there", p.call(board.Component.ID))
	// A round spacer has at least a quarter of its screw as wall on either side.
	if most < 1.5*screwSize(s.Screw)-touch {
		return turn
	}
	out := fmt.Sprintf("take one of %s over the corners or less for %s", mm(most), name)
	if f.Measured >= 0 {
		out += ", or hold it still and turn the screw"
	}
	return out + ", or " + turn
}

// postsAgainstBoard judges a set of posts against a board at their height: the post with
// the least to spare.
func (p *Pass) postsAgainstBoard(set string, board *layout.Level) int {
	var worst worstOf
	var body *layout.Body
	var nearest *layout.Post
	for _, post := range p.Asm.Posts {
		if post.Set != set || post.Body == nil {
			continue
		}
		for _, b := range boardBodies(board.Component) {
			if !heightsMeet(post.Body, b) {
				continue
			}
			need := postAir
			if b.Live && post.Body.Conducts {
				need = postLive
			}
			m := measurePlan(post.Body, b)
			if m.gap.Empty {
				continue
			}
			f := layout.Finding{
				Subjects: []string{board.Component.ID, post.Body.Of}, Pos: board.Component.Pos, HasPlace: true,
				Near: fmt.Sprintf("%s at x %s, y %s", p.call(post.ID), num(post.At.X), num(post.At.Y)),
			}.Judge(m.gap.Form, p.Need(need))
			f.A, f.B = m.points()
			f.A, f.B = f.B, f.A
			if worst.add(f) {
				body, nearest = b, post
			}
		}
	}
	if body == nil {
		return 0
	}
	f := worst.f
	what, post := p.piece(body), p.call(nearest.ID)
	if body.Kind == layout.PcbBody {
		what = p.call(body.Of)
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s keeps off %s hangs on a dimension that is missing", what, post)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s runs %s into %s, %s apart needed", what, mm(-f.Measured), post, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s comes %s from %s, %s needed", what, mm(f.Measured), post, mm(f.Needed))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move posts %s %s away, turn %s, or take a smaller board", spoken(set), mm(up(-f.Worst, 0.1)), p.call(board.Component.ID))
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
	return 1
}

// heightsMeet reports whether the height intervals of two bodies can share a height at worst
// case; bodies that only touch do not meet.
func heightsMeet(a, b *layout.Body) bool {
	_, up := a.Top.Sub(b.Bottom).Worst()
	_, down := b.Top.Sub(a.Bottom).Worst()
	return up > touch && down > touch
}
