package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func region(outer geom.Loop, holes ...geom.Loop) geom.Region { return geom.RegionOf(outer, holes...) }

// TestDistanceByHand: every expected number is worked out beside its case.
func TestDistanceByHand(t *testing.T) {
	sq := geom.Rectangle(pt(0, 0), 10, 10)
	ring := region(geom.Circle(pt(0, 0), 10), geom.Circle(pt(0, 0), 6))
	tests := []struct {
		name string
		a, b geom.Region
		want float64
	}{
		{"squares side by side: 12 - 5 - 5", region(sq), region(geom.Rectangle(pt(12, 0), 10, 10)), 2},
		{"squares corner to corner: steps 3 and 4", region(sq), region(geom.Rectangle(pt(13, 14), 10, 10)), 5},
		{"squares touching along a side", region(sq), region(geom.Rectangle(pt(10, 3), 10, 10)), 0},
		{"squares touching at a corner", region(sq), region(geom.Rectangle(pt(10, 10), 10, 10)), 0},
		{"squares overlapping by 1 in x, 10 in y", region(sq), region(geom.Rectangle(pt(9, 0), 10, 10)), -1},
		// Out through the near side: from its far edge at -1 to the side at -5... the inner
		// square spans -3..-1; leaving to the left it must move until its right edge is at -5.
		{"square within square, left of the middle", region(sq), region(geom.Rectangle(pt(-2, 0), 2, 2)), -4},
		{"circles apart: 5 - 1 - 2 on a 3-4-5 triangle", region(geom.Circle(pt(0, 0), 1)), region(geom.Circle(pt(3, 4), 2)), 2},
		{"circles touching: 5 = 2 + 3", region(geom.Circle(pt(0, 0), 2)), region(geom.Circle(pt(3, 4), 3)), 0},
		{"circles overlapping: 5 - 3 - 3", region(geom.Circle(pt(0, 0), 3)), region(geom.Circle(pt(3, 4), 3)), -1},
		{"concentric circles: 2 + 3", region(geom.Circle(pt(1, 1), 2)), region(geom.Circle(pt(1, 1), 3)), -5},
		{"circle and corner: |(8, 9) - (5, 5)| - 2", region(sq), region(geom.Circle(pt(8, 9), 2)), 3},
		{"circle and side: 9 - 5 - 2", region(sq), region(geom.Circle(pt(9, 1), 2)), 2},
		// The corner (5, 5) lies at √2 from the centre (6, 6), within the radius 2.
		{"circle over a corner", region(sq), region(geom.Circle(pt(6, 6), 2)), math.Sqrt2 - 2},
		{"disk in the hole, eccentric by 2: 6 - 2 - 3", ring, region(geom.Circle(pt(2, 0), 3)), 1},
		{"disk in the hole, concentric: 6 - 3", ring, region(geom.Circle(pt(0, 0), 3)), 3},
		{"disk in the hole, touching: 6 = 1 + 5", ring, region(geom.Circle(pt(1, 0), 5)), 0},
		{"square in the hole: 6 - 3√2", ring, region(geom.Rectangle(pt(0, 0), 6, 6)), 6 - 3*math.Sqrt2},
		{"ring about a ring: 6 - 5", ring, region(geom.Circle(pt(0, 0), 5), geom.Circle(pt(0, 0), 4)), 1},
		{"disk filling the hole exactly", ring, region(geom.Circle(pt(0, 0), 6)), 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := geom.Distance(tt.a, tt.b)
			near(t, "distance", g.Dist, tt.want, 1e-12)
			checkGap(t, tt.a, tt.b, g)
			back := geom.Distance(tt.b, tt.a)
			near(t, "distance the other way", back.Dist, tt.want, 1e-12)
			if !g.Exact {
				t.Error("not exact")
			}
		})
	}
}

// TestOverlapConcaveByHand: the peg of 2 mm stands 0.1 mm deep in the wall of a slot of
// 3 mm that is open on top. Moving it by 0.1 mm off the wall frees it.
//
//	+---+     +---+
//	|   |##   |   |   ## the peg, x from -1.6 to 0.4; the slot, x from -1.5 to 1.5
//	|   |##   |   |
//	|   +-----+   |
//	+-------------+
func TestOverlapConcaveByHand(t *testing.T) {
	u := mustLoop(t, -5, 0, 0, 5, 0, 0, 5, 10, 0, 1.5, 10, 0, 1.5, 2, 0, -1.5, 2, 0, -1.5, 10, 0, -5, 10, 0)
	peg := geom.Rectangle(pt(-0.6, 6), 2, 6)
	g := geom.DistanceLoops(u, peg)
	near(t, "depth", g.Dist, -0.1, 1e-8)
	near(t, "push", g.Push.X, 1, 1e-6)
	checkGap(t, region(u), region(peg), g)
	// A peg of the slot's very width touches both walls and the floor.
	snug := geom.DistanceLoops(u, geom.Rectangle(pt(0, 5), 3, 6))
	if snug.Dist != 0 || !snug.Exact {
		t.Errorf("snug peg: %+v", snug)
	}
}

