package layout_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

func planArea(p *layout.Plate) float64 {
	sum := 0.0
	for _, r := range p.Outline {
		sum += r.Area()
	}
	return sum
}

// A bar of 60 x 12 that runs into a disc of radius 12 at its end: the union is bar plus
// disc less what the two share. The bar's end lies on the disc's centre, so the shared
// part is the half disc cut off at y = ±6:
//
//	2·∫₀^6 √(144 - y²) dy = 6·√(144 - 36) + 144·asin(6/12) = 62.353829 + 75.398224
func TestPlateAreaOfBarAndDisc(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: paddle
plates:
  base:
    material: mat
    thickness: 2 ±0.1
    outline: {join: [{bar: {from: [0, 0], to: [60, 0], width: 12}}, {circle: 24, at: [60, 0]}]}
    holes: [{hole: 6, at: [60, 0]}, {slot: [20, 4], at: [20, 0]}]
`+roundParts)
	shared := 6*math.Sqrt(144-36) + 144*math.Asin(0.5)
	// The hole takes π·9, the slot 16·4 + π·4.
	want := 60*12 + math.Pi*144 - shared - math.Pi*9 - (64 + math.Pi*4)
	p := asm.Plates[0]
	if got := planArea(p); math.Abs(got-want) > 1e-6 {
		t.Errorf("area %.9f, want %.9f", got, want)
	}
	// 2 mm at 1.5 g/cm³; ±0.1 in 2 of thickness is 5 %.
	grams := want * 2 * 1.5 / 1000
	lo, hi := p.Mass.Grams.Worst()
	if math.Abs(p.Mass.Grams.Nominal()-grams) > 1e-6 || math.Abs(hi-1.05*grams) > 1e-6 || math.Abs(lo-0.95*grams) > 1e-6 {
		t.Errorf("mass %v (%v..%v), want %v", p.Mass.Grams.Nominal(), lo, hi, grams)
	}
	nearMM(t, "centre z", p.Mass.Z, 1)
	if len(p.Outline[0].Holes) != 2 || len(p.Solid[0].Holes) != 0 {
		t.Error("the outline has both holes, the solid none")
	}
}

// Three mm fillets in the corners between two crossing bars: each corner gains the square
// less the quarter disc, (1 - π/4)·9.
func TestPlateFillet(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: filleted
plates:
  base: {material: mat, thickness: 2, outline: {join: [{rectangle: [80, 20]}, {rectangle: [20, 80]}], fillet: 3, round: 2}}
`+roundParts)
	// The cross is 2·1600 - 400; its eight outer corners lose (1 - π/4)·4 each.
	want := 2800 + 4*(1-math.Pi/4)*9 - 8*(1-math.Pi/4)*4
	if got := planArea(asm.Plates[0]); math.Abs(got-want) > 1e-6 {
		t.Errorf("area %.9f, want %.9f", got, want)
	}
}

// Motor holes lie on the motor's circle, turned from the arm by the clocking. The arm of
// front-left points to 45°; with a clocking of 15° the first of four holes lies at 60°
// and 8 from the axis at (90/√2, 90/√2).
func TestMotorHoles(t *testing.T) {
	asm := layouttest.MustLoad(t, strings.Replace(crossBuild, "motor: mot,", "motor: mot, clocking: 15,", 1))
	var got []layout.Hole
	for _, h := range asm.Plates[0].Holes {
		if h.For == "motors" {
			got = append(got, h)
		}
	}
	if len(got) != 20 {
		t.Fatalf("%d motor holes, want 4·4 and 4 centres", len(got))
	}
	axis := 90 / math.Sqrt2
	for i := range 4 {
		a := (60 + 90*float64(i)) * math.Pi / 180
		nearMM(t, got[i].Name+" x", got[i].At.X, axis+8*math.Cos(a))
		nearMM(t, got[i].Name+" y", got[i].At.Y, axis+8*math.Sin(a))
		nearMM(t, got[i].Name+" diameter", got[i].Diameter.Value, 3.2)
		nearMM(t, got[i].Name+" tolerance", got[i].Diameter.Plus, 0.1)
	}
	if got[4].Name != "base.2.centre[5]" || got[4].Diameter.Value != 7 || got[4].Group != "base.2" {
		t.Errorf("centre hole is %+v", got[4])
	}
	// The motor's own first hole is where the plate has it.
	m := asm.Rotors[0].Motor
	nearMM(t, "turn of the motor", m.Pose.Turn.Degrees(), 60)
}

