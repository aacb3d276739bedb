package render

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// placer finds free places for labels on a sheet. Everything that is drawn before is
// fixed; a label goes to the place that costs least among those of a lattice round its
// anchor, and from then on is fixed too. The order of the calls is the order of
// importance. There is no chance in it: equal costs are settled by the order of the
// lattice.
type placer struct {
	list   *List
	lines  *field     // strokes
	ink    *field     // strokes and labels
	labels *field     // labels with some air
	lead   []geom.Seg // leaders so far
	area   geom.Rect  // where labels may stand
	spare  bool       // notes are left out where they would cover something
}

func newPlacer(l *List, area geom.Rect) *placer {
	p := &placer{list: l, lines: newField(l.W, l.H), labels: newField(l.W, l.H), ink: newField(l.W, l.H), area: area}
	for _, it := range l.Items {
		p.lines.draw(it, p.labels)
	}
	for i := range p.ink.bits {
		p.ink.bits[i] = p.lines.bits[i] | p.labels.bits[i]
	}
	return p
}

// add puts a fixed item on the sheet.
func (p *placer) add(it Item) {
	p.list.add(it)
	p.lines.draw(it, p.labels)
	p.ink.draw(it, p.ink)
}

// pitch is the distance of lattice places in mm: labels fall into rows and columns.
const pitch = 3.0

