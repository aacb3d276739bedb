package geom_test

import (
	"math"
	"testing"

	"dryfit/geom"
)

// TestOffsetAreas checks areas and numbers of regions and holes worked out by hand.
func TestOffsetAreas(t *testing.T) {
	sq := regions(square(0, 0, 10))
	ell := regions(mustLoop(t, 0, 0, 0, 10, 0, 0, 10, 4, 0, 4, 4, 0, 4, 10, 0, 0, 10, 0))
	ring := []geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 5), geom.Circle(pt(0, 0), 2))}
	// A dumb-bell: two squares of 4 joined by a neck 1 high and 4 long.
	bell, err := geom.UnionAll(regions(square(0, 0, 4)), regions(square(8, 0, 4)), regions(geom.Rectangle(pt(6, 2), 4, 1)))
	if err != nil {
		t.Fatal(err)
	}
	cases := []struct {
		name     string
		a        []geom.Region
		d        float64
		area     float64
		n, holes int
	}{
		{"square out", sq, 1, 100 + 40 + math.Pi, 1, 0},
		{"square in", sq, -1, 64, 1, 0},
		{"square to nothing", sq, -5, 0, 0, 0},
		{"square far to nothing", sq, -50, 0, 0, 0},
		{"circle out", regions(geom.Circle(pt(1, 1), 3)), 2, 25 * math.Pi, 1, 0},
		{"circle in", regions(geom.Circle(pt(1, 1), 3)), -2, math.Pi, 1, 0},
		// Area 64, perimeter 40; five convex corners of π/4 d², one hollow corner where two
		// d x d squares overlap: 64 + 40d + (5π/4)d² - d².
		{"L out", ell, 1, 64 + 40 + 5*math.Pi/4 - 1, 1, 0},
		// Inside, the rim of 40d counts the d x d square of each of the five convex corners
		// twice, and misses the quarter circle at the hollow one: 64 - 40d + 5d² - (π/4)d².
		{"L in", ell, -1, 64 - 40 + 5 - math.Pi/4, 1, 0},
		{"ring out", ring, 1, math.Pi * (36 - 1), 1, 1},
		{"ring fills up", ring, 2, math.Pi * 49, 1, 0},
		{"ring fills up far", ring, 3, math.Pi * 64, 1, 0},
		{"ring in", ring, -1, math.Pi * (16 - 9), 1, 1},
		{"ring to nothing", ring, -1.5, 0, 0, 0},
		{"ring far to nothing", ring, -4, 0, 0, 0},
		// Each square keeps its inner 2 x 2 and, before the mouth of the neck, the points
		// further than 1 from the mouth's corners: 2·∫(1-√(1-t²))dt over 0..1/2, which is
		// 1 - √3/4 - π/6.
		{"neck breaks", bell, -1, 2 * (4 + 1 - math.Sqrt(3)/4 - math.Pi/6), 2, 0},
		{"parts grow together", regions(square(0, 0, 2), square(3, 0, 2)), 1,
			// Two grown squares, 4 + 8 + π each. Their overlap: the strip 2..3 counts twice
			// over 0..2, which is 2, plus above and below the lens half of two quarter
			// circles about (2,2) and (3,2): twice half the lens 2π/3 - √3/2 of unit circles.
			2*(12+math.Pi) - 2 - (2*math.Pi/3 - math.Sqrt(3)/2), 1, 0},
		{"no distance", sq, 0, 100, 1, 0},
	}
	for _, c := range cases {
		got, err := geom.Offset(c.a, c.d)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		holes := 0
		for _, r := range got {
			holes += len(r.Holes)
		}
		if math.Abs(areaOf(got)-c.area) > 1e-9 || len(got) != c.n || holes != c.holes {
			t.Errorf("%s: area %.12g, %d regions, %d holes; want %.12g, %d, %d\n%v",
				c.name, areaOf(got), len(got), holes, c.area, c.n, c.holes, got)
		}
	}
}
