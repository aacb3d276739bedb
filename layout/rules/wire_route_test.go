package rules

import "testing"

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
