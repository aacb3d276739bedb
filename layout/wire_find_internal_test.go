package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
)

// TestOnlyWhatHasNoWayGoesNearer: bundles of 2 keep 9 off discs of 20 in radius where they can, their middle 30 from the axis. One
// goes from (-40, 200) to (40, 200) round a disc at (0, 200): tangents of √(40² - 30²) and an arc that turns by π - 2·acos(30/40). The
// other one can only pass between a disc at (0, 0) and a block that begins 6 beside it, at y = -26. That is too narrow for 2 + 9, and
// not for 2 + 2: it goes straight along y = -24.5, 80 long. The first one stays where it was.
func TestOnlyWhatHasNoWayGoesNearer(t *testing.T) {
	rect := func(x0, y0, x1, y1 float64) []geom.Region {
		return one(geom.Rectangle(r2.Point{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}, x1-x0, y1-y0))
	}
	space := func(keep float64) *route.Space {
		disc := func(id string, y float64) route.Solid {
			return route.Solid{ID: id, Owner: id, Plan: one(geom.Circle(r2.Point{Y: y}, 20)), Lo: -20, Hi: 20, Keep: keep, Forbidden: true}
		}
		return &route.Space{
			Sheets: []route.Sheet{{ID: "base", Plan: rect(-60, -60, 60, 60), Lo: 0, Hi: 2}, {ID: "other", Plan: rect(-60, 140, 60, 260), Lo: 0, Hi: 2}},
			Solids: []route.Solid{
				disc("near", 0), disc("far", 200),
				{ID: "block", Owner: "block", Plan: rect(-5, -70, 5, -26), Lo: -20, Hi: 20},
				{ID: "wall", Owner: "block", Plan: rect(-5, 0, 5, 70), Lo: -20, Hi: 20},
			},
		}
	}
	bundle := func(id string, y float64) route.Bundle {
		return route.Bundle{ID: id, OD: 2, From: route.End{At: r2.Point{X: -40, Y: y}, Z: 3}, To: route.End{At: r2.Point{X: 40, Y: y}, Z: 3}}
	}
	bundles := []route.Bundle{bundle("round", 200), bundle("past", -24.5)}
	all := []*Circuit{{Wires: []*Wire{{From: &Terminal{}, To: &Terminal{}}}}, {Wires: []*Wire{{From: &Terminal{}, To: &Terminal{}}}}}
	if w := route.Find(space(9), bundles[1]); w.Blocked == nil || math.Abs(w.Blocked.Gap-6) > 1e-3 || math.Abs(w.Blocked.Need-11) > 1e-9 {
		t.Errorf("9 off: %+v", w.Blocked)
	}
	ways := findWays(space(9), space(2), space(0.3), bundles, all)
	for i, want := range []float64{2*math.Sqrt(40*40-30*30) + 30*(math.Pi-2*math.Acos(30.0/40)), 80} {
		if w := ways[i]; w.Blocked != nil || math.Abs(w.Length-want) > 1e-3 {
			t.Errorf("%s: %g %+v, want %g", bundles[i].ID, w.Length, w.Blocked, want)
		}
	}
}

// TestRoundabout: a way is looked at again beyond one and a half times the straight line and 30.
func TestRoundabout(t *testing.T) {
	for _, q := range []struct {
		way, straight float64
		want          bool
	}{{119, 60, false}, {121, 60, true}, {35, 4, false}, {37, 4, true}} { // 1.5 · 60 + 30 = 120, 1.5 · 4 + 30 = 36
		b := route.Bundle{From: route.End{Z: 5}, To: route.End{At: r2.Point{X: q.straight}, Z: 5}}
		if got := roundabout(&b, q.way); got != q.want {
			t.Errorf("%g for %g: %v", q.way, q.straight, got)
		}
	}
}

// TestBeginsNear: of a disc of 20 from -20 to 20 high, 9 to keep, a bundle of 2 has its middle at least 30 from the axis, or
// 30 over its middle.
func TestBeginsNear(t *testing.T) {
	off := &route.Space{Solids: []route.Solid{{ID: "disc", Plan: one(geom.Circle(r2.Point{}, 20)), Lo: -20, Hi: 20, Keep: 9, Forbidden: true}}}
	for _, q := range []struct {
		x, z float64
		want bool
	}{{29.9, 0, true}, {30.1, 0, false}, {25, 29.9, true}, {25, 30.1, false}, {25, -30.1, false}} {
		b := route.Bundle{OD: 2, From: route.End{At: r2.Point{X: 100}}, To: route.End{At: r2.Point{X: q.x}, Z: q.z}}
		if got := beginsNear(off, &b); got != q.want {
			t.Errorf("%+v: %v", q, got)
		}
	}
}
