package geom_test

import (
	"math"
	"math/big"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// exactTurn is the sign of the determinant in rational arithmetic.
func exactTurn(a, b, c r2.Point) int {
	r := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	sub := func(x, y float64) *big.Rat { return new(big.Rat).Sub(r(x), r(y)) }
	l := new(big.Rat).Mul(sub(a.X, c.X), sub(b.Y, c.Y))
	return l.Sub(l, new(big.Rat).Mul(sub(a.Y, c.Y), sub(b.X, c.X))).Sign()
}

// TestOrientIsExact: on points that lie on a line but for a few units in the last place.
func TestOrientIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := genPoint(10).Draw(t, "d")
		nudge := func(p r2.Point, name string) r2.Point {
			// Products of smaller numbers underflow, which is outside the promise.
			if math.Abs(p.X) < 1e-100 {
				p.X = 0
			}
			if math.Abs(p.Y) < 1e-100 {
				p.Y = 0
			}
			for range rapid.IntRange(0, 3).Draw(t, name) {
				if p.X != 0 {
					p.X = math.Nextafter(p.X, math.Copysign(1e9, p.X))
				}
			}
			return p
		}
		a := nudge(genPoint(1e3).Draw(t, "a"), "a")
		b := nudge(a.Add(d.Mul(rapid.Float64Range(-3, 3).Draw(t, "t"))), "b")
		c := nudge(a.Add(d.Mul(rapid.Float64Range(-3, 3).Draw(t, "u"))), "c")
		if got, want := geom.Orient(a, b, c), exactTurn(a, b, c); got != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
	})
}

func TestOrientByHand(t *testing.T) {
	if geom.Orient(pt(0, 0), pt(1, 0), pt(0, 1)) != 1 || geom.Orient(pt(0, 0), pt(0, 1), pt(1, 0)) != -1 {
		t.Error("left is +1, right is -1")
	}
	// Whatever 0.1, 0.2 and 0.3 are in binary, x equals y.
	if geom.Orient(pt(0.1, 0.1), pt(0.2, 0.2), pt(0.3, 0.3)) != 0 {
		t.Error("points of the diagonal are in line")
	}
	if geom.Orient(pt(math.NaN(), 0), pt(1, 0), pt(0, 1)) != 0 || geom.Orient(pt(math.Inf(1), 0), pt(1, 0), pt(0, 1)) != 0 {
		t.Error("no side of what is not a point")
	}
	if n := testing.AllocsPerRun(100, func() { geom.Orient(pt(0.1, 0.1), pt(0.2, 0.2), pt(0.3, 0.3)) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
