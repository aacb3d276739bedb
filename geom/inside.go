package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// ContainsRegion reports whether every point of inner lies in outer, to within 1e-9 mm;
// inner may touch outer's boundary from inside. The empty region lies in every other one,
// and in the empty one only itself.
func ContainsRegion(outer, inner Region) bool {
	if inner.IsEmpty() {
		return true
	}
	if outer.IsEmpty() {
		return false
	}
	c := rimContact(&outer, &inner)
	return contains(&outer, &inner, c.d2)
}

// Inside returns how far inner stays inside outer.
//
// Dist >= 0: inner lies in outer; Dist is the least distance from inner to outer's
// boundary, holes included, between A on that boundary and B on inner.
//
// Dist < 0: inner sticks out. B is the point of inner's boundary farthest from outer, A
// the point of outer nearest to it and -Dist their distance, within 1e-7 mm. Where inner
// covers a hole of outer, the points of the hole that it covers count as well as its
// boundary. If Exact is false, a point still farther out may exist that the search,
// limited in time, did not reach.
//
// In both cases B = A + Dist·Push, and a move of inner along Push improves matters.
// If either is empty, Dist is +Inf for an empty inner, else -Inf.
func Inside(outer, inner Region) Gap {
	if inner.IsEmpty() {
		return Gap{Dist: math.Inf(1)}
	}
	if outer.IsEmpty() {
		return Gap{Dist: math.Inf(-1)}
	}
	c := rimContact(&outer, &inner)
	if contains(&outer, &inner, c.d2) {
		return c.gap(r2.Point{})
	}
	p := protrusion{outer: &outer, inner: &inner, best: -1, left: maxProbes}
	p.corners()
	p.holes()
	p.boundary()
	g := distancePoint(&outer, p.at)
	g.A, g.B = nearestPoint(&outer, p.at), p.at
	g.Dist = -p.best
	g.Exact = p.left > 0 && !p.cut
	g.Push = g.A.Sub(g.B)
	if l := math.Hypot(g.Push.X, g.Push.Y); l > 0 {
		g.Push = r2.Point{X: g.Push.X / l, Y: g.Push.Y / l}
	} else {
		g.Push = r2.Point{X: 1}
	}
	return g
}

// rimContact returns the nearest pair of pieces of all boundaries of a and b.
func rimContact(a, b *Region) contact {
	c := contact{d2: math.Inf(1)}
	for la := range a.Loops() {
		for lb := range b.Loops() {
			if la.d != nil && lb.d != nil && c.d2 > 0 {
				c.nearestPieces(la.d, lb.d, r2.Point{}, 0)
			}
		}
	}
	return c
}

// contains reports whether outer contains inner, given the squared distance of their
// boundaries.
func contains(outer, inner *Region, rim2 float64) bool {
	if rim2 > Coincident*Coincident {
		// No boundaries meet: one point of each tells where all of it lies.
		if outer.locate(inner.Outer.d.v[0].P) != within {
			return false
		}
		for _, h := range outer.Holes {
			if h.d != nil && inner.locate(h.d.v[0].P) == within {
				return false
			}
		}
		return true
	}
	ok := true
	o, i := [1]Region{*outer}, [1]Region{*inner}
	eachSpan(inner, o[:], r2.Point{}, func(m r2.Point) bool {
		ok = outer.locate(m) != outside
		return ok
	})
	if !ok {
		return false
	}
	eachSpan(outer, i[:], r2.Point{}, func(m r2.Point) bool {
		ok = inner.locate(m) != within
		return ok
	})
	if !ok {
		return false
	}
	m, some := inner.innerPoint()
	return !some || outer.locate(m) != outside
}

// nearestPoint returns the point of the region nearest to p: p itself if it lies inside.
func nearestPoint(r *Region, p r2.Point) r2.Point {
	g := distancePoint(r, p)
	if g.Dist <= 0 {
		return p
	}
	return g.A
}

// maxProbes bounds the distance queries spent on one protrusion.
const maxProbes = 20_000

// protrusionError is the error in mm up to which a protrusion is searched.
const protrusionError = 1e-7

// A protrusion is the search for the point of inner farthest from outer.
type protrusion struct {
	outer, inner *Region
	best         float64
	at           r2.Point
	left         int  // probes left
	cut          bool // a hole was not searched to the end
}

