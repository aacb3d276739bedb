package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestViaByHand(t *testing.T) {
	line := geom.EdgeOf(geom.Seg{A: r2.Point{X: -10}, B: r2.Point{X: 10}})
	half := geom.EdgeOf(geom.Seg{A: r2.Point{X: 5}, B: r2.Point{X: -5}, Bulge: 1}) // the upper half of a circle of 5
	for _, c := range []struct {
		e          geom.Edge
		a, b, want r2.Point
	}{
		{line, r2.Point{X: 0, Y: 3}, r2.Point{X: 8, Y: 1}, r2.Point{X: 6}},    // mirrored: 3 to 1 parts 8 into 6 and 2
		{line, r2.Point{X: 0, Y: 3}, r2.Point{X: 8, Y: -1}, r2.Point{X: 6}},   // crossed at the same place
		{line, r2.Point{X: 20, Y: 3}, r2.Point{X: 30, Y: 3}, r2.Point{X: 10}}, // beyond its end
		{line, r2.Point{X: 2}, r2.Point{X: 4}, r2.Point{X: 3}},                // along it every place serves
		{half, r2.Point{X: -7, Y: 8}, r2.Point{X: 7, Y: 8}, r2.Point{Y: 5}},   // by symmetry
		{half, r2.Point{X: 9, Y: -1}, r2.Point{X: 9, Y: -1}, r2.Point{X: 5}},  // below: its near end
	} {
		if got := c.e.Via(c.a, c.b); got.Sub(c.want).Norm() > 2e-3 {
			t.Errorf("from %v to %v by %v, want %v", c.a, c.b, got, c.want)
		}
	}
	if got := (&geom.Edge{}).Via(r2.Point{X: 1}, r2.Point{Y: 1}); got != (r2.Point{}) {
		t.Errorf("an edge without length: %v", got)
	}
}

// No place along an edge makes the way shorter than the one that Via gives.
func TestViaIsShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) r2.Point {
			return r2.Point{X: rapid.Float64Range(-30, 30).Draw(t, name), Y: rapid.Float64Range(-30, 30).Draw(t, name)}
		}
		s := geom.Seg{A: draw("A"), B: draw("B")}
		if rapid.Bool().Draw(t, "arc") {
			s.Bulge = rapid.Float64Range(-2, 2).Draw(t, "bulge")
		}
		e := geom.EdgeOf(s)
		a, b := draw("a"), draw("b")
		long := func(q r2.Point) float64 { return q.Sub(a).Norm() + q.Sub(b).Norm() }
		q := e.Via(a, b)
		if _, _, off := s.Nearest(q); off > 1e-9+1e-15*e.Radius {
			t.Fatalf("%v is %g beside the edge", q, off)
		}
		for i := range 201 {
			if d := long(s.At(float64(i) / 200)); d < long(q)-2e-3 {
				t.Fatalf("by %v it is %g, by Via %g", s.At(float64(i)/200), d, long(q))
			}
		}
		if long(q) < math.Hypot(a.X-b.X, a.Y-b.Y)-1e-9 {
			t.Fatal("shorter than the straight line")
		}
	})
}
