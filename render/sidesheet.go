package render

import (
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// sideSheet draws the side view as large as the paper allows, with the ladder of heights.
// The prop discs are broken off if the view can then be drawn larger.
func (d *drawing) sideSheet() {
	p := newPage("side", "Side view from the right", d.paper, true)
	l := &p.sheet.List
	f := p.frame
	const above, below, right = 10.0, 14.0, 13.0
	rungs := levels(d.asm, d.side)
	ladderW := ladderWidth(rungs)
	roomW := f.Size().X - ladderW - right
	roomH := f.Size().Y - titleH - above - below
	if d.paper == A4 && len(d.cautionsSide()) > 0 {
		roomH -= 2
	}
	k, _ := pickScale(d.sideBox.Size().X, d.sideBox.Size().Y, roomW, roomH)
	box := d.sideBox
	const past = 3.0 // mm on the sheet that a broken disc is drawn on
	for i, core := range [2]geom.Rect{d.coreBox, axesBox(d.asm, d.side, d.coreBox)} {
		air := [2]float64{past, 0}[i]
		if larger, _ := pickScale(core.Size().X, core.Size().Y, roomW-2*air, roomH); larger > k {
			k, box = larger, core
			box.Lo.X -= air / k
			box.Hi.X += air / k
			p.second = "Side view from the right, " + [2]string{"prop discs broken off", "broken off at the rotor axes"}[i]
		}
	}
	v := &view{facing: fromRight, scale: k, scene: d.side}
	size := box.Size().Mul(k)
	slack := roomW - size.X
	v.origin = r2.Point{X: f.Lo.X + ladderW + slack/2 - box.Lo.X*k, Y: f.Lo.Y + above + box.Hi.Y*k}
	w := window{box.Lo.X, box.Hi.X}
	sideGeometry(l, d.asm, v, w)
	frame := v.frame(box)
	tall := float64(len(rungs)) * ladderGap
	bottom := frame.Hi.Y + below
	if y := f.Lo.Y + 4 + tall; y > bottom {
		bottom = y
	}
	bottom = min(bottom, f.Hi.Y-titleH-4)
	x := frame.Lo.X - 3
	ladder(l, v, rungs, x, geom.Rect{
		Lo: r2.Point{X: max(f.Lo.X+2, x-ladderNames-34), Y: f.Lo.Y + 4}, Hi: r2.Point{X: x, Y: bottom}})
	overallHeight(l, d.asm, v, frame.Hi.X+10)
	p.scale = scaleText(k)
	d.strip(p, d.cautionsSide())

	area := geom.Rect{Lo: r2.Point{X: f.Lo.X + 2, Y: f.Lo.Y + 2}, Hi: r2.Point{X: f.Hi.X - 2, Y: bottom + 14}}
	area.Hi.Y = min(area.Hi.Y, f.Hi.Y-titleH-3)
	places := drawFindings(l, v, "", d.offWires(), fromSide)
	pl := newPlacer(l, area)
	pl.labelAll(places)
	for i, r := range d.rows {
		if !d.onTop[i] {
			pl.balloon(fmt.Sprintf("balloon-%d", r.no), "side.balloons", r.no, anchors(v, r.all))
		}
	}
	d.pages = append(d.pages, p)
	// What the view leaves free above the title block takes a table.
	free := geom.Rect{Lo: r2.Point{X: f.Hi.X - tableW - 2, Y: pl.lowest() + 4}, Hi: r2.Point{X: f.Hi.X - 2, Y: f.Hi.Y - titleH - 4}}
	if free.Size().Y > 34 {
		if d.paper == A3 {
			d.spare = append(d.spare, spare{p, geom.Rect{Lo: r2.Point{X: f.Lo.X + 2, Y: free.Lo.Y}, Hi: r2.Point{X: f.Lo.X + 2 + tableW, Y: f.Hi.Y - 24}}})
		}
		d.spare = append(d.spare, spare{p, free})
	}
}

// lowest is the sheet y of the lowest thing within the placer's area.
func (p *placer) lowest() float64 {
	y := p.area.Hi.Y
	for ; y > p.area.Lo.Y; y -= cell {
		b := geom.Rect{Lo: r2.Point{X: p.area.Lo.X, Y: y - cell}, Hi: r2.Point{X: p.area.Hi.X, Y: y}}
		if !p.lines.free(b) || !p.labels.free(b) {
			break
		}
	}
	return y
}

// lists lets the tables flow into what the views left free and then onto lists.
func (d *drawing) lists() {
	var tables []table
	if len(d.found) > 0 {
		tables = append(tables, findingTable(d.found))
	} else if m := marginTable(d.outcomes, 14); len(m.rows) > 0 {
		tables = append(tables, m)
	}
	tables = append(tables, partTable(d.rows))
	if t := hardwareTable(d.asm.Hardware()); len(t.rows) > 0 {
		tables = append(tables, t)
	}
	tables = append(tables, d.left...)
	tables = append(tables, wireTables(d.asm)...)
	d.flow("list", 1, "Lists", tables, append(d.notes(), wireNotes(d.asm)...))
}

// flow lets tables and then notes flow into what is free and onto as many new pages as
// they need, named name with a number from first on (none for 1) and titled title.
func (d *drawing) flow(name string, first int, title string, tables []table, lines []string) {
	n := first - 1
	fresh := func() {
		n++
		page := name
		if n > 1 {
			page = fmt.Sprintf("%s-%d", name, n)
		}
		p := newPage(page, title, d.paper, d.paper == A3)
		f := p.frame
		d.pages = append(d.pages, p)
		if d.paper == A3 {
			d.spare = append(d.spare,
				spare{p, geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: r2.Point{X: f.Lo.X + 2 + tableW, Y: f.Hi.Y - 4}}},
				spare{p, geom.Rect{Lo: r2.Point{X: f.Hi.X - tableW - 2, Y: f.Lo.Y + 2}, Hi: r2.Point{X: f.Hi.X - 2, Y: f.Hi.Y - titleH - 4}}})
			return
		}
		d.spare = append(d.spare, spare{p, geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: r2.Point{X: f.Hi.X - 2, Y: f.Hi.Y - titleH - 4}}})
	}
	for i := range tables {
		t := &tables[i]
		for first := t.first; first < len(t.rows); {
			if len(d.spare) == 0 {
				fresh()
			}
			s := &d.spare[0]
			next, used := t.draw(&s.page.sheet.List, s.area.Lo, s.area.Size().Y, first)
			if used == 0 || next < len(t.rows) {
				d.spare = d.spare[1:]
			} else {
				s.area.Lo.Y += used + 6
			}
			first = next
		}
	}
	head := "Notes"
	for len(lines) > 0 {
		if len(d.spare) == 0 {
			fresh()
		}
		s := d.spare[0]
		n := len(lines)
		for n > 0 && notesHeight(head, tableW, lines[:n]) > s.area.Size().Y {
			n--
		}
		if n > 0 {
			notes(&s.page.sheet.List, "notes", head, s.area.Lo, tableW, lines[:n])
			lines, head = lines[n:], "Notes (continued)"
		}
		d.spare = d.spare[1:]
	}
}
