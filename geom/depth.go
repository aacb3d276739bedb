package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// overlap returns the gap of two regions, b moved by s, that have a point in common; c is
// what separation found.
func overlap(a, b *Region, s r2.Point, c contact) Gap {
	if a.isConvex() && b.isConvex() {
		return convexLoopGap(a.Outer.d, b.Outer.d, s)
	}
	as, bs := [1]Region{*a}, [1]Region{*b}
	return overlapSets(as[:], bs[:], s, c)
}

// isConvex reports whether the region is a convex set.
func (r *Region) isConvex() bool { return len(r.Holes) == 0 && r.Outer.IsConvex() }

// overlapSets is overlap for two sets of regions, not both convex. If only their
// boundaries have points in common the gap is 0.
//
// For the depth it looks for a short move that parts them, among directions: the normals
// at the places where the boundaries cross, those across the line through two such places,
// and an even fan. Along each it tries growing steps up to the best length so far and
// halves the last one. Every length kept has been measured to part the sets, so that the
// result is an upper bound on the depth whatever the shapes.
func overlapSets(as, bs []Region, s r2.Point, c contact) Gap {
	if !interiorsMeet(as, bs, s) {
		return touch(as, bs, s, c)
	}
	d := directions{}
	d.collect(as, bs, s)
	// In any direction the sum of the supports parts even the hulls.
	best, bestU := math.Inf(1), r2.Point{}
	for k := range d.n {
		if h := reach(as, d.u[k]) + reach(bs, d.u[k].Mul(-1)) - s.Dot(d.u[k]); h < best {
			best, bestU = h, d.u[k]
		}
	}
	best += 4 * Coincident
	try := func(u r2.Point) bool {
		p := parting{as, bs, s, u}
		t, ok := p.below(d.first, best)
		if ok {
			best, bestU = t, u
		}
		return ok
	}
	for k := range d.n {
		try(d.u[k])
	}
	// Turn the best direction a little to either side while that helps.
	for step := 0.1; step > 1e-4; step /= 2 {
		sn, cs := math.Sincos(step)
		u := bestU
		if !try(r2.Point{X: cs*u.X - sn*u.Y, Y: sn*u.X + cs*u.Y}) {
			try(r2.Point{X: cs*u.X + sn*u.Y, Y: cs*u.Y - sn*u.X})
		}
	}
	p := parting{as, bs, s, bestU}
	best = p.halve(0, best)
	g := Gap{Dist: -best, Push: bestU}
	moved := s.Add(bestU.Mul(best))
	if m, st := separationSets(as, bs, moved, math.Inf(1), 0); m.a != nil && st != nested {
		g.A, g.B, _ = m.feet(moved)
	}
	return g
}

// touch returns the gap of sets whose interiors do not meet.
func touch(as, bs []Region, s r2.Point, c contact) Gap {
	if c.a == nil { // one lies in the filled part of the other, at its rim
		c = contact{d2: math.Inf(1)}
		for i := range as {
			for la := range as[i].Loops() {
				for j := range bs {
					for lb := range bs[j].Loops() {
						if la.d != nil && lb.d != nil {
							c.nearestPieces(la.d, lb.d, s, 0)
						}
					}
				}
			}
		}
	}
	if c.a == nil {
		return Gap{}
	}
	g := c.gap(s)
	g.Dist = 0
	if g.Push == (r2.Point{}) {
		g.Push = c.normal(g.A)
	}
	return g
}

// reach returns the support max(u·x) of a set of regions, by the ends of their pieces and
// the boxes of their arcs: exact for lines, an upper bound for arcs.
func reach(rs []Region, u r2.Point) float64 {
	h := math.Inf(-1)
	for i := range rs {
		if rs[i].Outer.d == nil {
			continue
		}
		d := rs[i].Outer.d.ready()
		for k := range d.pieces {
			p := &d.pieces[k]
			h = max(h, p.ax*u.X+p.ay*u.Y)
			if p.r != 0 && p.faces(u.X, u.Y) {
				h = max(h, p.cx*u.X+p.cy*u.Y+p.r)
			}
		}
	}
	return h
}

