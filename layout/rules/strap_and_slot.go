package rules

import (
	"fmt"
	"math"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// A strap slot is the strap's width and 2 mm, by 3 mm; a strap is twice width and height
// of what it goes round and 60 mm of overlap; a pack keeps 1 to 2 mm of height to swell.
// All mm.
const (
	slotMore     = 2.0
	slotThick    = 0.5
	strapOverlap = 60.0
	swellRoom    = 2.0
)

var strapAndSlot = &Rule{
	Name:     "strap-and-slot",
	Group:    "parts",
	Question: "does the strap pass its slots and go round a pack that fits its bay",
	Why:      "A strap that folds in its slot or does not meet lets the pack go: it drops into a disc. A pack without room swells into the plate over it and jams; a lead that is bent over an edge or a post wears through.",
	Need:     "Slot length: strap width and 2 mm, or the need that the build gives. Slot width: strap thickness and 0.5 mm. Strap length: twice the width and height of the pack with pad and plate, and 60 mm of overlap, from the lengths that are sold. Under another plate the pack's figure for swelling, 2 mm if it has none. At the lead end its lead room, free.",
	How:      "Slots of the plate as drawn and as far as the cutter is off, against the strap; the pack's girth against the lengths sold; the height from the pack, wherever it creeps to, to a plate over it; the lead room against every hard body that is not the pack's own; in mm.",
	Fix:      "Longer slots, a narrower or longer strap, longer posts, or another shape of pack.",
	Run:      runStrapAndSlot,
}

func runStrapAndSlot(p *Pass) {
	told := len(p.findings)
	for _, pack := range p.Asm.Packs {
		if pack.Strap != nil && pack.Strap.Strap != nil {
			for i := range pack.SlotHoles {
				if i == 0 || !sameSlot(&pack.SlotHoles[i], &pack.SlotHoles[0]) {
					p.slot(pack, &pack.SlotHoles[i])
				}
			}
			p.strapLength(pack)
		}
		p.bay(pack)
		p.leadRoom(pack)
	}
	switch {
	case len(p.Asm.Packs) == 0:
		p.Nothing("the build has no battery")
	case len(p.findings) == told:
		p.Nothing("no battery is said to be held by a strap, has a plate over it or says where its leads are")
	}
}

func sameSlot(a, b *layout.Hole) bool {
	return a.Diameter == b.Diameter && math.Abs(a.Length-b.Length) < 1e-9
}

// slot judges one slot, or round hole, that a strap goes through.
func (p *Pass) slot(pack *layout.Pack, h *layout.Hole) {
	strap := pack.Strap.Strap
	at := lift(h.At, pack.Base.Nominal())
	f := layout.Finding{Subjects: []string{pack.ID}, Pos: h.Pos, HasPlace: true, A: at, B: at, Near: "slot " + h.Name}
	wide := known(h.Diameter, h.Name+" width")
	long := layout.Fixed(h.Length)
	if h.Length <= 0 {
		long = layout.Of(wide)
	}
	for _, pl := range p.Asm.Plates {
		if hasHole(pl, h.Name) {
			f.Subjects = []string{pl.ID, pack.ID}
			if h.Length > 0 && pl.HoleTol != nil {
				long = long.Plus(pl.HoleTol, 1).Shift(-pl.HoleTol.Value)
			}
		}
	}
	width, thick := known(strap.Width, pack.Strap.Name+" width"), known(strap.Thickness, pack.Strap.Name+" thickness")
	g := f.Judge(long.Plus(width, -1), p.Need(slotMore))
	g.Message = fmt.Sprintf("slot %s is %s long for a strap %s wide, %s more needed", h.Name, mm(long.Nominal()), mm(width.Value), mm(g.Needed))
	if mustMend(&g) {
		g.Fix = fmt.Sprintf("make the slot %s long", mm(up(long.Nominal()-g.Worst, 0.1)))
		if narrow := down(width.Value+g.Worst, 1); narrow >= 5 {
			g.Fix += fmt.Sprintf(", or take a strap of %s", mm(narrow))
		}
	} else {
		g.Fix = unknownFix(&g)
	}
	p.Report(g)
	g = f.Judge(layout.Of(wide).Plus(thick, -1), layout.Fixed(slotThick))
	g.Message = fmt.Sprintf("slot %s is %s wide for a strap %s thick, %s more needed", h.Name, mm(wide.Value), mm(thick.Value), mm(g.Needed))
	if g.Verdict == layout.Unknown {
		g.Message = fmt.Sprintf("whether the strap goes through slot %s hangs on a dimension that is missing", h.Name)
	}
	if mustMend(&g) {
		g.Fix = fmt.Sprintf("make the slot %s wide", mm(up(wide.Value-g.Worst, 0.1)))
	} else {
		g.Fix = unknownFix(&g)
	}
	p.Report(g)
}

func hasHole(pl *layout.Plate, name string) bool {
	for i := range pl.Holes {
		if pl.Holes[i].Name == name {
			return true
		}
	}
	return false
}

// strapLength judges the lengths in which the strap is sold against the girth of pack,
// pad and the plate that it goes round.
func (p *Pass) strapLength(pack *layout.Pack) {
	body, strap := pack.Part.Body, pack.Strap.Strap
	if body == nil {
		return
	}
	width, height := known(body.Width, pack.Label+" width"), known(body.Height, pack.Label+" height")
	girth := layout.Fixed(strapOverlap).Plus(width, 2).Plus(height, 2)
	if pack.Cushion != nil {
		girth = girth.Plus(pack.Cushion, 2)
	}
	if pl := plateOf(p.Asm, pack.On); pl != nil {
		girth = girth.Plus(pl.Thickness, 2)
	}
	name := p.call(pack.ID)
	f := layout.Finding{Subjects: []string{pack.ID}, Pos: pack.Pos, Near: "round " + name}
	if len(strap.Lengths) == 0 {
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{known(nil, pack.Strap.Name+" lengths")}
		f.Message = fmt.Sprintf("round %s the strap takes %s with its overlap, and the lengths in which it is sold are missing", name, mm(girth.Nominal()))
		f.Fix = "say the `lengths:` of the strap"
		p.Report(f)
		return
	}
	_, most := girth.Worst()
	have, longest := 0.0, 0.0
	for _, l := range strap.Lengths {
		longest = math.Max(longest, l)
		if l >= most-1e-9 && (have == 0 || l < have) {
			have = l
		}
	}
	if have == 0 {
		have = longest
	}
	f = f.Judge(layout.Fixed(have), girth)
	f.Message = fmt.Sprintf("a strap of %s goes round %s, which takes %s with its overlap", mm(have), name, mm(f.Needed))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how long a strap goes round %s hangs on a dimension that is missing", name)
		f.Fix = unknownFix(&f)
	case mustMend(&f):
		f.Message = fmt.Sprintf("the longest strap sold, %s, goes round %s, which takes %s with its overlap", mm(have), name, mm(f.Needed))
		if f.Measured < f.Needed {
			f.Message = fmt.Sprintf("the longest strap sold, %s, does not go round %s, which takes %s with its overlap", mm(have), name, mm(f.Needed))
		}
		f.Fix = fmt.Sprintf("take a strap of %s or more, or a pack that is %s less round", mm(up(have-f.Worst, 10)), mm(up(-f.Worst, 1)))
	}
	p.Report(f)
}

