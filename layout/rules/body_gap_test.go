package rules

import (
	"strings"
	"testing"

	"dryfit/layout"
)

func TestBodyGap(t *testing.T) { testRule(t, bodyGap, "ok tight fail unknown nothing") }

func TestBodyGapFollowsTheFigures(t *testing.T) {
	testChanges(t, bodyGap, []change{
		// 5 further off two blocks are out of earshot: 18 - 10.
		{"side-by-side", "at: [13, 0]", "at: [18, 0]", "fail -1.50, fail -0.20, tight 2.00"},
		// Lower posts: the receiver ends at 17.4 - 6 = 11.4, 0.8 over the board; block and transmitter would reach
		// into the roof: 17.4 - 18 and 17.4 - 17.5.
		{"under-the-roof", "length: 20", "length: 17.4", "fail -3.10, fail -1.60, fail -0.70"},
		// In grommets the board lies 2.2 higher: 14 - 12.8 = 1.2, and 2 needed.
		{"under-the-roof", "board, nut nylon", "{board: board, soft: grommet-m3}, nut nylon", "fail -0.80, fail -0.50, ok 1.00"},
		// The can 3 nearer: 1 - 0.5, and the receiver is set by hand within 1.
		{"on-a-board", "at: [10, 0], size: [4, 4]", "at: [7, 0], size: [4, 4]", "tight 0.50"},
		// Hard the board needs 0.5 and gives 0.2 on its screws: 1.0, of which 1.7 can be lost.
		{"soft-board", "{board: board, soft: rubber}", "board", "tight 1.00, tight 1.25, ok 1.45"},
		{"post-through-a-plate", "hole: 6,", "hole: 7,", "ok 0.50, ok 4.50"},
		// A block of 17 ends 3 under the roof.
		{"unmeasured", "unknown]", "17 ±0.2]", "ok 2.00"},
	})
	wantFix(t, bodyGap, changed(t, bodyGap, "side-by-side"), "move the clash a 3.7 mm to the right")
	wantFix(t, bodyGap, changed(t, bodyGap, "under-the-roof"), "move the sender 0.9 mm down")
}

// What the way out says holds at worst case.
func TestBodyGapWayOut(t *testing.T) {
	// 1.5 lacking and 2.2 that can be lost: 3.7 to the right, where y falls.
	text := changed(t, bodyGap, "side-by-side", "at: [0, 60]", "at: [0, 56.3]")
	if got := verdicts(judgeText(t, bodyGap, text)); got != "fail -0.20, tight 2.00, ok 2.20, ok 2.50" {
		t.Errorf("after the move: %s", got)
	}
}

// A pair that the build excuses keeps its verdict and carries the reason.
func TestBodyGapExcuse(t *testing.T) {
	text := changed(t, bodyGap, "side-by-side", "mounts:", "touching: [{pair: [mounts.clash-a, mounts.clash-b], why: glued together}]\nmounts:")
	excused := 0
	for _, f := range judgeText(t, bodyGap, text).Findings {
		clash := strings.Contains(f.Message, "clash")
		if clash != (f.Excuse != nil) {
			t.Errorf("%s: excuse %v", f.Message, f.Excuse)
		}
		if f.Excuse != nil {
			excused++
			if f.Excuse.Why != "glued together" || f.Verdict != layout.Fail {
				t.Errorf("%s: %v, %q", f.Message, f.Verdict, f.Excuse.Why)
			}
		}
	}
	if excused != 1 {
		t.Errorf("%d findings are excused, want 1", excused)
	}
}

// TestSlidingPack: a pack that stays where it is keeps 5 more.
func TestSlidingPack(t *testing.T) {
	testChanges(t, bodyGap, []change{
		{"sliding-pack", "slide: 5", "slide: 2", "ok 4.00"},
		{"sliding-pack", "slide: 5", "slide: 7", "fail -1.00"},
	})
}
