package cut_test

import (
	"math"
	"testing"

	"dryfit/geom"
	"dryfit/render/cut"
	"dryfit/shapes/drawing"

	"github.com/golang/geo/r2"
)

// far is the greatest distance of any point of a from b and of b from a, sampled on both:
// vertices, and on every piece eight points between.
func far(a, b geom.Loop) float64 {
	worst := 0.0
	for _, pair := range [2][2]geom.Loop{{a, b}, {b, a}} {
		for _, s := range pair[0].Segs() {
			for k := range 9 {
				_, d := pair[1].Nearest(s.At(float64(k) / 9))
				worst = math.Max(worst, d)
			}
		}
	}
	return worst
}

// plate is an outline with arcs of both turns, wide arcs and thirds of millimetres, with
// round holes, a slot, a window and a countersink, off the origin.
func plate(t *testing.T) cut.Drawing {
	t.Helper()
	at := r2.Point{X: 31.0 / 3, Y: -7.0 / 9}
	set, err := geom.UnionAll(
		[]geom.Region{geom.RegionOf(geom.RoundedRectangle(at, 70, 30, 4))},
		[]geom.Region{geom.RegionOf(geom.Circle(at.Add(r2.Point{X: 45, Y: 3}), 14))},
		[]geom.Region{geom.RegionOf(geom.Bar(at, at.Add(r2.Point{X: -50, Y: 33}), 12, 9))})
	if err == nil {
		set, err = geom.FilletInside(set, 3)
	}
	if err != nil || len(set) != 1 {
		t.Fatalf("%d regions, %v", len(set), err)
	}
	return cut.Drawing{Title: "round trip", Shapes: []cut.Shape{
		{Layer: cut.Outline, Loop: set[0].Outer},
		{Layer: cut.Holes, Loop: geom.Capsule(at.Add(r2.Point{X: -12, Y: -9}), at.Add(r2.Point{X: 9, Y: -8}), 3.1)},
		{Layer: cut.Holes, Loop: geom.Rectangle(at.Add(r2.Point{X: 20, Y: 0}), 8, 11)},
		cut.Circle(cut.Holes, at.Add(r2.Point{X: 45, Y: 3}), 20.0/3),
		cut.Circle(cut.Holes, at.Add(r2.Point{X: -20, Y: 0}), 3.2),
		cut.Circle(cut.Countersinks, at.Add(r2.Point{X: -20, Y: 0}), 6),
		{Layer: cut.Engraving, Loop: geom.Rectangle(at, 2, 2)},
	}}
}

// What is written and read back is the same within 1e-6 mm, and once more.
func TestRoundTrip(t *testing.T) {
	d := plate(t)
	for _, f := range []struct {
		name  string
		print func() ([]byte, error)
	}{{"plate.dxf", d.DXF}, {"plate.svg", d.SVG}} {
		t.Run(f.name, func(t *testing.T) {
			data, err := f.print()
			if err != nil {
				t.Fatal(err)
			}
			got, report, err := drawing.Read(f.name, data, drawing.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(report.Warnings) > 0 {
				t.Errorf("warnings: %q", report.Warnings)
			}
			if len(got.Parts) != 1 {
				t.Fatalf("%d parts, want 1", len(got.Parts))
			}
			p := got.Parts[0]
			if p.Fault != "" || len(p.Holes) != 4 {
				t.Fatalf("%s: fault %q", p, p.Fault)
			}
			want := d.Shapes[0].Loop
			if e := far(p.Outline, want); e > 1e-6 {
				t.Errorf("the outline is off by %v mm", e)
			}
			if e := math.Abs(p.Outline.Area() - want.Area()); e > 1e-4 {
				t.Errorf("its area is off by %v mm²", e)
			}
			for _, s := range d.Shapes[1:5] {
				loop, found := s.Loop, false
				if s.R > 0 {
					loop = geom.Circle(s.C, s.R)
				}
				for _, h := range p.Holes {
					if far(h.Loop, loop) > 1e-6 {
						continue
					}
					found = true
					if s.R > 0 && (math.Abs(h.Diameter-2*s.R) > 1e-6 || h.Center.Sub(s.C).Norm() > 1e-6) {
						t.Errorf("hole of %v at %v came back as %v at %v", 2*s.R, s.C, h.Diameter, h.Center)
					}
				}
				if !found {
					t.Errorf("no hole is that about %v", loop.Centroid())
				}
			}
			sunk := 0
			for _, h := range p.Holes {
				if math.Abs(h.Countersink()-6) < 1e-6 {
					sunk++
				}
			}
			if sunk != 1 {
				t.Errorf("%d countersinks of 6, want 1", sunk)
			}
		})
	}
}
