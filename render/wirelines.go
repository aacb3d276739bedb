package render

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Sizes on paper in mm.
const (
	wireLeast  = 0.25 // the thinnest that a circuit is drawn
	tubeLeast  = 1.0  // from this width on it has two edges and a middle line
	tubeEdge   = 0.2
	bridgeAir  = 0.5 // to either side of a circuit that crosses over another
	sleeveWall = 0.5 // the second edge of a sleeve, outside
	coreWidth  = 0.4 // single wires from the end of a bundle to their pads
	padDot     = 0.5
)

// drawWires draws every circuit of the plan: the lowest first, the lower one left out where
// two cross.
func (w *wirePlan) drawWires(l *List, v *view, prefix string) {
	width := func(no int) float64 { return math.Max(diameter(w.asm.Circuits[no])*v.scale, wireLeast) }
	all := slices.Clone(w.all)
	for i := range all {
		all[i].cuts = nil
	}
	bridge(all, func(no int) float64 { return width(no) / v.scale }, bridgeAir/v.scale)
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case all[a].z < all[b].z-1e-6:
			return -1
		case all[a].z > all[b].z+1e-6:
			return 1
		}
		return 0
	})
	for _, i := range order {
		s := &all[i]
		c := w.asm.Circuits[s.no]
		t := tube{head: wireHead(prefix, c), width: width(s.no), style: runStyleOf(c.Kind), sight: s.sight, sleeved: c.Spec != nil && c.Spec.Sleeve != nil}
		for _, run := range s.kept() {
			for _, vs := range v.shown(chain(run)) {
				t.draw(l, v.run(vs))
			}
		}
	}
	for _, c := range w.asm.Circuits {
		w.drawEnds(l, v, prefix, c)
		w.drawMarks(l, v, prefix, c)
	}
}

func wireHead(prefix string, c *layout.Circuit) Head {
	id := prefix + c.ID
	return Head{Layer: Detail, ID: id, Group: id}
}

// shown returns what a view with broken-off arms leaves of a run.
func (v *view) shown(vs []geom.Vertex) [][]geom.Vertex {
	if len(v.arms) == 0 && v.pane == nil {
		return [][]geom.Vertex{vs}
	}
	var out [][]geom.Vertex
	for _, e := range v.clipArms(vs, false) {
		out = append(out, e.v)
	}
	return out
}

// tube is how a circuit is drawn.
type tube struct {
	head    Head
	width   float64 // mm on paper
	style   runStyle
	sight   sight
	sleeved bool
}

// draw puts one run on the sheet: a line, or where it is wide enough two edges with a tint
// between them and a middle line of the circuit's kind.
func (t tube) draw(l *List, vs []geom.Vertex) {
	if len(vs) < 2 {
		return
	}
	strand := func(width float64, ink Colour, dash string) {
		l.add(Strand{Head: t.head, V: vs, Width: width, Ink: ink, Dash: dash, Butt: true})
	}
	dash, tint := "", t.style.tint
	switch t.sight {
	case beneath:
		dash, tint = "1.6 0.8", Paperwhite
	case takenOff:
		dash = "4 0.7 0.5 0.7"
	}
	if t.sleeved {
		strand(t.width+2*sleeveWall+2*tubeEdge, Ink, dash)
		strand(t.width+2*sleeveWall, Paperwhite, "")
	}
	if t.width < tubeLeast {
		strand(t.width, t.style.ink, dash)
		return
	}
	strand(t.width, t.style.ink, dash)
	strand(t.width-2*tubeEdge, tint, "")
	strand(math.Min(0.35, t.width/4), t.style.ink, t.style.dash)
}

// drawEnds draws the single wires from the ends of the bundle to their pads, each in its own
// colour, and the pads: filled where they look up, open where they look down.
func (w *wirePlan) drawEnds(l *List, v *view, prefix string, c *layout.Circuit) {
	h := wireHead(prefix, c)
	for _, last := range [2]bool{false, true} {
		from, ok := endOf(c, last)
		if !ok {
			continue
		}
		for _, wire := range c.Wires {
			t := terminalOf(wire, last)
			if t == nil || v.gone(t.At) || !w.onLevel(t.Z.Nominal()) {
				continue
			}
			a, b := v.point(from), v.point(t.At)
			if a.Sub(b).Norm() > 0.2 && routed(c) {
				vs := []geom.Vertex{{P: a}, {P: b}}
				ink := coreOf(wire.Colour).ink
				if pale(ink) {
					l.add(Strand{Head: h, V: vs, Width: coreWidth + 0.3, Ink: Soft})
				}
				l.add(Strand{Head: h, V: vs, Width: coreWidth, Ink: ink})
			}
			fill := Ink
			if t.Up < 0 {
				fill = Paperwhite
			}
			l.add(Circle{Head: h, C: b, R: padDot * signSize(v), Fill: fill})
		}
	}
	if routed(c) {
		return
	}
	// No way: a red line from end to end, so that it is missed by nobody.
	a, okA := endOf(c, false)
	b, okB := endOf(c, true)
	if !okA || !okB {
		return
	}
	for _, vs := range v.shown([]geom.Vertex{{P: a}, {P: b}}) {
		if vs = v.run(vs); len(vs) > 1 {
			noWay(l, h, vs[0].P, vs[len(vs)-1].P)
		}
	}
}

