package geom

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// NoWay says that no path joins two points, and names the gap between obstacles that
// blocks.
//
// Think of all clearances lowered together, by the same length. The gap is the one that is
// passed last, when the first way from From to To opens: to make a way, Need - Gap is the
// least by which the gaps on it must grow. Any other gap on that way that is too narrow
// lacks no more than this one, and if none is too narrow it is enough to widen this one.
// If Gap is 0 the obstacles touch or overlap there, and on every other way as well.
//
// If Solid is set, one obstacle goes all the way round one of the points and there is no
// gap that could be widened: Gap is 0, and both At are the obstacle's point nearest to
// From.
type NoWay struct {
	From, To r2.Point    // clear of obstacles
	Gap      float64     // width in mm
	Need     float64     // the width it would have to have: the sum of both clearances
	At       [2]r2.Point // its two sides
	Of       [2]int      // the obstacles there, numbered as in [NewField]; they may be one
	Solid    bool
}

// Error says that no way leads through, with the narrowest gap.
func (n *NoWay) Error() string {
	from := fmt.Sprintf("no way from (%.6g, %.6g) to (%.6g, %.6g): ", n.From.X, n.From.Y, n.To.X, n.To.Y)
	if n.Solid {
		return from + fmt.Sprintf("obstacle %d lies all round one of them", n.Of[0])
	}
	return from + fmt.Sprintf("the gap of %.6g mm at (%.6g, %.6g) between obstacles %d and %d would have to be %.6g mm",
		n.Gap, (n.At[0].X+n.At[1].X)/2, (n.At[0].Y+n.At[1].Y)/2, n.Of[0], n.Of[1], n.Need)
}

// A bar is a line between two obstacles that is shorter than their clearances together,
// so that no path can cross it.
type bar struct {
	i, j         int32 // the pieces that it joins
	p, q         r2.Point
	length, need float64
}

// lacks is by how much the bar is too short, without end where the obstacles touch or overlap: no lowering
// of clearances opens that.
func (b *bar) lacks() float64 {
	if b.length <= 0 {
		return math.Inf(1)
	}
	return b.need - b.length
}

// barrier is the obstacles' boundaries as a graph: its nodes are the starts of pieces,
// its links the pieces and the bars.
type barrier struct {
	field  *Field
	pieces []piece // loop by loop
	next   []int32 // the piece that follows in its loop
	prev   []int32
	owner  []int32
	loops  []int32 // first piece of every loop
	bars   []bar   // those that lack most first
	limit  int
}

// maxPairs bounds the pairs of pieces that are looked at for bars.
const maxPairs = 1 << 26

// noWay finds the gap that blocks.
//
// Let a and b lie in different parts of what the grown obstacles leave free. Then one of the
// closed curves that bound the part of a separates it from b. The curve consists of stretches
// each at the clearance from one piece of an obstacle's boundary; follow the nearest
// points on those pieces instead. Where the curve passes from piece p to piece q their
// grown sets meet, and in that part of their common set lies the middle of a line that joins
// p and q on their common normal or at an end, is shorter than the clearances together, and
// can take the place of the jump: all that was moved over lies in the two grown sets, each
// simply connected, which hold neither a nor b. So a cycle of pieces and bars separates a
// from b, and no other can: a path crosses no bar. Of all such cycles the one is wanted
// whose weakest bar lacks most: lower the clearances by less than half of that and it still
// stands; lower them by more and no cycle does. Adding bars in falling order of what they
// lack until the first cycle closes between a and b finds it (Kruskal 1956).
//
// A cycle separates a from b exactly if it crosses the line ab an odd number of times. The
// nodes are kept in a union-find forest with the parity of crossings on the way to the
// root, so that each cycle is told at the link that closes it.
//
// A bar whose end can slide along the boundary while it gets shorter need not be looked at:
// the bars on the way sweep over nothing free.
func (f *Field) noWay(from, to []r2.Point) error {
	b := barrier{field: f, limit: maxPairs}
	b.gather()
	if !b.findBars() {
		return &Failure{Op: "path", At: from[0], Why: "there is no way, and the obstacles have too many pieces to tell the gap"}
	}
	var best *NoWay
	for _, p := range from {
		for _, q := range to {
			n := b.between(p, q)
			if n != nil && (best == nil || best.Solid && !n.Solid || best.Solid == n.Solid && n.Need-n.Gap < best.Need-best.Gap) {
				best = n
			}
		}
	}
	if best == nil {
		return &Failure{Op: "path", At: from[0], Why: "there is no way, and the gap that blocks cannot be told"}
	}
	return best
}