// probe returns the distance from m to outer, the negative depth inside, with the nearest
// piece of outer's boundary, and keeps the farthest m.
func (p *protrusion) probe(m r2.Point) (float64, *piece) {
	p.left--
	d, inside := p.outer.Outer.d, false
	if d.encloses(m) {
		if h := holeAround(p.outer.Holes, m); h != nil {
			d = h
		} else {
			inside = true
		}
	}
	k, d2 := d.nearest(m.X, m.Y, math.Inf(1))
	if k < 0 {
		return 0, nil
	}
	f := &d.pieces[k]
	if !inside {
		far := math.Sqrt(d2)
		if far > p.best {
			p.best, p.at = far, m
		}
		return far, f
	}
	for _, h := range p.outer.Holes {
		if h.d != nil {
			if i, e2 := h.d.nearest(m.X, m.Y, d2); i >= 0 {
				f, d2 = &h.d.pieces[i], e2
			}
		}
	}
	if p.best < 0 {
		p.best, p.at = 0, m
	}
	return -math.Sqrt(d2), f
}

// corners probes the ends and middles of inner's pieces, for a first bound.
func (p *protrusion) corners() {
	for l := range p.inner.Loops() {
		for k := range l.d.ready().pieces {
			q := &l.d.pieces[k]
			p.probe(q.a())
			p.probe(q.between(q.a(), q.b()))
		}
	}
}

// boundary searches inner's boundary: branch and bound over its pieces. A part of a piece
// is dropped once the distance from all of it to outer is bounded by the best.
func (p *protrusion) boundary() {
	for l := range p.inner.Loops() {
		for k := range l.d.ready().pieces {
			p.search(&l.d.pieces[k])
		}
	}
}

func (p *protrusion) search(q *piece) {
	if p.left <= 0 {
		return
	}
	m := q.between(q.a(), q.b())
	d, f := p.probe(m)
	// No point of the part is farther from m than half of a monotone curve's length, which
	// is at most the sum of the steps in x and y from m to the farther end.
	half := max(math.Abs(m.X-q.ax)+math.Abs(m.Y-q.ay), math.Abs(m.X-q.bx)+math.Abs(m.Y-q.by))
	bound := d + half
	if f != nil {
		bound = min(bound, farthestAlong(q, f, m))
	}
	if bound <= p.best+protrusionError || half < Coincident {
		return
	}
	a, b := q.halves(m)
	p.search(&a)
	p.search(&b)
}

// farthestAlong bounds the distance from any point of q to f from above; m is a point of q.
func farthestAlong(q, f *piece, m r2.Point) float64 {
	// The corner of the tangents at the ends of q, or an end; q lies in the triangle.
	tx, ty := q.bx, q.by
	if q.r != 0 {
		hx, hy := (q.ax+q.bx)/2, (q.ay+q.by)/2
		ux, uy := hx-q.cx, hy-q.cy
		if n := ux*ux + uy*uy; n > 0 {
			k := q.r * q.r / n
			tx, ty = q.cx+ux*k, q.cy+uy*k
		}
	}
	if f.r == 0 { // the distance to a line is convex, largest at a corner of the triangle
		return math.Sqrt(max(f.dist2Point(q.ax, q.ay), f.dist2Point(q.bx, q.by), f.dist2Point(tx, ty)))
	}
	if f.faces(q.ax-f.cx, q.ay-f.cy) && f.faces(q.bx-f.cx, q.by-f.cy) && f.faces(tx-f.cx, ty-f.cy) {
		// All of q lies in the sector of the arc: its distance is | |x-c| - r |.
		hi := math.Sqrt(max(sq(q.ax-f.cx, q.ay-f.cy), sq(q.bx-f.cx, q.by-f.cy)))
		if q.r != 0 {
			if ux, uy := q.cx-f.cx, q.cy-f.cy; q.faces(ux, uy) {
				hi = max(hi, math.Sqrt(sq(ux, uy))+q.r)
			}
		}
		lo := math.Sqrt(q.dist2Point(f.cx, f.cy))
		return max(hi-f.r, f.r-lo)
	}
	// The distance to the point of f nearest to m is convex, too.
	x, y, _ := f.foot(m.X, m.Y)
	return math.Sqrt(max(sq(q.ax-x, q.ay-y), sq(q.bx-x, q.by-y), sq(tx-x, ty-y)))
}

