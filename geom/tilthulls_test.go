package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// All that a box sweeps lies in the cover, and the cover does not reach beyond the radius of
// the farthest corner by more than the tolerance.
func TestTiltHullsHoldTheSweep(t *testing.T) {
	const tol = 0.05
	var points []r3.Vector
	for _, x := range []float64{-6, 12} {
		for _, y := range []float64{-7, 7} {
			for _, z := range []float64{-5, 5} {
				points = append(points, r3.Vector{X: x, Y: y, Z: z})
			}
		}
	}
	lo, hi := -20*s1.Degree, 70*s1.Degree
	cover, err := TiltHulls(points, r3.Vector{}, r3.Vector{Y: -1}, lo, hi, tol)
	if err != nil {
		t.Fatal(err)
	}
	// ρ = 13 and 90° = 1.5708: a step of 2·acos(1 - 0.05/13) = 0.1755, so 9 steps.
	if len(cover) != 9 {
		t.Errorf("%d pieces, want 9", len(cover))
	}
	for k := range 181 {
		pose := Rotation3(r3.Vector{}, r3.Vector{Y: -1}, lo+(hi-lo)*s1.Angle(k)/180)
		for _, p := range points {
			least := math.Inf(1)
			spot, err := NewSphere(pose.Apply(p), 1e-9)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range cover {
				least = math.Min(least, SeparationBodies(c, spot))
			}
			if least > 1e-6 {
				t.Fatalf("%v at step %d lies %v outside the cover", p, k, least)
			}
		}
	}
	for _, c := range cover {
		for k := range 72 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 36)
			if p := c.Support(r3.Vector{X: cos, Z: sin}); math.Hypot(p.X, p.Z) > 13+tol+1e-9 {
				t.Fatalf("the cover reaches %v from the axis, more than 13.05", math.Hypot(p.X, p.Z))
			}
		}
	}
	for name, bad := range map[string]func() ([]Convex, error){
		"no tolerance": func() ([]Convex, error) { return TiltHulls(points, r3.Vector{}, r3.Vector{Y: 1}, lo, hi, 0) },
		"no axis":      func() ([]Convex, error) { return TiltHulls(points, r3.Vector{}, r3.Vector{}, lo, hi, tol) },
		"no angle": func() ([]Convex, error) {
			return TiltHulls(points, r3.Vector{}, r3.Vector{Y: 1}, s1.Angle(math.NaN()), hi, tol)
		},
	} {
		if _, err := bad(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
