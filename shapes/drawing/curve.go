package drawing

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// A curve is one thing as a file draws it, in the file's unit.
type curve struct {
	kind   curveKind
	layer  int32 // index of its layer
	line   int32 // of the file
	bulge  float64
	t0, t1 float64 // ellipse: angles from its first axis, t0 < t1 counter-clockwise of (u, v)
	p      [4]r2.Point
	spline *nurbs
}

type curveKind uint8

const (
	segCurve     curveKind = iota // from p[0] to p[1] with the bulge
	ellipseCurve                  // p[0] + p[1]·cos t + p[2]·sin t
	bezierCurve                   // cubic
	splineCurve
)

func lineTo(a, b r2.Point) curve { return curve{p: [4]r2.Point{a, b}} }

func arcTo(a, b r2.Point, bulge float64) curve {
	return curve{p: [4]r2.Point{a, b}, bulge: bulge}
}

// circleOf returns a circle as two half circles.
func circleOf(c r2.Point, r float64) [2]curve {
	a, b := r2.Point{X: c.X + r, Y: c.Y}, r2.Point{X: c.X - r, Y: c.Y}
	return [2]curve{arcTo(a, b, 1), arcTo(b, a, 1)}
}

// arcBetween returns the counter-clockwise arc from one angle to another, in degrees; equal
// angles, or full turns apart, give the whole circle. It is cut in two beyond half a turn.
func arcBetween(c r2.Point, r, from, to float64) []curve {
	sweep := math.Mod(to-from, 360)
	if sweep <= 1e-9 {
		sweep += 360
	}
	at := func(deg float64) r2.Point {
		sn, cs := sinCosDeg(deg)
		return r2.Point{X: c.X + float64(r*cs), Y: c.Y + float64(r*sn)}
	}
	if 360-sweep < 1e-9 {
		a, b := at(from), at(from+180)
		return []curve{arcTo(a, b, 1), arcTo(b, a, 1)}
	}
	n := 1
	if sweep > 180 {
		n = 2
	}
	// The ends are those of the angles as given; only the middle is made here.
	bulge := geom.BulgeOf(s1.Angle(sweep / float64(n) * math.Pi / 180))
	if n == 1 {
		return []curve{arcTo(at(from), at(to), bulge)}
	}
	m := at(from + sweep/2)
	return []curve{arcTo(at(from), m, bulge), arcTo(m, at(to), bulge)}
}

// ellipseOf returns the part of an ellipse from t0 to t1, or the circular arcs that it is.
func ellipseOf(c, u, v r2.Point, t0, t1 float64) []curve {
	if e := (geom.Ellipse{C: c, U: u, V: v}); e.IsCircle() {
		at := func(t float64) r2.Point {
			sn, cs := geom.SinCos(s1.Angle(t))
			return r2.Point{X: c.X + float64(u.X*cs) + float64(v.X*sn), Y: c.Y + float64(u.Y*cs) + float64(v.Y*sn)}
		}
		n := 1 + int((t1-t0-1e-12)/math.Pi)
		step := (t1 - t0) / float64(n)
		bulge := geom.BulgeOf(s1.Angle(step))
		if geom.Turn(u, v) < 0 {
			bulge = -bulge
		}
		var out []curve
		for k := range n {
			out = append(out, arcTo(at(t0+float64(k)*step), at(t0+float64(k+1)*step), bulge))
		}
		if n > 1 && t1-t0 > 2*math.Pi-1e-9 { // closed exactly
			out[n-1].p[1] = out[0].p[0]
		}
		return out
	}
	return []curve{ellipsePart(geom.Ellipse{C: c, U: u, V: v}, t0, t1)}
}

func ellipsePart(e geom.Ellipse, t0, t1 float64) curve {
	return curve{kind: ellipseCurve, p: [4]r2.Point{e.C, e.U, e.V}, t0: t0, t1: t1}
}

// quadratic returns the cubic of a quadratic Bézier curve.
func quadratic(a, b, c r2.Point) curve {
	return curve{kind: bezierCurve, p: [4]r2.Point{a, a.Add(b.Sub(a).Mul(2.0 / 3)), c.Add(b.Sub(c).Mul(2.0 / 3)), c}}
}

// transform returns the curve under m: an arc that m squeezes becomes part of an ellipse.
func (c curve) transform(m affine) curve {
	switch c.kind {
	case segCurve:
		s := geom.Seg{A: c.p[0], B: c.p[1], Bulge: c.bulge}
		if !m.conformal() && s.IsArc() {
			e, sweep := geom.ArcEllipse(s)
			out := ellipsePart(geom.Ellipse{C: m.apply(e.C), U: m.turn(e.U), V: m.turn(e.V)}, 0, sweep)
			out.layer, out.line = c.layer, c.line
			return out
		}
		c.p[0], c.p[1] = m.apply(c.p[0]), m.apply(c.p[1])
		if m.det() < 0 {
			c.bulge = -c.bulge
		}
	case ellipseCurve:
		c.p[0], c.p[1], c.p[2] = m.apply(c.p[0]), m.turn(c.p[1]), m.turn(c.p[2])
	case bezierCurve:
		for i := range c.p {
			c.p[i] = m.apply(c.p[i])
		}
	case splineCurve:
		c.spline = c.spline.transform(m)
	}
	return c
}

// ok reports whether all numbers of the curve are finite and within what geom takes.
func (c *curve) ok() bool {
	within := func(p r2.Point) bool {
		return math.Abs(p.X) <= geom.MaxCoord && math.Abs(p.Y) <= geom.MaxCoord
	}
	for _, p := range c.p {
		if !within(p) {
			return false
		}
	}
	if c.kind == splineCurve {
		return c.spline.ok()
	}
	return math.Abs(c.bulge) <= 1e6 && math.Abs(c.t1-c.t0) <= 7
}

// segments appends the curve as lines and arcs that stay within tol of it.
func (c *curve) segments(tol float64, out func(geom.Seg) bool) bool {
	switch c.kind {
	case segCurve:
		return out(geom.Seg{A: c.p[0], B: c.p[1], Bulge: c.bulge})
	case ellipseCurve:
		e := geom.Ellipse{C: c.p[0], U: c.p[1], V: c.p[2]}
		for s := range e.Arcs(c.t0, c.t1, tol) {
			if !out(s) {
				return false
			}
		}
		return true
	case bezierCurve:
		b := c.p
		return fitArcs(bezierAt(&b), 0, 1, 3, tol, out)
	default:
		return c.spline.arcs(tol, out)
	}
}

func bezierAt(b *[4]r2.Point) geom.Curve {
	return func(t float64) (p, d r2.Point) {
		s := 1 - t
		ab, bc, cd := mix(b[0], b[1], s, t), mix(b[1], b[2], s, t), mix(b[2], b[3], s, t)
		abc, bcd := mix(ab, bc, s, t), mix(bc, cd, s, t)
		return mix(abc, bcd, s, t), bcd.Sub(abc).Mul(3)
	}
}

// fitArcs passes on lines and arcs within tol of a curve. It returns false as soon as out
// does.
func fitArcs(f geom.Curve, t0, t1 float64, degree int, tol float64, out func(geom.Seg) bool) bool {
	for s := range geom.FitArcs(f, t0, t1, degree, tol) {
		if !out(s) {
			return false
		}
	}
	return true
}

func mix(a, b r2.Point, s, t float64) r2.Point {
	return r2.Point{X: float64(s*a.X) + float64(t*b.X), Y: float64(s*a.Y) + float64(t*b.Y)}
}
