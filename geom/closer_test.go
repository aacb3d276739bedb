package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"dryfit/geom"
)

// TestCloserPointAsDistance: the short answer is that of the long one.
func TestCloserPointAsDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := genPlaced().Draw(t, "region")
		p := genPoint(60).Draw(t, "point")
		limit := rapid.Float64Range(0, 40).Draw(t, "limit")
		d := geom.DistancePoint(r, p).Dist
		if math.Abs(d-limit) < 1e-7 {
			return
		}
		if got := geom.IsCloserPoint(r, p, limit); got != (d < limit) {
			t.Fatalf("closer than %g: %v, distance %g", limit, got, d)
		}
	})
}

// TestCloserLineAsSamples: where a point of the line is closer, so is the line; and where the line
// is, some point is but for half a step between samples.
func TestCloserLineAsSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := genPlaced().Draw(t, "region")
		p, q := genPoint(60).Draw(t, "p"), genPoint(60).Draw(t, "q")
		limit := rapid.Float64Range(0.01, 20).Draw(t, "limit")
		const n = 400
		least := math.Inf(1)
		for i := range n + 1 {
			x := p.Add(q.Sub(p).Mul(float64(i) / n))
			least = min(least, geom.DistancePoint(r, x).Dist)
		}
		half := math.Hypot(p.X-q.X, p.Y-q.Y) / n / 2
		switch got := geom.IsCloserLine(r, p, q, limit); {
		case least < limit-1e-7 && !got:
			t.Fatalf("a point is %g away, the line not closer than %g", least, limit)
		case least > limit+half+1e-7 && got:
			t.Fatalf("all points are %g away, the line closer than %g", least, limit)
		}
	})
}

// TestCloserByHand: a ring from radius 5 to 10 about the origin.
func TestCloserByHand(t *testing.T) {
	ring := geom.RegionOf(geom.Circle(pt(0, 0), 10), geom.Circle(pt(0, 0), 5))
	for _, c := range []struct {
		x0, y0, x1, y1, limit float64
		want                  bool
	}{
		{0, 0, 3, 0, 2.01, true}, {0, 0, 3, 0, 1.99, false}, // in the hole, 2 from its rim
		{-20, 11, 20, 11, 1.01, true}, {-20, 11, 20, 11, 0.99, false}, // past it at 1
		{0, 0, 20, 0, 0, true}, {7, 0, 8, 0, 0.5, true}, // out of the hole; within the ring
		{11, 0, 20, 0, 0.99, false}, {11, 0, 20, 0, 1.01, true},
	} {
		if got := geom.IsCloserLine(ring, pt(c.x0, c.y0), pt(c.x1, c.y1), c.limit); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
		if got := geom.IsCloserLine(ring, pt(c.x1, c.y1), pt(c.x0, c.y0), c.limit); got != c.want {
			t.Errorf("%+v, backwards: %v", c, got)
		}
	}
	nan := math.NaN()
	if geom.IsCloserPoint(ring, pt(nan, 0), 100) || geom.IsCloserLine(ring, pt(0, 0), pt(0, nan), 100) || geom.IsCloserPoint(geom.Region{}, pt(0, 0), 100) {
		t.Error("a point that is none, or a region without points, counts as close")
	}
	if !geom.IsCloserPoint(ring, pt(7, 0), 0) || geom.IsCloserPoint(ring, pt(5, 0), 0) || geom.IsCloserPoint(ring, pt(10, 0), 0) {
		t.Error("with limit 0 just the inside counts")
	}
}
