package rules

import (
	"fmt"

	"dryfit/layout"
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
	How:      "A bar along the button's or slot's axis from its face outwards, against every other hard body and every strap, in mm.",
	Fix:      "Turn the board, or cut a hole in the plate over it.",
	Run:      runButtonReach,
}

func runButtonReach(p *Pass) {
	judged := 0
	for _, port := range p.Asm.Ports {
		if port.Port.Reach && (port.Port.Button || port.Port.Card) {
			p.handWay(port)
			judged++
		}
	}
	if judged == 0 {
		p.Nothing("no part has a button or card slot that must be reachable")
	}
}

// handWay judges the way of a stick to a button, or of a card out of its slot.
func (p *Pass) handWay(port *layout.PortPlace) {
	way := &wayOut{port: port, wide: stick("stick", stickD), high: stick("stick", stickD), long: layout.Fixed(stickLong), round: true}
	what := "a stick of " + mm(stickD)
	if port.Port.Card {
		way = &wayOut{port: port, wide: stick("card width", cardWide), high: stick("card thickness", cardHigh), long: layout.Fixed(cardOut)}
		what = "the card"
	}
	f := p.portFinding(port)
	who := spoken(port.Port.Name) + " of " + p.call(port.Owner.ID)
	if missing := way.lacks(); len(missing) > 0 {
		f.Verdict, f.Missing = layout.Unknown, missing
		f.Message = fmt.Sprintf("whether the way of %s to %s is free hangs on a dimension that is missing", what, who)
		f.Fix = unknownFix(&f)
		p.Report(f)
		return
	}
	need := p.Need(stickAir)
	g, _, body := p.blocked(way, f, need)
	if body == nil {
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("the way of %s to %s has nothing within %s of it", what, who, mm(exitTold))
		p.Report(f)
		return
	}
	switch {
	case g.Verdict == layout.Unknown:
		g.Message = fmt.Sprintf("whether the way of %s to %s clears %s hangs on a dimension that is missing", what, who, p.piece(body))
	case g.Measured < 0:
		g.Message = fmt.Sprintf("%s stands %s in the way of %s to %s, %s off it needed", p.piece(body), mm(-g.Measured), what, who, mm(g.Needed))
	default:
		g.Message = fmt.Sprintf("the way of %s to %s passes %s from %s, %s needed", what, who, mm(g.Measured), p.piece(body), mm(g.Needed))
	}
	if mustMend(&g) {
		var ways []string
		if turn := p.turnThatClears(way, need); turn != "" {
			ways = append(ways, fmt.Sprintf("turn %s by %s", p.call(port.Owner.ID), turn))
		}
		if body.Kind == layout.PlateBody && port.Up != 0 {
			// Half the stick, its air and all that may be off in plan, to either side.
			room := way.room(stickLong)
			off, _ := narrowed(0, closing(room.Blur, room.Rides, body.Blur, body.Rides)).Worst()
			r := stickD/2 + g.Needed - off
			if way.round {
				ways = append(ways, fmt.Sprintf("cut a hole of %s over it into %s", mm(up(2*r, 0.5)), p.call(body.Of)))
			} else {
				ways = append(ways, fmt.Sprintf("open %s over it", p.call(body.Of)))
			}
		} else {
			ways = append(ways, fmt.Sprintf("move %s %s out of the way", p.call(body.Of), mm(up(-g.Worst, 0.1))))
		}
		g.Fix = oneOf(ways)
	} else {
		g.Fix = unknownFix(&g)
	}
	p.Report(g)
}
