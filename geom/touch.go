package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// How two boundaries meet: the points at which pieces cross or touch, and whether any part
// of one boundary between such points runs inside the other set.

// maxMeet is the largest number of points that meetPieces reports for a pair: two
// crossings, and each end on the other piece.
const maxMeet = 6

// meetPieces reports the points that p and q share: crossings, tangencies and ends of one
// on the other, within tol. It returns how many of at are set; doubles may occur.
func meetPieces(p, q *piece, tol float64, at *[maxMeet]r2.Point) int {
	n := 0
	put := func(x, y float64) {
		at[n] = r2.Point{X: x, Y: y}
		n++
	}
	tol2 := tol * tol
	if p.dist2Point(q.ax, q.ay) <= tol2 {
		put(q.ax, q.ay)
	}
	if p.dist2Point(q.bx, q.by) <= tol2 {
		put(q.bx, q.by)
	}
	if q.dist2Point(p.ax, p.ay) <= tol2 {
		put(p.ax, p.ay)
	}
	if q.dist2Point(p.bx, p.by) <= tol2 {
		put(p.bx, p.by)
	}
	switch {
	case p.r == 0 && q.r == 0:
		if m := crossLines(p, q); m.found {
			put(m.ax, m.ay)
		}
	case p.r == 0:
		meetLineArc(p, q, tol, put)
	case q.r == 0:
		meetLineArc(q, p, tol, put)
	default:
		meetArcs(p, q, tol, put)
	}
	return n
}

// meetLineArc reports both crossings of line and arc, or the tangency within tol.
func meetLineArc(l, a *piece, tol float64, put func(x, y float64)) {
	m := normalLineArc(l, a)
	if !m.found {
		return
	}
	if m.dist > 0 {
		if m.dist <= tol {
			put(m.bx, m.by)
		}
		return
	}
	put(m.ax, m.ay)
	// The other crossing is the mirror image in the normal through the centre.
	dx, dy := l.bx-l.ax, l.by-l.ay
	t := 2 * ((a.cx-m.ax)*dx + (a.cy-m.ay)*dy) / (dx*dx + dy*dy)
	x, y := m.ax+t*dx, m.ay+t*dy
	if s := (x-l.ax)*dx + (y-l.ay)*dy; s >= 0 && s <= dx*dx+dy*dy && a.faces(x-a.cx, y-a.cy) {
		put(x, y)
	}
}

// meetArcs reports both crossings of two arcs, or their tangency within tol.
func meetArcs(p, q *piece, tol float64, put func(x, y float64)) {
	m := normalArcs(p, q)
	if !m.found {
		return
	}
	if m.dist > 0 {
		if m.dist <= tol {
			put(m.ax, m.ay)
		}
		return
	}
	put(m.ax, m.ay)
	// The other crossing is the mirror image in the line of centres.
	if q.r < p.r {
		p, q = q, p
	}
	wx, wy := q.cx-p.cx, q.cy-p.cy
	vx, vy := m.ax-p.cx, m.ay-p.cy
	k := 2 * (wx*vy - wy*vx) / (wx*wx + wy*wy)
	x, y := p.cx+vx+k*wy, p.cy+vy-k*wx
	if p.faces(x-p.cx, y-p.cy) && q.faces(x-q.cx, y-q.cy) {
		put(x, y)
	}
}

// eachMeeting calls yield with every pair of pieces that meet and a point where they do,
// until it returns false. The second piece and the point are after the move s.
func eachMeeting(as, bs []Region, s r2.Point, yield func(p, q *piece, at r2.Point) bool) {
	for i := range as {
		for la := range as[i].Loops() {
			for j := range bs {
				for lb := range bs[j].Loops() {
					if la.d != nil && lb.d != nil && !la.d.eachMeeting(lb.d, s, yield) {
						return
					}
				}
			}
		}
	}
}

func (d *loopData) eachMeeting(e *loopData, s r2.Point, yield func(p, q *piece, at r2.Point) bool) bool {
	var at [maxMeet]r2.Point
	for k := range d.ready().pieces {
		p := &d.pieces[k]
		if !e.eachNear(p, s, func(_ int, q *piece) bool {
			for m := range meetPieces(p, q, Coincident, &at) {
				if !yield(p, q, at[m]) {
					return false
				}
			}
			return true
		}) {
			return false
		}
	}
	return true
}

// eachNear calls yield with the index and a copy of every piece, moved by s, whose box meets that of p, until it
// returns false.
func (d *loopData) eachNear(p *piece, s r2.Point, yield func(k int, q *piece) bool) bool {
	box := p.box()
	d.ready()
	back := box4{box.lx - s.X - Coincident, box.ly - s.Y - Coincident, box.hx - s.X + Coincident, box.hy - s.Y + Coincident}
	var stack [stackSize]int32
	top := 1
	for top > 0 {
		top--
		i := stack[top]
		n := &d.nodes[i]
		if !n.box.meets(&back) {
			continue
		}
		if n.right != 0 {
			stack[top], stack[top+1] = n.right, i+1
			top += 2
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			if b := d.pieces[k].box(); b.meets(&back) {
				q := d.pieces[k].shifted(s.X, s.Y)
				if !yield(int(k), &q) {
					return false
				}
			}
		}
	}
	return true
}

func (b *box4) meets(c *box4) bool {
	return b.lx <= c.hx && c.lx <= b.hx && b.ly <= c.hy && c.ly <= b.hy
}

// place is where a point lies with respect to a region.
type place int

const (
	outside place = iota
	onRim         // within 1e-9 mm of the boundary
	within
)

