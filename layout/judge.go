package layout

import "math"

// settle is the least margin in mm that still counts as none: nominal margins from
// different sums of the same figures differ by rounding far below it.
const settle = 1e-6

// Judge fills the numbers and the verdict of a finding from a measure that must be at
// least the need (at most, with f.AtMost set). Both are forms so that a need that
// rests on dimensions (a flexing blade) keeps its uncertainty and shares cancel.
//
// Unknown if either form lacks a dimension; Fail if the nominal margin is negative;
// Tight if only the worst case is; OK otherwise. A margin within 1e-6 of zero counts
// as zero, and zero holds.
func (f Finding) Judge(measure, need Form) Finding {
	f.HasMeasure = true
	f.Measured, f.Needed = measure.Nominal(), need.Nominal()
	margin := measure.Sub(need)
	if f.AtMost {
		margin = need.Sub(measure)
	}
	f.Margin = snap(margin.Nominal())
	lo, _ := margin.Worst()
	f.Worst = snap(lo)
	f.Chance = margin.ChanceBelow(0)
	f.Eaters = margin.Eaters()
	if len(f.Eaters) > 3 {
		f.Eaters = f.Eaters[:3]
	}
	for _, t := range margin.Terms {
		if t.Dim.Source != 0 || t.Dim.TolSource != 0 {
			f.RestsOn = append(f.RestsOn, t.Dim)
		}
	}
	f.Missing = margin.Missing()
	switch {
	case len(f.Missing) > 0:
		f.Verdict = Unknown
	case f.Margin < 0:
		f.Verdict = Fail
	case f.Worst < 0:
		f.Verdict = Tight
	default:
		f.Verdict = OK
		if f.Chance < 1e-9 {
			f.Chance = 0
		}
	}
	return f
}

func snap(v float64) float64 {
	if math.Abs(v) < settle {
		return 0
	}
	return v
}
