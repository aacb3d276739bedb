package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// TestConvexBoundByHand: the reach of a body along each axis, also where it leans or has lost a dimension.
func TestConvexBoundByHand(t *testing.T) {
	turned := func(p geom.Pose3, at r3.Vector) geom.Pose3 { p.T = at; return p }
	root2, root3 := math.Sqrt2, math.Sqrt(3)
	for _, c := range []struct {
		name string
		k    geom.Convex
		half r3.Vector // of the box about the middle
		mid  r3.Vector
	}{
		{"box", must(geom.NewBox(vec(2, 4, 6), geom.Pose3{T: vec(1, 2, 3)})), vec(1, 2, 3), vec(1, 2, 3)},
		// A square of half side 1 turned by 45° reaches √2.
		{"turned box", must(geom.NewBox(vec(2, 2, 6), geom.RotZ(45*s1.Degree))), vec(root2, root2, 3), vec(0, 0, 0)},
		{"plate", must(geom.NewBox(vec(2, 4, 0), geom.Pose3{})), vec(1, 2, 0), vec(0, 0, 0)},
		{"point", must(geom.NewBox(vec(0, 0, 0), geom.Pose3{T: vec(7, 8, 9)})), vec(0, 0, 0), vec(7, 8, 9)},
		// Radius 2, half height 3, leaning by 30° from z towards -y: along y 3·sin 30° + 2·cos 30°, along z
		// 3·cos 30° + 2·sin 30°.
		{"leaning cylinder", must(geom.NewCylinder(2, 6, turned(geom.RotX(30*s1.Degree), vec(1, 1, 1)))),
			vec(2, 1.5+root3, 1.5*root3+1), vec(1, 1, 1)},
		{"disc on edge", must(geom.NewCylinder(5, 0, geom.RotY(90*s1.Degree))), vec(0, 5, 5), vec(0, 0, 0)},
		{"needle", must(geom.NewCylinder(0, 1000, geom.RotX(90*s1.Degree))), vec(0, 500, 0), vec(0, 0, 0)},
		{"capsule", must(geom.NewCapsule(vec(1, 0, 0), vec(4, 4, 0), 2)), vec(3.5, 4, 2), vec(2.5, 2, 0)},
		{"ball as capsule", must(geom.NewCapsule(vec(1, 2, 3), vec(1, 2, 3), 2)), vec(2, 2, 2), vec(1, 2, 3)},
		{"ball", must(geom.NewSphere(vec(1, 2, 3), 2)), vec(2, 2, 2), vec(1, 2, 3)},
		// A triangle with legs of 4 from the origin, 3 high, upside down by half a turn about x.
		{"prism", must(geom.NewPrism(triangle(4), r1.Interval{Lo: 0, Hi: 3}, geom.RotX(180*s1.Degree))), vec(2, 2, 1.5), vec(2, -2, -1.5)},
		{"hull", must(geom.NewHull([]r3.Vector{vec(0, 0, 0), vec(2, 0, 0), vec(0, 4, 0), vec(0, 0, 6), vec(0.1, 0.1, 0.1)})), vec(1, 2, 3), vec(1, 2, 3)},
		{"hull of one point", must(geom.NewHull([]r3.Vector{vec(1, 2, 3)})), vec(0, 0, 0), vec(1, 2, 3)},
		{"hull of equal points", must(geom.NewHull([]r3.Vector{vec(1, 2, 3), vec(1, 2, 3)})), vec(0, 0, 0), vec(1, 2, 3)},
		{"grown", must(must(geom.NewBox(vec(2, 4, 6), geom.Pose3{})).Grow(0.5)), vec(1.5, 2.5, 3.5), vec(0, 0, 0)},
		{"grown twice", must(must(must(geom.NewSphere(vec(0, 0, 0), 1)).Grow(0.5)).Grow(0.25)), vec(1.75, 1.75, 1.75), vec(0, 0, 0)},
		// A quarter turn about z takes (1, 0, 0) to (0, 1, 0): exactly.
		{"moved", must(must(geom.NewBox(vec(2, 4, 6), geom.Pose3{T: vec(1, 0, 0)})).Transform(geom.RotZ(90 * s1.Degree))), vec(2, 1, 3), vec(0, 1, 0)},
	} {
		b := c.k.Bound()
		nearlyAt(t, c.name+": low end", b.Lo, c.mid.Sub(c.half), 1e-12)
		nearlyAt(t, c.name+": high end", b.Hi, c.mid.Add(c.half), 1e-12)
		if c.k.IsEmpty() {
			t.Errorf("%s is empty", c.name)
		}
		// The support points along the axes lie on that box.
		for _, u := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
			hi, lo := c.k.Support(u).Dot(u), c.k.Support(u.Mul(-7)).Dot(u)
			nearly(t, c.name+": support", hi, b.Hi.Dot(u), 1e-12)
			nearly(t, c.name+": support", lo, b.Lo.Dot(u), 1e-12)
		}
	}
}

