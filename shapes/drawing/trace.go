package drawing

import (
	"cmp"
	"math"
	"slices"

	"dryfit/geom"
)

// A step is an edge run through in one sense.
type step struct {
	edge int32
	back bool
}

func (n *network) from(s step) int32 {
	if s.back {
		return n.edges[s.edge].b
	}
	return n.edges[s.edge].a
}

func (n *network) along(s step) geom.Seg {
	g := n.seg(&n.edges[s.edge])
	if s.back {
		return g.Reverse()
	}
	return g
}

// blocks returns the blocks of the network, the parts that hang together without any one
// node: loops that touch in a node are two blocks. Bridges, blocks of one edge, are left
// out and counted. The order is that of the first edges.
func (n *network) blocks() [][]int32 {
	in := n.incidence()
	found := make([]int32, len(n.nodes)) // when a node was found, from 1
	low := make([]int32, len(n.nodes))   // the earliest node reached from below it
	next := slices.Clone(in.start[:len(n.nodes)])
	used := make([]bool, len(n.edges))
	type frame struct{ v, by int32 }
	var stack []frame
	var pending []int32
	var out [][]int32
	clock := int32(0)
	for root := range n.nodes {
		if found[root] != 0 || in.start[root] == in.start[root+1] {
			continue
		}
		clock++
		found[root], low[root] = clock, clock
		stack = append(stack[:0], frame{int32(root), -1})
		for len(stack) > 0 {
			f := stack[len(stack)-1]
			if next[f.v] < in.start[f.v+1] {
				i := in.edges[next[f.v]]
				next[f.v]++
				if used[i] {
					continue
				}
				used[i] = true
				pending = append(pending, i)
				w := n.edges[i].a + n.edges[i].b - f.v
				if found[w] != 0 {
					low[f.v] = min(low[f.v], found[w])
					continue
				}
				clock++
				found[w], low[w] = clock, clock
				stack = append(stack, frame{w, i})
				continue
			}
			stack = stack[:len(stack)-1]
			if f.by < 0 {
				continue
			}
			u := stack[len(stack)-1].v
			low[u] = min(low[u], low[f.v])
			if low[f.v] < found[u] {
				continue
			}
			k := len(pending) - 1
			for pending[k] != f.by {
				k--
			}
			block := slices.Clone(pending[k:])
			pending = pending[:k]
			if len(block) == 1 {
				n.ch.Bridges++
				continue
			}
			slices.Sort(block)
			out = append(out, block)
		}
	}
	slices.SortFunc(out, func(x, y []int32) int { return cmp.Compare(x[0], y[0]) })
	return out
}

// outline is the outer boundary of a block, counter-clockwise.
type outline struct {
	loop   geom.Loop
	inner  int     // edges inside
	across float64 // their length
	faces  int     // of the block, the outside not counted
}

// outlineOf returns the outer boundary of a block; ok is false where it has no width or is
// no loop that geom takes.
func (n *network) outlineOf(block []int32) (o outline, ok bool) {
	ring := n.ring(block)
	steps, faces := ring.outer(n)
	o.faces = faces
	on := make(map[int32]bool, len(steps))
	if len(steps) < len(block) {
		for _, s := range steps {
			on[s.edge] = true
		}
		for _, i := range block {
			if !on[i] {
				o.inner++
				o.across += n.edges[i].length
			}
		}
	}
	loop, err := geom.NewLoop(n.vertices(steps))
	if err != nil || !(math.Abs(loop.Area()) > CircleTolerance/2*loop.Perimeter()/2) {
		return o, false
	}
	o.loop = loop.CCW()
	return o, true
}

// rings are the steps that leave each node of a block, counter-clockwise.
type rings struct {
	steps []step
	twin  []int32 // position of the same edge run the other way
	next  []int32 // position of the next step clockwise at the same node
}

