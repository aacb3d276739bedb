package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"disc of 2", DiscArea(2), 3.14159265},
		{"no disc", DiscArea(0), 0},
		// π/4·(100 − 36) = 16π.
		{"ring of 10 and 6", RingArea(10, 6), 50.26548246},
		{"ring inside out", RingArea(6, 10), -50.26548246},
		{"square of 3", RegularPolygonArea(3, 4), 9},
		// A hexagon of 2 across flats is 6 triangles with side 2/√3 and height 1.
		{"hexagon of 2", RegularPolygonArea(2, 6), 3.46410162},
		{"two sides", RegularPolygonArea(2, 2), 0},
		{"hexagon across corners", AcrossCorners(5.5, 6), 6.35085296}, // 5.5·2/√3 = 5.5·1.15470054
		{"square across corners", AcrossCorners(1, 4), math.Sqrt2},
		{"across two corners", AcrossCorners(1, 2), math.Inf(1)},
		{"triangle across flats", AcrossFlats(4, 3), 2}, // in-radius half the circumradius
		{"across two flats", AcrossFlats(4, 2), 0},
		{"square of side 2", PolygonRadius(2, 4), math.Sqrt2},
		{"hexagon of side 2", PolygonRadius(2, 6), 2},
		{"pair 2 apart", PolygonRadius(2, 2), 1},
		{"triangle on 1", PolygonSide(1, 3), 1.73205081},
		{"pair on 1", PolygonSide(1, 2), 2},
		{"one on 1", PolygonSide(1, 1), 0},
		{"one alone", PolygonRadius(2, 1), 0},
		{"cylinder", FrustumVolume(1, 1, 2), 6.28318531},
		{"cone", FrustumVolume(3, 0, 1), 9.42477796}, // π·9/3
		// π/3·3·(4+2+1) = 7π.
		{"frustum", FrustumVolume(2, 1, 3), 21.99114858},
		{"half ball of 3", CapVolume(3, 3), 56.54866776}, // 2/3·π·27 = 18π
		{"flat cap", CapVolume(3, 0), 0},
	} {
		if c.got != c.want && !(math.Abs(c.got-c.want) < 5e-9*(1+math.Abs(c.want))) {
			t.Errorf("%s: %.8f, want %.8f", c.name, c.got, c.want)
		}
	}
}

// The polygon as drawn has the area, the corners and the sides that the formulas tell.
func TestRegularPolygonAsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "n")
		flats := rapid.Float64Range(0.1, 50).Draw(t, "flats")
		l := RegularPolygon(r2.Point{X: 3, Y: -1}, flats, n, 0.3)
		a, b := l.Vertex(0).P, l.Vertex(1).P
		across := 2 * a.Sub(r2.Point{X: 3, Y: -1}).Norm()
		side := b.Sub(a).Norm()
		for _, c := range [][2]float64{
			{RegularPolygonArea(flats, n), l.Area()},
			{AcrossCorners(flats, n), across},
			{AcrossFlats(across, n), flats},
			{PolygonRadius(side, n), across / 2},
			{PolygonSide(across/2, n), side},
		} {
			if math.Abs(c[0]-c[1]) > 1e-9*(1+c[1]) {
				t.Fatalf("%v, drawn %v", c[0], c[1])
			}
		}
	})
}

// Slices of frustums make up a cap: the ball's radius R at the height z under its top is
// √(2Rz − z²), with R = (a²+h²)/2h.
func TestCapVolumeBySlices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.5, 5).Draw(t, "a")
		h := rapid.Float64Range(0.1, 1).Draw(t, "share") * a
		ball := (a*a + h*h) / (2 * h)
		at := func(z float64) float64 { return math.Sqrt(math.Max(0, 2*ball*z-z*z)) }
		const slices = 2000
		sum := 0.0
		for i := range slices {
			z := h * float64(i) / slices
			sum += FrustumVolume(at(z), at(z+h/slices), h/slices)
		}
		if got := CapVolume(a, h); math.Abs(got-sum) > 1e-5*got {
			t.Fatalf("%v, by slices %v", got, sum)
		}
	})
}