// TestSupportAgainstTwin: a support point belongs to the body, and none of the body reaches farther, by the formulas
// of each kind of solid.
func TestSupportAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := genSolid(10, 20).Draw(t, "k")
		u := genVector(1).Draw(t, "u")
		if u.Norm() < 1e-6 {
			u = vec(0, 0, 1)
		}
		p := k.body.Support(u)
		n := u.Normalize()
		if d := k.outside(p); d > 1e-9 {
			t.Fatalf("%s: the support point %v lies %v outside", k.name, p, d)
		}
		if h := k.reach(n); math.Abs(p.Dot(n)-h) > 1e-9 {
			t.Fatalf("%s: reaches %v along %v, want %v", k.name, p.Dot(n), n, h)
		}
		// Growing by r and moving by a pose do what they do to the support function.
		r := genNumber(0, 3).Draw(t, "r")
		nearlyRapid(t, "grown", must(k.body.Grow(r)).Support(u).Dot(n), p.Dot(n)+r)
		m := genPose3(50).Draw(t, "m")
		v := m.Apply(n).Sub(m.T)
		nearlyRapid(t, "moved", must(k.body.Transform(m)).Support(v).Dot(v), p.Dot(n)+m.T.Dot(v))
	})
}

func nearlyRapid(t *rapid.T, what string, got, want float64) {
	if !(math.Abs(got-want) <= 1e-9) {
		t.Fatalf("%s: %v, want %v", what, got, want)
	}
}

// TestSupportOddDirections: a direction that is none gives a point of the body all the same.
func TestSupportOddDirections(t *testing.T) {
	inf := math.Inf(1)
	for _, k := range []geom.Convex{
		must(geom.NewBox(vec(2, 2, 2), geom.Pose3{})), must(geom.NewCylinder(1, 2, geom.Pose3{})),
		must(geom.NewSphere(vec(0, 0, 0), 1)), must(geom.NewHull([]r3.Vector{vec(1, 0, 0), vec(0, 1, 0)})),
	} {
		for _, u := range []r3.Vector{{}, {X: math.NaN()}, {X: inf}, {X: inf, Y: -inf}, {X: 1e-320}, {Z: 1e300}} {
			p := k.Support(u)
			if !(p.Norm() <= math.Sqrt(3)+1e-12) {
				t.Errorf("support along %v: %v", u, p)
			}
		}
	}
	if p := (geom.Convex{}).Support(vec(1, 0, 0)); p != (r3.Vector{}) {
		t.Errorf("support of nothing: %v", p)
	}
}

// TestConvexErrors: sizes, places and poses that no body may have, from each constructor.
func TestConvexErrors(t *testing.T) {
	nan, far := math.NaN(), 2*geom.MaxCoord
	skew := geom.Pose3{R: [3]r3.Vector{{X: 1}, {X: 0.1, Y: 1}, {Z: 1}}}
	box := must(geom.NewBox(vec(1, 1, 1), geom.Pose3{}))
	for name, f := range map[string]func() (geom.Convex, error){
		"box of negative size":   func() (geom.Convex, error) { return geom.NewBox(vec(1, -1, 1), geom.Pose3{}) },
		"box of size NaN":        func() (geom.Convex, error) { return geom.NewBox(vec(1, nan, 1), geom.Pose3{}) },
		"box in a skew frame":    func() (geom.Convex, error) { return geom.NewBox(vec(1, 1, 1), skew) },
		"cylinder too far off":   func() (geom.Convex, error) { return geom.NewCylinder(1, 1, geom.Pose3{T: vec(far, 0, 0)}) },
		"cylinder without end":   func() (geom.Convex, error) { return geom.NewCylinder(1, math.Inf(1), geom.Pose3{}) },
		"capsule from nowhere":   func() (geom.Convex, error) { return geom.NewCapsule(vec(nan, 0, 0), vec(0, 0, 0), 1) },
		"capsule to nowhere":     func() (geom.Convex, error) { return geom.NewCapsule(vec(0, 0, 0), vec(0, far, 0), 1) },
		"ball of negative size":  func() (geom.Convex, error) { return geom.NewSphere(vec(0, 0, 0), -1e-9) },
		"hull of nothing":        func() (geom.Convex, error) { return geom.NewHull(nil) },
		"hull with a point NaN":  func() (geom.Convex, error) { return geom.NewHull([]r3.Vector{vec(0, 0, 0), vec(0, 0, nan)}) },
		"shrinking":              func() (geom.Convex, error) { return box.Grow(-1) },
		"a skew motion":          func() (geom.Convex, error) { return box.Transform(skew) },
		"a motion out of bounds": func() (geom.Convex, error) { return box.Transform(geom.Pose3{T: vec(0, 0, far)}) },
	} {
		if k, err := f(); err == nil || !k.IsEmpty() {
			t.Errorf("%s: %v, error %v", name, k.Bound(), err)
		}
	}
	// Nothing stays nothing.
	if k, err := (geom.Convex{}).Grow(1); err != nil || !k.IsEmpty() {
		t.Errorf("nothing, grown: %v, %v", k, err)
	}
	if k, err := (geom.Convex{}).Transform(geom.RotX(1)); err != nil || !k.IsEmpty() {
		t.Errorf("nothing, moved: %v, %v", k, err)
	}
}
