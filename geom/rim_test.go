package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

func TestRimPolygon(t *testing.T) {
	// A square about a circle of radius 1 has its corners √2 away.
	got := RimPolygon(r3.Vector{X: 5}, r3.Vector{Y: 1}, r3.Vector{Z: 1}, 1, 4)
	want := []r3.Vector{{X: 5, Y: math.Sqrt2}, {X: 5, Z: math.Sqrt2}, {X: 5, Y: -math.Sqrt2}, {X: 5, Z: -math.Sqrt2}}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		if got[i].Sub(want[i]).Norm() > 1e-12 {
			t.Errorf("%v, want %v", got[i], want[i])
		}
	}
	if got := RimPolygon(r3.Vector{}, r3.Vector{X: 1}, r3.Vector{Y: 1}, 1, 2); got != nil {
		t.Errorf("two sides give %v", got)
	}
	for _, p := range RimPolygon(r3.Vector{X: 2}, r3.Vector{X: 1}, r3.Vector{Y: 1}, 0, 3) {
		if p != (r3.Vector{X: 2}) {
			t.Errorf("no radius gives %v", p)
		}
	}
}

// In every direction the polygon reaches at least as far as the disc, and no farther than
// its corners lie out. The disc reaches r times the share of the direction that lies in its
// plane.
func TestRimPolygonHoldsTheDisc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-3, 3)
		vec := func(n string) r3.Vector {
			return r3.Vector{X: coord.Draw(t, n), Y: coord.Draw(t, n), Z: coord.Draw(t, n)}
		}
		c, normal, dir := vec("c"), vec("normal"), vec("dir")
		if normal.Norm() < 0.1 || dir.Norm() < 0.1 {
			t.Skip()
		}
		normal, dir = normal.Normalize(), dir.Normalize()
		u := normal.Ortho()
		v := normal.Cross(u)
		r := rapid.Float64Range(0, 20).Draw(t, "r")
		n := rapid.IntRange(3, 60).Draw(t, "n")
		reach := math.Inf(-1)
		for _, p := range RimPolygon(c, u, v, r, n) {
			if d := p.Sub(c); math.Abs(d.Dot(normal)) > 1e-9 {
				t.Fatalf("corner %v out of the plane", p)
			}
			reach = math.Max(reach, p.Sub(c).Dot(dir))
		}
		disc := r * dir.Cross(normal).Norm()
		if reach < disc-1e-9 || reach > disc/math.Cos(math.Pi/float64(n))+1e-9 {
			t.Fatalf("reaches %v, the disc %v", reach, disc)
		}
	})
}
