package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

func TestSegAreaFrom(t *testing.T) {
	for _, c := range []struct {
		s    Seg
		o    r2.Point
		want float64
	}{
		// A triangle of base 4 and height 3, run both ways.
		{Seg{A: r2.Point{X: 4}, B: r2.Point{X: 4, Y: 3}}, r2.Point{}, 6},
		{Seg{A: r2.Point{X: 4, Y: 3}, B: r2.Point{X: 4}}, r2.Point{}, -6},
		// On its own line a line sweeps nothing.
		{Seg{A: r2.Point{X: 1, Y: 1}, B: r2.Point{X: 3, Y: 3}}, r2.Point{X: 8, Y: 8}, 0},
		// Half a circle of radius 5 from its centre and, its chord being a diameter, from anywhere on that: 25π/2.
		{Seg{A: r2.Point{X: 5}, B: r2.Point{X: -5}, Bulge: 1}, r2.Point{}, 25 * math.Pi / 2},
		{Seg{A: r2.Point{X: 5}, B: r2.Point{X: -5}, Bulge: 1}, r2.Point{X: -30}, 25 * math.Pi / 2},
		{Seg{A: r2.Point{X: 5}, B: r2.Point{X: -5}, Bulge: -1}, r2.Point{}, -25 * math.Pi / 2},
		// A quarter of a circle of radius 2 from its centre: π; from its first end the triangle is gone and
		// the circular segment is left: π - 2.
		{Seg{A: r2.Point{X: 2}, B: r2.Point{Y: 2}, Bulge: math.Tan(math.Pi / 8)}, r2.Point{}, math.Pi},
		{Seg{A: r2.Point{X: 2}, B: r2.Point{Y: 2}, Bulge: math.Tan(math.Pi / 8)}, r2.Point{X: 2}, math.Pi - 2},
		{Seg{A: r2.Point{X: 7}, B: r2.Point{X: 7}, Bulge: 1}, r2.Point{}, 0}, // a point
	} {
		if got := c.s.AreaFrom(c.o); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v from %v: %v, want %v", c.s, c.o, got, c.want)
		}
	}
}

// Over a loop the areas add up to the loop's, from any point.
func TestSegAreaFromAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := r2.Point{X: rapid.Float64Range(-300, 300).Draw(t, "x"), Y: rapid.Float64Range(-300, 300).Draw(t, "y")}
		w, h := rapid.Float64Range(2, 90).Draw(t, "w"), rapid.Float64Range(2, 90).Draw(t, "h")
		r := rapid.Float64Range(0.01, 0.49).Draw(t, "r") * min(w, h)
		sum := 0.0
		for _, s := range RoundedRectangle(r2.Point{X: 3, Y: -8}, w, h, r).Segs() {
			sum += s.AreaFrom(o)
		}
		// Four corner squares of r², less what a circle of r leaves of them.
		if want := w*h - (4-math.Pi)*r*r; math.Abs(sum-want) > 1e-9 {
			t.Fatalf("%v x %v, R%v from %v: %v, want %v", w, h, r, o, sum, want)
		}
	})
}
