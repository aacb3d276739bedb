package layout_test

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// wired is a craft of 240 mm with a four-in-one board and a controller over it. Axes stand at
// ±120/√2 = ±84.85.
func wired(board, more, wires string) string {
	return `
dryfit: 1
name: wired
parts:
  sheet: {kind: material, density: 1.5, conducts: true}
  motor: {kind: motor, mass: 33, bell: 28, body-height: 17, overall-height: 31, bell-gap: 2, base: 22, circle: {diameter: 16, screw: M3}, mounts: m5, shaft: 4, lead-length: 150, lead-gauge: 18 AWG}
  prop: {kind: prop, mass: 4.5, diameter: 5.1 in, hub-thickness: 6.5, hub-diameter: 13, bores: 5, mounts: m5, blades: 3, flex-up: 4, flex-down: 2, below-hub: 1}
  driver: {kind: esc-four-in-one, mass: 14, size: [40, 42], square: {side: 30.5, hole: 4, screw: M3}, pcb: 1.6, above: 3, below: 2, pads: {m1: {at: [-7, -17], role: motor, ways: 3, pitch: 3}, m2: {at: [7, -17], role: motor, ways: 3, pitch: 3}, m3: {at: [-7, 17], role: motor, ways: 3, pitch: 3}, m4: {at: [7, 17], role: motor, ways: 3, pitch: 3}, battery: {at: [-18, 4], role: pack}, ground: {at: [-18, -4], role: ground}}, ports: {controller: {plug: jst-sh-4, edge: front, axis: 1.5, overhang: 0, pins: [ground, pack, m1, telemetry]}}}
  brain: {kind: controller, mass: 8, size: [36, 36], square: {side: 30.5, hole: 4, screw: M3}, pcb: 1.6, above: 4, below: 1.5, rails: {5: 2 A, 9: 2 A}, pads: {nine: {at: [16, 4], role: supply-9}, picture: {at: [16, 0], role: video}, near: {at: [16, 7], role: ground}, far: {at: [-16, 4], role: ground}}, ports: {esc: {plug: jst-sh-4, edge: back, axis: 1.5, overhang: 0, pins: [pack, ground, telemetry, m1]}, receiver: {plug: jst-sh-4, edge: right, axis: 1.5, overhang: 0, pins: [supply-5, ground, tx, rx]}}}
  ear: {kind: receiver, mass: 1, size: [18, 11, 3], pads: {feed: {at: [-8, 4], role: feed}, ground: {at: [-8, 1.5], role: ground}, rx: {at: [-8, -1.5], role: signal}, tx: {at: [-8, -4], role: signal}}}
  sender: {kind: video-transmitter, mass: 4, size: [20, 20, 4], pads: {feed: {at: [8, 3], role: feed}, ground: {at: [8, 0], role: ground}, video: {at: [8, -3], role: video}}}
  pack: {kind: battery, mass: 180, cells: 4, capacity: 1300, size: [76, 37, 32], lead-length: 80, lead-gauge: 12 AWG, plug: xt60, lead-room: 10}
rotors: {layout: cross, wheelbase: 240, motor: motor, prop: prop}
plates: {base: {material: sheet, thickness: 3, outline: {circle: 280}}}
stacks: {main: {from: base.top, items: [spacer nylon 6 mm, ` + board + `, spacer nylon 8 mm, brain, nut nylon]}}
` + more + `
wires:
` + wires
}

func circuit(t *testing.T, asm *layout.Assembly, label string) *layout.Circuit {
	t.Helper()
	var all []string
	for _, c := range asm.Circuits {
		if c.Label == label {
			return c
		}
		all = append(all, c.Label)
	}
	t.Fatalf("no circuit %q; there are %s", label, strings.Join(all, ", "))
	return nil
}

func wireCalled(t *testing.T, c *layout.Circuit, way string) *layout.Wire {
	t.Helper()
	for _, w := range c.Wires {
		if w.Way == way {
			return w
		}
	}
	t.Fatalf("no wire %q in %s", way, c.Label)
	return nil
}

