package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// TestGrowConvex: of a convex figure with the area A and the perimeter P the one grown by d has A + P·d + π·d² (Steiner), and every
// point of its outline lies d from it.
func TestGrowConvex(t *testing.T) {
	const d = 1.75
	half, err := geom.NewLoop([]geom.Vertex{{P: r2.Point{X: -3}}, {P: r2.Point{X: 5}, Bulge: 1}}) // half a disc
	if err != nil {
		t.Fatal(err)
	}
	for name, l := range map[string]geom.Loop{
		"circle": geom.Circle(r2.Point{X: 7, Y: 2}, 3), "rectangle": geom.Rectangle(r2.Point{X: 1, Y: 1}, 12, 5), "capsule": geom.Capsule(r2.Point{}, r2.Point{X: 9, Y: 4}, 3),
		"rounded": geom.RoundedRectangle(r2.Point{}, 20, 10, 3), "hexagon": geom.RegularPolygon(r2.Point{X: -4}, 5.5, 6, 0.3), "half": half,
	} {
		if !l.IsConvex() {
			t.Fatalf("%s is not convex", name)
		}
		g, ok := l.GrowConvex(d)
		if !ok {
			t.Fatalf("%s: no loop", name)
		}
		a := math.Abs(l.Area())
		if want := a + l.Perimeter()*d + math.Pi*d*d; math.Abs(g.Area()-want) > 1e-9*want {
			t.Errorf("%s: area %g, want %g", name, g.Area(), want)
		}
		for _, s := range g.Segs() {
			for k := range 8 {
				p := s.At(float64(k) / 8)
				if x := geom.DistancePoint(geom.RegionOf(l), p).Dist; math.Abs(x-d) > 1e-9 {
					t.Errorf("%s: %v lies %g off, want %g", name, p, x, d)
				}
			}
		}
	}
}

func TestGrowConvexRefuses(t *testing.T) {
	ell, err := geom.Polygon([]r2.Point{{}, {X: 9}, {X: 9, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 9}, {Y: 9}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, l := range map[string]geom.Loop{"concave": ell, "empty": {}} {
		if _, ok := l.GrowConvex(1); ok {
			t.Errorf("%s: grown", name)
		}
	}
	if _, ok := geom.Circle(r2.Point{}, 3).GrowConvex(-1); ok {
		t.Error("shrunk")
	}
}
