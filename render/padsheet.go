package render

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// panelGap is the least room between panels in mm.
const panelGap = 5.0

// padSheets draw every part that wires are joined to alone and as large as there is room for, with
// each pad named once: what to solder by where the plan of all wires is too crowded to name pads.
// There are none for a craft without wires.
func (d *drawing) padSheets() {
	panels := padPanels(d.asm)
	if len(panels) == 0 {
		return
	}
	paper, pages := d.padPages(panels)
	area := d.padArea(paper)
	for i, shelves := range pages {
		name := "wiring-pads"
		if i > 0 {
			name = fmt.Sprintf("%s-%d", name, i+1)
		}
		p := newPage(name, "Pads and plugs, each part alone", paper, paper == A3)
		l := &p.sheet.List
		spare := area.Size().Y + panelGap
		for _, f := range shelves {
			spare -= f.tall + panelGap
		}
		y := area.Lo.Y
		for _, f := range shelves {
			gap := (area.Size().X - f.wide + panelGap*float64(len(f.columns))) / float64(len(f.columns)+1)
			x := area.Lo.X + gap
			for _, c := range f.columns {
				at := r2.Point{X: x, Y: y}
				for _, o := range c.panels {
					o.draw(l, at.Sub(o.box.Lo))
					at.Y += o.box.Size().Y + panelGap
				}
				x += c.wide + gap
			}
			y += f.tall + panelGap + spare/float64(len(shelves)+1)
		}
		d.strip(p, d.padNotes())
		p.scale = "as shown"
		d.pages = append(d.pages, p)
	}
}

// padPages chooses the paper and puts the panels on pages: where no paper was asked for, A4 if one page
// of it holds them all with all words.
func (d *drawing) padPages(panels []*padPanel) (Paper, [][]*panelShelf) {
	on := func(p Paper) [][]*panelShelf {
		room := d.padArea(p).Size()
		pages := arrange(panels, d.top, room, padApart)
		if len(pages) > 1 { // smaller parts are worth a page
			if less := arrange(panels, d.top, room, padClose); len(less) < len(pages) {
				return less
			}
		}
		return pages
	}
	if !d.auto {
		return d.paper, on(d.paper)
	}
	if pages := on(A4); len(pages) == 1 && !slices.ContainsFunc(pages[0], (*panelShelf).shortened) {
		return A4, pages
	}
	return A3, on(A3)
}

// arrange lays all panels out with pads so far apart, if that can be had, and puts them on pages.
func arrange(panels []*padPanel, top *scene, room r2.Point, apart float64) [][]*panelShelf {
	var list []*panelLayout
	for _, p := range panels {
		list = append(list, p.fit(top, room, apart))
	}
	return pack(list, room)
}

// padNotes say how to read the panels, before the cautions.
func (d *drawing) padNotes() []string {
	return append([]string{
		"Seen from above. Filled: the pad looks up; open: down, seen through the part. Letters: colour of the wire (IEC 60757); number: circuit. Where wires run: routes.",
	}, d.wireCautions()...)
}

// padArea is where the panels stand.
func (d *drawing) padArea(paper Paper) geom.Rect {
	f := newPage("", "", paper, paper == A3).frame
	area := geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: f.Hi.Sub(r2.Point{X: 2, Y: titleH + 4})}
	if paper != A3 {
		area.Hi.Y -= bandHeight(paper, f, d.padNotes()) + 2
	}
	return area
}

// fit lays a panel out at the least scale at which the part is of a handy size and its pads are
// well apart, or else at the largest that the sheet has room for. Where pads then lie too close it
// leaves out where wires go if that gives a larger scale.
func (p *padPanel) fit(top *scene, room r2.Point, apart float64) *panelLayout {
	best := p.largest(top, room, apart, true)
	if best.apart() < padLeast || best.box.Size().X > room.X {
		if o := p.largest(top, room, apart, false); o.k > best.k || best.box.Size().X > room.X {
			return o
		}
	}
	return best
}

func (p *padPanel) largest(top *scene, room r2.Point, apart float64, far bool) *panelLayout {
	var best *panelLayout
	for i := range isoScales {
		k := isoScales[len(isoScales)-1-i].k
		if k < 0.2 || k > 5 {
			continue
		}
		o := p.lay(top, k, far)
		part, all := o.board.Size(), o.box.Size()
		if best != nil && (math.Max(part.X, part.Y) > panelMost || all.X > room.X || all.Y > room.Y) {
			break
		}
		best = o
		if math.Max(part.X, part.Y) >= panelLeast && o.apart() >= apart {
			break
		}
	}
	return best
}

// panelColumn are panels over each other on a shelf.
type panelColumn struct {
	panels     []*panelLayout
	wide, tall float64
}

// panelShelf are columns side by side, as high as the first.
type panelShelf struct {
	columns    []*panelColumn
	wide, tall float64
}

// shortened reports whether a panel leaves out where wires go.
func (f *panelShelf) shortened() bool {
	return slices.ContainsFunc(f.columns, func(c *panelColumn) bool {
		return slices.ContainsFunc(c.panels, func(o *panelLayout) bool { return !o.far })
	})
}

