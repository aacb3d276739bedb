package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// chain walks along the links that have the wanted set on one side only, with the set on
// the left, and returns its regions.
//
// At a node the walk takes the next such link clockwise from where it came, which
// keeps to the same connected piece of the set's inside. Where a walk passes a node
// twice it is split there, so that every loop is simple: pieces that touch in a point come
// out as loops that touch, never as one that crosses or touches itself.
func (ar *arrangement) chain(in func(windings) bool) []Region {
	n := len(ar.links)
	const (
		forward  = 1 // wanted on the left from u to v
		backward = 2
	)
	ar.edge = cleared(ar.edge, n)
	edge := ar.edge
	for i := range ar.links {
		l := &ar.links[i]
		if l.dead {
			continue
		}
		switch left, right := in(l.left), in(l.left.minus(l.rise)); {
		case left && !right:
			edge[i] = forward
		case right && !left:
			edge[i] = backward
		}
	}
	ar.place = cleared(ar.place, len(ar.nodes)) // in the walk, plus one
	place, walk := ar.place, ar.walk
	var outers, holes []ringOf
	for i := range n {
		if edge[i] == 0 {
			continue
		}
		walk = walk[:0]
		h := half(2 * i)
		if edge[i] == backward {
			h++
		}
		for edge[h.link()] != 0 {
			edge[h.link()] = 0
			u := ar.from(h)
			if place[u] != 0 {
				k := place[u] - 1
				ar.close(walk[k:], &outers, &holes)
				for _, g := range walk[k:] {
					place[ar.from(g)] = 0
				}
				walk = walk[:k]
			}
			walk = append(walk, h)
			place[u] = int32(len(walk))
			h = ar.next(h, edge)
		}
		if len(walk) > 0 && ar.to(walk[len(walk)-1]) != ar.from(walk[0]) {
			ar.tear(ar.nodes[ar.from(walk[0])])
		}
		ar.close(walk, &outers, &holes)
		for _, g := range walk {
			place[ar.from(g)] = 0
		}
	}
	ar.walk = walk
	rs, stray := nest(outers, holes)
	if !stray.IsEmpty() {
		ar.tear(stray.Vertex(0).P)
	}
	return rs
}

// tear notes that the boundary of the wanted set could not be put together at a place.
func (ar *arrangement) tear(at r2.Point) {
	if !ar.torn {
		ar.torn, ar.tornAt = true, at
	}
}

// next returns the link after h on the walk, or h itself at a dead end.
func (ar *arrangement) next(h half, edge []uint8) half {
	r := ar.around(ar.to(h))
	t := h.twin()
	if len(r) == 2 {
		if r[0] == t {
			return r[1]
		}
		return r[0]
	}
	k := slices.Index(r, t)
	for i := 1; i < len(r); i++ {
		g := r[(k-i+len(r))%len(r)]
		if e := edge[g.link()]; e == 1 && g&1 == 0 || e == 2 && g&1 == 1 {
			return g
		}
	}
	return h
}

// ringOf is a finished loop with its signed area.
type ringOf struct {
	loop Loop
	area float64
}

// A tread is a part of a walk along one strand: where it begins and its bulge.
type tread struct {
	p      r2.Point
	bulge  float64
	strand int32
	arc    bool // the strand is an arc, if perhaps one taken as its chord
}

// unroll returns the treads of a closed walk, with the first one again at the end.
func (ar *arrangement) unroll(walk []half) []tread {
	out := ar.treads[:0]
	for _, h := range walk {
		l := &ar.links[h.link()]
		if l.single() {
			p, b := ar.nodes[l.u], l.bulge
			if h&1 == 1 {
				p, b = ar.nodes[l.v], -b
			}
			out = append(out, tread{p, b, l.s, ar.strands[l.s].r != 0})
			continue
		}
		first, last, d := l.s, l.t, int32(1)
		if h&1 == 1 {
			first, last, d = last, first, -1
		}
		back := l.back != (h&1 == 1)
		from := len(out)
		for i := first; i != last+d; i += d {
			s := &ar.strands[i]
			if back {
				out = append(out, tread{s.b, -s.bulge, i, s.r != 0})
			} else {
				out = append(out, tread{s.a, s.bulge, i, s.r != 0})
			}
		}
		r := out[from:]
		r[0].p = ar.nodes[ar.from(h)]
		for _, e := range [2]*tread{&r[0], &r[len(r)-1]} {
			if e.bulge != 0 {
				if _, _, e.bulge = ar.part(l, e.strand); h&1 == 1 {
					e.bulge = -e.bulge
				}
			}
		}
	}
	ar.treads = append(out, out[0])
	return ar.treads
}

