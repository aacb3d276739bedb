package examples

import (
	"testing"

	"dryfit/layout"
)

// TestHardwareAddsUp counts the screws of the examples by hand and wants as many joints,
// and as many pieces in the list.
func TestHardwareAddsUp(t *testing.T) {
	for name, want := range map[string]map[layout.JointKind]int{
		// Four motors of four, props on two screws each, four posts, four bolts, a camera of two.
		"shoreline": {layout.MotorScrew: 16, layout.PropScrew: 8, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
		// Four motors, four props, four screws at either end of the spacers; the camera is clipped.
		"attic": {layout.MotorScrew: 16, layout.PropScrew: 8, layout.SpacerScrew: 8},
		// Six motors with a nut each; four legs held at one end, four posts and two of the mast at both; two bolts an arm.
		"orchard": {layout.MotorScrew: 24, layout.PropNut: 6, layout.PostScrew: 4 + 8 + 4, layout.StackBolt: 4, layout.PlateBolt: 12},
		// Four motors of four, props on two screws each, four posts, four bolts with flat heads, a camera of two.
		"quarry": {layout.MotorScrew: 16, layout.PropScrew: 8, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
		// Four motors with a nut each, four posts, four bolts, a camera of two.
		"riverbank": {layout.MotorScrew: 16, layout.PropNut: 4, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
	} {
		asm := load(t, path(name), text(t, name))
		got := map[layout.JointKind]int{}
		all := 0
		for _, j := range asm.Joints {
			got[j.Kind]++
			if j.Length != nil {
				all++
			}
		}
		for k, n := range want {
			if got[k] != n {
				t.Errorf("%s: %d of %s, want %d", name, got[k], k, n)
			}
			delete(got, k)
		}
		for k, n := range got {
			t.Errorf("%s: %d of %s, want none", name, n, k)
		}
		screws, mass := 0, 0.0
		for _, l := range asm.Hardware() {
			if l.Kind == layout.Screws || l.Kind == layout.Studs {
				screws += l.Count
			}
			if !l.Sure {
				t.Errorf("%s: %s is not sure to be right", name, l.Label())
			}
			mass += l.MassEach * float64(l.Count)
		}
		if screws != all {
			t.Errorf("%s: the list has %d screws, the joints %d", name, screws, all)
		}
		sum := 0.0
		for _, c := range asm.Components {
			switch c.Kind {
			case "screws", "post", "spacer", "fastener":
				sum += c.Mass.Grams.Nominal()
			}
		}
		if d := sum - mass; d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: the list weighs %.3f g, what it lists %.3f g in the craft", name, mass, sum)
		}
	}
}
