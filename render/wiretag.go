package render

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// tagHalf is half the height in mm of the lozenge round a circuit's number. Balloons of the
// parts list are circles and marks of findings have corners, so no tag is mistaken for one.
const tagHalf = 2.0

// tagBox returns half the width of the lozenge round a circuit's number.
func tagBox(no int) float64 { return TextWidth(strconv.Itoa(no), small)/2 + tagPad }

// tagPad is the room in mm to either side of a number in its lozenge.
const tagPad = 2.2

// tag returns the lozenge with a circuit's number, its middle at at.
func tag(h Head, at r2.Point, no int) []Item { return tagOf(h, at, strconv.Itoa(no)) }

// tagOf returns the lozenge with the numbers of several circuits.
func tagOf(h Head, at r2.Point, nos string) []Item {
	w := TextWidth(nos, small)/2 + tagPad - tagHalf
	lo, hi := r2.Point{X: at.X - w, Y: at.Y}, r2.Point{X: at.X + w, Y: at.Y}
	up := r2.Point{Y: tagHalf}
	h.Layer = Detail
	return []Item{
		Path{Head: h, Closed: true, Fill: Paperwhite, V: []geom.Vertex{{P: lo.Sub(up)}, {P: hi.Sub(up), Bulge: 1}, {P: hi.Add(up)}, {P: lo.Add(up), Bulge: 1}}},
		Text{Head: h, At: r2.Point{X: at.X, Y: at.Y + small/2}, Size: small, S: nos, Align: Middle},
	}
}

// placeTag puts the number of a circuit with its wires beside it near its way, led to it by a
// line that ends in a dot; without the words where there is no room for them.
func (p *placer) placeTag(h Head, no int, words string, targets []r2.Point) {
	if len(targets) == 0 {
		return
	}
	half := tagBox(no)
	full := half
	if words != "" {
		full += (TextWidth(words, small) + 1) / 2
	}
	s := p.find(wish{half: r2.Point{X: full + 0.2, Y: tagHalf + 0.2}, targets: targets, least: full + 2, leader: true})
	if !s.free && words != "" {
		words, full = "", half
		s = p.find(wish{half: r2.Point{X: full + 0.2, Y: tagHalf + 0.2}, targets: targets, least: full + 2, leader: true})
	}
	end := edgePoint(s.at, r2.Point{X: full, Y: tagHalf}, s.target)
	p.lead = append(p.lead, geom.Seg{A: end, B: s.target})
	h.Layer = Leader
	p.add(Line{Head: h, A: end, B: s.target})
	p.add(Circle{Head: h, C: s.target, R: leaderDot, Fill: Ink})
	at := r2.Point{X: s.at.X - full + half, Y: s.at.Y}
	for _, it := range tag(h, at, no) {
		p.add(it)
	}
	if words != "" {
		p.add(Text{Head: h, At: r2.Point{X: at.X + half + 1, Y: s.at.Y + small/2}, Size: small, S: words})
	}
}

// bundleText names the wires of a circuit: "3×20 AWG", "2×12 + 1×28 AWG".
func bundleText(c *layout.Circuit) string {
	var names []string
	count := map[string]int{}
	for _, w := range c.Wires {
		g := layout.GaugeText(w.Gauge)
		if count[g] == 0 {
			names = append(names, g)
		}
		count[g]++
	}
	for i, g := range names {
		if n := count[g]; n > 1 || len(names) > 1 {
			names[i] = fmt.Sprintf("%d×%s", n, g)
		}
	}
	for i := range len(names) - 1 {
		names[i] = strings.TrimSuffix(names[i], " AWG")
	}
	return strings.Join(names, " + ")
}

// placeTags numbers the circuits of which a view shows a stretch.
func (w *wirePlan) placeTags(p *placer, v *view, prefix string, named func(geom.Rect) bool) {
	for i, c := range w.asm.Circuits {
		if !named(wayBox(c)) {
			continue
		}
		targets := w.tagPoints(v, i)
		if len(targets) == 0 {
			continue
		}
		id := fmt.Sprintf("%stag-%d", prefix, i+1)
		p.placeTag(Head{ID: id, Group: id}, i+1, bundleText(c), targets)
	}
}

// tagPoints returns points of the sheet on a circuit's way that its tag may be led to: on
// what can be seen before what is beneath something.
func (w *wirePlan) tagPoints(v *view, no int) []r2.Point {
	const apart = 4.0 // mm on paper
	var open, under []r2.Point
	for i := range w.all {
		s := &w.all[i]
		if s.no != no {
			continue
		}
		for _, g := range s.path {
			n := max(1, int(g.Length()*v.scale/apart))
			for k := range n {
				q := g.At((float64(k) + 0.5) / float64(n))
				switch {
				case v.gone(q):
				case s.sight == beneath || w.covered(i, q):
					under = append(under, v.point(q))
				default:
					open = append(open, v.point(q))
				}
			}
		}
	}
	if len(open) == 0 {
		open = under
	}
	if c := w.asm.Circuits[no]; len(open) == 0 && w.level != nil && routed(c) {
		for i := range c.Route.Legs {
			if leg := &c.Route.Legs[i]; isDrop(leg) && !v.gone(leg.At) && math.Max(leg.Z0, leg.Z1) > w.level.from && math.Min(leg.Z0, leg.Z1) < w.level.to {
				open = append(open, v.point(leg.At))
			}
		}
		return open
	}
	if len(open) == 0 { // a circuit without a way, or one that only goes up and down
		c := w.asm.Circuits[no]
		if a, ok := endOf(c, false); ok && !v.gone(a) {
			if b, ok := endOf(c, true); ok && !v.gone(b) {
				open = append(open, v.point(a.Add(b).Mul(0.5)))
			}
		}
	}
	return thin(open, 10)
}

