package route_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
)

func pt(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

func rect(x0, y0, x1, y1 float64) geom.Region {
	return geom.RegionOf(geom.Rectangle(pt((x0+x1)/2, (y0+y1)/2), x1-x0, y1-y0))
}

func disc(x, y, r float64) geom.Region { return geom.RegionOf(geom.Circle(pt(x, y), r)) }

// plate is a sheet 2 mm thick on the ground.
func plate(id string, plan ...geom.Region) route.Sheet {
	return route.Sheet{ID: id, Plan: plan, Lo: 0, Hi: 2}
}

func wantLength(t *testing.T, w route.Way, want, tol float64) {
	t.Helper()
	if w.Blocked != nil {
		t.Fatalf("blocked: %+v, want %g mm", *w.Blocked, want)
	}
	if math.Abs(w.Length-want) > tol {
		t.Errorf("length %.6f, want %.6f\n%+v", w.Length, want, w.Legs)
	}
}

// TestRoundOnePost: a post of radius 3 kept 0.5 from by a bundle of 2: its middle stays 4.5
// away. From (-20, 0) to (20, 0): the tangents are √(400 - 20.25) long each, and the arc between them turns by
// π - 2·acos(4.5/20).
func TestRoundOnePost(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))},
		Solids: []route.Solid{{ID: "post", Owner: "post", Plan: []geom.Region{disc(0, 0, 3)}, Lo: 2, Hi: 20, Keep: 0.5}},
	}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(-20, 0), Z: 3}, To: route.End{At: pt(20, 0), Z: 3}}
	want := 2*math.Sqrt(400-4.5*4.5) + 4.5*(math.Pi-2*math.Acos(4.5/20))
	w := route.Find(s, b)
	wantLength(t, w, want, 1e-5)
	if len(w.Legs) != 1 || w.Legs[0].Level != "base.top" || len(w.Legs[0].Path.Segs) != 3 {
		t.Errorf("legs %+v, want one of line, arc, line on base.top", w.Legs)
	}
}

// TestOverAnEdge: along an arm 10 wide and over its end to the pad under it. Bundle of 2, 0.5 within edges. From x = 10 on
// top to x = 10 below, the arm ends at x = 50 and is 10 wide: over the side. The middle begins to cross the edge's band
// 1.5 from the edge: from (10, 0) straight to (10, 3.5), 1.5 on to the edge, round it 2 + π·1, and back.
func TestOverAnEdge(t *testing.T) {
	s := &route.Space{Sheets: []route.Sheet{plate("arm", rect(0, -5, 50, 5))}, Edge: 0.5}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(10, 1), Z: 3}, To: route.End{At: pt(10, 1), Z: -1}}
	wantLength(t, route.Find(s, b), 2*4+2+math.Pi, 1e-4)
}

// TestDropFromBoard: from a pad on a board at (0, 0), whose top is at 8, to the plate at z 2
// where the pad lies at (20, 0). Board 20 x 20, bundle of 2, keep 0: over the board to where it
// ends, 1 beyond x = 10, down from 9 to 3, and on: 8 → 9 at the pad, 11, 6, 9 along, in all 1 + 11 + 6 + 9.
func TestDropFromBoard(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))},
		Solids: []route.Solid{{ID: "b", Owner: "board", Plan: []geom.Region{rect(-10, -10, 10, 10)}, Lo: 6, Hi: 8, Level: true}},
	}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(0, 0), Z: 8, Owner: "board"}, To: route.End{At: pt(20, 0), Z: 3}}
	wantLength(t, route.Find(s, b), 1+20+6, 1e-4)
}
