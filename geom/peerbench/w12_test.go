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

// data returns a bench on the workload files, or skips the test.
func data(t *testing.T) *bench {
	dir := os.Getenv("DRYFIT_PEER_DATA")
	if dir == "" {
		t.Skip("DRYFIT_PEER_DATA does not name the folder of workload files")
	}
	return &bench{dir: dir}
}

// truth returns the reference value of every operation of the workloads that begin with
// prefix, from truth.tsv beside the data folder: workload, n, index, value, reference.
func truth(t *testing.T, b *bench, prefix string) map[string]float64 {
	text, err := os.ReadFile(b.dir + "/../truth.tsv")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for line := range strings.Lines(string(text)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		if len(f) < 4 || !strings.HasPrefix(f[0], prefix) {
			continue
		}
		v, err := strconv.ParseFloat(f[3], 64)
		if err != nil {
			continue // the header
		}
		out[f[0]+" "+f[2]] = v
	}
	if len(out) == 0 {
		t.Fatalf("truth.tsv has no values for %s", prefix)
	}
	return out
}

func TestDistancesAgainstReferences(t *testing.T) {
	b := data(t)
	want := truth(t, b, "W1.")
	pairs, err := b.readPairs(loop)
	if err != nil {
		t.Fatal(err)
	}
	worst, count := 0.0, 0
	for _, class := range pairClasses {
		for i, p := range pairs[class] {
			w, ok := want[fmt.Sprintf("W1.%s %d", class, i)]
			if !ok {
				continue
			}
			count++
			for _, got := range []float64{geom.Separation(p.a, p.b), p.pa.Separation(p.pb), geom.Separation(p.b, p.a), math.Max(0, geom.Distance(p.a, p.b).Dist)} {
				worst = math.Max(worst, math.Abs(got-w))
				if !(math.Abs(got-w) <= 1e-6) {
					t.Errorf("W1.%s %d: %.12g, reference %.12g", class, i, got, w)
				}
			}
			if w > 0 && (!geom.IsCloser(p.a, p.b, w+1e-6) || geom.IsCloser(p.a, p.b, w-1e-6)) {
				t.Errorf("W1.%s %d: IsCloser does not turn at %g", class, i, w)
			}
		}
	}
	if count != len(want) {
		t.Errorf("compared %d operations of %d", count, len(want))
	}
	t.Logf("%d distances, worst error %.3g mm", count, worst)
}

// TestIntersectionsAgainstReferences: shapes with a reference distance intersect exactly if
// it is 0, and every class has as many intersecting pairs as the peers count, by
// results.tsv beside the data folder: peer, workload, n, time, checksum.
func TestIntersectionsAgainstReferences(t *testing.T) {
	b := data(t)
	want := truth(t, b, "W1.")
	pairs, err := b.readPairs(loop)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(b.dir + "/../results.tsv")
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]string{}
	for line := range strings.Lines(string(text)) {
		if f := strings.Split(strings.TrimSpace(line), "\t"); len(f) == 5 && f[0] == "geos" {
			count[f[1]] = f[4]
		}
	}
	for _, class := range pairClasses {
		for i, p := range pairs[class] {
			w, ok := want[fmt.Sprintf("W1.%s %d", class, i)]
			hit := geom.Intersects(p.a, p.b)
			if ok && hit != (w == 0) || p.pb.Intersects(p.pa) != hit {
				t.Errorf("W2.%s %d: %v at the reference distance %g", class, i, hit, w)
			}
			if d := geom.Distance(p.a, p.b); hit != (d.Dist <= 0) {
				t.Errorf("W2.%s %d: gap %g, intersects: %v", class, i, d.Dist, hit)
			}
		}
		if got := fmt.Sprint(countIntersecting(pairs[class])); got != count["W2."+class] {
			t.Errorf("W2.%s: %s pairs intersect, %s by the peers", class, got, count["W2."+class])
		}
	}
}

// TestRefit: chords of 0.01 mm sagitta lie within 0.01 mm of the arcs refitted to them, so
// distances differ by at most 0.02 mm (0.2 mm for the plates with coarse chords).
func TestRefit(t *testing.T) {
	b := data(t)
	chords, err := b.readPairs(loop)
	if err != nil {
		t.Fatal(err)
	}
	arcs, err := b.readPairs(refit)
	if err != nil {
		t.Fatal(err)
	}
	for _, class := range pairClasses {
		vertices, of := 0, 0
		for i := range chords[class] {
			c, a := chords[class][i], arcs[class][i]
			vertices += a.a.Outer.Len() + a.b.Outer.Len()
			of += c.a.Outer.Len() + c.b.Outer.Len()
			if d := math.Abs(geom.Separation(c.a, c.b) - geom.Separation(a.a, a.b)); d > 0.2 {
				t.Errorf("%s %d: chords and arcs differ by %g", class, i, d)
			}
		}
		t.Logf("%s: %d outer vertices in place of %d", class, vertices, of)
	}
}
