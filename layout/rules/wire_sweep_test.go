package rules

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/layout"
)

func TestWireSweep(t *testing.T) { testRule(t, wireSweep, "ok tight fail unknown nothing") }

func TestWireSweepFollowsTheFigures(t *testing.T) {
	testChanges(t, wireSweep, []change{
		// Tied at the middle as well, 25 from the first tie: the last length of 30 has
		// d = √(26² + 4²) = 26.306, bulge √(900 - 692)/2 = 7.211: 15.5 - 7.211 - 1.2 - 5 is what
		// its line leaves at x = 0.
		{"free", "ties: [[-20, 1]]", "ties: [[-20, 1], [0, 1]]", "ok 2.09"},
		{"tied", "plates:", "needs: {wire-sweep: 12}\nplates:", "fail -0.98"},
	})
	// The middle of the length from 10 to 60 is 35 from the start: 25 behind the tie at -20.
	wantFix(t, wireSweep, changed(t, wireSweep, "free"), "tie them down once more, near x 5, y 1, 35 mm from the start")
}

// A triangle of sides 5 and 5 on a base of 6 is 4 high: a length of 10 between places 6 apart.
func TestBulge(t *testing.T) {
	for _, c := range []struct{ length, apart, want float64 }{{10, 6, 4}, {6, 6, 0}, {5, 6, 0}, {26, 10, 12}} {
		if got := bulge(c.length, c.apart); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g over %g: %g, want %g", c.length, c.apart, got, c.want)
		}
	}
}

// A disc of radius 50 round the origin between heights 10 and 14.
func TestNearDisc(t *testing.T) {
	r := &layout.Rotor{At: r2.Point{}, Radius: layout.Fixed(50), SweptLo: layout.Fixed(10), SweptHi: layout.Fixed(14)}
	for _, c := range []struct {
		a, b r3.Vector
		want float64
	}{
		{r3.Vector{X: 60, Y: -30, Z: 12}, r3.Vector{X: 60, Y: 30, Z: 12}, 10}, // beside it
		{r3.Vector{X: -80, Z: 3}, r3.Vector{X: 80, Z: 3}, 7},                  // under it
		{r3.Vector{X: 53, Z: 18}, r3.Vector{X: 90, Z: 18}, 5},                 // 3 out and 4 over
		{r3.Vector{X: -80, Z: 12}, r3.Vector{X: 80, Z: 12}, 0},                // through it
	} {
		if _, gap := nearDisc(r, c.a, c.b); math.Abs(gap.Nominal()-c.want) > 1e-6 {
			t.Errorf("%v to %v: %g, want %g", c.a, c.b, gap.Nominal(), c.want)
		}
	}
}
