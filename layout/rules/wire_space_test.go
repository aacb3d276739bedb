package rules

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

func TestWireSpace(t *testing.T) {
	testRule(t, wireSpace, "ok tight fail unknown nothing")
	const hole, slot, cross = "hole-too-narrow", "slot-too-short", "crossing"
	testChanges(t, wireSpace, []change{
		{hole, "{hole: 3.5, at", "{hole: 4.1, at", "tight 0.00"},                    // 4.1 - 3.6 - 0.5
		{hole, "{hole: 3.5, at", "{hole: 4.6, at", "ok 0.50"},                       // 0.1 of the hole and 3 x 0.1 of the wires may be lost
		{hole, "dryfit: 1", "dryfit: 1\nneeds: {wire-space: 0.2 mm}", "fail -0.30"}, // -0.1 - 0.2
		{slot, "{slot: [5.5, 3.5], at", "{slot: [8, 3.5], at", "ok 1.80"},           // along 8 - 5.4 - 0.5 = 2.1, across 3.5 - 1.2 - 0.5
		{slot, "{slot: [5.5, 3.5], at", "{slot: [6, 4], at", "ok 1.90"},             // 3.6 round fits in 4: 6 - 3.6 - 0.5
		{cross, "length: 8 ±0.1", "length: 8.5 ±0.1", "tight 0.40, ok 3.80"},        // 0.1 of the spacer and of the parts, 2 x 0.2 of the bundles
		{cross, "length: 8 ±0.1", "length: 9 ±0.1", "ok 0.90"},                      // of the crossing; 4.3 of either alone is more
	})
	wantFix(t, wireSpace, changed(t, wireSpace, hole), "make it 4.5 mm in place of 3.5, or lead one of them elsewhere with `via:`")
	wantFix(t, wireSpace, changed(t, wireSpace, cross), "lead one of the two elsewhere with `via:`, or make room with a higher spacer, by 0.7 mm")
}

// spaceBench is a plate of 2 with one opening and a circuit of n wires of 1.2 ±0.1 led straight through it.
func spaceBench(t *testing.T, hole layout.Hole, n int) *bench {
	t.Helper()
	b := newBench()
	plate := &layout.Plate{Component: &layout.Component{ID: "plates.base", Label: "base", Kind: "plate", Pos: benchPos, Count: 1}, Name: "base"}
	plate.Top = layout.Fixed(2)
	hole.Name = "base.gap"
	plate.Holes = []layout.Hole{hole}
	b.asm.Plates = append(b.asm.Plates, plate)
	b.asm.Components = append(b.asm.Components, plate.Component)
	wire := copper(50, 1.2)
	wire.Wire.OD.Plus, wire.Wire.OD.Minus = 0.1, 0.1
	way := path(r2.Point{}, r2.Point{X: 10}, 30)
	way.Edges = []layout.EdgePlace{{Plate: "plates.base", Hole: "base.gap"}}
	c := b.join(layout.SignalCircuit, b.load("one", 1), b.load("two", 1), make([]shapes.Role, n), wire, way, 10)
	b.asm.Components = append(b.asm.Components, &layout.Component{ID: c.ID, Label: c.Label, Kind: "wire", Pos: benchPos, Count: 1})
	return b
}

