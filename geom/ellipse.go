package geom

import (
	"iter"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// An Ellipse is the image of a circle: the points C + U·cos t + V·sin t, where U and V are
// conjugate half diameters, in mm. They need not be its main axes. Where they run along
// each other the ellipse is flat.
type Ellipse struct{ C, U, V r2.Point }

// At returns the point at t and the derivative by t there.
func (e Ellipse) At(t float64) (p, d r2.Point) {
	sn, cs := math.Sincos(t)
	return r2.Point{X: e.C.X + float64(e.U.X*cs) + float64(e.V.X*sn), Y: e.C.Y + float64(e.U.Y*cs) + float64(e.V.Y*sn)},
		r2.Point{X: float64(e.V.X*cs) - float64(e.U.X*sn), Y: float64(e.V.Y*cs) - float64(e.U.Y*sn)}
}

// IsCircle reports whether U and V are as long as each other and at right angles, to one part in
// 1e9.
func (e Ellipse) IsCircle() bool {
	nu, nv := e.U.Norm(), e.V.Norm()
	return math.Abs(nu-nv) <= 1e-9*nu && math.Abs(e.U.Dot(e.V)) <= 1e-9*nu*nv && nu > 0
}

// MainAxis returns a parameter at which the ellipse reaches the end of a main axis; the others
// follow by quarter turns of t. There the derivative of |P - C|² vanishes:
// tan 2t = 2U·V/(U² - V²).
func (e Ellipse) MainAxis() float64 {
	return math.Atan2(2*e.U.Dot(e.V), e.U.Dot(e.U)-e.V.Dot(e.V)) / 2
}

// Arcs yields lines and arcs within tol of the part from t0 to t1 > t0. It is cut at the
// main axes, so that mirrored parts get mirrored arcs.
func (e Ellipse) Arcs(t0, t1, tol float64) iter.Seq[Seg] {
	return func(yield func(Seg) bool) {
		const quarter = math.Pi / 2
		part := func(from, to float64) bool {
			for s := range FitArcs(e.At, from, to, 5, tol) {
				if !yield(s) {
					return false
				}
			}
			return true
		}
		axis := e.MainAxis()
		t := t0
		for k := math.Floor((t0-axis)/quarter) + 1; ; k++ {
			next := axis + k*quarter
			if next-t < 1e-9 {
				continue
			}
			if !(t1-next >= 1e-9) {
				part(t, t1)
				return
			}
			if !part(t, next) {
				return
			}
			t = next
		}
	}
}

// ArcEllipse returns the ellipse of which an arc is part, U at its start and V a quarter turn on
// in its own sense, so that it runs from t = 0 to the returned sweep, 0 or more.
func ArcEllipse(s Seg) (e Ellipse, sweep float64) {
	r, turn := s.Radius(), s.Sweep().Radians()
	e.C = s.Center()
	e.U = s.A.Sub(e.C)
	e.V = r2.Point{X: -e.U.Y, Y: e.U.X}
	if turn < 0 {
		e.V = e.V.Mul(-1)
	}
	if n := e.U.Norm(); n > 0 {
		e.U, e.V = e.U.Mul(r/n), e.V.Mul(r/n)
	}
	return e, math.Abs(turn)
}

// EllipseThrough returns the part of an ellipse from a to b that has the half axes rx and ry, the
// first of them turned by that angle: of the four such parts the one that turns through more
// than half a turn, or not, and runs counter-clockwise, or not. It runs from t0 to t1 > t0. Half axes too
// short to reach are enlarged alike. a and b must differ and rx and ry be positive.
//
// The formulas are those of SVG 1.1, appendix F.6.
func EllipseThrough(a, b r2.Point, rx, ry float64, turn s1.Angle, large, ccw bool) (e Ellipse, t0, t1 float64) {
	sn, cs := SinCos(turn)
	d := a.Sub(b).Mul(0.5)
	x, y := float64(cs*d.X)+float64(sn*d.Y), float64(cs*d.Y)-float64(sn*d.X)
	// Centre in the axes of the ellipse, from the middle of the chord.
	grow := x*x/(rx*rx) + y*y/(ry*ry)
	k := 0.0
	if grow >= 1 {
		s := math.Sqrt(grow)
		rx, ry = rx*s, ry*s
	} else {
		k = math.Sqrt((1 - grow) / grow)
	}
	if large == ccw {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	t0 = math.Atan2((y-cy)/ry, (x-cx)/rx)
	t1 = math.Atan2((-y-cy)/ry, (-x-cx)/rx)
	m := a.Add(b).Mul(0.5)
	e.C = r2.Point{X: m.X + float64(cs*cx) - float64(sn*cy), Y: m.Y + float64(sn*cx) + float64(cs*cy)}
	e.U = r2.Point{X: rx * cs, Y: rx * sn}
	e.V = r2.Point{X: -ry * sn, Y: ry * cs}
	if !ccw { // run backwards: mirror the second axis
		e.V, t0, t1 = e.V.Mul(-1), -t0, -t1
	}
	for t1 < t0 {
		t1 += 2 * math.Pi
	}
	return e, t0, t1
}
