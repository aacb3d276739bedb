package rules

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

func TestPatterns(t *testing.T) {
	m := &shapes.Motor{Circles: []shapes.BoltCircle{
		{Diameter: plusMinus("circle", 9, 0), Count: 3, Turn: 30, Screw: "M2"},
		{Diameter: plusMinus("circle", 16, 0), Across: plusMinus("across", 19, 0), Count: 4, Screw: "M3"},
		{Diameter: &shapes.Dim{Missing: true}, Count: 4},
	}}
	got := patterns(m)
	if len(got) != 2 {
		t.Fatalf("%d patterns, want 2: the missing one is none", len(got))
	}
	// Three holes at 30, 150 and 270 degrees on a radius of 4.5: 4.5 cos 30 = 3.897, 4.5 sin 30 = 2.25.
	for i, want := range []r2.Point{{X: 3.8971143, Y: 2.25}, {X: -3.8971143, Y: 2.25}, {X: 0, Y: -4.5}} {
		if d := got[0].holes[i].at.Sub(want).Norm(); d > 1e-6 {
			t.Errorf("hole %d of three at %v, want %v", i, got[0].holes[i].at, want)
		}
	}
	// 16 across one way and 19 across the other.
	for i, want := range []r2.Point{{X: 8}, {Y: 9.5}, {X: -8}, {Y: -9.5}} {
		if d := got[1].holes[i].at.Sub(want).Norm(); d > 1e-9 {
			t.Errorf("hole %d of the mixed pattern at %v, want %v", i, got[1].holes[i].at, want)
		}
	}
}

func TestScrewSize(t *testing.T) {
	for text, want := range map[string]float64{"M3": 3, "m2": 2, "M1.4": 1.4, "": 0, "M": 0, "M-2": 0, "Minf": 0, "Mnan": 0} {
		near(t, text, screwSize(text), want)
	}
}

func TestAxisOfSlot(t *testing.T) {
	// A slot 8 long and 3 wide, turned by 90 degrees: its middle line runs from y = -2.5 to 2.5.
	slot := &layout.Hole{At: r2.Point{X: 10}, Diameter: plusMinus("slot", 3, 0), Length: 8, Turn: 90}
	for _, c := range []struct{ p, want r2.Point }{
		{r2.Point{X: 10, Y: 1}, r2.Point{X: 10, Y: 1}},
		{r2.Point{X: 11, Y: 9}, r2.Point{X: 10, Y: 2.5}},
		{r2.Point{X: 9, Y: -2.6}, r2.Point{X: 10, Y: -2.5}},
	} {
		if got := axisOf(slot, c.p); got.Sub(c.want).Norm() > 1e-9 {
			t.Errorf("axisOf(%v) = %v, want %v", c.p, got, c.want)
		}
	}
	round := &layout.Hole{At: r2.Point{X: 10}, Diameter: plusMinus("hole", 3, 0)}
	if got := axisOf(round, r2.Point{}); got != round.At {
		t.Errorf("axisOf a round hole = %v, want its centre", got)
	}
}

func TestBestPatternTurnsTheMotor(t *testing.T) {
	// Four holes on a circle of 16 at 20 degrees to the motor's clocking.
	m := &shapes.Motor{Circles: []shapes.BoltCircle{{Diameter: plusMinus("circle", 16, 0), Count: 4, Screw: "M3"}}}
	plate := &layout.Plate{}
	for k := range 4 {
		s, c := math.Sincos((20 + 90*float64(k)) * math.Pi / 180)
		plate.Holes = append(plate.Holes, layout.Hole{At: r2.Point{X: 100 + 8*c, Y: 8 * s}, Diameter: plusMinus("hole", 3.2, 0.1)})
	}
	_, list, turned := bestPattern(m, geom.Pose2{Shift: r2.Point{X: 100}}, plate)
	near(t, "turned", math.Round(turned*1e6)/1e6, 20)
	for _, w := range list {
		near(t, "margin", math.Round(w.margin*1e6)/1e6, 0.1)
	}
}
