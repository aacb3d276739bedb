package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// spline writes a SPLINE; p holds x and y of the control points.
func spline(degree, flags int, knots []float64, p []float64, weights ...float64) string {
	s := tg(0, "SPLINE", 8, "0", 70, flags, 71, degree, 72, len(knots), 73, len(p)/2, 74, 0)
	for _, k := range knots {
		s += tg(40, k)
	}
	for _, w := range weights {
		s += tg(41, w)
	}
	for i := 0; i+1 < len(p); i += 2 {
		s += tg(10, p[i], 20, p[i+1], 30, 0)
	}
	return s
}

// circleSpline is a closed cubic spline of four parts that follows a circle to 2.7e-4 of
// its radius: control points at 0.5522847 r along the tangents, joints with knots of three.
func circleSpline(x, y, r, knot0 float64) string {
	const k = 0.5522847498
	unit := [][2]float64{{1, 0}, {1, k}, {k, 1}, {0, 1}, {-k, 1}, {-1, k}, {-1, 0}, {-1, -k}, {-k, -1}, {0, -1}, {k, -1}, {1, -k}, {1, 0}}
	var p []float64
	for _, u := range unit {
		p = append(p, x+r*u[0], y+r*u[1])
	}
	var knots []float64
	for _, v := range []float64{0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4, 4} {
		knots = append(knots, knot0+v)
	}
	return spline(3, 1, knots, p)
}

