package rules

import "testing"

func TestHoleEdge(t *testing.T) { testRule(t, holeEdge, "ok tight fail nothing") }

func TestHoleEdgeFollowsTheFigures(t *testing.T) {
	testChanges(t, holeEdge, []change{
		// The arm 1 narrower: 4 - 1.6 = 2.4 for 2.5.
		{"arm-root", "width: 9}", "width: 8}", "fail -0.10, ok 0.40"},
		// The arm's bolts beside those of the hub: 64 - 59.5 - 1.6 = 2.9 for 1.8 then, and the third hole, 2.4 for 1.8, is the nearest.
		{"arm-root", "at: [[-40.5, 0]]", "at: [[-44.5, 0]]", "ok 0.40, ok 0.60"},
		// M5: 0.6 x 5 = 3. 20 - 16 - 2.6 = 1.4.
		{"light", "- {hole: 3.2, at: [[0, 16]]}", "- {hole: 5.2, at: [[0, 16]]}", "fail -1.60"},
	})
	// 0.1 less than may go: at worst 0.075 is lacking.
	wantFix(t, holeEdge, changed(t, holeEdge, "near", "slot: [12, 3], at: [[-20, 17.5]]", "slot: [12, 3], at: [[-20, 10]]"),
		"move it 0.1 mm inwards", "widen the plate there by 0.1 mm")
}
