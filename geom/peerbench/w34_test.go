package main

import (
	"fmt"
	"math"
	"testing"

	"dryfit/geom"
)

func TestPlatesAgainstReferences(t *testing.T) {
	b := data(t)
	want := truth(t, b, "W3.")
	a, err := b.readAssemblies(loop)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for i := range a {
		r, err := a[i].plate()
		if err != nil {
			t.Errorf("W3.plate %d: %v", i, err)
			continue
		}
		w := want[fmt.Sprintf("W3.plate %d", i)]
		d := math.Abs(areaOf(r) - w)
		worst = math.Max(worst, d)
		// The reference is exact and printed to 12 digits.
		if d > 1e-6 {
			t.Errorf("W3.plate %d: area %.12g, reference %.12g", i, areaOf(r), w)
		}
	}
	t.Logf("%d plates, worst error %.3g mm²", len(a), worst)
}

// TestOffsetsAgainstReferences: the references have chords of 1e-5 mm sagitta in place of
// arcs, which lie inside convex arcs by two thirds of that on average and outside hollow
// ones.
func TestOffsetsAgainstReferences(t *testing.T) {
	b := data(t)
	want := truth(t, b, "W4.")
	for _, w := range offsetWorkloads {
		plates, err := b.readPlates(loop, w.outline)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for i, p := range plates {
			r, err := geom.Offset(p, w.d)
			if err != nil {
				t.Errorf("%s %d: %v", w.name, i, err)
				continue
			}
			length := 0.0
			for _, q := range r {
				for l := range q.Loops() {
					length += l.Perimeter()
				}
			}
			d := math.Abs(areaOf(r) - want[fmt.Sprintf("%s %d", w.name, i)])
			worst = math.Max(worst, d)
			if d > 1e-5*length {
				t.Errorf("%s %d: area %.12g, reference %.12g", w.name, i, areaOf(r), want[fmt.Sprintf("%s %d", w.name, i)])
			}
		}
		t.Logf("%s: %d plates, worst difference %.3g mm²", w.name, len(plates), worst)
	}
}
