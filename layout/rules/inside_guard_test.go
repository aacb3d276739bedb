package rules

import "testing"

func TestInsideGuard(t *testing.T) { testRule(t, insideGuard, "ok tight fail unknown nothing") }

func TestInsideGuardFollowsTheFigures(t *testing.T) {
	testChanges(t, insideGuard, []change{
		// The base alone guards: 19.5 - 1.5 less the most that the rim leads, sqrt(14² + 7²) = 15.652 at 26.6 degrees.
		{"tilted", "plates:", "guard: [base]\nplates:", "ok 2.35"},
		// Up to 10 degrees the level upper rim is nearest to the line: 17.067 - 0.5 - 14 - 1.5 = 1.067.
		{"tilted", "0..30", "0..10", "ok 1.07"},
		// Looking back from the same distance to the rear.
		{"level", "at: [30, 0]", "at: [-32, 0], yaw: 180", "fail -0.43"},
		// A notch as wide as what is looked at leaves no prong within the camera's width: the base begins to reach
		// at x = 35, 4.5 ahead of the pivot, and the line goes forward to the roof's 15.5. At tilt t the lower rim lies
		// 14 cos t + 7 sin t ahead at (15 + 14 sin t - 7 cos t)/30 of the way up; 4.5 + 11 of that less the first is least
		// at tan t = (7 - 11 14/30)/(14 + 11 7/30) = 0.1127, 6.4 degrees: 4.5 + 11 9.612/30 - 14.696 - 1.5.
		{"tilted", "rectangle: [20, 16]", "rectangle: [20, 40]", "fail -8.17"},
		{"leads", "at: [37, 0]", "at: [30, 0]", "ok 1.57"},
	})
	wantFix(t, insideGuard, changed(t, insideGuard, "leads"), "move the pivot of the nose camera back by 6.2 mm")
	wantFix(t, insideGuard, changed(t, insideGuard, "unmeasured"), "measure eye pivot back")
}
