package render

import (
	"fmt"
	"math"
	"strconv"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// drillBelow is how wide a hole must be, as a multiple of the cutter's diameter, for the
// cutter to run round in it; narrower ones are drilled (trade practice of router services).
const drillBelow = 1.15

// PlateSheets draws each plate for those who cut it: the finished outline true to scale
// from above, every opening lettered, main dimensions, the least web and edge where they
// are, and tables of sizes and positions. Plates that are cut alike share a sheet.
//
// It fails only on an assembly that cannot be drawn: nil, without plates, or with a plate
// that fits on no paper at the least scale.
func PlateSheets(asm *layout.Assembly, opt Options) ([]Sheet, error) {
	if asm == nil {
		return nil, fmt.Errorf("there is no assembly to draw")
	}
	profiles := Profiles(asm)
	if len(profiles) == 0 {
		return nil, fmt.Errorf("the build %q has no plate to draw", asm.Name)
	}
	var out []Sheet
	for i := range profiles {
		p := &profiles[i]
		if s := p.Outer.Bound().Size(); !(s.X < 1e4 && s.Y < 1e4) {
			return nil, fmt.Errorf("the plate %q is %.0f x %.0f mm large: that cannot be drawn", p.Name, s.X, s.Y)
		}
		out = append(out, plateSheets(asm, p, opt)...)
	}
	return out, nil
}

// plateSheets draws one profile.
func plateSheets(asm *layout.Assembly, p *Profile, opt Options) []Sheet {
	d := &drawing{asm: asm, paper: opt.Paper}
	d.plateView(p)
	d.flow("plate-"+p.Name, 2, "Plate "+p.Name+": openings", []table{sizeTable(p), placeTable(p)}, d.plateNotes(p))
	out := make([]Sheet, len(d.pages))
	for i, pg := range d.pages {
		tb := titleBlock{kind: "Plate drawing", title: asm.Name, subtitle: pg.second, number: asm.Name + " " + p.Name,
			sheet: i + 1, of: len(d.pages), scale: orDash(pg.scale), paper: pg.paper.String(), date: opt.Date}
		tb.draw(&pg.sheet.List, pg.frame.Hi)
		pg.sheet.Scale = pg.scale
		pg.sheet.Title = asm.Name + ": " + pg.second
		pg.sheet.Desc = fmt.Sprintf("%s, %s, scale %s. %d openings.", stockOf(p), pg.paper, orDash(pg.scale), len(p.Openings))
		out[i] = pg.sheet
	}
	return out
}

// stockOf is "carbon, 5 mm, 1 piece".
func stockOf(p *Profile) string {
	pl := p.Plates[0]
	s := "material not said"
	if pl.Material != nil {
		s = pl.Material.Name
	}
	if pl.Thickness != nil {
		s += ", " + pl.Thickness.Describe() + " thick"
	}
	return s + ", " + pieces(p.Count())
}

func pieces(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return strconv.Itoa(n) + " pieces"
}

// platePaper chooses paper and scale: the smallest paper on which the plate is drawn in
// true size, else that of the largest scale. Plates are drawn at most at double size.
func (d *drawing) platePaper(size r2.Point, stripH float64) (paper Paper, wide bool, k float64) {
	for _, c := range [...]struct {
		p    Paper
		wide bool
		w, h float64
	}{
		{A4, false, 180, 277}, {A4, true, 267, 190}, {A3, false, 267, 400}, {A3, true, 390, 277},
	} {
		if d.paper != Auto && c.p != d.paper {
			continue
		}
		got, _ := pickScale(size.X, size.Y, c.w-planLeft-8, c.h-titleH-stripH-planTop-planBottom)
		if got = math.Min(got, 2); got > k && k < 1 {
			paper, wide, k = c.p, c.wide, got
		}
	}
	return paper, wide, k
}

// plateView draws the first page of a profile.
func (d *drawing) plateView(p *Profile) {
	box := p.Outer.Bound()
	lines := d.plateCautions(p)
	stripH := max(strip, notesHeight("", stripText, lines)+2)
	paper, wide, k := d.platePaper(box.Size(), stripH)
	d.paper = paper
	pg := newPage("plate-"+p.Name, "Plate "+p.Name+": "+stockOf(p), paper, wide)
	pg.scale = scaleText(k)
	l, f := &pg.sheet.List, pg.frame
	v := &view{facing: fromAbove, scale: k}
	slack := f.Size().X - planLeft - 8 - box.Size().X*k
	v.origin = r2.Point{X: f.Lo.X + planLeft + slack/2 - box.Lo.X*k, Y: f.Lo.Y + planTop + box.Hi.Y*k}
	drawProfile(l, v, p)
	at := v.frame(box)
	below, left := plateSpans(p)
	v.spansAcross(l, "plate.dimensions", below, at.Hi.Y+8, dimRow)
	v.spansUp(l, "plate.dimensions", left, at.Lo.X-5, -dimRow)
	plateStrip(pg, lines)

	area := geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: r2.Point{X: f.Hi.X - 2, Y: at.Hi.Y + planBottom}}
	marks := plateMarks(l, v, p)
	pl := newPlacer(l, area)
	datum(pl, v, p)
	for _, m := range marks {
		pl.note(m.head, []string{m.text}, []r2.Point{m.at}, 7, true)
	}
	labelOpenings(pl, v, p)
	faceMark(pl, v, p)
	d.pages = append(d.pages, pg)
	top := max(at.Hi.Y+planBottom, pl.lowest()+4)
	free := geom.Rect{Lo: r2.Point{X: f.Lo.X + 2, Y: top}, Hi: r2.Point{X: f.Hi.X - 2, Y: f.Hi.Y - titleH - stripH - 3}}
	if free.Size().Y > 40 {
		d.spare = append(d.spare, spare{pg, free})
		if free.Size().X >= 2*tableW+6 {
			half := free
			half.Lo.X = free.Hi.X - tableW
			d.spare = append(d.spare, spare{pg, half})
		}
	}
}

