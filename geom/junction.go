package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// A link is a part of a boundary between two junctions, met by nothing in between.
type link struct {
	u, v  int32 // junctions
	bulge float64
	// rise is the winding on the left less that on the right, seen from u to v; left is
	// the winding on the left.
	rise, left windings
	of         int32 // the strand that it is a part of
	dead       bool
}

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

func (ar *arrangement) rise(h half) windings {
	l := &ar.links[h>>1]
	if h&1 == 0 {
		return l.rise
	}
	return l.rise.neg()
}

// leftOf returns the winding on the left of h.
func (ar *arrangement) leftOf(h half) windings {
	l := &ar.links[h>>1]
	if h&1 == 0 {
		return l.left
	}
	return l.left.minus(l.rise)
}

func (ar *arrangement) bulge(h half) float64 {
	if h&1 == 0 {
		return ar.links[h>>1].bulge
	}
	return -ar.links[h>>1].bulge
}

// cut cuts the strands at their meets into links.
func (ar *arrangement) cut() {
	for i := range ar.meets {
		m := &ar.meets[i]
		s := &ar.strands[m.strand]
		p := ar.pts[m.at]
		m.t = s.along(p)
		switch lo, hi := s.along(s.a), s.along(s.b); {
		case m.t <= lo:
			ar.misfit = ar.misfit || !near2(p, s.a, 4*ar.tol)
			ar.join(m.at, s.va)
		case m.t >= hi:
			ar.misfit = ar.misfit || !near2(p, s.b, 4*ar.tol)
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
	ar.links = make([]link, 0, len(ar.strands)+len(ar.meets))
	k := 0
	for i := range ar.strands {
		s := &ar.strands[i]
		if s.rise == (windings{}) {
			continue
		}
		u := ar.root(s.va)
		for ; k < len(ar.meets) && ar.meets[k].strand < int32(i); k++ {
		}
		for ; k < len(ar.meets) && ar.meets[k].strand == int32(i); k++ {
			v := ar.root(ar.meets[k].at)
			ar.addLink(u, v, int32(i), s)
			u = v
		}
		ar.addLink(u, ar.root(s.vb), int32(i), s)
	}
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

func (ar *arrangement) addLink(u, v, i int32, s *strand) {
	if u == v {
		return
	}
	l := link{u: u, v: v, rise: s.rise, of: i}
	if !s.line {
		l.bulge = s.bulgeBetween(ar.pts[u], ar.pts[v])
	}
	ar.links = append(ar.links, l)
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

// height returns the height of the link over its chord, signed to the right of u to v.
func (ar *arrangement) height(l *link) float64 {
	if l.bulge == 0 {
		return 0
	}
	p, q := ar.pts[l.u], ar.pts[l.v]
	return 0.5 * l.bulge * math.Hypot(q.X-p.X, q.Y-p.Y)
}

// connect lists the links round every junction, merges links that run together, drops
// those across which the winding does not change, and puts each list in order.
func (ar *arrangement) connect() {
	n := len(ar.pts)
	ar.start = make([]int32, n+1)
	for i := range ar.links {
		ar.start[ar.links[i].u+1]++
		ar.start[ar.links[i].v+1]++
	}
	for j := range n {
		ar.start[j+1] += ar.start[j]
	}
	ar.ring = make([]half, 2*len(ar.links))
	ar.live = make([]int32, n)
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
			ar.order(ar.around(int32(j)))
		}
	}
}

// around returns the links leaving junction j.
func (ar *arrangement) around(j int32) []half {
	return ar.ring[ar.start[j] : ar.start[j]+ar.live[j]]
}

// mergeDoubles merges links between the same junctions that are nowhere further apart than
// the weld distance.
func (ar *arrangement) mergeDoubles(r []half) (died bool) {
	for i, h := range r {
		l := &ar.links[h.link()]
		if l.dead {
			continue
		}
		for _, g := range r[i+1:] {
			m := &ar.links[g.link()]
			if m.dead || ar.to(g) != ar.to(h) {
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

// A spoke is a link leaving a junction: its direction there, its curvature (to the left)
// and its reach, the length of its chord.
type spoke struct {
	h       half
	dir     r2.Point
	key     float64
	bend, r float64
}

func (ar *arrangement) spoke(h half) spoke {
	p, q := ar.pts[ar.from(h)], ar.pts[ar.to(h)]
	d := sub2(q, p)
	n := math.Sqrt(d.X*d.X + d.Y*d.Y)
	s := spoke{h: h, dir: r2.Point{X: d.X / n, Y: d.Y / n}, r: n}
	if b := ar.bulge(h); b != 0 {
		// The tangent at the start is the chord turned by minus half the sweep.
		sn, cs := 2*b/(1+b*b), (1-b)*(1+b)/(1+b*b)
		s.dir = r2.Point{X: float64(cs*s.dir.X) + float64(sn*s.dir.Y), Y: float64(cs*s.dir.Y) - float64(sn*s.dir.X)}
		s.bend = 2 * sn / n
	}
	s.key = math.Atan2(s.dir.Y, s.dir.X)
	return s
}

// at returns the direction to the point of the spoke at the distance d from the junction:
// a chord of that length makes the angle asin(d·bend/2) with the tangent.
func (s *spoke) at(d float64) r2.Point {
	if s.bend == 0 {
		return s.dir
	}
	sn := math.Max(-1, math.Min(1, d*s.bend/2))
	cs := math.Sqrt((1 - sn) * (1 + sn))
	return r2.Point{X: float64(cs*s.dir.X) - float64(sn*s.dir.Y), Y: float64(sn*s.dir.X) + float64(cs*s.dir.Y)}
}

// less orders two spokes counter-clockwise. Spokes that leave in nearly the same direction
// are compared where their difference shows: half way to the nearer end. They do not cross
// before, and in the middle neither a common tangent at this end nor a common end there
// hides which one lies on the left.
func (s *spoke) less(t *spoke) bool {
	if d := t.key - s.key; math.Abs(d) > 0.1 {
		return d > 0
	}
	d := math.Min(s.r, t.r) / 2
	return cross2(s.at(d), t.at(d)) > 0
}

// order sorts the links round a junction counter-clockwise, beginning after the widest
// gap between directions; the gap through -x is preferred when it is about as wide.
func (ar *arrangement) order(r []half) {
	var buf [8]spoke
	s := buf[:0]
	for _, h := range r {
		s = append(s, ar.spoke(h))
	}
	slices.SortFunc(s, func(a, b spoke) int {
		if c := cmp.Compare(a.key, b.key); c != 0 {
			return c
		}
		return cmp.Compare(a.h, b.h)
	})
	n := len(s)
	first, gap := 0, s[0].key+2*math.Pi-s[n-1].key+0.1
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
		if d := math.Min(s.r, t.r); dot2(s.dir, t.dir) > 0 && math.Abs(cross2(s.at(d), t.at(d)))*d <= ar.tol/2 && ar.to(s.h) != ar.to(t.h) {
			ar.doubtful = true
		}
	}
}
