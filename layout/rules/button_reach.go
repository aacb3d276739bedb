package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// A button is pressed with a 2 mm stick that a hand holds 40 mm off; a memory card is
// 11 x 1 and needs 16 to come out. All mm.
const (
	stickD    = 2.0
	stickLong = 40.0
	cardWide  = 11.0
	cardHigh  = 1.0
	cardOut   = 16.0
	stickAir  = 0.5
)

var buttonReach = &Rule{
	Name:     "button-reach",
	Group:    "ports",
	Question: "can buttons be pressed and cards be pulled when assembled",
	Why:      "Otherwise the craft is stripped down to bind a receiver or to read a log.",
	Need:     "A straight way for a 2 mm stick, 40 mm long, with 0.5 mm of air; for a card 11 x 1 mm over 16 mm.",
	How:      "A box along the button's or slot's axis from its face outwards, against every other body, in mm.",
	Fix:      "Turn the board, or cut a hole in the plate over it.",
	Run:      runButtonReach,
}

func runButtonReach(p *Pass) {
	judged := 0
	for _, port := range p.Asm.Ports {
		if !port.Port.Reach || !(port.Port.Button || port.Port.Card) {
			continue
		}
		wide, high, long, what := stick("stick", stickD), stick("stick", stickD), stickLong, "a 2 mm stick"
		if port.Port.Card {
			wide, high, long, what = stick("card width", cardWide), stick("card thickness", cardHigh), cardOut, "the card"
		}
		room := corridor(port, wide, high, 0, long)
		m, body, ok := blocked(p.Asm, room, exitTold, func(b *layout.Body) bool { return b.Soft })
		f := layout.Finding{
			Unit: shapes.MM, Subjects: []string{port.Owner.ID}, Pos: port.Owner.Pos,
			Near: fmt.Sprintf("%s of %s, %s", port.Port.Name, port.Owner.Label, facingWords(port)),
		}
		judged++
		if !ok {
			f.Verdict = layout.OK
			f.Message = fmt.Sprintf("%s reaches %s of %s with nothing within %.0f mm", what, port.Port.Name, port.Owner.Label, exitTold)
			p.Report(f)
			continue
		}
		f.Subjects = append(f.Subjects, body.Of)
		f.HasPlace, f.A, f.B = true, m.a, m.b
		f = f.Judge(m.form, p.Need(stickAir))
		f.Message = fmt.Sprintf("the way of %s to %s of %s passes %s at %.2f mm", what, port.Port.Name, port.Owner.Label, bodyName(body), f.Measured)
		if f.Measured < 0 {
			f.Message = fmt.Sprintf("%s blocks the way of %s to %s of %s by %.2f mm", bodyName(body), what, port.Port.Name, port.Owner.Label, -f.Measured)
		}
		if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
			f.Fix = fmt.Sprintf("turn or flip %s, or cut a hole over %s into %s", port.Owner.Label, port.Port.Name, short(body.Of))
		} else {
			f.Fix = unknownFix(&f)
		}
		p.Report(f)
	}
	if judged == 0 {
		p.Nothing("no part has a button or card slot that must be reachable")
	}
}
