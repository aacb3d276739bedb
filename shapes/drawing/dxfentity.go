package drawing

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"
)

// polyline is one being read: its corners may be things of their own.
type polyline struct {
	kind    string
	layer   int32
	line    int
	flags   int
	plane   plane
	corners []r2.Point
	bulges  []float64
	heights [2]float64 // least and most z
}

// entity handles one thing that draws.
func (r *dxfReader) entity(g *tags) error {
	if g.kind == "VERTEX" && r.poly != nil {
		r.vertex(g)
		return nil
	}
	if err := r.endPolyline(); err != nil {
		return err
	}
	switch g.kind {
	case "SEQEND", "ATTRIB", "":
		return nil // the end of a polyline; words at an insert
	}
	if g.whole(67, 0) == 1 {
		r.skipped["things on the paper, not in the drawing"]++
		return nil
	}
	if g.whole(60, 0) == 1 {
		r.skipped["invisible things"]++
		return nil
	}
	layer := r.layer(utf8Of(g.text(8, "0")))
	how := g.plane()
	draw := func(cs ...curve) error {
		if how == tilted {
			r.tilted++
			r.skipped["things that leave the plane"]++
			return nil
		}
		r.read[strings.ToLower(g.kind)]++
		return r.keep(cs, layer, g.line)
	}
	turned := func(cs []curve) []curve { // from the thing's own axes
		if how == mirrored {
			for i := range cs {
				cs[i] = cs[i].transform(scaling(-1, 1))
			}
		}
		return cs
	}
	at := func(code int) r2.Point { return r2.Point{X: g.real(code, 0), Y: g.real(code+10, 0)} }
	switch g.kind {
	case "LINE":
		how = flat // lines are given in the drawing's axes
		if math.Abs(g.real(30, 0)-g.real(31, 0)) > 1e-6 {
			how = tilted
		}
		return draw(lineTo(at(10), at(11)))
	case "CIRCLE", "ARC":
		radius := math.Abs(g.real(40, 0))
		if !(radius > 0) {
			return r.broken(g, "without a radius")
		}
		if g.kind == "ARC" {
			return draw(turned(arcBetween(at(10), radius, g.real(50, 0), g.real(51, 360)))...)
		}
		c := circleOf(at(10), radius)
		return draw(turned(c[:])...)
	case "ELLIPSE":
		return r.ellipse(g, how, draw)
	case "SPLINE":
		how = flat
		return r.splineOf(g, draw)
	case "LWPOLYLINE":
		r.poly = &polyline{kind: g.kind, layer: layer, line: g.line, flags: g.whole(70, 0), plane: how}
		r.lightPolyline(g)
		return r.endPolyline()
	case "POLYLINE":
		r.poly = &polyline{kind: g.kind, layer: layer, line: g.line, flags: g.whole(70, 0), plane: how}
		if g.real(40, 0) > 0 || g.real(41, 0) > 0 {
			r.wide++
		}
		return nil
	case "INSERT":
		return r.insert(g, layer, how, at(10))
	case "3DFACE", "MESH":
		r.faces++
	case "3DSOLID", "BODY", "SURFACE":
		r.solids++
	}
	r.skipped[skipName(g.kind)]++
	return nil
}

// skipName names what is left out in words; kinds that are not known by their own name.
func skipName(kind string) string {
	switch kind {
	case "TEXT", "MTEXT", "ATTDEF", "RTEXT", "ARCALIGNEDTEXT":
		return "texts"
	case "DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL_DIMENSION", "TOLERANCE":
		return "dimensions"
	case "LEADER", "MLEADER", "MULTILEADER":
		return "leaders"
	case "VIEWPORT":
		return "viewports"
	case "3DSOLID", "BODY", "SURFACE":
		return "solids"
	case "HATCH", "MPOLYGON", "SOLID", "TRACE":
		return "hatches and fills"
	case "3DFACE", "MESH":
		return "mesh faces"
	case "POINT":
		return "points"
	case "IMAGE", "WIPEOUT", "OLEFRAME", "OLE2FRAME":
		return "pictures"
	case "RAY", "XLINE":
		return "endless lines"
	}
	return "things of the kind " + clip(kind)
}

// keep stores curves where things are drawn just now.
func (r *dxfReader) keep(cs []curve, layer int32, line int) error {
	if len(r.into.curves)+len(cs) > r.max {
		return r.tooMany(line)
	}
	for _, c := range cs {
		c.layer, c.line = layer, int32(line)
		r.into.curves = append(r.into.curves, c)
	}
	return nil
}

// broken counts a thing that cannot be drawn.
func (r *dxfReader) broken(g *tags, why string) error {
	r.skipped["broken: "+strings.ToLower(g.kind)+" "+why]++
	if r.lastSkippedPlace == 0 {
		r.lastSkippedPlace = g.line
	}
	return nil
}

func (r *dxfReader) insert(g *tags, layer int32, how plane, at r2.Point) error {
	if how == tilted {
		r.tilted++
		r.skipped["things that leave the plane"]++
		return nil
	}
	turn := rotation(g.real(50, 0))
	m := translation(at.X, at.Y).of(turn).of(scaling(g.real(41, 1), g.real(42, 1)))
	in := dxfInsert{
		block: strings.ToLower(g.text(2, "")), layer: layer, line: g.line,
		cols: max(1, g.whole(70, 1)), rows: max(1, g.whole(71, 1)),
		dx: turn.apply(r2.Point{X: g.real(44, 0)}), dy: turn.apply(r2.Point{Y: g.real(45, 0)}),
	}
	if how == mirrored {
		flip := scaling(-1, 1)
		m, in.dx, in.dy = flip.of(m), flip.apply(in.dx), flip.apply(in.dy)
	}
	in.m = m
	if !m.finite() {
		return r.broken(g, "with sizes out of range")
	}
	r.read["insert"]++
	r.into.inserts = append(r.into.inserts, in)
	return nil
}

