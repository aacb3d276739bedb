package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

// samePoint reports whether two points lie within 1e-9 mm of each other.
func samePoint(p, q r2.Point) bool { return dist(p, q) <= 1e-9 }

func TestSegNearest(t *testing.T) {
	half := Seg{A: r2.Point{X: 5}, B: r2.Point{X: -5}, Bulge: 1}  // upper half circle of radius 5 about the origin
	line := Seg{A: r2.Point{X: 1, Y: 1}, B: r2.Point{X: 5, Y: 4}} // 3-4-5
	for _, c := range []struct {
		s    Seg
		p, q r2.Point
		t, d float64
	}{
		// (0,6)-(1,1) is (-1,5): along (0.8,0.6) it is 2.2 of 5, across 0.6+4 = 4.6.
		{line, r2.Point{X: 0, Y: 6}, r2.Point{X: 2.76, Y: 2.32}, 0.44, 4.6},
		{line, r2.Point{X: 1, Y: -1}, r2.Point{X: 1, Y: 1}, 0, 2},
		{line, r2.Point{X: 8, Y: 8}, r2.Point{X: 5, Y: 4}, 1, 5},
		// Radially on the 3-4-5 triangle; the angle from A is atan2(4,3) of half a turn.
		{half, r2.Point{X: 6, Y: 8}, r2.Point{X: 3, Y: 4}, math.Atan2(4, 3) / math.Pi, 5},
		{half, r2.Point{X: 0, Y: 2}, r2.Point{X: 0, Y: 5}, 0.5, 3},
		{half, r2.Point{X: 5, Y: -12}, r2.Point{X: 5, Y: 0}, 0, 12},
		{half, r2.Point{X: -8, Y: -4}, r2.Point{X: -5, Y: 0}, 1, 5},
		{half, r2.Point{}, r2.Point{X: 5}, 0, 5}, // from the centre all are nearest
		{Seg{A: r2.Point{X: 1}, B: r2.Point{X: 1}}, r2.Point{X: 4, Y: 4}, r2.Point{X: 1}, 0, 5},
	} {
		q, at, d := c.s.Nearest(c.p)
		if !samePoint(q, c.q) || math.Abs(at-c.t) > 1e-12 || math.Abs(d-c.d) > 1e-12 {
			t.Errorf("%v from %v: %v at %v, %v off; want %v at %v, %v off", c.s, c.p, q, at, d, c.q, c.t, c.d)
		}
	}
	if _, _, d := line.Nearest(r2.Point{X: math.NaN()}); !math.IsInf(d, 1) {
		t.Errorf("the distance of no point is %v, want +Inf", d)
	}
}

// A point of a segment is nearest to itself, at its own share; no sample of the segment is
// nearer to any other point than Nearest says.
func TestSegNearestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.OneOf(rapid.Map(rapid.IntRange(-20, 20), func(i int) float64 { return float64(i) / 2 }), rapid.Float64Range(-10, 10))
		point := func(name string) r2.Point { return r2.Point{X: coord.Draw(t, name+"x"), Y: coord.Draw(t, name+"y")} }
		s := Seg{A: point("a"), B: point("b"), Bulge: rapid.SampledFrom([]float64{0, 1e-6, 0.2, 0.5, 1, 2.5, -0.3, -1, -4}).Draw(t, "bulge")}
		if s.chord() < 0.1 {
			t.Skip("too short")
		}
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		on := s.At(share)
		if q, at, d := s.Nearest(on); d > 1e-9 || dist(s.At(at), q) > 1e-9 || math.Abs(at-share)*s.Length() > 1e-7 {
			t.Fatalf("%v: its point %v at %v is found at %v, %v off", s, on, share, at, d)
		}
		p := point("p")
		q, at, d := s.Nearest(p)
		if dist(s.At(at), q) > 1e-9 || math.Abs(dist(p, q)-d) > 1e-9 {
			t.Fatalf("%v from %v: %v at %v is %v off, not %v", s, p, q, at, dist(p, q), d)
		}
		for k := range 101 {
			if e := dist(s.At(float64(k)/100), p); e < d-1e-9 {
				t.Fatalf("%v from %v: share %v is %v off, less than %v", s, p, float64(k)/100, e, d)
			}
		}
	})
}

