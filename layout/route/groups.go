package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// look sorts the bands of a pair as seen from a hop.
func (s *search) look(k, other int32) {
	p := s.c.pair(int(s.hops[k].level), int(other))
	first := len(s.bounds)
	for i := range p.bands {
		if b := &p.bands[i]; !b.spent(p) {
			s.bound(k, other, &b.like, i)
		}
	}
	s.sort(sweep{hop: k, pair: p, other: s.c.levels[other], bands: true}, first)
}

// cut sorts the groups of a band as seen from a hop.
func (s *search) cut(sw sweep, b *band) {
	first := len(s.bounds)
	from, to := sw.pair.groupsOf(b)
	for i := from; i < to; i++ {
		if g := &sw.pair.groups[i]; !g.looked || len(g.found) > 0 {
			s.bound(sw.hop, int32(sw.other.index), g, i)
		}
	}
	sw.bands = false
	s.sort(sw, first)
}

// bound notes what a way from a hop by a place of a group must be at least.
func (s *search) bound(k, other int32, g *group, number int) {
	h := &s.hops[k]
	z := s.c.levels[other].z
	f := h.g + math.Abs(z-s.c.levels[h.level].z) + g.extra + g.box.Away(h.at) + s.aheadOfBox(&g.box, z, s.behind(g, h.stage))
	s.bounds = append(s.bounds, bounded{f, int32(number)})
}

// sort lets a sweep wait, of what has been noted from first on.
func (s *search) sort(sw sweep, first int) {
	sw.heap = s.bounds[first:len(s.bounds):len(s.bounds)]
	if len(sw.heap) == 0 {
		return
	}
	for i := len(sw.heap)/2 - 1; i >= 0; i-- {
		sw.sink(i)
	}
	s.sweeps = append(s.sweeps, sw)
	s.push(waiting{f: sw.heap[0].f, kind: aSweep, a: int32(len(s.sweeps) - 1)})
}

// aheadOfBox is ahead from the best point of a box.
func (s *search) aheadOfBox(b *geom.Rect, z float64, stage int16) float64 {
	if int(stage) < len(s.stops) {
		return s.aheadOfStop(b.Distance(s.stops[stage].box), z, int(stage))
	}
	best := math.Inf(1)
	for i := range s.to {
		e := &s.to[i]
		l := b.Away(e.at)
		to := s.c.levels[e.level].z
		for k := range e.depth {
			if s.c.parts(k, z, to) {
				l = s.c.gates[k].pastFrom(b, e.at, e.depth[k], l)
			}
		}
		best = min(best, l+math.Abs(z-to)+e.cost)
	}
	return best
}

func (sw *sweep) sink(i int) {
	n := len(sw.heap)
	x := sw.heap[i]
	for {
		k := 2*i + 1
		if k >= n {
			break
		}
		if k+1 < n && sw.heap[k+1].f < sw.heap[k].f {
			k++
		}
		if !(sw.heap[k].f < x.f) {
			break
		}
		sw.heap[i] = sw.heap[k]
		i = k
	}
	sw.heap[i] = x
}

// next opens the most promising group, or band, of a sweep.
func (s *search) next(i int32) {
	sw := &s.sweeps[i]
	number := sw.heap[0].number
	n := len(sw.heap) - 1
	sw.heap[0] = sw.heap[n]
	sw.heap = sw.heap[:n]
	if n > 0 {
		sw.sink(0)
		s.push(waiting{f: sw.heap[0].f, kind: aSweep, a: i})
	}
	if sw.bands {
		s.cut(*sw, &sw.pair.bands[number])
		return
	}
	g := &sw.pair.groups[number]
	h := s.hops[sw.hop]
	side := int8(0)
	if sw.pair.hi.index == int(h.level) {
		side = 1
	}
	stage := s.behind(g, h.stage)
	try := func(t int32) {
		m := s.transit(t)
		if m.state < 0 || h.pocket > 1 && apart(h.pocket, s.pocketOn(m, side, s.c.levels[h.level])) {
			return
		}
		d := dist(h.at, m.p[side])
		s.open(hop{g: h.g + d + m.length(), before: sw.hop, by: t, entry: -1, level: int32(sw.other.index), stage: stage,
			side: side, run: d, tail: m.length(), at: m.p[1-side]})
	}
	found := s.c.members(sw.pair, g)
	for _, t := range found {
		try(int32(t))
	}
	if h.by < none || len(s.own) >= maxOwn {
		return
	}
	if g.kind == Hole {
		// The places nearest to here and to what is ahead.
		if len(found) == 0 {
			return
		}
		lap := &g.wall.loops[0]
		a, b := lap.nearest(h.at), lap.nearest(s.towards(stage))
		for _, ab := range [3][2]float64{{a, b}, {a, a}, {b, b}} {
			t := s.c.transits[found[0]]
			t.along[side], t.along[1-side] = ab[0], ab[1]
			t.state, t.pocket = 0, [2]int32{}
			s.c.placeInOpening(&t)
			s.own = append(s.own, t)
			try(int32(none - len(s.own)))
		}
		return
	}
	// Two more places that are right for this hop alone: the nearest, and where the line ahead passes.
	part := &g.wall.parts[g.chunk]
	lap := &g.wall.loops[part.lap]
	ahead := s.towards(stage)
	var at [8]float64
	n = 0
	near, least := 0.0, math.Inf(1)
	var store [8]r2.Point
	for k := part.from; k < part.to; k++ {
		seg := &lap.segs[k]
		if lap.boxes[k].Away(h.at) < least {
			if share, d := lap.nearestOn(k, h.at); d < least {
				near, least = lap.start[k]+share*(lap.end(k)-lap.start[k]), d
			}
		}
		if n < len(at)-1 && passes(h.at, ahead, &lap.boxes[k]) {
			for _, m := range seg.Meet(geom.Seg{A: h.at, B: ahead}, 0, store[:0]) {
				if _, share, _ := seg.Nearest(m); n < len(at)-1 {
					at[n] = lap.start[k] + share*(lap.end(k)-lap.start[k])
					n++
				}
			}
		}
	}
	at[n] = near
	n++
next:
	for _, x := range at[:n] {
		for _, t := range found {
			if math.Abs(s.c.transits[t].along[0]-x) < 0.05 && s.c.transits[t].lap == part.lap {
				continue next
			}
		}
		if t, ok := s.c.transitAt(sw.pair, g, part.lap, x); ok {
			s.own = append(s.own, t)
			try(int32(none - len(s.own)))
		}
	}
}

// towards returns the place that is next.
func (s *search) towards(stage int16) r2.Point {
	if int(stage) < len(s.stops) {
		return s.stops[stage].at
	}
	return s.to[0].at
}

// passes reports whether the line from p to q may meet the box.
func passes(p, q r2.Point, b *geom.Rect) bool {
	if max(p.X, q.X) < b.Lo.X || min(p.X, q.X) > b.Hi.X || max(p.Y, q.Y) < b.Lo.Y || min(p.Y, q.Y) > b.Hi.Y {
		return false
	}
	ex, ey := (b.Hi.X-b.Lo.X)/2, (b.Hi.Y-b.Lo.Y)/2
	hx, hy := q.X-p.X, q.Y-p.Y
	wx, wy := b.Lo.X+ex-p.X, b.Lo.Y+ey-p.Y
	return math.Abs(hx*wy-hy*wx) <= (ex*math.Abs(hy)+ey*math.Abs(hx))*(1+1e-9)+1e-9
}
