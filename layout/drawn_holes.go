package layout

import (
	"math"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// DrawnSinks says what the circles round the holes of an outline file are: the drawing
// shows their diameter alone.
type DrawnSinks struct {
	None    bool        // they are no sinks: washers, marks
	Angle   float64     // degrees, full angle of countersinks; 0: counterbores
	Depth   *shapes.Dim // mm, of counterbores; nil for countersinks
	Face    shapes.Face // when HasFace; else the side of the screws' heads
	HasFace bool
	Given   bool // the build says so; else countersinks of the usual angle are assumed
}

// usualSinkAngle is the full angle in degrees of countersinks for metric flat heads, 90° by
// ISO 10642.
const usualSinkAngle = 90.0

const sinksForm = "sinks: {face: bottom, angle: 90 deg} or {face: top, depth: 1.5} or none"

// drawnSinks reads what the build says of the circles.
func (d *decoder) drawnSinks(n *read.Node, plate string) DrawnSinks {
	s := DrawnSinks{Angle: usualSinkAngle}
	if n == nil {
		return s
	}
	s.Given = true
	if n.Kind() == read.Scalar && n.Raw() == "none" {
		s.None = true
		return s
	}
	if n.Kind() != read.Map {
		d.diags.At(n, "the circles round holes are not "+n.Describe(), sinksForm, "")
		return s
	}
	f := d.diags.Fields(n, "the sinks of an outline")
	if !f.OK() {
		return s
	}
	depth, angle := f.Get("depth"), f.Get("angle")
	s.Angle = d.angleOf(angle, shapes.AngleDeg().Between(60, 150), usualSinkAngle)
	if depth != nil {
		s.Depth, s.Angle = d.dim(depth, plate+" counterbore depth", shapes.SizeMM().Between(0.1, 30)), 0
		if s.Depth != nil && s.Depth.Missing {
			s.None = true // nothing can be cut
		}
		if angle != nil {
			d.diags.AtRelated(angle, "sinks have a depth or an angle, not both", "", "delete one of the two", read.Related{Pos: depth.Pos(), Text: "the depth"})
		}
	}
	if face := f.Get("face"); face != nil {
		word, ok := d.diags.Enum(face, "top", "bottom")
		s.HasFace = ok
		if word == "bottom" {
			s.Face = shapes.Bottom
		}
	}
	f.Done()
	return s
}

// drawnSizes makes dimensions of the diameters in a file. Holes of one size share one
// dimension: one drill makes them.
type drawnSizes struct {
	plate string
	pos   read.Pos
	have  []*shapes.Dim
}

func (s *drawnSizes) of(what string, diameter float64) *shapes.Dim {
	name := s.plate + " " + what + " Ø" + mm(diameter)
	for _, d := range s.have {
		if d.Name == name && math.Abs(d.Value-diameter) < 1e-6 {
			return d
		}
	}
	d := &shapes.Dim{Name: name, Value: diameter, Unit: shapes.MM, Source: shapes.Given, Pos: s.pos}
	s.have = append(s.have, d)
	return d
}

// drawnSink makes the sink of a hole of the file; holes with circles of one size share it.
func (d *driller) drawnSink(diameter *shapes.Dim, s *DrawnSinks) *Sink {
	own := d.dim(diameter)
	for i := range d.out {
		if k := d.out[i].Sink; k != nil && k.Diameter == own {
			return k
		}
	}
	k := &Sink{Diameter: own, Angle: s.Angle, Face: s.Face, HasFace: s.HasFace, Assumed: !s.Given}
	if s.Depth != nil {
		c := *s.Depth
		fillTol(&c, tolCut)
		k.Depth = &c
	}
	return k
}

// fileHoles adds the round holes of the plate's outline file. One that lies where an
// entry of the build has a hole already, within 0.1 mm, takes that one's place and keeps
// what it is for.
func (d *driller) fileHoles() {
	file := d.lvl.spec.Drawn
	if file == nil {
		return
	}
	const same = 0.1 // mm: how far holes of real files lie from their nominal places
	spec := HoleSpec{Name: "file", Pos: d.lvl.spec.Outline.Pos}
	d.spec, d.n = &spec, 0
	entries := len(d.out)
	for _, h := range file.Holes {
		at := h.At.Add(d.lvl.spec.Shift.P)
		if d.arm != nil {
			at = d.arm.armFrame().Apply(at)
		}
		own := d.next("")
		for i := range d.out[:entries] {
			if d.out[i].Length <= 0 && d.out[i].At.Sub(at).Norm() < same {
				d.n--
				own = d.out[i]
				d.out = append(d.out[:i], d.out[i+1:]...)
				entries--
				break
			}
		}
		own.At, own.Diameter = at, d.dim(h.Diameter)
		own.Loop = geom.Circle(at, value(own.Diameter)/2)
		if h.Sink != nil && own.Sink == nil {
			own.Sink = d.drawnSink(h.Sink, &file.Sinks)
		}
		d.out = append(d.out, own)
	}
}
