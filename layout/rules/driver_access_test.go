package rules

import "testing"

func TestDriverAccess(t *testing.T) { testRule(t, driverAccess, "ok tight fail unknown nothing") }

func TestDriverAccessFollowsTheFigures(t *testing.T) {
	testChanges(t, driverAccess, []change{
		// A deck of 30 does not reach over screws at 20: 5 beside it, less 2.5.
		{"under-a-deck", "outline: {circle: 60}", "outline: {circle: 30}", "ok 2.50, ok"},
		// Holes of 6: (6 - 5)/2.
		{"access-holes", "hole: 7}", "hole: 6}", "ok 0.50, ok 19.50"},
		// A base 70 below is 10 beyond the driver's end.
		{"middle-plate", "length: 12 mm ±0.1", "length: 70 mm ±0.1", "ok 10.00, ok 19.50"},
	})
	// Half a millimetre all round a driver of 5.
	wantFix(t, driverAccess, changed(t, driverAccess, "middle-plate"), "cut a hole of 6 mm in the base plate in line with the screw")
	// 4.5 in the way; the post may be 0.05 thicker and stand a little off.
	wantFix(t, driverAccess, changed(t, driverAccess, "camera-post"), "move post main[")
}
