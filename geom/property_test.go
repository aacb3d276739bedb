package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// noise is what rounding may do to a distance between the generated shapes, whose
// coordinates stay below 200 mm: some tens of 2^-53 * 200 = 2e-14 mm, and the 1e-9 mm
// below which distances are 0.
const noise = 2e-9

// shallowNoise is the same for depths of generated shapes with very shallow arcs, which
// are followed by chords within 1e-8 mm, or their centres rounded to 2e-9 mm.
const shallowNoise = 3e-8

func TestDistanceSurvivesMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlaced().Draw(t, "a"), genPlaced().Draw(t, "b")
		pose := genPose().Draw(t, "pose")
		g, m := geom.Distance(a, b), geom.Distance(a.Transform(pose), b.Transform(pose))
		if g.Exact && m.Exact && math.Abs(g.Dist-m.Dist) > shallowNoise {
			t.Fatalf("gap %g, after the motion %g", g.Dist, m.Dist)
		}
		if (g.Dist < -noise) != (m.Dist < -noise) && math.Abs(g.Dist-m.Dist) > 1e-6 {
			t.Fatalf("gap %g, after the motion %g", g.Dist, m.Dist)
		}
	})
}

func TestDistanceIsSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlaced().Draw(t, "a"), genPlaced().Draw(t, "b")
		g, h := geom.Distance(a, b), geom.Distance(b, a)
		if g.Exact && h.Exact && math.Abs(g.Dist-h.Dist) > shallowNoise {
			t.Fatalf("gap %g one way, %g the other", g.Dist, h.Dist)
		}
		if (g.Dist < 0) != (h.Dist < 0) && math.Abs(g.Dist-h.Dist) > 1e-6 {
			t.Fatalf("gap %g one way, %g the other", g.Dist, h.Dist)
		}
	})
}

// TestDistanceFollowsMoves: a move by s changes a distance by at most |s|, and any point
// of b is at least as far from a as b is.
func TestDistanceFollowsMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlaced().Draw(t, "a"), genPlaced().Draw(t, "b")
		s := genPoint(8).Draw(t, "move")
		d := geom.Separation(a, b)
		moved := geom.Separation(a, b.Transform(geom.Pose2{Shift: s}))
		if math.Abs(moved-d) > s.Norm()+noise {
			t.Fatalf("distance %g, after a move by %g: %g", d, s.Norm(), moved)
		}
		for _, v := range b.Outer.Vertices() {
			if p := math.Max(0, geom.DistancePoint(a, v.P).Dist); p < d-noise {
				t.Fatalf("distance %g, but vertex %v of b is at %g", d, v.P, p)
			}
		}
	})
}

// TestConvexDepth: the move parts the pair (checkGap), and the deficit over all directions
// of a fine fan, found by supports sampled on the boundary, is nowhere less than the depth.
// 0.999 of the move leaves them overlapping, if a thousandth of it is more than what counts
// as touching.
func TestConvexDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := geom.RegionOf(genConvex().Draw(t, "a"))
		b := geom.RegionOf(genConvex().Draw(t, "b").Transform(geom.Pose2{Shift: genPoint(6).Draw(t, "shift")}))
		if !a.Outer.IsConvex() || !b.Outer.IsConvex() {
			t.Fatalf("not convex: %v %v", a.Outer.Vertices(), b.Outer.Vertices())
		}
		g := geom.Distance(a, b)
		checkGap(t, a, b, g)
		if !g.Exact {
			t.Fatal("not exact")
		}
		if g.Dist >= 0 {
			return
		}
		if d := geom.Distance(a, b.Transform(geom.Pose2{Shift: g.Push.Mul(-0.999 * g.Dist)})).Dist; -0.001*g.Dist > 2*geom.Coincident && d > 0.001*g.Dist/2 {
			t.Fatalf("depth %g, but after 0.999 of the move the gap is %g", -g.Dist, d)
		}
		pa, pb := a.Outer.Flatten(1e-4), b.Outer.Flatten(1e-4)
		least := math.Inf(1)
		for k := range 720 {
			sn, cs := math.Sincos(float64(k) * math.Pi / 360)
			u := pt(cs, sn)
			least = math.Min(least, reach(pa, u)+reach(pb, u.Mul(-1)))
		}
		// The polygons lie inside, by at most 1e-4 each.
		if least < -g.Dist-2e-4-1e-9 {
			t.Fatalf("depth %g, but a move by %g parts them", -g.Dist, least)
		}
		// Within half a step of the best direction the deficit grows by less than the
		// reach of the shapes times the angle.
		if least > -g.Dist+60*math.Pi/720 {
			t.Fatalf("depth %g, but no direction does with less than %g", -g.Dist, least)
		}
	})
}

