package render

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		name        string
		want        []float64
		gap, lo, hi float64
		out         []float64
	}{
		{"far apart stay", []float64{0, 10, 20}, 4, -100, 100, []float64{0, 10, 20}},
		// Two at 10 part by 4 about their middle.
		{"two on one place", []float64{10, 10}, 4, -100, 100, []float64{8, 12}},
		// 0, 1, 2 with gap 4: middle 1 keeps, the others stand 4 from it.
		{"three near", []float64{0, 1, 2}, 4, -100, 100, []float64{-3, 1, 5}},
		{"pushed up from the lower end", []float64{10, 10}, 4, -100, 11, []float64{7, 11}},
		{"pushed down from the upper end", []float64{10, 10}, 4, 9, 100, []float64{9, 13}},
		{"none", nil, 4, 0, 1, nil},
	} {
		got := spread(c.want, c.gap, c.lo, c.hi)
		if len(got) != len(c.out) {
			t.Errorf("%s: %v, want %v", c.name, got, c.out)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.out[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.name, got, c.out)
				break
			}
		}
	}
}

// The gap is kept, the order is kept, and no small move of one rung is allowed and nearer.
func TestSpreadIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.SliceOfN(rapid.Float64Range(0, 50), 1, 12).Draw(t, "want")
		slices.Sort(want)
		const gap = 4.0
		got := spread(want, gap, -1000, 1000)
		cost := func(v []float64) float64 {
			s := 0.0
			for i := range v {
				s += (v[i] - want[i]) * (v[i] - want[i])
			}
			return s
		}
		base := cost(got)
		for i := range got {
			if i > 0 && got[i]-got[i-1] < gap-1e-9 {
				t.Fatalf("rungs %d and %d are %v apart", i-1, i, got[i]-got[i-1])
			}
			for _, d := range []float64{-0.01, 0.01} {
				// Move rung i and all that it pushes.
				try := slices.Clone(got)
				try[i] += d
				for k := i + 1; k < len(try); k++ {
					try[k] = max(try[k], try[k-1]+gap)
				}
				for k := i - 1; k >= 0; k-- {
					try[k] = min(try[k], try[k+1]-gap)
				}
				if cost(try) < base-1e-9 {
					t.Fatalf("moving rung %d by %v is nearer: %v instead of %v", i, d, cost(try), base)
				}
			}
		}
	})
}
