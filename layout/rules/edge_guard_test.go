package rules

import "testing"

func TestEdgeGuard(t *testing.T) { testRule(t, edgeGuard, "ok fail nothing") }

func TestEdgeGuardTakesTheWordOfTheBuild(t *testing.T) {
	for _, guard := range []string{"edge: sleeve", "edge: tape", "edge: chamfer", "sleeve: sleeve-2.5"} {
		testChanges(t, edgeGuard, []change{
			{"through-carbon", "gauge: thin}", "gauge: thin, " + guard + "}", "ok"},
			{"round-the-edge", "gauge: thin}", "gauge: thin, " + guard + "}", "ok"},
		})
	}
	wantFix(t, edgeGuard, changed(t, edgeGuard, "through-carbon"), "guard it and write `edge: sleeve`, `edge: tape` or `edge: chamfer` at the wire")
}
