package rules

import "testing"

func TestPartSupport(t *testing.T) { testRule(t, partSupport, "ok tight fail unknown nothing") }

func TestPartSupportFollowsTheFigures(t *testing.T) {
	testChanges(t, partSupport, []change{
		// Foam of 5 levels the socket out: all of it lies on the board.
		{"on-a-socket", "at: [0, 0]}   #", "at: [0, 0], hold: foam 5 mm}   #", "ok 16.67, ok 50.00"},
		// Turned across, 60 of the pack's 120 lie on the base, and as much if it lies 1 further left.
		{"on-a-socket", "at: [0, 0], hold: pad 2 mm}", "at: [0, 0], turn: 90, hold: pad 2 mm}", "fail -20.00, ok 0.00"},
		// 5 further in, 14 of 20 lie on the plate.
		{"centre-beyond", "at: [31, 0]", "at: [26, 0]", "ok 40.00"},
	})
	wantFix(t, partSupport, changed(t, partSupport, "centre-beyond"), "until its centre lies over the base plate")
}
