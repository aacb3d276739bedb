package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// A line of 10 mm cut at 6, 2 and 2 mm: pieces from 0 to 2, to 6 and to 10.
func TestPieces(t *testing.T) {
	e := geom.EdgeOf(geom.Seg{B: r2.Point{X: 10}})
	want := [][3]float64{{0, 1, 2}, {2, 4, 6}, {6, 8, 10}}
	n := 0
	for mid, s := range e.Pieces([]float64{0.6, 0.2, 0.2}) {
		if n == len(want) {
			t.Fatal("too many pieces")
		}
		for i, x := range [3]float64{s.A.X, mid.X, s.B.X} {
			if math.Abs(x-want[n][i]) > 1e-12 {
				t.Errorf("piece %d: %v, want %v", n, x, want[n][i])
			}
		}
		n++
	}
	if n != 3 {
		t.Errorf("%d pieces, want 3", n)
	}
}

func TestPiecesMakeTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := geom.Seg{B: r2.Point{X: 20}, Bulge: rapid.Float64Range(-1, 1).Draw(t, "bulge")}
		cuts := rapid.SliceOfN(rapid.Float64Range(0, 1), 0, 6).Draw(t, "cuts")
		e := geom.EdgeOf(s)
		sum := 0.0
		for mid, p := range e.Pieces(cuts) {
			sum += p.Length()
			if d := p.At(0.5).Sub(mid).Norm(); d > 1e-9 {
				t.Fatalf("the middle of %v lies %v off", p, d)
			}
		}
		if math.Abs(sum-s.Length()) > 1e-7*7*s.Length() {
			t.Fatalf("pieces of %v in all, want %v", sum, s.Length())
		}
	})
}

// From (1, 1) along (0.6, 0.8), left is (-0.8, 0.6): (1-1.6+0.6·5, 1+1.2+0.8·5) lies 5 along
// and 2 to the left.
func TestAxisCoords(t *testing.T) {
	a := geom.Axis{P: r2.Point{X: 1, Y: 1}, U: r2.Point{X: 0.6, Y: 0.8}}
	q := r2.Point{X: 2.4, Y: 6.2}
	if x, y := a.Coords(q); math.Abs(x-5) > 1e-12 || math.Abs(y-2) > 1e-12 {
		t.Errorf("%v along, %v left", x, y)
	}
	if p := a.At(5, 2); p.Sub(q).Norm() > 1e-12 {
		t.Errorf("at 5, 2: %v", p)
	}
}

// Across a circle of radius 5 at 3 mm from its centre the half chord is 4 mm. Without
// edges the axis is free both ways.
func TestAxisSpan(t *testing.T) {
	var edges []geom.Edge
	for _, s := range geom.Circle(r2.Point{}, 5).Segs() {
		edges = append(edges, geom.EdgeOf(s))
	}
	a := geom.Axis{P: r2.Point{X: 3, Y: 1}, U: r2.Point{Y: 1}}
	if lo, hi := a.Span(edges); math.Abs(lo+5) > 1e-12 || math.Abs(hi-3) > 1e-12 {
		t.Errorf("from %v to %v, want -5 to 3", lo, hi)
	}
	if lo, hi := a.Span(nil); !math.IsInf(lo, -1) || !math.IsInf(hi, 1) {
		t.Errorf("from %v to %v, want no bounds", lo, hi)
	}
}

func TestAxisSpanIsAChord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(-3, 3).Draw(t, "x"), rapid.Float64Range(-3, 3).Draw(t, "y")
		sn, cs := math.Sincos(rapid.Float64Range(0, 7).Draw(t, "turn"))
		var edges []geom.Edge
		for _, s := range geom.Circle(r2.Point{}, 5).Segs() {
			edges = append(edges, geom.EdgeOf(s))
		}
		a := geom.Axis{P: r2.Point{X: x, Y: y}, U: r2.Point{X: cs, Y: sn}}
		lo, hi := a.Span(edges)
		// The power of a point: the product of both parts of a chord is r² - d².
		if want := 25 - x*x - y*y; math.Abs(-lo*hi-want) > 1e-9 {
			t.Fatalf("%v times %v, want %v", -lo, hi, want)
		}
		if q := a.At(hi, 0); math.Abs(q.Norm()-5) > 1e-9 {
			t.Fatalf("%v does not lie on the circle", q)
		}
	})
}
