package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Sizes of the schematic in mm at full size.
const (
	schemRow   = 4.4  // from pad to pad
	schemTrack = 1.9  // from one upright line to the next
	schemLeft  = 16.0 // level line out of a box: room for the tag and the letters of the colour
	schemRight = 8.0  // level line into a box: room for the letters
	schemPad   = 2.0  // between a label and the edge of its box
	schemShort = 1.8  // lettering where the sheet would not hold it otherwise
)

// schemSheet draws who is joined to whom, pad by pad. There is none for a craft without wires.
func (d *drawing) schemSheet() {
	if len(d.asm.Circuits) == 0 {
		return
	}
	s := newSchematic(d.asm)
	if len(s.wires) == 0 {
		return
	}
	s.order()
	paper, g := d.schemPaper(s)
	p := newPage("schematic", "Wiring schematic", paper, true)
	area := d.schemArea(p.frame)
	l := &p.sheet.List
	below := area
	below.Lo.Y += g.tall + 14
	left, used := schemTables(l, below, supplyTables(d.asm))
	d.left = append(d.left, left...)
	area.Hi.Y -= used
	g.origin = r2.Point{X: area.Lo.X + (area.Size().X-g.wide)/2, Y: area.Lo.Y + math.Max(0, (area.Size().Y-g.tall)/2)}
	lines := g.wireLines(s)
	shown := d.onSchematic()
	g.redden(l, d.asm, s, lines, shown)
	g.drawWires(l, s, lines)
	g.drawNodes(l, s)
	g.drawTags(l, s)
	pl := newPlacer(l, area)
	pl.labelAll(g.findings(pl, d.asm, s, lines, shown))
	d.schemFoot(p)
	d.pages = append(d.pages, p)
}

// schemArea is where the boxes stand: above the title block, on A4 above the cautions too.
func (d *drawing) schemArea(f geom.Rect) geom.Rect {
	area := geom.Rect{Lo: f.Lo.Add(r2.Point{X: 3, Y: 3}), Hi: r2.Point{X: f.Hi.X - 3, Y: f.Hi.Y - titleH - 4}}
	if !schemWide(f) {
		area.Hi.Y -= notesHeight("", f.Size().X-4, d.wireCautions())
	}
	return area
}

// schemWide reports whether a sheet has room for the cautions beside the title block.
func schemWide(f geom.Rect) bool { return f.Size().X > 2*titleW }

// schemGrid puts the grid of the schematic on a sheet.
type schemGrid struct {
	origin     r2.Point
	k          float64   // 1, or less where the sheet holds it only smaller
	text       float64   // lettering
	x          []float64 // of the left edges of the layers, from the origin
	wide, tall float64
	width      []float64 // of the layers
	tracks     []int
	left       []float64 // room for tags and letters behind the layers, mm at full size
}

// schemPaper lays the schematic out on the paper asked for, with smaller lettering if need be, or on
// A3 if that does not hold it; where none was asked for on the smallest that holds it at full size.
func (d *drawing) schemPaper(s *schematic) (Paper, schemGrid) {
	papers := []Paper{A4, A3}
	if d.paper == A3 && !d.auto {
		papers = papers[1:]
	}
	var g schemGrid
	for i, p := range papers {
		room := d.schemArea(newPage("", "", p, true).frame).Size()
		for _, k := range [...]float64{1, 0.9, 0.85, 0.8, schemShort / small} {
			rows := int(room.Y / (schemRow * k / rowHalves))
			g = s.grid(k, rows-2)
			if g.wide <= room.X && g.tall <= room.Y {
				return p, g
			}
			if d.auto && i < len(papers)-1 {
				break // larger paper before smaller lettering
			}
		}
	}
	return A3, g
}

