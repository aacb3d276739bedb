package layout_test

import (
	"encoding/json"
	"math"
	"testing"

	"dryfit/layout/layouttest"
)

// TestJSONJoints: the joints in the JSON are those worked out by hand in joint_test.go.
func TestJSONJoints(t *testing.T) {
	type height struct{ Nominal, Least, Most float64 }
	var got struct {
		Joints []struct {
			ID, Kind, Screw string
			Up, Sure, Given bool
			Layers          []struct {
				Name      string
				Thickness height
			}
			Grip, Length, Depth, Least, Most height
		}
	}
	if err := json.Unmarshal(layouttest.MustLoad(t, frameBuild).JSON(), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Joints) != 51 {
		t.Fatalf("%d joints, want 51", len(got.Joints))
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	for _, j := range got.Joints {
		if j.ID != "posts.main.bottom-screws[1]" {
			continue
		}
		// M3x8 ±0.29 through 3 ±0.1 into a post: 5 ±0.39 for 3 at least and 7.5 ±0.5 at most.
		if j.Kind != "post-screw" || j.Screw != "M3x8 button" || !j.Up || !j.Sure || j.Given || len(j.Layers) != 1 || j.Layers[0].Name != "base plate" {
			t.Errorf("%+v", j)
		}
		if !near(j.Grip.Nominal, 3) || !near(j.Length.Least, 7.71) || !near(j.Depth.Least, 4.61) || !near(j.Depth.Most, 5.39) || !near(j.Least.Nominal, 3) || !near(j.Most.Least, 7) {
			t.Errorf("%+v", j)
		}
		return
	}
	t.Error("no joint posts.main.bottom-screws[1]")
}

// TestJSONTellsCuttingAndRings: what plates are cut with, what is sunk into holes, and what
// is round the holes of boards.
func TestJSONTellsCuttingAndRings(t *testing.T) {
	type height struct{ Nominal, Least, Most float64 }
	var got struct {
		Cutting struct {
			Cutter, Kerf height
			Given        bool
		}
		Plates []struct {
			CutTolerance   float64 `json:"cut-tolerance"`
			HoleTolerance  float64 `json:"hole-tolerance"`
			PlaceTolerance float64 `json:"place-tolerance"`
			Holes          []struct {
				Sink *struct {
					Diameter, Depth height
					Angle           float64
					Face            string
				}
				Press bool `json:"press-nut"`
			}
		}
		Stacks []struct {
			Levels []struct {
				ID, Ring string
				Hole     *height
				Free     *height `json:"free-ring"`
			}
		}
		Joints []struct {
			ID, Head string
			HeadD    float64 `json:"head-diameter"`
			WasherD  float64 `json:"washer-diameter"`
		}
	}
	build := `
dryfit: 1
name: rings
cutting: {kerf: 1.2 ±0.1}
parts:
  mat: {kind: material, density: 1.5, conducts: true, cut-tolerance: 0 ±0.12, hole-tolerance: 0 ±0.05, place-tolerance: 0 ±0.07}
  board: {kind: controller, size: [36, 36], pcb: 1.6, above: 2, below: 1, mass: 5, square: {side: 30.5, hole: 3.2 ±0.08, screw: M3, clear: 6.5, ring: ground}}
plates:
  base: {material: mat, thickness: 3, outline: {circle: 100}, holes: [{for: stacks.main, hole: 3.3, counterbore: {diameter: 6.2 ±0.1, depth: 1.5 ±0.1}, face: bottom}, {hole: 4.5, at: [40, 0], press-nut: true}]}
stacks:
  main: {from: base.top, bolts: {washer: true, head: socket}, items: [spacer nylon 6, board, nut nylon]}
`
	if err := json.Unmarshal(layouttest.MustLoad(t, build).JSON(), &got); err != nil {
		t.Fatal(err)
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	// A jet has no cutter: its cut is as wide as one.
	if c := got.Cutting; !c.Given || !near(c.Kerf.Nominal, 1.2) || !near(c.Kerf.Least, 1.1) || !near(c.Cutter.Most, 1.3) {
		t.Errorf("cutting %+v", c)
	}
	p := got.Plates[0]
	if !near(p.CutTolerance, 0.12) || !near(p.HoleTolerance, 0.05) || !near(p.PlaceTolerance, 0.07) {
		t.Errorf("tolerances %v %v %v", p.CutTolerance, p.HoleTolerance, p.PlaceTolerance)
	}
	sinks, press := 0, 0
	for _, h := range p.Holes {
		if h.Press {
			press++
		}
		if k := h.Sink; k != nil {
			sinks++
			if !near(k.Diameter.Least, 6.1) || !near(k.Depth.Most, 1.6) || k.Angle != 0 || k.Face != "bottom" {
				t.Errorf("sink %+v", k)
			}
		}
	}
	if sinks != 4 || press != 1 {
		t.Errorf("%d sinks and %d press nuts, want 4 and 1", sinks, press)
	}
	for _, l := range got.Stacks[0].Levels {
		if (l.ID == "stacks.main.board") != (l.Hole != nil) {
			t.Errorf("%s: hole %+v", l.ID, l.Hole)
		}
		if l.Hole != nil && (l.Ring != "ground" || !near(l.Hole.Least, 3.12) || !near(l.Free.Nominal, 6.5)) {
			t.Errorf("board %+v", l)
		}
	}
	for _, j := range got.Joints {
		// ISO 4762 and ISO 7089: heads of 5.5, washers of 7.
		if j.Head != "socket" || !near(j.HeadD, 5.5) || !near(j.WasherD, 7) {
			t.Errorf("joint %+v", j)
		}
	}
}