func reach(pts []r2.Point, u r2.Point) float64 {
	h := math.Inf(-1)
	for _, p := range pts {
		h = math.Max(h, p.Dot(u))
	}
	return h
}

// TestPredicatesAgreeWithDistance: IsCloser, Intersects, the prepared forms and shifts say
// what Distance says.
func TestPredicatesAgreeWithDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlaced().Draw(t, "a"), genPlaced().Draw(t, "b")
		g := geom.Distance(a, b)
		if got := geom.Intersects(a, b); got != (g.Dist <= 0) {
			t.Fatalf("Intersects = %v at %g", got, g.Dist)
		}
		if got, want := geom.Separation(a, b), math.Max(0, g.Dist); math.Abs(got-want) > 1e-12*(1+want) {
			t.Fatalf("Separation = %g at %g", got, g.Dist)
		}
		limit := genNumber(-4, 16).Draw(t, "limit")
		if got := geom.IsCloser(a, b, limit); got != (g.Dist < limit) && math.Abs(g.Dist-limit) > noise {
			t.Fatalf("IsCloser(%g) = %v at %g", limit, got, g.Dist)
		}
		p, q := geom.Prepare(a), geom.Prepare(b)
		if h := p.Distance(q); h != g {
			t.Fatalf("prepared: %v, plain %v", h, g)
		}
		s := genPoint(8).Draw(t, "shift")
		moved := geom.Distance(a, b.Transform(geom.Pose2{Shift: s}))
		at := p.DistanceAt(q, s)
		if at.Exact && moved.Exact && math.Abs(at.Dist-moved.Dist) > noise {
			t.Fatalf("shifted by %v: %g, moved %g", s, at.Dist, moved.Dist)
		}
		if p.IntersectsAt(q, s) != (at.Dist <= 0) || math.Abs(p.SeparationAt(q, s)-math.Max(0, at.Dist)) > noise {
			t.Fatalf("shifted queries disagree at %g", at.Dist)
		}
		if limit > 0 && p.IsCloserAt(q, s, limit) != (at.Dist < limit) && math.Abs(at.Dist-limit) > noise {
			t.Fatalf("IsCloserAt(%g) disagrees at %g", limit, at.Dist)
		}
		if d := geom.DistanceSets([]geom.Region{a}, []geom.Region{b}); d != g {
			t.Fatalf("sets of one: %v, plain %v", d, g)
		}
	})
}

