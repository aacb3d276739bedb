package rules

import "testing"

func TestPropSweep(t *testing.T) { testRule(t, propSweep, "ok tight fail unknown nothing") }

func TestSweepNeedsFollowTheFiguresBySize(t *testing.T) {
	for in, want := range map[float64]float64{2: 3, 3: 3, 4: 4, 5: 5, 6: 6.5, 7: 8, 10: 8} {
		if got := sweepNeed(in * 25.4); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("sweepNeed(%g inch) = %g, want %g", in, got, want)
		}
	}
	// Ducts: 1.0 at 2 inch, 1.5 at 3, 2.5 at 5, never under 1.
	for in, want := range map[float64]float64{1.2: 1, 2: 1, 3: 1.5, 5: 2.5} {
		if got := guardNeed(in * 25.4); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("guardNeed(%g inch) = %g, want %g", in, got, want)
		}
	}
}
