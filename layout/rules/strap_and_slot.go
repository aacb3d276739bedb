package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

// A strap slot is the strap's width and 2 mm, by 3 mm; a strap is twice width and height
// of what it goes round and 60 mm of overlap. All mm.
const (
	slotMore     = 2.0
	slotThick    = 0.5
	strapOverlap = 60.0
)

var strapAndSlot = &Rule{
	Name:     "strap-and-slot",
	Group:    "parts",
	Question: "does the strap pass its slots and go round the pack",
	Why:      "A strap that folds in its slot or does not meet lets the pack go: it drops into a disc.",
	Need:     "Slot length: strap width and 2 mm. Slot width: strap thickness and 0.5 mm. Strap length: twice the pack's width and height with what the strap goes round, and 60 mm of overlap, from the lengths that are sold. Swelling room over a pack under another plate.",
	How:      "Slots of the plate as drawn against the strap, the pack's girth against the lengths sold, in mm.",
	Fix:      "Longer slots, a narrower or longer strap, or another shape of pack.",
	Run:      runStrapAndSlot,
}

func runStrapAndSlot(p *Pass) {
	judged := 0
	for _, pack := range p.Asm.Packs {
		if pack.Strap == nil || pack.Strap.Strap == nil {
			continue
		}
		for i := range pack.SlotHoles {
			if i > 0 && sameSlot(&pack.SlotHoles[i], &pack.SlotHoles[0]) {
				continue
			}
			p.slot(pack, &pack.SlotHoles[i])
			judged++
		}
		if p.strapLength(pack) {
			judged++
		}
	}
	switch {
	case len(p.Asm.Packs) == 0:
		p.Nothing("the build has no battery")
	case judged == 0:
		p.Nothing("no battery is said to be held by a strap")
	}
}

func sameSlot(a, b *layout.Hole) bool {
	return a.Diameter == b.Diameter && math.Abs(a.Length-b.Length) < 1e-9
}

func (p *Pass) slot(pack *layout.Pack, h *layout.Hole) {
	strap := pack.Strap.Strap
	f := layout.Finding{Unit: shapes.MM, Subjects: []string{pack.ID}, Pos: h.Pos, HasPlace: true, Near: "slot " + h.Name}
	z := pack.Base.Nominal()
	f.A, f.B = lift(h.At, z), lift(h.At, z)
	width := known(strap.Width, pack.Strap.Name+" width")
	long := f.Judge(layout.Fixed(h.Length).Plus(width, -1), p.Need(slotMore))
	long.Message = fmt.Sprintf("slot %s is %.4g mm long for a strap %.4g mm wide", h.Name, h.Length, width.Value)
	if long.Verdict == layout.Fail || long.Verdict == layout.Tight {
		long.Fix = fmt.Sprintf("make the slot %s long, or take a strap %s wide", mm(up(h.Length-long.Worst, 0.1)), mm(down(width.Value+long.Worst, 1)))
	} else {
		long.Fix = unknownFix(&long)
	}
	p.Report(long)
	if h.Diameter == nil {
		return
	}
	thick := known(strap.Thickness, pack.Strap.Name+" thickness")
	wide := f.Judge(layout.Of(h.Diameter).Plus(thick, -1), layout.Fixed(slotThick))
	wide.Message = fmt.Sprintf("slot %s is %.4g mm wide for a strap %.4g mm thick", h.Name, h.Diameter.Value, thick.Value)
	if wide.Verdict == layout.Fail || wide.Verdict == layout.Tight {
		wide.Fix = fmt.Sprintf("make the slot %s wide", mm(up(h.Diameter.Value-wide.Worst, 0.1)))
	} else {
		wide.Fix = unknownFix(&wide)
	}
	p.Report(wide)
}

// strapLength judges the longest strap sold against the girth of pack, cushion and the
// plate that it goes round.
func (p *Pass) strapLength(pack *layout.Pack) bool {
	body, strap := pack.Part.Body, pack.Strap.Strap
	if body == nil || len(strap.Lengths) == 0 {
		return false
	}
	width, height := known(body.Width, pack.Label+" width"), known(body.Height, pack.Label+" height")
	girth := layout.Fixed(strapOverlap).Plus(width, 2).Plus(height, 2)
	if pack.Cushion != nil {
		girth = girth.Plus(pack.Cushion, 2)
	}
	if pl := plateOf(p.Asm, pack.On); pl != nil {
		girth = girth.Plus(pl.Thickness, 2)
	}
	_, most := girth.Worst()
	best, longest := 0.0, 0.0
	for _, l := range strap.Lengths {
		longest = math.Max(longest, l)
		if l >= most-1e-9 && (best == 0 || l < best) {
			best = l
		}
	}
	have := best
	if have == 0 {
		have = longest
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{pack.ID}, Pos: pack.Pos, Near: "round the pack",
	}.Judge(layout.Fixed(have), girth)
	f.Message = fmt.Sprintf("a strap of %.0f mm goes round %s, which with its overlap takes %.0f mm", have, pack.Label, f.Needed)
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = fmt.Sprintf("no strap of this class is sold longer than %.0f mm: take a wider class, or a flatter pack", longest)
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
	return true
}
