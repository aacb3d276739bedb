package rules

import "testing"

func TestWebWidth(t *testing.T) { testRule(t, webWidth, "ok tight fail unknown nothing") }

func TestWebWidthFollowsTheFigures(t *testing.T) {
	testChanges(t, webWidth, []change{
		// Half a millimetre nearer: 5.5 - 3.2 - 1.5 = 0.8.
		{"two-holes", "at: [[6, 0]]", "at: [[5.5, 0]]", "ok 0.80"},
		// The strip as wide as the web needs with both cuts: 1.7 is more than 1.5 + 0.2, and no question any more.
		{"neck-tight", "rectangle: [30, 1.6]", "rectangle: [30, 1.75]", "nothing"},
		// M2.5 is no small pad: 1.325 for 1.5.
		{"small-pad", "screw: M2}", "screw: M2.5}", "fail -0.17"},
		{"own-need", "web-width: 1 mm", "web-width: 1.4 mm", "fail -0.10"},
	})
	wantFix(t, webWidth, changed(t, webWidth, "crossing"), "move the 3.2 mm hole 1.85 mm away")
	// 1.4 for 1.5; 0.025 + 0.025 by the diameters and 0.1 by the places: 0.25 lacking at worst, so 6 - 0.5 = 5.5.
	wantFix(t, webWidth, changed(t, webWidth, "large-pad"), "make the 6 mm centre hole 5.5 mm or less")
	wantFix(t, webWidth, changed(t, webWidth, "unmeasured"), "measure base thickness")
}
