package render

import (
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// legend is the key to the lines and signs of the wiring sheets, tableW wide and legendH high.
func legend(l *List, asm *layout.Assembly, fails bool, at r2.Point) {
	h := Head{Layer: Grid, ID: "key", Group: "key"}
	l.add(Text{Head: h, At: r2.Point{X: at.X, Y: at.Y + 4.2}, Size: medium, S: "Key"})
	type entry struct {
		word string
		draw func(a, b r2.Point)
	}
	var list []entry
	line := func(t tube) func(a, b r2.Point) {
		return func(a, b r2.Point) { t.draw(l, []geom.Vertex{{P: a}, {P: b}}) }
	}
	for _, s := range runStyles {
		if slices.ContainsFunc(asm.Circuits, func(c *layout.Circuit) bool { return c.Kind == s.kind }) {
			list = append(list, entry{s.style.word, line(tube{head: h, width: 2, style: s.style})})
		}
	}
	plain := runStyles[0].style
	if len(asm.Circuits) > 0 {
		plain = runStyleOf(asm.Circuits[0].Kind)
	}
	middle := func(a, b r2.Point) r2.Point { return a.Add(b).Mul(0.5) }
	right := r2.Point{X: 1}
	list = append(list,
		entry{"beneath a plate, board or part", line(tube{head: h, width: 2, style: plain, sight: beneath})},
		entry{"on what is taken off", line(tube{head: h, width: 2, style: plain, sight: takenOff})},
		entry{"in a sleeve", line(tube{head: h, width: 1.4, style: plain, sleeved: true})},
		entry{"tied down; open: hook and loop", func(a, b r2.Point) {
			tube{head: h, width: 2, style: plain}.draw(l, []geom.Vertex{{P: a}, {P: b}})
			tieMark(l, h, middle(a, b).Sub(r2.Point{X: 2}), right, 1, 1, false)
			tieMark(l, h, middle(a, b).Add(r2.Point{X: 2}), right, 1, 1, true)
		}},
		entry{"goes up or down", func(a, b r2.Point) {
			tube{head: h, width: 2, style: plain}.draw(l, []geom.Vertex{{P: a}, {P: middle(a, b)}})
			dropMark(l, h, middle(a, b), 1)
		}},
		entry{"over a sharp edge; open: guarded", func(a, b r2.Point) {
			tube{head: h, width: 1.2, style: plain}.draw(l, []geom.Vertex{{P: a}, {P: b}})
			edgeMark(l, h, middle(a, b), right, 0.6, 1, true)
		}},
		entry{"pad that looks up; open: down", func(a, b r2.Point) {
			l.add(Circle{Head: h, C: middle(a, b).Sub(r2.Point{X: 2}), R: padDot, Fill: Ink}, Circle{Head: h, C: middle(a, b).Add(r2.Point{X: 2}), R: padDot, Fill: Paperwhite})
		}},
		entry{"number of a circuit", func(a, b r2.Point) { l.add(tag(h, middle(a, b), 7)...) }},
	)
	if !allRouted(asm) {
		list = append(list, entry{"no way found", func(a, b r2.Point) { noWay(l, h, a, b) }})
	}
	if fails {
		list = append(list, entry{"fails at the place marked red", func(a, b r2.Point) {
			l.add(Strand{Head: h, V: []geom.Vertex{{P: a}, {P: b}}, Width: 2 + redWider, Ink: FailInk, Butt: true})
			tube{head: h, width: 2, style: plain}.draw(l, []geom.Vertex{{P: a}, {P: b}})
		}})
	}
	const pitch, sample = 5.2, 16.0
	for i, e := range list {
		x := at.X + float64(i/legendRows)*tableW/2
		y := at.Y + 9 + float64(i%legendRows)*pitch
		e.draw(r2.Point{X: x, Y: y}, r2.Point{X: x + sample, Y: y})
		l.add(Text{Head: h, At: r2.Point{X: x + sample + 3, Y: y + small/2}, Size: small, S: e.word})
	}
}

func allRouted(asm *layout.Assembly) bool {
	return !slices.ContainsFunc(asm.Circuits, func(c *layout.Circuit) bool { return !routed(c) })
}
