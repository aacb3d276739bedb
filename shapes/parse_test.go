package shapes

import (
	"math"
	"strings"
	"testing"

	"dryfit/shapes/read"
)

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// TestParseQuantity: conversions by hand, one inch being 25.4 mm.
func TestParseQuantity(t *testing.T) {
	cases := []struct {
		text               string
		unit               Unit
		value, plus, minus float64
		tol, rng           bool
	}{
		{"7.2", MM, 7.2, 0, 0, false, false},
		{"7.2 mm", MM, 7.2, 0, 0, false, false},
		{"7.2mm", MM, 7.2, 0, 0, false, false},
		{"5.1 in", MM, 129.54, 0, 0, false, false},    // 5.1 · 25.4
		{"5/8 in", MM, 15.875, 0, 0, false, false},    // 0.625 · 25.4
		{"3/64 in", MM, 1.190625, 0, 0, false, false}, // 0.046875 · 25.4
		{"2.5 m", MM, 2500, 0, 0, false, false},
		{"1.2 cm", MM, 12, 0, 0, false, false},
		{"-0.5", MM, -0.5, 0, 0, false, false},
		{"7.2 ±0.3", MM, 7.2, 0.3, 0.3, true, false},
		{"7.2 mm ±0.3", MM, 7.2, 0.3, 0.3, true, false},
		{"7.2 mm ±0.3 mm", MM, 7.2, 0.3, 0.3, true, false},
		{"7.2 +-0.3", MM, 7.2, 0.3, 0.3, true, false},
		{"7.2 +/- 0.3", MM, 7.2, 0.3, 0.3, true, false},
		{"7.2±0.3", MM, 7.2, 0.3, 0.3, true, false},
		{"25 +0.1 -0.3", MM, 25, 0.1, 0.3, true, false},
		{"25 -0.3 +0.1", MM, 25, 0.1, 0.3, true, false},
		{"25 mm +0.1 −0.3", MM, 25, 0.1, 0.3, true, false},
		{"2 in ±0.5 mm", MM, 50.8, 0.5, 0.5, true, false},
		{"2 in ±0.01", MM, 50.8, 0.254, 0.254, true, false}, // in inches, like the number before it
		{"40 ±5 %", MM, 40, 2, 2, true, false},
		{"2..4", MM, 3, 1, 1, true, true},
		{"2..4 mm", MM, 3, 1, 1, true, true},
		{"2 mm..4 mm", MM, 3, 1, 1, true, true},
		{"1..2 in", MM, 38.1, 12.7, 12.7, true, true},
		{"3.3 (2.5..5)", MM, 3.3, 1.7, 0.8, true, true},
		{"3.3 mm (2.5..5)", MM, 3.3, 1.7, 0.8, true, true},
		{"0.8 (-0.5..2)", MM, 0.8, 1.2, 1.3, true, true},
		{"18 AWG", AWG, 18, 0, 0, false, false},
		{"35 deg", Deg, 35, 0, 0, false, false},
		{"35°", Deg, 35, 0, 0, false, false},
		{"180 g", Gram, 180, 0, 0, false, false},
		{"1.2 kg", Gram, 1200, 0, 0, false, false},
		{"1300 mAh", MAh, 1300, 0, 0, false, false},
		{"1.3 Ah", MAh, 1300, 0, 0, false, false},
		{"40 A", Amp, 40, 0, 0, false, false},
		{"500 mA", Amp, 0.5, 0, 0, false, false},
		{"14.8 V", Volt, 14.8, 0, 0, false, false},
		{"0.82 mm²", MM2, 0.82, 0, 0, false, false},
		{"0.82 mm2", MM2, 0.82, 0, 0, false, false},
		{"30 %", Ratio, 30, 0, 0, false, false},
		{"1200 g", Gf, 1200, 0, 0, false, false},
		{"1.2 kgf", Gf, 1200, 0, 0, false, false},
	}
	for _, c := range cases {
		q, err := ParseQuantity(c.text, c.unit)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if !near(q.Value, c.value) || !near(q.Plus, c.plus) || !near(q.Minus, c.minus) || q.HasTol != c.tol || q.Range != c.rng {
			t.Errorf("%s: %+v, want %v +%v -%v tol %v range %v", c.text, q, c.value, c.plus, c.minus, c.tol, c.rng)
		}
	}
	if q, err := ParseQuantity("unknown", MM); err != nil || !q.Unknown {
		t.Errorf("unknown: %+v %v", q, err)
	}
}

