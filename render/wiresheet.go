package render

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Margins and bands of the wiring sheets in mm.
const (
	wireAirX   = 2.5  // left and right of the craft; labels find room between the arms
	wireAirY   = 5.0  // above and below
	legendRows = 8    // in each of its two columns
	legendH    = 49.0 // of the key to lines and signs
	redWider   = 2.2  // than a circuit is the red line under it where it fails
)

// wireSheet draws where every wire runs: the whole craft from above, and where a larger scale
// can be had the body between the arms. There is none for a craft without wires.
func (d *drawing) wireSheet() {
	if len(d.asm.Circuits) == 0 {
		return
	}
	w := newWirePlan(d.asm, d.top)
	paper, k := d.wirePaper(w.box)
	var detail *wirePlan
	var detailPaper Paper
	var detailK float64
	if n := w.narrow(d.top); n != nil {
		if detailPaper, detailK = d.detailPaper(n.box); detailK > k {
			detail = n
		}
	}
	p := newPage("wiring", "Wiring routes from above"+w.taken(), paper, paper == A3)
	area := wireArea(p.frame, paper, d.wireCautions())
	v := w.view(area, k)
	p.scale = scaleText(k)
	d.wireFrame(p)
	if paper == A3 {
		t := circuitTable(d.asm)
		at := r2.Point{X: p.frame.Hi.X - tableW - 2, Y: p.frame.Lo.Y + 2}
		next, _ := t.draw(&p.sheet.List, at, p.frame.Hi.Y-titleH-legendH-8-at.Y, 0)
		if t.first = next; next < len(t.rows) {
			d.left = append(d.left, t)
		}
		legend(&p.sheet.List, d.asm, anyFails(d.onRoutes()), r2.Point{X: at.X, Y: p.frame.Hi.Y - titleH - legendH - 3})
	} else {
		d.left = append(d.left, circuitTable(d.asm))
		legend(&p.sheet.List, d.asm, anyFails(d.onRoutes()), r2.Point{X: p.frame.Lo.X + 2, Y: area.Hi.Y + 2})
	}
	within := func(geom.Rect) bool { return true }
	if detail != nil {
		// What the detail shows whole is named there.
		w.inset = &detail.box
		cut := &view{arms: detail.body.cuts}
		within = func(b geom.Rect) bool {
			return !detail.box.Contains(b.Lo) || !detail.box.Contains(b.Hi) || cut.gone(b.Center())
		}
	}
	d.drawWiring(p, w, v, area, "wiring.", within)
	d.pages = append(d.pages, p)
	if detail == nil {
		return
	}
	p = newPage("wiring-body", "Detail A, wiring routes, body"+w.taken(), detailPaper, detailPaper == A3)
	area = detailArea(p.frame, d.wireCautions())
	v = detail.view(area, detailK)
	v.arms = detail.body.cuts
	p.scale = scaleText(detailK)
	d.wireFrame(p)
	legend(&p.sheet.List, d.asm, anyFails(d.onRoutes()), r2.Point{X: p.frame.Hi.X - tableW - 2, Y: area.Hi.Y + 2})
	d.drawWiring(p, detail, v, area, "wiring-body.", func(geom.Rect) bool { return true })
	d.pages = append(d.pages, p)
}

// narrow returns the plan of the body alone, with the arms broken off; nil where nothing can
// be left out.
func (w *wirePlan) narrow(top *scene) *wirePlan {
	if w.body == nil || len(w.body.cuts) == 0 {
		return nil
	}
	n := *w
	n.scene = w.ghosts(top, true)
	n.box = geom.EmptyRect()
	v := &view{scale: 1, arms: w.body.cuts}
	for i := range n.scene.shadows {
		s := &n.scene.shadows[i]
		if !v.breaksOff(s) {
			n.box = n.box.Union(s.box)
			continue
		}
		for _, l := range s.loops {
			for _, vs := range v.shown(append(l.Vertices(), l.Vertex(0))) {
				segsOf(Path{V: vs}, func(g geom.Seg) { n.box = n.box.Union(g.Bound()) })
			}
		}
	}
	for i := range w.all {
		for _, vs := range v.shown(chain(w.all[i].path)) {
			segsOf(Path{V: vs}, func(s geom.Seg) { n.box = n.box.Union(s.Bound()) })
		}
	}
	return &n
}