// ellipse reads centre, end of the main axis and ratio, all in the drawing's axes; the
// minor axis lies a quarter turn on, seen from the direction of the extrusion.
func (r *dxfReader) ellipse(g *tags, how plane, draw func(...curve) error) error {
	c := r2.Point{X: g.real(10, 0), Y: g.real(20, 0)}
	u := r2.Point{X: g.real(11, 0), Y: g.real(21, 0)}
	ratio := g.real(40, 1)
	v := r2.Point{X: -u.Y * ratio, Y: u.X * ratio}
	if how == mirrored {
		v = v.Mul(-1)
	}
	t0, t1 := g.real(41, 0), g.real(42, 2*math.Pi)
	if !(u.Norm() > 0) || !(ratio > 0) || ratio > 1e6 {
		return r.broken(g, "without size")
	}
	sweep := math.Mod(t1-t0, 2*math.Pi)
	if sweep <= 1e-9 {
		sweep += 2 * math.Pi
	}
	t0 = math.Mod(t0, 2*math.Pi)
	return draw(ellipseOf(c, u, v, t0, t0+sweep)...)
}

func (r *dxfReader) splineOf(g *tags, draw func(...curve) error) error {
	var knots, weights []float64
	var points, pass []r2.Point
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range g.list {
		t := &g.list[i]
		switch t.code {
		case 40:
			knots = append(knots, g.parse(t))
		case 41:
			weights = append(weights, g.parse(t))
		case 10:
			points = append(points, r2.Point{X: g.parse(t)})
		case 20:
			if n := len(points); n > 0 {
				points[n-1].Y = g.parse(t)
			}
		case 11:
			pass = append(pass, r2.Point{X: g.parse(t)})
		case 21:
			if n := len(pass); n > 0 {
				pass[n-1].Y = g.parse(t)
			}
		case 30, 31:
			z := g.parse(t)
			lo, hi = min(lo, z), max(hi, z)
		}
	}
	if hi-lo > 1e-6 {
		r.tilted++
		r.skipped["things that leave the plane"]++
		return nil
	}
	if len(points) == 0 {
		// The directions at both ends, where the file gives them.
		from := r2.Point{X: g.real(12, 0), Y: g.real(22, 0)}
		to := r2.Point{X: g.real(13, 0), Y: g.real(23, 0)}
		var cs []curve
		if g.whole(70, 0)&1 != 0 && len(pass) > 1 {
			cs = throughClosed(pass)
		} else {
			cs = through(pass, from, to)
		}
		if len(cs) == 0 {
			return r.broken(g, "without points")
		}
		return draw(cs...)
	}
	s, why := newNurbs(g.whole(71, 3), knots, points, weights)
	if s == nil {
		return r.broken(g, why)
	}
	return draw(curve{kind: splineCurve, spline: s})
}

func (r *dxfReader) lightPolyline(g *tags) {
	p := r.poly
	if g.real(43, 0) > 0 {
		r.wide++
	}
	wide := false
	for i := range g.list {
		t := &g.list[i]
		n := len(p.corners)
		switch t.code {
		case 10:
			p.corners = append(p.corners, r2.Point{X: g.parse(t)})
			p.bulges = append(p.bulges, 0)
		case 20:
			if n > 0 {
				p.corners[n-1].Y = g.parse(t)
			}
		case 42:
			if n > 0 {
				p.bulges[n-1] = g.parse(t)
			}
		case 40, 41:
			wide = wide || g.parse(t) > 0
		}
	}
	if wide {
		r.wide++
	}
}

// vertex takes one corner of a POLYLINE. Corners that only steer a smoothed line are not
// on it.
func (r *dxfReader) vertex(g *tags) {
	p := r.poly
	if g.whole(70, 0)&16 != 0 {
		return
	}
	z := g.real(30, 0)
	if len(p.corners) == 0 {
		p.heights = [2]float64{z, z}
	}
	p.heights = [2]float64{min(p.heights[0], z), max(p.heights[1], z)}
	p.corners = append(p.corners, r2.Point{X: g.real(10, 0), Y: g.real(20, 0)})
	p.bulges = append(p.bulges, g.real(42, 0))
}

// endPolyline draws the polyline read so far, if any.
func (r *dxfReader) endPolyline() error {
	p := r.poly
	r.poly = nil
	if p == nil {
		return nil
	}
	const closed, mesh = 1, 16 | 64
	switch {
	case p.flags&mesh != 0:
		r.faces++
		r.skipped["mesh faces"]++
		return nil
	case p.plane == tilted || p.heights[1]-p.heights[0] > 1e-6:
		r.tilted++
		r.skipped["things that leave the plane"]++
		return nil
	case len(p.corners) < 2:
		r.skipped["polylines of one point"]++
		return nil
	}
	n := len(p.corners)
	var cs []curve
	for i := range p.corners {
		if i == n-1 && p.flags&closed == 0 {
			break
		}
		a, b, bulge := p.corners[i], p.corners[(i+1)%n], p.bulges[i]
		if a == b {
			continue // a repeated corner
		}
		if !(math.Abs(bulge) <= 1e6) {
			r.skipped["arcs with a bulge out of range"]++
			continue
		}
		c := arcTo(a, b, bulge)
		if p.plane == mirrored {
			c = c.transform(scaling(-1, 1))
		}
		cs = append(cs, c)
	}
	r.read[strings.ToLower(p.kind)]++
	return r.keep(cs, p.layer, p.line)
}
