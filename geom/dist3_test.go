package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestUprightByHand(t *testing.T) {
	body := func(l geom.Loop, lo, hi float64) geom.Upright {
		return geom.Upright{Plan: []geom.Region{geom.RegionOf(l)}, Z: r1.Interval{Lo: lo, Hi: hi}}
	}
	base := body(geom.Rectangle(pt(0, 0), 10, 10), 0, 2)
	ring := geom.Upright{Plan: []geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 20), geom.Circle(pt(0, 0), 5))}, Z: r1.Interval{Lo: 0, Hi: 2}}
	cases := []struct {
		name string
		a, b geom.Upright
		want float64
		push r3.Vector
	}{
		{"over it", base, body(geom.Circle(pt(0, 0), 1), 5, 6), 3, vec(0, 0, 1)},
		{"under it", base, body(geom.Circle(pt(0, 0), 1), -6, -5), 5, vec(0, 0, -1)},
		{"beside it", base, body(geom.Circle(pt(9, 0), 1), 1, 6), 3, vec(1, 0, 0)},
		{"beside and over", base, body(geom.Circle(pt(9, 0), 1), 6, 7), 5, vec(0.6, 0, 0.8)}, // 3, 4
		{"on it", base, body(geom.Circle(pt(0, 0), 1), 2, 6), 0, vec(0, 0, 1)},
		{"on it, by sums that round", base, body(geom.Circle(pt(0, 0), 1), 0.1+0.2+1.7, 6), 0, vec(0, 0, 1)},
		{"against its side", base, body(geom.Rectangle(pt(6, 0), 2, 2), 1, 6), 0, vec(1, 0, 0)},
		{"sunk in from above by 0.5", base, body(geom.Circle(pt(0, 0), 1), 1.5, 6), -0.5, vec(0, 0, 1)},
		{"sunk in from the side by 0.25", base, body(geom.Rectangle(pt(5.75, 0), 2, 2), 0.5, 6), -0.25, vec(1, 0, 0)},
		{"in the hole", ring, body(geom.Circle(pt(1, 0), 3), -9, 9), 1, vec(-1, 0, 0)},
		{"over the hole", ring, body(geom.Circle(pt(1, 0), 1), 6, 9), 5, vec(-0.6, 0, 0.8)}, // 3 to the rim, 4 up
		{"itself", base, base, -2, r3.Vector{}},
	}
	for _, c := range cases {
		g := geom.DistanceBodies(c.a, c.b)
		nearly(t, c.name, g.Dist, c.want, 1e-9)
		if c.push != (r3.Vector{}) {
			nearlyAt(t, c.name+": push", g.Push, c.push, 1e-9)
		}
		nearlyAt(t, c.name+": B - A", g.B.Sub(g.A), g.Push.Mul(g.Dist), 1e-9)
		f := geom.DistanceBodies(c.b, c.a)
		nearly(t, c.name+" exchanged", f.Dist, c.want, 1e-9)
		nearly(t, c.name+": separation", geom.SeparationBodies(c.a, c.b), max(0, c.want), 1e-9)
		if !g.Exact {
			t.Errorf("%s: not exact", c.name)
		}
	}
}

func TestEmptyBodies(t *testing.T) {
	box := must(geom.NewBox(vec(1, 1, 1), geom.Pose3{}))
	plan := []geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 1))}
	whole := geom.Upright{Plan: plan, Z: r1.Interval{Lo: 0, Hi: 1}}
	nothing := []geom.Body{
		nil, geom.Convex{}, geom.Upright{}, geom.Upright{Plan: plan, Z: r1.EmptyInterval()},
		geom.Upright{Plan: []geom.Region{{}}, Z: whole.Z}, geom.Upright{Plan: plan, Z: r1.Interval{Lo: math.NaN(), Hi: 1}},
	}
	for i, n := range nothing {
		for _, b := range []geom.Body{box, whole, nothing[(i+1)%len(nothing)]} {
			for _, d := range []float64{geom.DistanceBodies(n, b).Dist, geom.DistanceBodies(b, n).Dist, geom.SeparationBodies(n, b)} {
				if !math.IsInf(d, 1) {
					t.Errorf("nothing %d and %T: distance %v, want +Inf", i, b, d)
				}
			}
		}
		if n != nil && (!n.IsEmpty() || !n.Bound().IsEmpty() || n.Support(vec(1, 0, 0)) != vec(0, 0, 0)) {
			t.Errorf("nothing %d is something", i)
		}
	}
}