// grid lays the schematic out with at most so many half rows, if that is enough.
func (s *schematic) grid(k float64, most int) schemGrid {
	g := schemGrid{k: k, text: small * k}
	tall := s.stack(most)
	g.tracks = s.assignTracks()
	shift := 0
	for _, layer := range s.layers {
		for _, n := range layer {
			shift = max(shift, n.row+n.size()-tall)
		}
	}
	g.tall = float64(tall+shift) * schemRow * k / rowHalves
	at := 0.0
	for i, layer := range s.layers {
		w := 0.0
		for _, n := range layer {
			w = math.Max(w, n.width(g.text))
		}
		g.x, g.width = append(g.x, at), append(g.width, w)
		at += w
		if i < len(g.tracks) {
			g.left = append(g.left, s.leftRoom(i))
			at += (g.left[i] + schemRight + float64(g.tracks[i]+1)*schemTrack) * k
		}
	}
	g.wide = at
	return g
}

// leftRoom is the room for tags and letters behind a layer; wires that only pass it have none.
func (s *schematic) leftRoom(layer int) float64 {
	if slices.ContainsFunc(s.layers[layer], func(n *snode) bool { return n.comp != nil && len(n.right) > 0 }) {
		return schemLeft
	}
	return 1
}

// width is what a node needs for its title and its labels.
func (n *snode) width(text float64) float64 {
	if n.comp == nil {
		return 4
	}
	side := func(groups []*sgroup) float64 {
		w := 0.0
		for _, g := range groups {
			if g.plug {
				w = math.Max(w, TextWidth(g.name, text))
			}
			for _, p := range g.pins {
				w = math.Max(w, TextWidth(p.label, text)+0.8)
			}
		}
		return w
	}
	both := side(n.left) + side(n.right) + 2*schemPad
	if len(n.left) > 0 && len(n.right) > 0 {
		both += 3
	}
	return math.Max(both, TextWidth(nameOf(n.comp), text)+2*schemPad)
}

// y is the height on the sheet of a half row.
func (g *schemGrid) y(halves int) float64 {
	return g.origin.Y + float64(halves)*schemRow*g.k/rowHalves
}

// box is the rectangle of a node on the sheet.
func (g *schemGrid) box(n *snode) geom.Rect {
	x := g.origin.X + g.x[n.layer]
	return geom.Rect{Lo: r2.Point{X: x, Y: g.y(n.row)}, Hi: r2.Point{X: x + g.width[n.layer], Y: g.y(n.row + n.size())}}
}

// wireLines are the runs of all wires on the sheet, level and upright pieces in turn, cut where
// they cross.
func (g *schemGrid) wireLines(s *schematic) []stretch {
	var all []stretch
	for i, w := range s.wires {
		pts := g.points(w)
		for k := 1; k < len(pts); k++ {
			z := 0.0
			if pts[k].X == pts[k-1].X {
				z = 1 // upright pieces pass over level ones
			}
			all = append(all, stretch{no: i, z: z, path: []geom.Seg{{A: pts[k-1], B: pts[k]}}})
		}
	}
	bridge(all, func(no int) float64 { return loadOf(s.wires[no].wire.Role).width * g.k }, 0.55*g.k)
	return all
}

// points are the corners of a wire from its left end to its right one.
func (g *schemGrid) points(w *swire) []r2.Point {
	var pts []r2.Point
	add := func(x, y float64) {
		p := r2.Point{X: x, Y: y}
		if n := len(pts); n > 0 && pts[n-1] == p {
			return
		}
		if n := len(pts); n > 1 && pts[n-1].Y == y && pts[n-2].Y == y {
			pts[n-1] = p
			return
		}
		pts = append(pts, p)
	}
	for _, l := range w.links {
		k := l.a.node.layer
		from := g.origin.X + g.x[k] + g.width[k]
		to := g.origin.X + g.x[k+1]
		ya, yb := g.y(l.a.level()), g.y(l.b.level())
		add(from, ya)
		if !l.straight() {
			x := from + (g.left[k]+float64(l.track+1)*schemTrack)*g.k
			add(x, ya)
			add(x, yb)
		}
		add(to, yb)
	}
	return pts
}

func schemHead(w *swire) Head {
	id := "schematic." + w.wire.ID
	return Head{Layer: Detail, ID: id, Group: "schematic." + w.circuit.ID}
}

