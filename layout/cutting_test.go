package layout_test

import (
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// TestCuttingFillsWhatIsNotSaid: a cutter cuts as wide as it is, a jet without a cutter
// rounds corners as a cutter of the width of its cut, and without a word a cutter of 2 mm
// is taken.
func TestCuttingFillsWhatIsNotSaid(t *testing.T) {
	const plate = "dryfit: 1\nname: n\nplates: {base: {material: carbon, thickness: 2 mm, outline: {circle: 60}}}\n"
	for _, c := range []struct {
		key          string
		cutter, kerf float64
		given        bool
		source       shapes.Source
	}{
		{"", 2, 2, false, shapes.Assumed},
		{"cutting: {cutter: 3.175 mm}", 3.175, 3.175, true, shapes.Given},
		{"cutting: {kerf: 1 mm}", 1, 1, true, shapes.Given},
		{"cutting: {cutter: 1.5, kerf: 1.6}", 1.5, 1.6, true, shapes.Given},
		{"cutting: {cutter: unknown}", 2, 2, false, shapes.Assumed},
	} {
		got := layouttest.MustLoad(t, plate+c.key+"\n").Cutting
		if got.Cutter.Value != c.cutter || got.Kerf.Value != c.kerf || got.Given != c.given || got.Cutter.Source != c.source {
			t.Errorf("%q: cutter %v (%v), kerf %v, given %v", c.key, got.Cutter.Value, got.Cutter.Source, got.Kerf.Value, got.Given)
		}
	}
}

func TestLoadKeepsTheCuttingAsWritten(t *testing.T) {
	b, diags := layout.Load("testdata/valid-cutting.yaml", testLibrary(t))
	if err := diags.Err(); err != nil {
		t.Fatal(err)
	}
	c := b.Cutting
	if c == nil || c.Cutter.Value != 3.175 || c.Kerf.Value != 3.2 || c.Kerf.Plus != 0.05 || c.Pos.Line != 5 {
		t.Errorf("%+v", c)
	}
}
