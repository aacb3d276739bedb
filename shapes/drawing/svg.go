package drawing

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"
)

// svgReader draws the tree of an SVG file into the collector, y turned upwards.
type svgReader struct {
	*collector
	ids   map[string]*element
	rules rules
	w, h  float64 // to which percentages refer, user units
}

// readSVG reads all shapes that the file shows into c.
func readSVG(c *collector, data []byte) error {
	root, err := parseXML(c.name, data)
	if err != nil {
		return err
	}
	r := &svgReader{collector: c, ids: map[string]*element{}, rules: rules{}}
	r.gather(root)
	var tall float64
	r.w, r.h, tall = c.setSVGUnit(root)
	st, hidden := r.rules.of(root, look{fill: "black", stroke: "none", layer: c.layer("")})
	if hidden {
		return fault(c.name, root.line, "the whole drawing is hidden (display: none)", "a visible drawing", "show it before exporting")
	}
	for _, kid := range root.kids {
		if err := r.draw(kid, scaling(1, -tall), st, 0); err != nil {
			return err
		}
	}
	return nil
}

// gather notes ids and style sheets of the whole tree, whose depth is bounded.
func (r *svgReader) gather(e *element) {
	if id := e.attr("id"); id != "" && r.ids[id] == nil {
		r.ids[id] = e
	}
	if e.name == "style" {
		r.rules.addSheet(e.text)
	}
	for _, kid := range e.kids {
		r.gather(kid)
	}
}

// draw draws an element under m; uses counts the uses that led here.
func (r *svgReader) draw(e *element, m affine, up look, uses int) error {
	if err := r.visit(e.line); err != nil {
		return err
	}
	switch e.name {
	case "defs", "style", "script", "metadata", "title", "desc", "namedview", "linearGradient", "radialGradient", "filter":
		return nil
	case "symbol", "clipPath", "marker", "mask", "pattern":
		r.skipped[map[string]string{
			"symbol": "symbols", "clipPath": "clip paths", "marker": "markers", "mask": "masks", "pattern": "patterns",
		}[e.name]]++
		return nil
	case "text", "textPath", "flowRoot", "tspan":
		r.skipped["texts"]++
		return nil
	case "image", "foreignObject":
		r.skipped["pictures"]++
		return nil
	}
	st, hidden := r.rules.of(e, up)
	if hidden {
		r.hidden++
		r.skipped["hidden groups and shapes"]++
		return nil
	}
	if t := e.attr("transform"); t != "" {
		n, ok := parseTransform(t)
		if !ok {
			return fault(r.name, e.line, "the transform "+clip(t)+" cannot be read", "matrix, translate, scale, rotate, skewX or skewY with their numbers", "")
		}
		m = m.of(n)
	}
	if !m.finite() {
		return fault(r.name, e.line, "the transforms here blow up beyond all numbers", "a drawing of one plate", "")
	}
	switch e.name {
	case "g", "a", "switch":
		if e.name == "g" {
			if name := e.attr("label"); name != "" {
				st.layer = r.layer(name)
			} else if name := e.attr("id"); name != "" {
				st.layer = r.layer(name)
			}
		}
		return r.kids(e, m, st, uses)
	case "svg":
		return r.kids(e, m.of(r.viewport(e, e.attr("width"), e.attr("height"), true)), st, uses)
	case "use":
		return r.use(e, m, st, uses)
	}
	paths, ok, err := r.shape(e)
	if err != nil || !ok {
		return err
	}
	return r.stroke(e, m, st, paths)
}

func (r *svgReader) kids(e *element, m affine, st look, uses int) error {
	for _, kid := range e.kids {
		if err := r.draw(kid, m, st, uses); err != nil {
			return err
		}
	}
	return nil
}

