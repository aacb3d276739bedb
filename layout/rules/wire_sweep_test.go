package rules

import "testing"

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
