package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// A triangle of sides 5 and 5 on a base of 6 is 4 high: a length of 10 between places 6 apart.
func TestSlackReach(t *testing.T) {
	for _, c := range []struct{ length, apart, want float64 }{{10, 6, 4}, {6, 6, 0}, {5, 6, 0}, {26, 10, 12}} {
		if got := geom.SlackReach(c.length, c.apart); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g over %g: %g, want %g", c.length, c.apart, got, c.want)
		}
	}
}

// With a bend of 6, a length of 8π: each quarter, 2π long, turns by π/3 and goes 6·(1 − 1/2) = 3
// aside, 6 in all. Of 12π + 40 each quarter turns by π/2, 6 aside, and goes on straight for 10: 32.
func TestBendReach(t *testing.T) {
	for _, c := range []struct{ length, bend, want float64 }{{8 * math.Pi, 6, 6}, {12*math.Pi + 40, 6, 32}, {0, 6, 0}, {-1, 6, 0}, {8, 0, 4}} {
		if got := geom.BendReach(c.length, c.bend); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g with a bend of %g: %g, want %g", c.length, c.bend, got, c.want)
		}
	}
}

// With a slack of 10 between places 6 apart the ellipsoid has half axes of 5 and 4: over a place, 3
// from the middle, it is 4·√(1 − 9/25) = 3.2. A bend of 1 holds a quarter of 2.5 to a quarter turn, π/2, and
// 2.5 − π/2 straight: 2·(1 + 2.5 − π/2) in all.
func TestSlackByHand(t *testing.T) {
	s := geom.Slack{A: r3.Vector{X: -3}, B: r3.Vector{X: 3}, Length: 10}
	for _, c := range []struct{ t0, t1, bend, want float64 }{
		{0, 0.1, 0, 4 * math.Sqrt(1-0.48*0.48)}, {0, 0, 0, 3.2}, {1, 1, 0, 3.2}, {0.4, 0.6, 0, 4}, {0, 1, 1, 7 - math.Pi},
	} {
		s.Bend = c.bend
		if got := s.Reach(c.t0, c.t1); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g to %g with a bend of %g: %g, want %g", c.t0, c.t1, c.bend, got, c.want)
		}
	}
	if got := (geom.Slack{}).Reach(0, 1); got != 0 {
		t.Errorf("the zero value reaches %g", got)
	}
}

// Whatever way a line takes between its places, no corner of it is farther aside than the
// reach at its share: chains of random corners, stretched to their own length.
func TestSlackHoldsAnyWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func() float64 { return rapid.Float64Range(-20, 20).Draw(t, "v") }
		s := geom.Slack{A: r3.Vector{X: f(), Y: f(), Z: f()}, B: r3.Vector{X: f(), Y: f(), Z: f()}}
		if s.A.Sub(s.B).Norm() < 1 {
			t.Skip("places together")
		}
		way := []r3.Vector{s.A}
		for range rapid.IntRange(1, 4).Draw(t, "corners") {
			way = append(way, r3.Vector{X: f(), Y: f(), Z: f()})
		}
		way = append(way, s.B)
		for i := 1; i < len(way); i++ {
			s.Length += way[i].Sub(way[i-1]).Norm()
		}
		u := s.B.Sub(s.A)
		for _, p := range way {
			share := p.Sub(s.A).Dot(u) / u.Dot(u)
			if share < 0 || share > 1 {
				continue // beside the ends; the reach is asked for between them
			}
			_, _, off := geom.Line3{A: s.A, B: s.B}.Nearest(p)
			if reach := s.Reach(share, share); off > reach+1e-6 { // √(2·40·1e-15): what the sum of lengths rounds off
				t.Fatalf("a corner at %g of the way is %g aside, reach %g", share, off, reach)
			}
		}
	})
}

func TestRoundEdge(t *testing.T) {
	for _, c := range [][3]float64{{5, 3, 4}, {3, 3, 0}, {2, 3, 0}, {5, 0, 5}} {
		if got := geom.RoundEdge(c[0], c[1]); math.Abs(got-c[2]) > 1e-12 {
			t.Errorf("RoundEdge(%g, %g) = %g, want %g", c[0], c[1], got, c[2])
		}
	}
}
