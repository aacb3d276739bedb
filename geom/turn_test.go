package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestTurn(t *testing.T) {
	for _, c := range []struct {
		from, to r2.Point
		want     float64
	}{
		{r2.Point{X: 2}, r2.Point{Y: 0.5}, 90},
		{r2.Point{X: 1}, r2.Point{Y: -3}, -90},
		{r2.Point{X: 1}, r2.Point{X: -1}, 180},
		{r2.Point{X: 1, Y: 1}, r2.Point{X: -1, Y: 1}, 90},
		{r2.Point{X: 1}, r2.Point{X: math.Sqrt(3), Y: 1}, 30}, // tan 30° = 1/√3
		{r2.Point{}, r2.Point{X: 1}, 0},
	} {
		if got := geom.Turn(c.from, c.to).Degrees(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("Turn(%v, %v) = %v°, want %v°", c.from, c.to, got, c.want)
		}
	}
	// A turn of 1e-9 must not drown: sin 1e-9 = 1e-9.
	if got := float64(geom.Turn(r2.Point{X: 1}, r2.Point{X: 1, Y: 1e-9})); math.Abs(got-1e-9) > 1e-22 {
		t.Errorf("small turn %v", got)
	}
}

// The turns at the corners of a simple loop and those of its arcs make one whole turn
// (Hopf's theorem of turning tangents).
func TestLoopTurnsOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "n")
		var pts []r2.Point
		var radii []float64
		for k := range n { // a star about the origin: simple whatever its radii
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			r := rapid.Float64Range(20, 60).Draw(t, "r")
			pts = append(pts, r2.Point{X: r * c, Y: r * s})
			radii = append(radii, rapid.SampledFrom([]float64{0, 0, 1}).Draw(t, "corner"))
		}
		l, err := geom.Polygon(pts, radii)
		if err != nil {
			t.Skip(err)
		}
		sum := 0.0
		for i, s := range l.Segs() {
			sum += l.Turn(i).Radians() + s.Sweep().Radians()
		}
		if math.Abs(sum-2*math.Pi) > 1e-9 {
			t.Fatalf("turns sum to %v", sum)
		}
	})
	if got := (geom.Loop{}).Turn(0); got != 0 {
		t.Errorf("empty loop turns by %v", got)
	}
}

func TestUpend(t *testing.T) {
	at := r3.Vector{X: 1, Y: 2, Z: 3}
	for _, axis := range []r3.Vector{{Z: 5}, {Z: -2}, {X: 1}, {X: -3, Y: 4, Z: 12}, {X: 1e-7, Z: -1}} {
		p := geom.Upend(axis, at)
		if got := p.Direction(r3.Vector{Z: axis.Norm()}).Sub(axis).Norm(); got > 1e-12*axis.Norm()+1e-15 {
			t.Errorf("axis %v is missed by %v", axis, got)
		}
		if p.Apply(r3.Vector{}) != at {
			t.Errorf("origin goes to %v", p.Apply(r3.Vector{}))
		}
		x, y, z := p.Direction(r3.Vector{X: 1}), p.Direction(r3.Vector{Y: 1}), p.Direction(r3.Vector{Z: 1})
		if d := x.Cross(y).Sub(z).Norm(); d > 1e-12 {
			t.Errorf("axis %v: not a right-handed turn, off by %v", axis, d)
		}
	}
	if got := geom.Upend(r3.Vector{}, at); got.Apply(r3.Vector{X: 1}) != (r3.Vector{X: 2, Y: 2, Z: 3}) {
		t.Error("a zero axis must only move")
	}
}

// Line3.Nearest against dense sampling: no sample is nearer, and the share names the point.
func TestLine3Nearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) r3.Vector {
			f := func() float64 {
				v := rapid.Float64Range(-50, 50).Draw(t, name)
				if rapid.Bool().Draw(t, "snap") {
					v = math.Round(v/10) * 10
				}
				return v
			}
			return r3.Vector{X: f(), Y: f(), Z: f()}
		}
		l, p := geom.Line3{A: draw("a"), B: draw("b")}, draw("p")
		q, share, dist := l.Nearest(p)
		if d := q.Sub(l.A.Add(l.B.Sub(l.A).Mul(share))).Norm(); d > 1e-11 {
			t.Fatalf("share %v does not name %v: off by %v", share, q, d)
		}
		if math.Abs(q.Sub(p).Norm()-dist) > 1e-12 {
			t.Fatalf("distance %v, point at %v", dist, q.Sub(p).Norm())
		}
		for i := range 101 {
			if d := l.A.Add(l.B.Sub(l.A).Mul(float64(i) / 100)).Sub(p).Norm(); d < dist-1e-11 {
				t.Fatalf("%v is nearer than %v", d, dist)
			}
		}
	})
}
