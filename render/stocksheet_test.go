package render_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/render"
	"dryfit/render/cut"
	"dryfit/render/nest"
	"dryfit/shapes/drawing"
)

func sheetOf(w, h, margin, gap float64) nest.Sheet {
	return nest.Sheet{Width: w, Height: h, Margin: margin, Gap: gap}
}

// One plate of 50 x 50 with a hole of 10, four times on 106 x 106: it fits exactly, and 4·(2500 - 25π) of 11236 mm² are
// 86.2 %. What is written is read back as four pieces of 50 x 50.
func TestStockSheetByHand(t *testing.T) {
	asm := layouttest.MustLoad(t, "dryfit: 1\nname: four\nplates: {tile: {material: carbon, thickness: 2 ±0.1, outline: {rectangle: [50, 50]}, holes: [{hole: 10, at: [0, 0]}]}}\n")
	sheets, left, err := render.StockSheets(asm, render.NestOptions{Sheet: sheetOf(106, 106, 2, 2), Sets: 4})
	if err != nil || len(left) > 0 || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v left over, %v", len(sheets), left, err)
	}
	s := sheets[0]
	if use := 4 * (2500 - 25*math.Pi) / 11236; math.Abs(s.Use-use) > 1e-9 || s.Percent() != "86.2 %" || s.Pieces != 4 {
		t.Errorf("%d pieces, %v (%s), want 4 and %v", s.Pieces, s.Use, s.Percent(), use)
	}
	if s.Name != "carbon-2mm-1" || s.Stock != "carbon, 2 mm ±0.1" {
		t.Errorf("it is called %q of %q", s.Name, s.Stock)
	}
	for name, print := range map[string]func() ([]byte, error){"sheet.dxf": s.Drawing.DXF, "sheet.svg": s.Drawing.SVG} {
		data, err := print()
		if err != nil {
			t.Fatal(err)
		}
		d, _, err := drawing.Read(name, data, drawing.Options{Layers: []string{cut.Outline, cut.Holes}})
		if err != nil || len(d.Parts) != 4 {
			t.Fatalf("%s: %v", name, err)
		}
		for _, p := range d.Parts {
			if b := p.Box().Size(); math.Abs(b.X-50)+math.Abs(b.Y-50) > 1e-6 || len(p.Holes) != 1 || math.Abs(p.Holes[0].Diameter-10) > 1e-6 {
				t.Errorf("%s: %v", name, p)
			}
		}
		edge, _, err := drawing.Read(name, data, drawing.Options{Layers: []string{cut.Stock}})
		if err != nil || len(edge.Parts) != 1 || math.Abs(edge.Parts[0].Area()-106*106) > 1e-6 {
			t.Errorf("%s: the sheet's edge is %v, %v", name, edge, err)
		}
	}
}

// Bars of 90 x 20 with a grain on a sheet of 100 x 60: along x one goes on as it is and one whose y is the grain does
// not, for it would have to stand 90 high; along y it is the other way round. What has no grain goes on either way.
func TestGrainOnTheSheet(t *testing.T) {
	for _, c := range []struct {
		key    string
		grainY bool
		fits   bool
	}{{"", false, true}, {", grain: x", false, true}, {", grain: y", false, false}, {", grain: x", true, false}, {", grain: y", true, true}} {
		asm := layouttest.MustLoad(t, "dryfit: 1\nname: bar\nplates: {bar: {material: carbon, thickness: 2, outline: {rectangle: [90, 20]}"+c.key+"}}\n")
		sheets, left, err := render.StockSheets(asm, render.NestOptions{Sheet: sheetOf(100, 60, 2, 2), Sets: 1, GrainY: c.grainY})
		if err != nil {
			t.Fatal(err)
		}
		if (len(sheets) == 1) != c.fits || (len(left) == 0) != c.fits {
			t.Errorf("%q, along y %v: %d sheets, %v left over", c.key, c.grainY, len(sheets), left)
		}
		if !c.fits && (left[0].Name != "bar" || left[0].Count != 1 || left[0].Size.X != 90) {
			t.Errorf("left over: %+v", left[0])
		}
	}
}

// On the sheets of every case the outlines keep the gap, lie within the margin, and are as many
// as the plates cut from sheet.
func TestStockSheetsOfAllCases(t *testing.T) {
	s := sheetOf(600, 500, 6, 3)
	for _, c := range cases(t) {
		want := 0
		for _, p := range c.asm.Plates {
			if p.Material == nil || p.Material.Material == nil || !p.Material.Material.Printed {
				want += 2
			}
		}
		if want == 0 {
			continue
		}
		sheets, left, err := render.StockSheets(c.asm, render.NestOptions{Sheet: s, Sets: 2})
		if err != nil || len(left) > 0 {
			t.Fatalf("%s: %v left over, %v", c.name, left, err)
		}
		n := 0
		for i := range sheets {
			var outlines []geom.Region
			for _, sh := range sheets[i].Drawing.Shapes {
				if sh.Layer != cut.Outline {
					continue
				}
				r := geom.RegionOf(sh.Loop)
				b := r.Bound()
				if b.Lo.X < 6-1e-6 || b.Lo.Y < 6-1e-6 || b.Hi.X > 594+1e-6 || b.Hi.Y > 494+1e-6 {
					t.Errorf("%s, %s: a plate lies from %v to %v", c.name, sheets[i].Name, b.Lo, b.Hi)
				}
				for _, o := range outlines {
					// One may lie in a window of the other, which these outlines do not show.
					d := geom.Separation(r, o)
					if geom.ContainsRegion(r, o) || geom.ContainsRegion(o, r) {
						continue
					}
					if d < 3-1e-6 {
						t.Errorf("%s, %s: two plates are %.6f apart", c.name, sheets[i].Name, d)
					}
				}
				outlines = append(outlines, r)
			}
			if len(outlines) != sheets[i].Pieces {
				t.Errorf("%s, %s: %d outlines, %d pieces", c.name, sheets[i].Name, len(outlines), sheets[i].Pieces)
			}
			n += len(outlines)
		}
		if n != want {
			t.Errorf("%s: %d plates on the sheets, want %d", c.name, n, want)
		}
	}
}

func TestStockSheetsRefuse(t *testing.T) {
	printed := layouttest.MustLoad(t, "dryfit: 1\nname: soft\nplates: {base: {material: tpu, thickness: 2, outline: {circle: 50}}}\n")
	if _, _, err := render.StockSheets(printed, render.NestOptions{Sheet: sheetOf(100, 100, 2, 2), Sets: 1}); err == nil || !strings.Contains(err.Error(), "no plate of soft is cut from sheet") {
		t.Errorf("printed plates: %v", err)
	}
	if _, _, err := render.StockSheets(&layout.Assembly{Name: "bare"}, render.NestOptions{Sheet: sheetOf(100, 100, 2, 2), Sets: 1}); err == nil {
		t.Error("no plates, and no error")
	}
	one := layouttest.MustLoad(t, "dryfit: 1\nname: one\nplates: {base: {material: carbon, thickness: 2, outline: {circle: 50}}}\n")
	if _, _, err := render.StockSheets(one, render.NestOptions{Sheet: sheetOf(100, 100, 2, 2), Sets: nest.MaxCopies + 1}); err == nil {
		t.Error("too many sets, and no error")
	}
}
