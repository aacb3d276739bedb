package render

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// column is a column of a table.
type column struct {
	head  string
	width float64 // mm
	align Align
}

// row is one row: lines of text for each column, and a mark in the first if No is set.
type row struct {
	cells   [][]string
	mark    int
	verdict layout.Verdict
}

// tableW is the width of the tables in mm.
const tableW = titleW - 4

// Spacing of tables and notes in mm.
const (
	linePitch = 4.1 // from base line to base line
	cellPad   = 1.2
)

func (r row) height() float64 {
	n := 1
	for _, c := range r.cells {
		n = max(n, len(c))
	}
	h := float64(n)*linePitch + 1.5
	if r.mark > 0 {
		h = max(h, 2*markHalf+1.4)
	}
	return h
}

// table is a table with a title.
type table struct {
	id, title string
	cols      []column
	rows      []row
	first     int // rows before this one stand elsewhere
}

func (t *table) width() float64 {
	w := 0.0
	for _, c := range t.cols {
		w += c.width
	}
	return w
}

// titleHeight and headHeight are the heights of a table's first two bands.
const (
	titleHeight = 6.5
	headHeight  = 5.2
)

// draw puts rows from index first on, as many as fit into height mm, under a title and a
// head, with the upper left corner at at. It returns the index of the first row left over
// and the height used; nothing is drawn if not one row fits.
func (t *table) draw(l *List, at r2.Point, height float64, first int) (next int, used float64) {
	y := at.Y + titleHeight + headHeight
	next = first
	for next < len(t.rows) && y+t.rows[next].height() <= at.Y+height {
		y += t.rows[next].height()
		next++
	}
	if next == first {
		return first, 0
	}
	w := t.width()
	head := Head{Layer: Grid, ID: t.id, Group: t.id}
	line := func(x0, y0, x1, y1 float64) {
		l.add(Line{Head: head, A: r2.Point{X: x0, Y: y0}, B: r2.Point{X: x1, Y: y1}})
	}
	title := t.title
	if first > 0 {
		title += " (continued)"
	}
	l.add(Text{Head: head, At: r2.Point{X: at.X, Y: at.Y + 4.2}, Size: medium, S: fit(title, medium, w)})
	top := at.Y + titleHeight
	// Head band.
	x := at.X
	for _, c := range t.cols {
		l.add(textIn(head, x, top+headHeight-1.4, c, c.head))
		x += c.width
	}
	y = top + headHeight
	strong := head
	strong.Layer = Outline
	l.add(Line{Head: strong, A: r2.Point{X: at.X, Y: y}, B: r2.Point{X: at.X + w, Y: y}})
	for _, r := range t.rows[first:next] {
		x = at.X
		for i, c := range t.cols {
			if i == 0 && r.mark > 0 {
				l.add(Mark{Head: Head{Layer: StyleOf(r.verdict).Layer, ID: t.id, Group: t.id},
					At: r2.Point{X: x + c.width/2, Y: y + markHalf + 0.7}, No: r.mark, Verdict: r.verdict})
			} else if i < len(r.cells) {
				for k, s := range r.cells[i] {
					if s != "" {
						l.add(textIn(head, x, y+linePitch*float64(k+1)-0.3, c, s))
					}
				}
			}
			x += c.width
		}
		y += r.height()
		line(at.X, y, at.X+w, y)
	}
	x = at.X
	for _, c := range t.cols {
		line(x, top, x, y)
		x += c.width
	}
	line(x, top, x, y)
	line(at.X, top, at.X+w, top)
	return next, y - at.Y
}

// textIn returns a text in a column, on the base line y, cut to the column's width.
func textIn(h Head, x, y float64, c column, s string) Text {
	t := Text{Head: h, Size: small, S: fit(s, small, c.width-2*cellPad), Align: c.align}
	switch c.align {
	case Left:
		t.At = r2.Point{X: x + cellPad, Y: y}
	case Middle:
		t.At = r2.Point{X: x + c.width/2, Y: y}
	case Right:
		t.At = r2.Point{X: x + c.width - cellPad, Y: y}
	}
	return t
}

// notes draws lines of text under a title and returns the height used.
func notes(l *List, id, title string, at r2.Point, width float64, lines []string) float64 {
	head := Head{Layer: Grid, ID: id, Group: id}
	y := at.Y
	if title != "" {
		y += 4.2
		l.add(Text{Head: head, At: r2.Point{X: at.X, Y: y}, Size: medium, S: title})
		y += 1.3
	}
	for _, s := range lines {
		for k, part := range wrap(s, small, width-4, 4) {
			y += linePitch
			x := at.X + 4
			if k == 0 {
				l.add(Text{Head: head, At: r2.Point{X: at.X, Y: y}, Size: small, S: "–"})
			}
			l.add(Text{Head: head, At: r2.Point{X: x, Y: y}, Size: small, S: part})
		}
	}
	return y - at.Y + 1.5
}

// notesHeight is the height that notes will take.
func notesHeight(title string, width float64, lines []string) float64 {
	h := 1.5
	if title != "" {
		h += 5.5
	}
	for _, s := range lines {
		h += linePitch * float64(len(wrap(s, small, width-4, 4)))
	}
	return h
}

// rectPath is a rectangle as a path.
func rectPath(h Head, b geom.Rect) Path {
	return Path{Head: h, Closed: true, V: []geom.Vertex{
		{P: b.Lo}, {P: r2.Point{X: b.Hi.X, Y: b.Lo.Y}}, {P: b.Hi}, {P: r2.Point{X: b.Lo.X, Y: b.Hi.Y}}}}
}
