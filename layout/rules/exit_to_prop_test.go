package rules

import "testing"

func TestExitToProp(t *testing.T) { testRule(t, exitToProp, "ok tight fail unknown nothing") }

func TestExitToPropFollowsTheFigures(t *testing.T) {
	testChanges(t, exitToProp, []change{
		// Turned about, the plug begins at x = -18: 36.5 + 18 - 10.
		{"near", "- board ", "- {board: board, turn: 180} ", "ok 44.50"},
		// A motor of 30 lifts the blades by 10.
		{"under-the-disc", "body-height: 20", "body-height: 30", "ok 6.40"},
		{"clear", "plates:", "needs: {exit-to-prop: 40}\nplates:", "fail -7.50"},
		// A lead that bends within 25: 32.5 - 20 - 10.
		{"clear", "bend: 5 ±2", "bend: 25 ±2", "tight 2.50"},
	})
	wantFix(t, exitToProp, changed(t, exitToProp, "under-the-disc"), "turn the board so that motors looks along the body")
}
