package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// plateWithHole is 40 by 40 with a hole of radius 5 about the origin, from z 0 to 2.
func plateWithHole(t testing.TB) geom.Upright {
	return geom.Upright{
		Plan: []geom.Region{mustRegion(t, geom.Rectangle(pt(0, 0), 40, 40), geom.Circle(pt(0, 0), 5))},
		Z:    r1.Interval{Lo: 0, Hi: 2},
	}
}

func TestTiltedByHand(t *testing.T) {
	plate := plateWithHole(t)
	ell := geom.Upright{ // an L: 20 by 20 less the quarter x > 5, y > 5
		Plan: []geom.Region{mustRegion(t, mustLoop(t, 0, 0, 0, 20, 0, 0, 20, 5, 0, 5, 5, 0, 5, 20, 0, 0, 20, 0))},
		Z:    r1.Interval{Lo: 0, Hi: 10},
	}
	ball := func(x, y, z, r float64) geom.Convex { return must(geom.NewSphere(vec(x, y, z), r)) }
	rod := func(a, b r3.Vector, r float64) geom.Convex { return must(geom.NewCapsule(a, b, r)) }
	lean := func(deg, x, z float64) geom.Pose3 {
		p := geom.RotY(s1.Angle(deg) * s1.Degree)
		p.T = vec(x, 0, z)
		return p
	}
	s30, c30 := 0.5, math.Sqrt(3)/2
	cases := []struct {
		name string
		u    geom.Upright
		k    geom.Convex
		want float64
		tol  float64
	}{
		// In the middle of the hole: the rim is 5 away all round.
		{"ball in the hole", plate, ball(0, 0, 1, 2), 3, 1e-7},
		{"ball off the middle", plate, ball(1, 0, 1, 2), 2, 1e-7},
		// Over the hole, 3 above the plate: the rim is 5 away in plan, hypot(5, 3) less 2.
		{"ball over the hole", plate, ball(0, 0, 5, 2), math.Sqrt(34) - 2, 1e-7},
		// Over the plate: only the height counts.
		{"ball over the plate", plate, ball(12, 3, 5, 2), 1, 1e-7},
		{"ball touches the plate", plate, ball(12, 3, 4, 2), 0, 1e-7},
		// A ball in the notch of the L touches neither wall: 4 from both, less 1.
		{"ball in the notch", ell, ball(9, 9, 5, 1), 3, 1e-7},
		{"ball outside the notch", ell, ball(9, 24, 5, 1), math.Sqrt(32) - 1, 1e-7}, // corner (5, 20): 4, 4
		// An upright pin through the hole, as a rod: 5 - 1 - 1.
		{"pin", plate, rod(vec(1, 0, -9), vec(1, 0, 9), 1), 3, 1e-7},
		// A pin of radius 1 leaning by 30° in the plane y = 0, its axis through (0, 0, 1).
		// Nearest are the rims: at z = 2 the point (5, 0) is 5·cos30 - 1·sin30 from the axis.
		{"leaning pin", plate, rod(vec(-10*s30, 0, 1-10*c30), vec(10*s30, 0, 1+10*c30), 1), 5*c30 - s30 - 1, 1e-7},
		// The same as a cylinder: its side is met, not its ends.
		{"leaning cylinder", plate, must(geom.NewCylinder(1, 20, lean(30, 0, 1))), 5*c30 - s30 - 1, 1e-7},
		// A pin of radius 4.5 leaning by 30° fouls both rims alike: the two points (5, 0, 2)
		// and (-5, 0, 0) lie 5·cos30 - sin30 from the axis. No move in x frees both, so that
		// it has to go up or down. Only the sign is asked for here.
		{"jammed pin", plate, must(geom.NewCylinder(4.5, 20, lean(30, 0, 1))), math.NaN(), 0},
		// A ball of radius 2 in the hole, 4 off the middle: 1 deep, back to the middle.
		{"ball into the rim", plate, ball(4, 0, 1, 2), -1, 1e-5},
		// 1 deep in the top of the plate.
		{"ball into the plate", plate, ball(12, 3, 3, 2), -1, 1e-5},
		{"ball into the notch's wall", ell, ball(5.5, 12, 5, 1), -0.5, 1e-5},
	}
	for _, c := range cases {
		g := geom.DistanceBodies(c.u, c.k)
		f := geom.DistanceBodies(c.k, c.u)
		if math.IsNaN(c.want) {
			if !(g.Dist < -0.1) || !(f.Dist < -0.1) {
				t.Errorf("%s: %v, want an overlap", c.name, g.Dist)
			}
		} else {
			nearly(t, c.name, g.Dist, c.want, c.tol)
			nearly(t, c.name+" exchanged", f.Dist, c.want, c.tol)
			if c.want >= 0 && !g.Exact {
				t.Errorf("%s: not exact", c.name)
			}
		}
		nearly(t, c.name+": separation", geom.SeparationBodies(c.u, c.k), max(0, g.Dist), 1e-7)
		checkMove(t, c.name, c.u, c.k, g)
	}
}

// checkMove asks that the move of an overlap parts u and k.
func checkMove(t interface{ Errorf(string, ...any) }, name string, u geom.Upright, k geom.Convex, g geom.Gap3) {
	if !(g.Dist < 0) {
		return
	}
	moved := must(k.Transform(geom.Shift3(g.Push.Mul(-g.Dist + 1e-6))))
	if d := geom.SeparationBodies(u, moved); !(d > 0) {
		t.Errorf("%s: the move %v by %v does not part them", name, g.Push, -g.Dist)
	}
}

