package rules

import (
	"fmt"

	"dryfit/geom"
	"dryfit/layout"
)

var headsUnderPack = &Rule{
	Name:     "heads-under-pack",
	Group:    "parts",
	Question: "does the pack's pad stand higher than the screw heads under it",
	Why:      "A screw head that the strap presses into a pack dents its cells; a dented cell swells and may burn.",
	Need:     "No head, nut or bolt end may stand higher than the pad under the pack; without a pad none may lie there. `needs:` asks for so much of the pad to be left.",
	How:      "From the top of each head, nut or end under the pack's footprint, its slide included (nearer than 0.5 mm sideways counts), to the pack, in mm, at worst case. The highest of each set of screws is told.",
	Fix:      "Countersunk heads, a thicker pad, or move the pack.",
	Run:      runHeadsUnderPack,
}

func runHeadsUnderPack(p *Pass) {
	if len(p.Asm.Packs) == 0 {
		p.Nothing("the build has no pack")
		return
	}
	told := 0
	for _, pack := range p.Asm.Packs {
		for _, c := range p.Asm.Components {
			if c.Kind == "screws" && p.underPack(pack, c) {
				told++
			}
		}
	}
	if told == 0 {
		p.Nothing("no screw head lies under a pack")
	}
}

// underPack judges a set of screws under a pack; false if none of it lies there.
func (p *Pass) underPack(pack *layout.Pack, c *layout.Component) bool {
	carrier := p.plate(pack.On)
	if carrier == nil {
		return false
	}
	var worst worstOf
	var head *layout.Body
	var high layout.Form
	for _, b := range c.Bodies {
		gap, proud := pack.Body.Bottom.Sub(b.Top), b.Top.Sub(carrier.Top)
		if pack.Below {
			gap, proud = b.Bottom.Sub(pack.Body.Top), carrier.Bottom.Sub(b.Bottom)
		}
		foot, far := b.Bottom.Sub(carrier.Top), pack.Body.Top.Sub(carrier.Top)
		if pack.Below {
			foot, far = carrier.Bottom.Sub(b.Top), carrier.Bottom.Sub(pack.Body.Bottom)
		}
		// On the face that carries the pack, and not over it.
		if foot.Nominal() < -touch || foot.Nominal() > far.Nominal()-touch {
			continue
		}
		g := geom.DistanceSets(pack.SweptBody.Plan, b.Plan)
		if g.Dist > besides {
			continue
		}
		at := g.A.Add(g.B).Mul(0.5)
		f := layout.Finding{
			Subjects: []string{pack.ID, c.ID}, Pos: pack.Pos, HasPlace: true,
			A: lift(at, b.Top.Nominal()), B: lift(at, pack.Body.Bottom.Nominal()), Near: p.call(c.ID),
		}
		if pack.Below {
			f.A, f.B = lift(at, b.Bottom.Nominal()), lift(at, pack.Body.Top.Nominal())
		}
		if worst.add(f.Judge(gap, p.Need(0))) {
			head, high = b, proud
		}
	}
	if head == nil {
		return false
	}
	f := worst.f
	pad := high.Nominal() + f.Measured
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s stand higher than the pad under %s hangs on a dimension that is missing", p.call(c.ID), p.call(pack.ID))
	case f.Needed > 0:
		f.Message = fmt.Sprintf("%s stand %s high under %s, which lies on %s of pad: %s of it are left, %s asked for", p.call(c.ID), mm(high.Nominal()), p.call(pack.ID), mm(pad), mm(max(0, f.Measured)), mm(f.Needed))
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s stand %s high under %s, %s more than its pad of %s", p.call(c.ID), mm(high.Nominal()), p.call(pack.ID), mm(-f.Measured), mm(pad))
	default:
		f.Message = fmt.Sprintf("%s stand %s high under %s, which lies on %s of pad", p.call(c.ID), mm(high.Nominal()), p.call(pack.ID), mm(pad))
	}
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("take countersunk screws there, a pad of %s, or move %s", mm(up(pad-f.Worst, 0.1)), p.call(pack.ID))
	}
	p.Report(f)
	return true
}