func at(t *testing.T, what string, got r2.Point, x, y float64) {
	t.Helper()
	if math.Abs(got.X-x) > 1e-6 || math.Abs(got.Y-y) > 1e-6 {
		t.Errorf("%s at %v, want (%g, %g)", what, got, x, y)
	}
}

// TestMotorLeadsGoToTheNearestPads: the board lies as drawn, so m4 (7, 17) faces front left,
// m2 (7, -17) front right, m3 and m1 the rear. Turned by a quarter, (x, y) becomes (-y, x):
// m1 (17, -7) faces front right, m2 (17, 7) front left, m3 (-17, -7) rear right, m4 (-17, 7)
// rear left. An order of the build's own holds over both.
func TestMotorLeadsGoToTheNearestPads(t *testing.T) {
	for _, c := range []struct{ board, entry, want string }{
		{"driver", "motor leads", "front-left m4, front-right m2, rear-left m3, rear-right m1"},
		{"{board: driver, turn: 90}", "motor leads", "front-left m2, front-right m1, rear-left m4, rear-right m3"},
		{"driver", "{motor leads: driver, order: {front-left: m1}}", "front-left m1, front-right m2, rear-left m3, rear-right m4"},
	} {
		asm := layouttest.MustLoad(t, wired(c.board, "", "  - "+c.entry))
		var got []string
		for _, r := range []string{"front-left", "front-right", "rear-left", "rear-right"} {
			q := circuit(t, asm, "motor-"+r)
			if q.Kind != layout.MotorCircuit || len(q.Wires) != 3 || q.From.ID != "rotors."+r+".motor" {
				t.Errorf("%s: kind %s, %d wires from %s", r, q.Kind, len(q.Wires), q.From.ID)
			}
			got = append(got, r+" "+q.Wires[0].To.Name)
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("%s, %s: %s, want %s", c.board, c.entry, s, c.want)
		}
	}
}

// TestMotorLeads: the three leads lie side by side at the foot of the base of 22, on the side
// of the craft's middle: their middle is 11 in front of the axis at 84.85, along (-1, -1)/√2:
// 84.85 - 7.78 = 77.07. They lie as wide as the wire of 18 AWG (2.3) on the plate of 3 and do
// not cross on the way to the row at x = 4, 7, 10.
func TestMotorLeads(t *testing.T) {
	asm := layouttest.MustLoad(t, wired("driver", "", "  - motor leads"))
	c := circuit(t, asm, "motor-front-left")
	mid := c.Wires[1]
	want := (120 - 11) / math.Sqrt2
	at(t, "the middle lead", mid.From.At, want, want)
	at(t, "its pad", mid.To.At, 7, 17)
	if z := mid.From.Z.Nominal(); math.Abs(z-3-2.3/2) > 1e-9 {
		t.Errorf("it lies at %g, want %g", z, 3+2.3/2)
	}
	if d := c.Wires[0].From.At.Sub(c.Wires[2].From.At).Norm(); math.Abs(d-2*2.3) > 1e-9 {
		t.Errorf("the outer leads lie %g apart, want %g", d, 2*2.3)
	}
	// Of the two orders the one in which the leads do not cross: the lead with the greater x
	// goes to the pad with the greater x.
	for _, w := range c.Wires {
		for _, o := range c.Wires {
			if w.From.At.X > o.From.At.X && w.To.At.X < o.To.At.X {
				t.Errorf("%s and %s cross", w.ID, o.ID)
			}
		}
	}
	if c.Hung == nil || c.Hung.Value < 150 || c.Hung.Value > 150 || c.Mate != nil || c.FromPlug != nil {
		t.Errorf("hung %v mate %v plug %v", c.Hung, c.Mate, c.FromPlug)
	}
}

