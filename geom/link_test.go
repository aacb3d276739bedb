package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// TestNestedPolygons: rings of polygons with many sides lie in each other's holes, so that
// whether each is in or out follows from rays past long rows of sides. A regular polygon of
// n sides round a circle of radius r has the area n·r²·tan(π/n).
func TestNestedPolygons(t *testing.T) {
	const n = 60
	area := func(r float64) float64 { return n * r * r * math.Tan(math.Pi/n) }
	for turn := range 12 {
		a := s1.Angle(0.05 * float64(turn))
		poly := func(x, y, r float64) geom.Loop { return geom.RegularPolygon(pt(x, y), 2*r, n, a) }
		rings := []geom.Region{
			geom.RegionOf(poly(0, 0, 10), poly(0.5, 0, 8), poly(-8.7, 0, 0.5)),
			geom.RegionOf(poly(0.4, 0.3, 6), poly(0.4, 0.3, 5)),
			geom.RegionOf(poly(-1, 0, 3), poly(-1, 0.1, 2)),
			geom.RegionOf(poly(-1, 0, 1)),
			geom.RegionOf(poly(3.5, 0, 1)),
		}
		sum := area(10) - area(8) - area(0.5) + area(6) - area(5) + area(3) - area(2) + area(1) + area(1)
		got, err := geom.UnionAll(rings)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != 5 || math.Abs(areaOf(got)-sum) > 1e-9 {
			t.Errorf("turned by %g: %d regions of area %.12g, want 5 of %.12g", float64(a), len(got), areaOf(got), sum)
		}
		// A disc over all but the outermost ring takes the rest away.
		got, err = geom.Difference(rings, regions(poly(0.5, 0, 8)))
		if err != nil {
			t.Fatal(err)
		}
		if want := area(10) - area(8) - area(0.5); len(got) != 1 || len(got[0].Holes) != 2 || math.Abs(areaOf(got)-want) > 1e-9 {
			t.Errorf("turned by %g: the outer ring has area %.12g in %d regions, want %.12g in one", float64(a), areaOf(got), len(got), want)
		}
		// The complement in a square: outside, the small hole and the three gaps between rings.
		frame := regions(geom.Rectangle(pt(0, 0), 24, 24))
		got, err = geom.Difference(frame, rings)
		if err != nil {
			t.Fatal(err)
		}
		if want := 24*24 - sum; len(got) != 5 || math.Abs(areaOf(got)-want) > 1e-9 {
			t.Errorf("turned by %g: the complement has area %.12g in %d regions, want %.12g in 5", float64(a), areaOf(got), len(got), want)
		}
	}
}
