package render

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// TemplateSheets draws each plate at true size to be printed, glued on and drilled through
// by hand: outline, openings with crosses at their centres, and two bars to check the print
// with. A plate that fits on no A3 goes on several sheets that overlap, with marks to lay
// them over each other.
//
// It fails as [PlateSheets] does.
func TemplateSheets(asm *layout.Assembly, opt Options) ([]Sheet, error) {
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
		if s := p.Outer.Bound().Size(); !(s.X < 2000 && s.Y < 2000) {
			return nil, fmt.Errorf("the plate %q is %.0f x %.0f mm large: no paper template can be made of it", p.Name, s.X, s.Y)
		}
		out = append(out, templateSheets(asm, p, opt.Paper)...)
	}
	return out, nil
}

// Room of template sheets in mm: over the drawing for the heading, under it for the bar and
// the cautions, right of it for the upright bar.
const (
	templateTop    = 12.0
	templateBottom = 30.0
	templateRight  = 14.0
	templateAir    = 3.0
	tileOver       = 12.0 // by which neighbouring sheets overlap
)

// templateSheets lays one profile out on as few sheets as there is need of.
func templateSheets(asm *layout.Assembly, p *Profile, want Paper) []Sheet {
	box := p.Outer.Bound().Expand(templateAir)
	size := box.Size()
	paper, wide := A4, false
	fits := false
	for _, c := range [...]struct {
		p    Paper
		wide bool
	}{{A4, false}, {A4, true}, {A3, false}, {A3, true}} {
		if want != Auto && c.p != want {
			continue
		}
		if room := templateRoom(newPage("", "", c.p, c.wide)).Size(); size.X <= room.X && size.Y <= room.Y {
			paper, wide, fits = c.p, c.wide, true
			break
		}
	}
	if !fits && want == A3 {
		paper = A3
	}
	room := templateRoom(newPage("", "", paper, wide)).Size()
	nx, ny := 1, 1
	if !fits {
		nx, ny = tiles(size.X, room.X), tiles(size.Y, room.Y)
	}
	stepX, stepY := room.X-tileOver, room.Y-tileOver
	// The drawing stands in the middle of what its sheets cover together.
	lo := box.Center().Sub(r2.Point{X: stepX*float64(nx-1) + room.X, Y: stepY*float64(ny-1) + room.Y}.Mul(0.5))
	var out []Sheet
	for j := range ny {
		for i := range nx {
			// Rows run from the top down.
			window := geom.Rect{Lo: lo.Add(r2.Point{X: stepX * float64(i), Y: stepY * float64(ny-1-j)})}
			window.Hi = window.Lo.Add(room)
			out = append(out, templatePage(asm, p, newPage("", "", paper, wide), window, len(out)+1, nx, ny))
		}
	}
	return out
}

// tiles is how many sheets of room mm, overlapping, cover size mm.
func tiles(size, room float64) int {
	if size <= room {
		return 1
	}
	return 1 + int(math.Ceil((size-room)/(room-tileOver)))
}

// templateRoom is where the drawing may be on a page.
func templateRoom(pg *page) geom.Rect {
	f := pg.frame
	return geom.Rect{Lo: f.Lo.Add(r2.Point{X: 1, Y: templateTop}), Hi: f.Hi.Sub(r2.Point{X: templateRight, Y: templateBottom})}
}

// templatePage draws what a window of the profile holds.
func templatePage(asm *layout.Assembly, p *Profile, pg *page, window geom.Rect, no, nx, ny int) Sheet {
	l, f := &pg.sheet.List, pg.frame
	room := templateRoom(pg)
	v := &view{facing: fromAbove, scale: 1, origin: r2.Point{X: room.Lo.X - window.Lo.X, Y: room.Lo.Y + window.Hi.Y}}
	whole := List{W: l.W, H: l.H}
	thin := func(h Head) Head { h.Layer = Detail; return h }
	whole.add(v.loop(Head{Layer: Detail, ID: "plate.outline", Group: "plate"}, p.Outer))
	for i := range p.Openings {
		o := &p.Openings[i]
		h := openingHead(o, Detail)
		whole.add(v.loop(thin(h), o.Loop))
		if o.Size == "cut-out" {
			continue
		}
		c := v.point(o.At)
		arm := max(2.5, o.D/2+1.5)
		for _, d := range [2]r2.Point{{X: arm}, {Y: arm}} {
			whole.add(Line{Head: thin(h), A: c.Sub(d), B: c.Add(d)})
		}
	}
	for _, it := range whole.Items {
		clipTo(l, it, room)
	}
	tile := ""
	if nx*ny > 1 {
		tile = fmt.Sprintf(" – sheet %d of %d", no, nx*ny)
		tileMarks(l, v, window, nx, ny, no)
	}
	head := Head{Layer: Grid, ID: "heading", Group: "heading"}
	for i, s := range [2]string{
		fmt.Sprintf("%s, plate %s%s", asm.Name, p.Name, tile),
		"Template 1:1 of the finished size, top face up; " + stockOf(p),
	} {
		size := [2]float64{medium, small}[i]
		l.add(Text{Head: head, At: r2.Point{X: f.Lo.X + 2, Y: f.Lo.Y + 5 + 4.5*float64(i)}, Size: size, S: fit(s, size, f.Size().X-4)})
	}
	checkBars(l, f)
	lines := append([]string{"Print at 100 % and measure both bars: 100 mm each, or do not use the sheet."}, CuttingCautions(conducts(p.Plates[0]))...)
	width := f.Size().X - 4
	notes(l, "cautions", "", r2.Point{X: f.Lo.X + 2, Y: f.Hi.Y - 0.5 - notesHeight("", width, lines)}, width, lines)

	pl := newPlacer(l, room)
	for i := range p.Openings {
		o := &p.Openings[i]
		c := v.point(o.At)
		if !room.Expand(-4).Contains(c) {
			continue
		}
		pl.note(openingHead(o, Dimension), []string{o.Label + " " + o.Size}, []r2.Point{c.Add(r2.Point{X: max(o.D/2, 0.5) * 0.7, Y: -max(o.D/2, 0.5) * 0.7})}, 4, true)
	}
	name := "template-" + p.Name
	if nx*ny > 1 {
		name = fmt.Sprintf("%s-%d", name, no)
	}
	pg.sheet.Name = name
	pg.sheet.Title = asm.Name + ": template of plate " + p.Name + tile
	pg.sheet.Desc = "Template at true size, to be printed at 100 %. " + stockOf(p) + "."
	pg.sheet.Scale = "1:1"
	return pg.sheet
}

