package geom

import (
	"math"
	"slices"
	"sync"

	"github.com/golang/geo/r2"
)

// An arrangement is the planar graph behind booleans and offsets: all boundaries cut at
// all their meeting points, each part once, each with the winding numbers on its two
// sides. It is made in steps, each in a file of its own:
//
//	strands    boundaries cut into parts that are monotone in x      (here)
//	stretches  strands in a row, monotone in x and y                 (stretch.go)
//	meetings   where strands meet: welded ends and cuts              (strips.go, intersect.go)
//	links      from node to node, along strands met by nothing       (link.go)
//	nodes      doubles merged, links in order round every node       (node.go)
//	windings   spread over the links from one ray for each component (winding.go)
//	loops      the links that bound the wanted set, chained          (chain.go)
//
// Boundaries of many short parts are the rule, and most of these parts meet nothing. They
// are therefore tried and walked in rows, and only places where something happens become
// nodes of the graph.
//
// Nothing in it decides by a floating-point sign whether two things are the same: ends
// nearer than the weld distance become one junction, and parts that run together within
// it become one link. That is repeated with the links until nothing moves; see doc.go for
// why the graph is planar then. Its winding numbers are sums of whole numbers, and a
// graph that is not planar after all shows as a contradiction in those sums. The operation
// is then tried again with another weld distance. Every result is compared with the curves
// as they came in (certify.go).

// weldFor returns the weld distance for coordinates up to m: ends and crossings no further
// apart are one junction, and curves that run together within it are one. It is
// [Coincident], 1e-9 mm, up to coordinates of 1 m: a thousand times the rounding of an
// intersection there (1e-12 mm), a thousandth of the promised error, and what the rest of
// the package takes as touching. Beyond 1 m it grows with the rounding of a coordinate.
// Welding moves a boundary by about this much, which changes an area by the length
// concerned times as much.
func weldFor(m float64) float64 { return Coincident * math.Max(1, m/1e3) }

// windings are winding numbers, or changes of them, in the two operands.
type windings struct{ a, b int32 }

func (w windings) plus(v windings) windings  { return windings{w.a + v.a, w.b + v.b} }
func (w windings) minus(v windings) windings { return windings{w.a - v.a, w.b - v.b} }
func (w windings) neg() windings             { return windings{-w.a, -w.b} }

// A strand is a line or a part of an arc without an extreme of x inside, run through from
// left to right (upward if upright). Such an arc turns through at most half a circle.
type strand struct {
	a, b   r2.Point // ends, a before b in order of x, then y
	u      r2.Point // unit vector from a to b
	chord  float64  // |b - a|
	c      r2.Point // centre of an arc
	r      float64  // radius of an arc, 0 for a line
	line   bool     // a line, or an arc so flat that it is taken as its chord
	va, vb int32    // junctions at a and b
	bulge  float64  // from a to b, 0 for a line
	rise   windings // winding on the left less winding on the right, from a to b
	ccw    bool     // an arc: counter-clockwise from a to b (below its chord)
}

// A thread is a piece of a boundary up to the weld distance long, of which no strand is
// made. Together with the strands the threads are closed curves.
type thread struct {
	a, b r2.Point
	rise windings // winding on the left less winding on the right, from a to b
}

// A meet is a place where a strand must be cut.
type meet struct {
	strand, at int32 // at: junction
	t          float64
}

// arrangement holds the graph while it is made.
type arrangement struct {
	tol     float64
	short   float64    // length of a chord up to which its ends are welded
	pts     []r2.Point // junctions
	weld    []int32    // union-find over junctions; the root has the least index
	fixed   []bool     // junctions that are nodes whatever their strands; all welded ones are
	strands []strand
	threads []thread // what no strand was made of
	meets   []meet
	crossed []meet // crossings: the junction and one of the two strands
	// moved is the longest way in mm that an end was moved to its node, or a strand to a
	// node on it; movedAt is where.
	moved   float64
	movedAt r2.Point
	// doubtful says that links run together without being cut, so that their order
	// round a node is rounding; doubtAt is where.
	doubtful bool
	doubtAt  r2.Point
	// torn says that the boundary of a set could not be put together, and where.
	torn   bool
	tornAt r2.Point

	nodes  []r2.Point
	nodeAt []int32 // the node at a junction, plus one
	links  []link
	lost   float64 // area under the strands at the ends of links; see measure.go
	length float64 // of all strands, at least
	ring   []half  // links leaving each node, counter-clockwise
	start  []int32 // ring[start[j]:start[j+1]] belong to node j (live ones first)
	live   []int32 // number of live ones

	scratch
}

