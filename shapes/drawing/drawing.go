package drawing

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// Drawing is what a file holds: parts, the largest first.
type Drawing struct {
	Parts []Part
	Box   geom.Rect // of all that was read, before anything was dropped; mm
}

// Part is one flat part of a drawing.
type Part struct {
	Name string // "part 1", "part 2", ... in the order of the list

	// Outline is the outer edge, counter-clockwise. It is empty when the edge is not closed;
	// Open then tells where.
	Outline geom.Loop

	// Holes are named "hole 1", ... from the top down and, at the same height, from the left.
	Holes    []Hole
	Patterns []Pattern

	// Open are the loose ends of an edge that does not close, none for a good part.
	Open []OpenEnd

	// Fault tells why the outline is no use for cutting although it closes: it touches itself,
	// or a hole touches it. "" for a good part.
	Fault string

	openBox geom.Rect // of the open edge
}

// Hole is an opening of a part.
type Hole struct {
	Name string
	Loop geom.Loop // counter-clockwise; of a countersunk hole the inner circle

	// Round holes, that is loops within 0.005 mm of a circle, have a diameter and a centre;
	// Diameter is 0 for all other forms, and Center then the centre of area.
	Diameter float64
	Center   r2.Point

	// Rings are the diameters of larger circles about the same centre, ascending: the last is
	// that of a countersink or counterbore. None for a plain hole.
	Rings []float64
}

// Round reports whether the hole is a circle.
func (h Hole) Round() bool { return h.Diameter > 0 }

// Countersink returns the diameter of the largest circle round the hole, 0 without one.
func (h Hole) Countersink() float64 {
	if len(h.Rings) == 0 {
		return 0
	}
	return h.Rings[len(h.Rings)-1]
}

// String describes the hole in short.
func (h Hole) String() string {
	at := fmt.Sprintf("at (%.2f, %.2f)", h.Center.X, h.Center.Y)
	if !h.Round() {
		s := h.Loop.Bound().Size()
		return fmt.Sprintf("%s: %.2f x %.2f mm opening %s", h.Name, s.X, s.Y, at)
	}
	sunk := ""
	if len(h.Rings) > 0 {
		sunk = fmt.Sprintf(", %.2f mm countersink", h.Countersink())
	}
	return fmt.Sprintf("%s: %.2f mm hole%s %s", h.Name, h.Diameter, sunk, at)
}

// OpenEnd is an end that joins nothing.
type OpenEnd struct {
	At   r2.Point // mm
	To   r2.Point // the nearest other open end; At itself when there is none
	Gap  float64  // mm from At to To; +Inf when there is none
	Line int      // line of the file where the piece is drawn, 0 if unknown
}

// String tells where the end is and how far from the next.
func (e OpenEnd) String() string {
	s := fmt.Sprintf("open end at (%.3f, %.3f)", e.At.X, e.At.Y)
	if e.Line > 0 {
		s += fmt.Sprintf(", drawn in line %d", e.Line)
	}
	if math.IsInf(e.Gap, 1) {
		return s + ", with no other open end near"
	}
	return s + fmt.Sprintf(", %.4f mm from the next at (%.3f, %.3f)", e.Gap, e.To.X, e.To.Y)
}

// Closed reports whether the part has an outline.
func (p Part) Closed() bool { return !p.Outline.IsEmpty() }

// Region returns the outline less its holes (countersunk ones with their inner circle);
// the empty region when the outline is not closed. It is not validated: see Fault.
func (p Part) Region() geom.Region {
	if !p.Closed() {
		return geom.Region{}
	}
	holes := make([]geom.Loop, len(p.Holes))
	for i, h := range p.Holes {
		holes[i] = h.Loop
	}
	return geom.RegionOf(p.Outline, holes...)
}

// Box returns the least axis-parallel box of the outline, or of the pieces of an edge that
// does not close.
func (p Part) Box() geom.Rect {
	if !p.Closed() {
		return p.openBox
	}
	return p.Outline.Bound()
}

// Area returns the area of the part in mm², its holes taken off; 0 if it is not closed.
func (p Part) Area() float64 { return p.Region().Area() }

// Hole returns the hole of that name, or nil.
func (p *Part) Hole(name string) *Hole {
	for i := range p.Holes {
		if p.Holes[i].Name == name {
			return &p.Holes[i]
		}
	}
	return nil
}

// String describes the part in one line, as a list to pick from shows it.
func (p Part) String() string {
	s := p.Box().Size()
	holes := plural(len(p.Holes), "hole", "holes")
	if !p.Closed() {
		return fmt.Sprintf("%s: %.2f x %.2f mm, not closed, %s", p.Name, s.X, s.Y, holes)
	}
	return fmt.Sprintf("%s: %.2f x %.2f mm, %.1f mm², %s", p.Name, s.X, s.Y, p.Area(), holes)
}

// Part returns the part of that name, or nil. An empty name means the first, and the only
// one that can be meant when there is one.
func (d *Drawing) Part(name string) *Part {
	for i := range d.Parts {
		if d.Parts[i].Name == name || name == "" {
			return &d.Parts[i]
		}
	}
	return nil
}