// take puts a panel under others of the shelf or beside them, if there is room.
func (f *panelShelf) take(o *panelLayout, room float64) bool {
	s := o.box.Size()
	for _, c := range f.columns {
		if s.X <= c.wide && c.tall+panelGap+s.Y <= f.tall {
			c.panels, c.tall = append(c.panels, o), c.tall+panelGap+s.Y
			return true
		}
	}
	if s.Y > f.tall || f.wide+s.X+panelGap > room {
		return false
	}
	f.columns, f.wide = append(f.columns, &panelColumn{[]*panelLayout{o}, s.X, s.Y}), f.wide+s.X+panelGap
	return true
}

// pack puts panels on shelves and shelves on pages, the tallest first; of equal height as they come.
func pack(list []*panelLayout, room r2.Point) [][]*panelShelf {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b *panelLayout) int {
		return int(math.Round(b.box.Size().Y)) - int(math.Round(a.box.Size().Y))
	})
	var pages [][]*panelShelf
	var used []float64
next:
	for _, o := range list {
		s := o.box.Size()
		for i, page := range pages {
			for _, f := range page {
				if f.take(o, room.X) {
					continue next
				}
			}
			if used[i]+s.Y <= room.Y {
				pages[i] = append(page, newShelf(o))
				used[i] += s.Y + panelGap
				continue next
			}
		}
		pages, used = append(pages, []*panelShelf{newShelf(o)}), append(used, s.Y+panelGap)
	}
	return pages
}

func newShelf(o *panelLayout) *panelShelf {
	s := o.box.Size()
	return &panelShelf{[]*panelColumn{{[]*panelLayout{o}, s.X, s.Y}}, s.X + panelGap, s.Y}
}

// heading is the title of a panel.
func (o *panelLayout) heading() string { return o.panel.title() + ", " + scaleText(o.k) }

// draw puts a panel on the sheet, its origin at at.
func (o *panelLayout) draw(l *List, at r2.Point) {
	v := &view{facing: fromAbove, scale: o.k, origin: at.Add(o.origin)}
	id := "wiring-pads." + o.panel.parts[0].ID
	h := Head{Layer: Outline, ID: id, Group: id}
	for _, layer := range [2]Layer{Outline, Ghost} {
		for _, g := range o.loops {
			if g.layer == layer {
				h.Layer = layer
				l.add(v.loop(h, g.loop))
			}
		}
	}
	o.plugs(l, h, at)
	h.Layer = Grid
	title := at.Add(r2.Point{X: o.box.Lo.X, Y: o.box.Lo.Y + medium*1.2})
	l.add(Text{Head: h, At: title, Size: medium, S: o.heading()})
	if len(o.panel.parts) == 1 {
		o.nose(l, h, title.Add(r2.Point{X: TextWidth(o.heading(), medium) + 6, Y: -medium / 2}))
	}
	for i := range o.labels {
		o.label(l, &o.labels[i], at)
	}
}

// nose draws an arrow that points forward.
func (o *panelLayout) nose(l *List, h Head, at r2.Point) {
	h.Layer = Arrow
	u := o.turn.Direction(r2.Point{X: 1})
	u.Y = -u.Y
	l.add(Line{Head: h, A: at.Sub(u.Mul(2.5)), B: at.Add(u.Mul(1))}, arrowhead(h, at.Add(u.Mul(2.5)), u),
		Text{Head: h, At: r2.Point{X: at.X + 4, Y: at.Y + small/2}, Size: small, S: "nose"})
}

// plugs frames the ways of each plug.
func (o *panelLayout) plugs(l *List, h Head, at r2.Point) {
	h.Layer = Ghost
	done := map[string]bool{}
	for _, p := range o.panel.pads {
		if p.term.Port == nil || done[p.term.Port.ID] {
			continue
		}
		done[p.term.Port.ID] = true
		box := geom.EmptyRect()
		n := 0
		for i, q := range o.panel.pads {
			if q.term.Port == p.term.Port {
				box = box.Add(o.at(i).Add(at))
				n++
			}
		}
		if n > 1 {
			l.add(rectPath(h, box.Expand(1.3)))
		}
	}
}

// label draws a pad, its line in the colour of the first wire on it, and its label.
func (o *panelLayout) label(l *List, p *padLabel, at r2.Point) {
	pad := &o.panel.pads[p.pad]
	h := Head{Layer: Leader, ID: "wiring-pads." + pad.term.ID, Group: "wiring-pads." + o.panel.parts[0].ID}
	var vs []geom.Vertex
	for i, q := range p.path {
		if i == 0 || q.Sub(p.path[i-1]).Norm() > 1e-6 {
			vs = append(vs, geom.Vertex{P: q.Add(at)})
		}
	}
	ink := pad.wires[0].core.ink
	if pale(ink) {
		l.add(Strand{Head: h, V: vs, Width: coreWidth + 0.3, Ink: Soft})
	}
	l.add(Strand{Head: h, V: vs, Width: coreWidth, Ink: ink})
	fill := Ink
	if pad.term.Up < 0 {
		fill = Paperwhite
	}
	l.add(Circle{Head: h, C: p.path[0].Add(at), R: 0.7, Fill: fill})
	x := p.path[3].X + at.X + 1
	if !p.right {
		x = p.path[3].X + at.X - 1 - p.width
	}
	y := p.path[3].Y + at.Y
	for _, w := range p.words {
		n := TextWidth(w.s, small)
		if w.frame {
			n += 2*tagPad - 0.2
			l.add(tagOf(h, r2.Point{X: x + n/2, Y: y}, w.s)...)
		} else {
			l.add(Text{Head: h, At: r2.Point{X: x, Y: y + small/2}, Size: small, S: w.s})
		}
		x += n + 1
	}
}
