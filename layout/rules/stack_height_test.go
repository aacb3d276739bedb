package rules

import "testing"

func TestStackHeight(t *testing.T) { testRule(t, stackHeight, "ok tight fail unknown nothing") }

func TestStackHeightFollowsTheFigures(t *testing.T) {
	testChanges(t, stackHeight, []change{
		// 0.7 lower parts leave 1.0 to spare, and exactly that can be lost: it holds.
		{"four-tolerances", "above: 16.1", "above: 15.4", "ok 1.00"},
		{"four-tolerances", "above: 16.1", "above: 15.41", "tight 0.99"},
		// Posts of 26.5 take up the 1.5 that hanging lacks at worst.
		{"hanging", "length: 25", "length: 26.5", "ok 1.00"},
		// The right way up its parts of 3 end at 20.4 - 3 = 17.4: 14.4 over the base.
		{"hanging", "flip: true", "flip: false", "ok 13.40"},
		// A heat sink of 15: 25 - 22.6 = 2.4, and 3 needed.
		{"hot-zone", "height: 12", "height: 15", "fail -0.60, ok 7.40"},
		// Not hot it needs 1 and is what reaches highest: 25 - 19.6 - 1.
		{"hot-zone", ", hot: true", "", "ok 4.40"},
		// A need of the build: 2 of air asked for, 1.2 there.
		{"soft", "name: soft", "name: soft\nneeds: {stack-height: 2}", "fail -0.80"},
	})
	wantFix(t, stackHeight, changed(t, stackHeight, "hanging"), "posts main of 26.5 mm or more in place of 25", "make the stack 1.5 mm lower")
	// Of a class the next length sold: 25 and 1.5 are 26.5, sold are 26 and 28.
	wantFix(t, stackHeight, changed(t, stackHeight, "hanging", "{part: post,", "{part: standoff-m3-round,"), "posts main of 28 mm in place of 25")
}

// A plate through whose opening a stack passes is beside what reaches up to it, and body-gap
// measures that. What stays below the plate and within 0.5 mm sideways counts as under it:
// the bare board, 25 - 7.6 = 17.4 below.
func TestStackHeightLeavesWhatIsBeside(t *testing.T) {
	text := changed(t, stackHeight, "through-roof", "rectangle: [45, 45]", "rectangle: [37.8, 37.8]")
	if got := verdicts(judgeText(t, stackHeight, text)); got != "ok 16.40" {
		t.Errorf("stack-height says %s", got)
	}
	// Board and its parts are 0.4 from the edge on all sides, 0.5 needed.
	if got := verdicts(judgeText(t, bodyGap, text)); got != "fail -0.10" {
		t.Errorf("body-gap says %s", got)
	}
}
