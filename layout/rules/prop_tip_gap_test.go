package rules

import "testing"

func TestPropTipGap(t *testing.T) { testRule(t, propTipGap, "ok tight fail unknown nothing") }

func TestTipNeedFollowsTheFiguresBySize(t *testing.T) {
	// 3 up to 3 inch, 5 at 4 and 5, 8 at 6 and 7, 12 from 8; half way between 3 and 4 inch
	// lies half way between 3 and 5.
	for in, want := range map[float64]float64{1.2: 3, 3: 3, 3.5: 4, 4: 5, 5: 5, 5.5: 6.5, 6: 8, 7: 8, 7.5: 10, 8: 12, 10: 12, 12: 12} {
		if got := tipNeed(in * 25.4); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("tipNeed(%g inch) = %g, want %g", in, got, want)
		}
	}
}
