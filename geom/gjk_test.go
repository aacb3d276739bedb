package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

func xyz(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// mustConvex takes the result of a constructor.
func mustConvex(t rapid.TB, c Convex, err error) *convex {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return c.c
}

// boxAt returns the box of the given sides about a point.
func boxAt(t rapid.TB, size, at r3.Vector) *convex {
	t.Helper()
	c, err := NewBox(size, Pose3{T: at})
	return mustConvex(t, c, err)
}

func TestNearestOnSegment(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b r3.Vector
		v    r3.Vector
		t    float64
	}{
		// The foot of the origin on x + y = 2 is (1, 1), a quarter of the way from (2, 0) to (-2, 4).
		{"within", xyz(2, 0, 0), xyz(-2, 4, 0), xyz(1, 1, 0), 0.25},
		{"before a", xyz(1, 1, 0), xyz(3, 2, 0), xyz(1, 1, 0), 0},
		{"beyond b", xyz(3, 2, 0), xyz(1, 1, 0), xyz(1, 1, 0), 1},
		{"no length", xyz(1, 2, 3), xyz(1, 2, 3), xyz(1, 2, 3), 0},
		{"through the origin", xyz(-1, -2, -3), xyz(3, 6, 9), xyz(0, 0, 0), 0.25},
		// A needle of 2e6 mm beside the origin: its foot is exact however long it is.
		{"needle", xyz(-1e6, 1e-6, 0), xyz(1e6, 1e-6, 0), xyz(0, 1e-6, 0), 0.5},
	} {
		v, s := nearestOnSegment(c.a, c.b)
		if v.Sub(c.v).Norm() > 1e-12 || math.Abs(s-c.t) > 1e-12 {
			t.Errorf("%s: %v at %v, want %v at %v", c.name, v, s, c.v, c.t)
		}
	}
}

func TestNearestOnTriangle(t *testing.T) {
	for _, c := range []struct {
		name    string
		a, b, c r3.Vector
		v       r3.Vector
	}{
		// In the plane z = 2 over the origin; in x + y + z = 3, whose foot is (1, 1, 1).
		{"inside", xyz(-1, -1, 2), xyz(3, -1, 2), xyz(-1, 3, 2), xyz(0, 0, 2)},
		{"aslant", xyz(3, 0, 0), xyz(0, 3, 0), xyz(0, 0, 3), xyz(1, 1, 1)},
		{"edge a b", xyz(-2, 1, 0), xyz(2, 1, 0), xyz(0, 5, 0), xyz(0, 1, 0)},
		{"edge a c", xyz(-2, 1, 0), xyz(0, 5, 0), xyz(2, 1, 0), xyz(0, 1, 0)},
		{"corner a", xyz(1, 1, 1), xyz(2, 1, 1), xyz(1, 2, 1), xyz(1, 1, 1)},
		{"the origin in it", xyz(-1, -1, 0), xyz(3, -1, 0), xyz(-1, 3, 0), xyz(0, 0, 0)},
		// No area: all on one line, and all one point.
		{"a line", xyz(-2, 3, 0), xyz(1, 3, 0), xyz(4, 3, 0), xyz(0, 3, 0)},
		{"a point", xyz(1, 2, 2), xyz(1, 2, 2), xyz(1, 2, 2), xyz(1, 2, 2)},
	} {
		f := nearestOnTriangle(c.a, c.b, c.c)
		at := c.a.Mul(f.l[0]).Add(c.b.Mul(f.l[1])).Add(c.c.Mul(f.l[2]))
		if f.v.Sub(c.v).Norm() > 1e-12 || at.Sub(c.v).Norm() > 1e-12 || math.Abs(f.d2-c.v.Norm2()) > 1e-12 {
			t.Errorf("%s: %v, by weights %v, squared %v; want %v", c.name, f.v, at, f.d2, c.v)
		}
	}
}