// drawWires draws the wires in their colours, with a dark edge where the colour is pale.
func (g *schemGrid) drawWires(l *List, s *schematic, lines []stretch) {
	for i, w := range s.wires {
		style, ink := loadOf(w.wire.Role), coreOf(w.wire.Colour).ink
		for k := range lines {
			if lines[k].no != i {
				continue
			}
		}
		for _, run := range joined(lines, i) {
			vs := chain(run)
			if pale(ink) {
				l.add(Strand{Head: schemHead(w), V: vs, Width: (style.width + 0.35) * g.k, Ink: Soft})
			}
			l.add(Strand{Head: schemHead(w), V: vs, Width: style.width * g.k, Ink: ink, Dash: scaleDash(style.dash, g.k)})
		}
	}
}

// joined returns what is drawn of a wire, pieces that meet as one run.
func joined(lines []stretch, no int) [][]geom.Seg {
	var out [][]geom.Seg
	for k := range lines {
		if lines[k].no != no {
			continue
		}
		for _, run := range lines[k].kept() {
			if n := len(out); n > 0 {
				if last := out[n-1][len(out[n-1])-1]; last.B.Sub(run[0].A).Norm() < 1e-6 {
					out[n-1] = append(out[n-1], run...)
					continue
				}
			}
			out = append(out, run)
		}
	}
	return out
}

// scaleDash shortens the dashes of a smaller drawing.
func scaleDash(dash string, k float64) string {
	if k == 1 || dash == "" {
		return dash
	}
	var out []string
	for _, w := range strings.Fields(dash) {
		var v float64
		if _, err := fmt.Sscan(w, &v); err == nil {
			out = append(out, num(v*k))
		}
	}
	return strings.Join(out, " ")
}

// drawNodes draws the boxes with their pads.
func (g *schemGrid) drawNodes(l *List, s *schematic) {
	for _, layer := range s.layers {
		for _, n := range layer {
			if n.comp == nil {
				continue
			}
			id := "schematic." + n.comp.ID
			h := Head{Layer: Outline, ID: id, Group: id}
			b := g.box(n)
			l.add(rectPath(h, b))
			thinHead := h
			thinHead.Layer = Detail
			y := b.Lo.Y + schemRow*g.k
			l.add(Line{Head: thinHead, A: r2.Point{X: b.Lo.X, Y: y}, B: r2.Point{X: b.Hi.X, Y: y}})
			l.add(Text{Head: h, At: r2.Point{X: (b.Lo.X + b.Hi.X) / 2, Y: y - 1.1*g.k}, Size: g.text, S: nameOf(n.comp), Align: Middle})
			g.drawSide(l, thinHead, n, b, true)
			g.drawSide(l, thinHead, n, b, false)
		}
	}
}

// drawSide writes the pads on one side of a box, plugs in frames under their names.
func (g *schemGrid) drawSide(l *List, h Head, n *snode, b geom.Rect, left bool) {
	x, align, in := b.Hi.X, Right, -1.0
	if left {
		x, align, in = b.Lo.X, Left, 1.0
	}
	text := func(y float64, s string) {
		l.add(Text{Head: h, At: r2.Point{X: x + in*schemPad*g.k, Y: y}, Size: g.text, S: s, Align: align})
	}
	for _, grp := range n.side(left) {
		if len(grp.pins) == 0 {
			continue
		}
		wide, first, last := 0.0, math.MaxInt, 0
		for _, p := range grp.pins {
			wide = math.Max(wide, TextWidth(p.label, g.text))
			for i, e := range p.ends {
				first, last = min(first, e.row), max(last, e.row)
				y := g.y(e.level())
				if i == 0 {
					text(y+g.text/2, p.label)
				}
				l.add(Circle{Head: h, C: r2.Point{X: x, Y: y}, R: 0.7 * g.k, Fill: Paperwhite})
			}
			if k := len(p.ends); k > 1 { // one pad with more than one wire
				l.add(Line{Head: h, A: r2.Point{X: x, Y: g.y(p.ends[0].level())}, B: r2.Point{X: x, Y: g.y(p.ends[k-1].level())}})
			}
		}
		if grp.plug {
			wide = math.Max(wide, TextWidth(grp.name, g.text))
			top := g.y(n.row + (first-1)*rowHalves)
			l.add(Text{Head: h, At: r2.Point{X: x + in*schemPad*g.k, Y: top + schemRow*g.k - 1.2*g.k}, Size: g.text, S: grp.name, Align: align})
			y0, y1, x1 := top+0.4*g.k, g.y(n.row+(last+1)*rowHalves)-0.4*g.k, x+in*(wide+schemPad*g.k+1)
			h2 := h
			h2.Layer = Ghost
			l.add(Path{Head: h2, V: []geom.Vertex{{P: r2.Point{X: x, Y: y0}}, {P: r2.Point{X: x1, Y: y0}}, {P: r2.Point{X: x1, Y: y1}}, {P: r2.Point{X: x, Y: y1}}}})
		}
	}
}

