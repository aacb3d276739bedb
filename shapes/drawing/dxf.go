package drawing

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"
)

// dxfReader reads a DXF text: sections in any order, each optional but ENTITIES.
type dxfReader struct {
	*collector
	scan   *tagScanner
	state  map[string]layerState
	blocks map[string]*dxfBlock
	top    dxfBlock  // ENTITIES
	into   *dxfBlock // where things are drawn just now, nil outside
	poly   *polyline // a POLYLINE whose vertices are being read
	sunits int       // $INSUNITS, -1 without
}

type layerState struct{ off, frozen bool }

// dxfBlock is what a BLOCK holds, or the ENTITIES section.
type dxfBlock struct {
	base    r2.Point
	curves  []curve
	inserts []dxfInsert
}

// dxfInsert is a block put somewhere.
type dxfInsert struct {
	block      string
	m          affine // without the block's base
	layer      int32
	line       int
	cols, rows int
	dx, dy     r2.Point
}

// readDXF reads all things that the file draws into c.
func readDXF(c *collector, data []byte) error {
	r := &dxfReader{
		collector: c, scan: newTagScanner(c.name, data),
		state: map[string]layerState{}, blocks: map[string]*dxfBlock{}, sunits: -1,
	}
	if err := r.sections(); err != nil {
		return err
	}
	r.setUnit()
	return r.expand(&r.top, identity(), -1, 0)
}

func (r *dxfReader) sections() error {
	section, seen, ended, line := "", 0, false, 1
	var g tags
	// Things are handled when the next 0 shows that they are complete.
	flush := func() error {
		if g.kind == "" {
			return nil
		}
		err := r.thing(section, &g)
		if err == nil {
			err = g.err
		}
		return err
	}
	for {
		t, ok, err := r.scan.tag()
		if err != nil {
			return err
		}
		if !ok {
			break
		}
		line = t.line
		if t.code == 999 {
			continue // a comment
		}
		if t.code != 0 {
			switch {
			case g.kind == "" && seen == 0:
				return notDXF(r.name, t.line)
			case section == "HEADER":
				r.header(&g, t)
			default:
				g.list = append(g.list, t)
			}
			continue
		}
		if err := flush(); err != nil {
			return err
		}
		kind := strings.ToUpper(strings.TrimSpace(t.text))
		g = tags{kind: kind, line: t.line, list: g.list[:0], name: r.name}
		switch kind {
		case "SECTION":
			name, ok, err := r.scan.tag()
			if err != nil {
				return err
			}
			if !ok || name.code != 2 {
				return truncated(r.name, t.line, "a section without a name begins here")
			}
			section = strings.ToUpper(strings.TrimSpace(name.text))
			seen++
			g.kind = ""
			r.into = nil
			if section == "ENTITIES" {
				r.into = &r.top
			}
		case "ENDSEC":
			if err := r.endPolyline(); err != nil {
				return err
			}
			section, g.kind = "", ""
		case "EOF":
			if section != "" {
				return truncated(r.name, t.line, "the file ends within its "+clip(section)+" section")
			}
			ended, g.kind = true, ""
		default:
			if seen == 0 {
				return notDXF(r.name, t.line)
			}
		}
		if ended {
			break
		}
	}
	switch {
	case seen == 0:
		return notDXF(r.name, 1)
	case section != "":
		return truncated(r.name, line, "the file ends within its "+clip(section)+" section")
	case !ended:
		r.rep.warn("the file has no end mark; check that nothing is missing")
	}
	return nil
}

func notDXF(name string, line int) *Fault {
	return fault(name, line, "this is not a DXF file: it does not begin with a section",
		"a DXF or SVG file", "export the outline as DXF or SVG")
}

// header takes the variable that hints at the unit; g.kind holds the name of the last
// variable here.
func (r *dxfReader) header(g *tags, t tag) {
	if t.code == 9 {
		g.kind = strings.ToUpper(strings.TrimSpace(t.text))
		return
	}
	if t.code != 70 {
		return
	}
	one := tags{name: r.name, list: []tag{t}}
	switch g.kind {
	case "$INSUNITS":
		r.sunits = one.whole(70, -1)
	}
}

