package geom

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

func TestEdgeCuts(t *testing.T) {
	line := func(x0, y0, x1, y1 float64) Seg {
		return Seg{A: r2.Point{X: x0, Y: y0}, B: r2.Point{X: x1, Y: y1}}
	}
	half := Seg{A: r2.Point{X: 5}, B: r2.Point{X: -5}, Bulge: 1} // upper half circle about 0
	for _, c := range []struct {
		name string
		a, b Seg
		want []float64
	}{
		{"lines", line(0, 0, 10, 0), line(2.5, -1, 2.5, 1), []float64{0.25}},
		{"lines that miss", line(0, 0, 10, 0), line(2.5, 1, 2.5, 2), nil},
		{"parallel lines", line(0, 0, 10, 0), line(0, 0, 10, 0), nil},
		// y = 3 meets the circle of radius 5 at x = ±4: shares of −10..10 are 0.3 and 0.7.
		{"line and arc", line(-10, 3, 10, 3), half, []float64{0.3, 0.7}},
		{"line below the arc", line(-10, -3, 10, -3), half, nil},
		// The y axis meets the half circle at its middle.
		{"arc and line", half, line(0, 0, 0, 10), []float64{0.5}},
		// Circles of radius 5 about 0 and about (5, 0) meet at (2.5, ±5·sin 60°); the upper
		// point is at 60° of 180°.
		{"arcs", half, Seg{A: r2.Point{X: 10}, B: r2.Point{X: 0}, Bulge: 1}, []float64{1.0 / 3}},
	} {
		a, b := EdgeOf(c.a), EdgeOf(c.b)
		got := a.Cuts(&b, nil)
		slices.Sort(got)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
			}
		}
	}
}

// Every cut of two random edges lies on both of them, and the parts between cuts add up to
// the whole.
func TestEdgeCutsLieOnBoth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-20, 20)
		seg := func(name string) Seg {
			return Seg{
				A:     r2.Point{X: coord.Draw(t, name), Y: coord.Draw(t, name)},
				B:     r2.Point{X: coord.Draw(t, name), Y: coord.Draw(t, name)},
				Bulge: rapid.SampledFrom([]float64{0, 0.4, -0.4, 1, -2}).Draw(t, name),
			}
		}
		s, o := seg("s"), seg("o")
		if s.A.Sub(s.B).Norm() < 0.1 || o.A.Sub(o.B).Norm() < 0.1 {
			t.Skip("too short to have a direction")
		}
		a, b := EdgeOf(s), EdgeOf(o)
		cuts := a.Cuts(&b, nil)
		for _, k := range cuts {
			p := s.At(math.Max(0, math.Min(1, k)))
			if _, _, d := o.Nearest(p); d > 1e-4 {
				t.Fatalf("the cut at %v is %v from the other edge", k, d)
			}
		}
		at := append([]float64{0, 1}, cuts...)
		slices.Sort(at)
		sum := 0.0
		for i := 0; i+1 < len(at); i++ {
			if at[i] >= 0 && at[i+1] <= 1 {
				sum += s.Part(at[i], at[i+1]).Length()
			}
		}
		if math.Abs(sum-s.Length()) > 1e-4 {
			t.Fatalf("parts add up to %v of %v", sum, s.Length())
		}
	})
}

// The right half of the circle of radius 5 about (1, 2), from (1, -3) up to (1, 7), has its
// extreme points at (6, 2) and at both ends; the line y = 2 meets it at (6, 2) and x = 4, 3 to the
// right of the centre, at 2 -/+ 4.
func TestEdgeOfHalfCircle(t *testing.T) {
	e := EdgeOf(Seg{A: r2.Point{X: 1, Y: -3}, B: r2.Point{X: 1, Y: 7}, Bulge: 1})
	near := func(p, q r2.Point) bool { return p.Sub(q).Norm() < 1e-9 }
	if got := e.Extremes(nil); len(got) != 3 || !near(got[0], r2.Point{X: 6, Y: 2}) {
		t.Errorf("extremes %v", got)
	}
	if got := e.MeetLine(r2.Point{X: -50, Y: 2}, r2.Point{X: 1}, nil); len(got) != 1 || !near(got[0], r2.Point{X: 6, Y: 2}) {
		t.Errorf("the level line meets it at %v", got)
	}
	if y, ok := e.LowestAt(4); !ok || math.Abs(y+2) > 1e-9 {
		t.Errorf("lowest at 4: %v %v, want -2", y, ok)
	}
	if _, ok := e.LowestAt(0); ok {
		t.Error("it has no point at x = 0")
	}
}

// The nearest point agrees with that of the segment, which is found in another way.
func TestEdgeNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-20, 20)
		s := Seg{
			A:     r2.Point{X: coord.Draw(t, "ax"), Y: coord.Draw(t, "ay")},
			B:     r2.Point{X: coord.Draw(t, "bx"), Y: coord.Draw(t, "by")},
			Bulge: rapid.SampledFrom([]float64{0, 0.4, -0.4, 1, -2}).Draw(t, "bulge"),
		}
		if s.A.Sub(s.B).Norm() < 0.1 {
			t.Skip("too short to have a direction")
		}
		p := r2.Point{X: coord.Draw(t, "px"), Y: coord.Draw(t, "py")}
		e := EdgeOf(s)
		share, d := e.Nearest(p)
		if _, _, want := s.Nearest(p); math.Abs(d-want) > 1e-9 {
			t.Fatalf("%v away, want %v", d, want)
		}
		if got := s.At(share).Sub(p).Norm(); math.Abs(got-d) > 1e-9 {
			t.Fatalf("the point at %v is %v away, not %v", share, got, d)
		}
	})
}
