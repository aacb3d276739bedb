package layout_test

import (
	"testing"

	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// Figures without a tolerance get the trade's, marked as assumed.
func TestDefaultTolerances(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: bare figures
rotors: {layout: cross, wheelbase: 180, motor: spin, prop: fan}
plates:
  base: {material: sheet, thickness: 2.5, outline: {circle: 220}}
  mid: {material: sheet, thickness: 4, on: posts.metal, outline: {rectangle: [60, 40]}}
  deck: {material: sheet, thickness: 5, on: posts.soft, outline: {rectangle: [60, 40]}}
posts:
  metal: {part: metal, length: 20, from: base.top, at: [20, 10], mirror: both}
  soft: {part: soft, length: 30, from: mid.top, at: [20, 10], mirror: both}
parts:
  sheet: {kind: material, density: 1.5}
  metal: {kind: standoff, thread: M3, material: brass, across: 5}
  soft: {kind: standoff, thread: M3, material: nylon, across: 5}
  spin: {kind: motor, bell: 20, body-height: 15, circle: 16, mass: 17}
  fan: {kind: prop, diameter: 100, mass: 2}
`)
	check := func(what string, d *shapes.Dim, tol float64) {
		t.Helper()
		nearMM(t, what+" plus", d.Plus, tol)
		nearMM(t, what+" minus", d.Minus, tol)
		if d.TolSource != shapes.Assumed {
			t.Errorf("the tolerance of %s is said to be %v", what, d.TolSource)
		}
	}
	check("sheet of 2.5", asm.Plates[0].Thickness, 0.1)
	check("sheet of 4", asm.Plates[1].Thickness, 0.15)
	check("sheet of 5", asm.Plates[2].Thickness, 0.2)
	check("cut edge", asm.Plates[0].CutTol, 0.1)
	check("hole", asm.Plates[0].HoleTol, 0.1)
	check("hole place", asm.Plates[0].PlaceTol, 0.1)
	check("metal post", asm.Posts[0].Length, 0.1)
	check("nylon post", asm.Posts[4].Length, 0.25)
	check("motor height", asm.Rotors[0].Motor.Part.Motor.BodyH, 0.2)
	check("real diameter", asm.Rotors[0].Prop.Part.Prop.RealD, 1.2)
	check("motor place", asm.Rotors[0].Place, 0.2)
	if asm.Rotors[0].Motor.Part.Motor.BodyH == asm.Rotors[1].Motor.Part.Motor.BodyH {
		t.Error("two motors share an error that each has on its own")
	}
}

// What a buyer meets across makers is one figure for all four motors of a craft; a
// figure with a tolerance of its own is drawn anew for each.
func TestSharedRanges(t *testing.T) {
	asm := layouttest.MustLoad(t, frameWith("{layout: cross, wheelbase: 180, motor: spin, prop: blade}")+
		"  spin: {kind: motor, bell: 20 (19..21), body-height: 15 ±0.2, circle: 16, mass: 17}\n")
	a, b := asm.Rotors[0].Motor.Part.Motor, asm.Rotors[1].Motor.Part.Motor
	if a.BellD != b.BellD || !a.BellD.Range {
		t.Error("the range of the class is shared")
	}
	if a.BodyH == b.BodyH {
		t.Error("a tolerance is not shared")
	}
}

// The library's own parts stay as they are however often they are placed.
func TestResolveLeavesTheBuildAlone(t *testing.T) {
	b := layouttest.MustBuild(t, crossBuild)
	before := *b.Stacks[0].Items[1].Part.Body.Above
	thick := *b.Plates[0].Thickness
	mustResolve(t, b)
	mustResolve(t, b)
	if *b.Stacks[0].Items[1].Part.Body.Above != before || *b.Plates[0].Thickness != thick {
		t.Error("placing changed the build")
	}
}