// bay judges the height over a pack, or under one that hangs, to other plates.
func (p *Pass) bay(pack *layout.Pack) {
	body := pack.SweptBody
	if body == nil {
		body = pack.Body
	}
	if body == nil || pack.Body == nil {
		return
	}
	need := layout.Fixed(swellRoom)
	if q := pack.Part.Pack; q != nil && !isMissing(q.Swell) {
		need = layout.Of(q.Swell)
	}
	name := p.call(pack.ID)
	for _, pl := range p.Asm.Plates {
		gap := pl.Bottom.Sub(pack.Body.Top)
		beyond := pl.Top.Sub(pack.Body.Bottom)
		if pack.Below {
			gap, beyond = pack.Body.Bottom.Sub(pl.Top), pack.Body.Top.Sub(pl.Bottom)
		}
		if pl.ID == pack.On || beyond.Nominal() <= touch {
			continue
		}
		g := geom.DistanceSets(body.Plan, pl.Outline)
		if !(g.Dist < 0) {
			continue
		}
		at := common(body, plateBody(pl), g.A)
		f := layout.Finding{
			Subjects: []string{pack.ID, pl.ID}, Pos: pack.Pos, HasPlace: true, Near: "between " + name + " and " + p.call(pl.ID),
			A: lift(at, pack.Body.Top.Nominal()), B: lift(at, pl.Bottom.Nominal()),
		}
		if pack.Below {
			f.A, f.B = lift(at, pack.Body.Bottom.Nominal()), lift(at, pl.Top.Nominal())
		}
		f = f.Judge(gap, need)
		switch {
		case f.Verdict == layout.Unknown:
			f.Message = fmt.Sprintf("whether %s has room to swell towards %s hangs on a dimension that is missing", name, p.call(pl.ID))
		case f.Measured < 0:
			f.Message = fmt.Sprintf("%s runs %s into %s, %s of room to swell needed", name, mm(-f.Measured), p.call(pl.ID), mm(f.Needed))
		default:
			f.Message = fmt.Sprintf("%s has %s of room to %s, %s needed to swell", name, mm(f.Measured), p.call(pl.ID), mm(f.Needed))
		}
		if mustMend(&f) {
			f.Fix = fmt.Sprintf("put %s and %s %s further apart, or take a pack of another shape", name, p.call(pl.ID), mm(up(-f.Worst, 0.1)))
		} else {
			f.Fix = unknownFix(&f)
		}
		p.Report(f)
	}
}

