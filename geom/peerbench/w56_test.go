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

// W5's references carry the number of bodies beside the workload; index is i·100000 + j.
func TestPairsAgainstReferences(t *testing.T) {
	b := data(t)
	text, err := os.ReadFile(b.dir + "/../truth.tsv")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{}
	for line := range strings.Lines(string(text)) {
		if f := strings.Split(strings.TrimSpace(line), "\t"); len(f) >= 4 && strings.HasPrefix(f[0], "W5.") {
			v, err := strconv.ParseFloat(f[3], 64)
			if err != nil {
				t.Fatal(err)
			}
			want[f[0]+" "+f[1]+" "+f[2]] = v
		}
	}
	worst, count := 0.0, 0
	for _, f := range pairFiles {
		bodies, err := b.uprights(f.file, loop)
		if err != nil {
			t.Fatal(err)
		}
		check := func(i, j int, d float64) {
			w, ok := want[fmt.Sprintf("%s %d %d", f.workload, len(bodies), i*100000+j)]
			if !ok {
				t.Errorf("%s: %d and %d are no pair, got %.9g", f.file, i, j, d)
			}
			worst = math.Max(worst, math.Abs(d-w))
			if !(math.Abs(d-w) <= 1e-6) {
				t.Errorf("%s: %d and %d: %.12g, reference %.12g", f.file, i, j, d, w)
			}
		}
		geom.EachCloser(bodies, closer, func(i, j int, d float64) bool {
			if d < closer {
				count++
				check(i, j, d)
			}
			return true
		})
		if len(bodies) <= 1000 {
			for _, p := range geom.PairsCloser(bodies, closer) {
				check(p.I, p.J, math.Max(0, p.Gap.Dist))
			}
		}
	}
	if count != len(want) {
		t.Errorf("%d pairs, %d references", count, len(want))
	}
	t.Logf("%d pairs, worst error %.3g mm", count, worst)
}

func TestConvexDistancesAgainstReferences(t *testing.T) {
	b := data(t)
	want := truth(t, b, "W6.")
	pairs, err := b.solids()
	if err != nil {
		t.Fatal(err)
	}
	worst, count := 0.0, 0
	for _, class := range convexClasses {
		for i, p := range pairs[class] {
			w, ok := want[fmt.Sprintf("W6.%s %d", class, i)]
			if !ok {
				t.Errorf("%s %d has no reference", class, i)
			}
			count++
			g := geom.DistanceBodies(p[0], p[1])
			worst = math.Max(worst, math.Abs(g.Dist-w))
			if !(math.Abs(g.Dist-w) <= 1e-6) || !g.Exact {
				t.Errorf("%s %d: %.12g, reference %.12g", class, i, g.Dist, w)
			}
		}
	}
	if count != len(want) {
		t.Errorf("%d pairs, %d references", count, len(want))
	}
	t.Logf("%d distances, worst difference %.3g mm", count, worst)
}
