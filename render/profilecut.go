package render

import (
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/render/cut"
)

// Finished returns the finished profile as a drawing for a cutter: outline, openings,
// countersinks at their faces and, where the plate has room, an arrow to engrave in the top
// face that points to the nose (of arm plates: outwards).
func (p *Profile) Finished(asm *layout.Assembly) cut.Drawing {
	d := cut.Drawing{Title: asm.Name + " plate " + p.Name, Notes: p.cutNotes(asm, "Finished size, not offset for the cutter")}
	d.Shapes = append(d.Shapes, cut.Shape{Layer: cut.Outline, Loop: p.Outer})
	for _, o := range p.Openings {
		d.Shapes = append(d.Shapes, openingShape(cut.Holes, o))
	}
	for _, o := range p.Openings {
		if o.SinkD > o.D {
			d.Shapes = append(d.Shapes, cut.Circle(cut.Countersinks, o.At, o.SinkD))
		}
	}
	if mark, ok := p.noseMark(); ok {
		d.Shapes = append(d.Shapes, cut.Shape{Layer: cut.Engraving, Loop: mark})
	}
	return d
}

func openingShape(layer string, o Opening) cut.Shape {
	if o.D > 0 {
		return cut.Circle(layer, o.At, o.D)
	}
	return cut.Shape{Layer: layer, Loop: o.Loop}
}

// Drawing returns the tool path as a drawing for a cutter: what is drilled, paths in
// openings, and last the path round the outline.
func (t *ToolPath) Drawing(p *Profile, asm *layout.Assembly) cut.Drawing {
	what := fmt.Sprintf("Path of the middle of a cut %s mm wide", figure(t.Width))
	if len(t.Reliefs) > 0 {
		what += fmt.Sprintf(", %d inside corners cut free", len(t.Reliefs))
	}
	d := cut.Drawing{Title: asm.Name + " plate " + p.Name + " tool path", Notes: p.cutNotes(asm, what+"; do not offset it again")}
	for _, o := range t.Drill {
		d.Shapes = append(d.Shapes, openingShape(cut.Drill, o))
	}
	for _, l := range t.Inner {
		d.Shapes = append(d.Shapes, cut.Shape{Layer: cut.Path, Loop: l})
	}
	d.Shapes = append(d.Shapes, cut.Shape{Layer: cut.Path, Loop: t.Outer})
	return d
}

// cutNotes are the lines that go into a file for the cutter.
func (p *Profile) cutNotes(asm *layout.Assembly, what string) []string {
	size := p.Outer.Bound().Size()
	out := []string{
		what + ".",
		fmt.Sprintf("Finished size %s x %s mm. Units are millimetres, scale 1:1, seen on the top face.", figure(size.X), figure(size.Y)),
		"Cut from " + stockOf(p) + ".",
	}
	for _, o := range p.Openings {
		if o.Sink != "" {
			out = append(out, o.Label+" at "+fixed2(o.At.X)+", "+fixed2(o.At.Y)+": "+o.Sink+".")
		}
	}
	return append(out, CuttingCautions(conducts(p.Plates[0]))...)
}

// noseMark is an arrowhead of 4 mm that points along x, on a place that keeps 1.5 mm from
// every edge; ok is false if none was found.
func (p *Profile) noseMark() (mark geom.Loop, ok bool) {
	const half, air = 2.0, 1.5
	region := p.Region()
	box := p.Outer.Bound()
	size := box.Size()
	for _, fy := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		for _, fx := range [...]float64{0.7, 0.6, 0.5, 0.4, 0.3, 0.8, 0.2} {
			c := r2.Point{X: box.Lo.X + fx*size.X, Y: box.Lo.Y + fy*size.Y}
			if geom.DistancePoint(region, c).Dist > -(half*1.2 + air) {
				continue
			}
			l, err := geom.Polygon([]r2.Point{{X: c.X - half, Y: c.Y - half*0.6}, {X: c.X + half, Y: c.Y}, {X: c.X - half, Y: c.Y + half*0.6}}, nil)
			return l, err == nil
		}
	}
	return geom.Loop{}, false
}
