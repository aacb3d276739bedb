package route

import (
	"math"

	"github.com/golang/geo/r2"
)

// A hop is a way from a start to a place: along a level from the place of the hop before,
// then by a transit, past a stop, or into an end.
type hop struct {
	g      float64 // length up to the place
	before int32   // -1: it is an entry of From
	by     int32   // transit, none, or below that one of the search's own
	entry  int32   // of From, or of To, -1
	level  int32
	stage  int16 // stops passed
	side   int8  // of the transit at which it comes
	known  bool  // the length along the level is measured, not the straight line
	pocket int32 // of at on its level, once it is expanded
	run    float64
	tail   float64 // length of the transit as far as it is known
	at     r2.Point
}

// hanging is by how much a length in free air counts more than one on a face: of ways that are equally long a
// bundle takes the one that lies on plates.
const hanging = 5e-4

// maxOwn bounds the places that a search adds to those that are tried for all bundles.
const maxOwn = 500

// none is no transit.
const none = -1

// What waits in the frontier.
const (
	aHop   = iota // a hop
	aPair         // the ways from a hop to another level, not looked at
	aSweep        // the same, sorted: the next band or group
)

type waiting struct {
	f    float64
	kind int8
	a, b int32 // hop; or hop and level; or sweep
}

// A sweep is the bands of a pair, or the groups of a band, by what a way from a hop by one of them must be at least.
type sweep struct {
	bands bool
	hop   int32
	pair  *pair
	other *level
	heap  []bounded
}

type bounded struct {
	f      float64
	number int32 // of the band or group in its pair
}

// A search looks for the shortest way of a bundle over the levels (A*, Hart, Nilsson,
// Raphael 1968). A hop waits with the straight line as its length along the level and is measured
// when its turn comes, so that few are. What is still ahead is at least the straight line in
// plan by way of the stops and the difference in height, for what runs level and what runs upright add up. Places to change levels are
// looked at in groups, and a group not before a way by it could be the shortest.
type search struct {
	c        *class
	b        *Bundle
	from, to []entry
	stops    []stop
	rests    []rest
	hops     []hop
	own      []transit // that are for this search alone; hops name them by ^number-1
	ownNodes []node
	heap     []waiting
	sweeps   []sweep
	nodes    [][]node // by stops passed
	ends     []node   // stops by level and stage, then entries of To
	bounds   []bounded
	done     [][]int32 // hops that were expanded, by stage and level
	stamp    uint32
}

// A node is what is known about a place of a search.
type node struct {
	stamp  uint32 // of the search that it is about
	closed bool
	best   float64 // length of the shortest way measured
}

// at returns what is known about the place to which a hop leads.
func (s *search) node(h *hop) *node {
	var n *node
	switch {
	case h.by < none:
		k := int(none-1-h.by)<<1 | int(1-h.side)
		if k >= len(s.ownNodes) {
			s.ownNodes = append(s.ownNodes, make([]node, k+64-len(s.ownNodes))...)
		}
		n = &s.ownNodes[k]
	case h.by >= 0:
		for len(s.nodes) <= int(h.stage) {
			s.nodes = append(s.nodes, nil)
		}
		list := &s.nodes[h.stage]
		k := int(h.by)<<1 | int(1-h.side)
		if k >= len(*list) {
			*list = append(*list, make([]node, max(2*len(s.c.transits), k+1)-len(*list))...)
		}
		n = &(*list)[k]
	default:
		k := int(h.entry)
		if k < 0 {
			k = len(s.to) + int(h.stage)*len(s.c.levels) + int(h.level)
		}
		if k >= len(s.ends) {
			s.ends = append(s.ends, make([]node, k+1-len(s.ends))...)
		}
		n = &s.ends[k]
	}
	if n.stamp != s.stamp {
		*n = node{stamp: s.stamp, best: math.Inf(1)}
	}
	return n
}

