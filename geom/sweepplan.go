package geom

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// slidePlan returns the plan swept along v: the plan at both ends, and what each piece of
// its boundary sweeps. A line sweeps a parallelogram; an arc, cut where it runs along v,
// sweeps a strip with one arc for a front and the same for a back. All is exact.
func slidePlan(plan []Region, v r2.Point) ([]Region, error) {
	end := make([]Region, 0, len(plan))
	var strips []Region
	for _, r := range plan {
		end = append(end, r.Transform(Pose2{Shift: v}))
		for l := range r.Loops() {
			for _, s := range l.Segs() {
				for _, s := range cutAlong(s, v) {
					strip, err := NewLoop([]Vertex{
						{P: s.A, Bulge: s.Bulge}, {P: s.B}, {P: s.B.Add(v), Bulge: -s.Bulge}, {P: s.A.Add(v)},
					})
					if err != nil || math.Abs(strip.Area()) <= Coincident*v.Norm() {
						continue // it runs along v and sweeps nothing
					}
					strips = append(strips, RegionOf(strip))
				}
			}
		}
	}
	return UnionAll(plan, end, strips)
}

// cutAlong cuts an arc where its tangent is parallel to v.
func cutAlong(s Seg, v r2.Point) []Seg {
	if !s.IsArc() {
		return []Seg{s}
	}
	c, sweep := s.Center(), float64(s.Sweep())
	start := math.Atan2(s.A.Y-c.Y, s.A.X-c.X)
	at := []float64{0, 1}
	// The radius is square to v at these angles.
	for _, n := range [2]float64{math.Atan2(v.X, -v.Y), math.Atan2(-v.X, v.Y)} {
		for turn := -2.0; turn <= 2; turn++ {
			if t := (n + turn*2*math.Pi - start) / sweep; t > 1e-9 && t < 1-1e-9 {
				at = append(at, t)
			}
		}
	}
	slices.Sort(at)
	out := make([]Seg, 0, len(at)-1)
	for i := 1; i < len(at); i++ {
		out = append(out, Seg{A: s.At(at[i-1]), B: s.At(at[i]), Bulge: math.Tan((at[i] - at[i-1]) * sweep / 4)})
	}
	return out
}

// slideParts covers the sweep of an upright body on a slope: the plan, its arcs replaced
// by chords within tol/2, is cut into trapezia, and the slide of the prism over each is
// grown by tol/2. Chords of outward arcs lie within the plan, by at most tol/2, which the
// growth makes good; chords of inward arcs lie outside by at most tol/2.
func slideParts(u Upright, along r3.Vector, tol float64) ([]Body, error) {
	if !(tol >= 1e-6 && tol <= MaxCoord) {
		return nil, fmt.Errorf("geom: slide: tolerance %g mm is less than 1e-6", tol)
	}
	var out []Body
	for _, r := range u.Plan {
		for _, quad := range trapezia(r, tol/2) {
			points := make([]r3.Vector, 0, 8)
			for _, p := range quad {
				points = append(points, r3.Vector{X: p.X, Y: p.Y, Z: u.Z.Lo}, r3.Vector{X: p.X, Y: p.Y, Z: u.Z.Hi})
			}
			c, err := NewHull(points)
			if err == nil {
				c, err = c.slide(along)
			}
			if err == nil {
				c, err = c.Grow(tol / 2)
			}
			if err != nil {
				return nil, err
			}
			out = append(out, c)
		}
	}
	return out, nil
}

// trapezia cuts a region, its arcs replaced by chords, along upright lines through all
// its corners into trapezia with two upright sides. Neighbours between the same two edges
// are one.
func trapezia(r Region, tol float64) [][4]r2.Point {
	type edge struct{ a, b r2.Point } // a left of b
	var edges []edge
	var xs []float64
	for l := range r.Loops() {
		p := l.Flatten(tol)
		for i := range p {
			a, b := p[i], p[(i+1)%len(p)]
			xs = append(xs, a.X)
			if a.X > b.X {
				a, b = b, a
			}
			if a.X < b.X {
				edges = append(edges, edge{a, b})
			}
		}
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	y := func(e *edge, x float64) float64 { return e.a.Y + (e.b.Y-e.a.Y)*((x-e.a.X)/(e.b.X-e.a.X)) }
	type open struct {
		low, high int
		from      float64
	}
	var live []open
	var out [][4]r2.Point
	closeAt := func(o open, x float64) {
		l, h := &edges[o.low], &edges[o.high]
		out = append(out, [4]r2.Point{
			{X: o.from, Y: y(l, o.from)}, {X: x, Y: y(l, x)}, {X: x, Y: y(h, x)}, {X: o.from, Y: y(h, o.from)},
		})
	}
	for i := 0; i+1 < len(xs); i++ {
		if xs[i+1]-xs[i] <= Coincident {
			continue // too narrow to tell the order of the edges; the growth covers it
		}
		mid := xs[i] + (xs[i+1]-xs[i])/2
		var cross []int
		for k := range edges {
			if edges[k].a.X < mid && mid < edges[k].b.X {
				cross = append(cross, k)
			}
		}
		slices.SortStableFunc(cross, func(p, q int) int {
			switch a, b := y(&edges[p], mid), y(&edges[q], mid); {
			case a < b:
				return -1
			case a > b:
				return 1
			}
			return 0
		})
		var next []open
		for k := 0; k+1 < len(cross); k += 2 {
			o := open{cross[k], cross[k+1], xs[i]}
			if j := slices.IndexFunc(live, func(q open) bool { return q.low == o.low && q.high == o.high }); j >= 0 {
				o.from = live[j].from
				live = slices.Delete(live, j, j+1)
			}
			next = append(next, o)
		}
		for _, o := range live {
			closeAt(o, xs[i])
		}
		live = next
	}
	for _, o := range live {
		closeAt(o, xs[len(xs)-1])
	}
	return out
}