// stripText is the width of the cautions on plate sheets in mm: what A4 leaves beside the
// scale bar.
const stripText = 114.0

// plateStrip puts the cautions and the scale bar above the title block, on every paper.
func plateStrip(pg *page, lines []string) {
	l, f := &pg.sheet.List, pg.frame
	y := f.Hi.Y - titleH - 3
	scaleBar(l, r2.Point{X: f.Hi.X - 54, Y: y})
	notes(l, "cautions", "", r2.Point{X: f.Lo.X + 2, Y: y - notesHeight("", stripText, lines) + 0.8}, stripText, lines)
}

// drawProfile draws the outline, the openings and their centres.
func drawProfile(l *List, v *view, p *Profile) {
	l.add(v.loop(Head{Layer: Outline, ID: "plate.outline", Group: "plate"}, p.Outer))
	for i := range p.Openings {
		o := &p.Openings[i]
		h := openingHead(o, Outline)
		if o.D > 0 {
			l.add(Circle{Head: h, C: v.point(o.At), R: o.D / 2 * v.scale})
		} else {
			l.add(v.loop(h, o.Loop))
		}
		if o.SinkD > o.D {
			h.Layer = Detail
			if o.Under {
				h.Layer = Hidden
			}
			l.add(Circle{Head: h, C: v.point(o.At), R: o.SinkD / 2 * v.scale})
		}
		if o.Size == "cut-out" {
			continue
		}
		h.Layer = Centre
		c, half := v.point(o.At), o.Loop.Bound().Size().Mul(v.scale/2)
		for _, arm := range [2]r2.Point{{X: half.X + 1}, {Y: half.Y + 1}} {
			l.add(Line{Head: h, A: c.Sub(arm), B: c.Add(arm)})
		}
	}
}

func openingHead(o *Opening, layer Layer) Head {
	id := "opening." + o.Label
	return Head{Layer: layer, ID: id, Group: id}
}

// plateSpans are the main dimensions: overall, and from the lower left to the origin of
// the positions where it lies within the plate.
func plateSpans(p *Profile) (below, left []span) {
	box := p.Outer.Bound()
	own := &layout.Plate{Solid: []geom.Region{geom.RegionOf(p.Outer)}}
	c := box.Center()
	x0, x1 := edgeAt(own, box.Lo.X, true, c.Y), edgeAt(own, box.Hi.X, true, c.Y)
	y0, y1 := edgeAt(own, box.Lo.Y, false, c.X), edgeAt(own, box.Hi.Y, false, c.X)
	below = append(below, span{"dim.length", figure(box.Size().X), box.Lo.X, box.Hi.X, x0, x1})
	left = append(left, span{"dim.width", figure(box.Size().Y), box.Lo.Y, box.Hi.Y, y0, y1})
	if box.Lo.X < -1 && box.Hi.X > 1 {
		below = append(below, span{"dim.origin-x", figure(-box.Lo.X) + " to 0", box.Lo.X, 0, x0, box.Lo.Y})
	}
	if box.Lo.Y < -1 && box.Hi.Y > 1 {
		left = append(left, span{"dim.origin-y", figure(-box.Lo.Y) + " to 0", box.Lo.Y, 0, y0, box.Lo.X})
	}
	return below, left
}

