package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

// number draws from ±8, half of the time from whole numbers.
func number(t *rapid.T, name string) float64 {
	if rapid.Bool().Draw(t, "grid") {
		return float64(rapid.IntRange(-8, 8).Draw(t, name))
	}
	return rapid.Float64Range(-8, 8).Draw(t, name)
}

// drawSeg draws a line or an arc of any sweep, shallow ones among them.
func drawSeg(t *rapid.T, name string) Seg {
	s := Seg{A: r2.Point{X: number(t, name+" ax"), Y: number(t, name+" ay")}}
	s.B = r2.Point{X: number(t, name+" bx"), Y: number(t, name+" by")}
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
	case 1:
		s.Bulge = rapid.SampledFrom([]float64{1, -1, quarterBulge, -quarterBulge, 3}).Draw(t, "bulge")
	case 2:
		s.Bulge = rapid.Float64Range(-3, 3).Draw(t, "bulge")
	default:
		s.Bulge = math.Pow(10, rapid.Float64Range(-9, -1).Draw(t, "log bulge"))
	}
	if s.chord() <= Coincident {
		s.B.X += 1
	}
	return s
}

// segDistance is the closed form over the pieces of both segments, without a tree.
func segDistance(s, u Seg) (float64, r2.Point, r2.Point) {
	best := math.Inf(1)
	var a, b r2.Point
	for _, p := range appendPieces(nil, s, 0, maxFollow) {
		for _, q := range appendPieces(nil, u, 0, maxFollow) {
			if d2 := dist2Pieces(&p, &q); d2 < best {
				best = d2
				a, b, _ = feet(&p, &q)
			}
		}
	}
	return math.Sqrt(best), a, b
}

// sampledDistance bounds the distance of two segments from above by points of both, and
// from below by the spacing: branch and bound over pairs of spans, independent of any
// formula for pieces. A span's points lie within half its length of its middle.
func sampledDistance(s, u Seg, tol float64) (lo, hi float64) {
	type span struct{ s0, s1, u0, u1 float64 }
	hi = math.Inf(1)
	ls, lu := s.Length(), u.Length()
	stack := []span{{0, 1, 0, 1}}
	lo = math.Inf(1)
	for n := 0; len(stack) > 0; n++ {
		p := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		d := dist(s.At((p.s0+p.s1)/2), u.At((p.u0+p.u1)/2))
		hi = math.Min(hi, d)
		hs, hu := (p.s1-p.s0)*ls/2, (p.u1-p.u0)*lu/2
		bound := d - hs - hu
		if bound >= hi-tol || n > 300_000 {
			lo = math.Min(lo, bound)
			continue
		}
		if hs > hu {
			m := (p.s0 + p.s1) / 2
			stack = append(stack, span{p.s0, m, p.u0, p.u1}, span{m, p.s1, p.u0, p.u1})
		} else {
			m := (p.u0 + p.u1) / 2
			stack = append(stack, span{p.s0, p.s1, p.u0, m}, span{p.s0, p.s1, m, p.u1})
		}
	}
	return math.Min(lo, hi), hi
}

func TestSegmentsAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, u := drawSeg(t, "s"), drawSeg(t, "u")
		d, a, b := segDistance(s, u)
		lo, hi := sampledDistance(s, u, 1e-2)
		if d > hi+1e-9 || d < lo-1e-9 {
			t.Fatalf("distance %.12g of %+v and %+v, by sampling within %.12g..%.12g", d, s, u, lo, hi)
		}
		if math.Abs(dist(a, b)-d) > 1e-8 {
			t.Fatalf("witnesses %v %v are %g apart, not %g", a, b, dist(a, b), d)
		}
		for _, w := range []struct {
			s Seg
			p r2.Point
		}{{s, a}, {u, b}} {
			_, off := sampledDistance(w.s, Seg{A: w.p, B: w.p}, 1e-5)
			if off > 1e-4 {
				t.Fatalf("witness %v lies %g off %+v", w.p, off, w.s)
			}
		}
	})
}