func (b *barrier) gather() {
	for i := range b.field.obstacles {
		for l := range b.field.obstacles[i].Region.Loops() {
			if l.d == nil {
				continue
			}
			first := int32(len(b.pieces))
			b.loops = append(b.loops, first)
			b.pieces = append(b.pieces, l.d.ready().pieces...)
			last := int32(len(b.pieces)) - 1
			for k := first; k <= last; k++ {
				b.owner = append(b.owner, int32(i))
				b.next = append(b.next, k+1)
				b.prev = append(b.prev, k-1)
			}
			b.next[last], b.prev[first] = first, last
		}
	}
}

func (b *barrier) clearance(piece int32) float64 {
	return b.field.obstacles[b.owner[piece]].Clearance
}

// findBars sets the bars. It returns false if there are too many pairs.
func (b *barrier) findBars() bool {
	copies := slices.Clone(b.pieces)
	most := 0.0
	for k := range copies {
		copies[k].seg = int32(k)
		most = max(most, b.clearance(int32(k)))
	}
	var near sight
	near.build(copies)
	for k := range b.pieces {
		i := int32(k)
		c := b.clearance(i)
		near.eachNear(b.pieces[i].box(), c+most+minClearance, func(m int32) {
			j := near.pieces[m].seg
			if j <= i || b.limit <= 0 {
				return
			}
			b.limit--
			b.join(i, j, c+b.clearance(j))
		})
	}
	slices.SortFunc(b.bars, func(v, w bar) int {
		if c := compare(w.lacks(), v.lacks()); c != 0 {
			return c
		}
		if v.i != w.i {
			return int(v.i - w.i)
		}
		if v.j != w.j {
			return int(v.j - w.j)
		}
		if c := compare(v.p.X, w.p.X); c != 0 {
			return c
		}
		return compare(v.p.Y, w.p.Y)
	})
	return b.limit > 0
}

// join adds the bars between two pieces.
func (b *barrier) join(i, j int32, need float64) {
	p, q := &b.pieces[i], &b.pieces[j]
	put := func(x, y r2.Point) {
		x, y = p.snap(x), q.snap(y)
		d := dist(x, y)
		if d > need+minClearance {
			return
		}
		if b.next[i] == j && dist(x, p.b()) <= Coincident || b.next[j] == i && dist(x, p.a()) <= Coincident {
			if d <= Coincident {
				return // their common corner
			}
		}
		if d > Coincident && (b.slides(i, x, y) || b.slides(j, y, x)) {
			return
		}
		if d <= Coincident {
			d = 0
		}
		b.bars = append(b.bars, bar{i: i, j: j, p: x, q: y, length: d, need: need})
	}
	if p.r == 0 && q.r == 0 {
		x, y, _ := feet(p, q)
		put(x, y)
		return
	}
	var at [maxMeet]r2.Point
	n := meetPieces(p, q, Coincident, &at)
	for k := range n {
		x, y, _ := p.foot(at[k].X, at[k].Y)
		u, v, _ := q.foot(at[k].X, at[k].Y)
		put(r2.Point{X: x, Y: y}, r2.Point{X: u, Y: v})
	}
	if n > 0 {
		return
	}
	for _, e := range [2]r2.Point{q.a(), q.b()} {
		x, y, _ := p.foot(e.X, e.Y)
		put(r2.Point{X: x, Y: y}, e)
	}
	for _, e := range [2]r2.Point{p.a(), p.b()} {
		x, y, _ := q.foot(e.X, e.Y)
		put(e, r2.Point{X: x, Y: y})
	}
	var m normal
	switch {
	case p.r == 0:
		m = normalLineArc(p, q)
	case q.r == 0:
		m = normalLineArc(q, p)
		m.ax, m.ay, m.bx, m.by = m.bx, m.by, m.ax, m.ay
	default:
		m = normalArcs(p, q)
	}
	if m.found {
		put(r2.Point{X: m.ax, Y: m.ay}, r2.Point{X: m.bx, Y: m.by})
	}
}

