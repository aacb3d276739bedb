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

// TestPadKeepsItsBoardBelow: a board from 5 to 6.6 with parts up to 8 that end at x = 8, and a pad at (9, 0) that is left straight. The
// way does not fall through the board: up to 9, over the parts, then to 1 beyond x = 10, down to 3 and on to x = 30: 2.4 + 2 + 6 + 19.
// A pad under the board is left downwards: 5 to 3, and 21 on.
func TestPadKeepsItsBoardBelow(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))},
		Solids: []route.Solid{
			{ID: "parts", Owner: "board", Plan: []geom.Region{rect(-10, -10, 8, 10)}, Lo: 6.6, Hi: 8, Level: true},
			{ID: "bare", Owner: "board", Plan: []geom.Region{rect(-10, -10, 10, 10)}, Lo: 5, Hi: 6.6, Bare: true},
		},
	}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(9, 0), Z: 6.6, Owner: "board"}, To: route.End{At: pt(30, 0), Z: 3}}
	wantLength(t, route.Find(s, b), 2.4+2+6+19, 1e-4)
	b.From.Z = 5
	wantLength(t, route.Find(s, b), 2+21, 1e-4)
}

// TestThroughAnOpening: a bundle of 2 from (-10, 0) on the plate to (-10, 0) under it, through a round opening of 6
// about the origin, 0.5 within edges. Beside the opening the middle keeps 3 + 0.5 + 1 = 4.5 from its centre, in
// it 3 - 0.5 - 1 = 1.5 at most: straight over the rim from x = -4.5 to -1.5, down by 2 + 2·1, and back:
// 8.5 + 4 + 8.5. The other way, over the edge of the plate, is 40 away.
func TestThroughAnOpening(t *testing.T) {
	hole := geom.Circle(pt(0, 0), 3)
	s := &route.Space{Sheets: []route.Sheet{{ID: "base", Plan: []geom.Region{geom.RegionOf(geom.Rectangle(pt(0, 0), 100, 100), hole)}, Lo: 0, Hi: 2,
		Holes: []route.Opening{{Name: "slot", Loop: hole}}}}, Edge: 0.5}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(-10, 0), Z: 3}, To: route.End{At: pt(-10, 0), Z: -1}}
	w := route.Find(s, b)
	wantLength(t, w, 8.5+4+8.5, 1e-4)
	if k := w.Legs[1]; k.Kind != route.Hole || k.Opening != "slot" || k.Sheet != "base" {
		t.Errorf("leg %+v, want one through the opening", k)
	}
	// To the other side it goes straight through: 20 along and 4 down.
	b.To.At = pt(10, 0)
	wantLength(t, route.Find(s, b), 20+4, 1e-4)
	// An opening of 2.9 does not take 2 + 2·0.5, one with a screw in it takes nothing: over the edge. From (-10, 0)
	// that is 40 - 1.5 to where the band begins, twice, and 2·1.5 + 2 + π round it.
	b.To.At = pt(-10, 0)
	s.Sheets[0].Holes[0].Taken = 1
	wantLength(t, route.Find(s, b), 2*40+2+math.Pi, 1e-3)
}

