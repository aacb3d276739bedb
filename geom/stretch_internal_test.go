package geom

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

// drawCurves adds closed curves to an arrangement: half of them on a coarse grid, so that
// ends lie on each other and curves run together, and half round a circle, so that long
// rows of strands occur.
func drawCurves(t *rapid.T, ar *arrangement) {
	for range rapid.IntRange(1, 4).Draw(t, "curves") {
		grid := rapid.Bool().Draw(t, "grid")
		n := rapid.IntRange(3, 24).Draw(t, "n")
		c := r2.Point{X: rapid.Float64Range(-3, 3).Draw(t, "x"), Y: rapid.Float64Range(-3, 3).Draw(t, "y")}
		v := make([]Vertex, n)
		for i := range v {
			if grid {
				v[i].P = r2.Point{X: float64(rapid.IntRange(-4, 4).Draw(t, "gx")), Y: float64(rapid.IntRange(-4, 4).Draw(t, "gy"))}
			} else {
				sn, cs := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				v[i].P = r2.Point{X: c.X + 2*cs, Y: c.Y + 2*sn}
			}
			if rapid.IntRange(0, 3).Draw(t, "arc") == 0 {
				v[i].Bulge = rapid.SampledFrom([]float64{0.05, -0.05, 0.4, -1, 1, 2}).Draw(t, "bulge")
			}
		}
		if l, err := NewLoop(v); err == nil {
			ar.addLoop(l, windings{a: 1})
		}
	}
}

// spot is where a strand is cut or welded, in steps much larger than the rounding of a
// crossing and much smaller than the distance of two that differ.
type spot struct {
	strand int32
	x, y   float64
}

// spots lists where strands are cut, and the spots of the junctions that their ends are
// welded to, in order and each once.
func spots(ar *arrangement) []spot {
	round := func(i int32, p r2.Point) spot {
		// Shifted, so that whole fractions do not lie where rounding turns over.
		return spot{i, math.Round(p.X*1e6 + 0.31), math.Round(p.Y*1e6 + 0.31)}
	}
	var out []spot
	for _, m := range ar.meets {
		out = append(out, round(m.strand, ar.pts[ar.root(m.at)]))
	}
	for i := range ar.strands {
		s := &ar.strands[i]
		out = append(out, round(int32(i), ar.pts[ar.root(s.va)]), round(int32(i), ar.pts[ar.root(s.vb)]))
	}
	slices.SortFunc(out, func(p, q spot) int {
		switch {
		case p.strand != q.strand:
			return int(p.strand - q.strand)
		case p.x != q.x: // whole numbers
			return int(p.x - q.x)
		}
		return int(p.y - q.y)
	})
	return slices.Compact(out)
}

// TestMeetAllAgainstAllPairs: trying stretches by their boxes finds what trying every strand
// against every other finds.
func TestMeetAllAgainstAllPairs(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		ar := newArrangement(1e-9, 0)
		drawCurves(t, ar)
		twin := newArrangement(1e-9, 0)
		twin.pts, twin.weld = slices.Clone(ar.pts), slices.Clone(ar.weld)
		twin.fixed, twin.strands = slices.Clone(ar.fixed), slices.Clone(ar.strands)

		ar.meetAll()
		for i := range twin.strands {
			for j := range i {
				twin.meet(int32(j), int32(i))
			}
		}
		for _, c := range twin.crossed {
			for i := range twin.strands {
				if int32(i) != c.strand {
					twin.meetEnd(twin.pts[c.at], c.at, int32(i), &twin.strands[i])
				}
			}
		}
		got, want := spots(ar), spots(twin)
		found += len(ar.meets)
		if !slices.Equal(got, want) {
			t.Fatalf("by stretches %d spots, by pairs %d\n%v\n%v", len(got), len(want), got, want)
		}
		ar.release()
	})
	if found < 100 {
		t.Errorf("only %d meetings came up", found)
	}
}

// TestStretches: the outline of a
// regular polygon of 4k sides with corners on the axes is four rows of k sides each.
func TestStretches(t *testing.T) {
	const k = 6
	v := make([]Vertex, 4*k)
	for i := range v {
		sn, cs := math.Sincos(2 * math.Pi * float64(i) / (4 * k))
		v[i].P = r2.Point{X: cs, Y: sn}
	}
	for q, p := range [4]r2.Point{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}} { // exact extremes
		v[q*k].P = p
	}
	l, err := NewLoop(v)
	if err != nil {
		t.Fatal(err)
	}
	ar := newArrangement(1e-9, 0)
	ar.addLoop(l, windings{a: 1})
	ar.stretch()
	if len(ar.stretches) != 4 {
		t.Fatalf("%d stretches, want 4: %+v", len(ar.stretches), ar.stretches)
	}
	for q, s := range ar.stretches {
		if s.hi-s.lo != k || s.back != (q < 2) || s.bulgy {
			t.Errorf("stretch %d = %+v, want %d lines, from right to left %v", q, s, k, q < 2)
		}
		// Each quarter's box is a unit square in its quadrant.
		want := [4]box4{{0, 0, 1, 1}, {-1, 0, 0, 1}, {-1, -1, 0, 0}, {0, -1, 1, 0}}[q]
		if b := ar.box(&s, s.lo, s.hi); b != want {
			t.Errorf("box of stretch %d = %v, want %v", q, b, want)
		}
	}
	ar.meetAll()
	ar.cut()
	// Nothing meets: the rows above and below run from the rightmost corner to the leftmost.
	if len(ar.links) != 2 || len(ar.nodes) != 2 {
		t.Errorf("%d links and %d nodes, want 2 and 2", len(ar.links), len(ar.nodes))
	}
	ar.release()
}
