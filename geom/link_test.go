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

// TestTinyCorners: 40 by 30 mm with corners rounded by 3/2^30 mm, about three weld distances,
// over copies of it turned and moved by about that. Round such a corner the order of the
// boundaries is rounding; once the outside was taken for the inside by it.
func TestTinyCorners(t *testing.T) {
	base := geom.RoundedRectangle(pt(1, -16), 40, 30, 3.0/(1<<30))
	a := regions(base)
	for _, turn := range []s1.Angle{0, 1.25e-11, 2.5e-11, 5e-11, 1e-10} {
		for _, x := range []float64{1e-10, 3e-10, 1e-9, 2e-9, 3e-9} {
			for _, y := range []float64{0, 1e-10, 3e-10, 1e-9, -2e-9} {
				b := regions(base.Transform(geom.Pose2{Turn: turn, Shift: pt(x, y)}), base.Transform(geom.Pose2{Shift: pt(1e-10, 0)}))
				for _, c := range []struct {
					op   operation
					want float64
				}{{union, 1200}, {intersection, 1200}, {difference, 0}} {
					// All edges lie within 1e-8 mm of those of a, whose perimeter is 140 mm.
					got, err := c.op.do(a, b)
					if err != nil || math.Abs(areaOf(got)-c.want) > 1.4e-6 {
						t.Errorf("turn %g, shift %g, %g: %s has area %.12g, want %g (%v)", float64(turn), x, y, c.op.name, areaOf(got), c.want, err)
					}
				}
				in, err := geom.Intersection(a, b)
				if err != nil {
					t.Fatal(err)
				}
				out, err := geom.Difference(a, b)
				if err != nil {
					t.Fatal(err)
				}
				if got, err := geom.Union(out, in); err != nil || math.Abs(areaOf(got)-1200) > 1.4e-6 {
					t.Errorf("turn %g, shift %g, %g: parts united have area %.12g, want 1200 (%v)", float64(turn), x, y, areaOf(got), err)
				}
			}
		}
	}
}