// spiral returns lattice offsets by distance from the middle.
var spiral = sync.OnceValue(func() [][2]int {
	const reach = 34
	var out [][2]int
	for y := -reach; y <= reach; y++ {
		for x := -reach; x <= reach; x++ {
			if x*x+y*y <= reach*reach {
				out = append(out, [2]int{x, y})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b [2]int) int {
		if c := cmp.Compare(a[0]*a[0]+a[1]*a[1], b[0]*b[0]+b[1]*b[1]); c != 0 {
			return c
		}
		// Above first, then to the right: labels are looked for there.
		if c := cmp.Compare(a[1], b[1]); c != 0 {
			return c
		}
		return cmp.Compare(b[0], a[0])
	})
	return out
})

// wish describes a label to place: half its size, the points that it may be led to (the
// best is chosen) and how near it may come.
type wish struct {
	half    r2.Point
	targets []r2.Point
	least   float64 // distance of the label's middle from the target, at least
	most    float64 // and at most; 0 is no limit
	free    bool    // take no place that covers something
	leader  bool    // it needs a line to the target
	clear   bool    // that line may cross no other
}

// spot is a place for a label.
type spot struct {
	at, target r2.Point
	cost       float64 // mm, with penalties
	free       bool    // nothing is covered there
}

// crossed is the cost of a leader that crosses another, in mm of its length: it rather goes round.
const crossed = 60.0

// leaderLeast is the least length of a leader in mm.
const leaderLeast = 4.5

// covered is the cost of a spot that is not free.
const covered = 1e6

// cells is half the size of a label with its air in squares of the field.
func cells(half r2.Point) (x, y int) {
	return int(math.Ceil((half.X + labelAir) / cell)), int(math.Ceil((half.Y + labelAir) / cell))
}

// latticeCells is the pitch of the lattice in squares of the field; places of the lattice
// are corners of squares.
const latticeCells = int(pitch / cell)

// each calls yield with the places of the lattice round the wish's targets that lie within
// the area and in reach, the nearest first; d is the distance from the target t. When
// yield returns false the search round that target ends.
func (p *placer) each(w wish, yield func(x, y int, c, t r2.Point, d float64) bool) {
	in := geom.Rect{Lo: p.area.Lo.Add(w.half), Hi: p.area.Hi.Sub(w.half)}
	for _, t := range w.targets {
		cx, cy := int(math.Round(t.X/pitch)), int(math.Round(t.Y/pitch))
		for _, o := range spiral() {
			c := r2.Point{X: float64(cx+o[0]) * pitch, Y: float64(cy+o[1]) * pitch}
			dx, dy := c.X-t.X, c.Y-t.Y
			d := math.Sqrt(dx*dx + dy*dy)
			if d < w.least || !in.Contains(c) {
				continue
			}
			if w.most > 0 && d > w.most || !yield((cx+o[0])*latticeCells, (cy+o[1])*latticeCells, c, t, d) {
				break
			}
		}
	}
}

// find returns the best place. If nothing in reach is free, it is the place that covers
// least, with a cost of at least covered; none at an infinite cost if it must be free.
func (p *placer) find(w wish) spot {
	best := spot{cost: math.Inf(1)}
	hx, hy := cells(w.half)
	p.each(w, func(x, y int, c, t r2.Point, d float64) bool {
		if d > best.cost {
			return false
		}
		if !p.ink.clear(x-hx, y-hy, x+hx-1, y+hy-1) {
			return true
		}
		cost := d
		if w.leader {
			end := edgePoint(c, w.half, t)
			v := end.Sub(t)
			if v.X*v.X+v.Y*v.Y < leaderLeast*leaderLeast {
				return true
			}
			// A level or plumb leader looks like an edge of the thing.
			if math.Abs(v.X) < 0.6 || math.Abs(v.Y) < 0.6 {
				cost += 2
			}
			n := 0.0
			if cost < best.cost {
				n = p.crossings(geom.Seg{A: t, B: end})
				cost += n * crossed
			}
			// What is cheap to tell comes first: few places are left to be looked at more closely.
			if cost >= best.cost || n > 0 && w.clear || p.labels.hits(t, end) {
				return true
			}
			if cost < best.cost {
				cost += float64(p.lines.steps(t, end)) * 2
			}
		}
		if cost < best.cost {
			best = spot{c, t, cost, true}
		}
		return true
	})
	if math.IsInf(best.cost, 1) && !w.free {
		return p.least(w)
	}
	return best
}

// least returns the place that covers the least ink, for labels that found no free one.
func (p *placer) least(w wish) spot {
	best := spot{cost: math.Inf(1)}
	p.each(w, func(_, _ int, c, t r2.Point, d float64) bool {
		if covered+d > best.cost {
			return false
		}
		box := geom.Rect{Lo: c.Sub(w.half), Hi: c.Add(w.half)}
		if !p.labels.free(box) || w.leader && p.labels.hits(t, edgePoint(c, w.half, t)) {
			return true
		}
		if n := covered + d + 20*float64(p.lines.count(box)); n < best.cost {
			best = spot{c, t, n, false}
		}
		return true
	})
	if math.IsInf(best.cost, 1) && len(w.targets) > 0 {
		return spot{w.targets[0], w.targets[0], 2 * covered, false}
	}
	return best
}

// crossings counts the leaders that a new one would cross.
func (p *placer) crossings(s geom.Seg) float64 {
	n := 0.0
	box := geom.Rect{Lo: s.A, Hi: s.A}.Add(s.B)
	for _, l := range p.lead {
		if box.Intersects(geom.Rect{Lo: l.A, Hi: l.A}.Add(l.B)) && crosses(s, l) {
			n++
		}
	}
	return n
}

func crosses(a, b geom.Seg) bool {
	return geom.Orient(a.A, a.B, b.A)*geom.Orient(a.A, a.B, b.B) < 0 &&
		geom.Orient(b.A, b.B, a.A)*geom.Orient(b.A, b.B, a.B) < 0
}

// edgePoint returns where the line from the target to the middle c of a box of half size
// half enters the box.
func edgePoint(c, half, target r2.Point) r2.Point {
	d := target.Sub(c)
	k := math.Inf(1)
	if math.Abs(d.X) > 1e-9 {
		k = half.X / math.Abs(d.X)
	}
	if math.Abs(d.Y) > 1e-9 {
		k = math.Min(k, half.Y/math.Abs(d.Y))
	}
	if k >= 1 {
		return target
	}
	return c.Add(d.Mul(k))
}

// balloon places the number of a parts-list row.
func (p *placer) balloon(id, grp string, no int, targets []r2.Point) {
	if len(targets) == 0 {
		return
	}
	s := p.find(wish{half: r2.Point{X: balloonR, Y: balloonR}, targets: targets, least: balloonR + 4, leader: true})
	p.lead = append(p.lead, geom.Seg{A: s.at, B: s.target})
	p.add(Balloon{Head: Head{Layer: Leader, ID: id, Group: grp}, At: s.at, Dot: s.target, No: no})
}

// nearby is how far in mm a label without leader may stand from where it is wanted.
const nearby = 9.0

// noteHalf is half the size of a label of one or more lines.
func noteHalf(lines []string) r2.Point {
	w := 0.0
	for _, s := range lines {
		w = math.Max(w, TextWidth(s, small))
	}
	tall := linePitch*float64(len(lines)-1) + small*(ascent+descent)
	return r2.Point{X: w/2 + 0.3, Y: tall/2 + 0.1}
}

// note places a label of one or more lines. With a leader it is led to the target by a
// thin line with an arrowhead. A label without leader is left out if there is no room.
func (p *placer) note(h Head, lines []string, targets []r2.Point, least float64, leader bool) bool {
	if len(targets) == 0 || len(lines) == 0 {
		return false
	}
	w0 := wish{half: noteHalf(lines), targets: targets, least: least, leader: leader}
	if !leader {
		w0.most, w0.free = nearby, true
	}
	best := p.find(w0)
	if !best.free && (!leader || p.spare) {
		return false
	}
	p.putNote(h, lines, best, leader)
	return true
}

// putNote draws a label at the place that was found for it.
func (p *placer) putNote(h Head, lines []string, best spot, leader bool) {
	half := noteHalf(lines)
	tall := 2 * (half.Y - 0.1)
	at, to := best.at, best.target
	if leader {
		end := edgePoint(at, half, to)
		p.lead = append(p.lead, geom.Seg{A: end, B: to})
		lh := h
		lh.Layer = Leader
		p.add(Line{Head: lh, A: end, B: to})
		if d := to.Sub(end); d.Norm() > arrowLen {
			p.add(arrowhead(lh, to, d.Normalize()))
		}
	}
	for i, s := range lines {
		y := at.Y - tall/2 + small*ascent + linePitch*float64(i)
		p.add(Text{Head: h, At: r2.Point{X: at.X, Y: y}, Size: small, S: s, Align: Middle, Ink: StrokeOf(h.Layer).Colour})
	}
}
