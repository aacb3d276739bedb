package rules

import "testing"

func TestButtonReach(t *testing.T) { testRule(t, buttonReach, "ok tight fail unknown nothing") }

func TestButtonReachFollowsTheFigures(t *testing.T) {
	testChanges(t, buttonReach, []change{
		// The hole that the way out asks for, moved over the button: 2 - 1 - 0.5, and 0.5 can be lost.
		{"under-the-roof", "{hole: 20, at: [-40, 0]}", "{hole: 4, at: [10, 0]}", "ok 0.50"},
		{"through-the-roof", "hole: 3,", "hole: 3.4,", "tight 0.20"},
		{"card", "[[30, 9.2]]", "[[30, 7.5]]", "fail -1.00, ok"},
		// Beyond the 16 that a card comes out: 34 to 37.5.
		{"card", "[[30, 9.2]]", "[[40, 0]]", "ok, ok 3.00"},
		// A block of 6 under the stick, whose axis lies 6 + 1.6 + 2 high: 9.6 - 1 - 6 - 0.5.
		{"unmeasured", "unknown]", "6 ±0.2]", "ok 2.10"},
	})
	wantFix(t, buttonReach, changed(t, buttonReach, "under-the-roof"), "cut a hole of 4 mm over it into the roof plate")
	wantFix(t, buttonReach, changed(t, buttonReach, "card", "[[30, 9.2]]", "[[30, 7.5]]"), "turn the board by a quarter counter-clockwise")
}
