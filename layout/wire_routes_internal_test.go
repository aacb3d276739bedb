package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

func line(a, b r2.Point) geom.Path {
	return geom.Path{Segs: []geom.Seg{{A: a, B: b}}, Length: a.Sub(b).Norm()}
}

// straightRoute runs 100 mm along x on a plate, at height 4.
func straightRoute() *Route {
	p := line(r2.Point{}, r2.Point{X: 100})
	return &Route{Length: 100, Legs: []Leg{{Kind: LegAlong, Level: "plates.base.top", Path: p, Z0: 4, Z1: 4, Length: 100}}}
}

// bare is an assembly of one plate, 0 to 3 high and wide enough.
func bare() (*Assembly, *Circuit) {
	plate := &Plate{Component: &Component{ID: "plates.base"}, Solid: []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{X: 50}, 200, 200))}, Bottom: Fixed(0), Top: Fixed(3)}
	return &Assembly{Plates: []*Plate{plate}}, &Circuit{OD: &shapes.Dim{Value: 2}, Spec: &WireSpec{}}
}

// TestTiesOfAStraightLead: 15 mm from either end of 100 mm, and as the 70 between are over 40,
// one in the middle: at 15, 50 and 85.
func TestTiesOfAStraightLead(t *testing.T) {
	a, c := bare()
	ties := a.ties(c, straightRoute())
	want := []float64{15, 50, 85}
	if len(ties) != len(want) {
		t.Fatalf("%d ties: %+v", len(ties), ties)
	}
	for i, tie := range ties {
		if math.Abs(tie.Along-want[i]) > 1e-3 || tie.To != "plates.base" || math.Abs(tie.At.X-want[i]) > 1e-3 || tie.Asked {
			t.Errorf("tie %d: %+v, want at %g", i, tie, want[i])
		}
	}
}

// TestTiesBesideADisc: between ties at 15 and 50 lie 35 of 100 mm, with their share of 2 mm of
// slack 35.7 long. They bulge √(35.7² - 35²)/2 = √49.49/2 = 3.52, and the lead is 1 thick to
// either side. A prop of 80 mm, 3.15 inch, needs 3.15: 7.67 in all. A disc 7 mm beside the lead
// calls for another tie in the middle, at 32.5; one 8 mm away does not.
func TestTiesBesideADisc(t *testing.T) {
	a, c := bare()
	c.Slack = &shapes.Dim{Value: 2}
	for _, q := range []struct {
		gap  float64
		want int
	}{{7, 1}, {8, 0}} {
		a.Rotors = []*Rotor{{At: r2.Point{X: 32.5, Y: 40 + q.gap}, Radius: Fixed(40), SweptLo: Fixed(3), SweptHi: Fixed(5)}}
		ties := a.ties(c, straightRoute())
		found := 0
		for _, tie := range ties {
			if math.Abs(tie.Along-32.5) < 1e-3 {
				found++
			}
		}
		if found != q.want {
			t.Errorf("a disc %g away: %d ties in the middle of %+v, want %d", q.gap, found, ties, q.want)
		}
	}
}

// TestTiesAtAnEdge: 5 mm before and behind it. The lead is 20 on top, 6 round the edge, 54
// below; a tie 15 from the start is the one before the edge (15 = 20 - 5).
func TestTiesAtAnEdge(t *testing.T) {
	a, c := bare()
	r := &Route{Length: 80, Legs: []Leg{
		{Kind: LegAlong, Level: "plates.base.top", Path: line(r2.Point{}, r2.Point{X: 20}), Z0: 4, Z1: 4, Length: 20},
		{Kind: LegEdge, Through: "plates.base", At: r2.Point{X: 20}, Z0: 4, Z1: -1, Length: 6},
		{Kind: LegAlong, Level: "plates.base.bottom", Path: line(r2.Point{X: 20}, r2.Point{X: -34}), Z0: -1, Z1: -1, Length: 54},
	}}
	var got []float64
	for _, tie := range a.ties(c, r) {
		got = append(got, math.Round(tie.Along*1000)/1000)
	}
	if len(got) != 3 || got[0] != 15 || got[1] != 31 || got[2] != 65 {
		t.Errorf("ties at %v, want at 15, 31 and 65", got)
	}
}

// TestAskedTies: the build's own places, moved onto the lead, and no others.
func TestAskedTies(t *testing.T) {
	a, c := bare()
	c.Spec.Ties = []Point{{P: r2.Point{X: 70, Y: 3}}, {P: r2.Point{X: 30, Y: -2}}}
	ties := a.ties(c, straightRoute())
	if len(ties) != 2 || math.Abs(ties[0].Along-30) > 1e-9 || math.Abs(ties[1].Along-70) > 1e-9 || !ties[0].Asked {
		t.Errorf("%+v", ties)
	}
}

