package drawing

import (
	"fmt"
	"math"

	"dryfit/geom"
)

// Read reads the outlines in a DXF or SVG file. The content decides which it is; name is
// for messages only.
//
// The drawing has at least one part when the error is nil. A part whose edge does not close
// is among them, with the place and width of each gap and with its holes ([Part.Open]). The
// report is never nil, and complete as far as the reading came, also on errors.
//
// An error is a [*Fault] and one sentence: the file is no drawing, breaks off, is over a
// limit, or holds no outline (a view in three dimensions, artwork, a mesh).
//
// Reading takes time about in proportion to the size of the file, and never more than 64 MiB
// and 500 bytes for each of its bytes.
func Read(name string, data []byte, opt Options) (*Drawing, *Report, error) {
	rep := &Report{Name: name}
	opt, err := opt.filled()
	if err != nil {
		return nil, rep, err
	}
	if len(data) > MaxBytes {
		return nil, rep, fault(name, 0, fmt.Sprintf("the file has %d bytes, over the limit of %d (16 MiB)", len(data), MaxBytes),
			"the outline of a plate, which is rarely over 1 MB", "export the outline alone")
	}
	if rep.Format, err = sniff(name, data); err != nil {
		return nil, rep, err
	}
	c := newCollector(name, len(data), &opt, rep)
	if rep.Format == dxfFormat {
		err = readDXF(c, data)
	} else {
		err = readSVG(c, data)
	}
	c.report()
	if err != nil {
		return nil, rep, err
	}
	if err := c.plausible(); err != nil {
		return nil, rep, err
	}
	d, err := c.build()
	if err != nil {
		return nil, rep, err
	}
	warnings(d, rep, &opt)
	return d, rep, nil
}

// report copies what the reader counted.
func (c *collector) report() {
	r := c.rep
	r.Unit, r.UnitFrom, r.MMPerOne = c.unit, c.unitFrom, c.mmPerOne*c.opt.Scale
	r.Read, r.Skipped = c.read.list(), c.skipped.list()
	layers := tally{}
	for i := range c.curves {
		layers[c.layers[c.curves[i].layer]]++
	}
	for _, l := range layers.list() {
		if l.What != "" {
			r.Layers = append(r.Layers, l)
		}
	}
	if c.lastSkippedPlace > 0 {
		r.warn("something broken was left out, the first in line %d: check that nothing of the outline is missing", c.lastSkippedPlace)
	}
	if c.dpiHint != "" {
		r.warn("%s", c.dpiHint)
	}
}

// plausible tells what is no outline by what it is made of.
func (c *collector) plausible() error {
	drawn := 0
	for _, n := range c.read {
		drawn += n
	}
	switch {
	case c.faces > 0 && c.faces*2 > drawn:
		return fault(c.name, 0, "this is a 3D mesh, which has no outline", "a flat drawing", "export the flat face of the plate as DXF or SVG")
	case c.tilted > 0 && c.tilted*4 > drawn:
		return fault(c.name, 0, fmt.Sprintf("this is a view in three dimensions: %d of its %d lines leave the plane", c.tilted, drawn+c.tilted),
			"a flat drawing, seen straight from above", "export the flat face of the plate, or project it onto the plane first")
	case c.solids > 0 && len(c.curves) == 0:
		return fault(c.name, 0, "the file holds a 3D solid and no lines", "a flat drawing", "export the flat face of the plate as DXF or SVG")
	case c.wide > 5 && c.wide*2 > drawn:
		return fault(c.name, 0, fmt.Sprintf("this is circuit artwork: %d of its %d lines are strokes with a width of their own", c.wide, drawn),
			"lines without width along the edge", "export the layer that holds the edge of the board alone")
	case len(c.curves) == 0 && c.hidden > 0:
		return fault(c.name, 0, "all that the file draws is hidden or on layers that are off", "a visible outline", "switch the layer of the outline on, or name it")
	case len(c.curves) == 0 && len(c.opt.Layers) > 0:
		return fault(c.name, 0, "nothing is drawn on the layers asked for", "layers of the file", "read it without naming layers to see which there are")
	case len(c.curves) == 0:
		what := "the file draws no lines"
		if s := c.skipped.list(); len(s) > 0 {
			what += fmt.Sprintf(", only %s", s[0].What)
		}
		return fault(c.name, 0, what, "an outline of lines, arcs and curves", "export the outline alone, with text turned into lines left out")
	}
	return nil
}

