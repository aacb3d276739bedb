package rules

import (
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// clearance is how far apart two bodies are, with the places where they are nearest.
type clearance struct {
	// Form is the distance in mm, less everything that may close it. Negative: they
	// overlap by that much.
	Form layout.Form
	// A lies on the first body, B on the second. Where they overlap, moving the second by
	// the depth along Push (unit) parts them.
	A, B, Push r2.Point
	// Empty is true if either body has no outline: there is nothing to measure then.
	Empty bool
}

// planGap returns the distance between two bodies in plan, whatever their heights. Its
// terms are the sizes and positions that blur either outline; a position that both ride
// on (the float of the stack that carries both) moves both alike and drops out.
func planGap(a, b *layout.Body) clearance {
	g := geom.DistanceSets(a.Plan, b.Plan)
	if math.IsInf(g.Dist, 1) {
		return clearance{Empty: true}
	}
	return clearance{Form: narrowed(g.Dist, closing(a.Blur, a.Rides, b.Blur, b.Rides)), A: g.A, B: g.B, Push: g.Push}
}

// closing returns what may close the distance between two outlines: every term of both
// blurs, as a positive coefficient. Sizes that both share add up, motions that both
// ride on cancel.
func closing(a layout.Form, ridesA []*shapes.Dim, b layout.Form, ridesB []*shapes.Dim) layout.Form {
	var out layout.Form
	for _, t := range a.Terms {
		k := math.Abs(t.Coef)
		if holds(ridesA, t.Dim) && holds(ridesB, t.Dim) {
			k = math.Abs(k - math.Abs(coefOf(b, t.Dim)))
		}
		out = out.Plus(t.Dim, k)
	}
	for _, t := range b.Terms {
		if holds(ridesA, t.Dim) && holds(ridesB, t.Dim) && coefOf(a, t.Dim) != 0 {
			continue
		}
		out = out.Plus(t.Dim, math.Abs(t.Coef))
	}
	return out
}

// narrowed returns dist less the deviations of blur: sizes enter a blur with their full
// value, but the nominal outline holds that value already.
func narrowed(dist float64, blur layout.Form) layout.Form {
	return layout.Fixed(dist + blur.Nominal()).Sub(blur)
}

// deviation returns the form with its nominal value taken out, so that only the
// tolerances are left.
func deviation(f layout.Form) layout.Form { return f.Shift(-f.Nominal()) }

func coefOf(f layout.Form, d *shapes.Dim) float64 {
	for _, t := range f.Terms {
		if t.Dim == d {
			return t.Coef
		}
	}
	return 0
}

func holds(list []*shapes.Dim, d *shapes.Dim) bool {
	for _, e := range list {
		if e == d {
			return true
		}
	}
	return false
}

// edgeOf returns the boundary point of the regions that is nearest to p, how far it is,
// and whether p lies in one of them (then the distance is the least way out of that
// one). Empty regions: +Inf.
func edgeOf(regions []geom.Region, p r2.Point) (at r2.Point, dist float64, inside bool) {
	dist = math.Inf(1)
	for _, g := range regions {
		in := g.Contains(p)
		if inside && !in {
			continue
		}
		if in && !inside {
			inside, dist = true, math.Inf(1)
		}
		for l := range g.Loops() {
			if q, d := l.Nearest(p); d < dist {
				at, dist = q, d
			}
		}
	}
	return at, dist, inside
}

// heights returns the nominal height interval of a body.
func heights(b *layout.Body) r1.Interval {
	return r1.Interval{Lo: b.Bottom.Nominal(), Hi: b.Top.Nominal()}
}

// between returns a height at which to draw a measure that lies in plan: the middle of
// what both intervals share, or of the space between them.
func between(a, b r1.Interval) float64 {
	return (math.Max(a.Lo, b.Lo) + math.Min(a.Hi, b.Hi)) / 2
}

// lift puts a plan point at a height.
func lift(p r2.Point, z float64) r3.Vector { return r3.Vector{X: p.X, Y: p.Y, Z: z} }

// unit returns d with length 1, or fallback where d has no direction.
func unit(d, fallback r2.Point) r2.Point {
	n := d.Norm()
	if n < 1e-12 {
		return fallback
	}
	return d.Mul(1 / n)
}

// worse reports whether f should be told before g: the graver verdict, then the smaller
// margin.
func worse(f, g *layout.Finding) bool {
	if rf, rg := rank(f.Verdict), rank(g.Verdict); rf != rg {
		return rf < rg
	}
	return tidy(f.Margin) < tidy(g.Margin)
}

// tidy rounds to 1e-6, so that sums of the same figures in another order compare as
// equal on every machine.
func tidy(v float64) float64 { return math.Round(v * 1e6) }

// known returns d itself, or a missing dimension of that name where the part does not
// have it, so that a verdict which needs it becomes unknown and says which.
func known(d *shapes.Dim, name string) *shapes.Dim {
	if d != nil {
		return d
	}
	return &shapes.Dim{Name: name, Unit: shapes.MM, Missing: true}
}

// isMissing reports whether nobody gave the dimension.
func isMissing(d *shapes.Dim) bool { return d == nil || d.Missing }

// pointOf is a point seen from above.
func pointOf(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }
