package rules

import (
	"testing"

	"dryfit/layout"
)

func TestHoleMatch(t *testing.T) { testRule(t, holeMatch, "ok tight fail unknown nothing") }

func TestHoleMatchFollowsTheFigures(t *testing.T) {
	testChanges(t, holeMatch, []change{
		// The way out of close: at worst 0.055 are lacking, so the plate's holes must be 0.11 wider, 0.15
		// by steps of 0.05. Through them 0.25, play (0.25 + 0.1)/2 = 0.175, at worst 0.02.
		{"close", "hole: 3.1 ±0.1}   #", "hole: 3.25 ±0.1}   #", "ok 0.10, ok 0.18, ok 0.25"},
		// Nylon cuts nothing: 0.025 less at worst, -0.02.
		{"trade-m3", "    from: base.top\n", "    from: base.top\n    bolts: {material: nylon}\n", "tight 0.15, ok 0.10, ok 0.20"},
		// Turned the other way the hole that is left out comes to the rear left, where there is a hole, and
		// one comes to the front right, where there is none: the nearest lies 30.5 off.
		{"three-turned", "turn: 90", "turn: -90", "fail -30.10, ok 0.40 x2"},
		// With its holes where those of the base are the lower plate holds.
		{"two-plates", "at: [0.5, 0]", "at: [0, 0]", "ok 0.40 x5"},
		// A board on 30.5.
		{"other-pattern", "side: 20", "side: 30.5", "ok 0.40 x3"},
	})
	// A second board in want of the same holes does not say it again.
	for _, file := range []string{"no-holes", "holes-of-another"} {
		one := judgeText(t, holeMatch, changed(t, holeMatch, file))
		two := judgeText(t, holeMatch, changed(t, holeMatch, file, "      - nut nylon", "      - spacer nylon 6 mm\n      - {board: board, as: second}"))
		fails := func(o layout.Outcome) (n int) {
			for i := range o.Findings {
				if o.Findings[i].Verdict == layout.Fail {
					n++
				}
			}
			return n
		}
		if fails(one) != 1 || fails(two) != 1 || len(two.Findings) != len(one.Findings)+1 {
			t.Errorf("%s: %s with one board, %s with two", file, verdicts(one), verdicts(two))
		}
	}
	wantFix(t, holeMatch, changed(t, holeMatch, "close"), "make the holes of the base plate 3.25 mm in place of 3.1 mm")
	wantFix(t, holeMatch, changed(t, holeMatch, "thick-screws"), "make the holes 3.05 mm")
	wantFix(t, holeMatch, changed(t, holeMatch, "grommets"), "take grommets made for holes of 3.2 mm")
	wantFix(t, holeMatch, changed(t, holeMatch, "no-holes"), "{for: stacks.main}")
	wantFix(t, holeMatch, changed(t, holeMatch, "other-pattern"), "take a board with holes at 30.5")
}