// concavePlan draws plans with hollows: an L, a ring, a plate with holes, a slot with
// round ends cut in.
func concavePlan(size float64) *rapid.Generator[geom.Region] {
	return rapid.Custom(func(t *rapid.T) geom.Region {
		s := size
		var r geom.Region
		switch rapid.IntRange(0, 3).Draw(t, "plan") {
		case 0:
			k := genNumber(0.2, 0.8).Draw(t, "k")
			r = geom.RegionOf(must(geom.NewLoop([]geom.Vertex{
				{P: pt(0, 0)}, {P: pt(s, 0)}, {P: pt(s, k*s)}, {P: pt(k*s, k*s)}, {P: pt(k*s, s)}, {P: pt(0, s)}})))
		case 1:
			r = geom.RegionOf(geom.Circle(pt(0, 0), s), geom.Circle(pt(0.1*s, 0), genNumber(0.1, 0.8).Draw(t, "k")*s))
		case 2:
			r = geom.RegionOf(geom.RoundedRectangle(pt(0, 0), 2*s, s, 0.2*s),
				geom.Circle(pt(0.5*s, 0), 0.3*s), geom.Rectangle(pt(-0.5*s, 0), 0.3*s, 0.5*s))
		default:
			// A square with a round bay of half-circle form cut into its top.
			r = geom.RegionOf(must(geom.NewLoop([]geom.Vertex{
				{P: pt(-s, -s)}, {P: pt(s, -s)}, {P: pt(s, s)}, {P: pt(0.6*s, s), Bulge: -1}, {P: pt(-0.6*s, s)}, {P: pt(-s, s)}})))
		}
		turn := s1.Angle(genNumber(-180, 180).Draw(t, "turn")) * s1.Degree
		return r.Transform(geom.Pose2{Turn: turn})
	})
}

// The distance to a concave body is held against samples: the plan's boundary and inside
// are strewn with points so that no point of the plan's boundary is farther than step from
// one. The least distance from k to the upright lines over them is at most step over
// the truth, and never under it.
func TestTiltedAgainstSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const size = 10
		u := geom.Upright{
			Plan: []geom.Region{concavePlan(size).Draw(t, "plan")},
			Z:    r1.Interval{Lo: 0, Hi: genNumber(0, 5).Draw(t, "height")},
		}
		k := genSolid(size, size).Draw(t, "k")
		g := geom.DistanceBodies(u, k.body)
		const step = size / 20.0
		best := math.Inf(1)
		line := func(p r2.Point) {
			rod := must(geom.NewCapsule(vec(p.X, p.Y, u.Z.Lo), vec(p.X, p.Y, u.Z.Hi), 0))
			best = min(best, geom.SeparationBodies(rod, k.body))
		}
		for l := range u.Plan[0].Loops() {
			for _, s := range l.Segs() {
				n := math.Ceil(s.Length() / step)
				for i := 0.0; i < n; i++ {
					line(s.At((i + 0.5) / n))
				}
			}
		}
		box := u.Plan[0].Bound()
		for x := box.Lo.X; x < box.Hi.X; x += 2 * step {
			for y := box.Lo.Y; y < box.Hi.Y; y += 2 * step {
				if u.Plan[0].Contains(pt(x, y)) {
					line(pt(x, y))
				}
			}
		}
		d := max(0, g.Dist)
		if d > best+1e-6 || d < best-2*step {
			t.Fatalf("%s: distance %v, samples say %v\n%+v", k.name, d, best, g)
		}
		if g.Dist >= 0 {
			if !g.Exact {
				t.Fatalf("not exact: %+v", g)
			}
			if o := k.outside(g.B); o > 1e-6 {
				t.Fatalf("%s: B is outside by %v: %+v", k.name, o, g)
			}
			if !u.Plan[0].Contains(pt(g.A.X, g.A.Y)) {
				// Within a micrometre of the plan will do.
				if e := geom.DistancePoint(u.Plan[0], pt(g.A.X, g.A.Y)).Dist; e > 1e-6 {
					t.Fatalf("A is off the plan by %v: %+v", e, g)
				}
			}
			if g.A.Z < u.Z.Lo-1e-6 || g.A.Z > u.Z.Hi+1e-6 {
				t.Fatalf("A is off the heights: %+v", g)
			}
		}
		checkMove(t, k.name, u, k.body, g)
	})
}

// A convex plan cut in two is the same set, but asked about as a concave one.
func TestTiltedEqualsConvex(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := genSolid(10, 10).Draw(t, "k")
		z := r1.Interval{Lo: -1, Hi: genNumber(-1, 5).Draw(t, "top")}
		whole := geom.Upright{Plan: []geom.Region{geom.RegionOf(geom.Rectangle(pt(0, 0), 12, 8))}, Z: z}
		cut := geom.Upright{Plan: []geom.Region{
			geom.RegionOf(geom.Rectangle(pt(-2, 0), 8, 8)), geom.RegionOf(geom.Rectangle(pt(4, 0), 4, 8)),
		}, Z: z}
		g, h := geom.DistanceBodies(whole, k.body), geom.DistanceBodies(cut, k.body)
		if math.Abs(max(0, g.Dist)-max(0, h.Dist)) > 1e-6 {
			t.Fatalf("%s: whole %+v\ncut %+v", k.name, g, h)
		}
		// The depth of the concave one is a bound from above.
		if g.Dist < 0 && h.Dist > g.Dist+1e-6 {
			t.Fatalf("%s: less than the least move: %v, whole %v", k.name, h.Dist, g.Dist)
		}
	})
}
