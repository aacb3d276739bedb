package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

const (
	depthGap  = 1e-7 // mm: upper bound minus lower bound at which the search ends
	depthMost = 4000 // support points after which it ends with the bound it has
)

// deep is the least move that takes the difference off the origin.
type deep struct {
	depth float64   // mm, >= 0
	push  r3.Vector // unit; b moves along it
	p     r3.Vector // the point of a that meets b then
	low   float64   // no shorter move does it
	apart float64   // mm: the origin turned out to be outside by at least this
}

// hull is a convex polytope that grows, point by point, inside the difference. Its methods
// return the grown hull instead of writing to it, so that its lists may stay on the stack.
type hull struct {
	w, p  []r3.Vector // support points and their part in a
	faces []facet
	free  []int32 // dead facets to use again
	queue []queued
	seen  []edge // horizon of the point being added
	stack []int32
	eps   float64
}

// facet is a triangle, counter-clockwise from outside; near[i] lies across the edge from
// v[i] to v[i+1].
type facet struct {
	v, near [3]int32
	n       r3.Vector // outward unit normal
	d       float64   // signed distance of its plane from the origin
	birth   int32     // tells a facet from an earlier one in its place
	dead    bool
}

type queued struct {
	d     float64
	f     int32
	birth int32
}

type edge struct{ a, b, out int32 }

// depth finds the least translation that takes the origin out of the difference: the
// least value of its support function h over all unit directions. Every h(u) that is
// tried is an upper bound and u a move that parts the bodies. The facet nearest the
// origin of an inner polytope bounds it from below, so the polytope is grown there
// (the expanding polytope method of van den Bergen, 2001) until the bounds meet.
//
// The polytope need not hold the origin to begin with: distances are signed, and a
// facet with the origin outside it comes first and grows. A difference without volume
// has depth 0 across its flat side.
//
// common is the part in a of the origin, for a witness where the polytope gives none.
func (m *difference) depth(common r3.Vector) deep {
	if d, ok := m.parallelDepth(common); ok {
		return d
	}
	var h hull
	// The common case stays on the stack.
	var w, p [48]r3.Vector
	var fs [96]facet
	var qs [128]queued
	var es, st [32]int32
	var ed [24]edge
	h.w, h.p, h.faces, h.queue = w[:0], p[:0], fs[:0], qs[:0]
	h.free, h.stack, h.seen = es[:0], st[:0], ed[:0]
	return m.grow(h, common)
}

func (m *difference) grow(h hull, common r3.Vector) deep {
	h.eps = 4e-15 * m.size
	best := deep{depth: math.Inf(1)}
	try := func(u r3.Vector) (r3.Vector, r3.Vector) {
		w, p := m.support(u)
		if d := w.Dot(u); d < best.depth {
			best.depth, best.push, best.p = d, u, p
		}
		return w, p
	}
	var ok bool
	if h, ok = m.start(h, try); !ok {
		best.low, best.p = best.depth, common
		best.clamp()
		return best
	}
	for {
		var q queued
		if h, q, ok = h.pop(); !ok {
			break
		}
		f := &h.faces[q.f]
		best.low = max(best.low, f.d)
		w, p := try(f.n)
		if d := w.Dot(f.n); d-f.d <= max(h.eps, depthGap) {
			best.depth, best.push, best.p = d, f.n, h.foot(f)
			best.clamp()
			return best
		}
		if len(h.w) >= depthMost {
			break
		}
		if h, ok = h.add(w, p, q.f); !ok {
			break
		}
	}
	// The bounds did not meet. The move stands; find where the bodies touch after it.
	best.clamp()
	moved := *m
	moved.off = m.off.Add(best.push.Mul(best.depth + 1e-9))
	_, best.p, _, _ = moved.nearest()
	return best
}

// clamp turns a negative depth into a distance.
func (d *deep) clamp() {
	d.apart = max(0, -d.depth)
	d.depth = max(0, d.depth)
	d.low = max(0, min(d.depth, d.low))
}

