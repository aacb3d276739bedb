package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// A cut is a place where a piece is cut in two: at a share of its length and a node.
type cut struct {
	piece, node int32
	t           float64
}

// maxTries bounds the pairs of pieces looked at: an outline of a hundred thousand pieces
// needs about ten million.
const maxTries = 200_000_000

// meetAll cuts pieces where the end of another lies on them and where two cross. Pieces
// are dealt out to level strips by their boxes and, in each, taken from left to right; a
// pair is tried in the strip that holds the higher of the two lower sides.
func (n *network) meetAll() error {
	count := len(n.pieces)
	if count == 0 {
		return nil
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range n.pieces {
		lo, hi = min(lo, n.pieces[i].lo.Y), max(hi, n.pieces[i].hi.Y)
	}
	lo, hi = lo-n.tol, hi+n.tol
	strips := 1 + int(math.Sqrt(float64(count)))
	for {
		dealt := 0.0
		for i := range n.pieces {
			dealt += 2 + (n.pieces[i].hi.Y-n.pieces[i].lo.Y)/(hi-lo)*float64(strips)
		}
		if dealt <= 8*float64(count)+1000 || strips == 1 {
			break
		}
		strips = (strips + 1) / 2
	}
	strip := func(y float64) int {
		return max(0, min(strips-1, int((y-lo)/(hi-lo)*float64(strips))))
	}
	in := make([][]int32, strips)
	order := make([]int32, count)
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(i, j int32) int { return cmp.Compare(n.pieces[i].lo.X, n.pieces[j].lo.X) })
	for _, i := range order {
		p := &n.pieces[i]
		for k := strip(p.lo.Y - n.tol); k <= strip(p.hi.Y+n.tol); k++ {
			in[k] = append(in[k], i)
		}
	}
	tries, most := 0, 4*count+10_000
	for k, list := range in {
		for x, i := range list {
			p := &n.pieces[i]
			right, low, high := p.hi.X+n.tol, p.lo.Y-n.tol, p.hi.Y+n.tol
			for _, j := range list[x+1:] {
				q := &n.pieces[j]
				if q.lo.X > right {
					break
				}
				if tries++; tries > maxTries {
					return n.tangled()
				}
				if q.lo.Y > high || q.hi.Y < low || strip(max(p.lo.Y, q.lo.Y)-n.tol) != k {
					continue
				}
				n.meet(i, j)
			}
			if len(n.cuts) > most {
				return n.tangled()
			}
		}
	}
	return nil
}

func (n *network) tangled() error {
	return fault(n.name, 0, "its lines cross each other nearly everywhere: this is artwork or a hatched drawing, not the outline of a plate",
		"the outer edge and the holes, as lines and arcs that meet at their ends", "export the layer that holds the outline alone")
}

// meet finds the cuts that two pieces make in each other.
func (n *network) meet(i, j int32) {
	p, q := &n.pieces[i], &n.pieces[j]
	n.touch(i, q.a, p)
	n.touch(i, q.b, p)
	n.touch(j, p.a, q)
	n.touch(j, p.b, q)
	shared := int32(-1)
	for _, v := range [2]int32{p.a, p.b} {
		if v == q.a || v == q.b {
			shared = v
		}
	}
	if shared >= 0 && p.r == 0 && q.r == 0 {
		return // two lines from one node meet there only
	}
	var at [2]r2.Point
	for _, x := range at[:crossings(p, q, n.tol, &at)] {
		tp, dp := segNearest(p.seg, x)
		tq, dq := segNearest(q.seg, x)
		if dp > n.tol || dq > n.tol || n.atEnd(p, x) || n.atEnd(q, x) {
			continue
		}
		if shared >= 0 && n.together(p, q, shared, tp) {
			continue
		}
		v := n.node(x)
		n.ch.Crossings++
		n.cuts = append(n.cuts, cut{i, v, tp}, cut{j, v, tq})
	}
}

// touch cuts piece i where node v lies on it.
func (n *network) touch(i, v int32, p *piece) {
	if v == p.a || v == p.b {
		return
	}
	x := n.nodes[v]
	if x.X < p.lo.X-n.tol || x.X > p.hi.X+n.tol || x.Y < p.lo.Y-n.tol || x.Y > p.hi.Y+n.tol {
		return
	}
	if t, d := segNearest(p.seg, x); d <= n.tol && t > 0 && t < 1 {
		n.cuts = append(n.cuts, cut{i, v, t})
	}
}

// atEnd reports whether x is an end of the piece.
func (n *network) atEnd(p *piece, x r2.Point) bool {
	return x.Sub(p.seg.A).Norm() <= n.tol || x.Sub(p.seg.B).Norm() <= n.tol
}

// together reports whether p runs along q from a common node to its share t: then they
// meet in that node and, by rounding, once more.
func (n *network) together(p, q *piece, node int32, t float64) bool {
	half := t / 2
	if node == p.b {
		half = (t + 1) / 2
	}
	return segDistance(q.seg, p.seg.At(half)) <= n.tol
}

// crossings gives the points where the lines or circles of two pieces cross, or where
// they touch within tol.
func crossings(p, q *piece, tol float64, at *[2]r2.Point) int {
	switch {
	case p.r == 0 && q.r == 0:
		u, v := p.seg.B.Sub(p.seg.A), q.seg.B.Sub(q.seg.A)
		d := u.Cross(v)
		if math.Abs(d) <= 1e-9*u.Norm()*v.Norm() {
			return 0
		}
		t := q.seg.A.Sub(p.seg.A).Cross(v) / d
		at[0] = p.seg.A.Add(u.Mul(t))
		return 1
	case p.r == 0:
		return lineCircle(p, q, tol, at)
	case q.r == 0:
		return lineCircle(q, p, tol, at)
	}
	d := q.c.Sub(p.c)
	n := d.Norm()
	if n <= tol/10 {
		return 0 // about one centre: ends decide
	}
	e := d.Mul(1 / n)
	if n > p.r+q.r+tol || n < math.Abs(p.r-q.r)-tol {
		return 0
	}
	// The common chord cuts the line of centres at x from the first.
	x := (n + (p.r-q.r)*(p.r+q.r)/n) / 2
	h2 := (p.r - x) * (p.r + x)
	side := r2.Point{X: -e.Y, Y: e.X}
	if h2 <= 0 {
		r := p.r
		if x < 0 {
			r = -r
		}
		at[0] = p.c.Add(e.Mul(r))
		return 1
	}
	h := math.Sqrt(h2)
	at[0], at[1] = p.c.Add(e.Mul(x)).Add(side.Mul(h)), p.c.Add(e.Mul(x)).Sub(side.Mul(h))
	return 2
}

func lineCircle(l, c *piece, tol float64, at *[2]r2.Point) int {
	u := l.seg.B.Sub(l.seg.A)
	u = u.Mul(1 / u.Norm())
	d := c.c.Sub(l.seg.A)
	h := math.Abs(u.Cross(d))
	foot := l.seg.A.Add(u.Mul(u.Dot(d)))
	switch {
	case h > c.r+tol:
		return 0
	case h >= c.r:
		at[0] = foot
		return 1
	}
	w := math.Sqrt((c.r - h) * (c.r + h))
	at[0], at[1] = foot.Add(u.Mul(w)), foot.Sub(u.Mul(w))
	return 2
}