// transit returns the transit that a hop names.
func (s *search) transit(by int32) *transit {
	if by < none {
		return &s.own[none-1-by]
	}
	return &s.c.transits[by]
}

// reset makes the search ready for a bundle; what it has allocated is kept.
func (s *search) reset(c *class, b *Bundle) {
	s.c, s.b = c, b
	s.from, s.to, s.stops = nil, nil, nil
	s.hops, s.heap, s.sweeps, s.bounds, s.own = s.hops[:0], s.heap[:0], s.sweeps[:0], s.bounds[:0], s.own[:0]
	for i := range s.done {
		s.done[i] = s.done[i][:0]
	}
	s.stamp++
}

// ahead returns the least length from a place to the end.
func (s *search) ahead(at r2.Point, z float64, stage int16) float64 {
	if int(stage) < len(s.stops) {
		return s.aheadOfStop(s.stops[stage].box.Away(at), z, int(stage))
	}
	best := math.Inf(1)
	for i := range s.to {
		e := &s.to[i]
		l := dist(at, e.at)
		to := s.c.levels[e.level].z
		if l+math.Abs(z-to)+e.cost >= best {
			continue
		}
		for k := range e.depth {
			if s.c.parts(k, z, to) {
				l = s.c.gates[k].past(at, e.at, e.depth[k], l)
			}
		}
		best = min(best, l+math.Abs(z-to)+e.cost)
	}
	return best
}

func (s *search) push(w waiting) {
	s.heap = append(s.heap, w)
	i := len(s.heap) - 1
	for i > 0 {
		up := (i - 1) / 2
		if s.heap[up].f <= w.f {
			break
		}
		s.heap[i] = s.heap[up]
		i = up
	}
	s.heap[i] = w
}

// pop returns the most promising; which of equal ones depends on nothing but their order.
func (s *search) pop() waiting {
	top := s.heap[0]
	n := len(s.heap) - 1
	w := s.heap[n]
	s.heap = s.heap[:n]
	if n > 0 {
		i := 0
		for {
			k := 2*i + 1
			if k >= n {
				break
			}
			if k+1 < n && s.heap[k+1].f < s.heap[k].f {
				k++
			}
			if !(s.heap[k].f < w.f) {
				break
			}
			s.heap[i] = s.heap[k]
			i = k
		}
		s.heap[i] = w
	}
	return top
}

// open lets a hop wait, if no better one to the same place is known.
func (s *search) open(h hop) {
	n := s.node(&h)
	if n.closed || h.g >= n.best {
		return
	}
	if h.known {
		n.best = h.g
	}
	f := h.g
	if h.entry < 0 {
		f += s.ahead(h.at, s.c.levels[h.level].z, h.stage)
	}
	s.hops = append(s.hops, h)
	s.push(waiting{f: f, kind: aHop, a: int32(len(s.hops) - 1)})
}

// limit returns the length up to which ways are looked for, with what moving places may gain.
func (b *Bundle) limit() float64 {
	if b.Limit > 0 {
		return b.Limit*(1+hanging) + step
	}
	return math.Inf(1)
}

// run returns the last hop of a shortest way, -1 if there is none.
func (s *search) run() int32 {
	for i := range s.to {
		e := &s.to[i]
		for k := range s.c.gates {
			e.depth = append(e.depth, s.c.gates[k].depth(e.at))
		}
	}
	s.makeRests()
	for i := range s.from {
		e := &s.from[i]
		s.hops = append(s.hops, hop{g: e.cost, before: -1, by: none, entry: int32(i), level: int32(e.level), at: e.at, known: true})
		s.expand(int32(len(s.hops) - 1))
	}
	limit := s.b.limit()
	for len(s.heap) > 0 {
		w := s.pop()
		if w.f > limit {
			return -1
		}
		switch w.kind {
		case aPair:
			s.look(w.a, w.b)
		case aSweep:
			s.next(w.a)
		default:
			h := s.hops[w.a]
			n := s.node(&h)
			if n.closed || h.g > n.best {
				continue
			}
			if !h.known {
				s.measure(h)
				continue
			}
			n.closed = true
			if h.entry >= 0 {
				return w.a
			}
			s.expand(w.a)
		}
	}
	return -1
}