// foot returns the part in a of the point of the hull nearest the foot of the origin on
// the plane of f. Where several facets lie in that plane the foot may be in any of them.
func (h hull) foot(f *facet) r3.Vector {
	o := f.n.Mul(f.d)
	near := math.Inf(1)
	var p r3.Vector
	for i := range h.faces {
		g := &h.faces[i]
		if g.dead || !(math.Abs(g.n.Dot(o)-g.d) <= 10*depthGap) {
			continue
		}
		a, b, c := h.w[g.v[0]].Sub(o), h.w[g.v[1]].Sub(o), h.w[g.v[2]].Sub(o)
		t := nearestOnWhole(a, b, c)
		if d := a.Mul(t[0]).Add(b.Mul(t[1])).Add(c.Mul(t[2])).Norm2(); d < near {
			near = d
			p = h.p[g.v[0]].Mul(t[0]).Add(h.p[g.v[1]].Mul(t[1])).Add(h.p[g.v[2]].Mul(t[2]))
		}
	}
	return p
}

// nearestOnWhole returns the weights of the point of a triangle nearest the origin.
func nearestOnWhole(a, b, c r3.Vector) [3]float64 {
	f := nearestOnTriangle(a, b, c)
	v, t := nearestOnSegment(b, c)
	if v.Norm2() < f.d2 {
		return [3]float64{0, 1 - t, t}
	}
	return f.l
}

// start makes the first tetrahedron of support points; false if the difference is flat,
// in which case the direction across it has been tried.
func (m *difference) start(h hull, try func(r3.Vector) (r3.Vector, r3.Vector)) (hull, bool) {
	var w, p [6]r3.Vector
	for i, u := range [6]r3.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}} {
		w[i], p[i] = try(u)
	}
	thin := 1e-11*m.size + 1e-12
	// The farthest pair, then the farthest from their line, then from their plane.
	i0, i1, far := 0, 1, -1.0
	for i := range w {
		for j := i + 1; j < 6; j++ {
			if d := w[i].Sub(w[j]).Norm2(); d > far {
				i0, i1, far = i, j, d
			}
		}
	}
	h.w, h.p = append(h.w, w[i0], w[i1]), append(h.p, p[i0], p[i1])
	line, ok := unit(w[i1].Sub(w[i0]))
	if !ok || far <= thin*thin {
		return h, false // a point
	}
	side := frameOf(line)
	var c, pc r3.Vector
	far = thin
	for i := 0; i < 8; i++ {
		s, q := math.Sincos(float64(i) * math.Pi / 4)
		u := side[0].Mul(q).Add(side[1].Mul(s))
		a, b := try(u)
		d := a.Sub(w[i0])
		if r := d.Sub(line.Mul(d.Dot(line))).Norm(); r > far {
			c, pc, far = a, b, r
		}
	}
	if far <= thin {
		return h, false // a segment
	}
	h.w, h.p = append(h.w, c), append(h.p, pc)
	n, _ := unit(line.Cross(c.Sub(w[i0])))
	a, pa := try(n)
	b, pb := try(n.Mul(-1))
	da, db := a.Sub(w[i0]).Dot(n), -b.Sub(w[i0]).Dot(n)
	if max(da, db) <= thin {
		return h, false // flat
	}
	if da < db {
		a, pa, n = b, pb, n.Mul(-1)
	}
	h.w, h.p = append(h.w, a), append(h.p, pa)
	// Point 3 is on the side of n; order the base so that it looks away from it.
	v := [4]int32{0, 1, 2, 3}
	if h.w[1].Sub(h.w[0]).Cross(h.w[2].Sub(h.w[0])).Dot(n) > 0 {
		v[1], v[2] = 2, 1
	}
	h, _ = h.put([3]int32{v[0], v[1], v[2]}, [3]int32{1, 2, 3})
	h, _ = h.put([3]int32{v[1], v[0], v[3]}, [3]int32{0, 3, 2})
	h, _ = h.put([3]int32{v[2], v[1], v[3]}, [3]int32{0, 1, 3})
	h, _ = h.put([3]int32{v[0], v[2], v[3]}, [3]int32{0, 2, 1})
	return h, true
}

