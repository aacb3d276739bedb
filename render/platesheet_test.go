package render_test

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/render"
	"dryfit/shapes"
)

// eachPlateSheet draws the plates of every case on every paper.
func eachPlateSheet(t *testing.T, test func(t *testing.T, c drawn, s render.Sheet)) {
	t.Helper()
	for _, c := range cases(t) {
		for _, p := range papers {
			t.Run(c.name+"-"+p.String(), func(t *testing.T) {
				sheets, err := render.PlateSheets(c.asm, render.Options{Paper: p})
				if err != nil {
					t.Fatal(err)
				}
				for _, s := range sheets {
					test(t, c, s)
				}
			})
		}
	}
}

// With DRYFIT_SHEETS naming a folder the sheets are kept there, to be looked at.
func TestPlateSheetsHaveNoOverlaps(t *testing.T) {
	keep := os.Getenv("DRYFIT_SHEETS")
	eachPlateSheet(t, func(t *testing.T, c drawn, s render.Sheet) {
		for _, k := range render.Overlaps(s.List) {
			t.Errorf("%s: %v", s.Name, k)
		}
		svg, err := s.SVG()
		if err != nil {
			t.Fatal(err)
		}
		if len(svg) > 300<<10 {
			t.Errorf("%s is %d bytes long", s.Name, len(svg))
		}
		for d := xml.NewDecoder(strings.NewReader(string(svg))); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", s.Name, err)
			}
		}
		if keep != "" {
			name := strings.ReplaceAll(t.Name()[strings.Index(t.Name(), "/")+1:], "/", "-")
			if err := os.WriteFile(filepath.Join(keep, name+"-"+s.Name+".svg"), svg, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// strap is a plate of 60 x 40 with four holes of 3 mm 10 and 44 apart, a slot and a notch.
func strapPlate() *layout.Assembly {
	outer, err := geom.Polygon([]r2.Point{{X: -30, Y: -20}, {X: 30, Y: -20}, {X: 30, Y: 20}, {X: 4, Y: 20}, {X: 4, Y: 12}, {X: -4, Y: 12}, {X: -4, Y: 20}, {X: -30, Y: 20}},
		nil)
	if err != nil {
		panic(err)
	}
	pl := &layout.Plate{Component: &layout.Component{ID: "plates.strap", Label: "strap", Kind: "plate"}, Name: "strap", Thickness: dim(2)}
	for _, at := range []r2.Point{xy(22, 5), xy(22, -5), xy(-22, 5), xy(-22, -5)} {
		pl.Holes = append(pl.Holes, layout.Hole{For: "posts.main", At: at, Diameter: dim(3), Loop: geom.Circle(at, 1.5)})
	}
	slot := geom.Capsule(xy(-8.5, -16), xy(8.5, -16), 3)
	pl.Holes = append(pl.Holes, layout.Hole{For: "strap", At: xy(0, -16), Diameter: dim(3), Length: 20, Loop: slot})
	var loops []geom.Loop
	for _, h := range pl.Holes {
		loops = append(loops, h.Loop)
	}
	pl.Solid, pl.Outline = solid(outer), solid(outer, loops...)
	pl.Mass.Grams = layout.Fixed(6.9)
	return &layout.Assembly{Name: "bench", Plates: []*layout.Plate{pl}, Cutting: layout.Cutting{Cutter: dim(2), Kerf: dim(2)}}
}

// What the sheet says of the strap plate, worked out by hand:
//   - least web: 10 between centres less 3 of diameter = 7, at both ends (2x); the slot's end
//     is 10 from the middle and stays clear of the holes by more: its axis ends at (8.5, -16),
//     13.5 and 11 from (22, -5), that is 17.41 less 1.5 twice = 14.41;
//   - least edge: slot axis at -16, half width 1.5, edge at -20: 2.5;
//   - the notch has sharp inside corners; the plate is its own mirror image left and right;
//   - area: 60 x 40 - 8 x 8 of the notch - 4 x 7.0686 - (17 x 3 + 7.0686) = 2249.66;
//   - a cutter of 2 drills holes under 2.3.
func TestPlateSheetTellsWhatWasWorkedOutByHand(t *testing.T) {
	sheets, err := render.PlateSheets(strapPlate(), render.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	for _, s := range allText(sheets) {
		text += s
	}
	for _, want := range []string{"least web 7.00 (2×)", "least edge 2.50\n", "sharp inside corner", "TOP FACE", "60\n", "40\n", "30 to 0", "20 to 0",
		"Area 2250 mm² a piece.", "either face may be up", "under Ø2.3 are drilled", "slot 20 × 3", "Caution: clamp", "1 piece", "Plate drawing"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	if strings.Contains(text, "carbon") {
		t.Error("it warns of carbon, which the plate is not made of")
	}
	if a := render.Profiles(strapPlate())[0].Region(); math.Abs(a.Area()-(2400-64-4*math.Pi*2.25-51-math.Pi*2.25)) > 1e-6 {
		t.Errorf("area %v", a.Area())
	}
}

// Every opening is marked in the view, counted in the table of sizes and placed in the
// table of positions.
func TestEveryOpeningStandsInTheTables(t *testing.T) {
	for _, c := range cases(t) {
		sheets, err := render.PlateSheets(c.asm, render.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range render.Profiles(c.asm) {
			marks, places := map[string]int{}, map[string]int{}
			for _, s := range sheets {
				if s.Name != "plate-"+p.Name && s.Name != "plate-"+p.Name+"-2" && s.Name != "plate-"+p.Name+"-3" {
					continue
				}
				for _, it := range s.List.Items {
					if v, ok := it.(render.Text); ok && v.ID == "places" {
						places[v.S]++
					} else if ok && v.ID == "opening."+v.S {
						marks[v.S]++
					}
				}
			}
			total := 0.0
			for _, o := range p.Openings {
				if marks[o.Label] != 1 || places[o.Label] != 1 {
					t.Errorf("%s, %s: %s is marked %d times and placed %d times", c.name, p.Name, o.Label, marks[o.Label], places[o.Label])
				}
				total += o.Loop.Area()
			}
			pl := p.Plates[0]
			if got, want := p.Outer.Area()-total, pl.Outline[0].Area(); math.Abs(got-want) > 1e-6 {
				t.Errorf("%s, %s: the profile has %v mm², the plate %v", c.name, p.Name, got, want)
			}
		}
	}
}

// A plate turned about a hole off its middle is handed; a countersink makes any plate so.
func TestHandedPlates(t *testing.T) {
	says := func(asm *layout.Assembly) bool {
		sheets, err := render.PlateSheets(asm, render.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return strings.Contains(fmt.Sprint(allText(sheets)), "It is handed")
	}
	if says(strapPlate()) {
		t.Error("the plate is its own mirror image left and right")
	}
	odd := strapPlate()
	pl := odd.Plates[0]
	pl.Outline = solid(pl.Solid[0].Outer, geom.Circle(xy(10, 3), 1.5))
	if !says(odd) {
		t.Error("one hole off both middle lines makes it handed")
	}
	sunk := strapPlate()
	sunk.Plates[0].Holes[0].Sink = &layout.Sink{Diameter: dim(6), Angle: 90, Face: shapes.Bottom, HasFace: true}
	if !says(sunk) {
		t.Error("a countersink makes it handed")
	}
	for _, o := range render.Profiles(sunk)[0].Openings {
		if o.SinkD > 0 && (o.Sink != "countersunk Ø6 × 90°, bottom face" || !o.Under || o.D != 3) {
			t.Errorf("the sunk hole is %+v", o)
		}
	}
}

// The arms of six rotors share a sheet where they are alike, and the pieces add up.
func TestEqualArmsShareAProfile(t *testing.T) {
	for _, c := range cases(t) {
		n := 0
		for _, p := range render.Profiles(c.asm) {
			n += p.Count()
		}
		if n != len(c.asm.Plates) {
			t.Errorf("%s: %d pieces, %d plates", c.name, n, len(c.asm.Plates))
		}
		for _, p := range render.Profiles(c.asm) {
			if c.name == "orchard" && p.Name == "arm" && p.Count() != 6 {
				t.Errorf("the six equal arms of orchard make a profile of %d", p.Count())
			}
		}
	}
}

func TestPlateSheetsRefuse(t *testing.T) {
	if _, err := render.PlateSheets(nil, render.Options{}); err == nil {
		t.Error("nothing was drawn without a complaint")
	}
	if _, err := render.PlateSheets(&layout.Assembly{Name: "bare"}, render.Options{}); err == nil || !strings.Contains(err.Error(), "no plate") {
		t.Errorf("a build without plates: %v", err)
	}
}
