package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"
)

func hasAxis(axes []r2.Point, d r2.Point) bool {
	for _, a := range axes {
		if math.Abs(a.Cross(d)) < 1e-7 {
			return true
		}
	}
	return false
}

func TestMirrorAxes(t *testing.T) {
	// Sides give x and y, corners both diagonals of the 4 by 3 rectangle.
	got := RegionOf(Rectangle(r2.Point{}, 4, 3)).MirrorAxes(r2.Point{}, 0.5, 0.5)
	if len(got) != 4 || !hasAxis(got, r2.Point{X: 0.8, Y: 0.6}) || !hasAxis(got, r2.Point{X: 0.8, Y: -0.6}) {
		t.Errorf("rectangle: %v", got)
	}
	if got := (Region{}).MirrorAxes(r2.Point{}, 0.5, 0.5); len(got) != 2 {
		t.Errorf("nothing: %v", got)
	}
}

// A regular polygon of n sides has n axes, π/n apart, one through the middle of its first side.
func TestMirrorAxesOfPolygons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "n")
		turn := s1.Angle(rapid.Float64Range(-4, 4).Draw(t, "turn"))
		c := r2.Point{X: 3, Y: -2}
		got := RegionOf(RegularPolygon(c, 10, n, turn)).MirrorAxes(c, 0.5, 0.5)
		for k := range n {
			sin, cos := SinCos(turn + s1.Angle(float64(k)*math.Pi/float64(n)))
			if !hasAxis(got, r2.Point{X: cos, Y: sin}) {
				t.Fatalf("axis %d of %d lacks in %v", k, n, got)
			}
		}
	})
}