// TestSearchByHand: distances of cores, and how the search ends.
func TestSearchByHand(t *testing.T) {
	cube := boxAt(t, xyz(2, 2, 2), r3.Vector{})
	point := func(p r3.Vector) *convex {
		c, err := NewSphere(p, 0)
		return mustConvex(t, c, err)
	}
	for _, c := range []struct {
		name string
		a, b *convex
		want float64
		meet bool
	}{
		// Half sides 1 and 1: parallel faces 5 - 2 apart, then corners 1, 2 and 2 apart.
		{"parallel faces", cube, boxAt(t, xyz(2, 2, 2), xyz(5, 0.3, -0.2)), 3, false},
		{"corners", cube, boxAt(t, xyz(2, 2, 2), xyz(3, 4, 4)), 3, false},
		{"identical", cube, cube, 0, true},
		{"faces that touch", cube, boxAt(t, xyz(2, 2, 2), xyz(2, 0, 0)), 0, true},
		{"corners that touch", cube, boxAt(t, xyz(2, 2, 2), xyz(2, 2, 2)), 0, true},
		{"points", point(xyz(1, 2, 3)), point(xyz(4, 6, 3)), 5, false},
		{"one point", point(xyz(1, 2, 3)), point(xyz(1, 2, 3)), 0, true},
		{"a point on a corner", cube, point(xyz(1, 1, 1)), 0, true},
		{"a point over a face", cube, point(xyz(0.5, 0.5, 4)), 3, false},
		// Needles of 1000 mm, a thousandth thick, that pass each other at 0.01 less half of both.
		{"needles", boxAt(t, xyz(1000, 1e-3, 1e-3), r3.Vector{}), boxAt(t, xyz(1e-3, 1000, 1e-3), xyz(0, 0, 0.01)), 0.009, false},
		// Far out the frame of the first keeps all digits: 10 m away, 1e-3 between the faces.
		{"far out", boxAt(t, xyz(2, 2, 2), xyz(1e4, 1e4, 1e4)), boxAt(t, xyz(2, 2, 2), xyz(1e4+2.001, 1e4, 1e4)), 1e-3, false},
	} {
		m := differenceOf(c.a, c.b)
		v, p, low, how := m.nearest()
		if c.meet {
			// Where they only touch, rounding decides whether the search says that they meet.
			if n := v.Norm(); n > 1e-9 {
				t.Errorf("%s: %v apart, outcome %d", c.name, n, how)
			}
			continue
		}
		if n := v.Norm(); how != cameApart || math.Abs(n-c.want) > 1e-8 || low > n+1e-12 || n-low > gjkGap {
			t.Errorf("%s: distance %v, at least %v, outcome %d; want %v", c.name, n, low, how, c.want)
		}
		// p is a point of a: no direction reaches less far than it.
		for _, u := range [6]r3.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}} {
			if h := c.a.support(u).Dot(u); p.Dot(u) > h+1e-9 {
				t.Errorf("%s: the point %v lies %v outside of a", c.name, p, p.Dot(u)-h)
			}
		}
	}
}

// drawCloud draws a hull of up to 5 points, half of them on a grid, so flat, thin and single ones too.
func drawCloud(t *rapid.T, name string, reach float64) ([]r3.Vector, *convex) {
	n := rapid.IntRange(1, 5).Draw(t, name)
	at := xyz(number(t, name+" x"), number(t, name+" y"), number(t, name+" z")).Mul(0.5)
	pts := make([]r3.Vector, n)
	for i := range pts {
		pts[i] = xyz(number(t, "x"), number(t, "y"), number(t, "z")).Mul(reach).Add(at)
	}
	c, err := NewHull(pts)
	return pts, mustConvex(t, c, err)
}

// apart3 returns the distance of the origin from the triangle a b c, by the six ways to
// have a nearest point: along the plane's normal or on an edge.
func apart3(a, b, c r3.Vector) float64 {
	best := math.Inf(1)
	for _, e := range [3][2]r3.Vector{{a, b}, {b, c}, {c, a}} {
		u := e[1].Sub(e[0])
		s := 0.0
		if n := u.Norm2(); n > 0 {
			s = max(0, min(1, -e[0].Dot(u)/n))
		}
		best = min(best, e[0].Add(u.Mul(s)).Norm())
	}
	n := b.Sub(a).Cross(c.Sub(a))
	if n.Norm2() == 0 {
		return best
	}
	n = n.Normalize()
	foot := n.Mul(n.Dot(a))
	in := func(p, q r3.Vector) bool { return q.Sub(p).Cross(foot.Sub(p)).Dot(n) >= 0 }
	if in(a, b) && in(b, c) && in(c, a) {
		best = min(best, foot.Norm())
	}
	return best
}

// TestSearchAgainstTwin: two hulls of points by all triangles of the differences of their points. These
// triangles lie in the difference and its surface consists of some of them, so that the least of
// their distances is that of the hulls if they are apart.
func TestSearchAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, a := drawCloud(t, "a", 1)
		q, b := drawCloud(t, "b", 1)
		var w []r3.Vector
		for i := range p {
			for j := range q {
				w = append(w, p[i].Sub(q[j]))
			}
		}
		want := math.Inf(1)
		for i := range w {
			for j := i; j < len(w); j++ {
				for k := j; k < len(w); k++ {
					want = min(want, apart3(w[i], w[j], w[k]))
				}
			}
		}
		m := differenceOf(a, b)
		v, _, low, how := m.nearest()
		flip := differenceOf(b, a)
		back, _, _, howBack := flip.nearest()
		switch {
		case how == cameTogether:
			// A plane between them would refute it: every direction must reach the origin.
			for _, u := range w {
				if d, _ := unit(u); d != (r3.Vector{}) {
					h := math.Inf(-1)
					for _, x := range w {
						h = max(h, x.Dot(d))
					}
					if h < -1e-9 {
						t.Fatalf("they meet, but along %v all lies %v before the origin", d, h)
					}
				}
			}
		case math.Abs(v.Norm()-want) > 1e-7 || low > want+1e-9:
			t.Fatalf("distance %v, at least %v, want %v", v.Norm(), low, want)
		}
		if how == cameApart && howBack == cameApart && math.Abs(v.Norm()-back.Norm()) > 2*gjkGap {
			t.Fatalf("distance %v, exchanged %v", v.Norm(), back.Norm())
		}
	})
}
