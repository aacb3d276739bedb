package rules

import (
	"math"
	"testing"

	"dryfit/layout/layouttest"
)

func TestWireSweep(t *testing.T) { testRule(t, wireSweep, "ok tight fail unknown nothing") }

func TestWireSweepFollowsTheFigures(t *testing.T) {
	testChanges(t, wireSweep, []change{
		// Tied at the middle as well, 29.4 from the start: the last length is 29.4 and has 1 of the slack, L = 30.4, and
		// d = √(26² + 3.4²) = 26.221, bulge √(924.16 - 687.56)/2 = 7.691. Of its 14 pieces the fifth, to
		// x = 9.286, bulges 7.691 · √(1 - (2 · 0.3571 - 1)² · 687.56/924.16) = 7.454 and starts at
		// x = 7.429, where the disc is √(7.429² + 79²) - 63.5 = 15.849 away: 15.849 - 7.454 - 6.2.
		{"free", "ties: [[-20, 1]]", "ties: [[-20, 1], [0, 1]]", "ok 2.19"},
		// 8.478 + 5 - 14.
		{"tied", "plates:", "needs: {wire-sweep: 14}\nplates:", "fail -0.52"},
	})
	// The middle of the length from 9.4 to 58.8 is 34.1 from the start: 24.7 behind the tie at -20.
	wantFix(t, wireSweep, changed(t, wireSweep, "free"), "tie them down once more, near x 5, y 1, 34 mm from the start")
}

// TestHoldingAWire: of the build with ties at x = ±15 and 10 of slack the length between them lies from 14.4 to 44.4; its middle is at
// 29.4, on the plate. With tolerances of 0.45 the bulge may be 15.5 - 1.2 - 5 - 0.45 = 8.85: a length of √(900 + 4 · 8.85²) = 34.83, 4.83
// more than 30, which is 30/58.8 of a slack of 9.47: 7 kept to 2 hold, 8 do not.
func TestHoldingAWire(t *testing.T) {
	asm := layouttest.MustLoad(t, changed(t, wireSweep, "slack"))
	c, r := asm.Circuits[0], asm.Rotors[0]
	all := asm.Stretches(c)
	if len(all) != 3 {
		t.Fatalf("%d lengths, want 3", len(all))
	}
	s := all[1]
	if along, opens, ok := asm.TieBetween(c, &s); !ok || opens || math.Abs(along-29.4) > 0.01 {
		t.Errorf("one more tie at %g, %v %v, want 29.4", along, opens, ok)
	}
	if slack, ok := asm.SlackFor(&s, r, 5); !ok || math.Abs(slack-7) > 1e-9 {
		t.Errorf("slack %g %v, want 7", slack, ok)
	}
	if slack, ok := asm.SlackFor(&s, r, 15); ok {
		t.Errorf("15 off with slack %g: the lead lies 14.3 from the disc", slack)
	}
	// Two ties nearer than 10 leave no room for one between them.
	asm = layouttest.MustLoad(t, changed(t, wireSweep, "slack", "ties: [[-15, 1], [15, 1]]", "ties: [[-15, 1], [-6, 1], [15, 1]]"))
	s = asm.Stretches(asm.Circuits[0])[1]
	if along, _, ok := asm.TieBetween(asm.Circuits[0], &s); ok {
		t.Errorf("a tie at %g between two 9 apart", along)
	}
}
