package rules

import (
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

func TestNearInPlan(t *testing.T) {
	square := func(x, y float64) []geom.Region {
		return []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{X: x, Y: y}, 4, 4))}
	}
	// Squares of 4 whose middles are 10 apart: 10 - 2 - 2 = 6 between x = 2 and x = 8.
	g := nearInPlan(square(0, 0), square(10, 0))
	near(t, "apart", g.Dist, 6)
	near(t, "A", g.A.X, 2)
	near(t, "B", g.B.X, 8)
	// 3 apart they overlap by 1, 4 apart they touch; either way they are told as one over the other, half way.
	for _, x := range []float64{3, 4} {
		g = nearInPlan(square(0, 0), square(x, 0))
		near(t, "overlap", g.Dist, -1)
		near(t, "place", g.A.X, x/2)
	}
	// Of several regions one that meets is enough; none is infinitely far.
	g = nearInPlan(append(square(20, 20), square(0, 0)...), square(1, 1))
	near(t, "one of two", g.Dist, -1)
	if g = nearInPlan(nil, square(0, 0)); !(g.Dist > 1e300) {
		t.Errorf("nothing lies %g from a square", g.Dist)
	}
}