func TestParseQuantityRefuses(t *testing.T) {
	cases := []struct{ text, why, hint string }{
		{"", "empty", "unknown"},
		{"3 V", "is a voltage (V); a length is wanted", "mm, cm, m or in"},
		{"3 mAh", "is a charge", "mm"},
		{"3 MM", `unit "MM"`, "write mm"},
		{"3 inch", `unit "inch"`, "write in"},
		{`5"`, `unit "\""`, "write in"},
		{"3 furlong", `unit "furlong"`, "mm, cm, m or in"},
		{"1e2", "power of ten", "all its digits"},
		{"010", "leading zero", "write 10"},
		{"0x10", "not a decimal", "decimal"},
		{"1_000", "underscore", "without"},
		{"1:30", "colon", "decimal"},
		{"7,2", "comma", "point"},
		{".nan", "not a finite", "unknown"},
		{"NaN mm", "not a finite", "unknown"},
		{"-.inf", "not a finite", "unknown"},
		{"1e3", "", ""},
		{"seven", "no number", "7.2 ±0.3"},
		{"7.2 ±", "no number", ""},
		{"7.2 ±-0.3", "negative tolerance", "without a sign"},
		{"25 +0.1", "one side only", "+0.1 -0.3"},
		{"25 -0.3", "one side only", "±0.3"},
		{"25 +0.1 +0.3", "one side only", ""},
		{"4..2", "backwards", "smaller"},
		{"6 (2.5..5)", "outside its own range", "in the range"},
		{"3 (2.5..5", "open bracket", ""},
		{"3 (2.5)", "brackets without a range", ""},
		{"3 4", "left over", ""},
		{"3 mm 4", "left over", ""},
		{"5/0 in", "fraction", "5/8"},
		{"5/8.5 in", "fraction", "5/8"},
		{"1.2.3", "not a number", ""},
		{"--3", "", ""},
		{strings.Repeat("9", 60), "more digits", ""},
		{strings.Repeat("9", 300), "too long", ""},
	}
	for _, c := range cases {
		q, err := ParseQuantity(c.text, MM)
		if err == nil {
			t.Errorf("%q is taken as %+v", c.text, q)
			continue
		}
		if !strings.Contains(err.Why, c.why) || !strings.Contains(err.Hint, c.hint) {
			t.Errorf("%q: %q / %q, want %q / %q", c.text, err.Why, err.Hint, c.why, c.hint)
		}
	}
}

// FuzzParseDim: whatever the text, the result is finite and ordered or an error is told.
func FuzzParseDim(f *testing.F) {
	for _, s := range []string{"7.2 ±0.3", "25 +0.1 -0.3", "5/8 in", "3.3 (2.5..5)", "2..4 mm", "unknown", "±5 %", "1e309", "0x1p-2", "9/0", "-", "..", "(", "7.2 mm..", "{typ: 3, range: [2, 4]}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, want := range []Sane{SizeMM(), OffsetMM(), MassG(), SharePct()} {
			root, ds := read.Load("f", []byte("x: "+s+"\n"))
			n := root.Get("x")
			if n == nil {
				return
			}
			d := ParseDim(ds, n, "x", want)
			if d == nil {
				t.Fatal("nil")
			}
			for _, v := range []float64{d.Value, d.Plus, d.Minus} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%q: %+v", s, d)
				}
			}
			if d.Plus < 0 || d.Minus < 0 {
				t.Fatalf("%q: negative tolerance %+v", s, d)
			}
			if !d.Missing && (d.Value < want.Lo || d.Value > want.Hi) {
				t.Fatalf("%q: %+v out of %s", s, d, want)
			}
			if d.Missing && s != "unknown" && ds.Err() == nil && !strings.Contains(s, "unknown") {
				t.Fatalf("%q: missing without an error", s)
			}
		}
	})
}