// A parting asks by how much bs must move along u, from s, to part from as.
type parting struct {
	as, bs []Region
	s, u   r2.Point
}

// parts reports whether a move by t leaves the sets apart by more than 2e-9 mm.
func (p *parting) parts(t float64) bool {
	const limit2 = 4 * Coincident * Coincident
	_, st := separationSets(p.as, p.bs, p.s.Add(p.u.Mul(t)), limit2, limit2)
	return st == apart
}

// below looks for a parting length less than most by more than a millionth, by steps that
// grow from first.
func (p *parting) below(first, most float64) (float64, bool) {
	limit := most - max(1e-9, most*1e-6)
	lo := 0.0
	for t := max(first, 1e-6); lo < limit; t *= 1.6 {
		t = min(t, limit)
		if p.parts(t) {
			return p.halve(lo, t), true
		}
		lo = t
	}
	return 0, false
}

// halve returns a parting length between lo and hi, which parts, that is within 1e-10 mm
// of one that does not part.
func (p *parting) halve(lo, hi float64) float64 {
	for hi-lo > max(1e-10, hi*1e-13) {
		if mid := lo + (hi-lo)/2; p.parts(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// separationSets is separation for the nearest pair of two sets of regions.
func separationSets(as, bs []Region, s r2.Point, limit2, stop2 float64) (contact, state) {
	best := contact{d2: limit2}
	st := apart
	for i := range as {
		for j := range bs {
			c, x := separation(&as[i], &bs[j], s, best.d2, stop2)
			if x == nested {
				return contact{}, nested
			}
			if c.a == nil {
				continue
			}
			best, st = c, x
			if c.d2 == 0 || c.d2 < stop2 {
				return best, c.stateBelow(stop2)
			}
		}
	}
	return best, st
}

// stateBelow is state for a search that ended early: nearer than the root of stop2 counts
// as touching.
func (c *contact) stateBelow(stop2 float64) state {
	if c.d2 <= max(stop2, Coincident*Coincident) {
		return touching
	}
	return apart
}

// directions are unit vectors worth trying to part two sets along.
type directions struct {
	u     [96]r2.Point
	n     int
	first float64 // mm, a guess at the depth
}

func (d *directions) add(u r2.Point) {
	l := math.Hypot(u.X, u.Y)
	if !(l > 0) || d.n == len(d.u) {
		return
	}
	u = r2.Point{X: u.X / l, Y: u.Y / l}
	for k := range d.n {
		if u.Dot(d.u[k]) > 1-1e-9 {
			return
		}
	}
	d.u[d.n] = u
	d.n++
}

// addBoth adds a direction and its opposite.
func (d *directions) addBoth(u r2.Point) {
	d.add(u)
	d.add(u.Mul(-1))
}

func (d *directions) collect(as, bs []Region, s r2.Point) {
	var prev, first r2.Point
	count := 0
	eachMeeting(as, bs, s, func(p, q *piece, at r2.Point) bool {
		for _, e := range [2]*piece{p, q} {
			if e.r == 0 {
				d.addBoth(r2.Point{X: e.by - e.ay, Y: e.ax - e.bx})
			} else {
				d.addBoth(at.Sub(e.c()))
			}
		}
		if count > 0 {
			d.addBoth(at.Sub(prev).Ortho())
			d.addBoth(at.Sub(first).Ortho())
		} else {
			first = at
		}
		prev = at
		count++
		return d.n < len(d.u)-32
	})
	for k := range 16 {
		sn, cs := math.Sincos(2 * math.Pi * float64(k) / 16)
		d.add(r2.Point{X: cs, Y: sn})
	}
	ca, cb := r2.Point{}, r2.Point{}
	if len(as) > 0 && len(bs) > 0 {
		ca, cb = as[0].Bound().Center(), bs[0].Bound().Center().Add(s)
	}
	d.addBoth(cb.Sub(ca))
}
