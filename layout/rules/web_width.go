package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Trade figures for the least web between two holes, edge to edge, mm.
const (
	leastWeb      = 1.5  // and
	webShare      = 0.75 // of the thickness, whichever is more
	smallPadWeb   = 1.0  // screw hole to centre hole on pads for M1.4 to M2
	largePadWeb   = 1.5  // the same from M2.5
	smallPadScrew = 2.0  // up to this screw a pad is small
)

var webWidth = &Rule{
	Name:     "web-width",
	Group:    "plates",
	Question: "is enough plate left between holes, cut-outs and edges of arms",
	Why: "Thin webs crack: an arm's tip between its screw holes and the centre hole, a base plate between its bolts while the arm holds; " +
		"and a web that trembles under the cutter comes out ragged.",
	Need: "Between two openings 1.5 mm or 0.75 of the thickness, whichever is more; between a motor's screw hole and the hole under its shaft " +
		"1.0 mm on pads for M1.4 to M2, 1.5 mm above. No place of the outline itself narrower than that of two openings. Trade figures.",
	How: "Edge to edge in plan, in mm, less what diameter, place and cut may take. Openings that lie in each other by more than half of the narrower " +
		"one are one opening on purpose, if no screw goes through either; others that cross leave a negative web. One finding a plate tells its least web; every pair of " +
		"hole entries that does not hold is told too. How narrow an outline is, is found by shrinking it until it falls apart. Printed parts are not judged.",
	Fix: "Move a hole, take a smaller one, or a wider or (where the centre hole is close) thicker plate.",
	Run: runWebWidth,
}

func runWebWidth(p *Pass) {
	plates := p.fromSheet()
	var done []string
	for _, pl := range plates {
		if hasWord(done, pl.Name) {
			continue
		}
		done = append(done, pl.Name)
		var copies []*layout.Plate
		for _, q := range plates {
			if q.Name == pl.Name {
				copies = append(copies, q)
			}
		}
		p.websOf(copies)
	}
	if len(p.findings) == 0 {
		why := "no plate has two openings or a narrow place"
		if len(plates) == 0 {
			why = noSheet
		}
		p.Nothing("%s", why)
	}
}

// websOf judges the webs of a plate, or of all copies of an arm plate. All that does not
// hold is told once a pair of entries; of what holds the least.
func (p *Pass) websOf(copies []*layout.Plate) {
	var bad perPart
	var least worstOf
	for _, pl := range copies {
		list := p.openings(pl)
		for i := range list {
			for k := i + 1; k < len(list); k++ {
				f, ok := p.web(pl, &list[i], &list[k], &least)
				if !ok {
					continue
				}
				if f.Verdict == layout.OK {
					least.add(f)
				} else {
					bad.add(list[i].group+" "+list[k].group, f)
				}
			}
		}
		if f, ok := p.neck(pl); ok {
			if f.Verdict == layout.OK {
				least.add(f)
			} else {
				bad.add("neck", f)
			}
		}
	}
	bad.report(p)
	if len(bad.list) == 0 && least.found {
		p.Report(least.f)
	}
}

// webNeed is the least web between two openings.
func (p *Pass) webNeed(pl *layout.Plate, a, b *opening) layout.Form {
	ra, axisA := p.motorAt(pl, a)
	rb, axisB := p.motorAt(pl, b)
	if ra != nil && ra == rb && axisA != axisB {
		screw := a
		if axisA {
			screw = b
		}
		if screw.hole != nil && p.screwIn(pl, screw.hole) <= smallPadScrew {
			return p.Need(smallPadWeb)
		}
		return p.Need(largePadWeb)
	}
	return p.openNeed(pl)
}

// openNeed is the least web of a plate where nothing special is near.
func (p *Pass) openNeed(pl *layout.Plate) layout.Form {
	if _, own := p.Asm.Needs[p.Rule.Name]; !own && pl.Thickness != nil && (isMissing(pl.Thickness) || webShare*pl.Thickness.Value > leastWeb) {
		return layout.Of(pl.Thickness).Scale(webShare)
	}
	return p.Need(leastWeb)
}