// scratch is memory that the steps use, kept for the next arrangement.
type scratch struct {
	stretches    []stretch
	boxes, dealt []stretchBox
	end, slots   []int32
	byLeft       []int32
	reach        []float64
	comp, stack  []int32
	set          []bool
	comps        []component
	edge         []uint8
	place        []int32
	walk         []half
	treads, turn []tread
	verts        []Vertex
	events       []event
	lines        []float64
	spans        []span
}

// arrangements holds arrangements that are not in use. It only saves the making of their
// slices: nothing in them outlives an operation.
var arrangements = sync.Pool{New: func() any { return new(arrangement) }}

// newArrangement returns an empty arrangement for about n curves, to be released.
func newArrangement(tol float64, n int) *arrangement {
	ar := arrangements.Get().(*arrangement)
	*ar = arrangement{
		tol: tol, short: tol, pts: slices.Grow(ar.pts[:0], n+n/4), weld: slices.Grow(ar.weld[:0], n+n/4),
		fixed: slices.Grow(ar.fixed[:0], n+n/4), strands: slices.Grow(ar.strands[:0], n+n/8),
		threads: ar.threads[:0], meets: ar.meets[:0], crossed: ar.crossed[:0], nodes: ar.nodes[:0], nodeAt: ar.nodeAt[:0],
		links: ar.links[:0], ring: ar.ring[:0], start: ar.start[:0], live: ar.live[:0],
		scratch: ar.scratch,
	}
	return ar
}

func (ar *arrangement) release() { arrangements.Put(ar) }

// cleared returns a slice of n zeros, in the memory of s if it is large enough.
func cleared[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/4)
	}
	s = s[:n]
	clear(s)
	return s
}

// junction adds a junction at p.
func (ar *arrangement) junction(p r2.Point) int32 {
	n := int32(len(ar.pts))
	ar.pts = append(ar.pts, p)
	ar.weld = append(ar.weld, n)
	ar.fixed = append(ar.fixed, false)
	return n
}

// root returns the junction that v has been welded to.
func (ar *arrangement) root(v int32) int32 {
	for ar.weld[v] != v {
		ar.weld[v] = ar.weld[ar.weld[v]]
		v = ar.weld[v]
	}
	return v
}

func (ar *arrangement) join(v, w int32) {
	v, w = ar.root(v), ar.root(w)
	ar.fixed[v], ar.fixed[w] = true, true
	if v < w {
		ar.weld[w] = v
	} else {
		ar.weld[v] = w
	}
}

// joinAlong joins the junctions at the ends of a piece that is too short for a strand.
func (ar *arrangement) joinAlong(v, w int32, rise windings) {
	ar.threads = append(ar.threads, thread{a: ar.pts[v], b: ar.pts[w], rise: rise})
	ar.join(v, w)
}

func before(p, q r2.Point) bool { return p.X < q.X || p.X == q.X && p.Y < q.Y }

// cross2 is the cross product u × v, each product rounded so that no machine fuses them.
func cross2(u, v r2.Point) float64 { return float64(u.X*v.Y) - float64(u.Y*v.X) }

func dot2(u, v r2.Point) float64 { return float64(u.X*v.X) + float64(u.Y*v.Y) }

func sub2(p, q r2.Point) r2.Point { return r2.Point{X: p.X - q.X, Y: p.Y - q.Y} }

// addLine adds the line from junction v to w with the rise of winding across it.
func (ar *arrangement) addLine(v, w int32, rise windings) {
	p, q := ar.pts[v], ar.pts[w]
	d := sub2(q, p)
	n := math.Sqrt(d.X*d.X + d.Y*d.Y)
	if n <= ar.short {
		ar.joinAlong(v, w, rise)
		return
	}
	if before(q, p) {
		p, q, v, w, rise = q, p, w, v, rise.neg()
		d.X, d.Y = -d.X, -d.Y
	}
	ar.strands = append(ar.strands, strand{
		a: p, b: q, va: v, vb: w, line: true, u: r2.Point{X: d.X / n, Y: d.Y / n}, chord: n, rise: rise,
	})
}

// addArc adds the arc from junction v to w about c with radius r, cut at its leftmost and
// rightmost points. long says that the arc turns through more than half a circle; near
// half a circle it does not matter.
func (ar *arrangement) addArc(v, w int32, c r2.Point, r float64, ccw, long bool, rise windings) {
	if !ccw { // walk counter-clockwise
		v, w, rise = w, v, rise.neg()
	}
	if r > shallowRadius {
		ar.addShallow(v, w, c, r, rise)
		return
	}
	p, q := ar.pts[v], ar.pts[w]
	upP := p.Y > c.Y || p.Y == c.Y && p.X > c.X // leaving p to the left, on the upper half
	upQ := q.Y > c.Y || q.Y == c.Y && q.X < c.X // coming to q from the right, on the upper half
	turns := 0
	switch {
	case upP != upQ:
		turns = 1
	case upP && q.X > p.X || !upP && q.X < p.X:
		// Back on the half that it left, behind the start: two extremes lie between,
		// unless the ends are so near that only rounding put them so.
		turns = 2
		if !long && math.Abs(q.X-p.X)+math.Abs(q.Y-p.Y) < r {
			turns = 0
		}
	case long && math.Abs(q.X-p.X)+math.Abs(q.Y-p.Y) < r:
		turns = 2 // all but a full circle
	}
	up := upP
	for range turns {
		e := r2.Point{X: c.X + r, Y: c.Y}
		if up {
			e.X = c.X - r
		}
		up = !up
		if near2(e, ar.pts[v], ar.tol) {
			continue
		}
		if near2(e, ar.pts[w], ar.tol) {
			break
		}
		x := ar.junction(e)
		ar.addMonotone(v, x, c, r, rise)
		v = x
	}
	ar.addMonotone(v, w, c, r, rise)
}

