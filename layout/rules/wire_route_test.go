package rules

import (
	"math"
	"strings"
	"testing"

	"dryfit/layout/layouttest"
)

func TestWireRoute(t *testing.T) { testRule(t, wireRoute, "ok fail unknown nothing") }

func TestWireRouteFollowsTheFigures(t *testing.T) {
	testChanges(t, wireRoute, []change{
		// One more between the walls: 3, just what is needed.
		{"narrow", "size: [20, 2, 10]", "size: [18, 2, 10]", "ok"},
		// Wires of 1.5 take 3 and 2 x 0.3: 3.6.
		{"narrow", "outside: 1.2 ±0.1", "outside: 1.5 ±0.1", "fail -1.60"},
	})
	wantFix(t, wireRoute, changed(t, wireRoute, "narrow"), "open that gap by 1 mm, or lead the wires another way with `via:`")
}

// TestWaysByHand: the builds say how long their ways are.
func TestWaysByHand(t *testing.T) {
	for _, c := range []struct {
		file string
		want float64
	}{{"round-post", 60.625}, {"over-edge", 72.838}, {"through-slot", 65.2}, {"slot-too-narrow", 82.624}} {
		asm := layouttest.MustLoad(t, changed(t, wireRoute, c.file))
		r := asm.Circuits[0].Route
		if r == nil || r.Blocked != nil || math.Abs(r.Length-c.want) > 0.01 {
			t.Errorf("%s: %+v, want %g", c.file, r, c.want)
		}
		told := Run(asm, []*Rule{wireRoute})[0].Findings[0].Message
		over, through := strings.Contains(told, "over the edge of the base plate"), strings.Contains(told, "through base.gap")
		if over != (c.file == "over-edge" || c.file == "slot-too-narrow") || through != (c.file == "through-slot") {
			t.Errorf("%s: %q", c.file, told)
		}
	}
}