// TestTerminalsOfAFlippedBoard: upside down, the board's y runs the other way: m2, drawn at
// (7, -17), lies at (7, 17) on the face that looks down, and a wire leaves it over the edge
// that is nearest, to the left. The bare board's lower face lies on the spacer, at 3 + 6.
func TestTerminalsOfAFlippedBoard(t *testing.T) {
	asm := layouttest.MustLoad(t, wired("{board: driver, flip: true}", "", "  - {motor leads: driver, order: {front-left: m2}}"))
	p := circuit(t, asm, "motor-front-left").Wires[1].To
	at(t, "m2.2", p.At, 7, 17)
	if p.Name != "m2" || p.Up != -1 || math.Abs(p.Z.Nominal()-9) > 1e-9 || p.Dir != (r2.Point{Y: 1}) {
		t.Errorf("%s up %d at %g leaves along %v", p.ID, p.Up, p.Z.Nominal(), p.Dir)
	}
	// Its row runs along x still: m2.1 at 7 - 3.
	for _, w := range circuit(t, asm, "motor-front-left").Wires {
		if w.To.Way == "1" {
			at(t, "m2.1", w.To.At, 4, 17)
		}
	}
}

// TestHarnessByName: wires join ways of one name, in whatever order the plugs have them. The
// plugs' ways are 1 mm apart, the first on the left of who looks out of the socket: at the
// front of the driver (20 from its middle) that is y = 1.5.
func TestHarnessByName(t *testing.T) {
	asm := layouttest.MustLoad(t, wired("driver", "", "  - {from: driver.controller, to: brain.esc}"))
	c := circuit(t, asm, "driver-brain")
	if c.Kind != layout.HarnessKind || len(c.Wires) != 4 || c.FromPlug == nil || c.ToPlug == nil {
		t.Fatalf("kind %s, %d wires", c.Kind, len(c.Wires))
	}
	for _, w := range c.Wires {
		if w.From.Pin.Name != w.To.Pin.Name || w.StripA > 0 || w.StripB > 0 || w.Return {
			t.Errorf("%s joins %s and %s", w.ID, w.From.Way, w.To.Way)
		}
	}
	at(t, "ground of the driver", wireCalled(t, c, "ground").From.At, 20, 1.5)
	at(t, "telemetry of the driver", wireCalled(t, c, "telemetry").From.At, 20, -1.5)
	// At the back of the controller one looks along -x, and left is -y: pack, its first, at -1.5.
	at(t, "pack of the controller", wireCalled(t, c, "pack").To.At, -18, -1.5)
	// With no port named at one end the one that is called alike is meant.
	asm = layouttest.MustLoad(t, wired("driver", "", "  - {from: brain, to: driver.controller}"))
	if q := circuit(t, asm, "brain-driver"); q.FromPlug == nil || q.FromPlug.Port.Name != "esc" {
		t.Error("the port of the same ways is not found")
	}
}

// TestSerialLinesCross: what one part sends the other receives; the supply goes to what is
// fed, by whatever name.
func TestSerialLinesCross(t *testing.T) {
	more := "mounts: {ear: {part: ear, on: base.top, at: [60, 0]}}"
	asm := layouttest.MustLoad(t, wired("driver", more, "  - {from: brain.receiver, to: ear}"))
	c := circuit(t, asm, "brain-ear")
	got := map[string]string{}
	for _, w := range c.Wires {
		got[w.From.Way] = w.To.Name
	}
	if len(got) != 4 || got["tx"] != "rx" || got["rx"] != "tx" || got["supply-5"] != "feed" || got["ground"] != "ground" {
		t.Errorf("joined %v", got)
	}
	if w := wireCalled(t, c, "supply-5"); w.Role != shapes.Supply5Role || w.Colour != "orange" || w.StripA > 0 || w.StripB < 2.9 {
		t.Errorf("supply: role %s colour %s strips %g %g", w.Role, w.Colour, w.StripA, w.StripB)
	}
}

