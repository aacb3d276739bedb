package layout

import (
	"math"
	"testing"

	"dryfit/shapes"
)

func TestProductsOfForms(t *testing.T) {
	a := &shapes.Dim{Name: "a", Value: 4, Plus: 0.1, Minus: 0.2}
	b := &shapes.Dim{Name: "b", Value: 5, Plus: 0.3, Minus: 0.3}
	for _, c := range []struct {
		name       string
		f          Form
		at, lo, hi float64
	}{
		// 4·5 = 20; 5·0.2 + 4·0.3 = 2.2 less, 5·0.1 + 4·0.3 = 1.7 more.
		{"a b", Of(a).Times(Of(b)), 20, 17.8, 21.7},
		// 4/5 = 0.8; 0.2/5 + 4·0.3/25 = 0.088 less, 0.1/5 + 0.048 = 0.068 more.
		{"a / b", Of(a).Over(Of(b)), 0.8, 0.712, 0.868},
		// 4^1.5 = 8, slope 1.5·2 = 3: 0.6 less, 0.3 more.
		{"a^1.5", Of(a).ToThe(1.5), 8, 7.4, 8.3},
		// a·a: the slope of a² is 8.
		{"a a", Of(a).Times(Of(a)), 16, 14.4, 16.8},
		{"2 · 3", Fixed(2).Times(Fixed(3)), 6, 6, 6},
	} {
		lo, hi := c.f.Worst()
		if math.Abs(c.f.Nominal()-c.at) > 1e-9 || math.Abs(lo-c.lo) > 1e-9 || math.Abs(hi-c.hi) > 1e-9 {
			t.Errorf("%s: %g (%g to %g), want %g (%g to %g)", c.name, c.f.Nominal(), lo, hi, c.at, c.lo, c.hi)
		}
	}
}

func TestProductsWithoutMeaningStayFinite(t *testing.T) {
	gone := &shapes.Dim{Name: "gone", Missing: true}
	for name, f := range map[string]Form{
		"over 0": Of(&shapes.Dim{Value: 3}).Over(Of(gone)), "0^1.5": Of(gone).ToThe(1.5), "times 0": Fixed(3).Times(Of(gone)),
	} {
		if v := f.Nominal(); math.Abs(v) > 1e-12 {
			t.Errorf("%s: %g, want 0", name, v)
		}
		if len(f.Missing()) != 1 {
			t.Errorf("%s: what is missing got lost", name)
		}
	}
}
