package geom_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// genBoxes draws boxes on a coarse grid half of the time, so that many touch; some are
// empty, some are points.
func genBoxes(most int) *rapid.Generator[[]geom.Box] {
	one := rapid.Custom(func(t *rapid.T) geom.Box {
		if rapid.IntRange(0, 9).Draw(t, "kind") == 0 {
			return geom.EmptyBox()
		}
		lo := genVector(20).Draw(t, "lo")
		return geom.Box{Lo: lo, Hi: lo.Add(genVector(4).Draw(t, "size").Abs())}
	})
	return rapid.SliceOfN(one, 0, most)
}

func allPairs(x *geom.Index, limit float64) (out [][2]int) {
	x.Pairs(limit, func(i, j int) bool { out = append(out, [2]int{i, j}); return true })
	return out
}

func brutePairs(boxes []geom.Box, limit float64) (out [][2]int) {
	for i := range boxes {
		for j := i + 1; j < len(boxes); j++ {
			if boxes[i].Distance(boxes[j]) <= limit {
				out = append(out, [2]int{i, j})
			}
		}
	}
	return out
}

func TestIndexAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boxes := genBoxes(400).Draw(t, "boxes")
		x := geom.NewIndex(boxes)
		limit := genNumber(0, 3).Draw(t, "limit")
		if got, want := allPairs(x, limit), brutePairs(boxes, limit); !slices.Equal(got, want) {
			t.Fatalf("pairs within %v: %v, want %v", limit, got, want)
		}
		probe := geom.Box{Lo: genVector(20).Draw(t, "probe")}
		probe.Hi = probe.Lo.Add(genVector(6).Draw(t, "extent").Abs())
		var got, want []int
		x.Query(probe, func(i int) bool { got = append(got, i); return true })
		best, at := math.Inf(1), -1
		for i := range boxes {
			if !boxes[i].IsEmpty() && boxes[i].Intersects(probe) {
				want = append(want, i)
			}
			if d := boxes[i].Distance(probe); d < best {
				best, at = d, i
			}
		}
		if !slices.Equal(got, want) {
			t.Fatalf("query: %v, want %v", got, want)
		}
		if i, d := x.Nearest(probe, nil); i != at || d != best {
			t.Fatalf("nearest: %d at %v, want %d at %v", i, d, at, best)
		}
		// A measure that is twice the distance, and passes over the odd ones.
		measure := func(i int) float64 {
			if i%2 == 1 {
				return math.Inf(1)
			}
			return 2 * boxes[i].Distance(probe)
		}
		best, at = math.Inf(1), -1
		for i := range boxes {
			if d := measure(i); d < best {
				best, at = d, i
			}
		}
		if i, d := x.Nearest(probe, measure); i != at || d != best {
			t.Fatalf("nearest by measure: %d at %v, want %d at %v", i, d, at, best)
		}
	})
}

// An index that was updated answers as one made anew.
func TestIndexUpdate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boxes := genBoxes(60).Draw(t, "boxes")
		x := geom.NewIndex(boxes)
		moves := genBoxes(200).Draw(t, "moves")
		for k, m := range moves {
			if len(boxes) == 0 {
				break
			}
			i := k * 7 % len(boxes)
			boxes[i] = m
			if !x.Update(i, m) {
				t.Fatalf("no item %d", i)
			}
			if k%20 == 19 || k == len(moves)-1 {
				if got, want := allPairs(x, 1), allPairs(geom.NewIndex(boxes), 1); !slices.Equal(got, want) {
					t.Fatalf("after %d moves: %v, want %v", k+1, got, want)
				}
				if got, want := allPairs(x, 1), brutePairs(boxes, 1); !slices.Equal(got, want) {
					t.Fatalf("after %d moves: %v, by all pairs %v", k+1, got, want)
				}
			}
		}
		if x.Update(len(boxes), geom.EmptyBox()) || x.Update(-1, geom.EmptyBox()) {
			t.Fatal("an item that is not there was updated")
		}
	})
}

