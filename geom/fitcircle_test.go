package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

func TestFitCircle(t *testing.T) {
	c := r2.Point{X: 31, Y: -12}
	for _, k := range []struct {
		name string
		l    Loop
		r    float64 // of the circle found
		off  float64
	}{
		{"circle", Circle(c, 1.6), 1.6, 0},
		// Corners 5√2 and middles of sides 5 from the centre, in equal numbers: the mean of the squares is
		// (50 + 25)/2 = 37.5, radius 6.12; the corners lie 0.95 outside, the middles 1.12 inside.
		{"square", Rectangle(c, 10, 10), math.Sqrt(37.5), math.Sqrt(37.5) - 5},
		// A hexagon 10 across flats: corners at 10/√3, whose square is 100/3, middles of sides at 5.
		{"hexagon", RegularPolygon(c, 10, 6, 0), math.Sqrt((100.0/3 + 25) / 2), math.Sqrt((100.0/3+25)/2) - 5},
	} {
		at, r, off := FitCircle(k.l)
		if at.Sub(c).Norm() > 1e-9 || math.Abs(r-k.r) > 1e-9 || math.Abs(off-k.off) > 1e-9 {
			t.Errorf("%s: radius %v about %v, %v off; want %v about %v, %v off", k.name, r, at, off, k.r, c, k.off)
		}
	}
	if _, _, off := FitCircle(Loop{}); !math.IsInf(off, 1) {
		t.Errorf("the empty loop lies %v off a circle, want +Inf", off)
	}
}

// A circle drawn as arcs of unlike sweeps is found, wherever it lies; moved outwards at one
// joint it is off by about that.
func TestFitCircleOfArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := r2.Point{X: rapid.Float64Range(-500, 500).Draw(t, "x"), Y: rapid.Float64Range(-500, 500).Draw(t, "y")}
		r := rapid.Float64Range(0.2, 60).Draw(t, "r")
		cuts := rapid.SliceOfN(rapid.Float64Range(0.3, 1), 2, 9).Draw(t, "arcs")
		sum := 0.0
		for _, v := range cuts {
			sum += v
		}
		var vs []Vertex
		a := 0.0
		for _, v := range cuts {
			sweep := v / sum * 2 * math.Pi
			sn, cs := math.Sincos(a)
			vs = append(vs, Vertex{P: r2.Point{X: c.X + r*cs, Y: c.Y + r*sn}, Bulge: math.Tan(sweep / 4)})
			a += sweep
		}
		l, err := NewLoop(vs)
		if err != nil {
			t.Fatal(err)
		}
		at, got, off := FitCircle(l)
		if at.Sub(c).Norm() > 1e-9 || math.Abs(got-r) > 1e-9 || off > 1e-9 {
			t.Fatalf("radius %v about %v, %v off; want %v about %v", got, at, off, r, c)
		}
	})
}