// Upright bodies against the plan and the heights, and their witness points.
func TestUprightAgainstPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(l string) geom.Upright {
			z := genNumber(-8, 8).Draw(t, l+" z")
			r := concavePlan(10).Draw(t, l).Transform(geom.Pose2{Shift: genPoint(16).Draw(t, l+" at")})
			return geom.Upright{Plan: []geom.Region{r}, Z: r1.Interval{Lo: z, Hi: z + genNumber(0, 5).Draw(t, l+" h")}}
		}
		a, b := draw("a"), draw("b")
		g := geom.DistanceBodies(a, b)
		dz := max(0, b.Z.Lo-a.Z.Hi, a.Z.Lo-b.Z.Hi)
		want := math.Hypot(geom.Separation(a.Plan[0], b.Plan[0]), dz)
		if math.Abs(max(0, g.Dist)-want) > 1e-9 || math.Abs(geom.SeparationBodies(a, b)-want) > 1e-9 {
			t.Fatalf("distance %v, separation %v, want %v", g.Dist, geom.SeparationBodies(a, b), want)
		}
		if g.Dist >= 0 && !g.Exact {
			t.Fatalf("not exact: %+v", g)
		}
		in := func(u geom.Upright, p r3.Vector) bool {
			return geom.DistancePoint(u.Plan[0], pt(p.X, p.Y)).Dist <= 1e-6 && p.Z >= u.Z.Lo-1e-9 && p.Z <= u.Z.Hi+1e-9
		}
		if !in(a, g.A) || !in(b, g.B) {
			t.Fatalf("witnesses off the bodies: %+v", g)
		}
		if g.Dist < 0 {
			m := g.Push.Mul(-g.Dist + 1e-6)
			moved := b.Transform(geom.Pose2{Shift: pt(m.X, m.Y)}, m.Z)
			if d := geom.DistanceBodies(a, moved).Dist; d < 0 {
				t.Fatalf("the move %v by %v leaves an overlap of %v", g.Push, -g.Dist, -d)
			}
		}
	})
}

// Moving both bodies alike changes nothing but the points; far out too.
func TestDistanceBodiesRigidMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genSolid(10, 10).Draw(t, "a"), genSolid(10, 10).Draw(t, "b")
		p := genPose3(1e4).Draw(t, "motion")
		g := geom.DistanceBodies(a.body, b.body)
		h := geom.DistanceBodies(must(a.body.Transform(p)), must(b.body.Transform(p)))
		f := geom.DistanceBodies(b.body, a.body)
		if math.Abs(g.Dist-h.Dist) > 1e-6 || math.Abs(g.Dist-f.Dist) > 1e-6 {
			t.Fatalf("%s and %s: %v, moved %v, exchanged %v", a.name, b.name, g.Dist, h.Dist, f.Dist)
		}
		// Growing both by r takes 2r off, at any depth.
		const r = 0.5
		k := geom.DistanceBodies(must(a.body.Grow(r)), must(b.body.Grow(r)))
		if math.Abs(g.Dist-2*r-k.Dist) > 1e-6 {
			t.Fatalf("%s and %s: %v, grown by %v each %v", a.name, b.name, g.Dist, r, k.Dist)
		}
	})
}

// boxParts returns the corners, and the half edges and axes, of a box for the second method.
type boxParts struct{ c, x, y, z r3.Vector }

