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

// convexPlan draws convex loops, many with normals that meet at the seam.
func convexPlan(size float64) *rapid.Generator[geom.Loop] {
	return rapid.Custom(func(t *rapid.T) geom.Loop {
		s := func(l string) float64 { return genNumber(size/16, size).Draw(t, l) }
		var l geom.Loop
		switch rapid.IntRange(0, 4).Draw(t, "form") {
		case 0:
			l = geom.Circle(pt(0, 0), s("r"))
		case 1:
			l = geom.Capsule(pt(0, 0), pt(s("x"), s("y")), s("w"))
		case 2:
			l = geom.Rectangle(pt(0, 0), s("x"), s("y"))
		case 3: // a lens or a half disc
			l = must(geom.NewLoop([]geom.Vertex{
				{P: pt(0, 0), Bulge: genNumber(0.1, 1).Draw(t, "b")},
				{P: pt(s("x"), 0), Bulge: genNumber(0, 1).Draw(t, "c")}}))
		default:
			l = geom.RegularPolygon(pt(0, 0), s("a"), rapid.IntRange(3, 40).Draw(t, "n"), 0)
		}
		return l.Transform(geom.Pose2{Turn: s1.Angle(genNumber(-180, 180).Draw(t, "turn")) * s1.Degree})
	})
}

// The support of a prism against the farthest of many points of its loop. A chord within
// 1e-7 of an arc misses the support by no more than that.
func TestPrismSupport(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := convexPlan(5).Draw(t, "plan")
		p := genPose3(10).Draw(t, "pose")
		z := r1.Interval{Lo: -1, Hi: genNumber(-1, 3).Draw(t, "top")}
		k, err := geom.NewPrism(l, z, p)
		if err != nil {
			t.Fatal(err)
		}
		u := genVector(1).Draw(t, "u")
		if u.Norm() < 1e-3 {
			u = vec(0, 0, 1)
		}
		u = u.Normalize()
		want := math.Inf(-1)
		for _, q := range l.Flatten(1e-7) {
			for _, h := range []float64{z.Lo, z.Hi} {
				want = max(want, p.Apply(vec(q.X, q.Y, h)).Dot(u))
			}
		}
		got := k.Support(u)
		if d := got.Dot(u) - want; math.Abs(d) > 1.1e-7 {
			t.Fatalf("support of %v along %v misses by %v", l, u, d)
		}
		if q := p.Inverse().Apply(got); geom.DistancePoint(geom.RegionOf(l), pt(q.X, q.Y)).Dist > 1e-9 || q.Z < z.Lo-1e-9 || q.Z > z.Hi+1e-9 {
			t.Fatalf("support point %v is not in the body", q)
		}
		if !k.Bound().Expand(1e-9).Contains(got) {
			t.Fatalf("support point %v is not in the box %v", got, k.Bound())
		}
	})
}

func TestPrismErrors(t *testing.T) {
	z := r1.Interval{Lo: 0, Hi: 1}
	ell := mustLoop(t, 0, 0, 0, 2, 0, 0, 2, 1, 0, 1, 1, 0, 1, 2, 0, 0, 2, 0)
	sq := geom.Rectangle(pt(0, 0), 1, 1)
	cases := []struct {
		name string
		err  error
	}{
		{"concave", second(geom.NewPrism(ell, z, geom.Pose3{}))},
		{"no loop", second(geom.NewPrism(geom.Loop{}, z, geom.Pose3{}))},
		{"no height", second(geom.NewPrism(sq, r1.EmptyInterval(), geom.Pose3{}))},
		{"NaN height", second(geom.NewPrism(sq, r1.Interval{Lo: math.NaN(), Hi: 1}, geom.Pose3{}))},
		{"too far", second(geom.NewPrism(sq, z, geom.Shift3(vec(2e7, 0, 0))))},
		{"not rigid", second(geom.NewPrism(sq, z, geom.Pose3{R: [3]r3.Vector{{X: 2}, {Y: 1}, {Z: 1}}}))},
		{"concave upright", second(geom.ConvexOf(geom.Upright{Plan: []geom.Region{geom.RegionOf(ell)}, Z: z}))},
		{"two regions", second(geom.ConvexOf(geom.Upright{Plan: []geom.Region{geom.RegionOf(sq), geom.RegionOf(sq)}, Z: z}))},
		{"box of negative size", second(geom.NewBox(vec(1, -1, 1), geom.Pose3{}))},
		{"box of no number", second(geom.NewBox(vec(1, math.NaN(), 1), geom.Pose3{}))},
		{"cylinder of infinite size", second(geom.NewCylinder(math.Inf(1), 1, geom.Pose3{}))},
		{"capsule too far", second(geom.NewCapsule(vec(0, 0, 0), vec(0, 2e7, 0), 1))},
		{"no points", second(geom.NewHull(nil))},
		{"a bad point", second(geom.NewHull([]r3.Vector{{}, {X: math.NaN()}}))},
	}
	for _, c := range cases {
		if c.err == nil {
			t.Errorf("%s: no error", c.name)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// An upright prism and the upright body over the same loop are one set.
func TestConvexOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := geom.Upright{Plan: []geom.Region{geom.RegionOf(convexPlan(5).Draw(t, "plan"))}, Z: r1.Interval{Lo: 0, Hi: genNumber(0, 3).Draw(t, "h")}}
		k := must(geom.ConvexOf(u))
		v := geom.Upright{Plan: []geom.Region{geom.RegionOf(convexPlan(5).Draw(t, "other").Transform(geom.Pose2{Shift: genPoint(8).Draw(t, "at")}))}, Z: r1.Interval{Lo: genNumber(-3, 6).Draw(t, "low"), Hi: 7}}
		g, h := geom.DistanceBodies(u, v), geom.DistanceBodies(k, v)
		i := geom.DistanceBodies(k, must(geom.ConvexOf(v)))
		if math.Abs(g.Dist-h.Dist) > 1e-7 || math.Abs(g.Dist-i.Dist) > 1e-7 {
			t.Fatalf("upright %v, one convex %v, both %v", g.Dist, h.Dist, i.Dist)
		}
	})
}