// covered reports whether a circuit that lies higher hides a point of a stretch, within 0.5 mm.
func (w *wirePlan) covered(i int, q r2.Point) bool {
	const air = 0.5
	s := &w.all[i]
	for j := range w.all {
		o := &w.all[j]
		if o.no == s.no || o.z < s.z || o.z <= s.z && o.no < s.no {
			continue
		}
		reach := diameter(w.asm.Circuits[o.no])/2 + air
		for _, g := range o.path {
			if !g.Bound().Expand(reach).Contains(q) {
				continue
			}
			if _, _, d := g.Nearest(q); d < reach {
				return true
			}
		}
	}
	return false
}

// How far labels on the plan of wires may stand from what they name, mm: a pad that has no room
// nearby is named on the sheet of pads alone.
const (
	padReach  = 24.0
	partReach = 45.0
)

// namePads names the pads or plugs at the ends of each circuit, as far as there is room.
func (w *wirePlan) namePads(p *placer, v *view, prefix string, named func(geom.Rect) bool) {
	done := map[string]bool{} // pads that bear several circuits are named once
	for _, c := range w.asm.Circuits {
		for _, last := range [2]bool{false, true} {
			var targets []r2.Point
			pads := ""
			for _, wire := range c.Wires {
				if t := terminalOf(wire, last); t != nil && !v.gone(t.At) && w.onLevel(t.Z.Nominal()) && named(geom.Rect{Lo: t.At, Hi: t.At}) {
					targets = append(targets, v.point(t.At))
					pads += t.ID + " "
				}
			}
			if len(targets) == 0 || done[pads] {
				continue
			}
			done[pads] = true
			id := fmt.Sprintf("%s%s.%s", prefix, c.ID, [2]string{"from", "to"}[b2i(last)])
			p.freeNote(Head{Layer: Dimension, ID: id, Group: prefix + c.ID}, padWords(c, last), targets, 5, padReach)
		}
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// padWords names the pads at one end of a circuit: a row by its name, single pads by theirs
// in the order of the wires, with the letters of the wires' colours.
func padWords(c *layout.Circuit, last bool) []string {
	var names []string
	for _, w := range c.Wires {
		t := terminalOf(w, last)
		if t == nil || t.Name == "" {
			continue
		}
		name := t.Name
		switch {
		case t.Port != nil:
			name += plugWord
		case t.Pad == nil && t.Pin == nil && t.Owner != nil: // a lead that hangs on the part
			name = nameOf(t.Owner)
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) < 2 {
		return names
	}
	var out []string
	for _, w := range c.Wires {
		if t := terminalOf(w, last); t != nil {
			out = append(out, t.FullLabel()+" "+coreOf(w.Colour).code)
		}
	}
	if len(out) > 4 {
		return wrap(strings.Join(names, ", "), small, 34, 8)
	}
	return out
}

// freeNote places a label with a leader if there is a free place for it not farther away than most
// to which the leader crosses no other, and reports whether there was.
func (p *placer) freeNote(h Head, lines []string, targets []r2.Point, least, most float64) bool {
	if len(targets) == 0 || len(lines) == 0 {
		return false
	}
	s := p.find(wish{half: noteHalf(lines), targets: targets, least: least, most: most, leader: true, free: true, clear: true})
	if !s.free {
		return false
	}
	p.putNote(h, lines, s, true)
	return true
}

// hangs reports whether every circuit of a part ends at leads of its own, which bear its name.
func (w *wirePlan) hangs(id string) bool {
	for _, c := range w.asm.Circuits {
		for _, wire := range c.Wires {
			for _, t := range [2]*layout.Terminal{wire.From, wire.To} {
				if t != nil && t.Owner != nil && t.Owner.ID == id && (t.Pad != nil || t.Pin != nil) {
					return false
				}
			}
		}
	}
	return true
}

// nameParts names the parts that the circuits join.
func (w *wirePlan) nameParts(p *placer, v *view, prefix string, named func(geom.Rect) bool) {
	for i := range w.scene.shadows {
		s := &w.scene.shadows[i]
		if !w.ends[s.id] || !named(s.box) || w.hangs(s.id) {
			continue
		}
		first := true
		for j := range i {
			first = first && w.scene.shadows[j].id != s.id
		}
		if !first {
			continue
		}
		var targets []r2.Point
		for _, o := range s.sides {
			n := max(1, int(o.Seg.Length()*v.scale/6))
			for k := range n {
				if q := o.Seg.At((float64(k) + 0.5) / float64(n)); !v.gone(q) {
					targets = append(targets, v.point(q))
				}
			}
		}
		name := s.id[strings.LastIndexByte(s.id, '.')+1:]
		for _, c := range w.asm.Components {
			if c.ID == s.id {
				name = nameOf(c)
			}
		}
		id := prefix + s.id + ".name"
		p.freeNote(Head{Layer: Dimension, ID: id, Group: prefix + s.id}, []string{name}, thin(p.blank(targets), 12), 6, partReach)
	}
}