// locate returns the place of p with respect to r.
func (r *Region) locate(p r2.Point) place {
	d := r.Outer.d
	if d == nil {
		return outside
	}
	if d.box.dist2Point(p.X, p.Y) > Coincident*Coincident {
		return outside
	}
	if k, _ := d.nearest(p.X, p.Y, Coincident*Coincident); k >= 0 {
		return onRim
	}
	if !d.crossings(p.X, p.Y) {
		return outside
	}
	for _, h := range r.Holes {
		if h.d == nil || h.d.box.dist2Point(p.X, p.Y) > Coincident*Coincident {
			continue
		}
		if k, _ := h.d.nearest(p.X, p.Y, Coincident*Coincident); k >= 0 {
			return onRim
		}
		if h.d.crossings(p.X, p.Y) {
			return outside
		}
	}
	return within
}

// locateSets returns the best place of p with respect to any of the regions.
func locateSets(rs []Region, p r2.Point) place {
	best := outside
	for i := range rs {
		best = max(best, rs[i].locate(p))
	}
	return best
}

// interiorsMeet reports whether the sets have inner points in common, deeper than 1e-9 mm,
// b being moved by s; touching boundaries alone do not count.
//
// The boundary of each region is cut where it meets the boundaries of the other set. No
// span between cuts crosses the other boundary, so that one point of it tells on which
// side it runs. If no span runs inside, each region lies wholly inside or wholly outside
// of the other set, and one inner point of it tells which.
func interiorsMeet(as, bs []Region, s r2.Point) bool {
	back := s.Mul(-1)
	found := false
	for i := range as {
		if eachSpan(&as[i], bs, s, func(m r2.Point) bool {
			found = locateSets(bs, m.Sub(s)) == within
			return !found
		}); found {
			return true
		}
	}
	for j := range bs {
		if eachSpan(&bs[j], as, back, func(m r2.Point) bool {
			found = locateSets(as, m.Add(s)) == within
			return !found
		}); found {
			return true
		}
	}
	for i := range as {
		if m, ok := as[i].innerPoint(); ok && locateSets(bs, m.Sub(s)) == within {
			return true
		}
	}
	for j := range bs {
		if m, ok := bs[j].innerPoint(); ok && locateSets(as, m.Add(s)) == within {
			return true
		}
	}
	return false
}

// eachSpan cuts the boundary of a at its meetings with the boundaries of bs, moved by s,
// and calls yield with three points of every span, until it returns false.
func eachSpan(a *Region, bs []Region, s r2.Point, yield func(m r2.Point) bool) {
	var buf [32]r2.Point
	for l := range a.Loops() {
		if l.d == nil {
			continue
		}
		for k := range l.d.ready().pieces {
			p := &l.d.pieces[k]
			cuts := append(buf[:0], p.a(), p.b())
			for j := range bs {
				for lb := range bs[j].Loops() {
					if lb.d == nil {
						continue
					}
					lb.d.eachNear(p, s, func(_ int, q *piece) bool {
						var at [maxMeet]r2.Point
						n := meetPieces(p, q, Coincident, &at)
						cuts = append(cuts, at[:n]...)
						return true
					})
				}
			}
			p.sortAlong(cuts)
			for c := 1; c < len(cuts); c++ {
				if dist(cuts[c-1], cuts[c]) <= 2*Coincident {
					continue
				}
				m := p.between(cuts[c-1], cuts[c])
				if !yield(m) || !yield(p.between(cuts[c-1], m)) || !yield(p.between(m, cuts[c])) {
					return
				}
			}
		}
	}
}

// sortAlong sorts points of the piece from a to b. The piece is monotone in x and y, so
// the way along it is measured by the sum of both steps.
func (p *piece) sortAlong(at []r2.Point) {
	way := func(m r2.Point) float64 { return math.Abs(m.X-p.ax) + math.Abs(m.Y-p.ay) }
	for i := 1; i < len(at); i++ {
		for j := i; j > 0 && way(at[j]) < way(at[j-1]); j-- {
			at[j], at[j-1] = at[j-1], at[j]
		}
	}
}

// between returns the point of the piece halfway between two of its points.
func (p *piece) between(m, n r2.Point) r2.Point {
	h := r2.Point{X: m.X + (n.X-m.X)/2, Y: m.Y + (n.Y-m.Y)/2}
	if p.r == 0 {
		return h
	}
	ux, uy := h.X-p.cx, h.Y-p.cy
	l := math.Sqrt(ux*ux + uy*uy)
	if l == 0 {
		return h
	}
	e := p.fromCircle(h.X, h.Y, l)
	return r2.Point{X: h.X - e*(ux/l), Y: h.Y - e*(uy/l)}
}

// innerPoint returns a point inside the region, more than 1e-9 mm from its boundary: from
// the middle of a piece across by half the way, or a smaller share of it, to whatever comes
// next. It reports false for a region without inner points.
func (r *Region) innerPoint() (r2.Point, bool) {
	d := r.Outer.d
	if d == nil {
		return r2.Point{}, false
	}
	size := d.box.extent()
	for k := range d.ready().pieces {
		p := &d.pieces[k]
		m := p.between(p.a(), p.b())
		n := r2.Point{X: p.ay - p.by, Y: p.bx - p.ax}
		l := math.Hypot(n.X, n.Y)
		for step := size / 4; step > 2*Coincident; step /= 4 {
			for _, side := range [2]float64{1, -1} {
				if q := m.Add(n.Mul(side * step / l)); r.locate(q) == within {
					return q, true
				}
			}
		}
	}
	return r2.Point{}, false
}
