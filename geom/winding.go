package geom

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// A component is a connected part of the graph.
type component struct {
	first int32    // its node with the least x, then y
	shift windings // winding of the outside of that node's corner
	up    windings // the same counted by a ray upward, and by one downward
	down  windings
}

// wind gives every link the winding on its left. Starting from any link of a component with
// an assumed winding, turning round each node gives those of all others up to a
// constant. The constant follows from the corner at the component's leftmost node that
// opens to -x: nothing of the component lies there, and a ray counts the others.
//
// It returns false if the numbers contradict each other, which they can only do if links
// cross without a node.
func (ar *arrangement) wind() (at r2.Point, ok bool) {
	const none = -1
	ar.comp = cleared(ar.comp, len(ar.nodes))
	comp := ar.comp
	for i := range comp {
		comp[i] = none
	}
	ar.set = cleared(ar.set, len(ar.links))
	set := ar.set
	comps, stack := ar.comps[:0], ar.stack[:0]
	defer func() { ar.comps, ar.stack = comps, stack }()
	for j := range ar.nodes {
		if comp[j] != none || ar.live[j] == 0 {
			continue
		}
		c := int32(len(comps))
		first, last := int32(j), int32(j)
		comp[j] = c
		stack = append(stack[:0], first)
		for len(stack) > 0 {
			v := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if before(ar.nodes[v], ar.nodes[first]) {
				first = v
			} else if before(ar.nodes[last], ar.nodes[v]) {
				last = v
			}
			r := ar.around(v)
			// Begin at a link whose winding is known, if there is one.
			k := 0
			for k < len(r) && !set[r[k].link()] {
				k++
			}
			if k == len(r) {
				k = 0
				set[r[0].link()] = true
				ar.links[r[0].link()].left = windings{}
			}
			w := ar.leftOf(r[k])
			for range r {
				if k++; k == len(r) {
					k = 0
				}
				// The right of a link is the left of the one before it.
				h := r[k]
				l := &ar.links[h>>1]
				rise, t := l.rise, l.v
				if h&1 == 1 {
					rise, t = rise.neg(), l.u
				}
				w = w.plus(rise)
				left := w
				if h&1 == 1 {
					left = w.minus(rise)
				}
				if !set[h>>1] {
					set[h>>1] = true
					l.left = left
				} else if l.left != left {
					return ar.nodes[v], false
				}
				if comp[t] == none {
					comp[t] = c
					stack = append(stack, t)
				}
			}
		}
		// The order of links round a node is rounding where all about it is as small as the
		// weld distance; a second corner tells whether the first one may be trusted.
		out := ar.outside(first, false)
		if out != ar.outside(last, true) {
			return ar.nodes[first], false
		}
		comps = append(comps, component{first: first, shift: out})
	}
	if len(comps) > 1 {
		ar.castRays(comps, comp)
	}
	for i := range comps {
		c := &comps[i]
		if c.up != c.down {
			return ar.nodes[c.first], false
		}
		c.shift = c.up.minus(c.shift)
	}
	for i := range ar.links {
		l := &ar.links[i]
		if !l.dead {
			l.left = l.left.plus(comps[comp[l.u]].shift)
		}
	}
	return r2.Point{}, true
}

// outside returns the winding in the corner at a node that opens to -x, or to +x. It lies
// outside the component if the node has the least, or the greatest, x of it.
func (ar *arrangement) outside(v int32, right bool) windings {
	r := ar.around(v)
	if len(r) == 2 {
		// Both leave into the half plane on the other side, as a rule in directions far
		// apart. The one further counter-clockwise has the corner on its left.
		s, t := ar.spoke(r[0]), ar.spoke(r[1])
		switch x, c := cross2(s.dir, t.dir), dot2(s.dir, t.dir); {
		case math.Abs(s.dir.Y) > 0.5 && math.Abs(t.dir.Y) > 0.5 && s.dir.Y > 0 != (t.dir.Y > 0):
			// One up and one down, perhaps beyond the upright: at tiny arcs whose ends
			// were welded beside their extremes.
			if s.dir.Y > 0 == right {
				return ar.leftOf(t.h)
			}
			return ar.leftOf(s.h)
		case c <= 0 || s.bend == 0 && t.bend == 0 && math.Abs(x)*min(s.r, t.r) > ar.tol:
			if x > 0 {
				return ar.leftOf(t.h)
			}
			return ar.leftOf(s.h)
		}
	}
	// In a copy: the walk needs no more than the order round the node. Apart from what
	// welding did to tiny arcs, the gap on that side is at least half a turn.
	r = append(make([]half, 0, 8), r...)
	ar.order(r, right, 1)
	// Links are in order counter-clockwise from that corner, so the last one has it on its left.
	return ar.leftOf(r[len(r)-1])
}

