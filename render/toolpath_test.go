package render_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/render"
)

// square20 is a square of 20 with an opening in its middle.
func square20(o render.Opening) *render.Profile {
	return &render.Profile{Name: "square", Outer: geom.Rectangle(xy(0, 0), 20, 20), Openings: []render.Opening{o}}
}

// A slot of 10 x 3 with round ends, cut by a jet 1 mm wide: its path keeps 0.5 from the
// edge, a slot of 9 x 2: straight 7 on each side and two half circles of radius 1, so 14 +
// 2π long and 7 x 2 + π in area. The outline's path is the square grown by 0.5 with rounded
// corners: 4 x 20 + 2π x 0.5 long.
func TestKerfOffsetOfASlot(t *testing.T) {
	p := square20(render.Opening{Label: "A1", Size: "slot 10 × 3", Loop: geom.Capsule(xy(-3.5, 0), xy(3.5, 0), 3)})
	got, err := p.ToolPath(1, false)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Inner) != 1 || len(got.Drill) != 0 || len(got.Unopened) != 0 {
		t.Fatalf("%d paths within, %d drilled, unopened %v", len(got.Inner), len(got.Drill), got.Unopened)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"path in the slot, length", got.Inner[0].Perimeter(), 14 + 2*math.Pi},
		{"path in the slot, area", -got.Inner[0].Area(), 14 + math.Pi},
		{"path of the outline, length", got.Outer.Perimeter(), 80 + math.Pi},
		{"left over", got.Left, 0},
	} {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
}

// A cutter of 2 leaves in each square corner of a window 1 x 1 - π/4 = 0.2146 mm² standing,
// four times 0.8584. With relief nothing stands, and the cutter's edge reaches each tip: the
// relief of radius 1.05 goes through it, so a path point lies within 1.05 + 0.05 of it.
func TestReliefCutsCornersFree(t *testing.T) {
	p := square20(render.Opening{Label: "A1", Size: "cut-out", Loop: geom.Rectangle(xy(0, 0), 10, 8)})
	plain, err := p.ToolPath(2, false)
	if err != nil {
		t.Fatal(err)
	}
	if want := 4 - math.Pi; math.Abs(plain.Left-want) > 1e-6 || len(plain.Reliefs) != 0 {
		t.Errorf("%v mm² are left without relief, want %v", plain.Left, want)
	}
	freed, err := p.ToolPath(2, true)
	if err != nil {
		t.Fatal(err)
	}
	if len(freed.Reliefs) != 4 || len(freed.Inner) != 1 {
		t.Fatalf("%d reliefs, %d paths, want 4 and 1", len(freed.Reliefs), len(freed.Inner))
	}
	if freed.Left > 0.02 {
		t.Errorf("%v mm² are left with relief", freed.Left)
	}
	for _, tip := range []r2.Point{xy(5, 4), xy(-5, 4), xy(5, -4), xy(-5, -4)} {
		if _, d := freed.Inner[0].Nearest(tip); d < 1-1e-6 || d > 1.1+1e-6 {
			t.Errorf("the path comes to %v from the tip %v, want between 1.00 and 1.10", d, tip)
		}
	}
	// No more is cut than a fifth of a millimetre beyond the walls, and only at the corners.
	if _, d := freed.Inner[0].Nearest(xy(0, 4)); math.Abs(d-1) > 1e-6 {
		t.Errorf("the middle of a wall is passed at %v, want 1", d)
	}
}

// Under 1.15 x 2 = 2.3 a hole is drilled; a slot of 1.8 is narrower than the cutter.
func TestSmallOpenings(t *testing.T) {
	for _, c := range []struct {
		d       float64
		drilled bool
	}{{2.29, true}, {2.31, false}} {
		got, err := square20(render.Opening{Label: "A1", D: c.d, Loop: geom.Circle(xy(0, 0), c.d/2)}).ToolPath(2, false)
		if err != nil {
			t.Fatal(err)
		}
		if (len(got.Drill) == 1) != c.drilled || (len(got.Inner) == 0) != c.drilled {
			t.Errorf("a hole of %v: %d drilled, %d paths", c.d, len(got.Drill), len(got.Inner))
		}
	}
	got, err := square20(render.Opening{Label: "B1", Loop: geom.Capsule(xy(-4, 0), xy(4, 0), 1.8)}).ToolPath(2, false)
	if err != nil || len(got.Unopened) != 1 || got.Unopened[0] != "B1" {
		t.Errorf("a slot narrower than the cutter: %v, %v", got.Unopened, err)
	}
	for _, w := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := square20(render.Opening{}).ToolPath(w, false); err == nil {
			t.Errorf("a cut of %v was accepted", w)
		}
	}
}

// Every plate of every case can be cut with the usual cutter.
func TestEveryPlateHasAToolPath(t *testing.T) {
	for _, c := range cases(t) {
		for _, p := range render.Profiles(c.asm) {
			got, err := p.ToolPath(2, true)
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			if len(got.Unopened) > 0 || len(got.Drill)+len(got.Inner) != len(p.Openings) {
				t.Errorf("%s, %s: %d openings, %d drilled, %d routed, unopened %v", c.name, p.Name, len(p.Openings), len(got.Drill), len(got.Inner), got.Unopened)
			}
		}
	}
}
