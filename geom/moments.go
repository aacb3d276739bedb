package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// Moments are the area of a set and its first and second moments.
type Moments struct {
	Area     float64  // mm²; signed for a loop: positive when counter-clockwise
	Centroid r2.Point // mm; see [Loop.Centroid] for sets without area
	// Second moments of area about the centroid in mm⁴: ∫(x-cx)², ∫(y-cy)² and
	// ∫(x-cx)(y-cy). They carry the sign of the area.
	XX, YY, XY float64
}

// raw are the moments about a fixed origin.
type raw struct{ a, x, y, xx, yy, xy float64 }

func (m *raw) add(n raw) {
	m.a += n.a
	m.x += n.x
	m.y += n.y
	m.xx += n.xx
	m.yy += n.yy
	m.xy += n.xy
}

// about returns the moments about the centroid; o is the origin of m, mid the centroid
// of a set without area.
func (m raw) about(o, mid r2.Point) Moments {
	if !(math.Abs(m.a) > 0) {
		return Moments{Centroid: mid}
	}
	x, y := m.x/m.a, m.y/m.a
	return Moments{
		Area: m.a, Centroid: r2.Point{X: o.X + x, Y: o.Y + y},
		XX: m.xx - m.x*x, YY: m.yy - m.y*y, XY: m.xy - m.x*y,
	}
}

// Moments returns area, centroid and second moments in closed form: the polygon of the
// vertices by Green's theorem, plus the circular segment between each arc and its chord.
// They are worked out about the middle of the loop's box, so that a small part far from
// the origin loses nothing.
func (l Loop) Moments() Moments {
	if l.IsEmpty() {
		return Moments{}
	}
	mid := l.Bound().Center()
	return l.raw(mid).about(mid, mid)
}

// raw returns the moments about o.
func (l Loop) raw(o r2.Point) raw {
	var m raw
	for _, s := range l.Segs() {
		a, b := s.A.Sub(o), s.B.Sub(o)
		m.add(triangle(a, b))
		if s.IsArc() {
			m.add(circularSegment(Seg{A: a, B: b, Bulge: s.Bulge}))
		}
	}
	return m
}

// triangle returns the signed moments of the triangle from the origin to a and b.
func triangle(a, b r2.Point) raw {
	c := (float64(a.X*b.Y) - float64(a.Y*b.X)) / 2
	return raw{
		a: c, x: c * (a.X + b.X) / 3, y: c * (a.Y + b.Y) / 3,
		xx: c * (a.X*a.X + a.X*b.X + b.X*b.X) / 6,
		yy: c * (a.Y*a.Y + a.Y*b.Y + b.Y*b.Y) / 6,
		xy: c * (2*a.X*a.Y + a.X*b.Y + b.X*a.Y + 2*b.X*b.Y) / 12,
	}
}

// circularSegment returns the moments about the origin of the set between the arc and its
// chord, positive for a counter-clockwise arc.
//
// With the half sweep α, and u along the middle direction from the centre: the area is
// r²(α - sin α cos α), ∫u = 2/3 r³ sin³α, ∫u² = r⁴/4 (α - sin α cos α + 2 sin³α cos α),
// ∫v² = r⁴/12 (3α - 3 sin α cos α - 2 sin³α cos α). Each follows by integrating strips
// across u of length 2r·sin α and width r·sin α dα.
func circularSegment(s Seg) raw {
	alpha := math.Abs(2 * math.Atan(s.Bulge))
	r := s.Radius()
	mid := r2.Point{X: s.A.X + (s.B.X-s.A.X)/2, Y: s.A.Y + (s.B.Y-s.A.Y)/2}
	d := s.B.Sub(s.A)
	n := math.Hypot(d.X, d.Y)
	e := r2.Point{X: d.Y / n, Y: -d.X / n} // right of the chord, where a ccw arc lies
	sign := 1.0
	if s.Bulge < 0 {
		e, sign = e.Mul(-1), -1
	}
	sn, cs := math.Sincos(alpha)
	// h is from the origin of u (below) to the point that it is measured from.
	var area, u, uu, vv float64
	from := s.Center()
	if alpha > 0.3 {
		area = r * r * (alpha - sn*cs)
		u = 2.0 / 3 * r * r * r * sn * sn * sn
		uu = r * r * r * r / 4 * (alpha - sn*cs + 2*sn*sn*sn*cs)
		vv = r * r * r * r / 12 * (3*alpha - 3*sn*cs - 2*sn*sn*sn*cs)
	} else {
		// The differences cancel; measure u from the chord instead and integrate the
		// strips by Gauss's rule of ten points. At angles up to 0.3 the integrands are
		// polynomials to far below the rounding.
		from = mid
		for i, x := range gaussX {
			for _, x := range [2]float64{x, -x} {
				t := alpha * (1 + x) / 2
				st := math.Sin(t)
				// u = r(cos t - cos α) = 2r sin((α+t)/2) sin((α-t)/2)
				w := gaussW[i] * alpha / 2
				h := 2 * r * math.Sin((alpha+t)/2) * math.Sin((alpha-t)/2)
				strip := w * 2 * r * r * st * st
				area += strip
				u += strip * h
				uu += strip * h * h
				vv += strip * r * r * st * st / 3
			}
		}
	}
	// Turn (u along e, v across) into x, y and shift to the origin.
	mx, my := u*e.X, u*e.Y
	xx := uu*e.X*e.X + vv*e.Y*e.Y
	yy := uu*e.Y*e.Y + vv*e.X*e.X
	xy := (uu - vv) * e.X * e.Y
	return raw{
		a: sign * area, x: sign * (mx + area*from.X), y: sign * (my + area*from.Y),
		xx: sign * (xx + 2*mx*from.X + area*from.X*from.X),
		yy: sign * (yy + 2*my*from.Y + area*from.Y*from.Y),
		xy: sign * (xy + mx*from.Y + my*from.X + area*from.X*from.Y),
	}
}

// Nodes and weights of the ten-point Gauss-Legendre rule on -1..1 (Abramowitz and Stegun,
// Handbook of Mathematical Functions, table 25.4), the positive half.
var (
	gaussX = [5]float64{0.148874338981631211, 0.433395394129247191, 0.679409568299024406, 0.865063366688984511, 0.973906528517171720}
	gaussW = [5]float64{0.295524224714752870, 0.269266719309996355, 0.219086362515982044, 0.149451349150580593, 0.066671344308688138}
)