// concerns tells what of the schematic a finding is about: its wires, else the boxes of its
// parts.
func concerns(asm *layout.Assembly, s *schematic, f *layout.Finding) (wires []int, nodes []*snode) {
	circuits := circuitsOf(asm, f)
	for i, w := range s.wires {
		if !slices.Contains(circuits, w.no) {
			continue
		}
		if any, this := namesWire(f, w.circuit, w.wire); !any || this {
			wires = append(wires, i)
		}
	}
	if len(wires) > 0 {
		return wires, nil
	}
	for _, n := range s.nodes {
		if n.comp != nil && slices.Contains(f.Subjects, n.comp.ID) {
			nodes = append(nodes, n)
		}
	}
	return nil, nodes
}

// failBands are laid under a wire that fails: the white one within the red one keeps the wire
// readable in grey.
var failBands = [2]struct {
	more float64 // mm wider than the wire
	ink  Colour
}{{1.6, FailInk}, {0.7, Paperwhite}}

// redden lays a wide red line with a white one in it under the wires that a finding says fail.
func (g *schemGrid) redden(l *List, asm *layout.Assembly, s *schematic, lines []stretch, found []numbered) {
	marked := map[int]bool{}
	for _, n := range found {
		for i := range n.all {
			if f := &n.all[i]; f.Verdict == layout.Fail {
				wires, _ := concerns(asm, s, f)
				for _, w := range wires {
					marked[w] = true
				}
			}
		}
	}
	for _, band := range failBands {
		for i, w := range s.wires {
			if !marked[i] {
				continue
			}
			for _, run := range joined(lines, i) {
				l.add(Strand{Head: schemHead(w), V: chain(run), Width: (loadOf(w.wire.Role).width + band.more) * g.k, Ink: band.ink})
			}
		}
	}
}

// bare returns points along a piece, 1.5 mm apart, on which no label lies.
func (p *placer) bare(s geom.Seg) []r2.Point {
	var out []r2.Point
	n := max(1, int(s.Length()/1.5))
	for i := range n {
		if q := s.At((float64(i) + 0.5) / float64(n)); !p.labels.has(q) {
			out = append(out, q)
		}
	}
	return out
}

// findings are the marks of those findings that the schematic shows, at the wires or else at
// the boxes that they are about.
func (g *schemGrid) findings(pl *placer, asm *layout.Assembly, s *schematic, lines []stretch, found []numbered) []place {
	var out []place
	for _, n := range found {
		count := 0
		seen := map[int]bool{}
		for i := range n.all {
			f := &n.all[i]
			wires, nodes := concerns(asm, s, f)
			var at []r2.Point
			for _, w := range wires {
				if seen[w] {
					continue
				}
				seen[w] = true
				for k := range lines {
					if s := &lines[k]; s.no == w {
						for _, seg := range s.path {
							at = append(at, pl.bare(seg)...)
						}
					}
				}
			}
			for _, b := range nodes {
				box := g.box(b)
				at = append(at, r2.Point{X: box.Lo.X + 2, Y: box.Lo.Y}, r2.Point{X: box.Hi.X - 2, Y: box.Lo.Y}, r2.Point{X: box.Center().X, Y: box.Hi.Y})
			}
			if len(at) == 0 {
				continue
			}
			count++
			id := fmt.Sprintf("schematic.finding-%d", n.no)
			h := Head{Layer: StyleOf(f.Verdict).Layer, ID: id, Group: id}
			if count > 1 {
				h.ID = fmt.Sprintf("%s.%d", id, count)
			}
			out = append(out, place{no: n.no, f: f, head: h, at: thin(at, 12)})
		}
	}
	return out
}
