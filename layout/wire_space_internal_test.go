package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
)

// spaceOf places a build and returns what its wires run through.
func spaceOf(t *testing.T, text string) (*Assembly, *route.Space) {
	t.Helper()
	b, diags := LoadBytes("b.yaml", []byte(text), nil, nil)
	if b == nil {
		t.Fatal(diags)
	}
	a, diags := Resolve(b)
	if a == nil {
		t.Fatal(diags)
	}
	return a, a.wireSpace()
}

// TestWireSpace: a plate of 3 with a board on posts of 5 and a motor.
//
//   - the holes under the stack's M3 bolts are filled by π/4·3² = 7.07 mm², the slot for wires and the
//     motor's centre hole by nothing;
//   - the board's parts end at 3 + 5 + 1.6 + 2.5 = 12.1: wires may lie there;
//   - the prop sweeps, at the worst of all figures, from below its seat at 3 + 17: hub 6.5 ±0.2,
//     flex up 4, flex down 2, below hub 1 ±0.2, body ±0.2, so from 20 - 1 - 2 - 0.2 - 0.2 and the plate's ±0.1
//     less = 16.5 to 20 + 6.5 + 4 + 0.2 + 0.2 + 0.1 = 31; its radius is 100/2 with 1.2 % of the label (0.6)
//     and ±0.2 of the motor's place = 50.8.
func TestWireSpace(t *testing.T) {
	_, s := spaceOf(t, `
dryfit: 1
name: space
parts:
  sheet: {kind: material, density: 1.5, conducts: true}
  motor: {kind: motor, mass: 33, bell: 28, body-height: 17 ±0.2, overall-height: 31, bell-gap: 2, base: 22, circle: {diameter: 16, screw: M3}, mounts: m5, shaft: 4, centre-hole: 6}
  prop: {kind: prop, mass: 4.5, diameter: 100 ±0, real-diameter: 100 ±1.2, hub-thickness: 6.5 ±0.2, hub-diameter: 13, bores: 5, mounts: m5, blades: 3, flex-up: 4, flex-down: 2, below-hub: 1 ±0.2}
  board: {kind: controller, mass: 8, size: [36, 36], square: {side: 30.5, hole: 3.2, screw: M3}, pcb: 1.6, above: 2.5, below: 1.5}
rotors: {layout: by-hand, motor: motor, prop: prop, each: {only: {at: [80, 0], turn: clockwise}}}
plates:
  base: {material: sheet, thickness: 3 ±0.1, outline: {rectangle: [240, 80]}, holes: [{for: stacks.main}, {for: motors, centre: 7}, {slot: [12, 4], at: [-60, 0], name: wire-slot, for: wires}]}
stacks: {main: {from: base.top, items: [spacer nylon 5 mm, board, nut nylon]}}
`)
	if len(s.Sheets) != 1 || s.Sheets[0].ID != "plates.base" || math.Abs(s.Sheets[0].Hi-3) > 1e-9 {
		t.Fatalf("sheets %+v", s.Sheets)
	}
	taken, open := 0, 0
	for _, h := range s.Sheets[0].Holes {
		switch {
		case h.Taken == 0:
			open++
		case math.Abs(h.Taken-math.Pi/4*9) < 1e-9:
			taken++
		default:
			t.Errorf("hole %s is filled by %g mm²", h.Name, h.Taken)
		}
	}
	if taken != 4+4 || open != 2 {
		t.Errorf("%d holes with screws, %d open; want 8 and 2", taken, open)
	}
	levels, discs := 0, 0
	for _, o := range s.Solids {
		if o.Level {
			levels++
			if math.Abs(o.Hi-12.1) > 1e-9 || o.Owner != "stacks.main.board" {
				t.Errorf("wires may lie on %s at %g", o.ID, o.Hi)
			}
		}
		if o.Forbidden {
			discs++
			if r := o.Plan[0].Bound().Size().X / 2; math.Abs(r-50.8) > 1e-6 {
				t.Errorf("the disc reaches %g", r)
			}
			if math.Abs(o.Lo-16.5) > 1e-6 || math.Abs(o.Hi-31) > 1e-6 {
				t.Errorf("the disc lies from %g to %g", o.Lo, o.Hi)
			}
		}
	}
	if levels != 1 || discs != 1 {
		t.Errorf("%d levels over boards, %d discs", levels, discs)
	}
}

