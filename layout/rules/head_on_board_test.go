package rules

import "testing"

func TestHeadOnBoardFollowsTheFigures(t *testing.T) {
	testChanges(t, insulation, []change{
		// Socket heads of 5.5: 0.5.
		{"head-on-board", "kind: short", "kind: short, head: socket", "ok, ok 0.50"},
		// Glass does not conduct, but the washers lie on tracks all the same.
		{"washer-on-board", "material: carbon", "material: glass", "fail -0.25"},
		// Nylon does not conduct.
		{"washer-on-board", "washer: true", "washer: true, material: nylon", "ok"},
		// Rubber lies between.
		{"washer-on-board", "- fc ", "- {board: fc, soft: grommet-m3} ", "ok"},
		{"near-the-ring", "clear: 5.9 ±0", "clear: unknown", "unknown, ok"},
	})
	// 0.25 and 0.14 of play too far: 7 - 0.78.
	wantFix(t, insulation, changed(t, insulation, "washer-on-board"), "washers of at most 6.2 mm")
}
