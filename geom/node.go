package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// connect lists the links round every node, merges links that run together, drops
// those across which the winding does not change, and puts each list in order.
func (ar *arrangement) connect() {
	n := len(ar.nodes)
	ar.start = cleared(ar.start, n+1)
	for i := range ar.links {
		ar.start[ar.links[i].u+1]++
		ar.start[ar.links[i].v+1]++
	}
	for j := range n {
		ar.start[j+1] += ar.start[j]
	}
	ar.ring = cleared(ar.ring, 2*len(ar.links))
	ar.live = cleared(ar.live, n)
	for i := range ar.links {
		l := &ar.links[i]
		ar.ring[ar.start[l.u]+ar.live[l.u]] = half(2 * i)
		ar.live[l.u]++
		ar.ring[ar.start[l.v]+ar.live[l.v]] = half(2*i + 1)
		ar.live[l.v]++
	}
	died := false
	for j := range n {
		if ar.live[j] > 1 && ar.mergeDoubles(ar.around(int32(j))) {
			died = true
		}
	}
	for j := range n {
		if died {
			r := ar.around(int32(j))
			k := 0
			for _, h := range r {
				if !ar.links[h.link()].dead {
					r[k] = h
					k++
				}
			}
			ar.live[j] = int32(k)
		}
		if ar.live[j] > 2 {
			ar.order(ar.around(int32(j)), false, 0.1)
		}
	}
}

// around returns the links leaving node j.
func (ar *arrangement) around(j int32) []half {
	return ar.ring[ar.start[j] : ar.start[j]+ar.live[j]]
}

// height returns the height of a link along one strand over its chord, signed to the right of u to v.
func (ar *arrangement) height(l *link) float64 {
	if l.bulge == 0 {
		return 0
	}
	p, q := ar.nodes[l.u], ar.nodes[l.v]
	return 0.5 * l.bulge * math.Hypot(q.X-p.X, q.Y-p.Y)
}

// mergeDoubles merges links between the same nodes that are nowhere further apart than
// the weld distance. Of links along several strands there are none: the junctions between
// these are further than that from all other strands.
func (ar *arrangement) mergeDoubles(r []half) (died bool) {
	for i, h := range r {
		l := &ar.links[h.link()]
		if l.dead || !l.single() {
			continue
		}
		for _, g := range r[i+1:] {
			m := &ar.links[g.link()]
			if m.dead || !m.single() || ar.to(g) != ar.to(h) {
				continue
			}
			same := (g^h)&1 == 0
			d := ar.height(l)
			if same {
				d -= ar.height(m)
			} else {
				d += ar.height(m)
			}
			if math.Abs(d) > ar.tol {
				continue
			}
			if same {
				l.rise = l.rise.plus(m.rise)
			} else {
				l.rise = l.rise.minus(m.rise)
			}
			m.dead, died = true, true
		}
		if l.rise == (windings{}) {
			l.dead, died = true, true
		}
	}
	return died
}

// A spoke is the first part of a link leaving a node: its direction there, its curvature
// (to the left) and its reach, the length of its chord.
type spoke struct {
	h       half
	to      int32 // node at the end, or -1 if the link goes on
	dir     r2.Point
	end     r2.Point // of the chord, seen from the node
	key     float64  // angle of dir, or of what it is turned to; set by order
	bend, r float64
}

func (ar *arrangement) spoke(h half) spoke {
	l := &ar.links[h.link()]
	to := int32(-1)
	if l.single() {
		to = ar.to(h)
	}
	var p, q r2.Point
	var b float64
	if h&1 == 0 {
		p, q, b = ar.part(l, l.s)
	} else {
		q, p, b = ar.part(l, l.t)
		b = -b
	}
	d := sub2(q, p)
	n := math.Sqrt(d.X*d.X + d.Y*d.Y)
	s := spoke{h: h, to: to, dir: r2.Point{X: d.X / n, Y: d.Y / n}, end: d, r: n}
	if b != 0 {
		// The tangent at the start is the chord turned by minus half the sweep.
		sn, cs := 2*b/(1+b*b), (1-b)*(1+b)/(1+b*b)
		s.dir = r2.Point{X: float64(cs*s.dir.X) + float64(sn*s.dir.Y), Y: float64(cs*s.dir.Y) - float64(sn*s.dir.X)}
		s.bend = 2 * sn / n
	}
	return s
}

