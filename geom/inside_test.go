package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestInsideByHand(t *testing.T) {
	sq := region(geom.Rectangle(pt(0, 0), 10, 10))
	holed := region(geom.Rectangle(pt(0, 0), 40, 40), geom.Circle(pt(10, 0), 3))
	slot := mustLoop(t, -5, 0, 0, 5, 0, 0, 5, 10, 0, 1.5, 10, 0, 1.5, 2, 0, -1.5, 2, 0, -1.5, 10, 0, -5, 10, 0)
	tests := []struct {
		name         string
		outer, inner geom.Region
		want         float64
		exact        bool
	}{
		{"square in square: 5 - 2 - 1", sq, region(geom.Rectangle(pt(2, 0), 2, 2)), 2, true},
		{"square against the side from inside", sq, region(geom.Rectangle(pt(4, 0), 2, 2)), 0, true},
		{"the square itself", sq, sq, 0, true},
		{"out by one along a whole side: 4 + 2 - 5", sq, region(geom.Rectangle(pt(4, 0), 4, 4)), -1, true},
		{"out at the corner by 3 and 4", sq, region(geom.Rectangle(pt(5, 5), 6, 8)), -5, true},
		{"concentric disk too large: 6 - 5", region(geom.Circle(pt(0, 0), 5)), region(geom.Circle(pt(0, 0), 6)), -1, true},
		{"eccentric disk: 3 + 4 - 5", region(geom.Circle(pt(0, 0), 5)), region(geom.Circle(pt(3, 0), 4)), -2, true},
		// The nearest boundary is the rim of the hole: 10 - 3 - 2.
		{"beside a hole", holed, region(geom.Circle(pt(0, 0), 2)), 5, true},
		// Half of the small disk hangs over the hole: at most its rim at the depth of
		// 1 below the hole's rim, since the hole reaches on behind it.
		{"over the rim of a hole by 1", holed, region(geom.Circle(pt(7, 0), 1)), -1, true},
		// The hole is covered: its middle is 3 from anywhere in the plate.
		{"over a whole hole", holed, region(geom.Circle(pt(10, 0), 5)), -3, true},
		{"hole within hole", holed, region(geom.Circle(pt(10, 0), 6), geom.Circle(pt(10, 0), 4)), 1, true},
		{"hole upon equal hole", holed, region(geom.Circle(pt(10, 0), 6), geom.Circle(pt(10, 0), 3)), 0, true},
		{"plug that fills the hole", holed, region(geom.Circle(pt(10, 0), 3)), -3, true},
		// A bar across the slot: its middle is 1.5 from both walls.
		{"bar across a slot", region(slot), region(geom.Rectangle(pt(0, 6), 6, 1)), -1.5, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := geom.Inside(tt.outer, tt.inner)
			near(t, "Dist", g.Dist, tt.want, 2e-7)
			if g.Exact != tt.exact {
				t.Errorf("Exact = %v", g.Exact)
			}
			if got := geom.ContainsRegion(tt.outer, tt.inner); got != (tt.want >= 0) {
				t.Errorf("ContainsRegion = %v", got)
			}
			if d := dist(g.B, g.A.Add(g.Push.Mul(g.Dist))); d > 1e-9 {
				t.Errorf("B is %g off A + Dist·Push: %+v", d, g)
			}
		})
	}
	var none geom.Region
	if d := geom.Inside(sq, none).Dist; !math.IsInf(d, 1) || !geom.ContainsRegion(sq, none) {
		t.Errorf("empty inner: %g", d)
	}
	if d := geom.Inside(none, sq).Dist; !math.IsInf(d, -1) || geom.ContainsRegion(none, sq) {
		t.Errorf("empty outer: %g", d)
	}
}

// TestInsideAgainstSamples: no sampled boundary point of inner is farther out than the
// protrusion, and the witness is as far out as it says; when contained, no sampled point
// is nearer to outer's boundary than the margin.
func TestInsideAgainstSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outer := genRegion().Draw(t, "outer")
		inner := genPlaced().Draw(t, "inner")
		if rapid.Bool().Draw(t, "small") {
			inner = region(geom.Circle(genPoint(8).Draw(t, "c"), genNumber(0.1, 3).Draw(t, "r")))
		}
		g := geom.Inside(outer, inner)
		out, least := 0.0, math.Inf(1)
		for l := range inner.Loops() {
			for _, s := range l.Segs() {
				for k := range 20 {
					p := s.At(float64(k) / 20)
					d := geom.DistancePoint(outer, p).Dist
					out = math.Max(out, d)
					least = math.Min(least, math.Abs(d))
				}
			}
		}
		if g.Dist >= 0 {
			if out > 2e-9 || least < g.Dist-1e-9 {
				t.Fatalf("margin %g, but samples reach %g out and come as near as %g", g.Dist, out, least)
			}
			return
		}
		if out > -g.Dist+2e-7 {
			t.Fatalf("protrusion %g, but a sample is %g out", -g.Dist, out)
		}
		if d := geom.DistancePoint(outer, g.B).Dist; math.Abs(d+g.Dist) > 1e-9 {
			t.Fatalf("witness is %g out, not %g", d, -g.Dist)
		}
		if !inner.Contains(g.B) {
			t.Fatalf("witness %v is not on inner", g.B)
		}
	})
}
