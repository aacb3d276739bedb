package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
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
	if shared >= 0 && !p.arc && !q.arc {
		return // two lines from one node meet there only
	}
	if p.arc && q.arc && p.seg.Center().Sub(q.seg.Center()).Norm() <= n.tol/10 {
		return // about one centre: ends decide
	}
	n.at = p.seg.Meet(q.seg, n.tol, n.at[:0])
	for _, x := range n.at {
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

// segDistance returns the distance of p from a line or arc.
func segDistance(s geom.Seg, p r2.Point) float64 {
	_, d := segNearest(s, p)
	return d
}

// segNearest returns the share of the length at which s is nearest to p, and the distance.
func segNearest(s geom.Seg, p r2.Point) (t, d float64) {
	_, t, d = s.Nearest(p)
	return t, d
}
