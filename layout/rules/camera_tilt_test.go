package rules

import (
	"strings"
	"testing"
)

func TestCameraTilt(t *testing.T) { testRule(t, cameraTilt, "ok tight fail unknown nothing") }

func TestCameraTiltFollowsTheFigures(t *testing.T) {
	testChanges(t, cameraTilt, []change{
		// The ways out: 0.2 further up and a slot of 19.3.
		{"low", "by: 10.6", "by: 10.8", "tight 0.20, ok 0.30, ok 0.80"},
		{"low", "slot: 19.2", "slot: 19.3", "tight 0.10, ok 0.30, ok 0.70"},
		{"low", "slot: 19.2", "slot: 18.8", "fail -0.20, tight 0.10, ok 1.20"},
		// Level again: 2.5 - 1.
		{"tilted", "tilt: 45 deg", "tilt: 0 deg", "fail -0.30, ok 1.30, ok 1.50"},
	})
	wantFix(t, cameraTilt, changed(t, cameraTilt, "tilted"), "move the pivot of the nose camera 1 mm up")
	wantFix(t, cameraTilt, changed(t, cameraTilt, "tilted", "tilt: 45 deg", "tilt: 0 deg"), "washers or adapter cheeks of 0.3 mm on each side")
	wantFix(t, cameraTilt, changed(t, cameraTilt, "clipped"), "give it as `slot:`")
}

// Over a range of tilt the corner that is √(7² + 9.5²) = 11.800 from the pivot points straight down at
// 36.4 degrees: 12 - 11.800 - 1 = -0.800. The cover of the range may reach 0.1 further.
func TestCameraTiltFindsTheWorstAngle(t *testing.T) {
	out := judgeText(t, cameraTilt, changed(t, cameraTilt, "tilted", "tilt: 45 deg", "tilt: 0..45 deg"))
	for _, f := range out.Findings {
		if len(f.Subjects) < 2 {
			continue // the cheeks
		}
		if f.Subjects[1] != "plates.base" || f.Margin > -0.800 || f.Margin < -0.900 {
			t.Errorf("%s: margin %.3f, want -0.80 to -0.90", f.Message, f.Margin)
		}
		if !strings.Contains(f.Message, "from 0 to 45 degrees") {
			t.Errorf("message %q", f.Message)
		}
	}
}