// TestSharpEdges: carbon conducts and glass is over 1.4 g/cm³; wood, plastic and prints do not
// cut insulation.
func TestSharpEdges(t *testing.T) {
	for _, c := range []struct {
		density  float64
		conducts bool
		printed  bool
		want     bool
	}{{1.55, true, false, true}, {1.85, false, false, true}, {0.68, false, false, false}, {1.2, false, false, false}, {1.5, false, true, false}} {
		p := &Plate{Material: &shapes.Part{Material: &shapes.Material{Density: &shapes.Dim{Value: c.density}, Conducts: c.conducts, Printed: c.printed}}}
		if got := sharp(p); got != c.want {
			t.Errorf("density %g, conducts %v, printed %v: %v", c.density, c.conducts, c.printed, got)
		}
	}
	if sharp(nil) {
		t.Error("no plate is sharp")
	}
}

// TestMiddleOfARoute: 20 along x at height 4, then 10 straight down: the middle of the first
// piece is (10, 0, 4), of the second (20, 0, -1); by length x = (20·10 + 10·20)/30 = 13.33, z =
// (20·4 - 10·1)/30 = 2.33.
func TestMiddleOfARoute(t *testing.T) {
	r := &Route{Legs: []Leg{
		{Kind: LegAlong, Path: line(r2.Point{}, r2.Point{X: 20}), Z0: 4, Z1: 4, Length: 20},
		{Kind: LegDrop, At: r2.Point{X: 20}, Z0: 4, Z1: -6, Length: 10},
	}}
	p, z := r.middle()
	if math.Abs(p.X-40.0/3) > 1e-9 || math.Abs(p.Y) > 1e-9 || math.Abs(z-7.0/3) > 1e-9 {
		t.Errorf("middle at %v, %g", p, z)
	}
}

// TestBundleEnd: of three pads the third lies 20 mm away and is not counted: the bundle of 2 mm
// begins between the other two and leaves as they do; its wires of 1 lie side by side there, their middle 0.5 above their
// face at 5.
func TestBundleEnd(t *testing.T) {
	owner := &Component{ID: "stacks.main.board"}
	pad := func(x, y float64) *Terminal {
		return &Terminal{Owner: owner, At: r2.Point{X: x, Y: y}, Z: Fixed(5), Dir: r2.Point{X: 1}, Up: 1, Pad: &shapes.Pad{}}
	}
	ts := []*Terminal{pad(10, 0), pad(10, 4), pad(-10, 0)}
	e, near := bundleEnd(ts, 2, 1)
	if e.At != (r2.Point{X: 10, Y: 2}) || math.Abs(e.Z-5.5) > 1e-12 || math.Abs(e.Thick-1) > 1e-12 || e.Dir != (r2.Point{X: 1}) || len(near) != 2 || e.Owner != owner.ID {
		t.Errorf("%+v with %d terminals", e, len(near))
	}
	// Its wire is longer by the straight way to the bundle's end, (-10, 0, 5) to (10, 2, 5.5).
	if got, want := beside(ts[2], e), math.Sqrt(20*20+2*2+0.5*0.5); math.Abs(got-want) > 1e-12 {
		t.Errorf("%g beside, want %g", got, want)
	}
	if got := beside(ts[0], e); got > 0 {
		t.Errorf("%g beside for a pad of the bundle", got)
	}
	if up, ok := uprightEnd(ts, e); !ok || up.Dir != (r2.Point{}) || math.Abs(up.Z-5) > 1e-12 || up.Thick > 0 {
		t.Errorf("straight off the pads: %+v, %v", up, ok)
	}
	ts[0].Pad.HasFacing = true
	if _, ok := uprightEnd(ts, e); ok {
		t.Error("a pad whose part says where wires leave is left upright")
	}
}

// TestPlugOfAPack: behind a pack's own lead of 80 there is its plug, at the latest 30 before the other end: at 80 of 146, at 70 of 100. What
// lies before it comes off with the pack. Told from the other end it is at 66 of 146.
func TestPlugOfAPack(t *testing.T) {
	pack := &Component{ID: "battery", Part: &shapes.Part{Pack: &shapes.Pack{}}}
	board := &Component{ID: "board", Part: &shapes.Part{}}
	c := &Circuit{From: pack, To: board, Hung: &shapes.Dim{Value: 80}, Mate: &shapes.Part{}}
	for _, q := range []struct {
		swap      bool
		total, at float64
		along     float64
		ofPack    bool
	}{{false, 146, 80, 79, true}, {false, 146, 80, 81, false}, {false, 100, 70, 75, false}, {true, 146, 66, 65, false}, {true, 146, 66, 67, true}} {
		c.From, c.To = pack, board
		if q.swap {
			c.From, c.To = board, pack
		}
		if got := c.plugs(q.total); math.Abs(got-q.at) > 1e-9 {
			t.Errorf("%+v: plug at %g", q, got)
		}
		if got := c.ofPack(q.along, q.total); got != q.ofPack {
			t.Errorf("%+v: %v", q, got)
		}
	}
	c.Mate = nil
	if c.ofPack(10, 146) {
		t.Error("a lead without a plug of its own comes off")
	}
}