// leadRoom judges the room that a pack's leads take at its end.
func (p *Pass) leadRoom(pack *layout.Pack) {
	var lead *layout.Body
	for _, b := range pack.Bodies {
		if b.Kind == layout.LeadBody {
			lead = b
		}
	}
	if lead == nil {
		return
	}
	name := p.call(pack.ID)
	base := layout.Finding{Subjects: []string{pack.ID}, Pos: pack.Pos, Near: "lead end of " + name}
	var worst worstOf
	var in *layout.Body
	for _, b := range p.Asm.Bodies {
		if b.Of == pack.ID || b.Of == pack.On || b.Soft || boundsApart(lead, b) > exitTold {
			continue
		}
		all := separations(lead, b)
		m := greatest(all)
		if math.IsInf(m.worst, 1) || m.form.Nominal() > exitTold {
			continue
		}
		f := base
		f.Subjects = []string{pack.ID, b.Of}
		f, _ = judged(f, all, func(bool) layout.Form { return layout.Form{} })
		if worst.add(f) {
			in = b
		}
	}
	f := worst.f
	if in == nil {
		f = base
		f.Verdict = layout.OK
		if missing := lead.Blur.Missing(); len(missing) > 0 {
			f.Verdict, f.Missing = layout.Unknown, missing
		}
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether the leads of %s have room hangs on a dimension that is missing", name)
	case in == nil:
		f.Message = fmt.Sprintf("the leads of %s have nothing within %s of their room", name, mm(exitTold))
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s stands %s into the room for the leads of %s", p.piece(in), mm(-f.Measured), name)
	default:
		f.Message = fmt.Sprintf("the room for the leads of %s ends %s from %s", name, mm(f.Measured), p.piece(in))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move %s or %s %s, or let the leads leave at another end", name, p.call(in.Of), mm(up(-f.Worst, 0.1)))
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
}
