package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// An edge is a piece, or the part of one between two cuts.
type edge struct {
	a, b   int32
	bulge  float64
	src    int32
	s0, s1 float64 // part of the source segment
	line   int32
	length float64
	whole  float64 // length of the piece that it is a part of
	part   bool    // of a piece that was cut
}

// seg returns the edge between its nodes.
func (n *network) seg(e *edge) geom.Seg {
	return geom.Seg{A: n.nodes[e.a], B: n.nodes[e.b], Bulge: e.bulge}
}

// cutUp makes edges of all pieces. Cuts of one piece are taken in order; those at the same
// node, or next to an end, make no edge.
func (n *network) cutUp() {
	slices.SortFunc(n.cuts, func(x, y cut) int {
		return cmp.Or(cmp.Compare(x.piece, y.piece), cmp.Compare(x.t, y.t), cmp.Compare(x.node, y.node))
	})
	n.edges = make([]edge, 0, len(n.pieces)+len(n.cuts))
	k := 0
	for i := range n.pieces {
		p := &n.pieces[i]
		from, t := p.a, 0.0
		cutAt := false
		add := func(to int32, t1 float64) {
			if to == from {
				return
			}
			e := edge{
				a: from, b: to, bulge: p.seg.Bulge, src: p.src, line: p.line, length: p.length, whole: p.length,
				s0: p.s0 + t*(p.s1-p.s0), s1: p.s0 + t1*(p.s1-p.s0), part: cutAt || t1 < 1,
			}
			if t > 0 || t1 < 1 {
				e.bulge = geom.PartBulge(p.seg.Bulge, t1-t)
				e.length = n.seg(&e).Length()
			}
			n.edges = append(n.edges, e)
			from, t = to, t1
		}
		for ; k < len(n.cuts) && n.cuts[k].piece == int32(i); k++ {
			cutAt = true
			add(n.cuts[k].node, n.cuts[k].t)
		}
		add(p.b, 1)
	}
	n.cuts = nil
}

// dropDoubles drops edges that run along another between the same nodes, to within twice
// the tolerance, and keeps the one whose piece is longest. It returns how many went.
func (n *network) dropDoubles() int {
	type side struct {
		lo, hi int32
		rise   float64 // height over the chord, positive to the left from lo to hi
		i      int32
	}
	sides := make([]side, len(n.edges))
	for i := range n.edges {
		e := &n.edges[i]
		rise := n.nodes[e.b].Sub(n.nodes[e.a]).Norm() / 2 * e.bulge
		s := side{e.a, e.b, rise, int32(i)}
		if e.a > e.b {
			s.lo, s.hi, s.rise = e.b, e.a, -rise
		}
		sides[i] = s
	}
	slices.SortFunc(sides, func(x, y side) int {
		return cmp.Or(cmp.Compare(x.lo, y.lo), cmp.Compare(x.hi, y.hi), cmp.Compare(x.rise, y.rise), cmp.Compare(x.i, y.i))
	})
	drop := make([]bool, len(n.edges))
	count := 0
	for i := 0; i < len(sides); {
		best := sides[i].i
		j := i + 1
		for ; j < len(sides) && sides[j].lo == sides[i].lo && sides[j].hi == sides[i].hi && sides[j].rise-sides[i].rise <= 2*n.tol; j++ {
			e, f := &n.edges[best], &n.edges[sides[j].i]
			if f.whole > e.whole+n.tol || math.Abs(f.whole-e.whole) <= n.tol && sides[j].i < best {
				drop[best] = true
				best = sides[j].i
			} else {
				drop[sides[j].i] = true
			}
			count++
		}
		i = j
	}
	n.keepEdges(drop)
	return count
}

// dropDoublePieces drops pieces drawn twice, before anything is cut.
func (n *network) dropDoublePieces() {
	n.edges = make([]edge, len(n.pieces))
	for i := range n.pieces {
		p := &n.pieces[i]
		n.edges[i] = edge{a: p.a, b: p.b, bulge: p.seg.Bulge, src: int32(i), whole: p.length}
	}
	n.ch.Doubles = n.dropDoubles()
	kept := make([]piece, 0, len(n.edges))
	for i := range n.edges {
		kept = append(kept, n.pieces[n.edges[i].src])
	}
	n.pieces = kept
	n.edges = nil
}

func (n *network) keepEdges(drop []bool) {
	kept := n.edges[:0]
	for i := range n.edges {
		if !drop[i] {
			kept = append(kept, n.edges[i])
		}
	}
	n.edges = kept
}

// groups numbers the connected parts of the network: the group of each node.
type groups struct {
	root []int32
}

func (n *network) groups() groups {
	g := groups{make([]int32, len(n.nodes))}
	for i := range g.root {
		g.root[i] = int32(i)
	}
	for i := range n.edges {
		a, b := g.of(n.edges[i].a), g.of(n.edges[i].b)
		g.root[max(a, b)] = min(a, b)
	}
	return g
}

