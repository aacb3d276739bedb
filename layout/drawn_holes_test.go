package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// sunkPlate is a disc of 260 mm as SVG with four holes of 3.2 for each of four motors on
// circles of 16 about (±70.71, ±70.71), each hole with a circle of this diameter round it.
func sunkPlate(circle float64) string {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="-150 -150 300 300"><g fill="none" stroke="black"><circle r="130"/>`)
	at := 100 / math.Sqrt2
	for _, m := range [4][2]float64{{at, at}, {-at, at}, {-at, -at}, {at, -at}} {
		for k := range 4 {
			sn, cs := math.Sincos(float64(2*k+1) * math.Pi / 4)
			x, y := m[0]+8*cs, m[1]+8*sn
			fmt.Fprintf(&b, `<circle cx="%.6f" cy="%.6f" r="1.6"/>`, x, y)
			if circle > 0 {
				fmt.Fprintf(&b, `<circle cx="%.6f" cy="%.6f" r="%.6f"/>`, x, y, circle/2)
			}
		}
	}
	b.WriteString(`</g></svg>`)
	return b.String()
}

const sunkBuild = `
dryfit: 1
name: motor
parts:
  m: {kind: motor, mass: 30 ±1, bell: 28 ±0.2, body-height: 20 ±0.2, circle: {diameter: 16, screw: M3}, thread-usable: 3.2 ±0.1, mounts: [m5]}
  p: {kind: prop, mass: 4 ±0.1, diameter: 100 ±0.5, hub-thickness: 6 ±0.2, mounts: [m5], bores: [5]}
rotors: {layout: cross, wheelbase: 200, motor: m, prop: p}
plates:
  base: {material: carbon, thickness: 5 ±0.15, outline: {file: base.svg SINKS}, holes: [{for: motors, hole: 3.4}]}
`

func sunk(t *testing.T, circle float64, sinks string) (*layout.Assembly, string) {
	t.Helper()
	dir := fstest.MapFS{"base.svg": {Data: []byte(sunkPlate(circle))}}
	b, diags := layout.LoadBytes("build.yaml", []byte(strings.Replace(sunkBuild, " SINKS", sinks, 1)), dir, nil)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	asm, placed := layout.Resolve(b)
	if placed.HasErrors() {
		t.Fatal(placed)
	}
	return asm, diags.String()
}

// What the circles of a file are decides the screws, as in TestMotorScrewLengths: carbon
// holes and so their sinks are ±0.1.
func TestSinksOfAFile(t *testing.T) {
	const id = "rotors.front-left.motor-screws[1]"
	for _, c := range []struct {
		name    string
		circle  float64
		sinks   string
		warning string
		want    wantJoint
	}{
		{"none drawn", 0, "", "", wantJoint{id, "M3x7 button", 1.56, 2.44, 0.06, 0.16, true}},
		// The head of 6.72 comes flush in 6.72 ±0.1 at 90°: ±0.05 more than 7 - 5 = 2 ±(0.29 + 0.15).
		{"assumed", 6.72, "", "the circles round 16 of its holes are taken for countersinks of 90°", wantJoint{id, "M3x7 countersunk", 1.51, 2.49, 0.01, 0.11, true}},
		{"said", 6.72, ", sinks: {angle: 90 deg}", "", wantJoint{id, "M3x7 countersunk", 1.51, 2.49, 0.01, 0.11, true}},
		{"of the face of the heads", 6.72, ", sinks: {face: bottom}", "", wantJoint{id, "M3x7 countersunk", 1.51, 2.49, 0.01, 0.11, true}},
		// In a cone of 120° the head lies (7.12 - 6.72)/2 / tan 60° = 0.11547 under the face, ±0.05/tan 60° = 0.028868:
		// 7 - 5 + 0.11547 ± (0.29 + 0.15 + 0.028868).
		{"of another angle", 7.12, ", sinks: {angle: 120 deg}", "", wantJoint{id, "M3x7 countersunk", 1.646602, 2.584338, 0.146602, 0.015662, true}},
		{"on the other face", 6.72, ", sinks: {face: top}", "", wantJoint{id, "M3x7 button", 1.56, 2.44, 0.06, 0.16, true}},
		{"no sinks", 6.72, ", sinks: none", "", wantJoint{id, "M3x7 button", 1.56, 2.44, 0.06, 0.16, true}},
		// Counterbored by 2 ±0.1, 3 ±0.25 are left: 5 - 3 = 2 ±(0.24 + 0.25).
		{"counterbores", 5.8, ", sinks: {face: bottom, depth: 2 ±0.1}", "", wantJoint{id, "M3x5 button", 1.51, 2.49, 0.01, 0.11, true}},
	} {
		t.Run(c.name, func(t *testing.T) {
			asm, warned := sunk(t, c.circle, c.sinks)
			checkJoint(t, asm, c.want)
			if (warned != "") != (c.warning != "") || !strings.Contains(warned, c.warning) {
				t.Errorf("warned %q, want %q", warned, c.warning)
			}
			if f := joint(t, asm, id); len(f.Members) != 16 {
				t.Errorf("%d joints are alike, want all 16: one drill made the holes", len(f.Members))
			}
			for i := range asm.Plates[0].Holes {
				h := &asm.Plates[0].Holes[i]
				if math.Abs(h.Diameter.Value-3.2) > 1e-9 || h.For != "motors" {
					t.Errorf("%s is %v in diameter for %q, want the file's 3.2 for motors", h.Name, h.Diameter.Value, h.For)
				}
				if h.Sink != nil && h.Sink.Assumed != (c.sinks == "") {
					t.Errorf("%s: assumed is %v", h.Name, h.Sink.Assumed)
				}
			}
		})
	}
}

// A sink lies on the side of its screw's head where the build does not say: motors above the
// plate are screwed from below, a bolt from above takes its head on top, and a hole without a screw
// is sunk from the top.
func TestSinkFace(t *testing.T) {
	asm := layouttest.MustLoad(t, strings.NewReplacer("SCREW", "", "HOLE", ", countersink: {diameter: 6.72}").Replace(motorBuild)+
		"  lid: {material: carbon, thickness: 2, on: base, outline: {circle: 40}, holes: [{hole: 3.2, at: [0, 0], name: bolt, countersink: {diameter: 6.72}}, {hole: 3.2, at: [0, 9], countersink: {diameter: 6.72}}, {hole: 3.2, at: [0, -9], countersink: {diameter: 6.72}, face: bottom}]}\n"+
		"screws: {bolt: {through: lid.bolt, from: above, nut: insert}}\n")
	for _, pl := range asm.Plates {
		for i := range pl.Holes {
			h := &pl.Holes[i]
			want := shapes.Top
			if pl.Name == "base" || h.At.Y < -1 {
				want = shapes.Bottom
			}
			if got := asm.SinkFace(pl, h); got != want {
				t.Errorf("%s is sunk from the %v, want %v", h.Name, got, want)
			}
		}
	}
}
