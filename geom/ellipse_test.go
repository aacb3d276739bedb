package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// An ellipse of half axes 4 and 2 round the origin holds (4, 0) and (0, 2), a quarter apart. A
// second one through both has its centre mirrored in the middle (2, 1) of the chord: (4, 2).
func TestEllipseThrough(t *testing.T) {
	a, b := r2.Point{X: 4}, r2.Point{Y: 2}
	for _, c := range []struct {
		large, ccw bool
		centre     r2.Point
		sweep      float64 // quarter turns
	}{
		{false, true, r2.Point{}, 1},
		{true, false, r2.Point{}, 3},
		{false, false, r2.Point{X: 4, Y: 2}, 1},
		{true, true, r2.Point{X: 4, Y: 2}, 3},
	} {
		e, t0, t1 := geom.EllipseThrough(a, b, 4, 2, 0, c.large, c.ccw)
		if e.C.Sub(c.centre).Norm() > 1e-12 || math.Abs(t1-t0-c.sweep*math.Pi/2) > 1e-12 {
			t.Errorf("large %v, ccw %v: centre %v over %v, want %v over %v quarters", c.large, c.ccw, e.C, t1-t0, c.centre, c.sweep)
		}
	}
	// Half axes 1 and 0.5 reach half of 8 mm when four times as long.
	e, _, _ := geom.EllipseThrough(r2.Point{X: -4}, r2.Point{X: 4}, 1, 0.5, 0, false, true)
	if e.C.Norm() > 1e-12 || math.Abs(e.U.Norm()-4) > 1e-12 || math.Abs(e.V.Norm()-2) > 1e-12 {
		t.Errorf("enlarged: %+v", e)
	}
}

func TestEllipseThroughMeetsItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-50, 50)
		a, b := r2.Point{X: f.Draw(t, "ax"), Y: f.Draw(t, "ay")}, r2.Point{X: f.Draw(t, "bx"), Y: f.Draw(t, "by")}
		if a.Sub(b).Norm() < 0.1 {
			t.Skip("one point")
		}
		h := rapid.Float64Range(1, 60)
		large, ccw := rapid.Bool().Draw(t, "large"), rapid.Bool().Draw(t, "ccw")
		e, t0, t1 := geom.EllipseThrough(a, b, h.Draw(t, "rx"), h.Draw(t, "ry"), s1.Angle(f.Draw(t, "turn")), large, ccw)
		p, _ := e.At(t0)
		q, _ := e.At(t1)
		if p.Sub(a).Norm() > 1e-5 || q.Sub(b).Norm() > 1e-5 {
			t.Fatalf("from %v to %v, want %v to %v", p, q, a, b)
		}
		if s := t1 - t0; math.Abs(s-math.Pi) > 1e-6 && (s > math.Pi) != large {
			t.Fatalf("turns by %v, large %v", s, large)
		}
		if turn := geom.Turn(e.U, e.V); (turn > 0) != ccw {
			t.Fatalf("axes turn by %v, ccw %v", turn, ccw)
		}
		// The arcs hold to the curve: in the frame of the half axes it is the unit circle.
		det := e.U.X*e.V.Y - e.U.Y*e.V.X
		least := math.Min(e.U.Norm(), e.V.Norm())
		end := p
		for s := range e.Arcs(t0, t1, 0.01) {
			if s.A.Sub(end).Norm() > 1e-9 {
				t.Fatalf("a gap at %v", end)
			}
			end = s.B
			for k := range 5 {
				d := s.At(float64(k) / 4).Sub(e.C)
				x, y := (d.X*e.V.Y-d.Y*e.V.X)/det, (e.U.X*d.Y-e.U.Y*d.X)/det
				if off := math.Abs(math.Hypot(x, y)-1) * least; off > 0.011 {
					t.Fatalf("%v lies %v off", s, off)
				}
			}
		}
		if end.Sub(q).Norm() > 1e-9 {
			t.Fatalf("the arcs end at %v, want %v", end, q)
		}
	})
}

// A clockwise quarter of radius 2 round (1, 1) from (3, 1) to (1, -1): the second half
// diameter points down, where it ends.
func TestArcEllipse(t *testing.T) {
	e, sweep := geom.ArcEllipse(geom.Seg{A: r2.Point{X: 3, Y: 1}, B: r2.Point{X: 1, Y: -1}, Bulge: 1 - math.Sqrt2})
	if e.C.Sub(r2.Point{X: 1, Y: 1}).Norm() > 1e-12 || e.U.Sub(r2.Point{X: 2}).Norm() > 1e-12 ||
		e.V.Sub(r2.Point{Y: -2}).Norm() > 1e-12 || math.Abs(sweep-math.Pi/2) > 1e-12 || !e.IsCircle() {
		t.Errorf("%+v over %v", e, sweep)
	}
	if (geom.Ellipse{U: r2.Point{X: 2}, V: r2.Point{Y: 2.001}}).IsCircle() {
		t.Error("half axes of 2 and 2.001 make no circle")
	}
}

// Half diameters (1, 1) and (-1, 1) stretched by 2 along x: (2, 1) and (-2, 1) are as long as
// each other, so that the main axes lie half way between, at t = ±45°: (0, √2) and (2√2, 0).
func TestMainAxis(t *testing.T) {
	e := geom.Ellipse{U: r2.Point{X: 2, Y: 1}, V: r2.Point{X: -2, Y: 1}}
	p, d := e.At(e.MainAxis())
	if math.Abs(p.Dot(d)) > 1e-12 || math.Min(math.Abs(p.Norm()-math.Sqrt2), math.Abs(p.Norm()-2*math.Sqrt2)) > 1e-12 {
		t.Errorf("main axis ends at %v", p)
	}
}