// at returns the direction to the point of the spoke at the distance d from the node:
// a chord of that length makes the angle asin(d·bend/2) with the tangent.
func (s *spoke) at(d float64) r2.Point {
	if s.bend == 0 {
		return s.dir
	}
	sn := math.Max(-1, math.Min(1, d*s.bend/2))
	cs := math.Sqrt((1 - sn) * (1 + sn))
	return r2.Point{X: float64(cs*s.dir.X) - float64(sn*s.dir.Y), Y: float64(sn*s.dir.X) + float64(cs*s.dir.Y)}
}

// off returns how far the point q, seen from the node, lies to the left of the spoke's line
// or circle: exact for a line, to first order near a circle, as [strand.side].
func (s *spoke) off(q r2.Point) float64 {
	return cross2(s.dir, q) - 0.5*s.bend*dot2(q, q)
}

// turned returns the angle by which the chord of length d has turned from the tangent.
func (s *spoke) turned(d float64) float64 {
	if s.bend == 0 {
		return 0
	}
	return math.Asin(math.Max(-1, math.Min(1, d*s.bend/2)))
}

// beside returns how far t runs to the left of s at the nearer of their ends. That lies
// off the other one by the weld distance, or it would be cut there; nearer to the node
// the two may cross within that distance. If both end at one node the place is half way.
//
// Their directions from the node tell it, unless these are so near that the rounding of
// turned, which is up to 2e-8 at half a circle, might matter.
func (s *spoke) beside(t *spoke) float64 {
	d := math.Min(s.r, t.r)
	same := s.to == t.to && s.to >= 0
	if same {
		d /= 2
	}
	if a := t.key + t.turned(d) - (s.key + s.turned(d)); math.Abs(a) > 1e-6 {
		return a * d
	}
	switch {
	case same:
		q := t.at(d)
		return s.off(r2.Point{X: d * q.X, Y: d * q.Y})
	case t.r < s.r:
		return s.off(t.end)
	}
	return -t.off(s.end)
}

// less orders two spokes counter-clockwise: by their directions, or by where they run on if
// those are near.
func (s *spoke) less(t *spoke) bool {
	if d := t.key - s.key; math.Abs(d) > 1 {
		return d > 0
	}
	return s.beside(t) > 0
}

// order sorts the links round a node counter-clockwise, beginning after the widest
// gap between directions; the gap through -x, or +x if right, is preferred if it is at most
// so much narrower.
func (ar *arrangement) order(r []half, right bool, narrower float64) {
	var buf [8]spoke
	s := buf[:0]
	for _, h := range r {
		k := ar.spoke(h)
		k.key = math.Atan2(k.dir.Y, k.dir.X)
		if right { // turned half round
			k.key = math.Atan2(-k.dir.Y, -k.dir.X)
		}
		s = append(s, k)
	}
	slices.SortFunc(s, func(a, b spoke) int {
		if c := cmp.Compare(a.key, b.key); c != 0 {
			return c
		}
		return cmp.Compare(a.h, b.h)
	})
	n := len(s)
	first, gap := 0, s[0].key+2*math.Pi-s[n-1].key+narrower
	for i := 1; i < n; i++ {
		if g := s[i].key - s[i-1].key; g > gap {
			first, gap = i, g
		}
	}
	for i := range first { // go on past π
		s[i].key += 2 * math.Pi
	}
	k := copy(r, r[:0])
	for i := range n {
		c := s[(first+i)%n]
		r[k] = c.h
		k++
	}
	rot := make([]spoke, 0, 8)
	rot = append(rot, s[first:]...)
	rot = append(rot, s[:first]...)
	for i := 1; i < n; i++ {
		for j := i; j > 0 && rot[j].less(&rot[j-1]); j-- {
			rot[j], rot[j-1] = rot[j-1], rot[j]
		}
	}
	for i := range rot {
		r[i] = rot[i].h
		// Two that run together to the end of the shorter one should have been cut there.
		s, t := &rot[i], &rot[(i+1)%n]
		if (s.to != t.to || s.to < 0) && dot2(s.dir, t.dir) > 0.8 && math.Abs(s.beside(t)) <= ar.tol/2 {
			ar.doubtful, ar.doubtAt = true, ar.nodes[ar.from(s.h)]
		}
	}
}