// plateMark is a measure at its place, to be labelled.
type plateMark struct {
	head Head
	text string
	at   r2.Point
}

// plateMarks draws the least web, the least edge and the sharpest inside corner.
func plateMarks(l *List, v *view, p *Profile) []plateMark {
	var out []plateMark
	add := func(id, word string, n narrowPlace, ok bool) {
		if !ok {
			return
		}
		h := Head{Layer: Dimension, ID: "dim." + id, Group: "plate.dimensions"}
		a, b := v.point(n.a), v.point(n.b)
		l.add(Dim{Head: h, A: a, B: b, P: a, Q: b, Bare: true, Outside: b.Sub(a).Norm() < 2*arrowLen+1})
		text := fmt.Sprintf("%s %.2f", word, n.mm)
		if n.n > 1 {
			text += fmt.Sprintf(" (%d×)", n.n)
		}
		out = append(out, plateMark{h, text, a.Add(b).Mul(0.5)})
	}
	web, ok := leastWeb(p)
	add("web", "least web", web, ok)
	edge, ok := leastEdge(p)
	add("edge", "least edge", edge, ok)
	if r, at, ok := leastInside(p); ok {
		h := Head{Layer: Dimension, ID: "dim.inside", Group: "plate.dimensions"}
		text := "least inside R" + figure(r)
		if r < 1e-6 {
			text = "sharp inside corner"
		}
		out = append(out, plateMark{h, text, v.point(at)})
	}
	return out
}

// datum draws the axes of the positions and the arrow that says which way round.
func datum(p *placer, v *view, pr *Profile) {
	h := Head{Layer: Arrow, ID: "plate.datum", Group: "plate.datum"}
	o := v.at(0, 0)
	word := "nose"
	if pr.Plates[0].ArmOf != "" {
		word = "outwards"
	}
	box := v.frame(pr.Outer.Bound())
	// The arrow that says which way round stands over the plate, clear of it.
	y := box.Lo.Y - 6
	x := min(max(o.X, box.Lo.X), box.Hi.X-12)
	p.add(Line{Head: h, A: r2.Point{X: x, Y: y}, B: r2.Point{X: x + 10, Y: y}})
	p.add(arrowhead(h, r2.Point{X: x + 11.5, Y: y}, r2.Point{X: 1}))
	p.add(Text{Head: h, At: r2.Point{X: x + 5, Y: y - 1.2}, Size: small, S: word, Align: Middle})
	if pr.Outer.Contains(r2.Point{}) {
		thin := Head{Layer: Centre, ID: "plate.datum", Group: "plate.datum"}
		p.add(Line{Head: thin, A: r2.Point{X: o.X - 6, Y: o.Y}, B: r2.Point{X: o.X + 6, Y: o.Y}})
		p.add(Line{Head: thin, A: r2.Point{X: o.X, Y: o.Y - 6}, B: r2.Point{X: o.X, Y: o.Y + 6}})
		p.note(Head{Layer: Dimension, ID: "plate.datum", Group: "plate.datum"}, []string{"0, 0"}, []r2.Point{o}, 5, true)
	}
}

// faceMark puts the word of the face that is seen on the plate, as near its middle as there is room
// between all lines; only where there is none beside it, with a leader.
func faceMark(p *placer, v *view, pr *Profile) {
	const word, step = "TOP FACE", 2.0
	room := r2.Point{X: TextWidth(word, small)/2 + 1.5, Y: small/2 + 1.5}
	region := pr.Region()
	box := pr.Outer.Bound()
	h := Head{Layer: Dimension, ID: "plate.face", Group: "plate.face"}
	frame, found, best := v.frame(box), r2.Point{}, math.Inf(1)
	m := frame.Center()
	for y := frame.Lo.Y + room.Y; y <= frame.Hi.Y-room.Y; y += step {
		for x := frame.Lo.X + room.X; x <= frame.Hi.X-room.X; x += step {
			c := r2.Point{X: x, Y: y}
			d := c.Sub(m).Norm()
			if d >= best || !p.ink.free(geom.Rect{Lo: c.Sub(room), Hi: c.Add(room)}) {
				continue
			}
			// With no line in the box it lies on the plate if its middle does.
			if g := geom.DistancePoint(region, v.plan(c)); g.Dist < 0 {
				found, best = c, d
			}
		}
	}
	if !math.IsInf(best, 1) {
		p.add(Text{Head: h, At: r2.Point{X: found.X, Y: found.Y + small/2}, Size: small, S: word, Align: Middle})
		return
	}
	on, _ := pr.Outer.Nearest(box.Center())
	p.note(h, []string{word}, []r2.Point{v.point(on)}, 5, true)
}