func TestDrawnHoles(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: drilled
rotors: {layout: plus, wheelbase: 160, motor: mot, prop: blade}
plates:
  base:
    material: mat
    thickness: 2
    outline: {circle: 220}
    holes:
      - {square: [30, 20], hole: 3.2, at: [5, 0], turn: 90, name: board}
      - {circle: 16, count: 3, hole: 2.1, at: rotors, turn: 30, name: pads}
      - {hole: 4, at: [40, 10], mirror: both, name: corners}
      - {slot: [22, 3], at: [0, 30], turn: 90, mirror: left-right, name: strap, for: strap}
`+roundParts)
	at := map[string][2]float64{}
	for _, h := range asm.Plates[0].Holes {
		at[h.Name] = [2]float64{h.At.X, h.At.Y}
	}
	// The square: corner (15, 10), turned by 90° to (-10, 15), shifted by 5.
	// Pads: rotor left at (0, 80), arm at 90°; first hole at 30° from it, 8 out: 120°.
	for name, want := range map[string][2]float64{
		"base.board[1]":   {-5, 15},
		"base.board[2]":   {-5, -15},
		"base.board[3]":   {15, -15},
		"base.pads[1]":    {80 + 8*math.Cos(math.Pi/6), 4},
		"base.pads[4]":    {8 * math.Cos(2*math.Pi/3), 80 + 8*math.Sin(2*math.Pi/3)},
		"base.corners[1]": {40, 10}, "base.corners[2]": {40, -10}, "base.corners[3]": {-40, 10}, "base.corners[4]": {-40, -10},
		"base.strap[1]": {0, 30}, "base.strap[2]": {0, -30},
	} {
		got, ok := at[name]
		if !ok {
			t.Errorf("no hole %s", name)
			continue
		}
		nearMM(t, name+" x", got[0], want[0])
		nearMM(t, name+" y", got[1], want[1])
	}
	for _, h := range asm.Plates[0].Holes {
		if h.Name != "base.strap[1]" {
			continue
		}
		b := h.Loop.Bound()
		nearMM(t, "slot across", b.Size().X, 3)
		nearMM(t, "slot along", b.Size().Y, 22)
		if h.For != "strap" || h.Length != 22 {
			t.Errorf("slot is %+v", h)
		}
	}
}

// Holes that overlap each other merge into one opening.
func TestHolesThatOverlap(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: keyhole
plates:
  base: {material: mat, thickness: 2, outline: {rectangle: [60, 40]}, holes: [{hole: 10, at: [0, 0]}, {slot: [16, 4], at: [8, 0]}]}
`+roundParts)
	p := asm.Plates[0]
	if len(p.Outline) != 1 || len(p.Outline[0].Holes) != 1 || len(p.Holes) != 2 {
		t.Fatalf("%d openings from %d holes", len(p.Outline[0].Holes), len(p.Holes))
	}
	// The slot runs from x 0 to 16, its axis from 2 to 14. Half the disc x > 0 covers of
	// it what lies within radius 5: for |y| < 2, from the slot's round end to √(25 - y²).
	// Overlap = ∫ over |y| < 2 of √(25 - y²) - (2 - √(4 - y²)) dy
	//         = [2·√21 + 25·asin(2/5)] - 8 + 2π.
	overlap := 2*math.Sqrt(21) + 25*math.Asin(0.4) - 8 + 2*math.Pi
	want := 60*40 - (math.Pi*25 + 12*4 + math.Pi*4 - overlap)
	if got := planArea(p); math.Abs(got-want) > 1e-6 {
		t.Errorf("area %.9f, want %.9f", got, want)
	}
}

