package render

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// drawTags numbers the circuits at their left ends and writes the letters of the colours beside
// both ends of every wire.
func (g *schemGrid) drawTags(l *List, s *schematic) {
	tagged := map[int]bool{}
	for k := range s.layers {
		for _, e := range endsOf(s.layers[k], false) {
			w := e.link.wire
			if w.links[0] != e.link {
				continue
			}
			y := g.y(e.level())
			x := g.origin.X + g.x[k] + g.width[k] + 1.6*g.k
			h := schemHead(w)
			code := coreOf(w.wire.Colour).code
			if !tagged[w.no] {
				tagged[w.no] = true
				for _, it := range scaled(tag(h, r2.Point{X: x + tagBox(w.no+1)*g.k, Y: y}, w.no+1), r2.Point{X: x + tagBox(w.no+1)*g.k, Y: y}, g.k) {
					l.add(it)
				}
			}
			g.code(l, h, r2.Point{X: x + 2*tagBox(10)*g.k + 0.8, Y: y}, code)
			last := w.links[len(w.links)-1]
			to := g.origin.X + g.x[last.b.node.layer] - 1.4*g.k
			g.code(l, h, r2.Point{X: to - TextWidth(code, g.codeSize()), Y: g.y(last.b.level())}, code)
		}
	}
}

// codeSize is the lettering of the letters of colours: never lower than ISO 3098 has it.
func (g *schemGrid) codeSize() float64 { return math.Max(schemShort, 2.2*g.k) }

// code writes the letters of a colour into a wire, which is left out under them: there is no
// doubt then to which of two neighbours they belong. at is the left end, on the wire.
func (g *schemGrid) code(l *List, h Head, at r2.Point, code string) {
	size := g.codeSize()
	a, b := at.Sub(r2.Point{X: 0.5}), at.Add(r2.Point{X: TextWidth(code, size) + 0.5})
	l.add(Strand{Head: h, V: []geom.Vertex{{P: a}, {P: b}}, Width: size, Ink: Paperwhite, Butt: true})
	l.add(Text{Head: h, At: r2.Point{X: at.X, Y: at.Y + size/2}, Size: size, S: code})
}

// scaled makes the items of a tag smaller about a point.
func scaled(items []Item, c r2.Point, k float64) []Item {
	if k == 1 {
		return items
	}
	about := func(p r2.Point) r2.Point { return c.Add(p.Sub(c).Mul(k)) }
	for i, it := range items {
		switch v := it.(type) {
		case Path:
			v.V = slices.Clone(v.V)
			for j := range v.V {
				v.V[j].P = about(v.V[j].P)
			}
			items[i] = v
		case Text:
			v.At, v.Size = about(v.At), v.Size*k
			items[i] = v
		}
	}
	return items
}
