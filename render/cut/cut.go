// Package cut writes outlines for cutters: DXF with entities of release 12, which every
// reader knows, and SVG in millimetres at true size. Arcs stay arcs.
package cut

import (
	"fmt"
	"math"
	"strconv"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// Layers, one a purpose.
const (
	Outline      = "outline"      // the finished edge of the piece
	Holes        = "holes"        // finished edges of holes, slots and cut-outs
	Countersinks = "countersinks" // circles of countersinks and counterbores at their face
	Engraving    = "engraving"    // marks to be scratched, not cut through
	Path         = "tool-path"    // where the middle of the cutter runs
	Drill        = "drill"        // holes for a drill of their own diameter
	Stock        = "sheet"        // the edge of the sheet that pieces are nested on
)

// colours are those of the layers: numbers of the DXF colour index, and the same as sRGB.
var colours = [...]struct {
	layer string
	index int
	rgb   string
}{
	{Outline, 7, "#000000"}, {Holes, 5, "#0000ff"}, {Countersinks, 3, "#007f00"}, {Engraving, 1, "#c00000"},
	{Path, 6, "#a000a0"}, {Drill, 4, "#007f7f"}, {Stock, 8, "#808080"},
}

// Shape is one closed line. A shape with a radius is a circle about C; of others Loop is
// what is drawn.
type Shape struct {
	Layer string
	Loop  geom.Loop
	C     r2.Point
	R     float64 // mm
}

// Circle returns a circle of diameter d mm.
func Circle(layer string, c r2.Point, d float64) Shape { return Shape{Layer: layer, C: c, R: d / 2} }

// Moved returns the shape moved by p.
func (s Shape) Moved(p geom.Pose2) Shape {
	if s.R > 0 {
		s.C = p.Apply(s.C)
	} else {
		s.Loop = s.Loop.Transform(p)
	}
	return s
}

// bound returns the box of a shape.
func (s Shape) bound() geom.Rect {
	if s.R > 0 {
		return geom.Rect{Lo: s.C, Hi: s.C}.Expand(s.R)
	}
	return s.Loop.Bound()
}

// Drawing is what goes into one file: shapes in mm, x to the right and y up, and lines of
// text that say what it is.
type Drawing struct {
	Title  string
	Notes  []string // one line each: stock, count, finished size, cautions
	Shapes []Shape
}

// Box returns the least box of all shapes.
func (d *Drawing) Box() geom.Rect {
	box := geom.EmptyRect()
	for _, s := range d.Shapes {
		box = box.Union(s.bound())
	}
	return box
}

// check refuses what no cutter could follow.
func (d *Drawing) check() error {
	if len(d.Shapes) == 0 {
		return fmt.Errorf("%q holds no shape", d.Title)
	}
	for i, s := range d.Shapes {
		b := s.bound()
		if b.IsEmpty() || !(math.Abs(b.Lo.X)+math.Abs(b.Lo.Y)+math.Abs(b.Hi.X)+math.Abs(b.Hi.Y) < 1e6) {
			return fmt.Errorf("shape %d of %q on layer %s has no size", i+1, d.Title, s.Layer)
		}
		if layerOf(s.Layer) < 0 {
			return fmt.Errorf("shape %d of %q is on a layer %q that there is not", i+1, d.Title, s.Layer)
		}
	}
	return nil
}

func layerOf(name string) int {
	for i, c := range colours {
		if c.layer == name {
			return i
		}
	}
	return -1
}

// used lists the layers that hold something, in their fixed order.
func (d *Drawing) used() []int {
	var out []int
	for i, c := range colours {
		for _, s := range d.Shapes {
			if s.Layer == c.layer {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

// num prints a number with up to nine decimals, so that what is read back is the same
// within 1e-9 mm, without trailing zeros and without a negative zero.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 9, 64)
	n := len(s)
	for s[n-1] == '0' {
		n--
	}
	if s[n-1] == '.' {
		n--
	}
	if s = s[:n]; s == "-0" {
		return "0"
	}
	return s
}
