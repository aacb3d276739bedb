package layout

import (
	"math"

	"dryfit/shapes"
)

// TieBetween is the place along a circuit's route, in mm, at which a stretch of it can be tied once more: as near to its middle as
// there is something to tie it to. Opens tells that it is the pack's own lead, which has to come off again. ok is false
// where nothing is within reach, or ties lie so close already that one more is no use.
func (a *Assembly) TieBetween(c *Circuit, s *Stretch) (along float64, opens, ok bool) {
	if c.Route == nil || s.Hi-s.Lo <= 2*tieSwept {
		return 0, false, false
	}
	t := newTrack(c.Route)
	along, ok = t.tieable((s.Lo + s.Hi) / 2)
	if !ok || along < s.Lo+tieSwept || along > s.Hi-tieSwept {
		along, ok = a.besides(t, s.Lo, s.Hi, max(c.OD.Value, leastOD)/2)
	}
	return along, ok && c.ofPack(along, t.total), ok
}

// handSlack is how exactly, in mm, a builder who minds it leaves slack.
const handSlack = 2.0

// SlackFor is the most slack of a circuit in whole mm, kept to 2 mm, with which a stretch stays so far off a rotor's disc at the worst of
// all tolerances; ok is false where there is none less than what it has.
func (a *Assembly) SlackFor(s *Stretch, r *Rotor, need float64) (mm float64, ok bool) {
	holds := func(slack float64) bool {
		c, q := *s.circuit, *s
		c.Slack = &shapes.Dim{Name: c.Label + " slack", Value: slack, Plus: handSlack, Minus: min(slack, handSlack), Unit: shapes.MM, HasTol: true}
		q.circuit = &c
		gap, _ := a.DiscGap(&q, r)
		least, _ := gap.Worst()
		return least >= need
	}
	for mm = math.Ceil(slackValue(s.circuit)) - 1; mm >= 0; mm-- {
		if holds(mm) {
			return mm, true
		}
	}
	return 0, false
}
