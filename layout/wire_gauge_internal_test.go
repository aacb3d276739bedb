package layout

import (
	"math"
	"testing"

	"dryfit/shapes"
)

func wireOf(od *shapes.Dim, bend float64) *shapes.Part {
	w := &shapes.Wire{OD: od}
	if bend > 0 {
		w.MinBend = &shapes.Dim{Value: bend}
	}
	return &shapes.Part{Kind: shapes.WireKind, Wire: w}
}

// TestRoundFactor: the circle round n equal ones. Of 3, 4 and 6 (and 7, with one in the
// middle) that touch in a ring: the ring's radius is 1/(2·sin(π/n)) diameters, so the circle
// round them 1 + 1/sin(π/n) across; of 8 it is the ring of 7 with one inside.
func TestRoundFactor(t *testing.T) {
	ring := func(n float64) float64 { return 1 + 1/math.Sin(math.Pi/n) }
	for n, want := range map[int]float64{1: 1, 2: 2, 3: ring(3), 4: ring(4), 5: ring(5), 6: ring(6), 7: 3, 8: ring(7), 9: ring(8)} {
		if got := roundFactor(n); math.Abs(got-want) > 5e-4 {
			t.Errorf("%d wires: %g, want %g", n, got, want)
		}
	}
	for n := 1; n < 60; n++ { // each more makes it no smaller
		if roundFactor(n+1) < roundFactor(n)-1e-9 {
			t.Errorf("%d wires are wider than %d", n, n+1)
		}
	}
}

// TestBundleOD, wires of 2.3 (2.2..2.6), 1.2 and 1.4 mm:
//
//	3 × 2.3: 2.1547 × 2.3 = 4.956, from 2.1547 × 2.2 = 4.740 to 2.1547 × 2.6 = 5.602
//	8 × 1.2: 3.3048 × 1.2 = 3.966
//	2 × 1.4 and 1.2: √((1.96 + 1.96 + 1.44) / 0.75) = 2.673, less than 1.4 + 1.4 = 2.8
//	3 × 1.4 and 3 × 1.2: √((3 × 1.96 + 3 × 1.44) / 0.75) = √13.6 = 3.688
//	3 × 2.3 in a sleeve with a wall of 0.6: 4.956 + 1.2
func TestBundleOD(t *testing.T) {
	thick := wireOf(&shapes.Dim{Value: 2.3, Plus: 0.3, Minus: 0.1}, 0)
	thin, mid := wireOf(&shapes.Dim{Value: 1.2}, 0), wireOf(&shapes.Dim{Value: 1.4}, 0)
	sleeve := &shapes.Part{Kind: shapes.SleeveKind, Sleeve: &shapes.Sleeve{Wall: &shapes.Dim{Value: 0.6}}}
	n := func(k int, p *shapes.Part) (out []*shapes.Part) {
		for range k {
			out = append(out, p)
		}
		return out
	}
	for _, c := range []struct {
		what   string
		wires  []*shapes.Part
		sleeve *shapes.Part
		want   float64
		lo, hi float64
	}{
		{"three", n(3, thick), nil, 4.956, 4.740, 5.602},
		{"eight", n(8, thin), nil, 3.966, 3.966, 3.966},
		{"two and one", append(n(2, mid), thin), nil, 2.8, 2.8, 2.8},
		{"three and three", append(n(3, mid), n(3, thin)...), nil, 3.688, 3.688, 3.688},
		{"sleeved", n(3, thick), sleeve, 6.156, 5.940, 6.802},
	} {
		d := bundleOD("b", c.wires, c.sleeve)
		if math.Abs(d.Value-c.want) > 1e-3 || math.Abs(d.Value-d.Minus-c.lo) > 1e-3 || math.Abs(d.Value+d.Plus-c.hi) > 1e-3 {
			t.Errorf("%s: %s, want %g (%g..%g)", c.what, d.Describe(), c.want, c.lo, c.hi)
		}
	}
	if d := bundleOD("b", []*shapes.Part{wireOf(nil, 0)}, nil); !d.Missing {
		t.Error("a wire of unknown diameter makes a bundle of a known one")
	}
}

// TestLeastBend: the stiffest wire counts; one that says nothing bends at three times its
// diameter: 3 × 2.3 = 6.9.
func TestLeastBend(t *testing.T) {
	plain, coax := wireOf(&shapes.Dim{Value: 2.3}, 0), wireOf(&shapes.Dim{Value: 1.13}, 5)
	if got := leastBend([]*shapes.Part{coax}); math.Abs(got-5) > 1e-9 {
		t.Errorf("coax: %g, want 5", got)
	}
	if got := leastBend([]*shapes.Part{coax, plain}); math.Abs(got-6.9) > 1e-9 {
		t.Errorf("both: %g, want 6.9", got)
	}
}