func TestSplines(t *testing.T) {
	// A smooth curve through n points of a circle of r = 5 lies off it by about r·(2π/n)⁴/384, 0.001 for 12.
	closedThrough := func(n int, x, y, r float64, again int) string {
		s := tg(0, "SPLINE", 8, "0", 70, 11, 71, 3, 72, 0, 73, 0, 74, n)
		for i := range n + again {
			sn, cs := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
			s += tg(11, x+r*cs, 21, y+r*sn, 31, 0)
		}
		return s
	}
	plain := square60()
	// A rational quadratic of nine points is a circle exactly: corners of the square round it
	// with the weight cos 45°.
	w := math.Sqrt2 / 2
	exact := spline(2, 5, []float64{-1, -1, -1, 0, 0, 1, 1, 2, 2, 3, 3, 3},
		[]float64{22, 20, 22, 22, 20, 22, 18, 22, 18, 20, 18, 18, 20, 18, 22, 18, 22, 20}, 1, w, 1, w, 1, w, 1, w, 1)
	// A parabola from (60, 0) to (60, 40) with its control point at (100, 20): two thirds of
	// the triangle, 2/3·40·40/2 = 533.333. Raised to degree 5 its control points divide as
	// those of the raised Bézier curve do: row 5 of x is 60, 76, 84, 84, 76, 60, of y 0 to 40
	// in steps of 8.
	bow := lw(0, 60, 40, 0, 0, 40, 0, 0, 0, 0, 60, 0, 0)
	bowed := want{box: [4]float64{0, 0, 80, 40}, area: 2400 + 1600.0/3, within: 0.005}
	// Leaving and arriving at right angles, the cubic of Hermite over the chord of 40 has control points 40/3 out: it reaches
	// x = 60 + 40u(1-u), with dy = 240u(1-u)du, so it adds 9600·∫u²(1-u)² = 9600/30 = 320 and its tip lies at 70.
	leaning := want{box: [4]float64{0, 0, 70, 40}, area: 2400 + 320, within: 0.005}
	fifth := spline(5, 8, []float64{7, 7, 7, 7, 7, 7, 9, 9, 9, 9, 9, 9}, []float64{60, 0, 76, 8, 84, 16, 84, 24, 76, 32, 60, 40})
	second := spline(2, 8, []float64{0, 0, 0, 1, 1, 1}, []float64{60, 0, 100, 20, 60, 40})
	third := spline(3, 8, []float64{2.5, 2.5, 2.5, 2.5, 3, 3, 3, 3}, []float64{60, 0, 60 + 80.0/3, 40.0 / 3, 60 + 80.0/3, 80.0 / 3, 60, 40})
	for name, c := range map[string]struct {
		text string
		want want
	}{
		"a closed cubic is a hole":           {dxf(box60(), circleSpline(20, 20, 2, 0)), want{box: plain.box, area: 2400 - disc(4), within: 0.002, round: []holeWant{{20, 20, 4, 0}}}},
		"knots that do not begin at 0":       {dxf(box60(), circleSpline(20, 20, 2, -17.25)), want{box: plain.box, area: 2400 - disc(4), within: 0.002, round: []holeWant{{20, 20, 4, 0}}}},
		"a rational circle":                  {dxf(box60(), exact), square60(holeWant{20, 20, 4, 0})},
		"degree 2":                           {dxf(bow, second), bowed},
		"degree 3":                           {dxf(bow, third), bowed},
		"degree 5":                           {dxf(bow, fifth), bowed},
		"a straight spline":                  {dxf(line(0, 0, 60, 0), line(60, 40, 0, 40), line(0, 40, 0, 0), spline(3, 8, []float64{0, 0, 0, 0, 1, 1, 1, 1}, []float64{60, 0, 60, 5, 60, 30, 60, 40})), plain},
		"degree 1 with corners":              {dxf(spline(1, 1, []float64{0, 0, 1, 2, 3, 4, 4}, []float64{0, 0, 60, 0, 60, 40, 0, 40, 0, 0})), plain},
		"points that it passes through":      {dxf(line(0, 0, 60, 0), line(60, 40, 0, 40), line(0, 40, 0, 0), tg(0, "SPLINE", 8, "0", 70, 8, 71, 3, 72, 0, 73, 0, 74, 3, 11, 60, 21, 0, 11, 60, 21, 15, 11, 60, 21, 40)), plain},
		"given directions at both ends":      {dxf(bow, tg(0, "SPLINE", 8, "0", 70, 8, 71, 3, 72, 0, 73, 0, 74, 2, 12, 1, 22, 0, 13, -3, 23, 0, 11, 60, 21, 0, 11, 60, 21, 40)), leaning},
		"points of a closed one":             {dxf(box60(), closedThrough(12, 20, 20, 5, 0)), want{box: plain.box, area: 2400 - disc(10), within: 0.03, round: []holeWant{{20, 20, 10, 0}}}},
		"its first point given twice":        {dxf(box60(), closedThrough(12, 20, 20, 5, 1)), want{box: plain.box, area: 2400 - disc(10), within: 0.03, round: []holeWant{{20, 20, 10, 0}}}},
		"one that is broken is left out":     {dxf(box60(), spline(3, 8, []float64{0, 0, 0, 1, 1, 1}, []float64{0, 0, 1, 1, 2, 2, 3, 3})), plain},
		"a weight of zero is left out":       {dxf(box60(), spline(2, 8, []float64{0, 0, 0, 1, 1, 1}, []float64{10, 10, 12, 12, 14, 10}, 1, 0, 1)), plain},
		"knots that fall are left out":       {dxf(box60(), spline(2, 8, []float64{0, 0, 0, 1, 0.5, 1}, []float64{10, 10, 12, 12, 14, 10})), plain},
		"a double inner knot, drawn as line": {dxf(line(0, 0, 60, 0), line(60, 40, 0, 40), line(0, 40, 0, 0), spline(2, 8, []float64{0, 0, 0, 1, 1, 2, 2, 2}, []float64{60, 0, 60, 10, 60, 20, 60, 30, 60, 40})), plain},
	} {
		t.Run(name, func(t *testing.T) { one(t, name, c.text, Options{}, c.want) })
	}
}

// fitError measures how far the arcs of a curve lie from it: from points of the curve to the
// arcs, and from points of the arcs to a polygon of the curve whose own error is far less.
func fitError(t *testing.T, c curve, at func(float64) r2.Point, tol float64) (off float64, arcs int) {
	t.Helper()
	var segs []geom.Seg
	c.segments(tol, func(s geom.Seg) bool { segs = append(segs, s); return true })
	// Arcs and points of the curve go in the same order, so the nearest is looked for near
	// the last one found.
	const n = 8000
	pts := make([]r2.Point, n+1)
	from, to := make([]int, len(segs)), make([]int, len(segs)) // points nearest to each arc
	near := 0
	for i := range pts {
		pts[i] = at(float64(i) / n)
		d := math.Inf(1)
		for k := max(0, near-1); k < min(len(segs), near+4); k++ {
			if e := segDistance(segs[k], pts[i]); e < d {
				d, near = e, k
			}
		}
		off = max(off, d)
		if to[near] == 0 {
			from[near] = i
		}
		to[near] = i
	}
	for i, s := range segs {
		if i > 0 && s.A != segs[i-1].B {
			t.Fatalf("arc %d begins at %v, the last ended at %v", i, s.A, segs[i-1].B)
		}
		for x := 0.0; x < 1; x += 0.1 {
			d := math.Inf(1)
			for j := max(0, from[i]-20); j < min(n, to[i]+20); j++ {
				d = min(d, segDistance(geom.Seg{A: pts[j], B: pts[j+1]}, s.At(x)))
			}
			off = max(off, d)
		}
	}
	if segs[0].A.Sub(pts[0]).Norm() > 1e-9 || segs[len(segs)-1].B.Sub(pts[n]).Norm() > 1e-9 {
		t.Errorf("the arcs run from %v to %v, the curve from %v to %v", segs[0].A, segs[len(segs)-1].B, pts[0], pts[n])
	}
	return off, len(segs)
}