// addShallow adds a counter-clockwise arc of large radius, which turns through less than
// half a circle. Its extremes of x are found from the tangent at its start: the chord of
// an arc that turns by φ is 2r·sin(φ/2) long and makes the angle φ/2 with it.
func (ar *arrangement) addShallow(v, w int32, c r2.Point, r float64, rise windings) {
	p, q := ar.pts[v], ar.pts[w]
	s := strand{a: p, b: q, c: c, r: r, ccw: true}
	d := sub2(q, p)
	n := math.Sqrt(d.X*d.X + d.Y*d.Y)
	sweep := 4 * math.Atan(n/2/(r+s.chordDistance()))
	start := math.Atan2(d.Y, d.X) - sweep/2
	for _, x := range [4]float64{-1.5 * math.Pi, -0.5 * math.Pi, 0.5 * math.Pi, 1.5 * math.Pi} {
		turn := x - start
		if turn <= 0 || turn >= sweep {
			continue
		}
		sn, cs := math.Sincos(start + turn/2)
		k := 2 * r * math.Sin(turn/2)
		e := r2.Point{X: p.X + k*cs, Y: p.Y + k*sn}
		if near2(e, p, ar.tol) || near2(e, q, ar.tol) {
			continue
		}
		m := ar.junction(e)
		ar.addMonotone(v, m, c, r, rise)
		v = m
	}
	ar.addMonotone(v, w, c, r, rise)
}

// addMonotone adds the counter-clockwise arc from v to w, which has no extreme of x inside.
func (ar *arrangement) addMonotone(v, w int32, c r2.Point, r float64, rise windings) {
	p, q := ar.pts[v], ar.pts[w]
	d := sub2(q, p)
	n := math.Sqrt(d.X*d.X + d.Y*d.Y)
	if n <= ar.short {
		ar.joinAlong(v, w, rise)
		return
	}
	ar.strands = append(ar.strands, strand{a: p, b: q, va: v, vb: w, c: c, r: r, ccw: true, rise: rise, chord: n})
	s := &ar.strands[len(ar.strands)-1]
	if before(q, p) {
		s.a, s.b, s.va, s.vb, s.rise, s.ccw = q, p, w, v, rise.neg(), false
		d.X, d.Y = -d.X, -d.Y
	}
	s.u = r2.Point{X: d.X / n, Y: d.Y / n}
	// The height over the chord is (n/2)²/(r + distance of the chord from the centre), and
	// the tangent of a quarter of the sweep is that over half the chord.
	k := r + s.chordDistance()
	if s.line = n*n/4 <= ar.tol*k; !s.line {
		if s.bulge = n / 2 / k; !s.ccw {
			s.bulge = -s.bulge
		}
	}
}

// chordDistance returns the distance of the middle of the chord from the centre.
func (s *strand) chordDistance() float64 {
	x, y := (s.a.X+s.b.X)/2-s.c.X, (s.a.Y+s.b.Y)/2-s.c.Y
	return math.Sqrt(x*x + y*y)
}

func near2(p, q r2.Point, tol float64) bool {
	x, y := p.X-q.X, p.Y-q.Y
	return x*x+y*y <= tol*tol
}

// addLoop adds a loop with rise of winding on its left.
func (ar *arrangement) addLoop(l Loop, rise windings) {
	n := l.Len()
	if n == 0 {
		return
	}
	v := l.d.v
	first := int32(len(ar.pts))
	for i := range v {
		ar.junction(v[i].P)
	}
	for i := range v {
		from, to := first+int32(i), first+int32(i+1)
		if i == n-1 {
			to = first
		}
		if b := v[i].Bulge; b == 0 {
			ar.addLine(from, to, rise)
		} else {
			s := Seg{A: v[i].P, B: ar.pts[to], Bulge: b}
			ar.addArc(from, to, s.Center(), s.Radius(), b > 0, math.Abs(b) > 1, rise)
		}
	}
}
