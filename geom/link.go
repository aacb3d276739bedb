package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// A link is a part of a boundary between two nodes, met by nothing in between. It runs
// along strands one after the other, all in one direction of x, the first and the last of
// which it may share with other links.
type link struct {
	u, v  int32   // nodes
	s, t  int32   // first strand, at u, and last strand, at v
	bulge float64 // from u to v, if it is a part of a single strand
	// rise is the winding on the left less that on the right, seen from u to v; left is
	// the winding on the left.
	rise, left windings
	back       bool // it runs along its strands from b to a
	dead       bool
}

// single reports whether the link is a part of one strand.
func (l *link) single() bool { return l.s == l.t }

// A half is a link seen from one of its ends: 2·link, plus 1 if seen from v.
type half int32

func (h half) link() int32 { return int32(h >> 1) }
func (h half) twin() half  { return h ^ 1 }

func (ar *arrangement) from(h half) int32 {
	l := &ar.links[h>>1]
	if h&1 == 0 {
		return l.u
	}
	return l.v
}

func (ar *arrangement) to(h half) int32 { return ar.from(h ^ 1) }

// leftOf returns the winding on the left of h.
func (ar *arrangement) leftOf(h half) windings {
	l := &ar.links[h>>1]
	if h&1 == 0 {
		return l.left
	}
	return l.left.minus(l.rise)
}

// part returns the part of link l along strand i, as run through from u to v.
func (ar *arrangement) part(l *link, i int32) (p, q r2.Point, bulge float64) {
	if l.single() {
		return ar.nodes[l.u], ar.nodes[l.v], l.bulge
	}
	s := &ar.strands[i]
	p, q, bulge = s.a, s.b, s.bulge
	if l.back {
		p, q, bulge = q, p, -bulge
	}
	switch i {
	case l.s:
		p = ar.nodes[l.u]
	case l.t:
		q = ar.nodes[l.v]
	default:
		return p, q, bulge
	}
	if !s.line {
		bulge = s.bulgeBetween(p, q)
	}
	return p, q, bulge
}

// cut cuts the strands at their meets into links. Strands in a row become one link if
// nothing happens at the junctions between them.
func (ar *arrangement) cut() {
	ar.weldMeets()
	ar.nodeAt = cleared(ar.nodeAt, len(ar.pts))
	for i := range ar.meets {
		m := &ar.meets[i]
		v := ar.root(m.at)
		ar.fixed[v] = true
		s := &ar.strands[m.strand]
		if v != s.va && v != s.vb {
			ar.move(math.Abs(s.side(ar.pts[v])), ar.pts[v])
		}
	}
	for v, w := range ar.weld {
		if int(w) != v {
			p := ar.pts[ar.root(w)]
			d := sub2(ar.pts[v], p)
			if d2 := dot2(d, d); d2 > ar.moved*ar.moved {
				ar.move(math.Sqrt(d2), p)
			}
		}
	}
	k := 0             // the next meet
	goesOn := false    // the strand before and this one are one link so far
	var first, u int32 // strand and junction where that begins
	back := false
	for i := range ar.strands {
		s := &ar.strands[i]
		n := k
		for n < len(ar.meets) && ar.meets[n].strand == int32(i) {
			n++
		}
		on, b := false, false
		if i+1 < len(ar.strands) {
			b, on = s.follows(&ar.strands[i+1])
			on = on && (!goesOn || b == back)
		}
		if !goesOn {
			back = on && b
		}
		from, to := s.va, s.vb
		if back {
			from, to = to, from
		}
		on = on && !ar.fixed[to]
		ar.length += s.chord * (1 + math.Abs(s.bulge))
		if !goesOn {
			first, u = int32(i), ar.root(from)
		}
		if !goesOn || !on || n > k {
			ar.lose(s)
		}
		for j := k; j < n; j++ {
			m := j
			if back {
				m = k + n - 1 - j
			}
			v := ar.root(ar.meets[m].at)
			ar.addLink(u, v, first, int32(i), back)
			first, u = int32(i), v
		}
		if !on {
			ar.addLink(u, ar.root(to), first, int32(i), back)
		}
		goesOn, k = on, n
	}
}

// move notes that something was moved by d to the place at.
func (ar *arrangement) move(d float64, at r2.Point) {
	if d > ar.moved {
		ar.moved, ar.movedAt = d, at
	}
}

