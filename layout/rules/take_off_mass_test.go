package rules

import "testing"

func TestTakeOffMass(t *testing.T) { testRule(t, takeOffMass, "ok tight fail unknown nothing") }

func TestTakeOffMassFollowsTheFigures(t *testing.T) {
	testChanges(t, takeOffMass, []change{
		{"light", "mass: 100 g", "mass: 130 g", "fail -0.80"},
		// 0.1 less and 3.8 are left of the 3.735 that stay open.
		{"near-the-line", "mass: 100 g", "mass: 99.9 g", "ok 3.80"},
		{"unweighed", "mass: unknown", "mass: 100 g ±2", "ok 29.20"},
		// A plate of 3 is 5.4 heavier.
		{"light", "thickness: 2", "thickness: 3", "ok 23.80"},
	})
	// 0.8 are over, 5 may be off, and to be 3.6 below the line it takes 4.4 of the nominal: the 5.8 decide.
	wantFix(t, takeOffMass, changed(t, takeOffMass, "heavy"), "take 1 g off, 6 g to be sure; the heaviest is the block")
	// 3.735 - 3.7.
	wantFix(t, takeOffMass, changed(t, takeOffMass, "near-the-line"), "take 1 g off to be sure")
}
