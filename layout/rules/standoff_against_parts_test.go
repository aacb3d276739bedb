package rules

import "testing"

func TestStandoffAgainstParts(t *testing.T) {
	testRule(t, standoffAgainstParts, "ok tight fail unknown nothing")
}

func TestStandoffAgainstPartsFollowsTheFigures(t *testing.T) {
	// 0.245 is written 0.25 here, -0.505 is -0.50.
	testChanges(t, standoffAgainstParts, []change{
		// The corners at most the ring less 0.2, as the way out of tight says: 6.4 - 0.1.
		{"rings", "corners: 6.4", "corners: 6.3", "fail -0.25, ok 0.10, ok 0.25, ok 0.45"},
		// Upside down the chip lies beside the spacer under the board: 15.25 - 11.5 - 2.8 - 0.25.
		{"zone-by-the-hole", "- board", "- {board: board, flip: true}", "ok 0.25, ok 0.45, ok 0.70"},
		// 0.5 nearer to the hole.
		{"zone-by-the-hole", "at: [15.25, 8.5]", "at: [15.25, 9.5]", "fail -0.50, ok 0.25, ok 0.45"},
		// Parts of 1 under the soft board come within 1.2 - 0.45 of the spacer, which is wider than the ring.
		{"soft", "below: 0.5", "below: 1", "fail -0.25, ok 0.25"},
		// Clamped hard it lies on the spacer.
		{"soft", "{board: board, soft: rubber}", "board", "fail -0.25, ok 0.25"},
		// 2.4 by 3.2 from the corner: 4 - 2.5 - 1, and 0.8 can be lost.
		{"post-by-a-corner", "[21, 22]", "[20.4, 21.2]", "tight 0.50, ok 0.45"},
		// A nylon post may stand nearer to live pads: 5.5 - 1.
		{"post-by-live-pads", "material: aluminium", "material: nylon", "ok 0.45, ok 4.50"},
		// A quarter turn brings the edge at x = 20 to the post: 23 - 20 - 2.5 = 0.5, needed 1.
		{"post-by-live-pads", "turn: 0", "turn: 90", "fail -0.50, ok 0.45"},
		// Half a turn takes the pads away; the edge is 5.5 off.
		{"post-by-live-pads", "turn: 0", "turn: 180", "ok 0.45, ok 4.50"},
		// A board that ends below the foot of a hanging post does not meet it.
		{"post-by-live-pads", "length: 25", "length: 4", "ok 0.45"},
	})
	wantFix(t, standoffAgainstParts, changed(t, standoffAgainstParts, "rings"), "take one of 6.5 mm over the corners or less for the washer 1")
	wantFix(t, standoffAgainstParts, changed(t, standoffAgainstParts, "post-by-a-corner", "[21, 22]", "[20.4, 21.2]"), "move posts main 0.3 mm away")
}