// labelOpenings puts each opening's letter and number beside it, with a leader where there
// is no room near by or where another opening lies about as near.
func labelOpenings(pl *placer, v *view, p *Profile) {
	for i := range p.Openings {
		o := &p.Openings[i]
		h := openingHead(o, Dimension)
		c := v.point(o.At)
		half := r2.Point{X: TextWidth(o.Label, small)/2 + 0.3, Y: small*(ascent+descent)/2 + 0.1}
		size := o.Loop.Bound().Size()
		s := pl.find(wish{half: half, targets: []r2.Point{c}, most: math.Max(size.X, size.Y)/2*v.scale + 6.5, free: true})
		if s.free && nearestOpening(p, v, s.at) == i {
			pl.add(Text{Head: h, At: r2.Point{X: s.at.X, Y: s.at.Y - half.Y + 0.1 + small*ascent}, Size: small, S: o.Label, Align: Middle})
			continue
		}
		var rim []r2.Point
		for k := range 8 {
			sn, cs := math.Sincos((float64(k) + 0.5) * math.Pi / 4)
			on, _ := o.Loop.Nearest(o.At.Add(r2.Point{X: cs, Y: sn}.Mul(size.Norm())))
			rim = append(rim, v.point(on))
		}
		pl.note(h, []string{o.Label}, rim, 5, true)
	}
}

// nearestOpening returns the opening whose edge is nearest to a point of the sheet, -1 if a
// second one is less than 2 mm of paper farther away.
func nearestOpening(p *Profile, v *view, at r2.Point) int {
	q := r2.Point{X: (at.X - v.origin.X) / v.scale, Y: (v.origin.Y - at.Y) / v.scale}
	best, first, second := -1, math.Inf(1), math.Inf(1)
	for i := range p.Openings {
		_, d := p.Openings[i].Loop.Nearest(q)
		switch d *= v.scale; {
		case d < first:
			best, first, second = i, d, first
		case d < second:
			second = d
		}
	}
	if second-first < 2 {
		return -1
	}
	return best
}

// sizeTable lists the sizes of openings.
func sizeTable(p *Profile) table {
	t := table{id: "sizes", title: "Openings by size", cols: []column{
		{"Letter", 15, Middle}, {"Size", 40, Left}, {"Count", 15, Right}, {"For", 46, Left}, {"Sunk", 60, Left},
	}}
	for i := 0; i < len(p.Openings); {
		o := &p.Openings[i]
		n := 0
		var of []string
		for ; i < len(p.Openings) && p.Openings[i].letter == o.letter; i++ {
			n++
			if w := p.Openings[i].Of; w != "" && (len(of) == 0 || of[len(of)-1] != w) {
				of = append(of, w)
			}
		}
		t.rows = append(t.rows, row{cells: [][]string{
			{o.letter}, {o.Size}, {strconv.Itoa(n)}, wrap(joinWords(of), small, 46-2*cellPad, 3), wrap(orDash(o.Sink), small, 60-2*cellPad, 2)}})
	}
	return t
}

func joinWords(list []string) string {
	s := ""
	for i, w := range list {
		if i > 0 {
			s += ", "
		}
		s += w
	}
	return orDash(s)
}

// placeTable lists the positions of all openings, two openings a row, column after column.
func placeTable(p *Profile) table {
	t := table{id: "places", title: "Positions from 0, 0 in mm (x to the right, y up)"}
	for range 2 {
		t.cols = append(t.cols, column{"Mark", 15, Middle}, column{"Size", 29, Left}, column{"x", 22, Right}, column{"y", 22, Right})
	}
	half := (len(p.Openings) + 1) / 2
	for i := range half {
		var cells [][]string
		for _, k := range [2]int{i, i + half} {
			if k >= len(p.Openings) {
				continue
			}
			o := &p.Openings[k]
			cells = append(cells, []string{o.Label}, []string{fit(o.Size, small, 29-2*cellPad)}, []string{fixed2(o.At.X)}, []string{fixed2(o.At.Y)})
		}
		t.rows = append(t.rows, row{cells: cells})
	}
	return t
}

// fixed2 prints a coordinate with two decimals and a true minus sign.
func fixed2(v float64) string {
	s := signed(v)
	if s[0] == '+' {
		return s[1:]
	}
	return s
}