// The arcs stay within the tolerance asked for, on curves of all kinds, measured both ways.
func TestArcsStayWithinTolerance(t *testing.T) {
	pt := func(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
	curves := map[string]curve{
		"an S":           {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(30, 0), pt(0, 20), pt(30, 20)}},
		"a loop":         {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(60, 40), pt(-30, 40), pt(30, 0)}},
		"a cusp":         {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(40, 30), pt(0, 30), pt(40, 0)}},
		"hooked ends":    {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(-5, 1), pt(35, -1), pt(30, 0)}},
		"closed":         {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(40, 30), pt(-40, 30), pt(0, 0)}},
		"no first slope": {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(0, 0), pt(20, 5), pt(30, 20)}},
		"no slopes":      {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(0, 0), pt(30, 20), pt(30, 20)}},
		"flat":           {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(100, 0.05), pt(200, -0.05), pt(300, 0)}},
		"large":          {kind: bezierCurve, p: [4]r2.Point{pt(-900, 0), pt(-300, 800), pt(300, 800), pt(900, 0)}},
		"small":          {kind: bezierCurve, p: [4]r2.Point{pt(0, 0), pt(0.1, 0), pt(0.2, 0.1), pt(0.2, 0.2)}},
	}
	for _, tol := range []float64{0.005, 0.05, 0.0005} {
		for name, c := range curves {
			b := c.p
			off, n := fitError(t, c, func(u float64) r2.Point { p, _ := bezierAt(&b)(u); return p }, tol)
			if off > tol {
				t.Errorf("%s at %g mm: %d arcs lie %.6f off", name, tol, n, off)
			}
		}
		for _, ratio := range []float64{0.9, 0.5, 0.1, 0.02} {
			c := curve{kind: ellipseCurve, p: [4]r2.Point{pt(3, 4), pt(16, 12), pt(-12*ratio, 16*ratio)}, t0: -0.4, t1: 5.5}
			off, n := fitError(t, c, func(u float64) r2.Point { return c.onEllipse(c.t0 + u*(c.t1-c.t0)) }, tol)
			if off > tol {
				t.Errorf("ellipse of ratio %g at %g mm: %d arcs lie %.6f off", ratio, tol, n, off)
			}
		}
		// Degree 5 that swings to and fro within one span, with uneven weights.
		s, why := newNurbs(5, []float64{0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1}, []r2.Point{pt(0, 0), pt(10, 60), pt(20, -80), pt(30, 80), pt(40, -60), pt(50, 0)}, []float64{1, 2, 0.5, 3, 1, 1})
		if s == nil {
			t.Fatal(why)
		}
		off, n := fitError(t, curve{kind: splineCurve, spline: s}, func(u float64) r2.Point { p, _ := s.at(5, u); return p }, tol)
		if off > tol {
			t.Errorf("degree 5 at %g mm: %d arcs lie %.6f off", tol, n, off)
		}
	}
}

