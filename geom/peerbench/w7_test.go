package main

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"dryfit/geom"
)

// TestRoutesAgainstReferences: at clearance 0 the references come from a full visibility
// graph on the same polygons; at 1.5 from obstacles grown with 64 chords a quarter arc.
// Chords lie inside the arcs, by at most 1.5·(1-cos(π/256)) = 1.1e-4 mm, so these paths
// are too short, by no more than 5e-5 of their length.
func TestRoutesAgainstReferences(t *testing.T) {
	b := data(t)
	want := routeReferences(t, b)
	for _, n := range []int{10, 50, 200} {
		c, err := b.readCourse(n)
		if err != nil {
			t.Fatal(err)
		}
		for _, clearance := range []float64{0, 1.5} {
			f, err := geom.NewField(c.obstacles, clearance)
			if err != nil {
				t.Fatal(err)
			}
			low, high := 0.0, 0.0
			for i, q := range c.queries {
				w, ok := want[fmt.Sprintf("W7.query%g %d %d", clearance, n, i)]
				if !ok {
					t.Errorf("no reference for W7.query%g, %d obstacles, query %d", clearance, n, i)
					continue
				}
				got, err := f.Length(q[0], q[1])
				if err != nil {
					t.Errorf("W7.query%g, %d obstacles, query %d: %v", clearance, n, i, err)
					continue
				}
				off := got/w - 1
				low, high = math.Min(low, off), math.Max(high, off)
				lo, hi := -1e-9, 1e-9
				if clearance > 0 {
					lo, hi = -1e-9, 5e-5
				}
				if !(off >= lo && off <= hi) {
					t.Errorf("W7.query%g, %d obstacles, query %d: %.12g, reference %.12g", clearance, n, i, got, w)
				}
			}
			t.Logf("clearance %g, %d obstacles: off by %.2g to %.2g of the length", clearance, n, low, high)
		}
	}
}

// routeReferences returns the reference lengths from truth.tsv beside the data folder, by
// workload, number of obstacles and index.
func routeReferences(t *testing.T, b *bench) map[string]float64 {
	text, err := os.ReadFile(b.dir + "/../truth.tsv")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for line := range strings.Lines(string(text)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		if len(f) < 4 || !strings.HasPrefix(f[0], "W7.") {
			continue
		}
		v, err := strconv.ParseFloat(f[3], 64)
		if err != nil {
			t.Fatalf("truth.tsv: %q: %v", line, err)
		}
		out[strings.Join(f[:3], " ")] = v
	}
	return out
}