// setUnit decides what one unit of the file is, from the builder's word or the header.
func (r *dxfReader) setUnit() {
	names := map[int]string{1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 9: "mil"}
	r.mmPerOne, r.unit, r.unitFrom = 1, "mm", "assumed: the file does not say"
	if r.sunits == 0 {
		r.unitFrom = "assumed: the file says it has no unit"
	}
	if unit, ok := names[r.sunits]; ok {
		r.unit, r.unitFrom = unit, "by the file's header, which is often wrong"
	} else if r.sunits > 0 {
		r.rep.warn("the file's header names a unit (number %d) that no plate is drawn in; millimetres are assumed", r.sunits)
	}
	if r.opt.Unit != "" {
		r.unit, r.unitFrom = r.opt.Unit, "as given"
	}
	r.mmPerOne, _ = unitSize(r.unit, r.opt.DPI)
}

// thing handles one complete thing of a section.
func (r *dxfReader) thing(section string, g *tags) error {
	switch section {
	case "TABLES":
		if g.kind == "LAYER" {
			// A negative colour is a layer switched off, the first bit a frozen one.
			name := strings.ToLower(g.text(2, ""))
			r.state[strings.Clone(name)] = layerState{off: g.whole(62, 7) < 0, frozen: g.whole(70, 0)&1 != 0}
		}
		return nil
	case "BLOCKS":
		switch g.kind {
		case "BLOCK":
			b := &dxfBlock{base: r2.Point{X: g.real(10, 0), Y: g.real(20, 0)}}
			r.into = b
			name := strings.ToLower(g.text(2, g.text(3, "")))
			if r.blocks[name] == nil {
				r.blocks[strings.Clone(name)] = b
			}
			return nil
		case "ENDBLK":
			err := r.endPolyline()
			r.into = nil
			return err
		}
	case "ENTITIES":
	default:
		return nil
	}
	if r.into == nil {
		return nil
	}
	return r.entity(g)
}

// expand draws a block under m into the collector. Things on layer 0 of a block are on the
// layer of its insertion.
func (r *dxfReader) expand(b *dxfBlock, m affine, on int32, depth int) error {
	for i := range b.curves {
		v := b.curves[i]
		layer := r.inherit(v.layer, on)
		if !r.shown(layer, false) {
			continue
		}
		v.layer = layer
		line := v.line
		if err := r.add(v.transform(m), int(line)); err != nil {
			return err
		}
	}
	for i := range b.inserts {
		in := &b.inserts[i]
		layer := r.inherit(in.layer, on)
		if !r.shown(layer, true) {
			continue
		}
		if depth == MaxInsertDepth {
			return fault(r.name, in.line, "blocks lie within blocks more than 16 deep, or a block holds itself",
				"a drawing of one plate", "explode the blocks before exporting")
		}
		block := r.blocks[in.block]
		if block == nil {
			r.skipped["inserts of blocks that the file lacks"]++
			continue
		}
		for row := range in.rows {
			for col := range in.cols {
				if err := r.visit(in.line); err != nil {
					return err
				}
				shift := in.dx.Mul(float64(col)).Add(in.dy.Mul(float64(row)))
				n := translation(shift.X, shift.Y).of(in.m).of(translation(-block.base.X, -block.base.Y))
				if err := r.expand(block, m.of(n), layer, depth+1); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (r *dxfReader) inherit(layer, on int32) int32 {
	if on >= 0 && r.layers[layer] == "0" {
		return on
	}
	return layer
}

// shown reports whether things on the layer are read. A block on a layer that is only
// switched off still shows what it holds on other layers.
func (r *dxfReader) shown(layer int32, block bool) bool {
	name := r.layers[layer]
	s := r.state[strings.ToLower(name)]
	switch {
	case s.frozen || s.off && !block:
		r.hidden++
		r.skipped["things on layers that are off or frozen"]++
		return false
	case block:
		return true
	case !r.opt.wants(name):
		r.skipped["things on layers that were not asked for"]++
		return false
	}
	return true
}

// plane is how a thing lies in space, by its extrusion direction.
type plane int

const (
	flat     plane = iota // seen from above
	mirrored              // seen from below: x runs the other way
	tilted
)

// plane returns that of the thing. Direction (0, 0, -1), also written with -0, makes the
// thing's x axis point the other way (the arbitrary axis rule).
func (g *tags) plane() plane {
	x, y, z := g.real(210, 0), g.real(220, 0), g.real(230, 1)
	n := math.Sqrt(x*x + y*y + z*z)
	switch {
	case !(n > 0) || math.Hypot(x, y) > 1e-6*n:
		return tilted
	case z < 0:
		return mirrored
	}
	return flat
}