// TestSegmentDistancesByHand: every figure is worked out beside its case.
func TestSegmentDistancesByHand(t *testing.T) {
	p := func(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
	upper := func(cx, cy, r float64) Seg { return Seg{A: p(cx+r, cy), B: p(cx-r, cy), Bulge: 1} }
	lower := func(cx, cy, r float64) Seg { return Seg{A: p(cx-r, cy), B: p(cx+r, cy), Bulge: 1} }
	tests := []struct {
		name string
		s, u Seg
		want float64
	}{
		{"crossing lines", Seg{A: p(0, 0), B: p(4, 4)}, Seg{A: p(0, 4), B: p(4, 0)}, 0},
		{"lines in one line, 3 apart", Seg{A: p(0, 0), B: p(1, 1)}, Seg{A: p(4, 5), B: p(8, 10)}, 5},
		{"parallel lines, beside", Seg{A: p(0, 0), B: p(4, 0)}, Seg{A: p(3, 2), B: p(9, 2)}, 2},
		{"parallel lines, past: steps 3 and 4", Seg{A: p(0, 0), B: p(4, 0)}, Seg{A: p(7, 4), B: p(9, 4)}, 5},
		{"line over the top of an arc: 5 - 2", Seg{A: p(-4, 5), B: p(4, 5)}, upper(0, 0, 2), 3},
		{"line touching the top of an arc", Seg{A: p(-4, 2), B: p(4, 2)}, upper(0, 0, 2), 0},
		{"line through an arc", Seg{A: p(-4, 1), B: p(4, 1)}, upper(0, 0, 2), 0},
		// Below the half circle only its ends count.
		{"line under an arc", Seg{A: p(-4, -3), B: p(4, -3)}, upper(0, 0, 2), 3},
		// Inside the arc, along its axis: from (0, 1) up to the top.
		{"line within an arc, pointing at it", Seg{A: p(0, 0), B: p(0, 1)}, upper(0, 0, 3), 2},
		// A chord inside: its ends (±1, 0.5) are at √1.25 from the centre.
		{"line within an arc, across", Seg{A: p(-1, 0.5), B: p(1, 0.5)}, upper(0, 0, 3), 3 - math.Sqrt(1.25)},
		{"line through the centre's level, outside: 4 - 3", Seg{A: p(4, -1), B: p(4, 9)}, upper(0, 0, 3), 1},
		{"arcs back to back: 10 - 2 - 3", upper(0, 0, 2), lower(0, 10, 3), 5},
		{"arcs touching from outside", upper(0, 0, 2), lower(0, 5, 3), 0},
		// The small arc faces away. From its end (2, 0) towards the centre (0, 10) of the
		// other: √(4 + 100) - 3, and that foot is on the lower half.
		{"arc behind an arc", lower(0, 0, 2), lower(0, 10, 3), math.Sqrt(104) - 3},
		{"concentric arcs: 5 - 3", upper(1, 1, 5), upper(1, 1, 3), 2},
		// Opposite halves about one centre: nearest are the ends, 5 - 3 apart.
		{"concentric halves, opposite", upper(1, 1, 5), lower(1, 1, 3), 2},
		{"one half circle, twice", upper(1, 1, 5), upper(1, 1, 5), 0},
		{"both halves of a circle", upper(1, 1, 5), lower(1, 1, 5), 0},
		// Inner circle of 2 touching the outer one of 5 at the top: centres 3 apart.
		{"touching from inside", upper(0, 0, 5), upper(0, 3, 2), 0},
		{"apart from inside: 5 - 2 - 1", upper(0, 0, 5), upper(0, 2, 2), 1},
		{"crossing circles, crossing arcs", upper(0, 0, 3), upper(4, 0, 3), 0},
		// The circles cross at (2, ±√5), each arc has one of these. The end (3, 0) of the first
		// is 1 from the centre (4, 0) and its foot (1, 0) is an end of the second.
		{"crossing circles, arcs apart", upper(0, 0, 3), lower(4, 0, 3), 2},
		// Sagitta 0.0005 over a chord of 10: the arc dips to y = -0.0005.
		{"shallow arc", Seg{A: p(0, 0), B: p(10, 0), Bulge: 1e-4}, Seg{A: p(0, -1), B: p(10, -1)}, 1 - 0.0005},
		{"very shallow arc", Seg{A: p(0, 0), B: p(1000, 0), Bulge: 1e-6}, Seg{A: p(0, -1), B: p(1000, -1)}, 1 - 0.0005},
	}
	for _, tt := range tests {
		for _, pair := range [][2]Seg{{tt.s, tt.u}, {tt.u, tt.s}, {tt.s.Reverse(), tt.u}, {tt.u.Reverse(), tt.s.Reverse()}} {
			if got, _, _ := segDistance(pair[0], pair[1]); math.Abs(got-tt.want) > 1e-9 {
				t.Errorf("%s: %.12g, want %.12g", tt.name, got, tt.want)
			}
		}
	}
}

// TestTreeAgainstAllPairs: branch and bound finds what all pairs of pieces give.
func TestTreeAgainstAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Loop {
			n := rapid.IntRange(2, 40).Draw(t, name+" n")
			v := make([]Vertex, n)
			for i := range v {
				s := drawSeg(t, name)
				v[i] = Vertex{P: s.A, Bulge: s.Bulge}
			}
			l, err := NewLoop(v)
			if err != nil {
				t.Skip()
			}
			return l
		}
		a, b := draw("a"), draw("b")
		s := r2.Point{X: 3 * number(t, "sx"), Y: 3 * number(t, "sy")}
		want := math.Inf(1)
		for i := range a.d.ready().pieces {
			for j := range b.d.ready().pieces {
				q := b.d.pieces[j].shifted(s.X, s.Y)
				want = math.Min(want, dist2Pieces(&a.d.pieces[i], &q))
			}
		}
		c := contact{d2: math.Inf(1)}
		c.nearestPieces(a.d, b.d, s, 0)
		if math.Abs(math.Sqrt(c.d2)-math.Sqrt(want)) > 1e-12 {
			t.Fatalf("by the tree %g, by all pairs %g", math.Sqrt(c.d2), math.Sqrt(want))
		}
		// The nearest piece to a point, and the crossings of its ray.
		k, d2 := a.d.nearest(s.X, s.Y, math.Inf(1))
		odd := false
		least := math.Inf(1)
		for i := range a.d.ready().pieces {
			p := &a.d.pieces[i]
			least = math.Min(least, p.dist2Point(s.X, s.Y))
			if p.rightOf(s.X, s.Y) {
				odd = !odd
			}
		}
		// Near 0 the two may tell different pieces: one whose box is just too far away may come
		// out nearer than its box by the noise of a distance, 1e-11 mm.
		if k < 0 || math.Abs(math.Sqrt(d2)-math.Sqrt(least)) > 1e-11 {
			t.Fatalf("nearest at %g, by all pieces %g", math.Sqrt(d2), math.Sqrt(least))
		}
		if odd != a.d.crossings(s.X, s.Y) {
			t.Fatalf("crossings odd: %v by all pieces", odd)
		}
	})
}

