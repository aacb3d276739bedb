package rules

import "testing"

func TestInsideCorner(t *testing.T) { testRule(t, insideCorner, "ok tight fail nothing") }

func TestInsideCornerFollowsTheFigures(t *testing.T) {
	testChanges(t, insideCorner, []change{
		{"rounded", "fillet: 1.5", "fillet: 1", "fail -0.05"},
		{"jet", "cutting: {kerf: 1 mm}\n", "", "fail -0.25"},
		// 3 wide: its end is as round as 1.5.
		{"slit", "width: 1.2", "width: 3", "ok 0.45"},
	})
	wantFix(t, insideCorner, changed(t, insideCorner, "sharp", "corner: 1}", "corner: 2}"), "`fillet: 1.05` in the outline", "relieve it with a hole")
	// 0.6 takes a cutter of 2 x (0.6 - 0.05) = 1.1.
	wantFix(t, insideCorner, changed(t, insideCorner, "slit"), "`fillet: 1.05`", "a cutter of 1.1 mm")
}