func (n *network) ring(block []int32) rings {
	type leaving struct {
		s     step
		node  int32
		angle float64
	}
	out := make([]leaving, 0, 2*len(block))
	degree := make(map[int32]int, len(block))
	least := make(map[int32]float64, len(block))
	for _, i := range block {
		e := &n.edges[i]
		for _, v := range [2]int32{e.a, e.b} {
			degree[v]++
			if l, ok := least[v]; !ok || e.length < l {
				least[v] = e.length
			}
		}
		out = append(out, leaving{step{i, false}, e.a, 0}, leaving{step{i, true}, e.b, 0})
	}
	// Edges do not cross, so their order round a node is the same at any distance within the
	// shortest of them. Half way along that, tangent ones have come apart.
	for k := range out {
		l := &out[k]
		if degree[l.node] > 2 {
			g := n.along(l.s)
			d := g.At(min(0.5, least[l.node]/2/n.edges[l.s.edge].length)).Sub(g.A)
			l.angle = geom.Heading(d).Radians()
		}
	}
	slices.SortFunc(out, func(x, y leaving) int {
		return cmp.Or(cmp.Compare(x.node, y.node), cmp.Compare(x.angle, y.angle), cmp.Compare(x.s.edge, y.s.edge))
	})
	r := rings{make([]step, len(out)), make([]int32, len(out)), make([]int32, len(out))}
	at := make(map[step]int32, len(out))
	for k := range out {
		r.steps[k] = out[k].s
		at[out[k].s] = int32(k)
	}
	for k := range out {
		r.twin[k] = at[step{out[k].s.edge, !out[k].s.back}]
	}
	for k := 0; k < len(out); {
		j := k
		for j < len(out) && out[j].node == out[k].node {
			j++
		}
		for i := k; i < j; i++ {
			r.next[i] = int32(i - 1)
		}
		r.next[k] = int32(j - 1)
		k = j
	}
	return r
}

// outer traces all faces, each with its inside on the left, and returns the one with the
// least (most negative) area, the outside, and the number of the others.
func (r rings) outer(n *network) ([]step, int) {
	seen := make([]bool, len(r.steps))
	var best []step
	least, faces := math.Inf(1), 0
	for k := range r.steps {
		if seen[k] {
			continue
		}
		var face []step
		area := 0.0
		o := n.nodes[n.from(r.steps[k])]
		for i := int32(k); !seen[i]; i = r.next[r.twin[i]] {
			seen[i] = true
			face = append(face, r.steps[i])
			area += n.along(r.steps[i]).AreaFrom(o)
		}
		faces++
		if area < least {
			best, least = face, area
		}
	}
	return best, faces - 1
}

// vertices makes corners of a closed chain. Neighbours that are parts of one segment as
// drawn become one again, so that a cut which led to nothing leaves no trace.
func (n *network) vertices(steps []step) []geom.Vertex {
	count := len(steps)
	joined := func(x, y step) bool { // x and the following y
		e, f := &n.edges[x.edge], &n.edges[y.edge]
		if e.src != f.src || x.back != y.back {
			return false
		}
		if x.back {
			e, f = f, e
		}
		return math.Abs(e.s1-f.s0) < 1e-9
	}
	first := 0
	for i := range steps {
		if !joined(steps[(i+count-1)%count], steps[i]) {
			first = i
			break
		}
	}
	var out []geom.Vertex
	for i := 0; i < count; {
		s := steps[(first+i)%count]
		last := s
		j := i + 1
		for j < count && joined(last, steps[(first+j)%count]) {
			last = steps[(first+j)%count]
			j++
		}
		v := geom.Vertex{P: n.nodes[n.from(s)], Bulge: n.edges[s.edge].bulge}
		if j > i+1 {
			lo, hi := n.edges[s.edge].s0, n.edges[last.edge].s1
			if s.back {
				lo, hi = n.edges[last.edge].s0, n.edges[s.edge].s1
			}
			v.Bulge = n.segs[n.edges[s.edge].src].Bulge
			if hi-lo < 1-1e-12 {
				v.Bulge = geom.PartBulge(v.Bulge, hi-lo)
			}
		}
		if s.back {
			v.Bulge = -v.Bulge
		}
		out = append(out, v)
		i = j
	}
	return out
}
