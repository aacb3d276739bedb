package layout_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// supplyBuild is heavy as lead, so that the screws do not count: base 220·220·2·25/1000 = 2420 g, motors 4000, props
// 800, pack 10000, esc 1780, brain 500, ear 200, sender 300: 20000 g; screws and wires of 22 g make the hover 8.01 + 0.96.
const supplyBuild = `
dryfit: 1
name: supply
parts:
  mat: {kind: material, density: 25 ±0, cut-tolerance: 0 ±0.1}
  bare-motor: {kind: motor, bell: 20, body-height: 20, bell-gap: 2, base: 16, circle: {diameter: 12, screw: M2}, mounts: [t-1.5], mass: 1000 g ±0, max-current: 16 A ±2, max-thrust: 20000 gf ±2000, lead-length: 150, lead-gauge: 20 AWG}
  five: {kind: prop, diameter: 127, hub-thickness: 6, hub-diameter: 12, bores: [1.5], mounts: [t-1.5], flex-up: 3, flex-down: 2, below-hub: 1, mass: 200 g ±0}
  pack: {kind: battery, size: [70, 35, 30], mass: 10000 g ±0, cells: 4, capacity: 1500 mAh ±0, discharge: 80, plug: xt60, lead-gauge: 12 AWG, lead-length: 80 ±0}
  esc:
    kind: block
    size: [30, 30, 5]
    mass: 1780 g ±0
    volts: 6..25
    amps: 20 A
    pads:
      m1: {at: [-5, -13], role: motor, ways: 3, pitch: 3}
      m2: {at: [5, -13], role: motor, ways: 3, pitch: 3}
      m3: {at: [-5, 13], role: motor, ways: 3, pitch: 3}
      m4: {at: [5, 13], role: motor, ways: 3, pitch: 3}
      pack: {at: [-13, 4], role: pack}
      ground: {at: [-13, -4], role: ground}
  brain:
    kind: block
    size: [20, 20, 5]
    mass: 500 g ±0
    volts: 6..25
    draw: 0.2 A ±0
    rails: {5: {amps: 2 A, dropout: 1 V}, 9: {amps: 2 A, dropout: 1 V}}
    pads:
      pack: {at: [-8, 4], role: pack}
      ground: {at: [-8, -4], role: ground}
      five: {at: [8, 8], role: supply-5}
      five-ground: {at: [8, 5], role: ground}
      nine: {at: [8, -5], role: supply-9}
      nine-ground: {at: [8, -8], role: ground}
  ear:
    kind: receiver
    size: [15, 10, 4]
    mass: 200 g ±0
    volts: 4.5..5.5
    draw: 0.1 A ±0
    pads: {supply: {at: [-6, 3], role: feed}, ground: {at: [-6, -3], role: ground}}
  sender:
    kind: video-transmitter
    size: [20, 20, 5]
    mass: 300 g ±0
    volts: 7..26
    draw: 1 A ±0
    pads: {supply: {at: [-8, 3], role: feed}, ground: {at: [-8, -3], role: ground}}
rotors: {layout: cross, wheelbase: 240, motor: bare-motor, prop: five}
plates:
  base: {material: mat, thickness: 2 ±0, outline: {rectangle: [220, 220]}}
mounts:
  esc: {part: esc, on: base.top, at: [0, 0]}
  brain: {part: brain, on: base.top, at: [40, 0]}
  ear: {part: ear, on: base.top, at: [70, 0]}
  sender: {part: sender, on: base.top, at: [-50, 0]}
battery: {part: pack, on: base.bottom, at: [0, 0]}
mass: {allowance: 0 g ±0}
wires:
  - motor leads
  - {from: battery, to: esc, gauge: 12 AWG}
  - {from: esc.pack, to: brain.pack, gauge: 22 AWG}
  - {from: brain.five, to: ear.supply}
  - {from: brain.nine, to: sender.supply}
`