// castRays counts, for the leftmost node of each component, the links of the other
// components above and below it. A link owns its left end and not its right one, so that
// a ray through a node counts right.
func (ar *arrangement) castRays(comps []component, comp []int32) {
	rank := make([]int32, len(comps))
	for i := range rank {
		rank[i] = int32(i)
	}
	slices.SortFunc(rank, func(i, j int32) int {
		p, q := ar.nodes[comps[i].first], ar.nodes[comps[j].first]
		if before(p, q) {
			return -1
		}
		return 1
	})
	xs := make([]float64, len(rank))
	for i, c := range rank {
		xs[i] = ar.nodes[comps[c].first].X
	}
	// at[s] is the first node in slot s or further right, of even slots over the width.
	x0 := xs[0]
	slots := 2 * len(xs)
	scale := 0.0
	if w := xs[len(xs)-1] - x0; w > ar.tol {
		scale = float64(slots) / w
	}
	slot := func(x float64) int { return int(max(0, min(float64(slots), (x-x0)*scale))) }
	at := make([]int32, slots+1)
	for k := len(xs) - 1; k >= 0; k-- {
		at[slot(xs[k])] = int32(k)
	}
	for s, k := slots, int32(len(xs)); s >= 0; s-- {
		if at[s] == 0 && (s > 0) {
			at[s] = k
		}
		k = at[s]
	}
	// pass counts a part of link l, run through from p to q: along strand i, or along those
	// from i to j between their ends.
	pass := func(l *link, p, q r2.Point, b float64, i, j int32) {
		w := l.rise // seen from left to right
		if p.X > q.X {
			p, q, w, b = q, p, w.neg(), -b
		}
		k := int(at[slot(p.X)])
		for k < len(xs) && xs[k] < p.X {
			k++
		}
		for ; k < len(xs) && xs[k] < q.X; k++ {
			c := &comps[rank[k]]
			if comp[l.u] == comp[c.first] {
				continue
			}
			o := ar.nodes[c.first]
			p, q, b, s := p, q, b, i
			if i != j {
				s = ar.strandOver(i, j, l.back, o.X)
				t := &ar.strands[s]
				p, q, b = t.a, t.b, t.bulge
			}
			if ar.strands[s].above(p, q, b, o) {
				c.up = c.up.minus(w) // below it is the right side: going up adds w
			} else {
				c.down = c.down.plus(w)
			}
		}
	}
	for i := range ar.links {
		l := &ar.links[i]
		if l.dead {
			continue
		}
		p, q, b := ar.part(l, l.s)
		pass(l, p, q, b, l.s, l.s)
		if l.s == l.t {
			continue
		}
		// Welding may have moved the ends across other points, but the part between the
		// end strands is where it was and does not turn back.
		r, s, e := ar.part(l, l.t)
		if l.t-l.s > 1 {
			_, _, m := ar.part(l, l.s+1)
			pass(l, q, r, m, l.s+1, l.t-1)
		}
		pass(l, r, s, e, l.t, l.t)
	}
}

// strandOver returns that of the strands i to j of a link with a.X <= x < b.X, if there is
// one: if x is so between the ends of the whole.
func (ar *arrangement) strandOver(i, j int32, back bool, x float64) int32 {
	for i < j {
		k := (i + j + 1) / 2
		if s := &ar.strands[k]; !back && s.a.X <= x || back && s.b.X > x {
			i = k
		} else {
			j = k - 1
		}
	}
	return i
}

// above reports whether the part from p to q of the strand, with bulge b and
// p.X <= o.X < q.X, passes above o.
func (s *strand) above(p, q r2.Point, b float64, o r2.Point) bool {
	over := cross2(sub2(q, p), sub2(o, p)) < 0 // o is right of the chord
	if b == 0 {
		return over
	}
	if b < 0 { // the arc lies above its chord: o is under it, or over the chord but inside
		return over || s.side(o) < 0
	}
	return over && s.side(o) > 0
}
