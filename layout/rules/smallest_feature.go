package rules

import (
	"fmt"

	"dryfit/geom"
	"dryfit/layout"
)

// routedHole is how many times as wide as the cutter a hole must at least be for the
// cutter to go round in it. Narrower ones are drilled. A trade figure.
const routedHole = 1.15

var smallestFeature = &Rule{
	Name:     "smallest-feature",
	Group:    "plates",
	Question: "does the cutter get into every slot and cut-out",
	Why:      "What is narrower than the cutter is left out by the shop's program, often without a word, or comes out as wide as the cutter.",
	Need:     "Slots and cut-outs at least as wide as the cutter. Round holes of 1.15 times the cutter or more are cut by going round; smaller ones are drilled, which holds but must be known. Without `cutting:` in the build a cutter of 2 mm is taken. Trade figures.",
	How: "Drawn width of slots, diameter of the largest circle within a cut-out, in mm, against the cutter. A slit in the outer edge that is too narrow ends in a corner that is too " +
		"sharp, which inside-corner tells; webs are told by web-width. Printed parts are not judged. One finding a plate for what holds, one for holes to drill, and one for each entry that fails.",
	Fix: "Widen the slot, let it be drilled, or have it cut with a thinner cutter.",
	Run: runSmallestFeature,
}

func runSmallestFeature(p *Pass) {
	plates := p.fromSheet()
	var bad, held, drilled perPart
	for _, pl := range plates {
		list := p.openings(pl)
		count, widest := 0, 0.0
		for i := range list {
			o := &list[i]
			round := o.hole == nil && isRound(o.loop) || o.hole != nil && o.hole.Length <= 0
			width := o.width()
			if o.hole == nil && !round {
				width = inscribed(o.area)
			}
			if round && width < routedHole*p.Asm.Cutting.Cutter.Value-touch {
				count++
				widest = max(widest, width)
				continue
			}
			f := p.getsInto(pl, o, width, round)
			if f.Verdict == layout.OK {
				held.add(pl.Name, f)
			} else {
				bad.add(o.group, f)
			}
		}
		if count > 0 {
			drilled.add(pl.Name, p.toDrill(pl, count, widest))
		}
	}
	if len(bad.list)+len(held.list)+len(drilled.list) == 0 {
		if len(plates) == 0 {
			p.Nothing(noSheet)
		} else {
			p.Nothing("no plate has a hole or a cut-out")
		}
		return
	}
	bad.report(p)
	for i := range held.list {
		if !p.toldOf(held.parts[i], bad.list) {
			p.Report(held.list[i])
		}
	}
	for i := range drilled.list {
		p.Report(drilled.list[i])
	}
}

// toDrill tells how many holes of a plate are too small to be routed.
func (p *Pass) toDrill(pl *layout.Plate, count int, widest float64) layout.Finding {
	cutter := p.Asm.Cutting.Cutter
	what := fmt.Sprintf("%d holes of %s, %s across at most, are", count, p.plateName(pl), mm(widest))
	if count == 1 {
		what = fmt.Sprintf("one hole of %s, %s across, is", p.plateName(pl), mm(widest))
	}
	return layout.Finding{
		Subjects: []string{pl.ID}, Pos: pl.Pos, Verdict: layout.OK, Near: p.plateName(pl),
		Message: fmt.Sprintf("%s to be drilled: a cutter of %s goes round in holes of %s and more", what, mm(cutter.Value), mm(routedHole*cutter.Value)),
	}
}

// inscribed is the diameter of the largest circle within a region, within 1e-4 mm: twice
// the distance by which it can shrink before nothing is left.
func inscribed(g geom.Region) float64 {
	s := g.Bound().Size()
	in, out := 0.0, min(s.X, s.Y)/2
	for range 24 {
		mid := (in + out) / 2
		if got, err := geom.Offset([]geom.Region{g}, -mid); err == nil && len(got) > 0 {
			in = mid
		} else {
			out = mid
		}
	}
	return 2 * in
}

// getsInto judges one opening against the cutter.
func (p *Pass) getsInto(pl *layout.Plate, o *opening, width float64, round bool) layout.Finding {
	cutter := p.Asm.Cutting.Cutter
	at := lift(o.at(), pl.Top.Nominal())
	f := layout.Finding{Subjects: []string{pl.ID}, Pos: pl.Pos, HasPlace: true, A: at, B: at, Near: p.platePlace(pl, o.at())}
	if o.hole != nil {
		f.Pos = o.hole.Pos
	}
	need := layout.Of(cutter)
	if round {
		need = need.Scale(routedHole)
	}
	f = f.Judge(layout.Fixed(width), need)
	name := o.called()
	if o.hole == nil {
		name = fmt.Sprintf("a cut-out %s wide", mm(width))
	}
	f.Message = fmt.Sprintf("a cutter of %s gets into %s of %s, which may be no narrower than %s", mm(cutter.Value), name, p.plateName(pl), mm(f.Needed))
	if round {
		f.Message = fmt.Sprintf("a cutter of %s goes round in %s of %s, as in all of %s or more", mm(cutter.Value), name, p.plateName(pl), mm(f.Needed))
	}
	if f.Margin < 0 {
		f.Message = fmt.Sprintf("a cutter of %s does not get into %s of %s", mm(cutter.Value), name, p.plateName(pl))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("make it %s wide or more, or have it cut with a cutter of %s", mm(up(width-f.Worst, 0.05)), mm(down(width, 0.1)))
	}
	return f
}
