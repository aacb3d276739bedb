package render_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/geom"
	"dryfit/render"
)

// strokes are the lines and arcs of a sheet with one ID.
func strokes(s render.Sheet, id string) []geom.Seg {
	var out []geom.Seg
	for _, it := range s.List.Items {
		switch v := it.(type) {
		case render.Line:
			if v.ID == id {
				out = append(out, geom.Seg{A: v.A, B: v.B})
			}
		case render.Arc:
			if v.ID == id {
				out = append(out, geom.Seg{A: v.A, B: v.B, Bulge: v.Bulge})
			}
		case render.Path:
			if v.ID == id {
				for i := range v.V {
					out = append(out, geom.Seg{A: v.V[i].P, B: v.V[(i+1)%len(v.V)].P, Bulge: v.V[i].Bulge})
				}
			}
		}
	}
	return out
}

// Templates are true to size, labels stand apart, and nothing leaves the border.
func TestTemplatesOfAllCases(t *testing.T) {
	keep := os.Getenv("DRYFIT_SHEETS")
	for _, c := range cases(t) {
		for _, p := range papers {
			sheets, err := render.TemplateSheets(c.asm, render.Options{Paper: p})
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range sheets {
				for _, k := range render.Overlaps(s.List) {
					t.Errorf("%s, %s, %s: %v", c.name, p, s.Name, k)
				}
				for _, g := range strokes(s, "plate.outline") {
					if b := g.Bound(); b.Lo.X < 20 || b.Lo.Y < 10 || b.Hi.X > s.List.W-10 || b.Hi.Y > s.List.H-10 {
						t.Errorf("%s, %s, %s: the outline leaves the border at %v", c.name, p, s.Name, b)
					}
				}
				svg, err := s.SVG()
				if err != nil {
					t.Fatal(err)
				}
				if keep != "" {
					if err := os.WriteFile(filepath.Join(keep, c.name+"-"+p.String()+"-"+s.Name+".svg"), svg, 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
			// A single sheet has the whole edge, at true length.
			for _, pr := range render.Profiles(c.asm) {
				for _, s := range sheets {
					if s.Name != "template-"+pr.Name {
						continue
					}
					long := 0.0
					for _, g := range strokes(s, "plate.outline") {
						long += g.Length()
					}
					if math.Abs(long-pr.Outer.Perimeter()) > 1e-6 {
						t.Errorf("%s, %s: the outline is %v mm long on paper, %v in the plate", c.name, pr.Name, long, pr.Outer.Perimeter())
					}
				}
			}
		}
	}
}

// The bars are 100 mm long on paper: from the first to the last of eleven ticks.
func TestCheckBarsAreTrue(t *testing.T) {
	sheets, err := render.TemplateSheets(strapPlate(), render.Options{})
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	level, upright := 0, 0
	for _, g := range strokes(sheets[0], "check-bars") {
		switch d := g.B.Sub(g.A); {
		case math.Abs(math.Abs(d.X)-100) < 1e-9 && d.Y == 0:
			level++
		case math.Abs(math.Abs(d.Y)-100) < 1e-9 && d.X == 0:
			upright++
		}
	}
	if level != 1 || upright != 1 {
		t.Errorf("%d level and %d upright bars of 100 mm", level, upright)
	}
	text := allText(sheets)[sheets[0].Name]
	for _, want := range []string{"Print at 100 %", "top face up", "A1 Ø3", "Caution: clamp"} {
		if !strings.Contains(text, want) {
			t.Errorf("the template does not say %q", want)
		}
	}
}

// A plate of 500 x 60 on A4 takes three sheets across: 165 mm of room, 12 of overlap, so
// 165 + 2 x 153 = 471 are too few for 506 with air, and four give 624. Every mark at a joint
// stands on both sheets, and each hole has its cross on at least one.
func TestLargePlatesGoOnSeveralSheets(t *testing.T) {
	asm := strapPlate()
	pl := asm.Plates[0]
	holes := []geom.Loop{}
	for _, x := range []float64{-240, -80, 0, 80, 240} {
		holes = append(holes, geom.Circle(xy(x, 0), 1.5))
	}
	pl.Holes = nil
	pl.Solid = solid(geom.Rectangle(xy(0, 0), 500, 60))
	pl.Outline = solid(pl.Solid[0].Outer, holes...)
	sheets, err := render.TemplateSheets(asm, render.Options{Paper: render.A4})
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) != 4 {
		t.Fatalf("%d sheets, want 4", len(sheets))
	}
	joins, crosses, edge := map[string]int{}, map[string]bool{}, 0.0
	for _, s := range sheets {
		on := map[string]bool{}
		for _, it := range s.List.Items {
			switch v := it.(type) {
			case render.Circle:
				on[v.ID] = true
			case render.Line:
				if strings.HasPrefix(v.ID, "opening.") && v.B.Sub(v.A).Norm() > 4.9 {
					crosses[v.ID] = true
				}
			}
		}
		for id := range on {
			joins[id]++
		}
		for _, g := range strokes(s, "plate.outline") {
			edge += g.Length()
		}
		for _, k := range render.Overlaps(s.List) {
			t.Errorf("%s: %v", s.Name, k)
		}
	}
	if len(joins) != 6 {
		t.Errorf("%d marks at joints, want two at each of three", len(joins))
	}
	for id, n := range joins {
		if n != 2 {
			t.Errorf("%s stands on %d sheets", id, n)
		}
	}
	if len(crosses) != 5 {
		t.Errorf("%d of 5 holes have their cross", len(crosses))
	}
	// The edge is 1120 mm long; in each of the three overlaps both long sides are drawn twice.
	if want := 1120 + 3*2*12.0; math.Abs(edge-want) > 1e-6 {
		t.Errorf("%v mm of edge are drawn, want %v", edge, want)
	}
}
