package geom

import "math"

// box4 is a box as the tree stores it: low x, low y, high x, high y.
type box4 struct{ lx, ly, hx, hy float64 }

func (b box4) union(c box4) box4 {
	return box4{min(b.lx, c.lx), min(b.ly, c.ly), max(b.hx, c.hx), max(b.hy, c.hy)}
}

// dist2 returns the squared distance between two boxes.
func (b *box4) dist2(c *box4) float64 {
	dx := max(b.lx-c.hx, c.lx-b.hx, 0)
	dy := max(b.ly-c.hy, c.ly-b.hy, 0)
	return dx*dx + dy*dy
}

// dist2Point returns the squared distance from the box to a point.
func (b *box4) dist2Point(x, y float64) float64 {
	dx := max(b.lx-x, x-b.hx, 0)
	dy := max(b.ly-y, y-b.hy, 0)
	return dx*dx + dy*dy
}

// leafSize is the number of pieces under a leaf of the tree: of 1, 2, 4 and 8 the fastest
// over the plates, parts and disks of the peer benchmark, by up to a third.
const leafSize = 2

// A node of the tree over a loop's pieces. The pieces stay in the order of the loop, in
// which neighbours are near each other anyway, so the tree is built by halving without
// sorting: node i holds the pieces first..first+count-1, its left child is i+1 and its
// right child is right; right is 0 in a leaf.
type node struct {
	box          box4
	right        int32
	first, count int32
}

func buildTree(pieces []piece) []node {
	if len(pieces) == 0 {
		return nil
	}
	leaves := (len(pieces) + leafSize - 1) / leafSize
	nodes := make([]node, 0, 2*leaves)
	var build func(first, count int) int32
	build = func(first, count int) int32 {
		i := int32(len(nodes))
		nodes = append(nodes, node{first: int32(first), count: int32(count)})
		if count <= leafSize {
			b := box4{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
			for k := first; k < first+count; k++ {
				b = b.union(pieces[k].box())
			}
			nodes[i].box = b
			return i
		}
		// Split on a multiple of the leaf size so that leaves are full.
		half := (count/2 + leafSize - 1) / leafSize * leafSize
		if half >= count {
			half = count / 2
		}
		l := build(first, half)
		r := build(first+half, count-half)
		nodes[i].right = r
		nodes[i].box = nodes[l].box.union(nodes[r].box)
		return i
	}
	build(0, len(pieces))
	return nodes
}
