package route_test

import (
	"math"
	"testing"

	"dryfit/geom"
	"dryfit/layout/route"
)

// TestBlockedOverAnEdge: from the top of a plate to its underside, with two bodies all round it, 0.5 beside its edge, but for a
// gap of 4.4 at y = 0 on the right: to a bundle of 4 that keeps 0.5 from both, 0.6 are lacking where it goes round the edge.
// With a gap of 5.2 it goes 50 to the edge, round it by 2 + 2·π, and 50 back.
func TestBlockedOverAnEdge(t *testing.T) {
	space := func(gap float64) *route.Space {
		half := gap / 2
		return &route.Space{
			Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))},
			Solids: []route.Solid{
				{ID: "north", Owner: "a", Plan: []geom.Region{rect(50.5, half, 70, 70), rect(-70, 50.5, 50.5, 70), rect(-70, 0, -50.5, 50.5)}, Lo: -20, Hi: 20, Keep: 0.5},
				{ID: "south", Owner: "b", Plan: []geom.Region{rect(50.5, -70, 70, -half), rect(-70, -70, 50.5, -50.5), rect(-70, -50.5, -50.5, 0)}, Lo: -20, Hi: 20, Keep: 0.5},
			},
			Edge: 0.5,
		}
	}
	b := route.Bundle{ID: "w", OD: 4, From: route.End{At: pt(0, 0), Z: 4}, To: route.End{At: pt(0, 0), Z: -2}}
	wantLength(t, route.Find(space(5.2), b), 50+2+2*math.Pi+50, 1e-3)
	w := route.Find(space(4.4), b)
	if w.Blocked == nil {
		t.Fatalf("a way of %g: %+v", w.Length, w.Legs)
	}
	k := w.Blocked
	if math.Abs(k.Gap-4.4) > 0.01 || math.Abs(k.Need-5) > 1e-9 || k.Enclosed ||
		!(k.Of == [2]string{"north", "south"} || k.Of == [2]string{"south", "north"}) {
		t.Errorf("%+v, want a gap of 4.4 of 5 between north and south", *k)
	}
	if k.At[0].Sub(k.At[1]).Norm() > 4.5 || k.At[0].X < 50 {
		t.Errorf("at %v, want either side of the gap", k.At)
	}
	// One body all round, 0.2 beside the edge: the middle goes 2 outside the edge, 1.8 into the body that it keeps 2.5 from. So
	// 4.3 are lacking between that and the plate.
	s := space(4.4)
	s.Solids = s.Solids[:1]
	s.Solids[0].Plan = []geom.Region{rect(50.2, -60, 70, 70), rect(-70, 50.2, 70, 70), rect(-70, -70, -50.2, 70), rect(-70, -70, 70, -50.2)}
	if w = route.Find(s, b); w.Blocked == nil || math.Abs(w.Blocked.Need-w.Blocked.Gap-4.3) > 0.01 || w.Blocked.Of != [2]string{"north", "base"} {
		t.Errorf("%+v", w.Blocked)
	}
}
