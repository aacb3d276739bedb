package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// sight tells whether a line of sight meets any of many pieces: a tree of boxes over them,
// halved along the longer side. The tree of a loop keeps the order of the loop; this one is
// over many loops and sorts.
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

// A middle stands for a piece while the tree is built: twice the middle of its box.
type middle struct {
	x, y  float64
	piece int32
}

// build makes the tree over a copy of the pieces.
func (s *sight) build(pieces []piece) {
	s.pieces, s.nodes = nil, nil
	if len(pieces) == 0 {
		return
	}
	ms := make([]middle, len(pieces))
	for i := range pieces {
		p := &pieces[i]
		ms[i] = middle{p.ax + p.bx, p.ay + p.by, int32(i)}
	}
	s.pieces = make([]piece, 0, len(pieces))
	s.nodes = make([]sightNode, 0, len(pieces))
	s.split(ms, pieces)
}

func (s *sight) split(ms []middle, from []piece) box4 {
	at := len(s.nodes)
	s.nodes = append(s.nodes, sightNode{first: int32(len(s.pieces)), count: int32(len(ms))})
	b := box4{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	if len(ms) <= leafSize {
		for i := range ms {
			s.pieces = append(s.pieces, from[ms[i].piece])
			b = b.union(from[ms[i].piece].box())
		}
	} else {
		for i := range ms {
			b.add(r2.Point{X: ms[i].x, Y: ms[i].y})
		}
		half := (len(ms)/2 + leafSize - 1) / leafSize * leafSize
		if half >= len(ms) {
			half = len(ms) / 2
		}
		parted(ms, half, b.hx-b.lx < b.hy-b.ly)
		b = s.split(ms[:half], from)
		s.nodes[at].right = int32(len(s.nodes))
		b = b.union(s.split(ms[half:], from))
	}
	n := &s.nodes[at]
	n.mx, n.my, n.ex, n.ey = (b.lx+b.hx)/2, (b.ly+b.hy)/2, (b.hx-b.lx)/2, (b.hy-b.ly)/2
	// Rounding of the middle must not leave anything out.
	n.ex += 0x1p-51 * (math.Abs(b.lx) + math.Abs(b.hx))
	n.ey += 0x1p-51 * (math.Abs(b.ly) + math.Abs(b.hy))
	return b
}

// parted puts the k least by x, or by y, to the front (Hoare 1961, Find). Equal ones go by
// number, so that the result does not depend on the order they come in.
func parted(ms []middle, k int, byY bool) {
	less := func(a, b *middle) bool {
		v, w := a.x, b.x
		if byY {
			v, w = a.y, b.y
		}
		return v < w || v == w && a.piece < b.piece
	}
	lo, hi := 0, len(ms)-1
	for lo < hi {
		m := (lo + hi) / 2
		// Median of three as pivot.
		if less(&ms[m], &ms[lo]) {
			ms[m], ms[lo] = ms[lo], ms[m]
		}
		if less(&ms[hi], &ms[lo]) {
			ms[hi], ms[lo] = ms[lo], ms[hi]
		}
		if less(&ms[hi], &ms[m]) {
			ms[hi], ms[m] = ms[m], ms[hi]
		}
		pivot := ms[m]
		i, j := lo, hi
		for i <= j {
			for less(&ms[i], &pivot) {
				i++
			}
			for less(&pivot, &ms[j]) {
				j--
			}
			if i <= j {
				ms[i], ms[j] = ms[j], ms[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
}

// blocked reports whether the line from p to q meets a piece; lines shorter than half the
// slack never do. It does not allocate.
func (s *sight) blocked(p, q r2.Point) bool { return s.blocker(p, q) >= 0 }

// blockedAgain is blocked for lines that often meet the same piece as the last one did,
// which is tried first.
func (s *sight) blockedAgain(p, q r2.Point, last *int32) bool {
	if k := *last; k >= 0 && s.pieces[k].cuts(p, q) {
		return true
	}
	k := s.blocker(p, q)
	if k >= 0 {
		*last = k
	}
	return k >= 0
}

// blocker returns a piece that the line from p to q meets, or -1.
func (s *sight) blocker(p, q r2.Point) int32 {
	if len(s.nodes) == 0 {
		return -1
	}
	hx, hy := (q.X-p.X)/2, (q.Y-p.Y)/2
	if 4*(hx*hx+hy*hy) < pathSlack*pathSlack/4 {
		return -1 // both ends are the slack away, and crossings would be all rounding
	}
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
						return k
					}
				}
				break
			}
			stack[top] = n.right
			top++
			i++
		}
	}
	return -1
}

