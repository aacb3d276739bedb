package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// The tangent of a quarter of a half turn is 1, of a quarter turn tan 22.5° = √2 - 1. A chord of
// the radius spans 60°: tan 15° = 2 - √3.
func TestBulges(t *testing.T) {
	for name, c := range map[string][2]float64{
		"half a turn":          {geom.BulgeOf(math.Pi), 1},
		"a quarter, clockwise": {geom.BulgeOf(-math.Pi / 2), 1 - math.Sqrt2},
		"half of a half turn":  {geom.PartBulge(1, 0.5), math.Sqrt2 - 1},
		"part of a line":       {geom.PartBulge(0, 0.3), 0},
		"chord of the radius":  {geom.ChordBulge(5, 5), 2 - math.Sqrt(3)},
		"a diameter":           {geom.ChordBulge(10, 5), 1},
		"too short a radius":   {geom.ChordBulge(11, 5), 1},
	} {
		if math.Abs(c[0]-c[1]) > 1e-15 {
			t.Errorf("%s: %v, want %v", name, c[0], c[1])
		}
	}
}

func TestBulgesAgreeWithTheArc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := geom.Seg{B: r2.Point{X: rapid.Float64Range(1, 100).Draw(t, "chord")}, Bulge: rapid.Float64Range(1e-3, 1).Draw(t, "bulge")}
		if b := geom.ChordBulge(s.B.X, s.Radius()); math.Abs(b-s.Bulge) > 1e-6 {
			t.Fatalf("bulge %v over the chord, want %v", b, s.Bulge)
		}
		if b := geom.BulgeOf(s.Sweep()); math.Abs(b-s.Bulge) > 1e-14 {
			t.Fatalf("bulge %v of the sweep, want %v", b, s.Bulge)
		}
		share := rapid.Float64Range(0.1, 1).Draw(t, "share")
		part := geom.Seg{A: s.A, B: s.At(share), Bulge: geom.PartBulge(s.Bulge, share)}
		if math.Abs(part.Radius()-s.Radius()) > 1e-9*s.Radius() {
			t.Fatalf("part of radius %v, want %v", part.Radius(), s.Radius())
		}
	})
}

// A square of radius 5 round (1, 2), its first corner at 30°, with its corners moved along x
// by d, -d, d, -d: the moves cancel in the mean and, turned back by 0, 90, 180 and 270°, in
// the radius as well.
func TestFitRegular(t *testing.T) {
	const d = 0.2
	var pts []r2.Point
	for k := range 4 {
		sn, cs := math.Sincos(math.Pi/6 + float64(k)*math.Pi/2)
		pts = append(pts, r2.Point{X: 1 + 5*cs + d*float64(1-2*(k%2)), Y: 2 + 5*sn})
	}
	c, r, turn := geom.FitRegular(pts)
	if c.Sub(r2.Point{X: 1, Y: 2}).Norm() > 1e-12 || math.Abs(r-5) > 1e-12 || math.Abs(turn.Degrees()-30) > 1e-9 {
		t.Errorf("centre %v, radius %v, turn %v", c, r, turn)
	}
	if c, r, turn := geom.FitRegular(nil); c != (r2.Point{}) || r != 0 || turn != 0 {
		t.Errorf("of nothing: %v %v %v", c, r, turn)
	}
}

// No small change of the fit lowers the sum of the squares.
func TestFitRegularIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 8).Draw(t, "n")
		f := rapid.Float64Range(-0.5, 0.5)
		var pts []r2.Point
		for k := range n {
			sn, cs := math.Sincos(1 + float64(k)*2*math.Pi/float64(n))
			pts = append(pts, r2.Point{X: 10*cs + f.Draw(t, "x"), Y: 10*sn + f.Draw(t, "y")})
		}
		sum := func(c r2.Point, r float64, turn s1.Angle) float64 {
			all := 0.0
			for k, p := range pts {
				sn, cs := math.Sincos(turn.Radians() + float64(k)*2*math.Pi/float64(n))
				d := p.Sub(c).Sub(r2.Point{X: r * cs, Y: r * sn})
				all += d.Dot(d)
			}
			return all
		}
		c, r, turn := geom.FitRegular(pts)
		best := sum(c, r, turn)
		for _, h := range []float64{-1e-3, 1e-3} {
			for i, s := range []float64{sum(c.Add(r2.Point{X: h}), r, turn), sum(c.Add(r2.Point{Y: h}), r, turn), sum(c, r+h, turn), sum(c, r, turn+s1.Angle(h))} {
				if s < best-1e-12 {
					t.Fatalf("change %d by %v lowers %v to %v", i, h, best, s)
				}
			}
		}
	})
}