// Two boxes by a second method: the distance from all corners to all boxes and between
// all edges, which is the distance of polyhedra that are apart; and the depth from the 15
// separating axes (Gottschalk, Lin, Manocha 1996).
func TestBoxesBySecondMethod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(l string) (boxParts, geom.Convex) {
			p := genPose3(8).Draw(t, l)
			s := vec(genNumber(0.5, 8).Draw(t, "x"), genNumber(0.5, 8).Draw(t, "y"), genNumber(0.5, 8).Draw(t, "z"))
			return boxParts{p.T, p.R[0].Mul(s.X / 2), p.R[1].Mul(s.Y / 2), p.R[2].Mul(s.Z / 2)}, must(geom.NewBox(s, p))
		}
		a, ka := draw("a")
		b, kb := draw("b")
		axes := []r3.Vector{a.x, a.y, a.z, b.x, b.y, b.z}
		for _, u := range axes[:3] {
			for _, v := range axes[3:] {
				axes = append(axes, u.Cross(v))
			}
		}
		width := math.Inf(-1) // the widest gap between parallel planes
		for _, n := range axes {
			if n.Norm() < 1e-9 {
				continue
			}
			n = n.Normalize()
			reach := 0.0
			for _, e := range []r3.Vector{a.x, a.y, a.z, b.x, b.y, b.z} {
				reach += math.Abs(e.Dot(n))
			}
			width = max(width, math.Abs(b.c.Sub(a.c).Dot(n))-reach)
		}
		want := width
		if width > 0 {
			want = boxFeatures(a, b)
		}
		if got := geom.DistanceBodies(ka, kb).Dist; math.Abs(got-want) > 1e-7 && !(math.Abs(want) < 1e-7 && math.Abs(got) < 1e-7) {
			t.Fatalf("distance %.12g, by the second method %.12g", got, want)
		}
	})
}

func boxFeatures(a, b boxParts) float64 {
	best := math.Inf(1)
	corner := func(p boxParts, i int) r3.Vector {
		s := func(bit int) float64 { return float64(i>>bit&1)*2 - 1 }
		return p.c.Add(p.x.Mul(s(0))).Add(p.y.Mul(s(1))).Add(p.z.Mul(s(2)))
	}
	inside := func(p boxParts, q r3.Vector) float64 { // distance of a point from a box
		d := q.Sub(p.c)
		for _, e := range []r3.Vector{p.x, p.y, p.z} {
			k := max(-1, min(1, q.Sub(p.c).Dot(e)/e.Norm2()))
			d = d.Sub(e.Mul(k))
		}
		return d.Norm()
	}
	for i := range 8 {
		best = min(best, inside(a, corner(b, i)), inside(b, corner(a, i)))
	}
	edge := func(p boxParts, k int) (r3.Vector, r3.Vector) {
		bit := k / 4
		rest := k % 4
		low := rest&(1<<bit-1) | (rest>>bit)<<(bit+1)
		return corner(p, low), corner(p, low|1<<bit)
	}
	for i := range 12 {
		for j := range 12 {
			p, q := edge(a, i)
			u, v := edge(b, j)
			best = min(best, edgeDistance(p, q, u, v))
		}
	}
	return best
}

// edgeDistance takes the common normal where it meets both edges inside; ends are covered
// by the corners against the boxes.
func edgeDistance(p, q, u, v r3.Vector) float64 {
	n := q.Sub(p).Cross(v.Sub(u))
	if n.Norm2() < 1e-18 {
		return math.Inf(1)
	}
	w := u.Sub(p)
	s := w.Cross(v.Sub(u)).Dot(n) / n.Norm2()
	k := w.Cross(q.Sub(p)).Dot(n) / n.Norm2()
	if s < 0 || s > 1 || k < 0 || k > 1 {
		return math.Inf(1)
	}
	return math.Abs(w.Dot(n)) / n.Norm()
}
