package rules

import "testing"

func TestStandoffGrip(t *testing.T) { testRule(t, standoffGrip, "ok tight fail unknown nothing") }

// TestOneLot: three posts carry a plate evenly whatever their length, and lots that were
// sorted do as well.
func TestOneLot(t *testing.T) {
	testChanges(t, standoffGrip, []change{
		{"one-lot", "at: [30, 20], mirror: both", "at: [[30, 20], [30, -20], [-30, 0]]", "ok 0.50, ok 1.50 x2, ok 2.50, ok 13.00"},
		{"one-lot", "length: 25,", "length: 25 ±0.1,", "ok 0.20, ok 0.50, ok 1.50 x2, ok 2.50, ok 13.00"},
	})
	wantFix(t, standoffGrip, changed(t, standoffGrip, "one-lot"), "sort them to 0.2 mm", "`length: 25 ±0.1`")
}
