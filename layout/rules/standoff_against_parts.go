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
// a board's edge and 2.0 from pads at pack potential.
const (
	zoneAir  = 0.25
	postAir  = 1.0
	postLive = 2.0
)

var standoffAgainstParts = &Rule{
	Name:     "standoff-against-parts",
	Group:    "stack",
	Question: "do posts, spacers and nuts keep off board parts and board edges",
	Why:      "The corners of a hex spacer sweep over the parts beside the hole and shear them off; a metal post against a board's edge shorts it, worst of all at pads on pack potential.",
	Need:     "Corners of spacers and nuts inside the ring that the board keeps free round its holes (the ring holds 0.5 mm of air already), 0.25 mm from them to a zone; 1.0 mm from a frame post to a board, 2.0 to a zone at pack potential.",
	How:      "In plan: the circle over the corners of each spacer or nut against the free ring of the board's holes and against each zone on the face that it sits on; each frame post against the outline of each board at its height, both with their plan uncertainty.",
	Fix:      "A round or slimmer spacer, turn the board, or move the posts.",
	Run:      runStandoffAgainstParts,
}

func runStandoffAgainstParts(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		judged += p.spacersOnBoards(s)
	}
	judged += p.postsAgainstBoards()
	if judged == 0 {
		p.Nothing("no board sits on spacers or stands beside a post")
	}
}

// spacersOnBoards judges each spacer, nut or washer against the boards that it touches.
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
			if sq := board.Component.Part.Square; sq != nil && sq.Clear != nil {
				f := layout.Finding{
					Unit: shapes.MM, Subjects: []string{l.Component.ID, board.Component.ID}, Pos: l.Component.Pos,
					Near: fmt.Sprintf("stack %s, at the holes of %s", s.Name, board.Component.Label),
				}.Judge(layout.Form{}.Plus(sq.Clear, 0.5).Plus(l.Width, -0.5), layout.Fixed(0))
				f.Message = fmt.Sprintf("%s is %.2f mm across, the ring free of parts on %s is %.2f mm",
					l.Component.Label, l.Width.Value, board.Component.Label, sq.Clear.Value)
				f.Fix = thinnerFix(&f, l)
				p.Report(f)
				judged++
			}
			judged += p.spacerAgainstZones(s, l, board, j > i)
		}
	}
	return judged
}

// spacerAgainstZones judges a spacer against the nearest zone on the face of the board
// that it sits against; under tells that the board lies further out than the spacer.
func (p *Pass) spacerAgainstZones(s *layout.Stack, l, board *layout.Level, outer bool) int {
	up := outer == s.Down // the face that meets the spacer is the upper one
	var best *planned
	for _, z := range board.Component.Bodies {
		if z.Kind != layout.ZoneBody || words(z) == "the top side" || words(z) == "the underside" {
			continue
		}
		if (z.Bottom.Nominal() >= board.FaceUp.Nominal()-1e-6) != up {
			continue
		}
		for _, b := range l.Component.Bodies {
			if b.Kind != layout.SpacerBody && b.Kind != layout.FastenBody {
				continue
			}
			m := measurePlan(b, z)
			if best == nil || m.worst < best.worst-1e-9 {
				best = &m
			}
		}
	}
	if best == nil {
		return 0
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{l.Component.ID, board.Component.ID}, Pos: l.Component.Pos,
		Near: fmt.Sprintf("stack %s, at the holes of %s", s.Name, board.Component.Label),
	}.Judge(best.gap.Form, p.Need(zoneAir))
	f.HasPlace = true
	f.A, f.B = best.points()
	f.Message = fmt.Sprintf("%s comes %.2f mm from %s on %s", l.Component.Label, f.Measured, words(best.b), board.Component.Label)
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s stands %.2f mm on %s of %s", l.Component.Label, -f.Measured, words(best.b), board.Component.Label)
	}
	f.Fix = thinnerFix(&f, l)
	p.Report(f)
	return 1
}

func thinnerFix(f *layout.Finding, l *layout.Level) string {
	if f.Verdict != layout.Fail && f.Verdict != layout.Tight {
		return unknownFix(f)
	}
	return fmt.Sprintf("use a spacer or nut %s across or less at %s, or hold it still and turn the screw", mm(down(l.Width.Value+2*f.Worst, 0.1)), l.Component.Label)
}

// postsAgainstBoards judges every set of posts against every board at its height and
// reports the nearest post of the set.
func (p *Pass) postsAgainstBoards() (judged int) {
	for _, s := range p.Asm.Stacks {
		for _, board := range boardLevels(s) {
			sets := map[string]bool{}
			for _, post := range p.Asm.Posts {
				if sets[post.Set] {
					continue
				}
				sets[post.Set] = true
				judged += p.postsAgainstBoard(post.Set, board)
			}
		}
	}
	return judged
}

func (p *Pass) postsAgainstBoard(set string, board *layout.Level) int {
	var best *planned
	var nearest *layout.Post
	need := 0.0
	for _, post := range p.Asm.Posts {
		if post.Set != set || post.Body == nil {
			continue
		}
		for _, b := range boardBodies(board.Component) {
			if !heightsMeet(post.Body, b) {
				continue
			}
			n := postAir
			if b.Live {
				n = postLive
			}
			m := measurePlan(post.Body, b)
			if best == nil || m.worst-n < best.worst-need-1e-9 {
				best, nearest, need = &m, post, n
			}
		}
	}
	if best == nil {
		return 0
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{board.Component.ID, nearest.ID}, Pos: board.Component.Pos, HasPlace: true,
		Near: fmt.Sprintf("post at x %.1f, y %.1f", nearest.At.X, nearest.At.Y),
	}.Judge(best.gap.Form, p.Need(need))
	f.A, f.B = best.points()
	f.Message = fmt.Sprintf("%s of %s comes %.2f mm from post %s", words(best.b), board.Component.Label, f.Measured, short(nearest.ID))
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s of %s runs %.2f mm into post %s", words(best.b), board.Component.Label, -f.Measured, short(nearest.ID))
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = fmt.Sprintf("move posts %s %s away, turn %s, or take a smaller board", set, mm(up(-f.Worst, 0.1)), board.Component.Label)
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
	return up > 1e-6 && down > 1e-6
}
