package render

import (
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// Size of the title block in mm: ISO 7200 gives 180 for the width.
const (
	titleW = 180.0
	titleH = 27.0
)

// titleBlock holds the fields of ISO 7200 that this sheet has.
type titleBlock struct {
	kind            string // of document; "" is a fit drawing
	title, subtitle string
	number          string // identification number: the build's name
	sheet, of       int
	scale           string
	paper           string
	date            string
}

// field of the block: a small caption over a value.
type titleField struct {
	x, y, w, h float64
	caption    string
	value      string
	size       float64
}

// draw puts the block's lower right corner at corner.
func (t titleBlock) draw(l *List, corner r2.Point) {
	at := r2.Point{X: corner.X - titleW, Y: corner.Y - titleH}
	head := Head{Layer: Grid, ID: "title", Group: "title"}
	strong := head
	strong.Layer = Outline
	l.add(rectPath(strong, geom.Rect{Lo: at, Hi: corner}))
	kind := t.kind
	if kind == "" {
		kind = "Fit drawing"
	}
	fields := []titleField{
		{0, 0, 45, 9, "Document type", kind, small},
		{45, 0, 45, 9, "Made with", "dryfit", small},
		{90, 0, 45, 9, "Checked by", "", small},
		{135, 0, 45, 9, "Date of issue", t.date, small},
		{0, 9, 90, 18, "Title", t.title, large},
		{90, 9, 45, 9, "Drawing number", t.number, small},
		{135, 9, 22, 9, "Sheet", fmt.Sprintf("%d / %d", t.sheet, t.of), small},
		{157, 9, 23, 9, "Size", t.paper, small},
		{90, 18, 45, 9, "Scale", t.scale, small},
		{135, 18, 22, 9, "Unit", "mm", small},
		{157, 18, 23, 9, "", "", small},
	}
	for _, f := range fields {
		x, y := at.X+f.x, at.Y+f.y
		if f.x > 0 {
			l.add(Line{Head: head, A: r2.Point{X: x, Y: y}, B: r2.Point{X: x, Y: y + f.h}})
		}
		if f.y > 0 {
			l.add(Line{Head: head, A: r2.Point{X: x, Y: y}, B: r2.Point{X: x + f.w, Y: y}})
		}
		if f.caption != "" {
			l.add(Text{Head: head, At: r2.Point{X: x + 1.2, Y: y + 3}, Size: caption, S: f.caption, Ink: Soft})
		}
		base := y + f.h - 1.4
		if f.size == large {
			base = y + 10
			l.add(Text{Head: head, At: r2.Point{X: x + 1.2, Y: y + 15.8}, Size: small, S: fit(t.subtitle, small, f.w-2.4)})
		}
		if f.value != "" {
			l.add(Text{Head: head, At: r2.Point{X: x + 1.2, Y: base}, Size: f.size, S: fit(f.value, f.size, f.w-2.4)})
		}
	}
	thirdAngle(l, head, r2.Point{X: at.X + 168.5, Y: at.Y + 22.5})
}

// caption is the lettering of the captions in the title block: the least of ISO 3098.
const caption = 1.8

// thirdAngle draws the sign of third-angle projection of ISO 5456-2: the end of a cone
// with its two circles, and right of it the cone from the side.
func thirdAngle(l *List, h Head, c r2.Point) {
	thin := h
	thin.Layer = Centre
	h.Layer = Detail
	const big, little, gap, length = 2.4, 1.2, 2.6, 5.2
	o := r2.Point{X: c.X - 4.4, Y: c.Y}
	l.add(Circle{Head: h, C: o, R: big}, Circle{Head: h, C: o, R: little})
	x0 := o.X + big + gap
	l.add(Path{Head: h, Closed: true, V: []geom.Vertex{
		{P: r2.Point{X: x0, Y: c.Y - little}}, {P: r2.Point{X: x0 + length, Y: c.Y - big}},
		{P: r2.Point{X: x0 + length, Y: c.Y + big}}, {P: r2.Point{X: x0, Y: c.Y + little}}}})
	l.add(Line{Head: thin, A: r2.Point{X: o.X - big - 0.8, Y: c.Y}, B: r2.Point{X: x0 + length + 0.8, Y: c.Y}})
	l.add(Line{Head: thin, A: r2.Point{X: o.X, Y: c.Y - big - 0.8}, B: r2.Point{X: o.X, Y: c.Y + big + 0.8}})
}

// scaleBar draws 50 mm of paper in steps of 10 mm with its left end at at.
func scaleBar(l *List, at r2.Point) {
	h := Head{Layer: Grid, ID: "scale-bar", Group: "scale-bar"}
	const tall = 1.6
	for i := range 5 {
		b := geom.Rect{Lo: r2.Point{X: at.X + float64(i)*10, Y: at.Y - tall}, Hi: r2.Point{X: at.X + float64(i+1)*10, Y: at.Y}}
		p := rectPath(h, b)
		if i%2 == 0 {
			p.Fill = Ink
		}
		l.add(p)
	}
	l.add(Text{Head: h, At: r2.Point{X: at.X, Y: at.Y - tall - 1.2}, Size: small, S: "0", Align: Middle})
	l.add(Text{Head: h, At: r2.Point{X: at.X + 50, Y: at.Y - tall - 1.2}, Size: small, S: "50", Align: Middle})
	l.add(Text{Head: h, At: r2.Point{X: at.X + 25, Y: at.Y - tall - 1.2}, Size: small, S: "mm on paper", Align: Middle})
}