// build goes from curves in the file's unit to parts in mm.
func (c *collector) build() (*Drawing, error) {
	ch := &c.rep.Changes
	segs, lines, box, err := c.flatten()
	if err != nil {
		return nil, err
	}
	c.rep.Size = box.Size()
	ch.Pieces = len(segs)
	n := weld(segs, lines, c.opt.EndTolerance, ch, c.name)
	n.dropDoublePieces()
	if err := n.meetAll(); err != nil {
		return nil, err
	}
	pieces := len(n.pieces)
	n.cutUp()
	ch.OnOthers = n.dropDoubles()
	ch.Touches = max(0, len(n.edges)+ch.OnOthers-pieces-2*ch.Crossings)
	n.dropCrumbs()
	open, dead := n.prune()
	if err := c.artwork(open); err != nil {
		return nil, err
	}
	blocks := n.blocks()
	if len(blocks) > maxRings {
		return nil, fault(c.name, 0, fmt.Sprintf("the drawing holds %d loops", len(blocks)), "the outline of a plate, which has some hundreds", "export the outline alone")
	}
	var rings []ring
	var largest outline
	for _, b := range blocks {
		o, ok := n.outlineOf(b)
		if !ok {
			ch.Slivers++
			continue
		}
		ch.Inner += o.inner
		if o.loop.Area() > largest.loop.Area() {
			largest = o
		}
		rings = append(rings, newRing(o.loop, ch))
	}
	if largest.faces > 20 && largest.across > largest.loop.Perimeter() {
		return nil, fault(c.name, 0, fmt.Sprintf("this looks like a view or artwork: its outline is crossed by lines that part it into %d fields", largest.faces),
			"the outer edge and the holes alone", "export the flat face of the plate, without the lines of other faces and without text")
	}
	rings = nest(rings)
	parts, marks := openParts(open, rings)
	for _, m := range marks {
		ch.DeadEnds += m.edges
		if m.length > ch.LongestEnd {
			ch.LongestEnd, ch.EndAt = m.length, m.ends[0].At
		}
	}
	d := &Drawing{Parts: assemble(rings, parts, ch), Box: box}
	if len(d.Parts) == 0 {
		return nil, fault(c.name, 0, "nothing in this file closes to a loop", "an outer edge and holes", "check that the right file was exported, and its unit")
	}
	if len(dead) > 0 && dead[0].length > 2 {
		c.rep.warn("a line of %.2f mm leads nowhere, to (%.3f, %.3f); if it is part of an edge, close the gap there", dead[0].length, dead[0].tip.X, dead[0].tip.Y)
	}
	return d, nil
}

// flatten makes lines and arcs in mm of all curves.
func (c *collector) flatten() (segs []geom.Seg, lines []int32, box geom.Rect, err error) {
	box = geom.EmptyRect()
	k := c.mmPerOne * c.opt.Scale
	ch := &c.rep.Changes
	segs = make([]geom.Seg, 0, len(c.curves))
	lines = make([]int32, 0, len(c.curves))
	most := c.max + 4*len(c.curves)
	for i := range c.curves {
		v := c.curves[i]
		if k != 1 { // mm stay as they are written
			v = v.transform(scaling(k, k))
		}
		if !v.ok() {
			return nil, nil, box, fault(c.name, int(v.line), fmt.Sprintf("at %.6g mm a unit this reaches beyond 10 km", k), "the outline of a plate",
				"check the unit and the scale")
		}
		before := len(segs)
		full := !v.segments(c.opt.CurveTolerance, func(s geom.Seg) bool {
			if s.A == s.B {
				return true
			}
			segs, lines = append(segs, s), append(lines, v.line)
			return len(segs) <= most
		})
		if full {
			return nil, nil, box, c.tooMany(int(v.line))
		}
		if v.kind != segCurve {
			ch.Curves++
			ch.CurveArcs += len(segs) - before
		}
	}
	for i, s := range segs {
		b := s.Bound()
		box = box.Union(b)
		if !(math.Max(math.Max(-b.Lo.X, -b.Lo.Y), math.Max(b.Hi.X, b.Hi.Y)) <= geom.MaxCoord) {
			return nil, nil, box, fault(c.name, int(lines[i]), "an arc reaches beyond 10 km", "the outline of a plate", "check the unit and the scale")
		}
	}
	if len(segs) == 0 {
		return nil, nil, box, fault(c.name, 0, "all lines in the file are points", "an outline", "check the unit and the scale")
	}
	return segs, lines, box, nil
}

// artwork refuses a drawing that is mostly loose strokes.
func (c *collector) artwork(open []openChain) error {
	if len(open) > 200 {
		return fault(c.name, 0, fmt.Sprintf("the drawing holds %d loose strokes that close to nothing: this is artwork, not an outline", len(open)),
			"an outer edge and holes that close", "export the layer that holds the edge alone")
	}
	return nil
}
