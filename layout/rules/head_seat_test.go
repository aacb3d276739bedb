package rules

import "testing"

func TestHeadSeat(t *testing.T) { testRule(t, headSeatRule, "ok tight fail unknown nothing") }

func TestHeadSeatFollowsTheFigures(t *testing.T) {
	testChanges(t, headSeatRule, []change{
		// A socket head is 5.5 across: 1.2.
		{"posts", "at: [[30, 0], [-30, 0]]}", "at: [[30, 0], [-30, 0]], screw: {head: socket}}", "ok 0.40 x2"},
		// Half a millimetre further: 2.5 - 1.55 = 0.95.
		{"slot-beside", "at: [30, 3.5]", "at: [30, 4]", "ok 0.15"},
		{"countersink", "[30, 16]", "[30, 15]", "ok 0.85"},
		// Without washers motor-on-arm judges the motor screws.
		{"motor-washers", "  screw: {washer: true}\n", "", "nothing"},
	})
	// 0.05 lacking; 0.1 by the head and 0.025 by the hole more: 0.175, twice that off the hole.
	wantFix(t, headSeatRule, changed(t, headSeatRule, "wide-hole"), "put washers of 7 mm under the heads", "make the hole 3.85 mm")
	wantFix(t, headSeatRule, changed(t, headSeatRule, "counterbore"), "make the counterbore 5.8 mm wide")
	// 0.35 lacking; half of 0.05 by either width, 0.05 by either place.
	wantFix(t, headSeatRule, changed(t, headSeatRule, "slot-beside"), "move that opening or edge 0.5 mm away")
}

// TestWashersLeaveMotorOnArm: a hole that is too wide for the head under it is told by
// motor-on-arm, and no more once washers lie there.
func TestWashersLeaveMotorOnArm(t *testing.T) {
	with := verdicts(judgeText(t, motorOnArm, changed(t, headSeatRule, "motor-washers", "hole: 2.15", "hole: 2.4")))
	without := verdicts(judgeText(t, motorOnArm, changed(t, headSeatRule, "motor-washers", "hole: 2.15", "hole: 2.4", "  screw: {washer: true}\n", "")))
	// (3.8 - 2.4)/2 = 0.7 of the 0.8; base 15 - 7 = 8, centre 4.2 - 4 = 0.2, play 0.2. Place 0.05 and half of the diameter's 0.05 of it.
	if want := "ok 0.20 x4, ok 8.00 x2"; with != want {
		t.Errorf("with washers: %s, want %s", with, want)
	}
	if want := "fail -0.10 x2, ok 0.20 x4, ok 8.00 x2"; without != want {
		t.Errorf("without: %s, want %s", without, want)
	}
}
