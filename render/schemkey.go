package render

import (
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// schemKeyW is the width of the key to the lines of the schematic, mm.
const schemKeyW = 82.0

// schemFoot puts the key and the cautions at the foot of the schematic, left of the title block.
func (d *drawing) schemFoot(p *page) {
	l, f := &p.sheet.List, p.frame
	schemKey(l, d.asm, anyFails(d.onSchematic()), r2.Point{X: f.Lo.X + 2, Y: f.Hi.Y - titleH - 0.5})
	if schemWide(f) {
		x := f.Lo.X + 2 + schemKeyW + 4
		width := f.Hi.X - titleW - 4 - x
		notes(l, "cautions", "", r2.Point{X: x, Y: f.Hi.Y - 2 - notesHeight("", width, d.wireCautions())}, width, d.wireCautions())
		return
	}
	width := f.Size().X - 4
	notes(l, "cautions", "", r2.Point{X: f.Lo.X + 2, Y: f.Hi.Y - titleH - 2 - notesHeight("", width, d.wireCautions())}, width, d.wireCautions())
}

// loadWords are the kinds of wires in the order of the key, with a role of each.
var loadWords = [...]struct {
	word string
	like []shapes.Role
}{
	{"pack", []shapes.Role{shapes.PackRole}},
	{"ground", []shapes.Role{shapes.GroundRole}},
	{"supply", []shapes.Role{shapes.Supply5Role, shapes.Supply3Role, shapes.Supply9Role, shapes.Supply12, shapes.FeedRole}},
	{"motor phase", []shapes.Role{shapes.MotorRole}},
	{"signal", []shapes.Role{shapes.SignalRole, ""}},
	{"video", []shapes.Role{shapes.VideoRole}},
	{"antenna", []shapes.Role{shapes.AntennaRole}},
}

// schemKey explains the lines of the schematic, schemKeyW wide and as high as the title block.
func schemKey(l *List, asm *layout.Assembly, fails bool, at r2.Point) {
	const pitch, sample, most = 4.2, 14.0, 5
	h := Head{Layer: Grid, ID: "key", Group: "key"}
	l.add(Text{Head: h, At: r2.Point{X: at.X, Y: at.Y + 3.2}, Size: small, S: "Key. Letters: colour of the wire (IEC 60757)"})
	i := 0
	for _, k := range loadWords {
		used := slices.ContainsFunc(asm.Circuits, func(c *layout.Circuit) bool {
			return slices.ContainsFunc(c.Wires, func(w *layout.Wire) bool { return slices.Contains(k.like, w.Role) })
		})
		if !used {
			continue
		}
		style := loadOf(k.like[0])
		x := at.X + float64(i/most)*(schemKeyW/2+1)
		y := at.Y + 7 + float64(i%most)*pitch
		ink := Soft
		l.add(Strand{Head: h, V: []geom.Vertex{{P: r2.Point{X: x, Y: y}}, {P: r2.Point{X: x + sample, Y: y}}}, Width: style.width, Ink: ink, Dash: style.dash, Butt: true})
		l.add(Text{Head: h, At: r2.Point{X: x + sample + 2, Y: y + small/2}, Size: small, S: k.word})
		i++
	}
	place := func() (x, y float64) {
		i++
		return at.X + float64((i-1)/most)*(schemKeyW/2+1), at.Y + 7 + float64((i-1)%most)*pitch
	}
	x, y := place()
	l.add(tag(h, r2.Point{X: x + sample/2, Y: y}, 7)...)
	l.add(Text{Head: h, At: r2.Point{X: x + sample + 2, Y: y + small/2}, Size: small, S: "circuit"})
	if !fails {
		return
	}
	x, y = place()
	vs := []geom.Vertex{{P: r2.Point{X: x, Y: y}}, {P: r2.Point{X: x + sample, Y: y}}}
	for _, band := range failBands {
		l.add(Strand{Head: h, V: vs, Width: 0.35 + band.more, Ink: band.ink, Butt: true})
	}
	l.add(Strand{Head: h, V: vs, Width: 0.35, Ink: Ink, Butt: true},
		Text{Head: h, At: r2.Point{X: x + sample + 2, Y: y + small/2}, Size: small, S: "fails"})
}

// anyFails reports whether one of the findings fails.
func anyFails(found []numbered) bool {
	return slices.ContainsFunc(found, func(n numbered) bool {
		return slices.ContainsFunc(n.all, func(f layout.Finding) bool { return f.Verdict == layout.Fail })
	})
}
