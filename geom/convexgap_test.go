package geom_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestConvexGapByHand(t *testing.T) {
	cube := func(x, y, z float64, turn geom.Pose3) geom.Convex { // side 2
		turn.T = vec(x, y, z)
		return must(geom.NewBox(vec(2, 2, 2), turn))
	}
	still := geom.Pose3{}
	deg45 := geom.RotZ(45 * s1.Degree)
	cyl := func(r, h float64, p geom.Pose3) geom.Convex { return must(geom.NewCylinder(r, h, p)) }
	ball := func(x, y, z, r float64) geom.Convex { return must(geom.NewSphere(vec(x, y, z), r)) }
	rod := func(a, b r3.Vector, r float64) geom.Convex { return must(geom.NewCapsule(a, b, r)) }
	at := func(p geom.Pose3, v r3.Vector) geom.Pose3 { p.T = v; return p }
	lying := geom.RotX(90 * s1.Degree)
	cases := []struct {
		name string
		a, b geom.Convex
		want float64
		push r3.Vector // zero: not looked at
	}{
		// Cubes of half side 1.
		{"cube face to face", cube(0, 0, 0, still), cube(5, 0, 0, still), 3, vec(1, 0, 0)},
		{"cube edge to edge", cube(0, 0, 0, still), cube(5, 6, 0, still), 5, vec(0.6, 0.8, 0)},          // 3, 4
		{"cube corner to corner", cube(0, 0, 0, still), cube(3, 4, 4, still), 3, vec(1./3, 2./3, 2./3)}, // 1, 2, 2
		{"cube face to turned edge", cube(0, 0, 0, still), cube(4, 0, 0, deg45), 3 - math.Sqrt2, vec(1, 0, 0)},
		{"cubes touch by faces", cube(0, 0, 0, still), cube(2, 0.5, 0.25, still), 0, vec(1, 0, 0)},
		{"cubes touch by edges", cube(0, 0, 0, still), cube(2, 2, 0.25, still), 0, r3.Vector{}},
		{"cubes touch by corners", cube(0, 0, 0, still), cube(2, 2, 2, still), 0, r3.Vector{}},
		{"cubes overlap", cube(0, 0, 0, still), cube(1.5, 0.25, 0.125, still), -0.5, vec(1, 0, 0)},
		{"cubes overlap turned", cube(0, 0, 0, still), cube(2, 0, 0, deg45), -(math.Sqrt2 - 1), vec(1, 0, 0)},
		{"a cube on itself", cube(0, 0, 0, still), cube(0, 0, 0, still), -2, r3.Vector{}},
		// A plate of no thickness in a cube: out through the nearest face across it.
		{"plate in cube", cube(0, 0, 0, still), must(geom.NewBox(vec(10, 10, 0), at(still, vec(0, 0, 0.75)))), -0.25, vec(0, 0, 1)},
		{"plates in one plane", must(geom.NewBox(vec(2, 2, 0), still)), must(geom.NewBox(vec(2, 2, 0), at(still, vec(1, 0, 0)))), 0, r3.Vector{}},
		{"points", ball(1, 2, 3, 0), ball(1, 2, 3, 0), 0, r3.Vector{}},
		{"point at a point", ball(1, 2, 3, 0), ball(1, 2, 7, 0), 4, vec(0, 0, 1)},
		// Balls and rods: distance of the cores less both radii.
		{"balls", ball(0, 0, 0, 1), ball(3, 4, 0, 2), 2, vec(0.6, 0.8, 0)},
		{"balls overlap", ball(0, 0, 0, 3), ball(3, 4, 0, 4), -2, vec(0.6, 0.8, 0)},
		{"balls of one centre", ball(1, 1, 1, 3), ball(1, 1, 1, 4), -7, r3.Vector{}},
		{"crossed rods", rod(vec(-5, 0, 0), vec(5, 0, 0), 1), rod(vec(0, -5, 4), vec(0, 5, 4), 0.5), 2.5, vec(0, 0, 1)},
		{"crossed rods that meet", rod(vec(-5, 0, 0), vec(5, 0, 0), 1), rod(vec(0, -5, 0), vec(0, 5, 0), 0.5), -1.5, r3.Vector{}},
		{"rods end to side", rod(vec(-5, 0, 0), vec(5, 0, 0), 1), rod(vec(8, 4, 0), vec(9, 9, 0), 1), 3, vec(0.6, 0.8, 0)},
		{"parallel rods", rod(vec(0, 0, 0), vec(10, 0, 0), 1), rod(vec(5, 3, 0), vec(25, 3, 0), 1), 1, vec(0, 1, 0)},
		{"rods in line", rod(vec(0, 0, 0), vec(10, 0, 0), 1), rod(vec(15, 0, 0), vec(25, 0, 0), 1), 3, vec(1, 0, 0)},
		// A ball over a box: the box's corner (1,1,1), 2·(1,2,2) away.
		{"ball and corner", cube(0, 0, 0, still), ball(3, 5, 5, 2), 4, vec(1./3, 2./3, 2./3)},
		{"ball in box", must(geom.NewBox(vec(20, 20, 20), still)), ball(0, 0, 8, 1), -3, vec(0, 0, 1)},
		// Cylinders.
		{"cylinder over cylinder", cyl(5, 4, still), cyl(3, 6, at(still, vec(1, 1, 8))), 3, vec(0, 0, 1)},
		{"cylinders side by side", cyl(5, 4, still), cyl(3, 6, at(still, vec(12, 0, 1))), 4, vec(1, 0, 0)},
		// Rims: 3 apart in plan, 4 in height.
		{"rim to rim", cyl(5, 4, still), cyl(3, 6, at(still, vec(11, 0, 9))), 5, vec(0.6, 0, 0.8)},
		{"lying on standing", cyl(5, 4, still), cyl(3, 20, at(lying, vec(0, 0, 7))), 2, vec(0, 0, 1)},
		// Two crossed cylinders with axes 7 apart: 7 - 3 - 2.
		{"crossed cylinders", cyl(3, 40, lying), cyl(2, 40, at(geom.RotY(90*s1.Degree), vec(0, 0, 7))), 2, vec(0, 0, 1)},
		{"coaxial cylinders", cyl(3, 40, still), cyl(2, 60, still), -5, r3.Vector{}},
		{"coaxial, leaning", cyl(3, 40, lying), cyl(2, 60, lying), -5, r3.Vector{}},
		// A box with its edge along y, tipped by 45°, over a standing cylinder's top.
		{"cylinder and tipped box", cyl(5, 4, still), cube(0, 0, 5, geom.RotY(45*s1.Degree)), 3 - math.Sqrt2, vec(0, 0, 1)},
		// A cylinder of radius 1, half height 2, leaning by 60° from z towards x: its lowest
		// point is 2·cos 60° + 1·sin 60° under its middle.
		{"leaning cylinder over box", must(geom.NewBox(vec(50, 50, 2), still)), cyl(1, 4, at(geom.RotY(60*s1.Degree), vec(0, 0, 5))), 5 - 1 - 1 - math.Sqrt(3)/2, vec(0, 0, 1)},
		// A ball beside a prism over a triangle with the right angle at the origin: the
		// long side x + y = 4 is (5+5-4)/√2 from (5, 5).
		{"ball and prism", must(geom.NewPrism(triangle(4), r1.Interval{Lo: 0, Hi: 3}, still)), ball(5, 5, 1, 1), 6/math.Sqrt2 - 1, vec(math.Sqrt2/2, math.Sqrt2/2, 0)},
		{"ball over prism edge", must(geom.NewPrism(triangle(4), r1.Interval{Lo: 0, Hi: 3}, still)), ball(2, -3, 7, 1), 4, vec(0, -0.6, 0.8)},
	}
	for _, c := range cases {
		g := geom.DistanceBodies(c.a, c.b)
		nearly(t, c.name, g.Dist, c.want, 1e-7)
		if c.push != (r3.Vector{}) {
			nearlyAt(t, c.name+": push", g.Push, c.push, 1e-6)
		}
		if !g.Exact {
			t.Errorf("%s: not exact", c.name)
		}
		f := geom.DistanceBodies(c.b, c.a)
		nearly(t, c.name+" exchanged", f.Dist, c.want, 1e-7)
		nearly(t, c.name+": separation", geom.SeparationBodies(c.a, c.b), max(0, c.want), 1e-7)
	}
}

