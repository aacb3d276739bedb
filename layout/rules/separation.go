package rules

import (
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
)

// apart is how far two bodies are from each other in space, with its uncertainty.
type apart struct {
	form  layout.Form // mm; negative: they overlap and the least move out is so long
	a, b  r3.Vector   // the two nearest points
	worst float64
	over  bool      // measured up and down, one over the other
	way   r3.Vector // unit: from a to b; where they overlap, the way that b has to go
}

// separation measures two bodies in space. It never says more than the true distance:
//
//   - where heights overlap, the distance in plan;
//   - where plans overlap, the distance in height, a difference of forms in which shared
//     dimensions cancel;
//   - where neither does, the greater of the two (the true distance is longer still);
//   - where both do, the shorter way out;
//   - tilted bodies by their solid, with both blurs in plan taken off as far as the line
//     between the nearest points is level.
//
// A body without outline is infinitely far from everything.
func separation(a, b *layout.Body) apart { return greatest(separations(a, b)) }

// greatest returns the separation that says most.
func greatest(all []apart) apart {
	out := all[0]
	for _, m := range all[1:] {
		// Of two separations the greater counts; of two overlaps the lesser depth does: both
		// are the greater signed number.
		if m.form.Nominal() > out.form.Nominal() {
			out = m
		}
	}
	return out
}

// deepest stands for the depth in plan of things that lie over each other. A height that
// holds at worst case says more than any overlap, so how deep that is does not matter and
// is not looked for, which costs most.
const deepest = -1e6

// separations returns what separation chooses from: of two upright bodies the distance in
// plan and that in height. It is enough for two bodies to be apart that one of them is.
func separations(a, b *layout.Body) []apart {
	if a.Tilted != nil || b.Tilted != nil {
		return []apart{solidSeparation(a, b)}
	}
	tall := apart{over: true, way: r3.Vector{Z: 1}}
	zl, zh := a.Top.Nominal(), b.Bottom.Nominal()
	if low, high := a.Bottom.Nominal(), b.Top.Nominal(); low-high > zh-zl {
		tall.form, tall.way.Z = a.Bottom.Sub(b.Top), -1
		zl, zh = low, high
	} else {
		tall.form = b.Bottom.Sub(a.Top)
	}
	tall.worst, _ = tall.form.Worst()
	if tall.worst >= 0 && len(tall.form.Missing()) == 0 {
		if at, ok := meetInPlan(a.Plan, b.Plan); ok {
			at = common(a, b, at)
			tall.a, tall.b = lift(at, zl), lift(at, zh)
			return []apart{{form: layout.Fixed(deepest), worst: deepest, a: tall.a, b: tall.b}, tall}
		}
	}
	p := measurePlan(a, b)
	if p.gap.Empty {
		return []apart{{form: layout.Fixed(math.Inf(1)), worst: math.Inf(1)}}
	}
	flat := apart{form: p.gap.Form, worst: p.worst, way: r3.Vector{X: p.gap.Push.X, Y: p.gap.Push.Y}}
	flat.a, flat.b = p.points()
	at := p.gap.A.Add(p.gap.B).Mul(0.5)
	if flat.form.Nominal() < 0 && tall.form.Nominal() > flat.form.Nominal() {
		at = common(a, b, p.gap.A)
	}
	tall.a, tall.b = lift(at, zl), lift(at, zh)
	return []apart{flat, tall}
}

// judged judges two bodies by the separation that says most for them: either of the two
// keeps them apart. What each needs depends on whether one lies over the other.
func judged(base layout.Finding, all []apart, need func(over bool) layout.Form) (f layout.Finding, m apart) {
	merit := func(f *layout.Finding) int {
		switch f.Verdict {
		case layout.OK:
			return 3
		case layout.Tight:
			return 2
		case layout.Unknown:
			return 1
		}
		return 0
	}
	for i, s := range all {
		g := base
		g.HasPlace, g.A, g.B = true, s.a, s.b
		g = g.Judge(s.form, need(s.over))
		better := i == 0 || merit(&g) > merit(&f)
		if i > 0 && merit(&g) == merit(&f) {
			better = tidy(g.Margin) > tidy(f.Margin)
			if g.Verdict == layout.OK || g.Verdict == layout.Tight {
				better = tidy(g.Worst) > tidy(f.Worst)
			}
		}
		if better {
			f, m = g, s
		}
	}
	return f, m
}