func sq(x, y float64) float64 { return x*x + y*y }

// maxCells bounds the squares looked at in one hole.
const maxCells = 4000

// holes searches the holes of outer that inner reaches into. A farthest point that is not
// on inner's boundary is a local maximum of the distance to the rim, so it has nearest
// points on the rim to all sides. Squares are quartered while they may hold such a point
// that is farther than the best.
func (p *protrusion) holes() {
	in := p.inner.Outer.d.box
	type cell struct{ x, y, half, bound float64 }
	var stack [4 * stackSize]cell
	for _, h := range p.outer.Holes {
		if h.d == nil || !h.d.box.meets(&in) {
			continue
		}
		box := h.Bound()
		c, size := box.Center(), box.Size()
		stack[0] = cell{c.X, c.Y, max(size.X, size.Y) / 2, math.Inf(1)}
		top := 1
		for n := 0; top > 0; n++ {
			if n == maxCells {
				p.cut = true
				break
			}
			top--
			q := stack[top]
			if q.bound <= p.best+protrusionError {
				continue
			}
			if top+4 > len(stack) {
				p.cut = true
				continue
			}
			from := top
			for i := range 4 {
				x := q.x + q.half/2*float64(2*(i&1)-1)
				y := q.y + q.half/2*float64(i&2-1)
				r := q.half / 2 * math.Sqrt2
				m := r2.Point{X: x, Y: y}
				k, d2 := h.d.nearest(x, y, math.Inf(1))
				inside := h.d.encloses(m)
				if k < 0 || !inside && d2 > r*r {
					continue
				}
				d := math.Sqrt(d2)
				if !inside {
					d = -d
				}
				away := distancePoint(p.inner, m).Dist
				if away > r {
					continue
				}
				if away <= 0 && d > p.best {
					p.best, p.at = d, m
				}
				if bound := d + r; bound > p.best+protrusionError && (d <= 2*r || h.d.allRound(m, d, r, k)) {
					stack[top] = cell{x, y, q.half / 2, bound}
					top++
				}
			}
			// The most promising on top.
			for i := from + 1; i < top; i++ {
				for j := i; j > from && stack[j].bound < stack[j-1].bound; j-- {
					stack[j], stack[j-1] = stack[j-1], stack[j]
				}
			}
		}
	}
}

// allRound reports whether points within r of m may have nearest points of the boundary on
// opposite sides; k is the piece nearest to m, at the distance d. All such nearest points
// lie within d + 2r of m. If they all lie ahead, in the direction of the nearest one, by
// more than r, moving away from that direction takes every point near m farther off, so
// that none of them is a local maximum.
func (d *loopData) allRound(m r2.Point, far, r float64, k int32) bool {
	fx, fy, _ := d.pieces[k].foot(m.X, m.Y)
	ux, uy := (fx-m.X)/far, (fy-m.Y)/far
	limit2 := sq(far+2*r, 0)
	behind := func(b *box4) bool {
		if b.dist2Point(m.X, m.Y) > limit2 {
			return false
		}
		return min(ux*(b.lx-m.X), ux*(b.hx-m.X))+min(uy*(b.ly-m.Y), uy*(b.hy-m.Y)) <= r
	}
	var stack [stackSize]int32
	top := 1
	for top > 0 {
		top--
		i := stack[top]
		n := &d.nodes[i]
		if !behind(&n.box) {
			continue
		}
		if n.right != 0 {
			stack[top], stack[top+1] = n.right, i+1
			top += 2
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			p := d.pieces[k]
			if d.reaches(&p, behind, m, limit2, 12) {
				return true
			}
		}
	}
	return false
}

// reaches reports whether part of the piece may be behind, halving it up to deep times for
// tighter boxes.
func (d *loopData) reaches(p *piece, behind func(*box4) bool, m r2.Point, limit2 float64, deep int) bool {
	b := p.box()
	if !behind(&b) || p.dist2Point(m.X, m.Y) > limit2 {
		return false
	}
	if deep == 0 {
		return true
	}
	x, y := p.halves(p.between(p.a(), p.b()))
	return d.reaches(&x, behind, m, limit2, deep-1) || d.reaches(&y, behind, m, limit2, deep-1)
}