func triangle(side float64) geom.Loop {
	return must(geom.NewLoop([]geom.Vertex{{P: pt(0, 0)}, {P: pt(side, 0)}, {P: pt(0, side)}}))
}

func TestConvexGapCertificate(t *testing.T) {
	for _, size := range []float64{0.1, 1, 30, 2000} {
		t.Run(fmt.Sprint(size), rapid.MakeCheck(func(t *rapid.T) {
			a := genSolid(size, size).Draw(t, "a")
			b := genSolid(size*genNumber(0.01, 1).Draw(t, "ratio"), size).Draw(t, "b")
			checkSolids(t, a, b, geom.DistanceBodies(a.body, b.body), 1e-6)
		}))
	}
}

// Bodies on parallel axes, upright and leaning, many of them in each other: pins in sleeves.
func TestConvexGapParallel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPose3(5).Draw(t, "pose")
		one := func(l string) solid {
			q := geom.RotZ(s1.Angle(genNumber(-180, 180).Draw(t, l)) * s1.Degree).Then(geom.Pose3{R: p.R})
			at := genVector(4).Draw(t, l+" at")
			if rapid.Bool().Draw(t, l+" on the axis") {
				at.X, at.Y = 0, 0
			}
			q.T = p.Apply(at)
			n := func(m string) float64 { return genNumber(1, 8).Draw(t, l+m) }
			switch rapid.IntRange(0, 4).Draw(t, l+" kind") {
			case 0:
				return solidCylinder(n("r"), n("h"), q)
			case 1:
				d := q.R[2].Mul(n("h") / 2)
				return solidCapsule(q.T.Sub(d), q.T.Add(d), n("r")/2)
			case 2:
				return solidCapsule(q.T, q.T, n("r")/2)
			case 3:
				return solidRounded(4, n("y"), 0.4, n("h"), q)
			}
			return solidBox(n("x"), n("y"), n("z"), q)
		}
		a, b := one("a"), one("b")
		checkSolids(t, a, b, geom.DistanceBodies(a.body, b.body), 1e-6)
	})
}