// TestSupplyGetsItsGround: the nearest ground at either end comes with a supply, and is
// marked as the tool's own.
func TestSupplyGetsItsGround(t *testing.T) {
	more := "mounts: {sender: {part: sender, on: base.top, at: [60, 0]}}"
	asm := layouttest.MustLoad(t, wired("driver", more, "  - {name: picture, from: brain.nine, to: sender, ways: [supply, picture], colours: {supply: pink}, gauge: 24 AWG}"))
	c := circuit(t, asm, "picture")
	if len(c.Wires) != 3 || c.Kind != layout.SignalCircuit {
		t.Fatalf("%d wires, kind %s", len(c.Wires), c.Kind)
	}
	g := wireCalled(t, c, "ground")
	if !g.Return || g.From.Name != "near" || g.To.Name != "ground" || g.Colour != "black" {
		t.Errorf("ground from %s to %s, added %v, %s", g.From.Name, g.To.Name, g.Return, g.Colour)
	}
	s := wireCalled(t, c, "nine")
	if s.Return || s.Role != shapes.Supply9Role || s.To.Name != "feed" || s.Colour != "pink" || s.Gauge.Name != "wire-24" || s.Chosen {
		t.Errorf("supply: %+v", s)
	}
	if v := wireCalled(t, c, "picture"); v.To.Name != "video" || v.Role != shapes.VideoRole {
		t.Errorf("video goes to %s", v.To.Name)
	}
}

// TestCutLengths: what is cut of a wire is its way, the slack and what is bared.
//
//	motor lead: way + 10 (5..20) + 3 (2..5) at the board; its own end comes with the motor
//	picture:    way + 20 (given) + 2 × 3 (2..5)
//	pack:       way - 80 that hang on the pack + 10 + 3 at the board + 3 in the plug's cup
//
// A way laid by hand is up to 2 % longer than the one that is measured.
func TestCutLengths(t *testing.T) {
	more := "mounts: {sender: {part: sender, on: base.top, at: [60, 0]}}\nbattery: {part: pack, on: base.bottom, lead: rear}"
	asm := layouttest.MustLoad(t, wired("driver", more, "  - motor leads\n  - {name: picture, from: brain.nine, to: sender.feed, slack: 20}\n  - {from: battery, to: driver}"))
	for _, q := range []struct {
		label             string
		add, addLo, addHi float64
		wires             int
	}{
		{"motor-front-left", 13, 7, 25, 3},
		{"picture", 26, 24, 30, 2},
		{"battery-driver", -80 + 16, -80 + 5 + 4, -80 + 20 + 10, 2},
	} {
		c := circuit(t, asm, q.label)
		if c.Route == nil || c.Route.Blocked != nil || len(c.Wires) != q.wires {
			t.Fatalf("%s: no way: %+v, %d wires", q.label, c.Route, len(c.Wires))
		}
		legs := 0.0
		for _, l := range c.Route.Legs {
			legs += l.Length
		}
		if math.Abs(legs-c.Route.Length) > 1e-6 {
			t.Errorf("%s: legs of %g, way of %g", q.label, legs, c.Route.Length)
		}
		for _, w := range c.Wires {
			lo, hi := w.Cut.Worst()
			l := c.Route.Length
			if math.Abs(w.Cut.Nominal()-l-q.add) > 1e-6 || math.Abs(lo-l-q.addLo) > 1e-6 || math.Abs(hi-1.02*l-q.addHi) > 1e-6 {
				t.Errorf("%s: cut %g (%g..%g) for a way of %g, want %+g (%+g..%+g)", w.ID, w.Cut.Nominal(), lo, hi, l, q.add, q.addLo, q.addHi)
			}
			if straight := w.From.At.Sub(w.To.At).Norm(); c.Hung == nil && w.Cut.Nominal() < straight {
				t.Errorf("%s: cut %g is shorter than the straight line of %g", w.ID, w.Cut.Nominal(), straight)
			}
			m := w.Gauge.Wire.MassPerM.Value
			if g := w.Cut.Nominal() * m / 1000; math.Abs(w.Grams.Nominal()-g) > 1e-9 {
				t.Errorf("%s: %g g, want %g", w.ID, w.Grams.Nominal(), g)
			}
		}
	}
	if c := circuit(t, asm, "battery-driver"); c.Mate == nil || c.Mate.Name != "xt60" || c.Kind != layout.PackCircuit || c.Wires[0].Gauge.Name != "wire-12" {
		t.Errorf("pack: mate %v, kind %s", c.Mate, c.Kind)
	}
}

