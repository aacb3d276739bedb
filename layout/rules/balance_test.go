package rules

import (
	"testing"

	"dryfit/layout"
)

func TestBalance(t *testing.T) { testRule(t, balance, "ok tight fail unknown nothing") }

func TestBalanceFollowsTheFigures(t *testing.T) {
	testChanges(t, balance, []change{
		// 10000·20/20000 = 10 ahead.
		{"ahead", "at: [6, 0], slide", "at: [20, 0], slide", "tight 4.40"},
		// A block of 2780 g 60 to the rear: (60000 - 166800)/20000 = -5.34.
		{"ahead", "on: base.top, at: [0, 0]", "on: base.top, at: [-60, 0]", "ok 9.06"},
		{"ahead", "plates:", "needs: {balance: 2}\nplates:", "fail -1.00"},
		// Where the way out puts the pack.
		{"nose-heavy", "at: [32, 0]", "at: [0, 0]", "ok 14.40"},
	})
	wantFix(t, balance, changed(t, balance, "nose-heavy"), "move the battery 32 mm to the rear")
	wantFix(t, balance, changed(t, balance, "unweighed"), "measure block mass")
	// Creeping by 30 each way it could bring the centre 15 off however it is placed; (14.4/0.5) 28.8 is as much as is left.
	wantFix(t, balance, changed(t, balance, "creeping", "slide: 25", "slide: 30"), "move the battery 6 mm to the rear and let it creep 28.5 mm at most")
}

// worstOfBalance returns the margin at worst case.
func worstOfBalance(t *testing.T, text string) float64 {
	t.Helper()
	out := judgeText(t, balance, text)
	if len(out.Findings) != 1 || out.Status != layout.Judged {
		t.Fatalf("got %+v", out)
	}
	return out.Findings[0].Worst
}

// What moves the centre of mass adds up in the direction in which it gets farthest.
func TestBalanceTakesTheFarthestPlace(t *testing.T) {
	const slack = 0.01
	for _, c := range []struct {
		name   string
		oldNew []string
		want   float64
	}{
		// Along: 3 + 10/2 = 8.
		{"slide along the offset", nil, 14.4 - 8},
		// Across: 3 to the left and 5 along, √(9 + 25) = 5.831.
		{"slide across the offset", []string{"at: [6, 0], slide", "at: [0, 6], slide"}, 14.4 - 5.831},
		// Centred: 5 either way.
		{"centred", []string{"at: [6, 0], slide", "at: [0, 0], slide"}, 14.4 - 5},
		// Turned across it creeps to the side: √(9 + 25).
		{"turned", []string{"at: [6, 0], slide", "at: [6, 0], turn: 90, slide"}, 14.4 - 5.831},
		// The block may weigh 1000 more 50 to the rear, where it has (-50 - c)/20000 mm a gram of lever. Its moment:
		// c = (60000 - 139000)/20000 = -3.95; -46.05/20000·1000 = 2.3025 further to the rear, and 5 of the slide.
		{"a block of uncertain mass", []string{"2780 g ±0", "2780 g ±1000", "on: base.top, at: [0, 0]", "on: base.top, at: [-50, 0]"}, 14.4 - 3.95 - 2.3025 - 5},
	} {
		if got := worstOfBalance(t, changed(t, balance, "ahead", c.oldNew...)); got < c.want-slack || got > c.want+slack {
			t.Errorf("%s: worst margin %.3f, want %.3f", c.name, got, c.want)
		}
	}
}