func (g groups) of(v int32) int32 {
	for g.root[v] != v {
		g.root[v] = g.root[g.root[v]]
		v = g.root[v]
	}
	return v
}

// dropCrumbs drops connected parts that are shorter than a crumb as a whole.
func (n *network) dropCrumbs() {
	g := n.groups()
	length := make([]float64, len(n.nodes))
	for i := range n.edges {
		length[g.of(n.edges[i].a)] += n.edges[i].length
	}
	drop := make([]bool, len(n.edges))
	for i := range n.edges {
		if drop[i] = length[g.of(n.edges[i].a)] < CrumbLength; drop[i] {
			if n.ch.Crumbs == 0 {
				n.ch.CrumbsAt = n.nodes[n.edges[i].a]
			}
			n.ch.Crumbs++
		}
	}
	n.keepEdges(drop)
}

// openChain is a connected part of the network that holds no loop.
type openChain struct {
	ends   []OpenEnd
	box    geom.Rect
	length float64
	edges  int
	line   int32
}

// deadEnd is a branch that led nowhere, at a part that holds a loop.
type deadEnd struct {
	tip    r2.Point
	length float64
}

// prune drops edges that lead nowhere, again and again, and returns those connected parts
// of which nothing is left and the branches that hung on the others.
func (n *network) prune() (open []openChain, dead []deadEnd) {
	g := n.groups()
	degree := make([]int32, len(n.nodes))
	incident := n.incidence()
	for i := range n.edges {
		degree[n.edges[i].a]++
		degree[n.edges[i].b]++
	}
	first := slices.Clone(degree)
	drop := make([]bool, len(n.edges))
	reach := make([]float64, len(n.nodes)) // longest way out from a node over dropped edges
	tip := make([]int32, len(n.nodes))
	for v := range tip {
		tip[v] = int32(v)
	}
	ended := make([]bool, len(n.nodes))
	var queue []int32
	for v := range degree {
		if degree[v] == 1 {
			queue = append(queue, int32(v))
		}
	}
	for k := 0; k < len(queue); k++ {
		v := queue[k]
		if degree[v] != 1 {
			continue
		}
		for _, i := range incident.at(v) {
			if drop[i] {
				continue
			}
			e := &n.edges[i]
			w := e.a + e.b - v
			drop[i] = true
			degree[v]--
			degree[w]--
			if l := reach[v] + e.length; l > reach[w] {
				reach[w], tip[w] = l, tip[v]
			}
			ended[w] = true
			if degree[w] == 1 {
				queue = append(queue, w)
			}
		}
	}
	left := make([]bool, len(n.nodes)) // groups of which something is left
	for i := range n.edges {
		if !drop[i] {
			left[g.of(n.edges[i].a)] = true
		}
	}
	at := map[int32]int{}
	for i := range n.edges {
		e := &n.edges[i]
		if !drop[i] {
			continue
		}
		root := g.of(e.a)
		if left[root] {
			n.ch.DeadEnds++
			continue
		}
		k, ok := at[root]
		if !ok {
			k = len(open)
			at[root] = k
			open = append(open, openChain{box: geom.EmptyRect(), line: e.line})
		}
		c := &open[k]
		c.length += e.length
		c.edges++
		c.box = c.box.Union(n.seg(e).Bound())
		for _, v := range [2]int32{e.a, e.b} {
			if first[v] == 1 && len(c.ends) < 64 {
				c.ends = append(c.ends, OpenEnd{At: n.nodes[v], Line: int(e.line)})
			}
		}
	}
	for v := range ended {
		if ended[v] && degree[v] > 1 {
			dead = append(dead, deadEnd{tip: n.nodes[tip[v]], length: reach[v]})
		}
	}
	slices.SortStableFunc(dead, func(x, y deadEnd) int { return cmp.Compare(y.length, x.length) })
	if len(dead) > 0 {
		n.ch.LongestEnd, n.ch.EndAt = dead[0].length, dead[0].tip
	}
	n.keepEdges(drop)
	return open, dead
}

// incidence lists the edges at each node.
type incidence struct{ start, edges []int32 }

func (n *network) incidence() incidence {
	in := incidence{make([]int32, len(n.nodes)+1), make([]int32, 2*len(n.edges))}
	for i := range n.edges {
		in.start[n.edges[i].a+1]++
		in.start[n.edges[i].b+1]++
	}
	for v := range n.nodes {
		in.start[v+1] += in.start[v]
	}
	fill := slices.Clone(in.start)
	for i := range n.edges {
		for _, v := range [2]int32{n.edges[i].a, n.edges[i].b} {
			in.edges[fill[v]] = int32(i)
			fill[v]++
		}
	}
	return in
}

func (in incidence) at(v int32) []int32 { return in.edges[in.start[v]:in.start[v+1]] }