func (w *wirePlan) taken() string {
	if w.body == nil {
		return ""
	}
	return w.body.taken()
}

// view puts the plan in the middle of an area.
func (w *wirePlan) view(area geom.Rect, k float64) *view {
	v := &view{facing: fromAbove, scale: k, scene: w.scene}
	c, m := area.Center(), w.box.Center()
	v.origin = r2.Point{X: c.X - m.X*k, Y: c.Y + m.Y*k}
	return v
}

// wireArea is where the plan stands: on A3 left of the table, on A4 above key and cautions.
func wireArea(f geom.Rect, p Paper, cautions []string) geom.Rect {
	area := geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: f.Hi.Sub(r2.Point{X: 2, Y: 2})}
	if p == A3 {
		area.Hi.X = f.Hi.X - tableW - 4
		area.Hi.Y = f.Hi.Y - bandHeight(p, f, cautions)
		return area
	}
	area.Hi.Y = f.Hi.Y - titleH - legendH - bandHeight(p, f, cautions) - 5
	return area
}

// detailArea is where the body stands: above the key and the title block.
func detailArea(f geom.Rect, cautions []string) geom.Rect {
	area := geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: f.Hi.Sub(r2.Point{X: 2, Y: 2})}
	area.Hi.Y = f.Hi.Y - titleH - legendH - 6
	if f.Size().X < titleW+60 {
		area.Hi.Y -= notesHeight("", f.Size().X-66, cautions) + 2
	}
	return area
}

// bandHeight is what the cautions and the scale bar take at the foot of a sheet.
func bandHeight(p Paper, f geom.Rect, cautions []string) float64 {
	if p == A3 {
		return notesHeight("", f.Size().X-titleW-6-62, cautions) + 5
	}
	return notesHeight("", f.Size().X-66, cautions) + 3
}

// wirePaper chooses the paper and the scale of the whole plan: where the paper was not asked
// for, A3 if A4 does not hold the craft at full size.
func (d *drawing) wirePaper(box geom.Rect) (Paper, float64) {
	return d.choosePaper(box, func(f geom.Rect, p Paper) geom.Rect { return wireArea(f, p, d.wireCautions()) })
}

func (d *drawing) detailPaper(box geom.Rect) (Paper, float64) {
	return d.choosePaper(box, func(f geom.Rect, _ Paper) geom.Rect { return detailArea(f, d.wireCautions()) })
}

func (d *drawing) choosePaper(box geom.Rect, area func(geom.Rect, Paper) geom.Rect) (Paper, float64) {
	scale := func(p Paper) float64 {
		a := area(newPage("", "", p, p == A3).frame, p).Size()
		s := box.Size()
		k, _ := pickScale(s.X, s.Y, a.X-2*wireAirX, a.Y-2*wireAirY)
		return math.Min(k, 5)
	}
	k := scale(d.paper)
	if d.auto && d.paper == A4 && k < 2 {
		if a := scale(A3); a > k {
			return A3, a
		}
	}
	return d.paper, k
}

// wireFrame puts the scale bar and the cautions on a wiring sheet.
func (d *drawing) wireFrame(p *page) { d.strip(p, d.wireCautions()) }

// wireCautions are the cautions that belong to wiring.
func (d *drawing) wireCautions() []string { return wiringCautions() }

func wiringCautions() []string {
	return []string{
		"Caution: check polarity with a meter at every plug and pad before the first connection.",
		"Caution: first power-up through a current limit, propellers off. Packs burn when shorted: never solder a lead that is joined to one.",
		"Caution: hot iron and joints, flux fumes: stand, fresh air, eye protection.",
	}
}

