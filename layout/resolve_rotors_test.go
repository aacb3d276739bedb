package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

// frameWith is a plate wide enough for rotors out to 130 mm, with the rotors given.
func frameWith(rotors string) string {
	return `
dryfit: 1
name: frame
rotors: ` + rotors + `
plates:
  base: {material: mat, thickness: 3, outline: {circle: 300}}
` + roundParts
}

func TestRotorPlaces(t *testing.T) {
	// A circle of 200 has the radius 100; 100·cos 45° = 70.710678, 100·cos 30° = 86.602540,
	// 100·cos 22.5° = 92.387953, 100·sin 22.5° = 38.268343.
	const a, b, c, d = 70.71067811865476, 86.60254037844386, 92.38795325112868, 38.26834323650898
	for _, tt := range []struct {
		rotors string
		want   map[string][2]float64
	}{
		{"{layout: cross, wheelbase: 200, motor: mot, prop: blade}",
			map[string][2]float64{"front-left": {a, a}, "rear-left": {-a, a}, "rear-right": {-a, -a}, "front-right": {a, -a}}},
		{"{layout: plus, wheelbase: 200, motor: mot, prop: blade}",
			map[string][2]float64{"front": {100, 0}, "left": {0, 100}, "rear": {-100, 0}, "right": {0, -100}}},
		{"{layout: stretched, length: 160, width: 220, motor: mot, prop: blade}",
			map[string][2]float64{"front-left": {80, 110}, "rear-left": {-80, 110}, "rear-right": {-80, -110}, "front-right": {80, -110}}},
		{"{layout: three, wheelbase: 200, motor: mot, prop: blade}",
			map[string][2]float64{"front-left": {50, b}, "rear": {-100, 0}, "front-right": {50, -b}}},
		{"{layout: six, wheelbase: 200, motor: mot, prop: blade}",
			map[string][2]float64{"front-left": {b, 50}, "left": {0, 100}, "rear-left": {-b, 50}, "rear-right": {-b, -50}, "right": {0, -100}, "front-right": {b, -50}}},
		{"{layout: six, first: 0, wheelbase: 200, motor: mot, prop: blade}",
			map[string][2]float64{"front": {100, 0}, "front-left": {50, b}, "rear-left": {-50, b}, "rear": {-100, 0}, "rear-right": {-50, -b}, "front-right": {50, -b}}},
		{"{layout: eight, wheelbase: 200, motor: mot, prop: blade}",
			map[string][2]float64{"front-left": {c, d}, "left-front": {d, c}, "left-rear": {-d, c}, "rear-left": {-c, d},
				"rear-right": {-c, -d}, "right-rear": {-d, -c}, "right-front": {d, -c}, "front-right": {c, -d}}},
		{"{layout: by-hand, motor: mot, prop: blade, each: {a: {at: [60, 90], turn: clockwise}, b: {at: [-70, -80], turn: counter-clockwise}}}",
			map[string][2]float64{"a": {60, 90}, "b": {-70, -80}}},
	} {
		t.Run(tt.rotors, func(t *testing.T) {
			asm := layouttest.MustLoad(t, frameWith(tt.rotors))
			if len(asm.Rotors) != len(tt.want) {
				t.Fatalf("%d rotors, want %d", len(asm.Rotors), len(tt.want))
			}
			for _, r := range asm.Rotors {
				w, ok := tt.want[r.Name]
				if !ok {
					t.Fatalf("rotor %q", r.Name)
				}
				nearMM(t, r.Name+" x", r.At.X, w[0])
				nearMM(t, r.Name+" y", r.At.Y, w[1])
				n := math.Hypot(w[0], w[1])
				nearMM(t, r.Name+" arm x", r.ArmDir.X, w[0]/n)
				nearMM(t, r.Name+" arm y", r.ArmDir.Y, w[1]/n)
				if r.Arm != "plates.base" {
					t.Errorf("%s stands on %q", r.Name, r.Arm)
				}
			}
		})
	}
}

// Left and right rotors mirror each other to the last bit.
func TestRotorsMirrorExactly(t *testing.T) {
	asm := layouttest.MustLoad(t, frameWith("{layout: eight, wheelbase: 217.3, motor: mot, prop: blade}"))
	at := map[string]*layout.Rotor{}
	for _, r := range asm.Rotors {
		at[r.Name] = r
	}
	for _, pair := range [][2]string{{"front-left", "front-right"}, {"left-front", "right-front"}, {"left-rear", "right-rear"}, {"rear-left", "rear-right"}} {
		l, r := at[pair[0]].At, at[pair[1]].At
		if l.X != r.X || l.Y != -r.Y {
			t.Errorf("%v and %v are not mirror images", l, r)
		}
	}
}

// A motor below hangs from the underside of its plate; its prop's band is mirrored, but
// blades still flex up under thrust and down when braking.
func TestMotorBelow(t *testing.T) {
	asm := layouttest.MustLoad(t, frameWith("{layout: cross, wheelbase: 180, motor: mot, prop: blade, side: below}"))
	r := asm.Rotors[0]
	// Underside of the plate at 0; seat 15 under it; hub 6 below that; blade root 1 above.
	formIs(t, "seat", r.Seat, -15, -15.3, -14.7)
	formIs(t, "lo", r.Lo, -21, -21.5, -20.5)
	formIs(t, "hi", r.Hi, -14, -14.6, -13.4)
	nearMM(t, "swept lo", r.SweptLo.Nominal(), -23)
	nearMM(t, "swept hi", r.SweptHi.Nominal(), -11)
	if !r.Motor.Flip || !r.Motor.Pose.Mirror {
		t.Error("the motor is not upside down")
	}
	bell := layouttest.Body(t, asm, "rotors.front-left.motor.bell")
	nearMM(t, "bell bottom", bell.Bottom.Nominal(), -15)
	nearMM(t, "bell top", bell.Top.Nominal(), -2)
}