// close turns a closed walk into a loop, unless it is thinner than the weld distance.
func (ar *arrangement) close(walk []half, outers, holes *[]ringOf) {
	if len(walk) < 2 {
		return
	}
	treads := ar.unroll(walk)
	n := len(treads) - 1
	o := treads[0].p
	area, length := 0.0, 0.0 // the length as an upper bound
	p := r2.Point{}
	for i := range n {
		q := sub2(treads[i+1].p, o)
		area += cross2(p, q) / 2
		dx, dy := q.X-p.X, q.Y-p.Y
		run := math.Abs(dx) + math.Abs(dy) // no less than the chord
		if b := treads[i].bulge; b != 0 {
			area += (dx*dx + dy*dy) * bulgeArea(b)
			run += run * math.Abs(b) // more than the arc is longer than its chord
		}
		length += run
		p = q
	}
	if math.Abs(area) <= ar.tol*length && math.Abs(area) <= ar.tol*lengthOf(treads) {
		return
	}
	v := ar.simplify(treads)
	if len(v) < 2 {
		ar.tear(o)
		return
	}
	for i := range v {
		if b := v[i].Bulge; b != 0 {
			next := i + 1
			if next == len(v) {
				next = 0
			}
			// As in Seg.IsArc: loops hold no bulge that is not an arc.
			if h := 2 * flatSagitta / b; near2(v[i].P, v[next].P, h) {
				v[i].Bulge = 0
			}
		}
	}
	r := ringOf{makeLoop(startLowest(v)), area}
	if !(math.Abs(r.loop.Area()-area) <= 2*ar.tol*length) {
		ar.tear(o)
	}
	if area > 0 {
		*outers = append(*outers, r)
	} else {
		*holes = append(*holes, r)
	}
}

// lengthOf returns the length of a closed walk, given as for simplify.
func lengthOf(treads []tread) float64 {
	sum := 0.0
	for i := range len(treads) - 1 {
		d := sub2(treads[i+1].p, treads[i].p)
		sum += math.Sqrt(dot2(d, d)) * (1 + math.Abs(treads[i].bulge))
	}
	return sum
}

// bulgeArea returns the area between an arc of bulge b and its chord of length 1:
// r²(φ - sin φ)/2 for the sweep φ, with r = (1+b²)/(4b) and φ = 4·atan b. For small b the
// terms cancel and the series is used; its next term is below 1e-17 at b = 0.03.
func bulgeArea(b float64) float64 {
	q := b * b
	if q < 1e-3 {
		return b * (1.0/3 + q*(1.0/15+q*(-1.0/105+q*(1.0/315-q/693))))
	}
	return ((1+q)*(1+q)*math.Atan(b)/q - (1-q)/b) / 8
}

// startLowest returns a copy of the list that begins with the lowest vertex, the leftmost
// of several.
func startLowest(v []Vertex) []Vertex {
	k := 0
	for i := range v {
		if lower(v[i].P, v[k].P) {
			k = i
		}
	}
	return append(append(make([]Vertex, 0, len(v)), v[k:]...), v[:k]...)
}

func lower(p, q r2.Point) bool { return p.Y < q.Y || p.Y == q.Y && p.X < q.X }

// nest puts each hole into the least outer loop around it and sorts regions and holes by
// their first vertices. It returns too a hole that lies in no loop, of which there should
// be none.
func nest(outers, holes []ringOf) (out []Region, stray Loop) {
	if len(outers) == 0 {
		if len(holes) > 0 {
			stray = holes[0].loop
		}
		return nil, stray
	}
	first := func(a, b Loop) int {
		p, q := a.Vertex(0).P, b.Vertex(0).P
		if c := cmp.Compare(p.Y, q.Y); c != 0 {
			return c
		}
		return cmp.Compare(p.X, q.X)
	}
	byFirst := func(a, b ringOf) int {
		if c := first(a.loop, b.loop); c != 0 {
			return c
		}
		return cmp.Compare(b.area, a.area)
	}
	slices.SortFunc(outers, byFirst)
	slices.SortFunc(holes, byFirst)
	out = make([]Region, len(outers))
	for i := range outers {
		out[i].Outer = outers[i].loop
	}
	if len(outers) == 1 {
		for _, h := range holes {
			out[0].Holes = append(out[0].Holes, h.loop)
		}
		return out, stray
	}
	for _, h := range holes {
		best, area := -1, math.Inf(1)
		for i := range outers {
			if outers[i].area < area && outers[i].area > -h.area && holds(outers[i].loop, h.loop) {
				best, area = i, outers[i].area
			}
		}
		if best >= 0 {
			out[best].Holes = append(out[best].Holes, h.loop)
		} else {
			stray = h.loop
		}
	}
	return out, stray
}

// holds reports whether the hole lies in the outer loop, when it is known to lie in it or
// outside. The two may touch in points, so three points of the hole vote.
func holds(outer, hole Loop) bool {
	box, inner := outer.Bound(), hole.Bound()
	if !box.Intersects(inner) {
		return false
	}
	var s Seg
	for _, g := range hole.Segs() {
		if g.chord() > s.chord() {
			s = g
		}
	}
	votes := 0
	for _, t := range [3]float64{0.237, 0.511, 0.793} {
		p := s.At(t)
		if box.Contains(p) && outer.d.crossings(p.X, p.Y) {
			votes++
		}
	}
	return votes >= 2
}
