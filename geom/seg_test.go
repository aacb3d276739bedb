package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// genSeg draws lines and arcs, shallow ones among them.
func genSeg() *rapid.Generator[geom.Seg] {
	return rapid.Custom(func(t *rapid.T) geom.Seg {
		s := geom.Seg{A: genPoint(8).Draw(t, "a"), B: genPoint(8).Draw(t, "b")}
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 1:
			s.Bulge = genNumber(-3, 3).Draw(t, "bulge")
		case 2:
			s.Bulge = math.Pow(10, rapid.Float64Range(-8, -1).Draw(t, "log bulge"))
		}
		return s
	})
}

func TestSegByHand(t *testing.T) {
	half := geom.Seg{A: pt(1, 0), B: pt(-1, 0), Bulge: 1} // counter-clockwise over the top
	near(t, "radius", half.Radius(), 1, 1e-15)
	near(t, "length", half.Length(), math.Pi, 1e-15)
	near(t, "sweep", half.Sweep().Radians(), math.Pi, 1e-15)
	if c := half.Center(); dist(c, pt(0, 0)) > 1e-15 {
		t.Errorf("centre %v", c)
	}
	if p := half.At(0.5); dist(p, pt(0, 1)) > 1e-15 {
		t.Errorf("middle %v", p)
	}
	if u := half.Tangent(0); dist(u, pt(0, 1)) > 1e-15 {
		t.Errorf("first tangent %v", u)
	}
	if b := half.Bound(); dist(b.Lo, pt(-1, 0)) > 1e-15 || dist(b.Hi, pt(1, 1)) > 1e-15 {
		t.Errorf("bound %v", b)
	}
	// A quarter from (5, 0) to (0, 5) about the origin: bulge tan 22.5°; clockwise the other
	// way it is three quarters, about (5, 5).
	quarter := geom.Seg{A: pt(5, 0), B: pt(0, 5), Bulge: math.Tan(math.Pi / 8)}
	near(t, "quarter radius", quarter.Radius(), 5, 1e-14)
	if c := quarter.Center(); dist(c, pt(0, 0)) > 1e-14 {
		t.Errorf("centre of the quarter %v", c)
	}
	three := geom.Seg{A: pt(5, 0), B: pt(0, 5), Bulge: -math.Tan(3 * math.Pi / 8)}
	if c := three.Center(); dist(c, pt(0, 0)) > 1e-13 {
		t.Errorf("centre of the three quarters %v", c)
	}
	if b := three.Bound(); dist(b.Lo, pt(-5, -5)) > 1e-13 || dist(b.Hi, pt(5, 5)) > 1e-13 {
		t.Errorf("bound of the three quarters %v", b)
	}
	// Sagitta half the chord times the bulge, here 1e-8, at a radius of 1.25e9.
	shallow := geom.Seg{A: pt(-5, 0), B: pt(5, 0), Bulge: 2e-9}
	near(t, "lowest point of a shallow arc", shallow.Bound().Lo.Y, -1e-8, 1e-15)
	line := geom.Seg{A: pt(0, 0), B: pt(3, 4)}
	if line.IsArc() || line.Radius() != 0 || line.Sweep() != 0 || line.Length() != 5 || line.Center() != pt(1.5, 2) {
		t.Errorf("line %+v", line)
	}
	point := geom.Seg{A: pt(2, 2), B: pt(2, 2), Bulge: 1}
	if point.IsArc() || point.Length() != 0 || point.Tangent(0) != pt(0, 0) || point.At(0.5) != pt(2, 2) {
		t.Errorf("point %+v", point)
	}
	if got := line.At(math.NaN()); got != line.A {
		t.Errorf("At(NaN) = %v", got)
	}
}

// TestSegProperties: points of an arc lie on its circle and in its box; the reverse and the
// moved segment have the same points.
func TestSegProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genSeg().Draw(t, "s")
		u := genNumber(0, 1).Draw(t, "t")
		pose := genPose().Draw(t, "pose")
		p := s.At(u)
		if s.At(0) != s.A || s.At(1) != s.B {
			t.Fatal("ends are not exact")
		}
		if s.IsArc() {
			r := s.Radius()
			if d := math.Abs(dist(p, s.Center()) - r); d > 1e-14*r+1e-12 {
				t.Fatalf("%v is %g off the circle of radius %g", p, d, r)
			}
		}
		if b := s.Bound().Expand(1e-9); !b.Contains(p) {
			t.Fatalf("%v outside %v", p, b)
		}
		if d := dist(s.Reverse().At(1-u), p); d > 1e-11 {
			t.Fatalf("the reverse is %g off", d)
		}
		if d := dist(s.Transform(pose).At(u), pose.Apply(p)); d > 1e-11 {
			t.Fatalf("the moved segment is %g off", d)
		}
		// The tangent is the limit of the chord over a small step; the chord of an arc turns
		// from it by half the step's sweep.
		const h = 1e-4
		if u < 1-h && s.Length() > 1e-3 {
			c := s.At(u + h).Sub(p)
			if l := math.Hypot(c.X, c.Y); l > 0 {
				c = r2.Point{X: c.X / l, Y: c.Y / l}
				if d := dist(c, s.Tangent(u)); d > h*math.Pi+1e-6 {
					t.Fatalf("tangent %v, chord %v", s.Tangent(u), c)
				}
			}
		}
	})
}