// common returns a point in both plans, for marking where one body lies over another:
// the middle of what their boxes share if that lies in both, else the middle of the
// larger piece that they share, or the fallback.
func common(a, b *layout.Body, fallback r2.Point) r2.Point {
	if at, ok := middleOf(a.Plan, b.Plan); ok {
		return at
	}
	both, err := geom.Intersection(a.Plan, b.Plan)
	if err != nil {
		return fallback
	}
	best, at := 0.0, fallback
	for _, r := range both {
		if s := r.Area(); s > best {
			best = s
			at = r.Moments().Centroid
			if !r.Contains(at) {
				at = r.Outer.Vertex(0).P
			}
		}
	}
	return at
}

func solidSeparation(a, b *layout.Body) apart {
	g := geom.DistanceBodies(solid(a), solid(b))
	if math.IsInf(g.Dist, 1) {
		return apart{form: layout.Fixed(math.Inf(1)), worst: math.Inf(1)}
	}
	// Heights blur the distance by as much as the line between the nearest points is
	// steep, outlines and places in plan by as much as it is level. The latter holds for
	// convex bodies, which a plane across that line parts; others may come nearer
	// elsewhere, so that all of their blur counts.
	way := g.Push
	steep, level := way.Z, 1.0
	if convex(a) && convex(b) {
		level = math.Hypot(way.X, way.Y)
	}
	flat := narrowed(0, closing(a.Blur, a.Rides, b.Blur, b.Rides))
	form := layout.Fixed(g.Dist).Add(flat.Scale(level))
	if steep > 0 {
		form = form.Add(deviation(b.Bottom.Sub(a.Top)).Scale(steep))
	} else if steep < 0 {
		form = form.Add(deviation(a.Bottom.Sub(b.Top)).Scale(-steep))
	}
	w, _ := form.Worst()
	return apart{form: form, a: g.A, b: g.B, worst: w, way: way}
}

// middleOf returns the middle of what the boxes of two plans share, if it lies in both.
func middleOf(a, b []geom.Region) (at r2.Point, ok bool) {
	p, q := boundsOf(a), boundsOf(b)
	lo := r2.Point{X: math.Max(p.Lo.X, q.Lo.X), Y: math.Max(p.Lo.Y, q.Lo.Y)}
	hi := r2.Point{X: math.Min(p.Hi.X, q.Hi.X), Y: math.Min(p.Hi.Y, q.Hi.Y)}
	at = lo.Add(hi).Mul(0.5)
	holds := func(list []geom.Region) bool {
		for _, g := range list {
			if g.Contains(at) {
				return true
			}
		}
		return false
	}
	return at, lo.X <= hi.X && lo.Y <= hi.Y && holds(a) && holds(b)
}

func boundsOf(list []geom.Region) geom.Rect {
	box := geom.EmptyRect()
	for _, g := range list {
		box = box.Union(g.Bound())
	}
	return box
}

// convex reports whether a body is a tilted one, which are convex, or an upright one on a
// convex plan.
func convex(b *layout.Body) bool {
	return b.Tilted != nil || len(b.Plan) == 1 && len(b.Plan[0].Holes) == 0 && b.Plan[0].Outer.IsConvex()
}

// solid returns the nominal body for the geometry engine.
func solid(b *layout.Body) geom.Body {
	if b.Tilted != nil {
		return *b.Tilted
	}
	return geom.Upright{Plan: b.Plan, Z: r1.Interval{Lo: b.Bottom.Nominal(), Hi: b.Top.Nominal()}}
}