// Coaxial pairs share axis, arm and position error; the lower one hangs.
func TestCoaxialPairs(t *testing.T) {
	asm := layouttest.MustLoad(t, frameWith("{layout: cross, wheelbase: 180, motor: mot, prop: blade, pairs: coaxial}"))
	if len(asm.Rotors) != 8 {
		t.Fatalf("%d rotors", len(asm.Rotors))
	}
	up, low := asm.Rotors[0], asm.Rotors[1]
	if low.Name != up.Name+"-below" || low.Coaxial != up.Name || up.Coaxial != low.Name {
		t.Fatalf("pair %q %q", up.Name, low.Name)
	}
	if up.Below || !low.Below || up.Clockwise == low.Clockwise || up.Place != low.Place || up.At != low.At {
		t.Errorf("pair is %+v\n%+v", up, low)
	}
	nearMM(t, "upper seat", up.Seat.Nominal(), 18)
	nearMM(t, "lower seat", low.Seat.Nominal(), -15)
}

// An arm that is a plate of its own carries the motor in place of the plate under it.
func TestArmPlates(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: arms
rotors: {layout: six, wheelbase: 240, motor: mot, prop: blade}
plates:
  base: {material: mat, thickness: 2, outline: {circle: 120}}
  arm:
    material: mat
    thickness: 5 ±0.2
    on: base
    each-rotor: true
    outline: {join: [{bar: {from: [-90, 0], to: [0, 0], width: 14}}, {circle: 24}]}
    holes: [{for: motors, centre: 7}]
`+roundParts)
	if len(asm.Plates) != 7 {
		t.Fatalf("%d plates, want the base and six arms", len(asm.Plates))
	}
	for _, r := range asm.Rotors {
		if r.Arm != "plates.arm."+r.Name {
			t.Errorf("%s stands on %s", r.Name, r.Arm)
		}
		nearMM(t, r.Name+" mount", r.MountZ.Nominal(), 7)
	}
	arm := layouttest.Component(t, asm, "plates.arm.left")
	b := arm.Bodies[0].Plan[0].Bound()
	// The left rotor is at (0, 120): its bar runs from y 30 to 120, 14 wide, the pad of
	// radius 12 reaches x ±12 and y 132.
	nearMM(t, "left arm x", b.Hi.X, 12)
	nearMM(t, "left arm from", b.Lo.Y, 30)
	nearMM(t, "left arm to", b.Hi.Y, 132)
	if arm.On != "plates.base" {
		t.Errorf("the arm lies on %q", arm.On)
	}
}

func TestNoPlateUnderMotor(t *testing.T) {
	yaml := strings.Replace(frameWith("{layout: cross, wheelbase: 180, motor: mot, prop: blade}"), "circle: 300", "circle: 100", 1)
	got := layouttest.Mistakes(t, yaml)
	if len(got) != 1 {
		t.Fatalf("%d messages, want one for all four motors: %v", len(got), got)
	}
	if !strings.Contains(fmt.Sprint(got), "no plate reaches the motor axis of front-left (63.64, 63.64), rear-left (-63.64, 63.64), rear-right") {
		t.Errorf("messages are %v", got)
	}
}

// A mixed pattern: one pair on a circle of 16, the pair at right angles on 19. With the
// arm of a plus pointing forward and no clocking, the holes of the front motor at
// (90, 0) lie at 8 ahead, 9.5 to the left, 8 behind, 9.5 to the right.
func TestMixedMotorPattern(t *testing.T) {
	yaml := strings.Replace(frameWith("{layout: plus, wheelbase: 180, motor: mixed, prop: blade}"), "outline: {circle: 300}", "outline: {circle: 300}, holes: [{for: motors}]", 1) +
		"  mixed: {kind: motor, bell: 28, body-height: 26, circle: {diameter: 16, across: 19, count: 4, screw: M3}, mass: 54}\n"
	asm := layouttest.MustLoad(t, yaml)
	for i, want := range [][2]float64{{98, 0}, {90, 9.5}, {82, 0}, {90, -9.5}} {
		h := asm.Plates[0].Holes[i]
		nearMM(t, h.Name+" x", h.At.X, want[0])
		nearMM(t, h.Name+" y", h.At.Y, want[1])
	}
}

// How far the blades hang below the hub's seat is not 0 because nobody said it: the lower end
// of the disc hangs on a missing figure, the upper one does not.
func TestPropWithoutBelowHub(t *testing.T) {
	asm := layouttest.MustLoad(t, strings.Replace(crossBuild, ", below-hub: 1 ±0.3", "", 1))
	missing := func(f layout.Form) bool {
		for _, term := range f.Terms {
			if term.Dim.Missing && term.Dim.Name == "blade below hub" {
				return true
			}
		}
		return false
	}
	for _, r := range asm.Rotors {
		if !missing(r.Lo) || !missing(r.SweptLo) || missing(r.Hi) || missing(r.SweptHi) {
			t.Errorf("%s: below %v, above %v", r.Name, namesOf(r.SweptLo), namesOf(r.SweptHi))
		}
	}
}

func namesOf(f layout.Form) []string {
	var out []string
	for _, term := range f.Terms {
		out = append(out, term.Dim.Name)
	}
	return out
}
