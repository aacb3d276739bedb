package rules

import "testing"

func TestWireSweep(t *testing.T) { testRule(t, wireSweep, "ok tight fail unknown nothing") }

func TestWireSweepFollowsTheFigures(t *testing.T) {
	testChanges(t, wireSweep, []change{
		// Tied at the middle as well, 25 from the first tie: the last length of 30 has
		// d = √(26² + 4²) = 26.306, bulge √(900 - 692)/2 = 7.211. Of its 14 pieces the fifth, to
		// x = 9.286, bulges 7.211 · √(1 - (2 · 0.3571 - 1)² · 692/900) = 6.983 and starts at
		// x = 7.429, where the disc is √(7.429² + 79²) - 63.5 = 15.849 away: 15.849 - 6.98 - 6.2.
		{"free", "ties: [[-20, 1]]", "ties: [[-20, 1], [0, 1]]", "ok 2.67"},
		// 8.692 + 5 - 14.
		{"tied", "plates:", "needs: {wire-sweep: 14}\nplates:", "fail -0.31"},
	})
	// The middle of the length from 10 to 60 is 35 from the start: 25 behind the tie at -20.
	wantFix(t, wireSweep, changed(t, wireSweep, "free"), "tie them down once more, near x 5, y 1, 35 mm from the start")
}
