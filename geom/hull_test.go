package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestConvexHullByHand(t *testing.T) {
	cases := []struct {
		name  string
		in    []geom.Loop
		area  float64
		verts int
	}{
		{"nothing", nil, 0, 0},
		{"square", []geom.Loop{square(0, 0, 2)}, 4, 4},
		{"L", []geom.Loop{mustLoop(t, 0, 0, 0, 10, 0, 0, 10, 4, 0, 4, 4, 0, 4, 10, 0, 0, 10, 0)}, 100 - 18, 5},
		{"circle", []geom.Loop{geom.Circle(pt(3, 4), 2)}, 4 * math.Pi, 2},
		{"two equal circles: a capsule", []geom.Loop{geom.Circle(pt(0, 0), 1), geom.Circle(pt(5, 0), 1)}, math.Pi + 10, 4},
		{"circle in circle", []geom.Loop{geom.Circle(pt(0, 0), 3), geom.Circle(pt(1, 0), 1)}, 9 * math.Pi, 2},
		// Radii 2 and 1, centres 2 apart: the outer tangents make the angle asin(1/2) = 30°
		// with the axis and are 2·cos 30° = √3 long. Arcs: 240° of radius 2 and 120° of
		// radius 1; two trapezia of area √3·(2+1)/2.
		{"two circles", []geom.Loop{geom.Circle(pt(0, 0), 2), geom.Circle(pt(2, 0), 1)},
			4*math.Pi*2/3 + math.Pi/3 + 3*math.Sqrt(3), 4},
		// A quarter-round notch in a corner does not show, one on a side neither.
		{"hollow arc", []geom.Loop{mustLoop(t, 0, 0, 0, 4, 0, -0.5, 4, 4, 0, 0, 4, 0)}, 16, 4},
		{"clockwise", []geom.Loop{geom.Capsule(pt(0, 0), pt(5, 0), 2).Reverse()}, math.Pi + 10, 4},
	}
	for _, c := range cases {
		h := geom.ConvexHull(c.in...)
		if math.Abs(h.Area()-c.area) > 1e-9 || h.Len() != c.verts {
			t.Errorf("%s: hull has area %.12g and %d vertices, want %.12g and %d: %v", c.name, h.Area(), h.Len(), c.area, c.verts, h.Vertices())
		}
	}
}

// TestConvexHullProperties: the hull is convex, holds its loops, is its own hull, and every
// straight or curved piece of it touches a loop at both ends.
func TestConvexHullProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var loops []geom.Loop
		for range rapid.IntRange(1, 4).Draw(t, "n") {
			loops = append(loops, genPlaced().Draw(t, "region").Outer)
		}
		h := geom.ConvexHull(loops...)
		for i, s := range h.Segs() {
			if s.Bulge < 0 {
				t.Fatalf("segment %d of the hull is hollow: %v", i, h.Vertices())
			}
			for _, v := range h.Vertices() {
				// No vertex lies right of the line through a segment's start along it. The
				// direction of a segment is known to the rounding of its ends (coordinates
				// up to 128 mm: 3e-14) over its length.
				u, d := s.Tangent(0), v.P.Sub(s.A)
				if u.X*d.Y-u.Y*d.X < -1e-9-1e-13*d.Norm()/s.Length() {
					t.Fatalf("hull is not convex at segment %d: %v", i, h.Vertices())
				}
			}
		}
		hull := geom.RegionOf(h)
		left, err := geom.Difference(regions(loops...), []geom.Region{hull})
		if err != nil {
			t.Fatal(err)
		}
		if a := areaOf(left); a > 1e-6 {
			t.Fatalf("%g mm² of the loops stick out of their hull", a)
		}
		again := geom.ConvexHull(h)
		// Flat arcs of 1e8 mm radius occur; their rise is known to 1e-8 mm.
		if math.Abs(again.Area()-h.Area()) > 1e-8*(h.Area()+h.Perimeter()) {
			t.Fatalf("hull of the hull has area %.12g, want %.12g", again.Area(), h.Area())
		}
		for _, v := range h.Vertices() {
			d := math.Inf(1)
			for _, l := range loops {
				_, e := l.Nearest(v.P)
				d = math.Min(d, e)
			}
			if d > 1e-7 {
				t.Fatalf("vertex %v of the hull is %g mm from every loop", v.P, d)
			}
		}
	})
}
