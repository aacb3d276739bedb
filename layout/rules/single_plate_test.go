package rules

import "testing"

func TestSinglePlateFollowsTheFigures(t *testing.T) {
	testChanges(t, driverAccess, []change{
		// Single motors leave the heads free.
		{"back-to-back", "pairs: coaxial, ", "", "nothing"},
		// Without one of the posts 16.97 - 5 = 11.97 are open: a spanner of 8.94 passes.
		{"nut-in-a-gap", "[8.485, 8.485], ", "", "ok x2"},
		// A press nut is not turned.
		{"nut-in-a-gap", "nut: insert", "nut: press", "ok x2"},
		// From above the nut is on the skid's underside, where nothing is; the head is under the roof.
		{"nut-in-a-gap", "nut: insert}", "nut: insert, from: above}", "fail -10.00, ok"},
	})
	wantFix(t, driverAccess, changed(t, driverAccess, "back-to-back"), "a plate of its own")
	wantFix(t, driverAccess, changed(t, driverAccess, "nut-in-a-gap"), "take a press nut, turn the screw round")
}