// noWay joins the ends of a circuit that has no way, and strikes the line out.
func noWay(l *List, h Head, a, b r2.Point) {
	const arm = 1.8
	red := func(p, q r2.Point, dash string) {
		l.add(Strand{Head: h, V: []geom.Vertex{{P: p}, {P: q}}, Width: 0.7, Ink: FailInk, Dash: dash})
	}
	red(a, b, "2.5 1.5")
	m := a.Add(b).Mul(0.5)
	for _, d := range [2]r2.Point{{X: arm, Y: arm}, {X: arm, Y: -arm}} {
		red(m.Sub(d), m.Add(d), "")
	}
}

// drawMarks draws where a circuit is tied down, where it goes up or down, and the edges that
// it lies over.
func (w *wirePlan) drawMarks(l *List, v *view, prefix string, c *layout.Circuit) {
	if !routed(c) {
		return
	}
	h := wireHead(prefix, c)
	half := math.Max(diameter(c)*v.scale, wireLeast) / 2
	k := signSize(v)
	for _, t := range c.Route.Ties {
		if v.gone(t.At) || !w.onLevel(t.Z) {
			continue
		}
		tieMark(l, h, v.point(t.At), v.dirAt(c, t.At), half, k, t.Opens)
	}
	for i := range c.Route.Legs {
		leg := &c.Route.Legs[i]
		if !isDrop(leg) || v.gone(leg.At) {
			continue
		}
		lo, hi := math.Min(leg.Z0, leg.Z1), math.Max(leg.Z0, leg.Z1)
		switch {
		case w.level == nil || lo > w.level.from && hi < w.level.to:
			dropMark(l, h, v.point(leg.At), k)
		case lo >= w.level.to || hi <= w.level.from: // it passes elsewhere
		case lo > w.level.from:
			dropMark(l, h, v.point(leg.At), k)
		default:
			awayMark(l, h, v.point(leg.At), k)
		}
	}
	for _, e := range c.Route.Edges {
		if !v.gone(e.At) && w.level == nil {
			edgeMark(l, h, v.point(e.At), v.dirAt(c, e.At), half, k, e.Sharp)
		}
	}
}

// isDrop reports whether a leg only goes up or down.
func isDrop(leg *layout.Leg) bool {
	return len(leg.Path.Segs) == 0 && math.Abs(leg.Z1-leg.Z0) > 0.5
}

// signSize is the size of signs as a share of that at full size: smaller where the craft is,
// but not so small as to be lost.
func signSize(v *view) float64 { return math.Max(0.55, math.Min(1, math.Sqrt(v.scale))) }

// dirAt is the direction on the sheet in which a circuit passes a point.
func (v *view) dirAt(c *layout.Circuit, p r2.Point) r2.Point {
	best, dir := math.Inf(1), r2.Point{X: 1}
	for i := range c.Route.Legs {
		for _, s := range c.Route.Legs[i].Path.Segs {
			if _, t, d := s.Nearest(p); d < best {
				if u := s.Tangent(t); u.Norm() > 0.5 {
					best, dir = d, r2.Point{X: u.X, Y: -u.Y}
				}
			}
		}
	}
	return dir
}

// tieMark is a tie seen from above: a bar across the bundle, open where it is of hook and loop.
func tieMark(l *List, h Head, at, dir r2.Point, half, k float64, opens bool) {
	n := r2.Point{X: -dir.Y, Y: dir.X}
	bar := func(long, wide float64, ink Colour, butt bool) {
		d := n.Mul(long)
		l.add(Strand{Head: h, V: []geom.Vertex{{P: at.Sub(d)}, {P: at.Add(d)}}, Width: wide, Ink: ink, Butt: butt})
	}
	bar(half+0.9*k, 1.1*k, Ink, true)
	if opens {
		bar(half+0.4*k, 0.5*k, Paperwhite, false)
	}
}

// dropMark tells that a circuit goes up or down.
func dropMark(l *List, h Head, at r2.Point, k float64) {
	l.add(Circle{Head: h, C: at, R: 1.1 * k, Fill: Paperwhite}, Circle{Head: h, C: at, R: 0.3 * k, Fill: Ink})
}

// awayMark tells that a circuit goes down out of the level that is shown.
func awayMark(l *List, h Head, at r2.Point, k float64) {
	l.add(Circle{Head: h, C: at, R: 1.1 * k, Fill: Paperwhite})
	d := 1.1 * k * math.Sqrt2 / 2
	for _, s := range [2]float64{1, -1} {
		l.add(Line{Head: h, A: at.Add(r2.Point{X: -d, Y: -d * s}), B: at.Add(r2.Point{X: d, Y: d * s})})
	}
}

// edgeMark is a triangle on the edge that a circuit lies over, filled where the edge is sharp
// and nothing guards the wire.
func edgeMark(l *List, h Head, at, dir r2.Point, half, k float64, sharp bool) {
	n := r2.Point{X: -dir.Y, Y: dir.X}
	fill := Paperwhite
	if sharp {
		fill = Ink
	}
	for _, s := range [2]float64{1, -1} {
		tip := at.Add(n.Mul(s * half))
		base := at.Add(n.Mul(s * (half + 1.7*k)))
		l.add(Path{Head: h, Closed: true, Fill: fill, V: []geom.Vertex{{P: tip}, {P: base.Add(dir.Mul(0.9 * k))}, {P: base.Sub(dir.Mul(0.9 * k))}}})
	}
}
