package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"dryfit/geom"
)

// TestFilletsByHand: fillets at corners between lines, line and arc, and two arcs.
func TestFilletsByHand(t *testing.T) {
	ell := regions(mustLoop(t, 0, 0, 0, 10, 0, 0, 10, 4, 0, 4, 4, 0, 4, 10, 0, 0, 10, 0))
	// A half disc of radius 3 on the upper side of a bar: two hollow corners of 90° between
	// line and arc, at (±3, 0).
	dome, err := geom.Union(regions(geom.Rectangle(pt(0, -2), 20, 4)), regions(geom.Circle(pt(0, 0), 3)))
	if err != nil {
		t.Fatal(err)
	}
	// The fillet of radius 1 touches y = 0 and the circle: its centre (x, 1) lies 4 from the
	// origin, x = √15. Between it, the bar and the disc: the triangle (0,0), (x,0), (x,1)
	// less the sector of the disc with the angle φ = atan(1/√15), less that of the fillet
	// with π/2 - φ.
	phi := math.Atan(1 / math.Sqrt(15))
	wedge := math.Sqrt(15)/2 - 9*phi/2 - (math.Pi/2-phi)/2
	// Two discs of radius 2, centres 3 apart. A fillet of radius 1 touches both: its centre
	// lies 3 from each, above the middle by h = √(9-9/4). The triangle of the centres has
	// the angles 60°, so twice (above and below): its area less two sectors of 60° and
	// radius 2, less one of 60° and radius 1, plus the part of the triangle that was already
	// covered twice by overlapping sectors: the upper half of the lens of the discs.
	pair, err := geom.Union(regions(geom.Circle(pt(0, 0), 2)), regions(geom.Circle(pt(3, 0), 2)))
	if err != nil {
		t.Fatal(err)
	}
	lens := 2*4*math.Acos(0.75) - 3*math.Sqrt(4-9.0/4)
	gusset := 9*math.Sqrt(3)/4 - 2*4*(math.Pi/3)/2 - (math.Pi/3)/2 + lens/2
	cases := []struct {
		name string
		do   func([]geom.Region, float64) ([]geom.Region, error)
		a    []geom.Region
		r    float64
		area float64
		n    int
	}{
		{"inside corner of an L", geom.FilletInside, ell, 1, 64 + 1 - math.Pi/4, 1},
		{"outside corners of an L", geom.FilletOutside, ell, 1, 64 - 5*(1-math.Pi/4), 1},
		{"nothing to do inside", geom.FilletInside, regions(square(0, 0, 3)), 1, 9, 1},
		{"nothing to do outside", geom.FilletOutside, regions(geom.Capsule(pt(0, 0), pt(5, 0), 2)), 0.9, 10 + math.Pi, 1},
		{"line to arc", geom.FilletInside, dome, 1, areaOf(dome) + 2*wedge, 1},
		{"arc to arc", geom.FilletInside, pair, 1, areaOf(pair) + 2*gusset, 1},
		{"thin parts vanish", geom.FilletOutside, regions(geom.Rectangle(pt(0, 0), 10, 1)), 0.6, 0, 0},
		{"narrow gaps fill up", geom.FilletInside, []geom.Region{geom.RegionOf(square(0, 0, 10), geom.Rectangle(pt(5, 5), 6, 1).Reverse())}, 0.6, 100, 1},
		{"no radius", geom.FilletInside, ell, 0, 64, 1},
	}
	for _, c := range cases {
		got, err := c.do(c.a, c.r)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if math.Abs(areaOf(got)-c.area) > 1e-8 || len(got) != c.n {
			t.Errorf("%s: area %.12g in %d regions, want %.12g in %d", c.name, areaOf(got), len(got), c.area, c.n)
		}
	}
}

// TestFilletProperties: an inside fillet adds, an outside one takes away; neither does
// anything the second time; no corner sharper than the radius is left.
func TestFilletProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := genSet().Draw(t, "a")
		r := genNumber(0.1, 3).Draw(t, "r")
		whole, err := geom.UnionAll(a)
		if err != nil {
			t.Fatal(err)
		}
		more, err := geom.FilletInside(a, r)
		if err != nil {
			t.Fatalf("FilletInside by %v: %v\na = %#v", r, err, dump(a))
		}
		less, err := geom.FilletOutside(a, r)
		if err != nil {
			t.Fatalf("FilletOutside by %v: %v\na = %#v", r, err, dump(a))
		}
		tol := 2 * areaTol(whole, more, less)
		for _, c := range []struct {
			name         string
			inner, outer []geom.Region
		}{{"inside", whole, more}, {"outside", less, whole}} {
			d, err := geom.Difference(c.inner, c.outer)
			if err != nil {
				t.Fatal(err)
			}
			if areaOf(d) > tol {
				t.Fatalf("fillet %s of radius %v: %g mm² on the wrong side\na = %#v", c.name, r, areaOf(d), dump(a))
			}
		}
		again, err := geom.FilletInside(more, r)
		if err != nil {
			t.Fatalf("FilletInside again: %v\na = %#v", err, dump(a))
		}
		sameSet(t, "FilletInside twice", more, again, tol)
		again, err = geom.FilletOutside(less, r)
		if err != nil {
			t.Fatalf("FilletOutside again: %v\na = %#v", err, dump(a))
		}
		sameSet(t, "FilletOutside twice", less, again, tol)
		for _, s := range more {
			for l := range s.Loops() {
				for i, g := range l.Segs() {
					if g.Bulge < 0 && g.IsArc() && g.Radius() < r-1e-6 {
						t.Fatalf("hollow arc %d of radius %g after FilletInside by %g\na = %#v", i, g.Radius(), r, dump(a))
					}
				}
			}
		}
	})
}
