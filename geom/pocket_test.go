package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// TestPocketsByHand: two rings, one within the other, at a clearance of 1. The free parts are
// the outside, the room between them, and the innermost.
func TestPocketsByHand(t *testing.T) {
	f, err := geom.NewField([]geom.Region{
		geom.RegionOf(geom.Circle(pt(0, 0), 20), geom.Circle(pt(0, 0), 18)),
		geom.RegionOf(geom.Circle(pt(0, 0), 10), geom.Circle(pt(0, 0), 8)),
	}, 1)
	if err != nil {
		t.Fatal(err)
	}
	out, mid, in := f.Pocket(pt(30, 0)), f.Pocket(pt(14, 0)), f.Pocket(pt(0, 0))
	if out != 0 || mid <= 0 || in <= 0 || mid == in || f.Pocket(pt(-14, 1)) != mid || f.Pocket(pt(3, 3)) != in {
		t.Errorf("parts %d, %d, %d", out, mid, in)
	}
	if k := f.Pocket(pt(9, 0)); k != -1 {
		t.Errorf("inside a ring: %d", k)
	}
	got := f.Lengths(pt(14, 0), []r2.Point{pt(0, 0), pt(15, 0), pt(30, 0), pt(14, 0)}, nil)
	if got[0] != -1 || math.Abs(got[1]-1) > 1e-9 || got[2] != -1 || got[3] != 0 {
		t.Errorf("lengths %v, want -1, 1, -1, 0", got)
	}
}

// TestPocketAsPath: two free points are joined by a path just if they lie in one part.
func TestPocketAsPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var rs []geom.Region
		for range rapid.IntRange(1, 6).Draw(t, "n") {
			rs = append(rs, genPlaced().Draw(t, "region"))
		}
		f, err := geom.NewField(rs, rapid.Float64Range(0.1, 5).Draw(t, "clearance"))
		if err != nil {
			return
		}
		p, q := genPoint(60).Draw(t, "p"), genPoint(60).Draw(t, "q")
		a, b := f.Pocket(p), f.Pocket(q)
		if a < 0 || b < 0 {
			return
		}
		_, err = f.Length(p, q)
		if (err == nil) != (a == b) {
			t.Fatalf("parts %d and %d, path %v", a, b, err)
		}
	})
}

// TestWayOut: out of a strip of 20 x 10 about the origin, kept 1 from, the nearest way from (0, 3) is up
// to y = 6; from a free point it is that point, and there is none from a point that is no point.
func TestWayOut(t *testing.T) {
	f, err := geom.NewField([]geom.Region{geom.RegionOf(geom.Rectangle(pt(0, 0), 20, 10))}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if q, ok := f.WayOut(pt(0, 3)); !ok || math.Hypot(q.X, q.Y-6) > 1e-5 {
		t.Errorf("%v %v, want (0, 6)", q, ok)
	}
	if q, ok := f.WayOut(pt(0, 30)); !ok || q != pt(0, 30) {
		t.Errorf("%v %v, want the point itself", q, ok)
	}
	if _, ok := f.WayOut(pt(math.NaN(), 0)); ok {
		t.Error("a way out of nowhere")
	}
}