func TestSegMeet(t *testing.T) {
	level := func(y float64) Seg { return Seg{A: r2.Point{X: -9, Y: y}, B: r2.Point{X: 9, Y: y}} }
	upper := Seg{A: r2.Point{X: 5}, B: r2.Point{X: -5}, Bulge: 1}
	for name, c := range map[string]struct {
		s, o Seg
		want []r2.Point
	}{
		"lines cross":          {level(1), Seg{A: r2.Point{X: 2, Y: -3}, B: r2.Point{X: 2, Y: 5}}, []r2.Point{{X: 2, Y: 1}}},
		"lines miss":           {level(1), Seg{A: r2.Point{X: 2, Y: 3}, B: r2.Point{X: 2, Y: 5}}, nil},
		"an end on a line":     {level(1), Seg{A: r2.Point{X: 2, Y: 1}, B: r2.Point{X: 2, Y: 5}}, []r2.Point{{X: 2, Y: 1}}},
		"lines run together":   {level(1), Seg{A: r2.Point{X: 8, Y: 1}, B: r2.Point{X: 12, Y: 1}}, []r2.Point{{X: 8, Y: 1}, {X: 9, Y: 1}}},
		"a line cuts an arc":   {level(4), upper, []r2.Point{{X: -3, Y: 4}, {X: 3, Y: 4}}},
		"below the arc":        {level(-4), upper, nil},
		"a tangent":            {level(5), upper, []r2.Point{{X: 0, Y: 5}}},
		"through both ends":    {level(0), upper, []r2.Point{{X: -5}, {X: 5}}},
		"circles on 3-4-5":     {upper, Seg{A: r2.Point{X: 11}, B: r2.Point{X: 1}, Bulge: 1}, []r2.Point{{X: 3, Y: 4}}},
		"arcs touch outside":   {upper, Seg{A: r2.Point{X: 5, Y: 10}, B: r2.Point{X: -5, Y: 10}, Bulge: -1}, []r2.Point{{X: 0, Y: 5}}},
		"one circle, quarters": {Seg{A: r2.Point{X: 5}, B: r2.Point{Y: 5}, Bulge: math.Sqrt2 - 1}, upper, []r2.Point{{X: 0, Y: 5}, {X: 5}}},
	} {
		for range 2 { // and the other way round
			got := c.s.Meet(c.o, 0, nil)
			if len(got) != len(c.want) {
				t.Errorf("%s: %v, want %v", name, got, c.want)
			}
			for _, w := range c.want {
				found := false
				for _, g := range got {
					found = found || samePoint(g, w)
				}
				if !found {
					t.Errorf("%s: %v lacks %v", name, got, w)
				}
			}
			c.s, c.o = c.o, c.s
		}
	}
}

func TestLoopSupportAndFacing(t *testing.T) {
	slot := Capsule(r2.Point{X: -4}, r2.Point{X: 4}, 6) // round ends of radius 3
	for _, c := range []struct{ dir, a, b r2.Point }{
		{r2.Point{X: 2}, r2.Point{X: 7}, r2.Point{X: 7}},
		{r2.Point{Y: 1}, r2.Point{X: 4, Y: 3}, r2.Point{X: -4, Y: 3}}, // the upper side
		// Along (3,4)/5: the centre (4,0) and 3 mm more.
		{r2.Point{X: 3, Y: 4}, r2.Point{X: 5.8, Y: 2.4}, r2.Point{X: 5.8, Y: 2.4}},
	} {
		a, b := slot.Facing(c.dir, 1e-9)
		if !samePoint(a, c.a) || !samePoint(b, c.b) {
			t.Errorf("facing %v: %v to %v, want %v to %v", c.dir, a, b, c.a, c.b)
		}
		if p := slot.Support(c.dir); math.Abs(p.Dot(c.dir)-c.a.Dot(c.dir)) > 1e-9 {
			t.Errorf("support along %v is %v", c.dir, p)
		}
	}
	// A side that leans by 0.01 mm faces along x with that slack, and by its corner without.
	lean, err := Polygon([]r2.Point{{}, {X: 5}, {X: 4.99, Y: 2}, {Y: 2}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := lean.Facing(r2.Point{X: 1}, 0.02); !samePoint(a, r2.Point{X: 5}) || !samePoint(b, r2.Point{X: 4.99, Y: 2}) {
		t.Errorf("the leaning side runs from %v to %v", a, b)
	}
	if a, b := lean.Facing(r2.Point{X: 1}, 0.005); !samePoint(a, b) || !samePoint(a, r2.Point{X: 5}) {
		t.Errorf("the leading corner is %v to %v", a, b)
	}
}