func TestIndexOddInput(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	boxes := []geom.Box{
		{},
		{Lo: vec(nan, 0, 0), Hi: vec(1, 1, 1)},
		{Lo: vec(-inf, -inf, -inf), Hi: vec(inf, inf, inf)},
		{Lo: vec(1e300, 0, 0), Hi: vec(1e301, 0, 0)},
		{Lo: vec(1, 1, 1), Hi: vec(-1, -1, -1)},
		{},
	}
	x := geom.NewIndex(boxes)
	// 0 and 5 are one point; 2 meets all that is not empty (1 and 4 are).
	want := [][2]int{{0, 2}, {0, 5}, {2, 3}, {2, 5}}
	if got := allPairs(x, 0); !slices.Equal(got, want) {
		t.Errorf("pairs: %v, want %v", got, want)
	}
	for _, limit := range []float64{-1, nan} {
		if got := allPairs(x, limit); len(got) != 0 {
			t.Errorf("pairs within %v: %v", limit, got)
		}
	}
	if got := len(allPairs(x, inf)); got != 6 { // all of 4
		t.Errorf("%d pairs within infinity, want 6", got)
	}
	var none geom.Index
	none.Pairs(1, func(i, j int) bool { t.Error("a pair of nothing"); return true })
	if i, d := none.Nearest(geom.Box{}, nil); i != -1 || !math.IsInf(d, 1) {
		t.Errorf("nearest of nothing: %d at %v", i, d)
	}
	n := 0
	x.Pairs(0, func(i, j int) bool { n++; return false })
	x.Query(geom.Box{}, func(i int) bool { n++; return false })
	if n != 2 {
		t.Errorf("%d calls after false, want one each", n)
	}
}

func TestIndexQueryDoesNotAllocate(t *testing.T) {
	boxes := lattice(1000)
	x := geom.NewIndex(boxes)
	n := 0
	if a := testing.AllocsPerRun(100, func() {
		x.Query(boxes[17].Expand(1), func(i int) bool { n++; return true })
		x.Nearest(boxes[500], nil)
		x.Update(3, boxes[3])
	}); a != 0 {
		t.Errorf("%v allocations", a)
	}
	if n == 0 {
		t.Error("nothing found")
	}
}

// lattice returns n boxes at a constant density, from a fixed generator.
func lattice(n int) []geom.Box {
	side := math.Cbrt(3000 * float64(n))
	state := uint64(1)
	next := func() float64 {
		state = state*6364136223846793005 + 1442695040888963407
		return float64(state>>11) / (1 << 53)
	}
	out := make([]geom.Box, n)
	for i := range out {
		lo := vec(next()*side, next()*side, next()*side)
		out[i] = geom.Box{Lo: lo, Hi: lo.Add(r3.Vector{X: 2 + 10*next(), Y: 2 + 10*next(), Z: 2 + 10*next()})}
	}
	return out
}

func BenchmarkIndexGrowth(b *testing.B) {
	for _, n := range []int{100, 1000, 10000} {
		boxes := lattice(n)
		b.Run(fmt.Sprintf("build/%d", n), func(b *testing.B) {
			for b.Loop() {
				geom.NewIndex(boxes)
			}
		})
		x := geom.NewIndex(boxes)
		b.Run(fmt.Sprintf("pairs/%d", n), func(b *testing.B) {
			found := 0
			for b.Loop() {
				found = 0
				x.Pairs(2, func(i, j int) bool { found++; return true })
			}
			b.ReportMetric(float64(found), "pairs")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/body")
		})
		b.Run(fmt.Sprintf("update/%d", n), func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				x.Update(i%n, boxes[i%n])
			}
		})
	}
}

// A gap of 1 + 2^-53 rounds to 1 as a difference, 1.1e-16 - (-1), while -1 + 1 = 0 lies below
// 1.1e-16 as a sum: the pair counts, as the distance of its boxes does.
func TestIndexRounding(t *testing.T) {
	boxes := []geom.Box{
		{Lo: vec(-20, -20, -20), Hi: vec(-16, -16, -16)},
		{Lo: vec(-20, -20, -20), Hi: vec(-16, -16, -16)},
		{Lo: vec(1, 1, 1), Hi: vec(2, 2, 2)},
		{Lo: vec(1, 0x1p-53, 1), Hi: vec(2, 1, 5)},
		{Lo: vec(1, -20, 1), Hi: vec(2, -19, 5)},
		{Lo: vec(1, -5, 1), Hi: vec(5, -1, 5)},
	}
	if got, want := allPairs(geom.NewIndex(boxes), 1), [][2]int{{0, 1}, {2, 3}, {3, 5}}; !slices.Equal(got, want) {
		t.Errorf("pairs %v, want %v", got, want)
	}
}