// TestThickPlatesAreWalls: a duct of 12 mm on a base of 2 is a wall with room inside, not a sheet
// with a hole in it.
func TestThickPlatesAreWalls(t *testing.T) {
	_, s := spaceOf(t, `
dryfit: 1
name: duct
parts: {sheet: {kind: material, density: 1.5}}
plates:
  base: {material: sheet, thickness: 2, outline: {circle: 100}}
  duct: {material: sheet, thickness: 12, on: base, outline: {ring: [80, 84]}}
`)
	if len(s.Sheets) != 1 || s.Sheets[0].ID != "plates.base" || len(s.Solids) != 1 {
		t.Fatalf("%d sheets, %d solids", len(s.Sheets), len(s.Solids))
	}
	o := s.Solids[0]
	if o.ID != "plates.duct" || math.Abs(o.Lo-2) > 1e-9 || math.Abs(o.Hi-14) > 1e-9 || o.Level || len(o.Plan[0].Holes) != 1 {
		t.Errorf("%+v", o)
	}
}

// TestLeaningAntennaLetsLeadsPass: a stem of 30, 2 thick, leans by 45 degrees: 21.21 in plan, in 8 pieces of 2.652. Over x = 8 there are
// the third, to 7.955 + 1, and the fourth; the third begins 2 · 2.652 higher than the base, less the rim's 0.707: 4.596. So what is 4 high
// passes under it there, and at x = 5 it does not: the second piece begins 1.945 over the base.
func TestLeaningAntennaLetsLeadsPass(t *testing.T) {
	_, s := spaceOf(t, `
dryfit: 1
name: lean
parts:
  sheet: {kind: material, density: 1.5, conducts: true}
  whip: {kind: antenna, rod: 30 ±0, rod-diameter: 2 ±0, mass: 2}
plates:
  base: {material: sheet, thickness: 3 ±0, outline: {rectangle: [100, 80]}}
antennas: {whip: {part: whip, on: base.top, at: [0, 0], lean: 45 deg, towards: 0 deg}}
`)
	least := func(x float64) float64 {
		lo := math.Inf(1)
		for _, o := range s.Solids {
			if o.Owner == "antennas.whip" && geom.DistancePoint(o.Plan[0], r2.Point{X: x}).Dist < 0 {
				lo = min(lo, o.Lo)
			}
		}
		return lo
	}
	pieces := 0
	for _, o := range s.Solids {
		if o.Owner == "antennas.whip" {
			pieces++
		}
	}
	step := 30 / math.Sqrt2 / 8
	if pieces != 8 {
		t.Errorf("%d pieces, want 8", pieces)
	}
	if got, want := least(8), 3+2*step-math.Sqrt2/2; math.Abs(got-want) > 1e-6 {
		t.Errorf("over x = 8 from %g, want %g", got, want)
	}
	if got, want := least(5), 3+step-math.Sqrt2/2; math.Abs(got-want) > 1e-6 {
		t.Errorf("over x = 5 from %g, want %g", got, want)
	}
}

// TestNoWireGoesThroughAPart: a light in one piece stands in the way of its own wires as a board does.
func TestNoWireGoesThroughAPart(t *testing.T) {
	_, s := spaceOf(t, `
dryfit: 1
name: piece
parts:
  sheet: {kind: material, density: 1.5, conducts: true}
  lamp: {kind: light, size: [10, 10, 4], mass: 1 g, volts: 4..6, pads: {supply: {at: [-4, 0], face: top, role: feed}, ground: {at: [-4, 2], face: top, role: ground}}}
plates:
  base: {material: sheet, thickness: 3 ±0, outline: {rectangle: [100, 80]}}
mounts: {lamp: {part: lamp, on: base.top, at: [0, 0], hold: foam 2 mm}}
`)
	found := false
	for _, o := range s.Solids {
		if whole := o.ID == "mounts.lamp"; o.Bare != whole {
			t.Errorf("%s: bare %v", o.ID, o.Bare)
		} else if whole {
			found = true
		}
	}
	if !found {
		t.Error("the lamp is not in the space")
	}
}