func (r *svgReader) use(e *element, m affine, st look, uses int) error {
	ref := e.attr("href")
	target := r.ids[strings.TrimPrefix(ref, "#")]
	if !strings.HasPrefix(ref, "#") || target == nil {
		r.skipped["uses of what the file does not hold"]++
		return nil
	}
	if uses == MaxInsertDepth {
		return fault(r.name, e.line, "uses lie within uses more than 16 deep, or one holds itself", "a drawing of one plate", "")
	}
	m = m.of(translation(r.size(e, "x", r.w, 0), r.size(e, "y", r.h, 0)))
	if target.name != "symbol" {
		return r.draw(target, m, st, uses+1)
	}
	st, hidden := r.rules.of(target, st)
	if hidden {
		r.skipped["hidden groups and shapes"]++
		return nil
	}
	w, h := e.attr("width"), e.attr("height")
	return r.kids(target, m.of(r.viewport(target, w, h, false)), st, uses+1)
}

// viewport returns the map from an inner svg's or symbol's own units to those around it:
// its viewBox is fitted into its size, in the middle.
func (r *svgReader) viewport(e *element, width, height string, place bool) affine {
	w, h := r.w, r.h
	if l, ok := parseLength(width); ok {
		w = l.user(r.w, r.opt.DPI)
	}
	if l, ok := parseLength(height); ok {
		h = l.user(r.h, r.opt.DPI)
	}
	m := identity()
	if place {
		m = translation(r.size(e, "x", r.w, 0), r.size(e, "y", r.h, 0))
	}
	vb, ok := parseBox(e.attr("viewBox"))
	if !ok || !(w > 0) || !(h > 0) {
		return m
	}
	kx, tall := fitOf(e.attr("preserveAspectRatio")).scale(w/vb.w, true, h/vb.h, true)
	ky := kx * tall
	return m.of(translation((w-kx*vb.w)/2, (h-ky*vb.h)/2)).of(scaling(kx, ky)).of(translation(-vb.x, -vb.y))
}

// size returns a length attribute in user units, def without one.
func (r *svgReader) size(e *element, name string, whole, def float64) float64 {
	l, ok := parseLength(e.attr(name))
	if !ok {
		return def
	}
	return l.user(whole, r.opt.DPI)
}

// shape returns the runs of lines that a shape draws, in its own units.
func (r *svgReader) shape(e *element) ([]subpath, bool, error) {
	diag := math.Hypot(r.w, r.h) / math.Sqrt2
	x := func(name string) float64 { return r.size(e, name, r.w, 0) }
	y := func(name string) float64 { return r.size(e, name, r.h, 0) }
	switch e.name {
	case "path":
		paths, err := parsePath(e.attr("d"), r.max-len(r.curves))
		if err != nil {
			return nil, false, fault(r.name, e.line, err.Error(), "path data such as M 0 0 H 10 V 5 Z", "export the outline again")
		}
		return paths, true, nil
	case "line":
		a, b := r2.Point{X: x("x1"), Y: y("y1")}, r2.Point{X: x("x2"), Y: y("y2")}
		return []subpath{{curves: []curve{lineTo(a, b)}}}, a != b, nil
	case "polyline", "polygon":
		return r.points(e)
	case "circle":
		rad := r.size(e, "r", diag, 0)
		if !(rad > 0) {
			return nil, false, nil
		}
		c := circleOf(r2.Point{X: x("cx"), Y: y("cy")}, rad)
		return []subpath{{curves: c[:], closed: true}}, true, nil
	case "ellipse":
		rx, ry := x("rx"), y("ry")
		if e.attr("rx") == "" || e.attr("rx") == "auto" {
			rx = ry
		}
		if e.attr("ry") == "" || e.attr("ry") == "auto" {
			ry = rx
		}
		if !(rx > 0) || !(ry > 0) {
			return nil, false, nil
		}
		cs := ellipseOf(r2.Point{X: x("cx"), Y: y("cy")}, r2.Point{X: rx}, r2.Point{Y: ry}, 0, 2*math.Pi)
		return []subpath{{curves: cs, closed: true}}, true, nil
	case "rect":
		return r.rectangle(e, x("x"), y("y"), x("width"), y("height"))
	}
	return nil, false, nil // not a shape of SVG: nothing to draw
}

