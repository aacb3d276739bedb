package rules

import (
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

func plusMinus(name string, value, tol float64) *shapes.Dim {
	return &shapes.Dim{Name: name, Value: value, Plus: tol, Minus: tol, Unit: shapes.MM}
}

func discBody(at r2.Point, radius float64, blur layout.Form, rides ...*shapes.Dim) *layout.Body {
	return &layout.Body{Plan: []geom.Region{geom.RegionOf(geom.Circle(at, radius))}, Blur: blur, Rides: rides}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("%s = %.9f, want %.9f", what, got, want)
	}
}

func TestPlanGapKeepsTheNominalDistance(t *testing.T) {
	// Two posts of 5 across, 20 apart: 20 - 2.5 - 2.5 = 15. Their diameters enter the blur with half their
	// full value, the outlines hold that value already: the nominal gap stays 15.
	a := plusMinus("first post", 5, 0.2)
	b := plusMinus("second post", 5, 0.1)
	g := planGap(discBody(r2.Point{}, 2.5, layout.Form{}.Plus(a, 0.5)), discBody(r2.Point{X: 20}, 2.5, layout.Form{}.Plus(b, 0.5)))
	near(t, "nominal", g.Form.Nominal(), 15)
	lo, hi := g.Form.Worst()
	near(t, "worst", lo, 15-0.1-0.05)
	near(t, "best", hi, 15+0.1+0.05)
	near(t, "A", g.A.X, 2.5)
	near(t, "B", g.B.X, 17.5)
}

func TestPlanGapDropsWhatBothRideOn(t *testing.T) {
	float := plusMinus("stack float", 0, 0.3)
	place := plusMinus("post position", 0, 0.1)
	size := plusMinus("post diameter", 5, 0.2)
	one := discBody(r2.Point{}, 2.5, layout.Of(float).Plus(size, 0.5), float)
	two := discBody(r2.Point{X: 20}, 2.5, layout.Of(float).Plus(size, 0.5).Plus(place, 1), float, place)
	// Both ride on the float: it drops out. Both have the size: half of it twice, 0.2. Only one rides on
	// the position: 0.1.
	lo, _ := planGap(one, two).Form.Worst()
	near(t, "both ride", lo, 15-0.2-0.1)
	// A body that the float does not move: the float counts. It is the same the other way round.
	fixed := discBody(r2.Point{}, 2.5, layout.Form{}.Plus(size, 0.5))
	lo, _ = planGap(fixed, two).Form.Worst()
	near(t, "one rides", lo, 15-0.2-0.1-0.3)
	lo, _ = planGap(two, fixed).Form.Worst()
	near(t, "the other rides", lo, 15-0.2-0.1-0.3)
	// A float that is in both blurs but moves only one of them does not cancel.
	loose := discBody(r2.Point{}, 2.5, layout.Of(float))
	lo, _ = planGap(loose, two).Form.Worst()
	near(t, "widens one", lo, 15-0.3-0.3-0.1-0.1)
}

func TestPlanGapOfNothing(t *testing.T) {
	if g := planGap(&layout.Body{}, discBody(r2.Point{}, 1, layout.Form{})); !g.Empty {
		t.Errorf("a body without an outline: got the gap %v", g.Form.Nominal())
	}
}

func TestEdgeOf(t *testing.T) {
	ring := geom.RegionOf(geom.Circle(r2.Point{}, 10), geom.Circle(r2.Point{}, 6))
	post := geom.RegionOf(geom.Circle(r2.Point{X: 30}, 2))
	for _, c := range []struct {
		p      r2.Point
		dist   float64
		inside bool
	}{
		{r2.Point{X: 5}, 1, false},   // in the hole, 1 from its edge
		{r2.Point{X: 7}, 1, true},    // in the ring, 1 from the hole
		{r2.Point{X: 9.5}, .5, true}, // in the ring, 0.5 from the outside
		{r2.Point{X: 13}, 3, false},  // outside
		{r2.Point{X: 27}, 1, false},  // nearer to the post
		{r2.Point{X: 30}, 2, true},   // in the middle of the post
	} {
		_, dist, inside := edgeOf([]geom.Region{ring, post}, c.p)
		if inside != c.inside {
			t.Errorf("edgeOf %v: inside %v, want %v", c.p, inside, c.inside)
		}
		near(t, "distance", dist, c.dist)
	}
	if _, dist, _ := edgeOf(nil, r2.Point{}); !math.IsInf(dist, 1) {
		t.Errorf("edgeOf nothing = %v, want +Inf", dist)
	}
}

func TestBetween(t *testing.T) {
	for _, c := range []struct {
		a, b r1.Interval
		want float64
	}{
		{r1.Interval{Lo: 0, Hi: 10}, r1.Interval{Lo: 4, Hi: 20}, 7}, // both have 4 to 10
		{r1.Interval{Lo: 0, Hi: 2}, r1.Interval{Lo: 6, Hi: 9}, 4},   // the space from 2 to 6
	} {
		near(t, "between", between(c.a, c.b), c.want)
		near(t, "between, turned round", between(c.b, c.a), c.want)
	}
}