// put makes a facet and queues it; a sliver without a normal is kept for the topology
// but never grown.
func (h hull) put(v, near [3]int32) (hull, int32) {
	a, b, c := h.w[v[0]], h.w[v[1]], h.w[v[2]]
	f := facet{v: v, near: near}
	n := b.Sub(a).Cross(c.Sub(a))
	ok := n.Norm2() > 1e-28*b.Sub(a).Norm2()*c.Sub(a).Norm2()
	if ok {
		f.n, ok = unit(n)
	}
	if ok {
		f.d = max(f.n.Dot(a), f.n.Dot(b), f.n.Dot(c))
	}
	var i int32
	if k := len(h.free); k > 0 {
		i = h.free[k-1]
		h.free = h.free[:k-1]
		f.birth = h.faces[i].birth + 1
		h.faces[i] = f
	} else {
		i = int32(len(h.faces))
		h.faces = append(h.faces, f)
	}
	if ok {
		h = h.queueUp(queued{f.d, i, f.birth})
	}
	return h, i
}

// add puts point w, which lies outside facet seed, into the hull. It returns false when
// rounding spoils the horizon; the hull is of no use then.
func (h hull) add(w, p r3.Vector, seed int32) (hull, bool) {
	at := int32(len(h.w))
	h.w, h.p = append(h.w, w), append(h.p, p)
	// Flood from the seed over all facets that see w.
	h.stack, h.seen = append(h.stack[:0], seed), h.seen[:0]
	h.faces[seed].dead = true
	firstFree := len(h.free)
	for len(h.stack) > 0 {
		i := h.stack[len(h.stack)-1]
		h.stack = h.stack[:len(h.stack)-1]
		f := h.faces[i]
		for k := 0; k < 3; k++ {
			j := f.near[k]
			g := &h.faces[j]
			if g.dead {
				continue
			}
			if g.n.Dot(w)-g.d > h.eps || g.n == (r3.Vector{}) {
				g.dead = true
				h.stack = append(h.stack, j)
			}
		}
		h.free = append(h.free, i)
	}
	// The horizon: edges of dead facets whose neighbour lives.
	for _, i := range h.free[firstFree:] {
		f := &h.faces[i]
		for k := 0; k < 3; k++ {
			if j := f.near[k]; !h.faces[j].dead {
				h.seen = append(h.seen, edge{f.v[k], f.v[(k+1)%3], j})
			}
		}
	}
	// Order it into one ring.
	n := len(h.seen)
	if n < 3 {
		return h, false
	}
	for i := 0; i+1 < n; i++ {
		j := i + 1
		for j < n && h.seen[j].a != h.seen[i].b {
			j++
		}
		if j == n {
			return h, false
		}
		h.seen[i+1], h.seen[j] = h.seen[j], h.seen[i+1]
	}
	if h.seen[n-1].b != h.seen[0].a {
		return h, false
	}
	first, last := int32(-1), int32(-1)
	for _, e := range h.seen {
		var i int32
		h, i = h.put([3]int32{e.a, e.b, at}, [3]int32{e.out, -1, last})
		g := &h.faces[e.out]
		for k := 0; k < 3; k++ {
			if g.v[k] == e.b && g.v[(k+1)%3] == e.a {
				g.near[k] = i
			}
		}
		if last >= 0 {
			h.faces[last].near[1] = i
		} else {
			first = i
		}
		last = i
	}
	h.faces[last].near[1] = first
	h.faces[first].near[2] = last
	return h, true
}

// queueUp and pop are a binary heap on (d, f): ties go to the lower index, so that the
// order is the same on every run.
func (h hull) queueUp(q queued) hull {
	h.queue = append(h.queue, q)
	for i := len(h.queue) - 1; i > 0; {
		up := (i - 1) / 2
		if !h.queue[i].before(h.queue[up]) {
			break
		}
		h.queue[i], h.queue[up] = h.queue[up], h.queue[i]
		i = up
	}
	return h
}

func (q queued) before(r queued) bool { return q.d < r.d || q.d == r.d && q.f < r.f }

func (h hull) pop() (hull, queued, bool) {
	for len(h.queue) > 0 {
		top := h.queue[0]
		n := len(h.queue) - 1
		h.queue[0] = h.queue[n]
		h.queue = h.queue[:n]
		for i := 0; ; {
			c := 2*i + 1
			if c >= n {
				break
			}
			if c+1 < n && h.queue[c+1].before(h.queue[c]) {
				c++
			}
			if !h.queue[c].before(h.queue[i]) {
				break
			}
			h.queue[c], h.queue[i] = h.queue[i], h.queue[c]
			i = c
		}
		if f := &h.faces[top.f]; !f.dead && f.birth == top.birth {
			return h, top, true
		}
	}
	return h, queued{}, false
}
