package render

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// bodySheet draws the body between the arms in detail, as large as a sheet allows, with the
// roof taken off. It is left out where the plan is larger than half size or the detail
// would not be larger than the plan.
func (d *drawing) bodySheet() {
	plan, _ := d.planScale(d.paper)
	if plan > 0.5 {
		return
	}
	b := newBodyPlan(d.asm, d.top)
	if b == nil {
		return
	}
	sp := b.spans()
	lists, lines := d.bodyTables(b), d.bodyNotes(b)
	tall := notesHeight("", tableW, lines) + titleHeight + headHeight + 1
	for _, r := range lists[0].rows {
		tall += r.height()
	}
	paper, k := d.bodyPaper(b, sp, tall)
	if k <= plan {
		return
	}
	p := newPage("body", "Body from above"+b.taken(), paper, paper == A3)
	l := &p.sheet.List
	area := bodyArea(p.frame, paper, tall)
	v := &view{facing: fromAbove, scale: k, scene: b.scene, arms: b.cuts}
	m := sp.margins()
	slack := area.Size().Sub(b.box.Size().Mul(k)).Sub(r2.Point{X: m[0] + m[1], Y: m[2] + m[3]})
	v.origin = r2.Point{
		X: area.Lo.X + m[0] + slack.X/2 - b.box.Lo.X*k,
		Y: area.Lo.Y + m[2] + slack.Y/2 + b.box.Hi.Y*k,
	}
	v.outlines(l, "body.")
	v.armBreaks(l)
	axes(l, "body.axes", v, b.box)
	for _, q := range d.asm.Ports {
		if b.shows(q) {
			planPort(l, "body.", q, v)
		}
	}
	for _, side := range [...][]span{sp.above, sp.below, sp.left, sp.right} {
		for i := range side {
			// Where the words have no room between the arrows the figure stands alone.
			if o := &side[i]; TextWidth(o.text, small)+1 > (o.hi-o.lo)*k {
				o.text = figure(o.hi - o.lo)
			}
		}
	}
	f := v.frame(b.box)
	const grp = "body.dimensions"
	v.spansAcross(l, grp, sp.above, f.Lo.Y-bodyInner, -dimRow)
	v.spansAcross(l, grp, sp.below, f.Hi.Y+bodyOuter, dimRow)
	v.spansUp(l, grp, sp.left, f.Lo.X-bodyInner, -dimRow)
	v.spansUp(l, grp, sp.right, f.Hi.X+bodyOuter, dimRow)
	noseAt(l, "body.", r2.Point{X: area.Hi.X - 14, Y: area.Lo.Y + 6})
	p.scale = scaleText(k)
	d.strip(p, nil)

	y := area.Hi.Y + 3
	if paper == A3 {
		y = p.frame.Hi.Y - 11 - tall
	}
	y += notes(l, "body.notes", "", r2.Point{X: p.frame.Lo.X + 2, Y: y}, tableW, lines)
	for i := range lists {
		lists[i].draw(l, r2.Point{X: p.frame.Lo.X + 2 + tableW/2*float64(i), Y: y}, tall, 0)
	}

	places := drawFindings(l, v, "body.", d.offWires(), b.holds)
	pl := newPlacer(l, area)
	pl.labelAll(places)
	b.portNames(pl, v)
	b.zoneNames(pl, v)
	for i := range d.rows {
		r := &d.rows[i]
		if all := b.those(r.all); len(all) > 0 {
			targets := anchorsOf(v, all)
			if all[0].Kind == "plate" {
				targets = append(targets, b.openAt(v, all[0].ID)...)
			}
			pl.balloon(fmt.Sprintf("body.balloon-%d", r.no), "body.balloons", r.no, pl.blank(targets))
		}
	}
	b.roofNames(pl, v)
	d.pages = append(d.pages, p)
}

// openAt returns points of a plate, 4 mm apart, that nothing but other plates hides.
func (b *bodyPlan) openAt(v *view, id string) []r2.Point {
	const apart = 4.0
	var out []r2.Point
	sc := b.scene
	for i := range sc.shadows {
		s := &sc.shadows[i]
		if s.id != id {
			continue
		}
		for y := b.box.Lo.Y + apart/2; y < b.box.Hi.Y; y += apart {
			for x := b.box.Lo.X + apart/2; x < b.box.Hi.X; x += apart {
				q := r2.Point{X: x, Y: y}
				if !s.box.Contains(q) || v.gone(q) || !s.covers(q) {
					continue
				}
				if !slices.ContainsFunc(sc.shadows, func(o shadow) bool {
					return o.hides && o.near > s.near+same && o.body.Kind != layout.PlateBody && o.box.Contains(q)
				}) {
					out = append(out, v.point(q))
				}
			}
		}
	}
	return out
}

// blank keeps at most six of the points, those with no line nearby if there are any.
func (p *placer) blank(points []r2.Point) []r2.Point {
	var out []r2.Point
	for _, q := range points {
		if p.lines.free(geom.Rect{Lo: q, Hi: q}.Expand(1.2)) && p.labels.free(geom.Rect{Lo: q, Hi: q}.Expand(1)) {
			out = append(out, q)
		}
	}
	if len(out) == 0 {
		out = points
	}
	return thin(out, 6)
}

// bodyPaper chooses the paper of the detail: the one asked for; else A3 where the body is
// then drawn larger and A4 does not hold it at full size.
func (d *drawing) bodyPaper(b *bodyPlan, sp bodySpans, tall float64) (Paper, float64) {
	scale := func(p Paper) float64 {
		a := bodyArea(newPage("", "", p, p == A3).frame, p, tall).Size()
		m := sp.margins()
		s := b.box.Size()
		k, _ := pickScale(s.X, s.Y, a.X-m[0]-m[1], a.Y-m[2]-m[3])
		return math.Min(k, 2)
	}
	k := scale(d.paper)
	if d.auto && d.paper == A4 && k < 1 {
		if a := scale(A3); a > k {
			return A3, a
		}
	}
	return d.paper, k
}

// bodyArea is where the view stands on its sheet: above the list, which is tall mm high
// with the notes.
func bodyArea(f geom.Rect, p Paper, tall float64) geom.Rect {
	low := f.Hi.Y - titleH - strip - tall - 2
	if p == A3 {
		low = math.Min(f.Hi.Y-11-tall-4, f.Hi.Y-titleH-4)
	}
	return geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: r2.Point{X: f.Hi.X - 2, Y: low}}
}

// noseAt draws an arrow that points forward, from the left end of its line.
func noseAt(l *List, prefix string, at r2.Point) {
	h := Head{Layer: Arrow, ID: prefix + "nose", Group: prefix + "nose"}
	l.add(Line{Head: h, A: at, B: r2.Point{X: at.X + 10, Y: at.Y}},
		arrowhead(h, r2.Point{X: at.X + 11.5, Y: at.Y}, r2.Point{X: 1}),
		Text{Head: h, At: r2.Point{X: at.X + 4.5, Y: at.Y - 1.2}, Size: small, S: "nose", Align: Middle})
}