// TestWiresCountOnce: motors weigh with 150 mm of lead each, so their circuits add what is used
// of it less 150; the rest counts whole. What the wires add comes out of the allowance, so that
// the sum stays until the wires outweigh it.
func TestWiresCountOnce(t *testing.T) {
	more := "battery: {part: pack, on: base.bottom, lead: rear}\nmass: {allowance: 40 g ±8}"
	bare := layouttest.MustLoad(t, wired("driver", more, "  []"))
	with := layouttest.MustLoad(t, wired("driver", more, "  - motor leads\n  - {from: battery, to: driver}"))
	var want float64
	for _, c := range with.Circuits {
		for _, w := range c.Wires {
			l := w.Cut.Nominal()
			if c.Kind == layout.MotorCircuit {
				l -= 150
			}
			want += l * w.Gauge.Wire.MassPerM.Value / 1000
		}
	}
	want += circuit(t, with, "battery-driver").Mate.Plug.MassPair.Value / 2
	if got := with.WireMass.Nominal(); math.Abs(got-want) > 1e-9 {
		t.Errorf("wires add %g g, want %g", got, want)
	}
	sum := 0.0
	for _, c := range with.Components {
		if c.Kind == "wires" {
			sum += c.Mass.Grams.Nominal()
		}
	}
	if math.Abs(sum-want) > 1e-9 {
		t.Errorf("their components weigh %g g, want %g", sum, want)
	}
	before, _ := bare.TakeOffMass()
	after, left := with.TakeOffMass()
	if want > 0 && (math.Abs(before.Nominal()-after.Nominal()) > 1e-6 || math.Abs(left.Value-(40-want)) > 1e-6 || math.Abs(left.Plus-8*(40-want)/40) > 1e-6) {
		t.Errorf("before %g g, after %g g, allowance left %g ±%g", before.Nominal(), after.Nominal(), left.Value, left.Plus)
	}
	if want <= 0 {
		t.Fatalf("wires add %g g: nothing is tested", want)
	}
}

