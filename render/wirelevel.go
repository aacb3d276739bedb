package render

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Sizes of the panes of levels in mm: what is shown round the boards, the room for labels beside and
// over a pane, and its title.
const (
	levelRound = 11.0
	levelSide  = 27.0
	levelOver  = 17.0
	levelTitle = 7.0
)

// levelsFrom is how many crossings between levels make it worth to draw these apart.
const levelsFrom = 2

// wireLevel is what lies between two boards of a stack.
type wireLevel struct {
	title string
	plan  *wirePlan
}

// levelSheets draw the stack's surroundings level by level, each without what lies over it, where
// circuits of different levels cross so often that the plan of all is hard to follow.
func (d *drawing) levelSheets() {
	if len(d.asm.Circuits) == 0 {
		return
	}
	w := newWirePlan(d.asm, d.top)
	boards, window := w.stack()
	if len(boards) < 2 || w.mixed(boards, window) < levelsFrom {
		return
	}
	levels := w.levels(boards, window)
	paper, k := d.levelPaper(window)
	f := newPage("", "", paper, paper == A3).frame
	area := d.levelArea(f)
	size := window.Size().Mul(k).Add(r2.Point{X: 2 * levelSide, Y: 2*levelOver + levelTitle})
	columns := max(1, int(area.Size().X/size.X))
	rows := max(1, int(area.Size().Y/size.Y))
	var p *page
	for i := range levels {
		at := i % (columns * rows)
		if at == 0 {
			name := "wiring-levels"
			if n := i/(columns*rows) + 1; n > 1 {
				name = fmt.Sprintf("%s-%d", name, n)
			}
			p = newPage(name, "Wiring round the stack, level by level", paper, paper == A3)
			p.scale = scaleText(k)
			d.strip(p, d.levelNotes())
			noseAt(&p.sheet.List, "wiring-levels.", r2.Point{X: area.Hi.X - 14, Y: area.Lo.Y + 4})
			d.pages = append(d.pages, p)
		}
		cell := area.Size()
		cell.X, cell.Y = cell.X/float64(columns), cell.Y/float64(rows)
		corner := func(n int) r2.Point {
			return area.Lo.Add(r2.Point{X: float64(n%columns) * cell.X, Y: float64(n/columns) * cell.Y})
		}
		d.drawLevel(p, &levels[i], window, k, fmt.Sprintf("wiring-level-%d.", i+1), geom.Rect{Lo: corner(at), Hi: corner(at).Add(cell)})
		if i == len(levels)-1 && (at+1)%columns != 0 && cell.X >= tableW {
			legend(&p.sheet.List, d.asm, false, corner(at+1).Add(r2.Point{Y: levelOver}))
		}
	}
}

// levelNotes say how to read the panes.
func (d *drawing) levelNotes() []string {
	return append([]string{"Circle with a dot: goes up, or on this level; with a cross: goes down, out of the pane's level. The key stands on the plan of all wires."}, d.wireCautions()...)
}

func (d *drawing) levelArea(f geom.Rect) geom.Rect {
	area := geom.Rect{Lo: f.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: f.Hi.Sub(r2.Point{X: 2, Y: titleH + 4})}
	if f.Size().X < titleW+60 {
		area.Hi.Y -= notesHeight("", f.Size().X-66, d.levelNotes()) + 3
	}
	return area
}

// levelPaper chooses paper and scale: A3 where it was not asked for and helps.
func (d *drawing) levelPaper(window geom.Rect) (Paper, float64) {
	scale := func(p Paper) float64 {
		room := d.levelArea(newPage("", "", p, p == A3).frame).Size()
		s := window.Size()
		wide := room.X
		if p == A3 {
			wide /= 2
		}
		k, _ := pickScale(s.X, s.Y, wide-2*levelSide, room.Y-2*levelOver-levelTitle)
		return math.Min(k, 5)
	}
	if d.auto {
		return A3, scale(A3)
	}
	return d.paper, scale(d.paper)
}

// stack returns the wired boards of the stack with the most of them, from below, and the rectangle
// round them, mm.
func (w *wirePlan) stack() (boards []*layout.Component, window geom.Rect) {
	for i := range w.asm.Stacks {
		var list []*layout.Component
		for _, l := range w.asm.Stacks[i].Levels {
			if l.Board && l.Component != nil && w.ends[l.Component.ID] {
				list = append(list, l.Component)
			}
		}
		if len(list) > len(boards) {
			boards = list
		}
	}
	slices.SortStableFunc(boards, func(a, b *layout.Component) int {
		if boardMiddle(a) < boardMiddle(b) {
			return -1
		}
		return b2i(boardMiddle(a) > boardMiddle(b))
	})
	window = geom.EmptyRect()
	for i := range w.scene.shadows {
		s := &w.scene.shadows[i]
		if slices.ContainsFunc(boards, func(c *layout.Component) bool { return c.ID == s.id }) {
			window = window.Union(s.box)
		}
	}
	return boards, window.Expand(levelRound)
}

