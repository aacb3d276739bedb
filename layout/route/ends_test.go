package route_test

import (
	"testing"

	"dryfit/geom"
	"dryfit/layout/route"
)

// TestWiresSideBySideOffTheirPads: a bundle of 4 of wires of 1.8, from pads in the middle of a board whose top is at 6.6, under a lid at 9
// that reaches 0.3 further: 8.7 is free. Side by side the wires have their middle at 7.5 and reach up to 8.4: they go straight out
// to 2 beyond the parts, which end at x = 10, down to 4 over the plate of 2 and on to x = 30: 12 + 3.5 + 18. As a round bundle they would
// reach up to 10.6: the end lies in the lid.
func TestWiresSideBySideOffTheirPads(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))},
		Solids: []route.Solid{
			{ID: "bare", Owner: "board", Plan: []geom.Region{rect(-10, -10, 10, 10)}, Lo: 5, Hi: 6.6, Bare: true},
			{ID: "parts", Owner: "board", Plan: []geom.Region{rect(-10, -10, 10, 10)}, Lo: 6.6, Hi: 8, Level: true},
			{ID: "lid", Owner: "lid", Plan: []geom.Region{rect(-14, -14, 14, 14)}, Lo: 9, Hi: 10, Keep: 0.3},
		},
	}
	b := route.Bundle{ID: "w", OD: 4, From: route.End{At: pt(0, 0), Z: 7.5, Dir: pt(1, 0), Owner: "board", Thick: 1.8}, To: route.End{At: pt(30, 0), Z: 4}}
	w := route.Find(s, b)
	wantLength(t, w, 12+3.5+18, 1e-4)
	b.From.Z, b.From.Thick = 8.6, 0
	if w := route.Find(s, b); w.Blocked == nil || w.Blocked.Of[0] != "lid" {
		t.Errorf("%+v, want it blocked by the lid", w)
	}
}

// TestEndBesideABody: a bundle of 2 begins at (0, 0), 4 high, beside all levels and 0.5 beside a body, of which it should keep 1.
// It leads out of that and on through free air to the plate, which begins at x = 30: 31 to where it may hang over it, 1 down to 3,
// and 14 to x = 45.
func TestEndBesideABody(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(30, -20, 60, 20))},
		Solids: []route.Solid{{ID: "block", Owner: "block", Plan: []geom.Region{rect(-10, -10, -0.5, 10)}, Lo: 4.5, Hi: 6}},
	}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(0, 0), Z: 4}, To: route.End{At: pt(45, 0), Z: 3}}
	wantLength(t, route.Find(s, b), 31+1+14, 1e-4)
}