// slides reports whether x, a point of piece i, can go on along the boundary towards y
// past an end of the piece.
func (b *barrier) slides(i int32, x, y r2.Point) bool {
	u := y.Sub(x)
	u = u.Mul(1 / math.Hypot(u.X, u.Y))
	p := &b.pieces[i]
	ahead := func(c *piece, sign float64) bool {
		// The direction of a short piece is rounded to 2^-52 of the coordinates over its
		// length, and on an arc it changes as x is moved to the end; where that leaves
		// doubt, it does not slide.
		sure := 1e-7 + 0x1p-48*(math.Abs(x.X)+math.Abs(x.Y))/dist(c.a(), c.b())
		if c.r > 0 {
			sure += 2 * Coincident / c.r
		}
		return sign*dot2(c.tangent(x), u) > sure
	}
	if dist(x, p.a()) <= Coincident && (ahead(&b.pieces[b.prev[i]], -1) || ahead(p, 1)) {
		return true
	}
	return dist(x, p.b()) <= Coincident && (ahead(&b.pieces[b.next[i]], 1) || ahead(p, -1))
}

// snap returns the end of the piece that x, one of its points, cannot be told from.
func (c *piece) snap(x r2.Point) r2.Point {
	switch {
	case dist(x, c.a()) <= Coincident:
		return c.a()
	case dist(x, c.b()) <= Coincident:
		return c.b()
	}
	return x
}

// tangent returns the unit direction of the piece, run from a to b, at its point x.
func (c *piece) tangent(x r2.Point) r2.Point {
	u := r2.Point{X: c.bx - c.ax, Y: c.by - c.ay}
	if c.r != 0 {
		u = r2.Point{X: c.cy - x.Y, Y: x.X - c.cx}
		if !c.ccw {
			u = u.Mul(-1)
		}
	}
	if l := math.Hypot(u.X, u.Y); l > 0 {
		return u.Mul(1 / l)
	}
	return r2.Point{}
}

// between returns the gap that blocks the way from p to q, nil if none does.
func (b *barrier) between(p, q r2.Point) *NoWay {
	n := &NoWay{From: p, To: q}
	x := crossing{b.field.off(p), b.field.off(q)}
	forest := newForest(len(b.pieces))
	for k := range b.pieces {
		c := &b.pieces[k]
		if forest.join(int32(k), b.next[k], x.piece(c, c.b())) {
			n.Of = [2]int{int(b.owner[k]), int(b.owner[k])}
			n.Solid = true
			at, _ := b.loopOf(int32(k)).Nearest(p)
			n.At = [2]r2.Point{at, at}
			n.Need = 2 * b.clearance(int32(k))
			return n
		}
	}
	for _, w := range b.bars {
		odd := x.piece(&b.pieces[w.i], w.p) != x.line(w.p, w.q)
		odd = odd != x.piece(&b.pieces[w.j], w.q)
		if forest.join(w.i, w.j, odd) {
			n.Of = [2]int{int(b.owner[w.i]), int(b.owner[w.j])}
			n.At = [2]r2.Point{w.p, w.q}
			n.Gap, n.Need = w.length, w.need
			return n
		}
	}
	return nil
}