// cuts reports whether the line from p to q meets the piece, up to rounding. Whether an end
// of a piece lies left or right of the line is decided the same for all pieces that meet
// there, so that no line slips through between two of them.
func (c *piece) cuts(p, q r2.Point) bool {
	dx, dy := q.X-p.X, q.Y-p.Y
	ux, uy := c.ax-p.X, c.ay-p.Y
	vx, vy := c.bx-p.X, c.by-p.Y
	s, t := dx*uy-dy*ux, dx*vy-dy*vx
	apart := (s > 0) == (t > 0) && s != 0 && t != 0
	if c.r == 0 {
		if apart {
			return false
		}
		gx, gy := c.bx-c.ax, c.by-c.ay
		m := gy*ux - gx*uy // of p
		n := m + (gx*dy - gy*dx)
		return (m >= 0) != (n >= 0) || m == 0 && n != 0
	}
	len2 := dx*dx + dy*dy
	if len2 == 0 {
		return false
	}
	// Both crossings with the circle, as in normalLineArc.
	wx, wy := c.cx-p.X, c.cy-p.Y
	k := (wx*dx + wy*dy) / len2
	x := (dy*wx - dx*wy) / len2
	hx, hy := -dy*x, dx*x // from the centre to the foot on the line
	h := math.Sqrt(hx*hx + hy*hy)
	e := c.fromCircle(c.cx+hx, c.cy+hy, h)
	if e >= 0 {
		if apart {
			return false
		}
		e = 0 // rounding: the line passes an end
	}
	half := math.Sqrt(-e * (c.r + h) / len2)
	gx, gy := hx-half*dx, hy-half*dy
	ix, iy := hx+half*dx, hy+half*dy
	first, second := k-half >= 0 && k-half <= 1, k+half >= 0 && k+half <= 1
	if apart {
		return first && c.faces(gx, gy) || second && c.faces(ix, iy)
	}
	// It crosses once, at the crossing that is farther within the arc.
	if c.depth(gx, gy) >= c.depth(ix, iy) {
		return first
	}
	return second
}

// depth tells how far the direction u from the centre lies within the arc: the lesser of
// its cross products with the ends, negative outside.
func (p *piece) depth(ux, uy float64) float64 {
	a := (p.ax-p.cx)*uy - (p.ay-p.cy)*ux
	b := ux*(p.by-p.cy) - uy*(p.bx-p.cx)
	if !p.ccw {
		a, b = -a, -b
	}
	return min(a, b)
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

// nearest returns the piece nearest to p among those nearer than the root of limit2, with
// the squared distance, or nil.
func (s *sight) nearest(p r2.Point, limit2 float64) (float64, *piece) {
	if len(s.nodes) == 0 {
		return limit2, nil
	}
	var best *piece
	var stack [stackSize]int32
	top := 1
	for top > 0 {
		top--
		i := stack[top]
		n := &s.nodes[i]
		dx, dy := max(0, math.Abs(n.mx-p.X)-n.ex), max(0, math.Abs(n.my-p.Y)-n.ey)
		if !(dx*dx+dy*dy < limit2) {
			continue
		}
		if n.right != 0 {
			stack[top], stack[top+1] = n.right, i+1
			top += 2
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			if d2 := s.pieces[k].dist2Point(p.X, p.Y); d2 < limit2 {
				best, limit2 = &s.pieces[k], d2
			}
		}
	}
	return limit2, best
}
