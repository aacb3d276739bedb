package geom

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// sight tells whether a line of sight meets any of many pieces: a tree of boxes over them,
// halved at the middle along their longer side.
type sight struct {
	pieces []piece
	nodes  []sightNode
}

// A sightNode holds its box as middle and half sides. Its left child follows it; right is
// 0 in a leaf.
type sightNode struct {
	mx, my, ex, ey float64
	right          int32
	first, count   int32
}

// build sorts the pieces in place.
func (s *sight) build(pieces []piece) {
	s.pieces = pieces
	s.nodes = nil
	if len(pieces) > 0 {
		s.nodes = make([]sightNode, 0, len(pieces))
		s.split(0, len(pieces))
	}
}

func (s *sight) split(first, last int) {
	b := box4{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := first; i < last; i++ {
		b = b.union(s.pieces[i].box())
	}
	at := len(s.nodes)
	s.nodes = append(s.nodes, sightNode{
		mx: (b.lx + b.hx) / 2, my: (b.ly + b.hy) / 2, ex: (b.hx - b.lx) / 2, ey: (b.hy - b.ly) / 2,
		first: int32(first), count: int32(last - first),
	})
	if last-first <= leafSize {
		return
	}
	key := func(p *piece) float64 { return p.ax + p.bx }
	if b.hy-b.ly > b.hx-b.lx {
		key = func(p *piece) float64 { return p.ay + p.by }
	}
	slices.SortStableFunc(s.pieces[first:last], func(p, q piece) int {
		a, b := key(&p), key(&q)
		switch {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return 0
	})
	mid := first + ((last-first)/2+leafSize-1)/leafSize*leafSize
	if mid >= last {
		mid = (first + last) / 2
	}
	s.split(first, mid)
	s.nodes[at].right = int32(len(s.nodes))
	s.split(mid, last)
}

// blocked reports whether the line from p to q meets a piece. It does not allocate.
func (s *sight) blocked(p, q r2.Point) bool {
	if len(s.nodes) == 0 {
		return false
	}
	hx, hy := (q.X-p.X)/2, (q.Y-p.Y)/2
	mx, my := p.X+hx, p.Y+hy
	ax, ay := math.Abs(hx), math.Abs(hy)
	var stack [stackSize]int32
	top := 1
	for top > 0 {
		top--
		i := stack[top]
		for {
			n := &s.nodes[i]
			wx, wy := n.mx-mx, n.my-my
			// Separating axes: x, y and the normal of the line.
			if math.Abs(wx) > ax+n.ex || math.Abs(wy) > ay+n.ey ||
				math.Abs(hx*wy-hy*wx) > (n.ex*ay+n.ey*ax)*(1+1e-12) {
				break
			}
			if n.right == 0 {
				for k := n.first; k < n.first+n.count; k++ {
					if s.pieces[k].cuts(p, q) {
						return true
					}
				}
				break
			}
			stack[top] = n.right
			top++
			i++
		}
	}
	return false
}

// cuts reports whether the line from p to q meets the piece, up to rounding.
func (c *piece) cuts(p, q r2.Point) bool {
	if c.r == 0 {
		dx, dy := q.X-p.X, q.Y-p.Y
		ux, uy := c.ax-p.X, c.ay-p.Y
		vx, vy := c.bx-p.X, c.by-p.Y
		s, t := dx*uy-dy*ux, dx*vy-dy*vx
		if (s > 0) == (t > 0) && s != 0 && t != 0 {
			return false
		}
		gx, gy := c.bx-c.ax, c.by-c.ay
		m := gy*ux - gx*uy // of p
		n := m + (gx*dy - gy*dx)
		return (m >= 0) != (n >= 0) || m == 0 && n != 0
	}
	l := piece{ax: p.X, ay: p.Y, bx: q.X, by: q.Y}
	if p == q {
		return false
	}
	m := normalLineArc(&l, c)
	return m.found && m.dist == 0
}

// eachNear calls yield with the index of every piece whose box, grown by d, meets box.
func (s *sight) eachNear(box box4, d float64, yield func(k int32)) {
	if len(s.nodes) == 0 {
		return
	}
	mx, my, ex, ey := (box.lx+box.hx)/2, (box.ly+box.hy)/2, (box.hx-box.lx)/2+d, (box.hy-box.ly)/2+d
	var stack [stackSize]int32
	top := 1
	for top > 0 {
		top--
		i := stack[top]
		n := &s.nodes[i]
		if math.Abs(n.mx-mx) > ex+n.ex || math.Abs(n.my-my) > ey+n.ey {
			continue
		}
		if n.right != 0 {
			stack[top], stack[top+1] = n.right, i+1
			top += 2
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			if b := s.pieces[k].box(); b.lx-d <= box.hx && box.lx <= b.hx+d && b.ly-d <= box.hy && box.ly <= b.hy+d {
				yield(k)
			}
		}
	}
}