// TestSinglesOnArms: four speed controllers on the arms get an output of the board each, the
// nearest in all, with the ground beside it; their motors are driven by the controller at the
// same rotor. Their signals come from the first four of the controller's six outputs, and with
// an order from where it says: the ground of the signal is not taken for the pack's.
func TestSinglesOnArms(t *testing.T) {
	single := "  single: {kind: esc, mass: 5, amps: 20, size: [23, 11, 5], pads: {phases: {at: [10, 0], role: motor, ways: 3, pitch: 3, row: 90}, supply: {at: [-10, 3], role: pack}, ground: {at: [-10, -3], role: ground}, signal-ground: {at: [-10, -1], role: ground}, signal: {at: [-10, 1], role: signal}}}\n"
	hub := "  hub: {kind: power-board, mass: 7, size: [36, 36], square: {side: 30.5, hole: 4, screw: M3}, pcb: 1.6, above: 3, below: 1, pads: {battery: {at: [-16, 3], role: pack}, ground: {at: [-16, -3], role: ground}, m1: {at: [-8, -16], role: pack}, m1-ground: {at: [-5, -16], role: ground}, m2: {at: [8, -16], role: pack}, m2-ground: {at: [5, -16], role: ground}, m3: {at: [-8, 16], role: pack}, m3-ground: {at: [-5, 16], role: ground}, m4: {at: [8, 16], role: pack}, m4-ground: {at: [5, 16], role: ground}}}\n"
	text := wired("hub", "mounts: {esc: {part: single, on: arms, from-motor: 20}}", "  - motor leads\n  - {from: hub, to: esc}\n  - {from: brain, to: esc, ways: [signal], order: {rear-left: m6}}\n")
	text = strings.Replace(text, "  sheet:", single+hub+"  sheet:", 1)
	text = strings.Replace(text, "pads: {nine:", "pads: {m1: {at: [16, -6], role: signal}, m2: {at: [16, -8], role: signal}, m3: {at: [16, -10], role: signal}, m4: {at: [16, -12], role: signal}, m5: {at: [16, -13], role: signal}, m6: {at: [16, -14], role: signal}, nine:", 1)
	asm := layouttest.MustLoad(t, text)
	for rotor, out := range map[string]string{"front-left": "m4", "front-right": "m2", "rear-left": "m3", "rear-right": "m1"} {
		if c := circuit(t, asm, "motor-"+rotor); c.To.ID != "mounts.esc."+rotor {
			t.Errorf("the motor %s goes to %s", rotor, c.To.ID)
		}
		c := circuit(t, asm, "hub-esc-"+rotor)
		if len(c.Wires) != 2 || c.Wires[0].From.Name != out || c.Wires[1].From.Name != out+"-ground" || c.To.ID != "mounts.esc."+rotor || c.Kind != layout.PackCircuit {
			t.Errorf("%s: %d wires from %s and %s to %s", rotor, len(c.Wires), c.Wires[0].From.Name, c.Wires[1].From.Name, c.To.ID)
		}
		if to := c.Wires[1].To.Name; to != "ground" {
			t.Errorf("%s: the pack returns over %s", rotor, to)
		}
		// 20 A: the trade's supply leads of such controllers are 18 to 20 AWG.
		if g := c.Wires[0].Gauge.Wire.Gauge; g < 18 || g > 20 {
			t.Errorf("%s: %g AWG", rotor, g)
		}
		s := circuit(t, asm, "brain-esc-"+rotor)
		if len(s.Wires) != 1 || s.Wires[0].To.Name != "signal" || s.Kind != layout.SignalCircuit {
			t.Errorf("%s: signals %d, to %s", rotor, len(s.Wires), s.Wires[0].To.Name)
		}
		if from := s.Wires[0].From.Name; from == "m5" || (from == "m6") != (rotor == "rear-left") {
			t.Errorf("%s is driven from %s", rotor, from)
		}
	}
}

// TestTooManyCircuits: a file of nothing but wires is refused instead of routed for hours.
func TestTooManyCircuits(t *testing.T) {
	more := "mounts: {sender: {part: sender, on: base.top, at: [60, 0]}}"
	text := wired("driver", more, strings.Repeat("  - {from: brain.nine, to: sender.feed}\n", 401))
	found := layouttest.Mistakes(t, text)
	if len(found) != 1 || !strings.Contains(found[0].Message, "more than 400 circuits") {
		t.Errorf("%v", found)
	}
}

// TestPackPluggedIn: where the board has the plug, the pack's own lead goes all the way: nothing
// is cut, no pair of plugs lies in between, and nothing weighs beside the pack.
func TestPackPluggedIn(t *testing.T) {
	text := wired("driver", "battery: {part: pack, on: base.bottom, lead: rear}", "  - {from: battery, to: driver.lead}")
	text = strings.Replace(text, "ports: {controller:", "ports: {lead: {plug: xt60, edge: back, axis: 4, overhang: 10, pins: [pack, ground]}, controller:", 1)
	asm := layouttest.MustLoad(t, text)
	c := circuit(t, asm, "battery-driver")
	if c.Mate != nil || c.ToPlug == nil || c.Kind != layout.PackCircuit || len(c.Wires) != 2 || c.Hung == nil {
		t.Fatalf("mate %v plug %v kind %s", c.Mate, c.ToPlug, c.Kind)
	}
	for _, w := range c.Wires {
		if w.Gauge.Name != "wire-12" || w.StripA > 0 || w.StripB > 0 {
			t.Errorf("%s: %s, strips %g %g", w.ID, w.Gauge.Name, w.StripA, w.StripB)
		}
	}
	if g := asm.WireMass.Nominal(); g > 0 || g < 0 {
		t.Errorf("it adds %g g", g)
	}
}