// TestPiecesFollowTheirSegment: pieces are monotone, join end to end, and their circle is
// that of the segment.
func TestPiecesFollowTheirSegment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSeg(t, "s")
		ps := appendPieces(nil, s, 7, maxFollow)
		at := s.A
		length := 0.0
		for i := range ps {
			p := &ps[i]
			if p.a() != at || p.seg != 7 {
				t.Fatalf("piece %d starts at %v, not %v", i, p.a(), at)
			}
			at = p.b()
			m := p.between(p.a(), p.b())
			box := p.box()
			if box.dist2Point(m.X, m.Y) > 1e-20 {
				t.Fatalf("middle %v of piece %d leaves its box %v", m, i, box)
			}
			if _, off := sampledDistance(s, Seg{A: m, B: m}, 1e-6); off > 1e-5 {
				t.Fatalf("middle %v of piece %d lies %g off", m, i, off)
			}
			length += dist(p.a(), m) + dist(m, p.b())
		}
		if at != s.B {
			t.Fatalf("pieces end at %v, not %v", at, s.B)
		}
		// A quarter turn in two chords is shorter by 2.6 %.
		if l := s.Length(); length > l*(1+1e-9) || length < 0.97*l {
			t.Fatalf("pieces are %g long, the segment %g", length, l)
		}
	})
}
