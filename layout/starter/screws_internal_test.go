package starter

import (
	"math"
	"testing"

	"dryfit/shapes"
)

// TestShortest: through 5 ±0.1 M3x6 (±0.24) is 1 deep, too little for 1.5; M3x7 (±0.29) is
// 2 ±0.39: 1.61 at least, 2.39 at most. Through 3.3 ±0.15 M2x5 (±0.24) is 1.7 ±0.39: 1.31
// for 1.3, and 2.09 at most.
func TestShortest(t *testing.T) {
	m3 := &shapes.Thread{Lengths: []float64{4, 5, 6, 8, 10}, KitLengths: []float64{7}}
	m2 := &shapes.Thread{Lengths: []float64{3, 4, 5, 6, 8}}
	for _, c := range []struct {
		t                      *shapes.Thread
		grip, tol, least, want float64
	}{{m3, 5, 0.1, 1.5, 2.39}, {m2, 3.3, 0.15, 1.3, 2.09}} {
		if got := shortest(c.t, c.grip, c.tol, c.least); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("through %g: %.4f deep, want %.4f", c.grip, got, c.want)
		}
	}
	if got := shortest(m2, 50, 0.1, 1); !math.IsInf(got, 1) {
		t.Errorf("through 50: %g", got)
	}
}