// loopOf returns the loop that a piece is part of.
func (b *barrier) loopOf(piece int32) Loop {
	k, ok := slices.BinarySearch(b.loops, piece)
	if !ok {
		k--
	}
	n := 0
	for i := range b.field.obstacles {
		for l := range b.field.obstacles[i].Region.Loops() {
			if l.d == nil {
				continue
			}
			if n == k {
				return l
			}
			n++
		}
	}
	return Loop{}
}

// off returns p, or if it lies on an obstacle, a free point nearby to which a line leads.
func (f *Field) off(p r2.Point) r2.Point {
	box := box4{p.X, p.Y, p.X, p.Y}
	on := false
	f.raw().eachNear(box, f.slack, func(k int32) {
		on = on || f.raw().pieces[k].dist2Point(p.X, p.Y) <= f.slack*f.slack
	})
	if !on {
		return p
	}
	for step := 1e4 * f.slack; step >= 2*f.slack; step /= 4 {
		for k := range 64 {
			sn, cs := math.Sincos(2 * math.Pi * (float64(k) + 0.3) / 64)
			q := r2.Point{X: p.X + step*cs, Y: p.Y + step*sn}
			if !f.covered(q) && !f.sight.blocked(p, q) && !f.touches(q) {
				return q
			}
		}
	}
	return p
}

// touches reports whether q lies within a tenth of the slack of an obstacle's boundary.
func (f *Field) touches(q r2.Point) bool {
	on := false
	d := f.slack / 10
	f.raw().eachNear(box4{q.X, q.Y, q.X, q.Y}, d, func(k int32) {
		on = on || f.raw().pieces[k].dist2Point(q.X, q.Y) <= d*d
	})
	return on
}

// crossing counts crossings of the line from a to b, odd or even. A point on the line
// counts as right of it, the same for all that meet there.
type crossing struct{ a, b r2.Point }

// line reports whether the line from p to q crosses an odd number of times.
func (x *crossing) line(p, q r2.Point) bool {
	if (Orient(x.a, x.b, p) > 0) == (Orient(x.a, x.b, q) > 0) {
		return false
	}
	return (Orient(p, q, x.a) > 0) != (Orient(p, q, x.b) > 0)
}

// piece reports the same for the part of a piece from its start to q: that of the chord,
// unless just one of a and b lies between chord and arc.
func (x *crossing) piece(c *piece, q r2.Point) bool {
	odd := x.line(c.a(), q)
	if c.r == 0 {
		return odd
	}
	return odd != (c.capHolds(q, x.a) != c.capHolds(q, x.b))
}

// capHolds reports whether p lies between the arc from its start to q and the chord. A cap
// of at most a quarter turn reaches no farther from the start than the chord does; the side
// of a far point is no matter of a chord that may be all rounding.
func (c *piece) capHolds(q, p r2.Point) bool {
	if dist(p, c.a()) > 1.5*dist(q, c.a()) {
		return false
	}
	return (Orient(c.a(), q, p) > 0) != c.ccw && c.fromCircle(p.X, p.Y, dist(p, c.c())) < 0
}

// forest is a union-find forest that knows the parity of the way from each node to its
// root.
type forest struct {
	up  []int32
	odd []bool
}

func newForest(n int) *forest {
	f := &forest{up: make([]int32, n), odd: make([]bool, n)}
	for i := range f.up {
		f.up[i] = int32(i)
	}
	return f
}

// root returns the root of i and the parity of the way there, and shortens that way.
func (f *forest) root(i int32) (int32, bool) {
	r, odd := i, false
	for f.up[r] != r {
		odd = odd != f.odd[r]
		r = f.up[r]
	}
	rest := odd
	for f.up[i] != i {
		next, o := f.up[i], f.odd[i]
		f.up[i], f.odd[i] = r, rest
		rest = rest != o
		i = next
	}
	return r, odd
}

// join adds a link and reports whether it closes a cycle with an odd number of crossings.
func (f *forest) join(i, j int32, odd bool) bool {
	r, a := f.root(i)
	s, b := f.root(j)
	if r == s {
		return (a != b) != odd
	}
	f.up[r] = s
	f.odd[r] = (a != b) != odd
	return false
}
