package geom_test

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// bezier returns the Bézier curve of the given control points, by de Casteljau's scheme.
func bezier(b ...r2.Point) geom.Curve {
	n := len(b) - 1
	return func(t float64) (p, d r2.Point) {
		q := slices.Clone(b)
		for level := n; level > 0; level-- {
			if level == 1 {
				d = q[1].Sub(q[0]).Mul(float64(n))
			}
			for i := range level {
				q[i] = q[i].Mul(1 - t).Add(q[i+1].Mul(t))
			}
		}
		return q[0], d
	}
}

// ellipse returns the ellipse about the origin with half axes a and b.
func ellipse(a, b float64) geom.Curve {
	return func(t float64) (p, d r2.Point) {
		sn, cs := math.Sincos(t)
		return pt(a*cs, b*sn), pt(-a*sn, b*cs)
	}
}

// fitOff returns how far points of the curve lie from the segments, and how far points of the segments
// lie from a polygon of 600 chords of the curve. It fails if the chain is broken or does not end where
// the curve does.
func fitOff(t interface{ Fatalf(string, ...any) }, f geom.Curve, t0, t1 float64, segs []geom.Seg) (out, back float64) {
	const n = 600
	pts := make([]r2.Point, n+1)
	for i := range pts {
		pts[i], _ = f(t0 + (t1-t0)*float64(i)/n)
	}
	if len(segs) == 0 || segs[0].A.Sub(pts[0]).Norm() > 1e-9 || segs[len(segs)-1].B.Sub(pts[n]).Norm() > 1e-9 {
		t.Fatalf("%d segments do not run from %v to %v: %v", len(segs), pts[0], pts[n], segs)
	}
	for _, p := range pts {
		d := math.Inf(1)
		for _, s := range segs {
			_, _, e := s.Nearest(p)
			d = min(d, e)
		}
		out = max(out, d)
	}
	for i, s := range segs {
		if i > 0 && s.A != segs[i-1].B {
			t.Fatalf("segment %d begins at %v, the last ended at %v", i, s.A, segs[i-1].B)
		}
		for x := 0.0; x < 1; x += 0.5 {
			d := math.Inf(1)
			for j := range n {
				_, _, e := geom.Seg{A: pts[j], B: pts[j+1]}.Nearest(s.At(x))
				d = min(d, e)
			}
			back = max(back, d)
		}
	}
	return out, back
}

// chordsOff bounds how far a polygon of 600 chords lies from a curve: the height of a chord is at most
// the second derivative times (1/600)²/8, and that derivative at most n(n-1) times the second difference of control
// points of degree n: 20·(80 + 2·80 + 60) = 6000 mm for the curve of degree 5, less for all others here.
const chordsOff = 6000. / 600 / 600 / 8

// TestFitArcs holds the tolerance on curves with swings, loops, cusps, hooks and ends without slope.
func TestFitArcs(t *testing.T) {
	for _, c := range []struct {
		name   string
		f      geom.Curve
		t0, t1 float64
		degree int
	}{
		{"an S", bezier(pt(0, 0), pt(30, 0), pt(0, 20), pt(30, 20)), 0, 1, 3},
		{"backwards", bezier(pt(0, 0), pt(30, 0), pt(0, 20), pt(30, 20)), 1, 0, 3},
		{"a loop", bezier(pt(0, 0), pt(60, 40), pt(-30, 40), pt(30, 0)), 0, 1, 3},
		{"a cusp", bezier(pt(0, 0), pt(40, 30), pt(0, 30), pt(40, 0)), 0, 1, 3},
		{"hooked ends", bezier(pt(0, 0), pt(-5, 1), pt(35, -1), pt(30, 0)), 0, 1, 3},
		{"closed", bezier(pt(0, 0), pt(40, 30), pt(-40, 30), pt(0, 0)), 0, 1, 3},
		{"no first slope", bezier(pt(0, 0), pt(0, 0), pt(20, 5), pt(30, 20)), 0, 1, 3},
		{"no last slope, backwards", bezier(pt(0, 0), pt(0, 0), pt(20, 5), pt(30, 20)), 1, 0, 3},
		{"no slopes", bezier(pt(0, 0), pt(0, 0), pt(30, 20), pt(30, 20)), 0, 1, 3},
		{"flat", bezier(pt(0, 0), pt(100, 0.05), pt(200, -0.05), pt(300, 0)), 0, 1, 3},
		// On one line but for a hair: 0.05 mm of it lie beyond the end, between the last sample and there.
		{"turns back", bezier(pt(0, 26.25), pt(1e-6, -26.25), pt(0, 4), pt(0, 1)), 0, 1, 3},
		{"small", bezier(pt(0, 0), pt(0.1, 0), pt(0.2, 0.1), pt(0.2, 0.2)), 0, 1, 3},
		{"degree 5", bezier(pt(0, 0), pt(10, 60), pt(20, -80), pt(30, 80), pt(40, -60), pt(50, 0)), 0, 1, 5},
		{"quarter of an ellipse", ellipse(20, 3), 0, math.Pi / 2, 5},
		{"quarter of a needle", ellipse(20, 0.2), math.Pi / 2, math.Pi, 5},
	} {
		for _, tol := range []float64{0.05, 0.005} {
			segs := slices.Collect(geom.FitArcs(c.f, c.t0, c.t1, c.degree, tol))
			if out, back := fitOff(t, c.f, c.t0, c.t1, segs); out > tol || back > tol+chordsOff {
				t.Errorf("%s at %g mm: %d segments lie %g and %g off", c.name, tol, len(segs), out, back)
			}
		}
	}
}

