package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// pressFit is how far a hole may lie from the size for its press nut, mm: a wider one lets
// the nut spin, a tighter one splits the plate.
const pressFit = 0.15

var pressNut = &Rule{
	Name:     "press-nut",
	Group:    "frame",
	Question: "do press nuts sit firmly, in plates thick enough, pulled the right way",
	Why:      "A press nut that spins turns with its screw for ever, and the plate must be drilled open; pulled from its own side it comes out.",
	Need:     "Holes of 3.5, 4.0 and 4.5 mm for M2, M2.5 and M3, to 0.15 mm; a plate at least as thick as the nut's barrel is long (1.5, of 1.0 to 2.5); the flange on the face away from the screw's head, so that the screw pulls it in.",
	How:      "The hole of the plate at the end of each screw whose nut is a press nut: its diameter with the cutter's error, the plate's thickness, and the face of the flange when the build says it.",
	Fix:      "Drill to size, take a thicker plate, or press the nut in from the far side.",
	Run:      runPressNut,
}

func runPressNut(p *Pass) {
	told := 0
	for _, f := range p.fastenings(layout.PlateBolt) {
		if f.Nut == nil || f.Nut.Kind != "press" {
			continue
		}
		told++
		p.pressed(f)
	}
	if told == 0 {
		p.Nothing("no screw of the build goes into a press nut")
	}
}

func (p *Pass) pressed(f *layout.Fastening) {
	j := p.firstOf(f)
	plate := p.plate(f.Into.Component)
	nut, ok := shapes.PressNutFor(f.Size)
	var hole *layout.Hole
	if plate != nil {
		for i := range plate.Holes {
			if h := &plate.Holes[i]; h.Length <= 0 && h.Diameter != nil && h.At.Sub(j.At).Norm() < h.Diameter.Value/2 {
				hole = h
			}
		}
	}
	start := func() layout.Finding {
		g := p.jointFinding(f)
		g.Subjects = []string{plate.ID, j.Owner.ID}
		return g
	}
	switch {
	case plate == nil:
		return
	case !ok:
		g := start()
		g.Verdict = layout.Fail
		g.Message = fmt.Sprintf("press nuts are common for M2, M2.5 and M3, not for %s", f.Size)
		g.Fix = "take a nut with an insert, or another thread"
		p.Report(g)
		return
	case hole == nil:
		g := start()
		g.Verdict = layout.Fail
		g.Message = fmt.Sprintf("%s has no hole for the press nut of %s", p.call(plate.ID), f.Label())
		g.Fix = fmt.Sprintf("drill %s there", mm(nut.Hole.Value))
		p.Report(g)
		return
	}
	off := layout.Of(hole.Diameter).Shift(-nut.Hole.Value)
	loose := off.Nominal() >= 0
	if !loose {
		off = off.Scale(-1)
	}
	g := start()
	g.AtMost = true
	g = g.Judge(off, layout.Fixed(pressFit))
	g.Message = fmt.Sprintf("the hole in %s is %s wide, the press nut of %s wants %s", p.call(plate.ID), mm(hole.Diameter.Value), f.Size, mm(nut.Hole.Value))
	g.Fix = unknownFix(&g)
	if mustMend(&g) {
		g.Fix = fmt.Sprintf("have it drilled %s, to 0.1 or better", mm(nut.Hole.Value))
	}
	p.Report(g)

	g = start().Judge(layout.Of(plate.Thickness), layout.Of(nut.Barrel))
	g.Message = fmt.Sprintf("%s is %s thick, the barrel of an %s press nut %s long", p.call(plate.ID), mm(plate.Thickness.Value), f.Size, mm(nut.Barrel.Value))
	g.Fix = unknownFix(&g)
	if mustMend(&g) {
		g.Fix = fmt.Sprintf("take a plate of %s, or press nuts with a barrel of at most %s", mm(up(g.Measured-g.Worst, 0.5)), mm(down(plate.Thickness.Value-plate.Thickness.Minus, 0.1)))
	}
	p.Report(g)

	if !hole.Press || !hole.HasFace {
		return
	}
	// The screw's end points to the face that the flange must lie on.
	right := shapes.Bottom
	if j.Up {
		right = shapes.Top
	}
	g = start()
	g.Verdict = layout.OK
	g.Message = fmt.Sprintf("%s pulls its press nut into %s", f.Label(), p.call(plate.ID))
	if hole.Face != right {
		g.Verdict = layout.Fail
		g.Message = fmt.Sprintf("%s pulls its press nut out of %s: the flange lies on the head's side", f.Label(), p.call(plate.ID))
		g.Fix = "press the nut in from the other face, or put the screw in from the other side"
	}
	p.Report(g)
}