// drawWiring draws outlines, wires, findings and labels of one wiring sheet.
func (d *drawing) drawWiring(p *page, w *wirePlan, v *view, area geom.Rect, prefix string, named func(geom.Rect) bool) {
	l := &p.sheet.List
	v.outlines(l, prefix)
	w.discs(l, v, prefix, area)
	for _, q := range d.asm.Ports {
		if d.wired(q) && !v.gone(q.Mouth) {
			planPort(l, prefix, q, v)
		}
	}
	found := d.onRoutes()
	w.redden(l, v, prefix, found)
	w.drawWires(l, v, prefix)
	noseAt(l, prefix, r2.Point{X: area.Hi.X - 14, Y: area.Lo.Y + 6})
	h := Head{Layer: Dimension, ID: prefix + "detail", Group: prefix + "detail"}
	var rim []r2.Point
	if w.inset != nil {
		frame := v.frame(*w.inset).Expand(0.8)
		l.add(rectPath(h, frame))
		for _, t := range [...]float64{0.05, 0.25, 0.75, 0.95} {
			x := frame.Lo.X + t*frame.Size().X
			rim = append(rim, r2.Point{X: x, Y: frame.Lo.Y}, r2.Point{X: x, Y: frame.Hi.Y})
		}
	}
	places := drawFindings(l, v, prefix, found, func(f *layout.Finding) bool { return w.holds(v, f) })
	pl := newPlacer(l, area)
	pl.labelAll(places)
	pl.note(h, []string{"A, see next sheet"}, rim, 6, true)
	w.placeTags(pl, v, prefix, named)
	w.nameParts(pl, v, prefix, named)
	w.namePads(pl, v, prefix, named)
}

// wired reports whether a circuit is plugged into a port.
func (d *drawing) wired(q *layout.PortPlace) bool {
	return slices.ContainsFunc(d.asm.Circuits, func(c *layout.Circuit) bool { return c.FromPlug == q || c.ToPlug == q })
}

// holds reports whether a finding lies in what the view shows.
func (w *wirePlan) holds(v *view, f *layout.Finding) bool {
	for _, q := range [2]r2.Point{{X: f.A.X, Y: f.A.Y}, {X: f.B.X, Y: f.B.Y}} {
		if !w.box.Expand(1).Contains(q) || v.gone(q) {
			return false
		}
	}
	return true
}

// redden lays a wide red line under those stretches of circuits at which a finding says that
// they must not run.
func (w *wirePlan) redden(l *List, v *view, prefix string, found []numbered) {
	const reach = 5.0 // mm to either side of the place
	for _, n := range found {
		for i := range n.all {
			f := &n.all[i]
			if f.Verdict != layout.Fail || !finitePlace(f) {
				continue
			}
			for _, no := range circuitsOf(w.asm, f) {
				c := w.asm.Circuits[no]
				for _, q := range [2]r2.Point{{X: f.A.X, Y: f.A.Y}, {X: f.B.X, Y: f.B.Y}} {
					w.reddenAt(l, v, wireHead(prefix, c), no, q, reach)
				}
			}
		}
	}
}

func (w *wirePlan) reddenAt(l *List, v *view, h Head, no int, q r2.Point, reach float64) {
	best := math.Inf(1)
	var path []geom.Seg
	var at float64
	for i := range w.all {
		if s := &w.all[i]; s.no == no {
			along := 0.0
			for _, g := range s.path {
				if _, t, d := g.Nearest(q); d < best {
					best, path, at = d, s.path, along+t*g.Length()
				}
				along += g.Length()
			}
		}
	}
	if best > reach {
		return
	}
	wide := math.Max(diameter(w.asm.Circuits[no])*v.scale, wireLeast) + redWider
	for _, vs := range v.shown(chain(between(path, at-reach, at+reach))) {
		if len(vs) > 1 {
			l.add(Strand{Head: h, V: v.run(vs), Width: wide, Ink: FailInk, Butt: true})
		}
	}
}

// discs draws what the props sweep, as far as the sheet has room.
func (w *wirePlan) discs(l *List, v *view, prefix string, area geom.Rect) {
	if len(v.arms) > 0 {
		return
	}
	rim := rectPath(Head{}, area)
	for _, r := range w.asm.Rotors {
		rad := r.Radius.Nominal() * v.scale
		if rad <= 0 || r.Below && partner(w.asm, r) != nil {
			continue
		}
		id := prefix + "rotors." + r.Name + ".prop"
		h := Head{Layer: Ghost, ID: id, Group: id}
		segsOf(Circle{C: v.point(r.At), R: rad}, func(half geom.Seg) {
			e := geom.EdgeOf(half)
			var cuts []float64
			segsOf(rim, func(s geom.Seg) {
				side := geom.EdgeOf(s)
				cuts = e.Cuts(&side, cuts)
			})
			for mid, s := range e.Pieces(cuts) {
				if !area.Contains(mid) {
					continue
				}
				l.add(Arc{Head: h, A: s.A, B: s.B, Bulge: s.Bulge})
			}
		})
	}
}