// TestFitArcsByHand: what is already made of arcs and lines.
func TestFitArcsByHand(t *testing.T) {
	// A quarter of a circle of 10 mm is two arcs of an eighth, whose bulge is the tangent of a quarter of
	// 45°, whatever the tolerance: the length is 5π.
	segs := slices.Collect(geom.FitArcs(ellipse(10, 10), 0, math.Pi/2, 3, 1e-6))
	if len(segs) != 2 || math.Abs(segs[0].Bulge-math.Tan(math.Pi/16)) > 1e-12 || math.Abs(segs[1].Bulge-segs[0].Bulge) > 1e-12 {
		t.Errorf("a quarter of a circle became %v", segs)
	}
	nearly(t, "quarter of a circle", segs[0].Length()+segs[1].Length(), 5*math.Pi, 1e-9)
	// A line at uneven speed is one line.
	line := func(u float64) (p, d r2.Point) { return pt(3*u*u+3*u, 4*u*u+4*u), pt(6*u+3, 8*u+4) }
	segs = slices.Collect(geom.FitArcs(line, 0, 1, 2, 1e-3))
	if len(segs) != 1 || segs[0] != (geom.Seg{A: pt(0, 0), B: pt(6, 8)}) {
		t.Errorf("a line became %v", segs)
	}
	// One that goes to 2 and back to 1 is not: 2 + 1 long, not 1.
	back := func(u float64) (p, d r2.Point) { return pt(2-2*(1-u)*(1-u)-u*u, 0), pt(4*(1-u)-2*u, 0) }
	// x = 4u - 3u² turns at u = 2/3 with x = 4/3; it ends at 1: 4/3 + 1/3.
	sum := 0.0
	for s := range geom.FitArcs(back, 0, 1, 2, 1e-3) {
		sum += s.Length()
	}
	nearly(t, "to and fro", sum, 5./3, 2e-3)
	// A point.
	point := func(float64) (p, d r2.Point) { return pt(1, 2), pt(0, 0) }
	if segs = slices.Collect(geom.FitArcs(point, 0, 1, 3, 0.1)); len(segs) != 1 || segs[0].A != pt(1, 2) || segs[0].B != pt(1, 2) {
		t.Errorf("a point became %v", segs)
	}
	if segs = slices.Collect(geom.FitArcs(ellipse(9, 5), 1, 1, 3, 0.1)); len(segs) != 1 || segs[0].Length() != 0 {
		t.Errorf("an empty span became %v", segs)
	}
	// A half and a full circle: the chord of the full one is nothing, which does not make it a point.
	for _, turn := range []float64{math.Pi, 2 * math.Pi, -2 * math.Pi} {
		sum = 0
		for s := range geom.FitArcs(ellipse(10, 10), 0, turn, 5, 1e-3) {
			sum += s.Length()
		}
		nearly(t, "circle", sum, 10*math.Abs(turn), 1e-8)
	}
}

