package rules

import "testing"

func TestSmallestFeature(t *testing.T) { testRule(t, smallestFeature, "ok tight fail nothing") }

func TestSmallestFeatureFollowsTheFigures(t *testing.T) {
	testChanges(t, smallestFeature, []change{
		{"narrow", "slot: [20, 1.8]", "slot: [20, 2.5]", "ok 0.00"},
		{"drilled", "hole: 2.3,", "hole: 2.25,", "ok"},
		{"slots", "hole: 3.2, at: [30, 0]", "hole: 4.2, at: [30, 0]", "ok 1.00"},
	})
	wantFix(t, smallestFeature, changed(t, smallestFeature, "narrow"), "make it 2 mm wide or more", "a cutter of 1.8 mm")
}