// TestBlockedSlot: two walls across the plate leave a slot of 2.5 at x = 0, y = -1.25..1.25; keep 0.5: a
// bundle of 2 needs 0.5 + 2 + 0.5 = 3. Under the plate it cannot go: a wall as well, without a slot.
func TestBlockedSlot(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))},
		Solids: []route.Solid{
			{ID: "north", Owner: "a", Plan: []geom.Region{rect(-2, 1.25, 2, 60)}, Lo: 2, Hi: 20, Keep: 0.5},
			{ID: "south", Owner: "b", Plan: []geom.Region{rect(-2, -60, 2, -1.25)}, Lo: 2, Hi: 20, Keep: 0.5},
			{ID: "under", Owner: "c", Plan: []geom.Region{rect(-3, -60, 3, 60)}, Lo: -20, Hi: 0, Keep: 0.5},
		},
	}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(-20, 0), Z: 3}, To: route.End{At: pt(20, 0), Z: 3}}
	w := route.Find(s, b)
	if w.Blocked == nil {
		t.Fatalf("a way of %g: %+v", w.Length, w.Legs)
	}
	k := w.Blocked
	if math.Abs(k.Gap-2.5) > 1e-6 || math.Abs(k.Need-3) > 1e-6 || k.Level != "base.top" || k.Enclosed ||
		!(k.Of == [2]string{"north", "south"} || k.Of == [2]string{"south", "north"}) {
		t.Errorf("%+v, want a gap of 2.5 of 3 between north and south", *k)
	}
	// With 3 between them it goes straight through.
	s.Solids[0].Plan[0], s.Solids[1].Plan[0] = rect(-2, 1.5, 2, 60), rect(-2, -60, 2, -1.5)
	wantLength(t, route.Find(s, b), 40, 1e-6)
}

// TestSideBySide: a block of 20 x 20 about (0, -10) with its upper corners at (±10, 0), wall at y = 14: a channel 14 wide.
// Two bundles of 2 from under the block's level on the left to the same on the right, one 4 farther out at both ends.
// The inner one bends round the corners at 1, the outer one at 1 + 2. Outer ends at (±30, -20) and (±34, -20)
func TestSideBySide(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(-60, -60, 60, 60))},
		Solids: []route.Solid{
			{ID: "block", Owner: "a", Plan: []geom.Region{rect(-10, -60, 10, 0)}, Lo: 2, Hi: 20},
			{ID: "wall", Owner: "b", Plan: []geom.Region{rect(-10, 14, 10, 60)}, Lo: 2, Hi: 20},
			{ID: "under", Owner: "c", Plan: []geom.Region{rect(-3, -60, 3, 60)}, Lo: -20, Hi: 0},
		},
	}
	end := func(x float64) route.End { return route.End{At: pt(x, -20), Z: 3} }
	bs := []route.Bundle{
		{ID: "outer", OD: 2, From: end(-34), To: end(34)},
		{ID: "inner", OD: 2, From: end(30), To: end(-30)},
	}
	// Round the corner (10, 0) at the radius R from (x, -20): the tangent is √(d² - R²) with d = √((x-10)² + 20²) the
	// way to the corner; it rises by asin(20/d) + asin(R/d), which the arc turns back; 20 along the top between the corners.
	round := func(x, R float64) float64 {
		d := math.Hypot(x-10, 20)
		return 2*math.Sqrt(d*d-R*R) + 2*R*(math.Asin(20/d)+math.Asin(R/d)) + 20
	}
	ways := route.FindAll(s, bs)
	wantLength(t, ways[1], round(30, 1), 1e-4)
	wantLength(t, ways[0], round(34, 3), 1e-4)
	if n := route.Crossings(ways); len(n) != 0 {
		t.Errorf("crossings %+v", n)
	}
	for i, want := range []float64{2, 0} { // it goes up, over and down: the block on its right
		if l := ways[i].Legs[0]; math.Abs(l.Lane-want) > 1e-5 || l.Stacked != 0 {
			t.Errorf("%s: lane %g, stacked %g, want %g and 0", bs[i].ID, l.Lane, l.Stacked, want)
		}
	}
	// Where the channel is 3 wide there is room for one: the other one lies on it.
	s.Solids[1].Plan[0] = rect(-10, 3, 10, 60)
	ways = route.FindAll(s, bs)
	wantLength(t, ways[0], round(34, 1), 1e-4)
	if l := ways[0].Legs[0].Stacked + ways[1].Legs[0].Stacked; l < 20 {
		t.Errorf("stacked %g, want the length of the channel at least", l)
	}
}

