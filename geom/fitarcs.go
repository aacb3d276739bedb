package geom

import (
	"iter"
	"math"

	"github.com/golang/geo/r2"
)

// A Curve gives the point of a smooth curve at a parameter, in mm, and the derivative
// by the parameter there.
type Curve func(t float64) (p, d r2.Point)

// maxHalvings bounds how often one span is halved: 2^-16 of a curve is far below any
// tolerance unless the curve is not smooth.
const maxHalvings = 16

// FitArcs yields lines and arcs that stay within tol mm of the curve from the parameter t0 to t1. They begin
// and end at the curve's own ends exactly, each begins where the last one ended, and they follow each
// other tangentially wherever the curve has a tangent. t1 may be less than t0.
//
// A span is replaced by a biarc, which is two arcs that leave one end and reach the other
// along the curve's own directions and meet in a common tangent (Bolton, Biarc curves,
// Computer-Aided Design 7, 1975; here with equal tangents at both ends). A span whose biarc
// lies too far off is halved. On a smooth curve the error of a biarc falls with the third power of
// its length, so that a thousandth of the tolerance takes about ten times as many arcs.
// Spans that are straight within 1e-7 mm become lines.
//
// The distance is measured from 2·degree+1 points of each span to the arcs and held under
// half of tol, so that what lies between the points stays under tol: a span that passes
// turns by less than the arcs do, 240°, and has no room for more swings than its degree.
// degree is that of a polynomial or rational curve; for others it says how many swings a
// single call may meet, 5 for a quarter of an ellipse. Less than 1 counts as 1.
//
// Where the derivative vanishes, as in a cusp, the direction of a short chord is taken. The
// chain may turn sharply there, and where the curve turns back within the tolerance. A span that was halved 16 times becomes its chord, so a curve that
// jumps, or a tol of 0, ends with up to 131072 pieces and no bound on the error. A curve
// that is a single point yields one line without length. Where a point of the curve is not finite,
// or tol is negative or NaN, nothing more is yielded.
func FitArcs(f Curve, t0, t1 float64, degree int, tol float64) iter.Seq[Seg] {
	return func(yield func(Seg) bool) {
		if t1 < t0 {
			g := f
			f = func(t float64) (p, d r2.Point) { p, d = g(-t); return p, d.Mul(-1) }
			t0, t1 = -t0, -t1
		}
		if !(tol >= 0 && t0 <= t1) {
			return
		}
		b := fitter{f: f, tol: tol / 2, samples: 2*max(1, degree) + 1, out: yield}
		a, ok := b.end(t0, t1)
		z, ok2 := b.end(t1, t0)
		if ok && ok2 {
			b.span(t0, t1, a, z, 0)
		}
	}
}

// fitter replaces the spans of a curve.
type fitter struct {
	f       Curve
	tol     float64 // accepted distance at the samples
	samples int     // between the ends of a span
	out     func(Seg) bool
	lost    bool // the curve is not finite somewhere
}

func finite2(p r2.Point) bool {
	return math.Abs(p.X) <= math.MaxFloat64 && math.Abs(p.Y) <= math.MaxFloat64
}

// sample returns point k of a span, of those between its ends.
func (b *fitter) sample(t0, t1 float64, k int) r2.Point {
	p, _ := b.f(t0 + (t1-t0)*float64(k)/float64(b.samples+1))
	b.lost = b.lost || !finite2(p)
	return p
}

// fitEnd is a point of the curve with the unit direction of travel there.
type fitEnd struct{ p, u r2.Point }

// end returns the curve at t, if it is finite there. Where its derivative vanishes the
// direction is that of a short chord into the span towards other.
func (b *fitter) end(t, other float64) (e fitEnd, ok bool) {
	p, d := b.f(t)
	if !finite2(p) {
		return e, false
	}
	if n := d.Norm(); n*math.Abs(other-t) > 1e-7 && n <= math.MaxFloat64 {
		return fitEnd{p, d.Mul(1 / n)}, true
	}
	for h := 1e-4; h <= 1; h *= 10 {
		q, _ := b.f(t + (other-t)*h)
		v := q.Sub(p)
		if other < t {
			v = v.Mul(-1)
		}
		if n := v.Norm(); n > 1e-9 && n <= math.MaxFloat64 {
			return fitEnd{p, v.Mul(1 / n)}, true
		}
	}
	return fitEnd{p: p}, true
}

func (b *fitter) span(t0, t1 float64, a, z fitEnd, depth int) bool {
	if s, ok := b.straight(t0, t1, a, z); ok && !b.lost {
		return b.out(s)
	}
	if first, second, ok := biarc(a, z); ok && b.near(t0, t1, first, second) && !b.lost {
		return b.out(first) && b.out(second)
	}
	if b.lost {
		return false
	}
	if depth == maxHalvings || a.u.Dot(z.u) < 0 && b.tiny(t0, t1, a, z) {
		return b.out(Seg{A: a.p, B: z.p})
	}
	// Coming to a cusp and leaving it are two directions.
	tm := t0 + (t1-t0)/2
	come, ok1 := b.end(tm, t0)
	leave, ok2 := b.end(tm, t1)
	return ok1 && ok2 && b.span(t0, tm, a, come, depth+1) && b.span(tm, t1, leave, z, depth+1)
}

// tiny reports whether the whole span lies within the tolerance of its first end.
func (b *fitter) tiny(t0, t1 float64, a, z fitEnd) bool {
	for k := 1; k <= b.samples; k++ {
		if !(b.sample(t0, t1, k).Sub(a.p).Norm() <= b.tol) {
			return false
		}
	}
	return z.p.Sub(a.p).Norm() <= b.tol
}

// straight returns the chord if the whole span lies on it and runs forward.
func (b *fitter) straight(t0, t1 float64, a, z fitEnd) (Seg, bool) {
	const off = 1e-7 // mm
	v := z.p.Sub(a.p)
	n := v.Norm()
	s := Seg{A: a.p, B: z.p}
	if n < 1e-9 {
		// Nothing at all, or a closed curve: only the first is a point.
		for k := 1; k <= b.samples; k++ {
			p := b.sample(t0, t1, k)
			if p.Sub(a.p).Norm() > 1e-9 {
				return s, false
			}
		}
		return s, true
	}
	v = v.Mul(1 / n)
	if v.Dot(a.u) < 0 || v.Dot(z.u) < 0 {
		return s, false // it turns back near an end, and may reach beyond it
	}
	last := 0.0
	for k := 1; k <= b.samples; k++ {
		p := b.sample(t0, t1, k)
		d := p.Sub(a.p)
		along := v.Dot(d)
		if math.Abs(v.Cross(d)) > off || along < last-off || along > n+off {
			return s, false
		}
		last = along
	}
	return s, true
}

func (b *fitter) near(t0, t1 float64, s1, s2 Seg) bool {
	for k := 1; k <= b.samples; k++ {
		p := b.sample(t0, t1, k)
		_, _, d1 := s1.Nearest(p)
		_, _, d2 := s2.Nearest(p)
		if !(min(d1, d2) <= b.tol) {
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
func biarc(a, z fitEnd) (first, second Seg, ok bool) {
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
	return Seg{A: a.p, B: m, Bulge: b1}, Seg{A: m, B: z.p, Bulge: -b2}, ok1 && ok2
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