// settled reports whether there is no place, which it returns, where the links may lie otherwise than their order round the
// nodes says: where welding moved something by more than an eighth of the weld distance, or
// where links run together uncut. See doc.go for why all is well if there is none.
func (ar *arrangement) settled() (at r2.Point, settled bool) {
	if ar.moved > ar.tol/8 {
		return ar.movedAt, false
	}
	return ar.doubtAt, !ar.doubtful
}

// weldMeets puts the meets in order along their strands and welds those that are one.
func (ar *arrangement) weldMeets() {
	for i := range ar.meets {
		m := &ar.meets[i]
		s := &ar.strands[m.strand]
		p := ar.pts[m.at]
		m.t = s.along(p)
		switch lo, hi := s.along(s.a), s.along(s.b); {
		case m.t <= lo:
			ar.join(m.at, s.va)
		case m.t >= hi:
			ar.join(m.at, s.vb)
		}
	}
	slices.SortFunc(ar.meets, func(p, q meet) int {
		if p.strand != q.strand {
			return cmp.Compare(p.strand, q.strand)
		}
		if c := cmp.Compare(p.t, q.t); c != 0 {
			return c
		}
		return cmp.Compare(p.at, q.at)
	})
	// Crossings of several curves in one point come out as one junction for each pair.
	for k := range ar.meets {
		m := ar.meets[k]
		s := &ar.strands[m.strand]
		prev, next := s.va, s.vb
		if k > 0 && ar.meets[k-1].strand == m.strand {
			prev = ar.meets[k-1].at
		}
		if k+1 < len(ar.meets) && ar.meets[k+1].strand == m.strand {
			next = ar.meets[k+1].at
		}
		for _, v := range [2]int32{prev, next} {
			if v != m.at && near2(ar.pts[v], ar.pts[m.at], ar.tol) {
				ar.join(v, m.at)
			}
		}
	}
}

// addLink adds the link from junction u to v along strands i to j.
func (ar *arrangement) addLink(u, v, i, j int32, back bool) {
	if u == v {
		if i != j { // its ends were welded together: it is cut so that no link is a loop
			if i+1 < j {
				ar.lose(&ar.strands[i+1])
			}
			m := ar.strands[i].end(back)
			ar.addLink(u, m, i, i, back)
			ar.addLink(m, v, i+1, j, back)
		}
		return
	}
	s := &ar.strands[i]
	l := link{u: ar.node(u), v: ar.node(v), s: i, t: j, rise: s.rise, back: back}
	if back {
		l.rise = l.rise.neg()
	}
	if i == j && !s.line {
		l.bulge = s.bulgeBetween(ar.pts[u], ar.pts[v])
	}
	ar.links = append(ar.links, l)
}

// end returns the junction at the end of the strand, run through from b to a if back.
func (s *strand) end(back bool) int32 {
	if back {
		return s.va
	}
	return s.vb
}

// node returns the node at junction v, a root.
func (ar *arrangement) node(v int32) int32 {
	if ar.nodeAt[v] == 0 {
		ar.nodes = append(ar.nodes, ar.pts[v])
		ar.nodeAt[v] = int32(len(ar.nodes))
	}
	return ar.nodeAt[v] - 1
}

// along returns a measure that grows along the strand and does not change when p moves a
// little to its side: the projection on the chord, or for arcs of more than about a quarter
// turn, which stand steep on their chords, the sine of the angle about the centre over the
// sum of sine and cosine, counted from the middle of the arc.
func (s *strand) along(p r2.Point) float64 {
	if s.line || s.chord < 0.8*(s.r+s.chordDistance()) {
		return dot2(s.u, sub2(p, s.a))
	}
	q := sub2(p, s.c)
	x, y := cross2(q, s.u), dot2(q, s.u)
	if !s.ccw {
		x = -x
	}
	t := y / (math.Abs(x) + math.Abs(y))
	if x < 0 {
		t = math.Copysign(2, t) - t
	}
	return t
}

// bulgeBetween returns the bulge of the arc of the strand's circle between two of its
// points: the tangent of a quarter of the sweep is half the chord over the radius plus
// the distance of the chord from the centre.
func (s *strand) bulgeBetween(p, q r2.Point) float64 {
	x, y := (p.X+q.X)/2-s.c.X, (p.Y+q.Y)/2-s.c.Y
	ex, ey := q.X-p.X, q.Y-p.Y
	b := 0.5 * math.Sqrt(ex*ex+ey*ey) / (s.r + math.Sqrt(x*x+y*y))
	if !s.ccw {
		b = -b
	}
	if ex*s.u.X+ey*s.u.Y < 0 { // run through backwards
		b = -b
	}
	return b
}