// measure replaces the straight line of a hop by the path.
func (s *search) measure(h hop) {
	to := h.at
	before := &s.hops[h.before]
	if h.by != none {
		t := s.transit(h.by)
		if !s.c.check(t) {
			return
		}
		to = t.p[h.side]
		h.g += t.length() - h.tail
	}
	d, ok := s.c.levels[before.level].reach(before.at, to)
	if !ok {
		return
	}
	h.g += d - h.run
	if s.c.levels[before.level].sheet < 0 {
		h.g += hanging * d
	}
	h.run, h.known = d, true
	s.open(h)
}

// even is by how much in mm a place may be reached sooner by a dominated way: rounding.
const even = 1e-6

// dominated reports whether the place of a hop is reached as soon along its level from a
// place that was expanded before. Then whatever goes on from it goes on from there, and is no longer: ways
// along a level obey the triangle inequality. What runs level and what runs upright
// add up, so that it matters to no length how soon a bundle changes its level, and nearly all places of a
// search are dominated so.
func (s *search) dominated(k int32) bool {
	h := &s.hops[k]
	level := s.c.levels[h.level]
	i := int(h.stage)*len(s.c.levels) + int(h.level)
	for len(s.done) <= i {
		s.done = append(s.done, nil)
	}
	for _, o := range s.done[i] {
		q := &s.hops[o]
		if q.g+dist(q.at, h.at) > h.g+even {
			continue
		}
		d, ok := level.reach(q.at, h.at)
		if level.sheet < 0 {
			d += hanging * d
		}
		if ok && q.g+d <= h.g+even {
			return true
		}
	}
	s.done[i] = append(s.done[i], k)
	return false
}

// pocketOf returns the pocket of the place to which a hop leads.
func (s *search) pocketOf(h *hop) int32 {
	level := s.c.levels[h.level]
	if h.by == none {
		return level.pocketAt(h.at)
	}
	return s.pocketOn(s.transit(h.by), 1-h.side, level)
}

// pocketOn returns the pocket of a transit on one side.
func (s *search) pocketOn(t *transit, side int8, l *level) int32 {
	if t.kind == Hole && t.state == 0 {
		return 1 // it is not yet placed
	}
	if t.pocket[side] <= 1 { // not looked at, or not known then
		t.pocket[side] = l.pocketAt(t.p[side])
	}
	return t.pocket[side]
}

// expand lets the ways on from a hop wait.
func (s *search) expand(k int32) {
	if s.dominated(k) {
		return
	}
	s.hops[k].pocket = s.pocketOf(&s.hops[k])
	h := s.hops[k]
	level := s.c.levels[h.level]
	for _, o := range s.c.levels {
		if dz := math.Abs(o.z - level.z); dz > touch {
			f := h.g + dz
			if s.passesBetween(level, o, h.stage) {
				f = h.g + s.ahead(h.at, level.z, h.stage)
			} else {
				f += s.ahead(h.at, o.z, h.stage)
			}
			s.push(waiting{f: f, kind: aPair, a: k, b: int32(o.index)})
		}
	}
	if int(h.stage) < len(s.stops) {
		if st := &s.stops[h.stage]; st.hole < 0 && level.free(st.at) {
			d := dist(h.at, st.at)
			s.open(hop{g: h.g + d, before: k, by: none, entry: -1, level: h.level, stage: h.stage + 1, run: d, at: st.at})
		}
		return
	}
	for i := range s.to {
		if e := &s.to[i]; e.level == int(h.level) {
			d := dist(h.at, e.at)
			s.open(hop{g: h.g + d + e.cost, before: k, by: none, entry: int32(i), level: h.level, stage: h.stage, run: d, at: e.at})
		}
	}
}