// TestContainsAgreesWithPointDistance: a point lies in the region exactly if its distance
// is not positive, and its nearest boundary point is as far as told.
func TestContainsAgreesWithPointDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := genPlaced().Draw(t, "a")
		p := genPoint(24).Draw(t, "p")
		if rapid.Bool().Draw(t, "on the boundary") {
			s := a.Outer.Seg(rapid.IntRange(0, a.Outer.Len()-1).Draw(t, "segment"))
			p = s.At(genNumber(0, 1).Draw(t, "share"))
			if !a.Contains(p) {
				t.Fatalf("boundary point %v is not contained", p)
			}
		}
		g := geom.DistancePoint(a, p)
		if a.Contains(p) != (g.Dist <= 0) {
			t.Fatalf("Contains = %v at %g", a.Contains(p), g.Dist)
		}
		if d := dist(g.A, p); math.Abs(d-math.Abs(g.Dist)) > noise {
			t.Fatalf("witness at %g, distance %g", d, g.Dist)
		}
		moved := p.Sub(g.Push.Mul(g.Dist))
		if dist(moved, g.A) > noise {
			t.Fatalf("p - Dist·Push = %v, not %v", moved, g.A)
		}
		if polyContains(rings(a, 1e-3), p) != (g.Dist <= 0) && math.Abs(g.Dist) > 1.1e-3 {
			t.Fatalf("polygon disagrees at %g", g.Dist)
		}
		k := geom.DistanceSets([]geom.Region{a}, nil)
		if !math.IsInf(k.Dist, 1) {
			t.Fatalf("no set: %v", k)
		}
	})
}

// TestSetsBehaveAsUnions: the distance of sets is the least of the pairs, and where they
// overlap the move parts every pair.
func TestSetsBehaveAsUnions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a, b []geom.Region
		for range rapid.IntRange(0, 3).Draw(t, "na") {
			a = append(a, genPlaced().Draw(t, "a"))
		}
		for range rapid.IntRange(0, 3).Draw(t, "nb") {
			b = append(b, genPlaced().Draw(t, "b"))
		}
		g := geom.DistanceSets(a, b)
		least := math.Inf(1)
		for _, p := range a {
			for _, q := range b {
				least = math.Min(least, geom.Separation(p, q))
			}
		}
		if math.IsInf(least, 1) {
			if !math.IsInf(g.Dist, 1) {
				t.Fatalf("gap of nothing: %v", g)
			}
			return
		}
		if math.Abs(math.Max(0, g.Dist)-least) > noise {
			t.Fatalf("gap %g, least of the pairs %g", g.Dist, least)
		}
		if g.Dist < 0 {
			for _, p := range a {
				for _, q := range b {
					m := q.Transform(geom.Pose2{Shift: g.Push.Mul(-g.Dist)})
					if d := geom.Distance(p, m).Dist; d < -noise {
						t.Fatalf("after the move a pair overlaps by %g", -d)
					}
				}
			}
		}
	})
}

// TestAccuracyAcrossSizes measures the promise: shapes of 0.1 mm to 2 m at coordinates up
// to 10 m. Two rounded rectangles face each other along their common middle line, turned
// and placed anywhere: their distance is the gap between them, whatever the pose.
func TestAccuracyAcrossSizes(t *testing.T) {
	worst, worstDepth := 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(-1, 3.3).Draw(t, "log size"))
		gap := size * rapid.Float64Range(-0.4, 2).Draw(t, "gap")
		r := size * genNumber(0, 0.5).Draw(t, "radius")
		pose := geom.Pose2{Turn: genTurn(t), Shift: genPoint(1e4).Draw(t, "place")}
		a := geom.RoundedRectangle(pt(0, 0), size, size, r)
		b := geom.RoundedRectangle(pt(size+gap, 0), size, size, r)
		g := geom.DistanceLoops(a.Transform(pose), b.Transform(pose))
		e := math.Abs(g.Dist - gap)
		if gap < 0 {
			worstDepth = math.Max(worstDepth, e)
		} else {
			worst = math.Max(worst, e)
		}
		// A corner rounded by much less than a micrometre has its ends rounded to 2e-12 mm,
		// which tilts its normals; anything larger stays far below this.
		if e > 1e-8 {
			t.Fatalf("gap %g measured as %g: error %g", gap, g.Dist, e)
		}
		if math.Abs(math.Hypot(g.Push.X, g.Push.Y)-1) > 1e-12 {
			t.Fatalf("push %v", g.Push)
		}
	})
	t.Logf("worst error %.2g mm apart, %.2g mm overlapping", worst, worstDepth)
}
