package layout_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// sixArmed is a craft of six arm plates with speed controllers on them, a stack, a
// camera, a pack and two decks.
func sixArmed() string {
	return strings.NewReplacer(
		"{layout: cross, wheelbase: 180, motor: mot, prop: blade, front-right: clockwise}", "{layout: six, wheelbase: 320, motor: mot, prop: blade}",
		"{arms: {width: 12, pad: 24}}", "{circle: 80}",
		"      - {for: motors, centre: 7}\n", "",
		"plates:\n", `plates:
  arm:
    material: mat
    thickness: 5
    on: base
    each-rotor: true
    outline: {join: [{bar: {from: [-130, 0], to: [0, 0], width: 16}}, {circle: 26}], fillet: 4, round: 1}
    holes: [{for: motors, centre: 7}]
`).Replace(crossBuild) + `
  speed: {kind: esc, size: [24 ±1, 12 ±0.5, 5 ±0.3], mass: 4}
  eye: {kind: camera, width: 19 ±0.2, height: 18 ±0.2, depth: 22 ±0.3, lens-diameter: 14 ±0.2, lens-length: 8 ±0.2, pivot-back: 6 ±0.2, side-screw: M2, screw-max: 2.5, mass: 7}
mounts:
  esc: {part: speed, on: arms, from-motor: 30, sleeve: 0.5, hold: tape 1 mm}
  receiver: {part: brick, on: roof.bottom, at: [-30, 0]}
cameras: {nose: {part: eye, at: [55, 2], above: base.top, by: 13 ±0.2, tilt: 10..30}}
guard: [base, arm]
needs: {prop-tip-gap: 4 mm}
touching: [{pair: [mounts.receiver, stacks.main.upper], why: foam between them}]
`
}

func TestSixArmed(t *testing.T) {
	asm := layouttest.MustLoad(t, sixArmed())
	// Guard names every copy of an arm plate.
	if len(asm.Guard) != 7 || asm.Guard[0] != "plates.arm.front-left" || asm.Guard[6] != "plates.base" || asm.GuardAll {
		t.Errorf("guard is %v", asm.Guard)
	}
	if n, ok := asm.Needs["prop-tip-gap"]; !ok || n.MM.Value != 4 {
		t.Errorf("needs are %v", asm.Needs)
	}
	if len(asm.Excuses) != 1 || !asm.Excuses[0].Covers("stacks.main.upper", "mounts.receiver") {
		t.Errorf("excuses are %v", asm.Excuses)
	}
	// The components come by group, and every body belongs to one of them.
	rank := map[string]int{"plates": 0, "posts": 1, "stacks": 2, "rotors": 3, "battery": 4, "mounts": 5, "cameras": 6, "antennas": 7}
	last := 0
	of := map[string]bool{}
	for _, c := range asm.Components {
		group, _, _ := strings.Cut(c.ID, ".")
		if rank[group] < last {
			t.Errorf("%s stands behind a later group", c.ID)
		}
		last = rank[group]
		of[c.ID] = true
		if c.On != "" && c.On != "posts.main" && !strings.HasPrefix(c.On, "plates.") && !of[c.On] && !strings.HasPrefix(c.On, "stacks.") {
			t.Errorf("%s rests on %s, which is not there", c.ID, c.On)
		}
	}
	seen := map[string]bool{}
	for i, b := range asm.Bodies {
		if seen[b.ID] || i > 0 && asm.Bodies[i-1].ID > b.ID || !of[b.Of] || len(b.Plan) == 0 {
			t.Errorf("body %s of %s", b.ID, b.Of)
		}
		seen[b.ID] = true
		if n := b.Blur.Nominal(); n > 1e-9 || n < -1e-9 {
			t.Errorf("the blur of %s is %g on the whole, want 0", b.ID, n)
		}
		for _, d := range b.Rides {
			if !hasTerm(b.Blur, d) {
				t.Errorf("%s rides on %s, which is not in its blur", b.ID, d.Name)
			}
		}
		if b.Top.Nominal() < b.Bottom.Nominal() {
			t.Errorf("body %s is upside down", b.ID)
		}
	}
}

func hasTerm(f layout.Form, d *shapes.Dim) bool {
	for _, t := range f.Terms {
		if t.Dim == d {
			return true
		}
	}
	return false
}

// A size that nobody gave leaves bodies with something to measure from, and marks them.
func TestUnknownSizes(t *testing.T) {
	asm := layouttest.MustLoad(t, strings.NewReplacer(
		"    bell: 20 ±0.2\n", "    bell: unknown\n",
		"body-height: 15 ±0.3", "body-height: unknown",
		"    above: 3 ±0.2\n", "    above: unknown\n",
	).Replace(crossBuild))
	bell := layouttest.Body(t, asm, "rotors.front-left.motor.bell")
	if len(bell.Plan) != 1 || len(bell.Blur.Missing()) != 1 || len(bell.Top.Missing()) != 1 {
		t.Errorf("bell: %+v", bell)
	}
	if m := asm.Rotors[0].SweptHi.Missing(); len(m) != 1 || m[0].Name != "mot body height" {
		t.Errorf("the band rests on %v", m)
	}
	parts := layouttest.Body(t, asm, "stacks.main.lower.above")
	if len(parts.Top.Missing()) != 1 || len(parts.Bottom.Missing()) != 0 {
		t.Errorf("parts over the board: %+v", parts)
	}
}

// Counts beyond any craft are refused before they cost time.
func TestTooMany(t *testing.T) {
	var at strings.Builder
	for i := range 2500 {
		fmt.Fprintf(&at, "[%d.%03d, 0], ", i/100, i%1000)
	}
	yaml := "\ndryfit: 1\nname: sieve\nplates:\n  base: {material: mat, thickness: 2, outline: {rectangle: [90, 50]}, holes: [{hole: 1, at: [" + at.String() + "]}]}\n" + roundParts
	got := layouttest.Mistakes(t, yaml)
	if len(got) != 1 || !strings.Contains(got[0].Message, "2500 places are more than this tool places") {
		t.Errorf("messages are %v", got)
	}
}

// Whatever loads is placed or refused with a reason, and what is placed prints as JSON
// without a hole in it, the same twice.
func FuzzResolve(f *testing.F) {
	f.Add([]byte(crossBuild))
	f.Add([]byte(sixArmed()))
	files, err := filepath.Glob("testdata/*.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b, diags := layout.LoadBytes("build.yaml", data, nil, nil)
		if diags.HasErrors() {
			return
		}
		asm, diags := layout.Resolve(b)
		if (asm == nil) != diags.HasErrors() {
			t.Fatalf("assembly %v with %v", asm != nil, diags)
		}
		if asm == nil {
			return
		}
		out := asm.JSON()
		if !json.Valid(out) || bytes.Contains(out, []byte("null")) {
			t.Fatalf("JSON with a hole in it:\n%s", out)
		}
		again, _ := layout.Resolve(b)
		if !bytes.Equal(out, again.JSON()) {
			t.Fatal("placed twice, two results")
		}
	})
}

func BenchmarkResolve(b *testing.B) {
	for _, bb := range []struct{ name, yaml string }{{"four", crossBuild}, {"six", sixArmed()}} {
		b.Run(bb.name, func(b *testing.B) {
			build := layouttest.MustBuild(b, bb.yaml)
			b.ReportAllocs()
			for b.Loop() {
				if _, diags := layout.Resolve(build); diags.HasErrors() {
					b.Fatal(diags)
				}
			}
		})
	}
}
