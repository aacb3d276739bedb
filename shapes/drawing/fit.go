package drawing

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// parametric gives the point and the derivative of a smooth curve.
type parametric func(t float64) (p, d r2.Point)

// fitter replaces a smooth curve by biarcs: two arcs that leave one end and reach the other
// along the curve's own directions and meet in a common tangent. A span whose biarc lies
// too far off is halved. The error of a biarc falls with the third power of its length, so
// few halvings do.
type fitter struct {
	f       parametric
	tol     float64 // accepted distance at the samples
	samples int     // between the ends of a span
	out     func(geom.Seg) bool
}

// maxHalvings bounds how often one span is halved: 2^-16 of a curve is far below any
// tolerance unless the curve is not smooth.
const maxHalvings = 16

// fitArcs gives lines and arcs that stay within tol of the curve from t0 to t1, end at its
// ends exactly, and follow each other tangentially. degree is that of the curve; it sets
// how closely it is sampled. It returns false as soon as out does.
//
// The distance is measured from 2·degree+1 points of each span to the arcs and held under
// half of tol, so that what lies between the points stays under tol: a span that passes
// turns by less than the arcs do, 240°, and has no room for more swings than its degree.
func fitArcs(f parametric, t0, t1 float64, degree int, tol float64, out func(geom.Seg) bool) bool {
	b := fitter{f: f, tol: tol / 2, samples: 2*degree + 1, out: out}
	a, z := b.end(t0, t1), b.end(t1, t0)
	return b.span(t0, t1, a, z, 0)
}

// fitEnd is a point of the curve with the unit direction of travel there.
type fitEnd struct{ p, u r2.Point }

// end returns the curve at t. Where its derivative vanishes the direction is that of a
// short chord into the span towards other.
func (b *fitter) end(t, other float64) fitEnd {
	p, d := b.f(t)
	if n := d.Norm(); n*math.Abs(other-t) > 1e-7 {
		return fitEnd{p, d.Mul(1 / n)}
	}
	for h := 1e-4; h <= 1; h *= 10 {
		q, _ := b.f(t + (other-t)*h)
		v := q.Sub(p)
		if other < t {
			v = v.Mul(-1)
		}
		if n := v.Norm(); n > 1e-9 {
			return fitEnd{p, v.Mul(1 / n)}
		}
	}
	return fitEnd{p: p}
}

func (b *fitter) span(t0, t1 float64, a, z fitEnd, depth int) bool {
	if s, ok := b.straight(t0, t1, a, z); ok {
		return b.out(s)
	}
	if first, second, ok := biarc(a, z); ok && b.near(t0, t1, first, second) {
		return b.out(first) && b.out(second)
	}
	if depth == maxHalvings {
		return b.out(geom.Seg{A: a.p, B: z.p})
	}
	tm := t0 + (t1-t0)/2
	m := b.end(tm, t1)
	return b.span(t0, tm, a, m, depth+1) && b.span(tm, t1, m, z, depth+1)
}

// straight returns the chord if the whole span lies on it and runs forward.
func (b *fitter) straight(t0, t1 float64, a, z fitEnd) (geom.Seg, bool) {
	const off = 1e-7 // mm
	v := z.p.Sub(a.p)
	n := v.Norm()
	s := geom.Seg{A: a.p, B: z.p}
	if n < 1e-9 {
		// Nothing at all, or a closed curve: only the first is a point.
		for k := 1; k <= b.samples; k++ {
			p, _ := b.f(t0 + (t1-t0)*float64(k)/float64(b.samples+1))
			if p.Sub(a.p).Norm() > 1e-9 {
				return s, false
			}
		}
		return s, true
	}
	v = v.Mul(1 / n)
	last := 0.0
	for k := 1; k <= b.samples; k++ {
		p, _ := b.f(t0 + (t1-t0)*float64(k)/float64(b.samples+1))
		d := p.Sub(a.p)
		along := v.Dot(d)
		if math.Abs(v.Cross(d)) > off || along < last-off || along > n+off {
			return s, false
		}
		last = along
	}
	return s, true
}

func (b *fitter) near(t0, t1 float64, s1, s2 geom.Seg) bool {
	for k := 1; k <= b.samples; k++ {
		p, _ := b.f(t0 + (t1-t0)*float64(k)/float64(b.samples+1))
		if min(segDistance(s1, p), segDistance(s2, p)) > b.tol {
			return false
		}
	}
	return true
}

// biarc returns the two arcs from a to z whose tangent lengths at the ends are equal: with
// the chord v and the unit tangents u and w these lengths d satisfy
//
//	2d²(1 - u·w) + 2d·v·(u + w) - v² = 0,
//
// and the arcs meet half way between a + d·u and z - d·w. ok is false where there is no
// such pair, or where an arc would turn by more than 120°.
func biarc(a, z fitEnd) (first, second geom.Seg, ok bool) {
	v := z.p.Sub(a.p)
	v2 := v.Dot(v)
	vt := v.Dot(a.u.Add(z.u))
	k := 1 - a.u.Dot(z.u)
	var d float64
	if k < 1e-12 {
		d = v2 / (2 * vt)
	} else {
		// The positive root, without cancellation.
		root := math.Sqrt(float64(vt*vt) + 2*k*v2)
		if vt >= 0 {
			d = v2 / (vt + root)
		} else {
			d = (root - vt) / (2 * k)
		}
	}
	if !(d > 0) || math.IsInf(d, 0) {
		return first, second, false
	}
	m := a.p.Add(a.u.Mul(d)).Add(z.p.Sub(z.u.Mul(d))).Mul(0.5)
	b1, ok1 := tangentBulge(a.u, m.Sub(a.p))
	b2, ok2 := tangentBulge(z.u.Mul(-1), m.Sub(z.p))
	return geom.Seg{A: a.p, B: m, Bulge: b1}, geom.Seg{A: m, B: z.p, Bulge: -b2}, ok1 && ok2
}

// tangentBulge returns the bulge of the arc that leaves along the unit vector u over the
// chord v: the tangent of half the angle between them, which is a quarter of the sweep. ok
// is false beyond a sweep of 120°.
func tangentBulge(u, v r2.Point) (float64, bool) {
	n := v.Norm()
	if n < 1e-9 {
		return 0, false
	}
	sin, cos := u.Cross(v)/n, u.Dot(v)/n
	if cos < 0.5 {
		return 0, false
	}
	return sin / (1 + cos), true
}

// segDistance returns the distance of p from a line or arc.
func segDistance(s geom.Seg, p r2.Point) float64 {
	_, d := segNearest(s, p)
	return d
}

// segNearest returns the share of the length at which s is nearest to p, and the distance.
func segNearest(s geom.Seg, p r2.Point) (t, d float64) {
	_, t, d = s.Nearest(p)
	return t, d
}