// boardMiddle is the middle height of a board without what stands on it, mm.
func boardMiddle(c *layout.Component) float64 {
	for _, b := range c.Bodies {
		if b.Kind == layout.PcbBody {
			return (b.Bottom.Nominal() + b.Top.Nominal()) / 2
		}
	}
	return c.Base.Nominal()
}

// levelOf is the level of a height: 0 under the lowest board.
func levelOf(boards []*layout.Component, z float64) int {
	n := 0
	for n < len(boards) && z > boardMiddle(boards[n]) {
		n++
	}
	return n
}

// mixed counts the places within a window where circuits of different levels cross.
func (w *wirePlan) mixed(boards []*layout.Component, window geom.Rect) int {
	all := slices.Clone(w.all)
	for i := range all {
		all[i].cuts = nil
	}
	n := 0
	for _, x := range bridge(all, func(no int) float64 { return diameter(w.asm.Circuits[no]) }, 0) {
		if window.Contains(x.at) && levelOf(boards, all[x.upper].z) != levelOf(boards, all[x.lower].z) {
			n++
		}
	}
	return n
}

// levels are the plans of those levels between boards on which there are wires within the window.
func (w *wirePlan) levels(boards []*layout.Component, window geom.Rect) []wireLevel {
	var out []wireLevel
	for i := range len(boards) + 1 {
		lo, hi := math.Inf(-1), math.Inf(1)
		var title string
		switch {
		case i == 0:
			hi, title = boardMiddle(boards[0]), "Under "+nameOf(boards[0])
		case i == len(boards):
			lo, title = boardMiddle(boards[i-1]), "Over "+nameOf(boards[i-1])
		default:
			lo, hi = boardMiddle(boards[i-1]), boardMiddle(boards[i])
			title = "Between " + nameOf(boards[i-1]) + " and " + nameOf(boards[i])
		}
		n := *w
		n.level, n.inset = &gap{lo, hi}, nil
		n.scene = &scene{view: fromAbove, box: geom.EmptyRect()}
		for _, s := range w.scene.shadows {
			lid := i < len(boards) && s.id == boards[i].ID
			if !lid && s.far < hi && s.near > lo && s.box.Intersects(window) && s.shown != Sweep {
				n.scene.shadows = append(n.scene.shadows, s)
				n.scene.box = n.scene.box.Union(s.box)
			}
		}
		n.all = nil
		for _, s := range stretches(w.asm.Circuits, n.scene, math.Inf(1)) {
			if n.onLevel(s.z) && slices.ContainsFunc(s.path, func(g geom.Seg) bool { return g.Bound().Expand(1e-6).Intersects(window) }) {
				n.all = append(n.all, s)
			}
		}
		if len(n.all) > 0 {
			out = append(out, wireLevel{title, &n})
		}
	}
	return out
}

// drawLevel draws one pane in the middle of a cell of the sheet, its labels round it.
func (d *drawing) drawLevel(p *page, level *wireLevel, window geom.Rect, k float64, prefix string, cell geom.Rect) {
	l, w := &p.sheet.List, level.plan
	h := Head{Layer: Dimension, ID: prefix + "pane", Group: prefix + "pane"}
	v := &view{facing: fromAbove, scale: k, scene: w.scene, pane: newPane(window)}
	c, m := cell.Center(), window.Center()
	v.origin = r2.Point{X: c.X - m.X*k, Y: c.Y + levelTitle/2 + m.Y*k}
	l.add(rectPath(h, v.frame(window)))
	h.ID += ".title"
	h.Layer = Grid
	l.add(Text{Head: h, At: r2.Point{X: v.frame(window).Lo.X, Y: v.frame(window).Lo.Y - levelOver}, Size: medium, S: level.title})
	v.outlines(l, prefix)
	w.drawWires(l, v, prefix)
	cell.Lo.Y += levelTitle
	pl := newPlacer(l, cell)
	all := func(geom.Rect) bool { return true }
	w.placeTags(pl, v, prefix, all)
	w.nameParts(pl, v, prefix, all)
	w.namePads(pl, v, prefix, all)
}
