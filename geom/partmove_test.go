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

// tall returns an upright body 200 mm high, so that the least move is level.
func tall(rs ...geom.Region) geom.Upright {
	return geom.Upright{Plan: rs, Z: r1.Interval{Lo: -100, Hi: 100}}
}

func TestPartingMoveByHand(t *testing.T) {
	// A square of 40 mm with a slot from above, 4 mm wide, x from -2 to 2, down to y = 0.
	fork := tall(geom.RegionOf(mustLoop(t, -20, -20, 0, 20, -20, 0, 20, 20, 0, 2, 20, 0, 2, 0, 0, -2, 0, 0, -2, 20, 0, -20, 20, 0)))
	// The points outside of the quadrant x > 0, y > 0, up to 40 mm off.
	corner := tall(geom.RegionOf(mustLoop(t, -40, -40, 0, 40, -40, 0, 40, 0, 0, 0, 0, 0, 0, 40, 0, -40, 40, 0)))
	ring := tall(geom.RegionOf(geom.Circle(pt(0, 0), 20), geom.Circle(pt(0, 0), 5)))
	// Low: 1 mm of a ball above it is the least.
	low := geom.Upright{Plan: fork.Plan, Z: r1.Interval{Lo: -1, Hi: 1}}
	ball := func(x, y, z, r float64) geom.Convex { return must(geom.NewSphere(vec(x, y, z), r)) }
	lean := geom.RotX(30 * s1.Degree)
	for _, c := range []struct {
		name string
		u    geom.Upright
		k    geom.Convex
		want float64
		push r3.Vector // of k; zero: not looked at
	}{
		// 0.5 from the left wall, radius 1.5: 1 mm to the right, where the middle is 2.5 from the other wall.
		{"in a slot", fork, ball(-1.5, 10, 0, 1.5), -1, vec(1, 0, 0)},
		{"in a slot, touching", fork, ball(-0.5, 10, 0, 1.5), 0, r3.Vector{}},
		{"in a slot, clear", fork, ball(0, 10, 0, 1.5), 0.5, r3.Vector{}},
		// A point 0.25 inside the wall of the slot.
		{"a point in the wall", fork, ball(-2.25, 10, 0, 0), -0.25, vec(1, 0, 0)},
		{"a point on the wall", fork, ball(-2, 10, 0, 0), 0, r3.Vector{}},
		// Both walls of the corner are met: 0.9 to the right and 0.6 up at once, √(0.81 + 0.36).
		{"in a corner", corner, ball(0.6, 0.9, 0, 1.5), -math.Sqrt(1.17), vec(0.9, 0.6, 0).Mul(1 / math.Sqrt(1.17))},
		// 1 off the axis of a hole of radius 5, radius 4.5: 4.5 + 1 - 5, back to the axis.
		{"in a hole", ring, ball(0, 1, 0, 4.5), -0.5, vec(0, -1, 0)},
		// A needle leaning by 30° from z towards y, right across the slot's left wall: its middle lies in the wall 0.1 deep,
		// all of it at x = -2.1.
		{"a needle", fork, must(geom.NewCylinder(0, 4, geom.Pose3{R: lean.R, T: vec(-2.1, 10, 0)})), -0.1, vec(1, 0, 0)},
		// Over the plate: 1.5 - 1 above its face at 1.
		{"from above", low, ball(-10, 0, 2, 1.5), -0.5, vec(0, 0, 1)},
		{"from below", low, ball(-10, 0, -2, 1.5), -0.5, vec(0, 0, -1)},
	} {
		g := geom.DistanceBodies(c.u, c.k)
		nearly(t, c.name, g.Dist, c.want, 5e-7)
		if c.push != (r3.Vector{}) {
			nearlyAt(t, c.name+": push", g.Push, c.push, 1e-6)
		}
		f := geom.DistanceBodies(c.k, c.u)
		nearly(t, c.name+" exchanged", f.Dist, g.Dist, 1e-9)
		nearlyAt(t, c.name+": push exchanged", f.Push, g.Push.Mul(-1), 1e-9)
		if g.Dist < 0 {
			moved := must(c.k.Transform(geom.Shift3(g.Push.Mul(-g.Dist + 1e-7))))
			if d := geom.DistanceBodies(c.u, moved).Dist; d < 0 || d > 1e-6 {
				t.Errorf("%s: moved, they are %v apart", c.name, d)
			}
		}
	}
}

// TestPartingMoveAgainstOffset: a ball of radius r meets a tall body as its middle meets the plan grown by r, and
// the least move takes the middle to that one's boundary. No move found may be shorter, and every one must part
// them.
func TestPartingMoveAgainstOffset(t *testing.T) {
	best, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		plan := genRegion().Draw(t, "plan")
		r := genNumber(0, 4).Draw(t, "r")
		p := genPoint(12).Draw(t, "p")
		grown, err := geom.Offset([]geom.Region{plan}, r)
		if err != nil {
			t.Fatal(err)
		}
		want := math.Inf(1)
		for _, g := range grown {
			want = min(want, geom.DistancePoint(g, p).Dist)
		}
		if want >= -1e-3 {
			t.Skip("apart, or all but touching")
		}
		u, k := tall(plan), must(geom.NewSphere(vec(p.X, p.Y, 0), r))
		g := geom.DistanceBodies(u, k)
		if g.Dist > want+1e-6 {
			t.Fatalf("parted by %v, the least is %v", -g.Dist, -want)
		}
		// By no more than that: the place may be as narrow as the ball is wide. Depths are found within 1e-7 mm.
		moved := must(k.Transform(geom.Shift3(g.Push.Mul(-g.Dist))))
		if d := geom.DistanceBodies(u, moved).Dist; d < -2e-7 {
			t.Fatalf("the move by %v along %v leaves %v", -g.Dist, g.Push, d)
		}
		if all++; g.Dist > want-1e-5 {
			best++
		}
	})
	// An upper bound that is seldom the least would be of little use.
	if best*2 < all {
		t.Errorf("the least move was found in %d of %d cases", best, all)
	}
}