func (r *svgReader) points(e *element) ([]subpath, bool, error) {
	in := numberScanner{s: e.attr("points")}
	var s subpath
	var first, last r2.Point
	for n := 0; !in.done(); n++ {
		x, ok := in.number()
		y, ok2 := in.number()
		if !ok || !ok2 {
			return nil, false, fault(r.name, e.line, "the points of this "+e.name+" cannot be read", "pairs of numbers", "")
		}
		p := r2.Point{X: x, Y: y}
		if n == 0 {
			first = p
		} else if p != last {
			s.curves = append(s.curves, lineTo(last, p))
		}
		last = p
	}
	if e.name == "polygon" && last != first {
		s.curves = append(s.curves, lineTo(last, first))
	}
	s.closed = e.name == "polygon"
	return []subpath{s}, len(s.curves) > 0, nil
}

// rectangle draws a rect whose corners may be rounded: a missing radius is the other one,
// and neither is more than half its side.
func (r *svgReader) rectangle(e *element, x, y, w, h float64) ([]subpath, bool, error) {
	if !(w > 0) || !(h > 0) {
		return nil, false, nil
	}
	rx, ry := r.size(e, "rx", r.w, -1), r.size(e, "ry", r.h, -1)
	if rx < 0 {
		rx = ry
	}
	if ry < 0 {
		ry = rx
	}
	rx, ry = max(0, min(rx, w/2)), max(0, min(ry, h/2))
	if rx == 0 || ry == 0 {
		rx, ry = 0, 0
	}
	var s subpath
	side := func(x0, y0, x1, y1 float64) {
		if math.Abs(x1-x0)+math.Abs(y1-y0) > 1e-12*(w+h) {
			s.curves = append(s.curves, lineTo(r2.Point{X: x0, Y: y0}, r2.Point{X: x1, Y: y1}))
		}
	}
	corner := func(x0, y0, x1, y1 float64) {
		if rx > 0 {
			s.curves = append(s.curves, arcCurves(r2.Point{X: x0, Y: y0}, r2.Point{X: x1, Y: y1}, rx, ry, 0, false, true)...)
		}
	}
	side(x+rx, y, x+w-rx, y)
	corner(x+w-rx, y, x+w, y+ry)
	side(x+w, y+ry, x+w, y+h-ry)
	corner(x+w, y+h-ry, x+w-rx, y+h)
	side(x+w-rx, y+h, x+rx, y+h)
	corner(x+rx, y+h, x, y+h-ry)
	side(x, y+h-ry, x, y+ry)
	corner(x, y+ry, x+rx, y)
	s.closed = true
	return []subpath{s}, true, nil
}

// stroke takes the lines of a shape that is visible. A shape that is filled and has no
// stroke is drawn closed; it gets the line that closes it.
func (r *svgReader) stroke(e *element, m affine, st look, paths []subpath) error {
	switch {
	case st.invisible:
		r.skipped["hidden groups and shapes"]++
		return nil
	case clear(st.fill) && clear(st.stroke):
		r.skipped["shapes with neither fill nor stroke"]++
		return nil
	case !r.opt.wants(r.layers[st.layer]):
		r.skipped["shapes in groups that were not asked for"]++
		return nil
	}
	drawn := false
	for _, s := range paths {
		n := len(s.curves)
		if n == 0 {
			continue
		}
		drawn = true
		if !s.closed && clear(st.stroke) && (n > 1 || s.curves[0].kind != segCurve) {
			a, b := s.curves[n-1].ending(), s.curves[0].beginning()
			if a.Sub(b).Norm() > 1e-9 {
				s.curves = append(s.curves, lineTo(a, b))
				r.rep.Changes.Closed++
			}
		}
		for _, c := range s.curves {
			c.layer, c.line = st.layer, int32(e.line)
			if err := r.add(c.transform(m), e.line); err != nil {
				return err
			}
		}
	}
	if drawn {
		r.read[e.name]++
	}
	return nil
}

// beginning and ending return the ends of a curve as SVG draws it.
func (c *curve) beginning() r2.Point {
	if c.kind == ellipseCurve {
		return c.onEllipse(c.t0)
	}
	return c.p[0]
}

func (c *curve) ending() r2.Point {
	switch c.kind {
	case ellipseCurve:
		return c.onEllipse(c.t1)
	case bezierCurve:
		return c.p[3]
	}
	return c.p[1]
}

func (c *curve) onEllipse(t float64) r2.Point {
	sn, cs := math.Sincos(t)
	return c.p[0].Add(c.p[1].Mul(cs)).Add(c.p[2].Mul(sn))
}