func near(t *testing.T, what string, f layout.Form, want float64) {
	t.Helper()
	if m := f.Missing(); len(m) > 0 {
		t.Errorf("%s lacks %s", what, m[0].Name)
	}
	if d := math.Abs(f.Nominal() - want); d > 0.002*math.Max(1, want) {
		t.Errorf("%s: %.5f, want %.5f", what, f.Nominal(), want)
	}
}

func TestSupplyByHand(t *testing.T) {
	s := layouttest.MustLoad(t, supplyBuild).Supply()
	near(t, "mass", s.Mass, 20000)
	// Four of 16 A: 64, of which 80 % at full throttle: 51.2. A quarter of the thrust: 0.25^1.5 = 0.125: 8.
	// Receiver 0.1·5/(14.8·0.85) = 0.03975, transmitter 9/(14.8·0.85) = 0.71542, the board itself 0.2: 0.95517.
	near(t, "hover", s.Hover, 8.95517)
	near(t, "full throttle", s.Full, 52.15517)
	if len(s.Packs) != 1 || math.Abs(s.Packs[0].Full-16.8) > 1e-9 || math.Abs(s.Packs[0].Sag-13.2) > 1e-9 {
		t.Fatalf("packs: %+v", s.Packs)
	}
	// 1.5 Ah · 80 / 2.
	near(t, "steady current of the pack", s.Packs[0].Steady, 60)
	if len(s.Rails) != 2 {
		t.Fatalf("%d rails, want 2", len(s.Rails))
	}
	near(t, "5 V", s.Rails[0].Load, 0.1)
	near(t, "9 V", s.Rails[1].Load, 1)
	if s.Rails[0].Volts != 5 || s.Rails[1].Volts != 9 || s.Rails[0].Rail == nil || s.Rails[0].Input == nil || s.Rails[0].Input.Net.Kind != layout.PackNet {
		t.Errorf("rails: %+v %+v", s.Rails[0], s.Rails[1])
	}
	want := map[string][2]float64{
		"battery-esc.pack": {8.95517, 52.15517}, "battery-esc.ground": {8.95517, 52.15517},
		"esc-brain.pack": {0.95517, 0.95517}, "esc-brain.ground": {0.95517, 0.95517},
	}
	seen := 0
	for _, u := range s.Leads {
		key := strings.TrimPrefix(u.Wire.ID, "wires.")
		if w, ok := want[key]; ok {
			seen++
			near(t, key+" hovering", u.Hover, w[0])
			near(t, key+" at full throttle", u.Full, w[1])
		}
		if u.Ring {
			t.Errorf("%s is no ring", key)
		}
	}
	if seen != len(want) {
		t.Errorf("found %d of the leads; there are %d", seen, len(s.Leads))
		for _, u := range s.Leads {
			t.Log(u.Wire.ID)
		}
	}
}

func TestNetsByHand(t *testing.T) {
	asm := layouttest.MustLoad(t, supplyBuild)
	var words []string
	for _, n := range asm.Nets() {
		if n.Kind != layout.OtherNet {
			words = append(words, n.String())
		}
	}
	if got, want := strings.Join(words, ", "), "the pack, ground, 5 V of brain, 9 V of brain"; got != want {
		t.Errorf("nets: %s, want %s", got, want)
	}
}

