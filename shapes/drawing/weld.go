package drawing

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A piece is a line or an arc of at most half a turn between two nodes.
type piece struct {
	seg    geom.Seg // as drawn, later with its ends at the nodes
	a, b   int32    // nodes
	src    int32    // the segment that it is a part of
	s0, s1 float64  // that part, as shares of the length
	line   int32    // of the file
	length float64
	lo, hi r2.Point // box
	arc    bool     // false also for an arc hardly higher than its chord
}

// network is the planar graph of a drawing while it is made.
type network struct {
	tol    float64
	nodes  []r2.Point
	grid   map[[2]int64]int32 // first node of each cell
	chain  []int32            // next node of the same cell, -1 at the end
	segs   []geom.Seg         // the segments that pieces are parts of
	pieces []piece
	cuts   []cut
	at     []r2.Point // where two pieces meet, for reuse
	edges  []edge
	ch     *Changes
	name   string
}

// weld makes the network of the segments: every piece with its two nodes, where ends
// no further apart than the tolerance are one node. A node stands where the first of its
// ends is, so that ends which meet exactly are not moved at all.
func weld(segs []geom.Seg, lines []int32, tol float64, ch *Changes, name string) *network {
	n := &network{tol: tol, grid: map[[2]int64]int32{}, segs: segs, ch: ch, name: name}
	for i, s := range segs {
		parts := 1
		if math.Abs(s.Bulge) > 1+1e-6 { // more than half a turn
			parts = 2
		}
		for k := range parts {
			p := piece{seg: s, src: int32(i), line: lines[i], s0: float64(k) / float64(parts), s1: float64(k+1) / float64(parts)}
			if parts == 2 {
				p.seg = geom.Seg{A: s.At(p.s0), B: s.At(p.s1), Bulge: halfBulge(s.Bulge)}
			}
			p.a, p.b = n.node(p.seg.A), n.node(p.seg.B)
			n.pieces = append(n.pieces, p)
		}
	}
	n.joinLooseEnds()
	n.settle()
	return n
}

// halfBulge returns the bulge of half an arc: tan(x/2) of tan(x).
func halfBulge(b float64) float64 { return b / (1 + math.Sqrt(1+float64(b*b))) }

// node returns the node within the tolerance that is nearest to p, a new one if there is
// none.
func (n *network) node(p r2.Point) int32 {
	if v := n.near(p); v >= 0 {
		return v
	}
	v := int32(len(n.nodes))
	n.nodes = append(n.nodes, p)
	c := n.cell(p)
	next, ok := n.grid[c]
	if !ok {
		next = -1
	}
	n.chain = append(n.chain, next)
	n.grid[c] = v
	return v
}

// cell is the square of the grid that p lies in, four tolerances wide.
func (n *network) cell(p r2.Point) [2]int64 {
	w := 4 * n.tol
	return [2]int64{int64(math.Floor(p.X / w)), int64(math.Floor(p.Y / w))}
}

func (n *network) near(p r2.Point) int32 {
	lo := n.cell(r2.Point{X: p.X - n.tol, Y: p.Y - n.tol})
	hi := n.cell(r2.Point{X: p.X + n.tol, Y: p.Y + n.tol})
	best, least := int32(-1), n.tol
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			v, ok := n.grid[[2]int64{x, y}]
			for ; ok && v >= 0; v = n.chain[v] {
				if d := n.nodes[v].Sub(p).Norm(); d < least || d <= least && best < 0 {
					best, least = v, d
				}
			}
		}
	}
	return best
}

// joinLooseEnds joins nodes that lead to one piece only and have ends within the tolerance
// of each other: where a very short piece lies between two ends, its ends and theirs may
// have come to stand at two nodes.
func (n *network) joinLooseEnds() {
	degree := make([]int32, len(n.nodes))
	for i := range n.pieces {
		if p := &n.pieces[i]; p.a != p.b {
			degree[p.a]++
			degree[p.b]++
		}
	}
	// The ends that came to each loose node, in the order of the pieces.
	type end struct {
		node int32
		at   r2.Point
	}
	var ends []end
	for i := range n.pieces {
		p := &n.pieces[i]
		for _, e := range [2]end{{p.a, p.seg.A}, {p.b, p.seg.B}} {
			if degree[e.node] == 1 {
				ends = append(ends, e)
			}
		}
	}
	slices.SortStableFunc(ends, func(p, q end) int {
		if p.at.X < q.at.X {
			return -1
		}
		if p.at.X > q.at.X {
			return 1
		}
		return 0
	})
	to := map[int32]int32{}
	for i, e := range ends {
		for _, f := range ends[i+1 : min(len(ends), i+64)] {
			if f.at.X-e.at.X > n.tol {
				break
			}
			_, usedE := to[e.node]
			_, usedF := to[f.node]
			if f.node != e.node && !usedE && !usedF && f.at.Sub(e.at).Norm() <= n.tol {
				lo, hi := min(e.node, f.node), max(e.node, f.node)
				to[hi], to[lo] = lo, lo
			}
		}
	}
	if len(to) == 0 {
		return
	}
	for i := range n.pieces {
		p := &n.pieces[i]
		if v, ok := to[p.a]; ok {
			p.a = v
		}
		if v, ok := to[p.b]; ok {
			p.b = v
		}
	}
}

// settle moves the ends of all pieces to their nodes, drops pieces that lead from a node
// to itself, and works out what meeting needs.
func (n *network) settle() {
	kept := n.pieces[:0]
	for _, p := range n.pieces {
		for _, m := range [2]float64{n.nodes[p.a].Sub(p.seg.A).Norm(), n.nodes[p.b].Sub(p.seg.B).Norm()} {
			if m > geom.Coincident {
				n.ch.MovedEnds++
				n.ch.MostMoved = max(n.ch.MostMoved, m)
			}
		}
		p.seg.A, p.seg.B = n.nodes[p.a], n.nodes[p.b]
		if p.a == p.b {
			n.ch.Short++
			continue
		}
		n.measure(&p)
		kept = append(kept, p)
	}
	n.pieces = kept
}

func (n *network) measure(p *piece) {
	s := p.seg
	b := s.Bound()
	p.lo, p.hi, p.length = b.Lo, b.Hi, s.Length()
	p.arc = s.IsArc() && s.B.Sub(s.A).Norm()/2*math.Abs(s.Bulge) > n.tol/100
}
