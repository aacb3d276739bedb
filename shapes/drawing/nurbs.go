package drawing

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// maxDegree is the highest degree of splines read; files hold 3, sometimes 2 or 5.
const maxDegree = 11

// nurbs is a rational B-spline: knots, and control points in homogeneous form, that is
// multiplied by their weights.
type nurbs struct {
	degree  int
	knots   []float64
	x, y, w []float64
}

// newNurbs returns the spline, or why it is none. weights may be empty: all 1.
func newNurbs(degree int, knots []float64, points []r2.Point, weights []float64) (*nurbs, string) {
	n := len(points)
	switch {
	case degree < 1 || degree > maxDegree:
		return nil, "of a degree that is not 1 to 11"
	case n <= degree:
		return nil, "with too few control points"
	case len(knots) != n+degree+1:
		return nil, "whose knots do not match its points"
	case len(weights) != 0 && len(weights) != n:
		return nil, "whose weights do not match its points"
	}
	for i := 1; i < len(knots); i++ {
		if !(knots[i] >= knots[i-1]) || !finite(knots[i]-knots[0]) {
			return nil, "whose knots do not ascend"
		}
	}
	if !(knots[degree] < knots[n]) {
		return nil, "without length"
	}
	s := &nurbs{degree: degree, knots: knots, x: make([]float64, n), y: make([]float64, n), w: make([]float64, n)}
	for i, p := range points {
		w := 1.0
		if len(weights) > 0 {
			w = weights[i]
		}
		if !(w > 0) || !finite(w) {
			return nil, "with a weight that is not positive"
		}
		s.x[i], s.y[i], s.w[i] = w*p.X, w*p.Y, w
	}
	return s, ""
}

func (s *nurbs) ok() bool {
	for i := range s.x {
		if !(math.Abs(s.x[i]) <= geom.MaxCoord*s.w[i] && math.Abs(s.y[i]) <= geom.MaxCoord*s.w[i]) {
			return false
		}
	}
	return true
}

func (s *nurbs) transform(m affine) *nurbs {
	out := &nurbs{degree: s.degree, knots: s.knots, x: make([]float64, len(s.x)), y: make([]float64, len(s.y)), w: s.w}
	for i := range s.x {
		out.x[i] = float64(m.a*s.x[i]) + float64(m.c*s.y[i]) + float64(m.e*s.w[i])
		out.y[i] = float64(m.b*s.x[i]) + float64(m.d*s.y[i]) + float64(m.f*s.w[i])
	}
	return out
}

// at returns the point and derivative at t, by the polynomial of the knot span k
// (knots[k] < knots[k+1]): de Boor's scheme on homogeneous coordinates, whose last step
// but one gives the derivative.
func (s *nurbs) at(k int, t float64) (p, d r2.Point) {
	var x, y, w [maxDegree + 1]float64
	n := s.degree
	copy(x[:], s.x[k-n:k+1])
	copy(y[:], s.y[k-n:k+1])
	copy(w[:], s.w[k-n:k+1])
	var dx, dy, dw float64
	for level := 1; level <= n; level++ {
		if level == n {
			g := float64(n) / (s.knots[k+1] - s.knots[k])
			dx, dy, dw = g*(x[n]-x[n-1]), g*(y[n]-y[n-1]), g*(w[n]-w[n-1])
		}
		for j := n; j >= level; j-- {
			i := k - n + j
			a := (t - s.knots[i]) / (s.knots[i+n-level+1] - s.knots[i])
			x[j] = float64((1-a)*x[j-1]) + float64(a*x[j])
			y[j] = float64((1-a)*y[j-1]) + float64(a*y[j])
			w[j] = float64((1-a)*w[j-1]) + float64(a*w[j])
		}
	}
	p = r2.Point{X: x[n] / w[n], Y: y[n] / w[n]}
	return p, r2.Point{X: (dx - float64(dw*p.X)) / w[n], Y: (dy - float64(dw*p.Y)) / w[n]}
}

// arcs gives the spline as lines and arcs, knot span by knot span.
func (s *nurbs) arcs(tol float64, out func(geom.Seg) bool) bool {
	least := 1e-12 * (s.knots[len(s.x)] - s.knots[s.degree])
	for k := s.degree; k < len(s.x); k++ {
		if !(s.knots[k+1]-s.knots[k] > least) {
			continue
		}
		f := func(t float64) (r2.Point, r2.Point) { return s.at(k, t) }
		if !fitArcs(f, s.knots[k], s.knots[k+1], s.degree, tol, out) {
			return false
		}
	}
	return true
}
