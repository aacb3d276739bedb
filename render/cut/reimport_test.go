package cut_test

import (
	"io/fs"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/examples"
	"dryfit/geom"
	"dryfit/render/cut"
	"dryfit/shapes/drawing"
)

// exported is what a part comes to as a cut file: its outline, holes and countersinks.
func exported(p *drawing.Part) cut.Drawing {
	d := cut.Drawing{Title: p.Name, Shapes: []cut.Shape{{Layer: cut.Outline, Loop: p.Outline}}}
	for _, h := range p.Holes {
		if h.Round() {
			d.Shapes = append(d.Shapes, cut.Circle(cut.Holes, h.Center, h.Diameter))
		} else {
			d.Shapes = append(d.Shapes, cut.Shape{Layer: cut.Holes, Loop: h.Loop})
		}
		for _, r := range h.Rings {
			d.Shapes = append(d.Shapes, cut.Circle(cut.Countersinks, h.Center, r))
		}
	}
	return d
}

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// comesBack writes a part and reads it back in both forms: the same loops within 1e-6 mm, but where an edge is so
// short that its ends are read as one.
func comesBack(t failer, p *drawing.Part) {
	t.Helper()
	d := exported(p)
	within := 1e-6
	for _, s := range p.Outline.Segs() {
		if s.Length() <= drawing.DefaultEndTolerance {
			within = drawing.DefaultEndTolerance
		}
	}
	for name, print := range map[string]func() ([]byte, error){"again.dxf": d.DXF, "again.svg": d.SVG} {
		data, err := print()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got, _, err := drawing.Read(name, data, drawing.Options{})
		if err != nil || len(got.Parts) != 1 {
			t.Fatalf("%s: %v, %v", name, got, err)
		}
		q := &got.Parts[0]
		if e := far(q.Outline, p.Outline); e > within {
			t.Fatalf("%s: the outline is off by %v mm", name, e)
		}
		if len(q.Holes) != len(p.Holes) {
			t.Fatalf("%s: %d holes, want %d", name, len(q.Holes), len(p.Holes))
		}
		for i := range p.Holes {
			least := math.Inf(1)
			for k := range q.Holes {
				if a, b := &p.Holes[i], &q.Holes[k]; a.Round() == b.Round() && math.Abs(a.Countersink()-b.Countersink()) < 1e-6 {
					least = min(least, far(b.Loop, a.Loop))
				}
			}
			if least > 1e-6 {
				t.Fatalf("%s: %v is off by %v mm", name, p.Holes[i], least)
			}
		}
	}
}

// The drawing of the quarry example is read, written and read again.
func TestImportedPartsComeBack(t *testing.T) {
	data, err := fs.ReadFile(examples.Files, "quarry/floor.dxf")
	if err != nil {
		t.Fatal(err)
	}
	d, _, err := drawing.Read("floor.dxf", data, drawing.Options{Unit: "in"})
	if err != nil || len(d.Parts) != 2 {
		t.Fatalf("%v, %v", d, err)
	}
	for i := range d.Parts {
		comesBack(t, &d.Parts[i])
	}
}

// So are plates of any form: bodies with arms at any angle, fillets, holes round and long, plain and sunk.
func TestPlatesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := r2.Point{X: rapid.Float64Range(-400, 400).Draw(t, "x"), Y: rapid.Float64Range(-400, 400).Draw(t, "y")}
		w, h := rapid.Float64Range(30, 120).Draw(t, "w"), rapid.Float64Range(24, 60).Draw(t, "h")
		set := [][]geom.Region{{geom.RegionOf(geom.RoundedRectangle(at, w, h, rapid.Float64Range(0.5, 11).Draw(t, "corner")))}}
		for range rapid.IntRange(0, 3).Draw(t, "arms") {
			sn, cs := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle"))
			end := at.Add(r2.Point{X: cs, Y: sn}.Mul(rapid.Float64Range(70, 130).Draw(t, "reach")))
			set = append(set, []geom.Region{geom.RegionOf(geom.Bar(at, end, 12, 9))}, []geom.Region{geom.RegionOf(geom.Circle(end, 9))})
		}
		union, err := geom.UnionAll(set...)
		if err == nil && rapid.Bool().Draw(t, "fillet") {
			union, err = geom.FilletInside(union, 2)
		}
		if err != nil || len(union) != 1 {
			t.Skip("no plate in one piece")
		}
		p := drawing.Part{Name: "plate", Outline: union[0].Outer.CCW()}
		for _, l := range union[0].Holes {
			p.Holes = append(p.Holes, drawing.Hole{Loop: l.CCW()})
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "holes") {
			c := at.Add(r2.Point{X: float64(i-1) * 8, Y: rapid.Float64Range(-3, 3).Draw(t, "hole y")})
			d := rapid.Float64Range(0.8, 3.4).Draw(t, "d")
			hole := drawing.Hole{Loop: geom.Circle(c, d/2), Center: c, Diameter: d}
			if rapid.Bool().Draw(t, "sunk") {
				hole.Rings = []float64{d * 1.9}
			}
			p.Holes = append(p.Holes, hole)
		}
		comesBack(t, &p)
	})
}