// TestRingCarriesAll: where there are two ways round, each is reckoned with all of it; two
// equal wires between the same two places share.
func TestRingAndLanes(t *testing.T) {
	ring := supplyBuild + "  - {from: esc.pack, to: sender.extra}\n  - {from: brain.pack, to: sender.extra}\n"
	ring = strings.Replace(ring, "pads: {supply: {at: [-8, 3], role: feed}", "pads: {extra: {at: [-8, 0], role: pack}, supply: {at: [-8, 3], role: feed}", 1)
	s := layouttest.MustLoad(t, ring).Supply()
	n := 0
	for _, u := range s.Leads {
		if u.Ring && u.Wire.Role == shapes.PackRole {
			n++
		}
	}
	if n != 3 {
		t.Errorf("%d pack leads in a ring, want 3", n)
	}
	lanes := supplyBuild + "  - {from: esc.pack, to: brain.pack, gauge: 22 AWG}\n"
	for _, u := range layouttest.MustLoad(t, lanes).Supply().Leads {
		if strings.HasPrefix(u.Wire.ID, "wires.esc-brain") && u.Wire.Role == shapes.PackRole {
			near(t, u.Wire.ID, u.Full, 0.95517/2)
		}
	}
}

func TestSupplyLines(t *testing.T) {
	s := layouttest.MustLoad(t, supplyBuild).Supply()
	text := strings.Join(s.Lines(), "\n")
	for _, want := range []string{
		"battery: 16.8 V full (4 x 4.2), 13.2 V sagging, gives 60 A steadily",
		"hovering 8.97 A, full throttle 52.2 A",
		"9 V of brain: 1 A of 2 A",
		"esc-brain, 22 AWG: hovering 0.96 A, full throttle 0.96 A",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		t.Errorf("not finite:\n%s", text)
	}
	if len(layout.SupplyCautions()) == 0 || len(s.Assumed) == 0 {
		t.Error("no cautions or assumptions")
	}
	for _, c := range []string{"props off", "polarity", "current-limited", "packs", "iron"} {
		if !strings.Contains(strings.ToLower(strings.Join(layout.SupplyCautions(), " ")), c) {
			t.Errorf("no caution about %s", c)
		}
	}
}

// TestSupplyWithoutWires: what is known is still told, and nothing crashes.
func TestSupplyWithoutWires(t *testing.T) {
	text, _, _ := strings.Cut(supplyBuild, "wires:")
	s := layouttest.MustLoad(t, text).Supply()
	near(t, "hover", s.Hover, 8)
	near(t, "full throttle", s.Full, 51.2)
	if len(s.Leads) > 0 || len(s.Rails) > 0 || len(s.Nets) > 0 {
		t.Error("leads from nowhere")
	}
	if e := (&layout.Assembly{}).Supply(); len(e.Lines()) > 0 {
		t.Errorf("an empty build tells %q", e.Lines())
	}
}

// TestBoardsThatFeedEachOther: a circle of regulators ends, with figures that are finite.
func TestBoardsThatFeedEachOther(t *testing.T) {
	board := func(name string) string {
		return "  " + name + ": {kind: block, size: [20, 20, 5], mass: 5 g, volts: 4..26, draw: 0.2 A, rails: {5: 2 A, 9: 2 A}, pads: {in: {at: [-8, 0], role: feed}, in-b: {at: [-8, 8], role: feed}, ground: {at: [-8, -8], role: ground}, five: {at: [8, 5], role: supply-5}, nine: {at: [8, -5], role: supply-9}}}\n"
	}
	s := layouttest.MustLoad(t, `
dryfit: 1
name: circle
parts:
`+board("a")+board("b")+`plates:
  base: {material: carbon, thickness: 2, outline: {rectangle: [120, 60]}}
mounts:
  a: {part: a, on: base.top, at: [-30, 0]}
  b: {part: b, on: base.top, at: [30, 0]}
wires:
  - {from: a.five, to: b.in}
  - {from: a.nine, to: b.in-b}
  - {from: b.five, to: a.in}
  - {from: b.nine, to: a.in-b}
`).Supply()
	if len(s.Rails) != 4 {
		t.Errorf("%d rails, want 4", len(s.Rails))
	}
	for _, r := range s.Rails {
		if v := r.Load.Nominal(); math.IsNaN(v) || v < 0 || v > 10 {
			t.Errorf("%g V of %s: %g A", r.Volts, r.Owner.Label, v)
		}
	}
}