// checkGap checks what a gap promises, by measuring again.
func checkGap(t interface {
	Helper()
	Errorf(string, ...any)
}, a, b geom.Region, g geom.Gap) {
	t.Helper()
	if math.IsNaN(g.Dist) || math.IsNaN(g.A.X+g.A.Y+g.B.X+g.B.Y+g.Push.X+g.Push.Y) {
		t.Errorf("gap %+v is not a number", g)
		return
	}
	if math.IsInf(g.Dist, 1) {
		return
	}
	if n := math.Hypot(g.Push.X, g.Push.Y); math.Abs(n-1) > 1e-9 {
		t.Errorf("push %v has the length %g", g.Push, n)
	}
	if d := geom.DistancePoint(a, g.A).Dist; math.Abs(d) > 1e-7 {
		t.Errorf("A %v is not on the boundary of a: %g", g.A, d)
	}
	if d := geom.DistancePoint(b, g.B).Dist; math.Abs(d) > 1e-7 {
		t.Errorf("B %v is not on the boundary of b: %g", g.B, d)
	}
	if want := g.A.Add(g.Push.Mul(g.Dist)); dist(want, g.B) > 1e-7 {
		t.Errorf("A %v + %g·push %v = %v, not B %v", g.A, g.Dist, g.Push, want, g.B)
	}
	if g.Dist < 0 {
		moved := b.Transform(geom.Pose2{Shift: g.Push.Mul(-g.Dist)})
		if d := geom.Distance(a, moved); d.Dist < -shallowNoise || d.Dist > 1e-7 {
			t.Errorf("after the move by %g along %v the gap is %g", -g.Dist, g.Push, d.Dist)
		}
	}
}

func dist(a, b r2.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// polyDistance is the brute twin: all pairs of sides of two polygons with holes.
func polyDistance(a, b [][]r2.Point) float64 {
	best := math.Inf(1)
	for _, ra := range a {
		for i := range ra {
			for _, rb := range b {
				for j := range rb {
					best = math.Min(best, sideDistance(ra[i], ra[(i+1)%len(ra)], rb[j], rb[(j+1)%len(rb)]))
				}
			}
		}
	}
	if best > 0 && (polyContains(a, b[0][0]) || polyContains(b, a[0][0])) {
		return 0
	}
	return best
}

func polyContains(rings [][]r2.Point, p r2.Point) bool {
	in := false
	for _, r := range rings {
		for i, j := 0, len(r)-1; i < len(r); j, i = i, i+1 {
			if (r[i].Y > p.Y) != (r[j].Y > p.Y) && p.X < (r[j].X-r[i].X)*(p.Y-r[i].Y)/(r[j].Y-r[i].Y)+r[i].X {
				in = !in
			}
		}
	}
	return in
}

func sideDistance(a, b, c, d r2.Point) float64 {
	turn := func(p, q, r r2.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	if turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0 {
		return 0
	}
	foot := func(p, a, b r2.Point) float64 {
		d := b.Sub(a)
		t := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
		return dist(p, a.Add(d.Mul(t)))
	}
	return math.Min(math.Min(foot(a, c, d), foot(b, c, d)), math.Min(foot(c, a, b), foot(d, a, b)))
}

func rings(r geom.Region, tol float64) (out [][]r2.Point) {
	for l := range r.Loops() {
		out = append(out, l.Flatten(tol))
	}
	return out
}

// TestDistanceAgainstChords: chords of sagitta e lie within e of their arcs, so that the
// distance of the polygons differs from the exact one by at most 2e.
func TestDistanceAgainstChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlaced().Draw(t, "a"), genPlaced().Draw(t, "b")
		const e = 1e-2
		want := polyDistance(rings(a, e), rings(b, e))
		g := geom.Distance(a, b)
		if got := math.Max(0, g.Dist); math.Abs(got-want) > 2*e+1e-9 {
			t.Fatalf("distance %g, polygons %g", got, want)
		}
		checkGap(t, a, b, g)
	})
}