func TestPlateMistakes(t *testing.T) {
	for _, tt := range []struct{ name, outline, holes, want string }{
		{"hole beyond the plate", "{rectangle: [60, 40]}", "{hole: 3, at: [40, 0]}", "the hole at (40, 0) lies outside the plate"},
		{"hole over the edge", "{rectangle: [60, 40]}", "{hole: 3, at: [29, 0]}", "the hole at (29, 0) runs out over the edge of the plate"},
		{"hole over a ring's inside", "{ring: [20, 60]}", "{hole: 3, at: [10, 0]}", "the hole at (10, 0) runs out over the edge of the plate"},
		{"slot over the edge", "{rectangle: [60, 40]}", "{slot: [30, 4], at: [20, 0]}", "the hole at (20, 0) runs out over the edge of the plate"},
		{"two pieces", "{join: [{circle: 20, at: [[-20, 0], [20, 0]]}]}", "{hole: 3, at: [20, 0]}", "the outline falls into 2 pieces"},
		{"nothing left", "{join: [{circle: 20}], cut: [{circle: 30}]}", "{hole: 3, at: [0, 0]}", "nothing is left of the plate"},
		{"sawn through", "{rectangle: [60, 10]}", "{slot: [10, 4], at: [0, 0], turn: 90}", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			yaml := "\ndryfit: 1\nname: wrong\nplates:\n  base:\n    material: mat\n    thickness: 2\n    outline: " + tt.outline + "\n    holes:\n      - " + tt.holes + "\n" + roundParts
			if tt.want == "" {
				// A slot just as long as the plate is wide touches both edges from inside and
				// cuts it in two.
				got := layouttest.Mistakes(t, yaml)
				if len(got) != 1 || !strings.Contains(got[0].Message, "the holes cut the plate into 2 pieces") {
					t.Errorf("messages are %v", got)
				}
				return
			}
			got := layouttest.Mistakes(t, yaml)
			if len(got) != 1 || !strings.Contains(got[0].Message, tt.want) {
				t.Fatalf("messages are %v, want %q", got, tt.want)
			}
			line := 8
			if strings.HasPrefix(tt.want, "the hole") {
				line = 10
			}
			if shown := "outline:"; line == 10 && !strings.Contains(got[0].Line, tt.holes) || line == 8 && !strings.Contains(got[0].Line, shown) {
				t.Errorf("the message shows the line %q", got[0].Line)
			}
			if got[0].Pos.Line != line {
				t.Errorf("reported at line %d, want %d", got[0].Pos.Line, line)
			}
		})
	}
}

// A fault of an arm plate is said once, not at every rotor.
func TestArmPlateMistakeOnce(t *testing.T) {
	got := layouttest.Mistakes(t, `
dryfit: 1
name: wrong
rotors: {layout: six, wheelbase: 240, motor: mot, prop: blade}
plates:
  base: {material: mat, thickness: 2, outline: {circle: 60}}
  arm: {material: mat, thickness: 5, on: base, each-rotor: true, outline: {bar: {from: [-110, 0], to: [12, 0], width: 16}}, holes: [{for: motors}]}
`+roundParts)
	// The bar is 16 wide: of the holes on the circle of 16 two lie 8 to the side.
	if len(got) != 1 || !strings.Contains(got[0].Message, "the hole at (0, 8) from the motor's axis runs out over the edge") {
		t.Errorf("messages are %v", got)
	}
}

// A hole that follows something is not moved where it is written: the message names what it
// follows, the hint what to mend. The axes stand at (±50, ±50), as 50·√2 from the middle
// is half the wheelbase, and lie beyond a plate of 60 x 40.
func TestHolesThatFollow(t *testing.T) {
	const cross = `
dryfit: 1
name: wrong
rotors: {layout: cross, wheelbase: 141.4213562373095, motor: mot, prop: blade, front-right: clockwise}
`
	for _, tt := range []struct{ name, rest, message, hint string }{
		{"motors without arms", "plates: {base: {material: mat, thickness: 2, outline: {rectangle: [60, 40]}, holes: [{for: motors}]}}",
			"for the front-left motor, whose axis is at (50, 50), lies outside the plate", "draw an arm to the motor (`arms:`"},
		{"at rotors", "plates: {base: {material: mat, thickness: 2, outline: {rectangle: [60, 40]}, holes: [{hole: 3, at: rotors}]}}",
			"the hole at (50, 50) for the front-left motor, whose axis is at (50, 50), lies outside the plate", "or mend its place under `rotors:`"},
		{"an arm plate too short", "plates: {arm: {each-rotor: true, material: mat, thickness: 2, outline: {rectangle: [20, 20], at: [-40, 0]}, holes: [{for: motors}]}}",
			"from the motor's axis lies outside the plate", "draw the arm round the motor's axis"},
		{"posts", "posts: {far: {part: post, length: 20, from: base.top, at: [40, 0], mirror: front-back}}\nplates: {base: {material: mat, thickness: 2, outline: {rectangle: [60, 40]}, holes: [{for: posts.far}]}}",
			"the hole at (40, 0) for posts.far lies outside the plate", "the hole follows posts.far: move that, or widen the outline there"},
		{"own place", "plates: {base: {material: mat, thickness: 2, outline: {rectangle: [60, 40]}, holes: [{circle: 12, hole: 2, for: motors, at: [50, 0]}]}}",
			"lies outside the plate", "move the hole, or widen the outline there"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := layouttest.Mistakes(t, cross+tt.rest+"\n"+roundParts)
			for _, m := range got {
				if strings.Contains(m.Message, tt.message) && strings.Contains(m.Hint, tt.hint) {
					return
				}
			}
			t.Errorf("no message %q with hint %q among %+v", tt.message, tt.hint, got)
		})
	}
}