// de Boor's scheme gives Bernstein's polynomials where knots are clamped, and its
// derivative is that of the curve.
func TestSplineValues(t *testing.T) {
	// (1-u)³·0 + 3u(1-u)²·3 + 3u²(1-u)·6 + u³·9 = 9u; y = 3u(1-u)²·8 at u = 0.25: 3·0.25·0.5625·8 = 3.375.
	s, _ := newNurbs(3, []float64{2, 2, 2, 2, 4, 4, 4, 4}, []r2.Point{{X: 0, Y: 0}, {X: 3, Y: 8}, {X: 6, Y: 0}, {X: 9, Y: 0}}, nil)
	p, d := s.at(3, 2.5)
	// dy/du = 24·(1-u)(1-3u) = 24·0.75·0.25 = 4.5, half of that in t, which runs over 2.
	if math.Abs(p.X-2.25)+math.Abs(p.Y-3.375) > 1e-12 || math.Abs(d.X-4.5)+math.Abs(d.Y-2.25) > 1e-12 {
		t.Errorf("at 2.5: %v, derivative %v; want (2.25, 3.375), (4.5, 2.25)", p, d)
	}
	// A spline through points on a line at even steps is that line at even speed.
	for i, c := range through([]r2.Point{{X: 0, Y: 0}, {X: 3, Y: 4}, {X: 6, Y: 8}, {X: 9, Y: 12}}, r2.Point{}, r2.Point{}) {
		for k, q := range c.p {
			want := r2.Point{X: 3*float64(i) + float64(k), Y: 4*float64(i) + 4.0/3*float64(k)}
			if q.Sub(want).Norm() > 1e-12 {
				t.Errorf("part %d, point %d: %v, want %v", i, k, q, want)
			}
		}
	}
	// Three points of a natural spline with chords of 5 (0,0)-(3,4)-(6,0): by symmetry the
	// middle slope is (3/5, 0) and m0 = (3·slope - m1)/2 = (3·(0.6, 0.8) - (0.6, 0))/2 = (0.6, 1.2).
	c := through([]r2.Point{{X: 0, Y: 0}, {X: 3, Y: 4}, {X: 6, Y: 0}}, r2.Point{}, r2.Point{})
	if got, want := c[0].p[1], (r2.Point{X: 1, Y: 2}); got.Sub(want).Norm() > 1e-12 {
		t.Errorf("first control point %v, want %v", got, want)
	}
	// The same from straight up to straight down: m0 + 4·m1 + m2 = 3·(slope + slope) = (3.6, 0) and m0 + m2 = 0, so
	// m1 = (0.9, 0); control points lie 5/3 of these on. One end alone, up: 2·m2 + m1 = 3·(0.6, -0.8) with
	// m0 + 4·m1 + m2 = (3.6, 0) and m0 = (0, 1) gives 3.5·m1 = (2.7, 0.2).
	up, down := r2.Point{Y: 7}, r2.Point{Y: -0.2}
	c = through([]r2.Point{{X: 0, Y: 0}, {X: 3, Y: 4}, {X: 6, Y: 0}}, up, down)
	for k, want := range map[int]r2.Point{1: {Y: 5.0 / 3}, 2: {X: 1.5, Y: 4}} {
		if got := c[0].p[k]; got.Sub(want).Norm() > 1e-12 {
			t.Errorf("with both directions control point %d is %v, want %v", k, got, want)
		}
	}
	c = through([]r2.Point{{X: 0, Y: 0}, {X: 3, Y: 4}, {X: 6, Y: 0}}, up, r2.Point{})
	if got, want := c[0].p[2], (r2.Point{X: 3 - 4.5/3.5, Y: 4 - 1.0/10.5}); got.Sub(want).Norm() > 1e-12 {
		t.Errorf("with one direction the second control point is %v, want %v", got, want)
	}
}

// A coarser tolerance gives fewer arcs, and the number at the default is modest.
func TestArcCounts(t *testing.T) {
	ellipse := tg(0, "ELLIPSE", 8, "0", 10, 0, 20, 0, 11, 30, 21, 0, 40, 0.5, 41, 0, 42, 2*math.Pi)
	last := 0
	for _, tol := range []float64{0.5, 0.05, 0.005, 0.0005} {
		_, r := mustRead(t, "ellipse", dxf(ellipse), Options{CurveTolerance: tol})
		n := r.Changes.CurveArcs
		if n <= last || n%8 != 0 {
			t.Errorf("%d arcs at %g mm after %d", n, tol, last)
		}
		last = n
	}
	_, r := mustRead(t, "ellipse", dxf(ellipse), Options{})
	if n := r.Changes.CurveArcs; n > 100 {
		t.Errorf("%d arcs for an ellipse of 60 x 30 mm", n)
	}
	if s := strings.Join(r.Lines(), "\n"); !strings.Contains(s, fmt.Sprintf("1 spline or ellipse became %d arcs", r.Changes.CurveArcs)) {
		t.Errorf("the report says %q", s)
	}
}