// Seven wires lie as six round one: three diameters, 3.6. In a hole of 4.5 ±0.1 that leaves 0.9, needed 0.5; at worst
// 0.1 of the hole and 0.3 of the wires less.
func TestBundleThroughHole(t *testing.T) {
	hole := func(d float64) layout.Hole {
		return layout.Hole{Diameter: &shapes.Dim{Name: "gap", Value: d, Plus: 0.1, Minus: 0.1, Unit: shapes.MM}}
	}
	out := spaceBench(t, hole(4.5), 7).told(t, wireSpace, "ok 0.40")
	if w := out.Findings[0].Worst; math.Abs(w) > 1e-9 {
		t.Errorf("worst %v, want 0", w)
	}
	spaceBench(t, hole(4.3), 7).told(t, wireSpace, "tight 0.20")
	spaceBench(t, hole(3.9), 7).told(t, wireSpace, "fail -0.20")
	// Three of them: 1 + 2/√3 diameters: 2.5856.
	spaceBench(t, hole(3.9), 3).told(t, wireSpace, "ok 0.81")
	// Tape on the rim takes 0.2 on either side.
	b := spaceBench(t, hole(4.5), 7)
	b.asm.Circuits[0].Spec.Edge = "tape"
	b.told(t, wireSpace, "tight 0.00")
	// A sleeve over all of them, 0.5 thick, round the bundle of 2.4 that the bench makes of them.
	b = spaceBench(t, hole(4.5), 7)
	b.asm.Circuits[0].Spec.Edge = "sleeve"
	b.told(t, wireSpace, "ok 0.60") // 4.5 - 3.4 - 0.5
}

func TestSideBySide(t *testing.T) {
	for _, q := range []struct {
		ds      []float64
		w       float64
		rounded bool
		want    float64
	}{
		{nil, 3, true, 0},
		{[]float64{1.2}, 1.2, true, 1.2},
		{[]float64{1, 1, 1, 1}, 1, true, 4},                 // in one row
		{[]float64{1, 1, 1}, 1.6, false, 1 + 2*0.8},         // zigzag: √(1 - 0.36) each
		{[]float64{1, 1, 1}, 1.6, true, 3},                  // 2.6 and 0.6 for the round ends; one row is shorter
		{[]float64{4, 1, 1, 1, 1}, 4, false, 5},             // four thin ones behind the thick one
		{[]float64{1, 1, 1, 1, 1, 1, 1}, 3, true, 3},        // six round one
		{[]float64{1, 1, 1, 1, 1, 1, 1, 1, 1}, 3, false, 3}, // three columns of three
	} {
		if got := sideBySide(q.ds, q.w, q.rounded); math.Abs(got-q.want) > 1e-9 {
			t.Errorf("%v in %v: %v, want %v", q.ds, q.w, got, q.want)
		}
	}
}

// Under a plate whose underside is at 0 two bundles of 3.4 cross over a box that reaches up to -7: 7 - 6.8 = 0.2, needed 0.3. Each by
// itself has 7 - 3.4 - 0.3 = 3.3. Beside the crossing, from x = 4 on, the box is only under one of them.
func TestCrossingUnderPlate(t *testing.T) {
	for _, q := range []struct {
		at   r2.Point
		want string
	}{{r2.Point{}, "fail -0.10, ok 3.30"}, {r2.Point{X: 14}, "ok 3.30"}, {r2.Point{X: 14, Y: 14}, "ok"}} {
		b := newBench()
		plate := &layout.Plate{Component: &layout.Component{ID: "plates.base", Label: "base", Kind: "plate", Pos: benchPos, Count: 1}, Name: "base"}
		plate.Top = layout.Fixed(2)
		b.asm.Plates = append(b.asm.Plates, plate)
		box := b.load("box", 0)
		b.asm.Bodies = append(b.asm.Bodies, &layout.Body{ID: box.ID, Of: box.ID, Kind: layout.PartBody, Part: box.Part,
			Plan:   []geom.Region{geom.RegionOf(geom.Rectangle(q.at, 20, 20))},
			Bottom: layout.Fixed(-12), Top: layout.Fixed(-7)})
		for i, end := range []r2.Point{{X: 30}, {Y: 30}} {
			way := path(end.Mul(-1), end, -1.7)
			way.Legs[0].Level = "plates.base.bottom"
			c := b.join(layout.SignalCircuit, b.load([]string{"one", "two"}[i], 1), b.load([]string{"three", "four"}[i], 1), make([]shapes.Role, 5), copper(50, 1.7), way, 10)
			b.asm.Components = append(b.asm.Components, &layout.Component{ID: c.ID, Label: c.Label, Kind: "wire", Pos: benchPos, Count: 1})
		}
		b.told(t, wireSpace, q.want)
	}
}
