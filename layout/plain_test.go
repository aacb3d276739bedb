package layout_test

import (
	"math"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// roundParts are the parts of the builds in these tests, with round figures and tolerances
// of their own, so that every expected number can be worked out by hand.
const roundParts = `
parts:
  mat: {kind: material, density: 1.5, conducts: true, cut-tolerance: 0 ±0.1, hole-tolerance: 0 ±0.1, place-tolerance: 0 ±0.1}
  m3: {kind: thread, size: M3, major: 3, pitch: 0.5, nut-across-flats: 5.5, nut-across-corners: 6, nut-height: 2.4, washer-outside: 7, washer-thickness: 0.5, plate-hole: 3.2}
  post: {kind: standoff, thread: M3, material: aluminium, across: 5 ±0.1, mass-per-mm: 0.034}
  hexagon: {kind: standoff, thread: M3, material: nylon, across: 5.5 ±0.1, hex: true, corners: 6.35 ±0.1}
  rubber: {kind: grommet, board-hole: 4, outside: 6.5 ±0.2, tight: 6 ±0.4}
  stepped: {kind: grommet, board-hole: 4, outside: 6.5 ±0.2, tight: 8 ±0.4, below: 3.5 ±0.3, above: 3 ±0.3}
  mot:
    kind: motor
    bell: 20 ±0.2
    body-height: 15 ±0.3
    overall-height: 28 ±0.3
    bell-gap: 2 ±0.2
    base: 17 ±0.2
    circle: {diameter: 16, count: 4, screw: M3}
    shaft: 5
    stub: 13 ±0.2
    mounts: [m5]
    mass: 17
  blade: {kind: prop, diameter: 101.6, real-diameter: 101.6 ±0.8, hub-thickness: 6 ±0.2, hub-diameter: 12 ±0.2, bores: [5], mounts: [m5], flex-up: 3 ±1, flex-down: 2 ±0.5, below-hub: 1 ±0.3, mass: 2.5}
  lower:
    kind: power-board
    size: [36, 36]
    corner: 3
    edge: 0 ±0.2
    square: {side: 30.5, hole: 3.2 ±0.1, clear: 6.5}
    pcb: 1.6 ±0.1
    above: 3 ±0.2
    below: 0.5 ±0.1
    mass: 8
  upper:
    kind: controller
    size: [37, 36]
    corner: 3
    edge: 0 ±0.2
    square: {side: 30.5, hole: 4 ±0.1, clear: 6.5}
    pcb: 1.6 ±0.1
    above: 2.5 ±0.2
    below: 2 ±0.2
    zones: [{name: tall, face: bottom, at: [5, 8], size: [10, 6], height: 4 ±0.3}]
    ports: {usb: {plug: usb, edge: left, along: 3, axis: 1.6 ±0.2, overhang: 0.8 ±0.3, reach: true}}
    mass: 7
  usb: {kind: connector, family: usb-c, width: 12, height: 7, beyond: 40, angled: 20}
  brick: {kind: block, size: [24 ±0.5, 12 ±0.4, 5 ±0.3], mass: 4}
  pack: {kind: battery, size: [72 ±2, 35 ±1, 30 ±1], cells: 4, capacity: 1300 mAh, lead-room: 10 ±2, swell: 1, mass: 150}
  belt: {kind: strap, width: 20, thickness: 1.8 ±0.3, buckle-thickness: 3 ±0.5, buckle-width: 25}
`

// crossBuild is a cross of two plates, a stack, a pack, motors and props.
const crossBuild = `
dryfit: 1
name: plain
rotors: {layout: cross, wheelbase: 180, motor: mot, prop: blade, front-right: clockwise}
plates:
  base:
    material: mat
    thickness: 3 ±0.1
    outline: {join: [{rectangle: [90, 44], corner: 6}, {arms: {width: 12, pad: 24}}]}
    holes:
      - {square: 30.5, hole: 3.2, for: stacks.main}
      - {for: motors, centre: 7}
      - {for: posts.main}
  roof:
    material: mat
    thickness: 2 ±0.1
    on: posts.main
    outline: {rectangle: [90, 44], corner: 6}
    holes:
      - {for: posts.main}
      - {slot: [22, 3], at: [0, 19.5], mirror: left-right, for: strap, name: strap}
posts:
  main: {part: post, length: 25 ±0.1, from: base.top, at: [38, 16], mirror: both}
stacks:
  main:
    from: base.top
    pattern: 30.5
    items: [{spacer: nylon, length: 6 ±0.25, part: hexagon}, lower, {spacer: nylon, length: 8 ±0.25, part: hexagon}, upper, nut nylon]
battery: {part: pack, on: roof.top, hold: pad 2 mm ±0.5, slide: 15, lead: rear, strap: {part: belt, through: roof.strap}}
` + roundParts

// nearMM fails the test if got is not want to within 1e-9.
func nearMM(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// formIs checks the nominal and the worst values of a form.
func formIs(t *testing.T, what string, f layout.Form, nominal, lo, hi float64) {
	t.Helper()
	nearMM(t, what, f.Nominal(), nominal)
	l, h := f.Worst()
	nearMM(t, what+" at least", l, lo)
	nearMM(t, what+" at most", h, hi)
}

func TestPlainBuild(t *testing.T) {
	asm := layouttest.MustLoad(t, crossBuild)

	// Plates: base 0..3, roof on 25 mm posts: 28..30.
	base, roof := asm.Plates[0], asm.Plates[1]
	if base.ID != "plates.base" || roof.ID != "plates.roof" {
		t.Fatalf("plates are %s and %s", base.ID, roof.ID)
	}
	formIs(t, "base bottom", base.Bottom, 0, 0, 0)
	formIs(t, "base top", base.Top, 3, 2.9, 3.1)
	formIs(t, "roof bottom", roof.Bottom, 28, 27.8, 28.2)
	formIs(t, "roof top", roof.Top, 30, 29.7, 30.3)

	// Stack: spacer 3..9, board 9..10.6, spacer to 18.6, board 18.6..20.2, nut to 22.6.
	st := asm.Stacks[0]
	want := [][2]float64{{3, 9}, {9, 10.6}, {10.6, 18.6}, {18.6, 20.2}, {20.2, 22.6}}
	for i, w := range want {
		nearMM(t, st.Levels[i].Component.ID+" from", st.Levels[i].From.Nominal(), w[0])
		nearMM(t, st.Levels[i].Component.ID+" to", st.Levels[i].To.Nominal(), w[1])
	}
	// The lower board's parts hang 0.5 under it (8.5), which is above the spacers' feet (3).
	nearMM(t, "stack bottom", st.Bottom.Nominal(), 3)
	// The upper board's parts reach 20.2 + 2.5 = 22.7, over the nut.
	nearMM(t, "stack top", st.Top.Nominal(), 22.7)

	// Rotors: motors on the base at 90 from the centre; prop seat at 3 + 15.
	r := asm.Rotors[0]
	if r.Name != "front-left" || r.Arm != "plates.base" {
		t.Fatalf("first rotor is %s on %s", r.Name, r.Arm)
	}
	nearMM(t, "front-left x", r.At.X, 90/math.Sqrt2)
	nearMM(t, "front-left y", r.At.Y, 90/math.Sqrt2)
	formIs(t, "mount", r.MountZ, 3, 2.9, 3.1)
	formIs(t, "seat", r.Seat, 18, 17.6, 18.4)
	// Band at rest: 1 below the seat to 6 above; swept: 2 lower, 3 higher.
	nearMM(t, "lo", r.Lo.Nominal(), 17)
	nearMM(t, "hi", r.Hi.Nominal(), 24)
	formIs(t, "swept lo", r.SweptLo, 15, 15-(0.1+0.3+0.3+0.5), 15+(0.1+0.3+0.3+0.5))
	formIs(t, "swept hi", r.SweptHi, 27, 27-(0.1+0.3+0.2+1), 27+(0.1+0.3+0.2+1))
	formIs(t, "radius", r.Radius, 50.8, 50.4, 51.2)
	// Shaft to 28 over the arm (31); an M5 nut on the hub reaches 24 + 6.3 = 30.3: less.
	stub := layouttest.Body(t, asm, "rotors.front-left.prop.stub")
	nearMM(t, "stub top", stub.Top.Nominal(), 31)

	// Pack: on the roof at 30, 2 of pad, 30 high.
	p := asm.Packs[0]
	formIs(t, "pack bottom", p.Body.Bottom, 32, 32-0.3-0.5, 32+0.3+0.5)
	nearMM(t, "pack top", p.Body.Top.Nominal(), 62)
	if b := p.SweptBody.Plan[0].Bound(); math.Abs(b.Hi.X-(36+15)) > 1e-9 || math.Abs(b.Hi.Y-17.5) > 1e-9 {
		t.Errorf("swept pack reaches %v", b)
	}
	// The lead room lies behind the rear end: -36 to -46.
	if b := layouttest.Body(t, asm, "battery.lead").Plan[0].Bound(); math.Abs(b.Lo.X+46) > 1e-9 || math.Abs(b.Hi.X+36) > 1e-9 {
		t.Errorf("lead room is %v", b)
	}
	if len(p.SlotHoles) != 2 || p.SlotHoles[0].Group != "roof.strap" {
		t.Errorf("slots: %+v", p.SlotHoles)
	}

	if len(asm.Posts) != 4 || asm.Posts[0].Lower != "plates.base" || asm.Posts[0].Upper != "plates.roof" {
		t.Errorf("posts join %q and %q", asm.Posts[0].Lower, asm.Posts[0].Upper)
	}
	if c := layouttest.Component(t, asm, "stacks.main.upper"); c.On != "stacks.main.spacer-2" || c.OnFace != shapes.Top {
		t.Errorf("upper board rests on %s", c.On)
	}
}