// checkBars draws a level bar of 100 mm under the drawing and an upright one right of it.
func checkBars(l *List, f geom.Rect) {
	const long, tick = 100.0, 1.5
	h := Head{Layer: Grid, ID: "check-bars", Group: "check-bars"}
	a := r2.Point{X: f.Lo.X + 6, Y: f.Hi.Y - templateBottom + 5}
	b := r2.Point{X: f.Hi.X - 4, Y: f.Hi.Y - templateBottom}
	l.add(Line{Head: h, A: a, B: r2.Point{X: a.X + long, Y: a.Y}}, Line{Head: h, A: b, B: r2.Point{X: b.X, Y: b.Y - long}})
	for i := range 11 {
		k, t := float64(i)*long/10, tick
		if i%5 == 0 {
			t *= 1.6
		}
		l.add(Line{Head: h, A: r2.Point{X: a.X + k, Y: a.Y - t}, B: r2.Point{X: a.X + k, Y: a.Y}},
			Line{Head: h, A: r2.Point{X: b.X - t, Y: b.Y - k}, B: r2.Point{X: b.X, Y: b.Y - k}})
	}
	l.add(Text{Head: h, At: r2.Point{X: a.X + long + 3, Y: a.Y}, Size: small, S: "100 mm"},
		Text{Head: h, At: r2.Point{X: b.X - 3.6, Y: b.Y - long/2}, Size: small, S: "100 mm", Align: Middle, Quarter: true})
}

// tileMarks draws crosses that neighbouring sheets share, in the middle of their overlap,
// each with its place in the profile's frame.
func tileMarks(l *List, v *view, window geom.Rect, nx, ny, no int) {
	i, j := (no-1)%nx, (no-1)/nx
	var xs, ys []float64
	if i > 0 {
		xs = append(xs, window.Lo.X+tileOver/2)
	}
	if i < nx-1 {
		xs = append(xs, window.Hi.X-tileOver/2)
	}
	if j > 0 {
		ys = append(ys, window.Hi.Y-tileOver/2)
	}
	if j < ny-1 {
		ys = append(ys, window.Lo.Y+tileOver/2)
	}
	thirds := func(lo, hi float64) []float64 { return []float64{lo + (hi-lo)/4, hi - (hi-lo)/4} }
	mark := func(x, y float64) {
		c := v.at(x, y)
		h := Head{Layer: Arrow, ID: fmt.Sprintf("join.%.0f.%.0f", x, y), Group: "joins"}
		l.add(Circle{Head: h, C: c, R: 2}, Line{Head: h, A: r2.Point{X: c.X - 4, Y: c.Y}, B: r2.Point{X: c.X + 4, Y: c.Y}},
			Line{Head: h, A: r2.Point{X: c.X, Y: c.Y - 4}, B: r2.Point{X: c.X, Y: c.Y + 4}})
	}
	for _, x := range xs {
		for _, y := range thirds(window.Lo.Y, window.Hi.Y) {
			mark(x, y)
		}
	}
	for _, y := range ys {
		for _, x := range thirds(window.Lo.X, window.Hi.X) {
			mark(x, y)
		}
	}
}

// clipTo adds what of an item lies within a box.
func clipTo(l *List, it Item, box geom.Rect) {
	inside := true
	segsOf(it, func(s geom.Seg) {
		b := s.Bound()
		inside = inside && box.Contains(b.Lo) && box.Contains(b.Hi)
	})
	if inside {
		l.add(it)
		return
	}
	h := it.head()
	var edges []geom.Edge
	for _, s := range geom.RectLoop(box).Segs() {
		edges = append(edges, geom.EdgeOf(s))
	}
	segsOf(it, func(s geom.Seg) {
		own := geom.EdgeOf(s)
		var cuts []float64
		for i := range edges {
			cuts = own.Cuts(&edges[i], cuts)
		}
		for mid, q := range own.Pieces(cuts) {
			if !box.Contains(mid) {
				continue
			}
			if curved(q) {
				l.add(Arc{Head: h, A: q.A, B: q.B, Bulge: q.Bulge})
			} else {
				l.add(Line{Head: h, A: q.A, B: q.B})
			}
		}
	})
}