// web judges what is left between two openings; ok is false where they are one on purpose,
// or so far apart that the pair cannot be the least.
func (p *Pass) web(pl *layout.Plate, a, b *opening, least *worstOf) (f layout.Finding, ok bool) {
	need := p.webNeed(pl, a, b)
	_, most := a.edge.Add(b.edge).Worst()
	_, mostNeed := need.Worst()
	if apart := a.loop.Bound().Distance(b.loop.Bound()); apart-most > mostNeed && least.found && apart-need.Nominal() > least.f.Margin {
		return f, false
	}
	g := gapOf(a, b)
	if g.Dist < -math.Min(a.width(), b.width())/2+1e-9 && !p.fastens(pl, a) && !p.fastens(pl, b) {
		return f, false
	}
	f = layout.Finding{
		Subjects: []string{pl.ID}, Pos: pl.Pos, HasPlace: true,
		A: lift(g.A, pl.Top.Nominal()), B: lift(g.B, pl.Top.Nominal()), Near: p.platePlace(pl, middle(g.A, g.B)),
	}
	move := b
	switch {
	case a.hole != nil && (b.hole == nil || p.screwIn(pl, b.hole) > 0 && p.screwIn(pl, a.hole) == 0):
		move = a
	case b.hole == nil:
		move = a
	}
	if move.hole != nil {
		f.Pos = move.hole.Pos
	}
	f = f.Judge(layout.Fixed(g.Dist).Sub(a.edge).Sub(b.edge), need)
	f.Message = fmt.Sprintf("%s of %s is left between %s and %s, %s needed", mm(f.Measured), p.plateName(pl), a.called(), b.called(), mm(f.Needed))
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s and %s of %s cross by %s, and %s of web is needed between them", a.called(), b.called(), p.plateName(pl), mm(-f.Measured), mm(f.Needed))
	}
	switch {
	case mustMend(&f):
		f.Fix = fmt.Sprintf("move %s %s away, or make the two together %s narrower across", move.called(), mm(up(-f.Worst, 0.05)), mm(up(-2*f.Worst, 0.1)))
		if _, axis := p.motorAt(pl, move); axis {
			f.Fix = fmt.Sprintf("make %s %s or less", move.called(), mm(down(move.width()+2*f.Worst, 0.1)))
		} else if f.Measured < 0 {
			f.Fix = fmt.Sprintf("move %s %s away", move.called(), mm(up(-f.Worst, 0.05)))
		}
	default:
		f.Fix = unknownFix(&f)
	}
	return f, true
}

// neck judges the narrowest place of a plate's outline, holes left out; ok is false where
// it is wide enough to be no question, or has no narrow place at all.
func (p *Pass) neck(pl *layout.Plate) (f layout.Finding, ok bool) {
	if len(pl.Solid) != 1 {
		return f, false
	}
	need := p.openNeed(pl)
	cut := layout.Form{}
	if pl.CutTol != nil {
		cut = deviation(layout.Of(pl.CutTol)).Scale(2)
	}
	_, most := need.Worst()
	lo, _ := cut.Worst()
	body := []geom.Region{geom.RegionOf(pl.Solid[0].Outer)}
	apart := func(width float64) []geom.Region {
		got, err := geom.Offset(body, -width/2)
		if err != nil {
			return body
		}
		return got
	}
	if len(apart(most-lo)) == 1 {
		return f, false
	}
	// The neck is as wide as the least width by which the outline falls apart.
	in, out := 0.0, most-lo
	for range 20 {
		mid := (in + out) / 2
		if len(apart(mid)) == 1 {
			in = mid
		} else {
			out = mid
		}
	}
	at := pl.Solid[0].Bound().Center()
	if pieces := apart(out); len(pieces) > 1 {
		g := geom.Distance(pieces[0], pieces[1])
		at = middle(g.A, g.B)
	}
	f = layout.Finding{
		Subjects: []string{pl.ID}, Pos: pl.Pos, HasPlace: true,
		A: lift(at, pl.Top.Nominal()), B: lift(at, pl.Top.Nominal()), Near: p.platePlace(pl, at),
	}
	f = f.Judge(layout.Fixed(out).Sub(cut), need)
	f.Message = fmt.Sprintf("the outline of %s is %s wide at its narrowest, %s needed", p.plateName(pl), mm(f.Measured), mm(f.Needed))
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("make it %s wider there", mm(up(-f.Worst, 0.1)))
	} else {
		f.Fix = unknownFix(&f)
	}
	return f, true
}

// middle is the point between two.
func middle(a, b r2.Point) r2.Point { return a.Add(b).Mul(0.5) }
