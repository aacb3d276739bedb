package rules

import "testing"

func TestBoardGap(t *testing.T) { testRule(t, boardGap, "ok tight fail unknown nothing") }

func TestBoardGapFollowsTheFigures(t *testing.T) {
	testChanges(t, boardGap, []change{
		// 0.15 more and the boards hold with nothing to spare at worst.
		{"facing", "spacer nylon 7 ", "spacer nylon 7.15 ", "tight 0.10, ok 0.65"},
		// The next spacer sold after 4 and 1.4.
		{"hanging", "spacer nylon 4 ", "spacer nylon 6 ", "ok 0.50, ok 1.10"},
		// Upside down the first board shows its 1.4 to the roof and its 2.5 to the second: 4 - 2.5 - 2.
		{"hanging", "- first ", "- {board: first, flip: true} ", "fail -2.00, ok 1.60"},
		// Half a turn takes the coil off the socket: 8 - 4 - 1 = 3 is the least then.
		{"zones", "turn: 0", "turn: 180", "ok 1.50, ok 3.00"},
		{"zones", "turn: 0", "turn: 90", "ok 1.50, ok 3.00"},
		// On carbon 2 is needed under the lower board.
		{"soft", "material: wood", "material: mat", "tight 0.00, tight 0.20"},
		// Clamped hard the upper board lies 2.2 lower: 4 - 3 - 1 = 0, needed 1.5.
		{"soft", "{board: upper, soft: rubber}", "upper", "fail -1.50, ok 1.00"},
		// A can of 14.3 keeps off even at worst: 16.6 - 14.3 - 1.5 = 0.8, and two spacers, a board and two parts can
		// take 0.1 + 0.1 + 0.1 + 0.2 + 0.2.
		{"past-the-middle", "height: 15.5", "height: 14.3", "ok 3.00, ok 4.50 x2"},
	})
	wantFix(t, boardGap, changed(t, boardGap, "hanging"), "make the spacer 2 6 mm long in place of 4")
	wantFix(t, boardGap, changed(t, boardGap, "facing"), "make the spacer 1 5 mm long in place of 3")
	// Another pair of worn figures, and no spacer between the boards.
	wantFix(t, boardGap, changed(t, boardGap, "hanging", "      - spacer nylon 4 ±0.1 mm\n", "      - gap 4 ±0.1 mm\n"), "a spacer or washers of 1.4 mm")
}