// TestFitArcsOrder: on a quarter of an ellipse each tenth of the tolerance takes 10^(1/3) = 2.15 times
// as many arcs, so a millionth about a hundred times; halving alone could be off by two. And the chain has no kinks.
func TestFitArcsOrder(t *testing.T) {
	count := func(tol float64) float64 {
		return float64(len(slices.Collect(geom.FitArcs(ellipse(20, 10), 0, math.Pi/2, 5, tol))))
	}
	var last geom.Seg
	for s := range geom.FitArcs(ellipse(20, 10), 0, math.Pi/2, 5, 1e-3) {
		if u, v := last.Tangent(1), s.Tangent(0); last.Length() > 0 && u.Sub(v).Norm() > 1e-9 {
			t.Errorf("a kink at %v: %v, then %v", s.A, u, v)
		}
		last = s
	}
	if coarse, fine := count(1e-2), count(1e-8); fine < 50*coarse || fine > 200*coarse {
		t.Errorf("%g arcs at 1e-2 mm, %g at 1e-8", coarse, fine)
	}
}

// TestFitArcsBadInput: no end without a result, nothing that is not finite, and a way to stop.
func TestFitArcsBadInput(t *testing.T) {
	nan := math.NaN()
	hole := func(u float64) (p, d r2.Point) { // not finite from 0.4 on
		if u >= 0.4 {
			return pt(nan, 0), pt(1, 0)
		}
		return pt(u, u*u), pt(1, 2*u)
	}
	for _, c := range []struct {
		name   string
		f      geom.Curve
		t0, t1 float64
		tol    float64
		most   int
	}{
		{"tolerance NaN", ellipse(2, 1), 0, 1, nan, 0},
		{"tolerance negative", ellipse(2, 1), 0, 1, -1, 0},
		{"parameter NaN", ellipse(2, 1), nan, 1, 0.1, 0},
		{"parameter infinite", ellipse(2, 1), 0, math.Inf(1), 0.1, 0},
		{"not finite at the end", hole, 0, 1, 0.1, 0},
		{"not finite within", func(u float64) (r2.Point, r2.Point) {
			if u > 0.3 && u < 0.7 {
				return pt(math.Inf(1), 0), pt(1, 0)
			}
			return pt(u, u*u), pt(1, 2*u)
		}, 0, 1, 0.1, 0},
		{"derivative not finite", func(u float64) (r2.Point, r2.Point) { return pt(u, u*u), pt(nan, 1) }, 0, 1, 0.1, 1 << 17},
		{"tolerance 0", ellipse(2, 1), 0, 1, 0, 1 << 17},
		{"a jump", func(u float64) (r2.Point, r2.Point) { return pt(u, math.Floor(u*2)), pt(1, 0) }, 0, 1, 0.1, 1 << 17},
	} {
		n := 0
		for s := range geom.FitArcs(c.f, c.t0, c.t1, 3, c.tol) {
			if l := s.Length(); !(l <= math.MaxFloat64) {
				t.Fatalf("%s: %+v", c.name, s)
			}
			n++
		}
		if n > c.most || c.most > 0 && n == 0 {
			t.Errorf("%s: %d segments, want at most %d", c.name, n, c.most)
		}
	}
	n := 0
	for range geom.FitArcs(ellipse(20, 1), 0, 1, 3, 1e-6) {
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("%d segments after stopping at 3", n)
	}
}

// TestFitArcsProperties: any cubic, at any tolerance, is followed within it.
func TestFitArcsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b [4]r2.Point
		for i := range b {
			b[i] = genPoint(30).Draw(t, "p")
		}
		tol := math.Pow(10, -genNumber(1, 3).Draw(t, "digits"))
		f := bezier(b[:]...)
		segs := slices.Collect(geom.FitArcs(f, 0, 1, 3, tol))
		if out, back := fitOff(t, f, 0, 1, segs); out > tol || back > tol+chordsOff {
			t.Fatalf("%d segments lie %g and %g off, tolerance %g: %v", len(segs), out, back, tol, b)
		}
	})
}
