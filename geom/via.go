package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// viaStarts is from how many places along an arc the shortest way over it is looked for: the
// sum of two distances has at most a few minima on a circle.
const viaStarts = 8

// Via returns the point of the edge by way of which it is shortest from a to b. On a line
// that is where the line from a to b crosses it, or with b mirrored in it if both lie on one
// side (Heron), or the nearer end of the edge.
//
// On an arc it is the first crossing too. Without one it is found by halving steps, from
// the best of nine places and from those nearest to a and to b, down to 1e-3 mm along it:
// the way is longer than the shortest by 2e-3 mm at most, and that only where a or b lies
// that near to the arc. The point is off the arc by 2^-50 of its radius at most. An edge
// without length gives its end A.
func (e *Edge) Via(a, b r2.Point) r2.Point {
	if e.Arc {
		return e.viaArc(a, b)
	}
	s := e.Seg
	u := s.B.Sub(s.A)
	n := u.Norm()
	if n <= Coincident {
		return s.A
	}
	u = u.Mul(1 / n)
	p, q := a.Sub(s.A), b.Sub(s.A)
	off := func(v r2.Point) float64 { return math.Abs(float64(u.X*v.Y) - float64(u.Y*v.X)) }
	sa, sb := off(p), off(q)
	ta, tb := u.Dot(p), u.Dot(q)
	t := (ta + tb) / 2
	if sa+sb > Coincident {
		t = ta + (tb-ta)*sa/(sa+sb)
	}
	return s.A.Add(u.Mul(max(0, min(n, t))))
}

func (e *Edge) viaArc(a, b r2.Point) r2.Point {
	// Where the straight line crosses it, no way is shorter.
	var both [2]r2.Point
	for _, q := range lineMeetsCircle(both[:0], a, b.Sub(a), e.Center, e.Radius) {
		d := b.Sub(a)
		t := q.Sub(a).Dot(d)
		if share, _ := e.Share(q); share >= 0 && share <= 1 && t >= 0 && t <= d.Dot(d) {
			return q
		}
	}
	c, r, sweep := e.Center, e.Radius, e.Seg.Sweep().Radians()
	from := math.Atan2(e.Seg.A.Y-c.Y, e.Seg.A.X-c.X)
	place := func(t float64) r2.Point {
		sin, cos := math.Sincos(from + t*sweep)
		return r2.Point{X: c.X + r*cos, Y: c.Y + r*sin}
	}
	sum := func(t float64) float64 {
		q := place(t)
		return math.Sqrt((q.X-a.X)*(q.X-a.X)+(q.Y-a.Y)*(q.Y-a.Y)) + math.Sqrt((q.X-b.X)*(q.X-b.X)+(q.Y-b.Y)*(q.Y-b.Y))
	}
	first, least := 0.0, math.Inf(1)
	for i := range viaStarts + 1 {
		if x := sum(float64(i) / viaStarts); x < least {
			first, least = float64(i)/viaStarts, x
		}
	}
	// Near a and b the sum has dips that may be narrower than the steps.
	nearA, _ := e.Nearest(a)
	nearB, _ := e.Nearest(b)
	best := first
	for _, t := range [3]float64{first, nearA, nearB} {
		here := sum(t)
		for h := 0.5 / viaStarts; h*math.Abs(sweep)*r > 1e-3; h /= 2 {
			for _, d := range [2]float64{h, -h} {
				if k := max(0, min(1, t+d)); k != t {
					if x := sum(k); x < here {
						t, here = k, x
					}
				}
			}
		}
		if here < least {
			best, least = t, here
		}
	}
	return place(best)
}