// TestStops: by way of a point, and of an opening that the short way would pass by.
func TestStops(t *testing.T) {
	hole := geom.Circle(pt(30, 0), 3)
	s := &route.Space{Edge: 0.5, Sheets: []route.Sheet{{ID: "base", Plan: []geom.Region{geom.RegionOf(geom.Rectangle(pt(0, 0), 100, 100), hole)}, Lo: 0, Hi: 2,
		Holes: []route.Opening{{Name: "slot", Loop: hole}}}}}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(-10, 0), Z: 3}, To: route.End{At: pt(10, 0), Z: 3}, Via: []route.Stop{{At: pt(0, 24)}}}
	wantLength(t, route.Find(s, b), 2*26, 1e-6) // 10, 24, 26
	// Through the opening and back: 38.5 to where a bundle through it is upright, 30 - 1.5, down 4, under the plate
	// back to the edge at y = ±50 is far, and back up through the opening as well: 4 more, then 18.5 to (10, 0).
	b.Via = []route.Stop{{Opening: "base.slot"}}
	wantLength(t, route.Find(s, b), 38.5+4+4+18.5+2*3, 0.01)
	// One that is too narrow says so: 6 wide, 7 + 2·0.5 needed.
	b.OD = 7
	w := route.Find(s, b)
	if w.Blocked == nil || math.Abs(w.Blocked.Gap-6) > 1e-5 || math.Abs(w.Blocked.Need-8) > 1e-9 || w.Blocked.Of[0] != "base" {
		t.Errorf("%+v, want a gap of 6 of 8 in base", w.Blocked)
	}
}

// TestHangsBesideAll: a lead that comes out of a pack beside the plate, 30 from its edge at x = 50, is led to
// where it can come down on the plate: straight to x = 49 - 0 (the edge, less half of its 2), down from 20 to 3 and on to x = 40.
func TestHangsBesideAll(t *testing.T) {
	s := &route.Space{Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))}}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(80, 0), Z: 20, Dir: pt(1, 0), Owner: "pack"}, To: route.End{At: pt(40, 0), Z: 3}}
	w := route.Find(s, b)
	wantLength(t, w, 31+17+9, 1e-4)
	if w.Legs[0].Kind != route.Leave {
		t.Errorf("the first leg is %+v", w.Legs[0])
	}
}

// TestDropsBesideEachOther: two bundles of 2 from one pad on a board, whose edge is at x = 10, to places on the plate in one
// line: the second one cannot come down where the first one does. They come down 2 apart along the board's edge, the board's
// outline at 1 beyond it.
func TestDropsBesideEachOther(t *testing.T) {
	s := &route.Space{
		Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))},
		Solids: []route.Solid{{ID: "b", Owner: "board", Plan: []geom.Region{rect(-10, -10, 10, 10)}, Lo: 6, Hi: 8, Level: true}},
	}
	from := route.End{At: pt(0, 0), Z: 8, Owner: "board"}
	ways := route.FindAll(s, []route.Bundle{
		{ID: "a", OD: 2, From: from, To: route.End{At: pt(30, 0), Z: 3}},
		{ID: "b", OD: 2, From: from, To: route.End{At: pt(20, 0), Z: 3}},
	})
	var down [2]r2.Point
	for i, w := range ways {
		if w.Blocked != nil {
			t.Fatalf("%+v", *w.Blocked)
		}
		n := 0
		for _, l := range w.Legs {
			if l.Kind == route.Drop && l.Z0 == 9 && l.Z1 == 3 {
				down[i] = l.At
				n++
			}
		}
		if n != 1 {
			t.Fatalf("%d drops from the board: %+v", n, w.Legs)
		}
	}
	if d := dist(down[0], down[1]); d < 2-1e-5 || d > 3 {
		t.Errorf("they come down %g apart, at %v", d, down)
	}
	wantLength(t, ways[0], 1+30+6, 1e-4) // straight
}
