package route

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// TestAheadOfStops: two plates of 2 mm with an opening of 4 x 4 each, at x = 20 in the upper one and at 0 in the
// lower, heights 10 and 0. A bundle 2 thick lies at 13 and 9 on the faces of the upper one and at 3 and -1 on those of
// the lower. From (40, 0) on the upper plate by way of both openings to (-30, 0) under the lower one it has to run
// 18 to the box of the first opening, 16 to that of the second and 28 on, and 14 down: 76. From (40, 0) below the lower
// plate it has first to climb to the upper opening, through it, and back: either way 14 up and 14 down, so that 62 and
// 28 make 90. Behind the first opening, on the underside of the upper plate at (24, 0), 22, 28 and 10 are left: 60.
func TestAheadOfStops(t *testing.T) {
	opening := func(x float64) Opening {
		return Opening{Name: "slot", Loop: geom.Rectangle(r2.Point{X: x}, 4, 4)}
	}
	sheet := func(id string, lo, x float64) Sheet {
		o := opening(x)
		return Sheet{ID: id, Lo: lo, Hi: lo + 2, Holes: []Opening{o}, Plan: []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{}, 120, 60), o.Loop)}}
	}
	space := &Space{Sheets: []Sheet{sheet("lower", 0, 0), sheet("upper", 10, 20)}}
	c := newClass(space, 2)
	b := Bundle{OD: 2, From: End{At: r2.Point{X: 40}, Z: 13}, To: End{At: r2.Point{X: -30}, Z: -1},
		Via: []Stop{{Opening: "upper.slot"}, {Opening: "lower.slot"}}}
	var s search
	if _, blocked := c.thread(&s, &b); blocked != nil {
		t.Fatalf("blocked: %+v", blocked)
	}
	for _, q := range []struct {
		x, z  float64
		stage int16
		want  float64
	}{{40, 13, 0, 76}, {40, -1, 0, 90}, {24, 9, 1, 60}} {
		if d := s.ahead(r2.Point{X: q.x}, q.z, q.stage); math.Abs(d-q.want) > 1e-9 {
			t.Errorf("%g is ahead of (%g, 0) at %g with %d openings passed, want %g", d, q.x, q.z, q.stage, q.want)
		}
	}
}
