package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// stackSize bounds the depth of a walk through a tree: trees are halved, so 2^31 pieces
// give a depth of 32, and a walk holds at most one node a level and its sibling.
const stackSize = 64

// foot returns the point of the piece nearest to (x, y) and the squared distance.
func (p *piece) foot(x, y float64) (fx, fy, d2 float64) {
	if p.r == 0 {
		dx, dy := p.bx-p.ax, p.by-p.ay
		t := ((x-p.ax)*dx + (y-p.ay)*dy) / (dx*dx + dy*dy)
		switch {
		case !(t > 0):
			fx, fy = p.ax, p.ay
		case t >= 1:
			fx, fy = p.bx, p.by
		default:
			fx, fy = p.ax+t*dx, p.ay+t*dy
		}
		ex, ey := fx-x, fy-y
		return fx, fy, ex*ex + ey*ey
	}
	ux, uy := x-p.cx, y-p.cy
	if p.faces(ux, uy) {
		n := math.Sqrt(ux*ux + uy*uy)
		if n == 0 { // every point of the arc is nearest
			return p.ax, p.ay, p.r * p.r
		}
		e := p.fromCircle(x, y, n)
		return x - e*(ux/n), y - e*(uy/n), e * e
	}
	ex, ey := p.ax-x, p.ay-y
	gx, gy := p.bx-x, p.by-y
	da, db := ex*ex+ey*ey, gx*gx+gy*gy
	if da <= db {
		return p.ax, p.ay, da
	}
	return p.bx, p.by, db
}

// dist2Point returns the squared distance from the piece to (x, y), as foot does.
func (p *piece) dist2Point(x, y float64) float64 {
	if p.r == 0 {
		dx, dy := p.bx-p.ax, p.by-p.ay
		ex, ey := x-p.ax, y-p.ay
		t := ex*dx + ey*dy
		if t > 0 {
			if n := dx*dx + dy*dy; t < n {
				t /= n
				ex -= t * dx
				ey -= t * dy
			} else {
				ex, ey = x-p.bx, y-p.by
			}
		}
		return ex*ex + ey*ey
	}
	_, _, d2 := p.foot(x, y)
	return d2
}

// faces reports whether the direction u from the centre meets the arc. With at most a
// quarter turn between them, u lies between the directions of a and b exactly if it is on
// the inner side of both. The zero direction counts as within.
func (p *piece) faces(ux, uy float64) bool {
	sa := (p.ax-p.cx)*uy - (p.ay-p.cy)*ux
	sb := ux*(p.by-p.cy) - uy*(p.bx-p.cx)
	if p.ccw {
		return sa >= 0 && sb >= 0
	}
	return sa <= 0 && sb <= 0
}

// fromCircle returns the signed distance of (x, y) from the arc's circle, negative inside;
// n is the distance from the centre.
//
// For large radii n - r would cancel. There the power of the point is used, which for the
// circle through a and b with bulge β is |pa·pb + λ·(b-a)×(p-a)| with λ = (β²-1)/(2β):
// it vanishes at a and b, and at the apex of the arc by the choice of λ. The distance is
// the power divided by n + r.
func (p *piece) fromCircle(x, y, n float64) float64 {
	if p.r < shallowRadius {
		return n - p.r
	}
	ex, ey := x-p.ax, y-p.ay
	w := ex*(x-p.bx) + ey*(y-p.by) + p.lam*((p.bx-p.ax)*ey-(p.by-p.ay)*ex)
	return w / (n + p.r)
}

// rightOf reports whether the level ray from (x, y) to +x crosses the piece. Levels are
// half open: a piece owns its lower end and not its upper one, so that a ray through a
// corner counts once, or twice or never at a peak, and a level piece never counts.
func (p *piece) rightOf(x, y float64) bool {
	if (p.ay > y) == (p.by > y) {
		return false
	}
	if x < min(p.ax, p.bx) {
		return true
	}
	if x >= max(p.ax, p.bx) {
		return false
	}
	if p.r == 0 {
		s := Orient(p.a(), p.b(), r2.Point{X: x, Y: y})
		return s != 0 && (s > 0) == (p.by > p.ay)
	}
	ux, uy := x-p.cx, y-p.cy
	inside := p.fromCircle(x, y, math.Sqrt(ux*ux+uy*uy)) < 0
	return inside == p.right
}

// crossings reports whether the level ray from (x, y) to +x crosses the boundary an odd
// number of times.
//
// A subtree is a path. If its box lies to the right of the point, the path crosses the ray
// an odd number of times exactly if its ends lie on different sides of the level, so only
// the nodes whose box holds the point are opened: about log n of them.
func (d *loopData) crossings(x, y float64) bool {
	d.ready()
	var stack [stackSize]int32
	odd := false
	top := 1
	for top > 0 {
		top--
		i := stack[top]
		n := &d.nodes[i]
		if y < n.box.ly || y > n.box.hy || x > n.box.hx {
			continue
		}
		if x < n.box.lx {
			if (d.pieces[n.first].ay > y) != (d.pieces[n.first+n.count-1].by > y) {
				odd = !odd
			}
			continue
		}
		if n.right != 0 {
			stack[top] = i + 1
			stack[top+1] = n.right
			top += 2
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			if d.pieces[k].rightOf(x, y) {
				odd = !odd
			}
		}
	}
	return odd
}

// nearest returns the index of the piece nearest to (x, y) among those nearer than the
// root of limit2, with the squared distance, or -1 and limit2.
func (d *loopData) nearest(x, y, limit2 float64) (int32, float64) {
	var stack [stackSize]struct {
		i  int32
		d2 float64
	}
	d.ready()
	best := int32(-1)
	stack[0].d2 = d.box.dist2Point(x, y)
	top := 1
	for top > 0 {
		top--
		if !(stack[top].d2 < limit2) {
			continue
		}
		i := stack[top].i
		n := &d.nodes[i]
		if n.right == 0 {
			for k := n.first; k < n.first+n.count; k++ {
				if d2 := d.pieces[k].dist2Point(x, y); d2 < limit2 {
					best, limit2 = k, d2
				}
			}
			continue
		}
		l, r := i+1, n.right
		dl, dr := d.nodes[l].box.dist2Point(x, y), d.nodes[r].box.dist2Point(x, y)
		if dl < dr {
			l, r, dl, dr = r, l, dr, dl
		}
		stack[top].i, stack[top].d2 = l, dl
		stack[top+1].i, stack[top+1].d2 = r, dr
		top += 2
	}
	return best, limit2
}

// strictlyInside reports whether p lies inside by more than 1e-9 mm.
func (d *loopData) strictlyInside(p r2.Point) bool {
	if !d.crossings(p.X, p.Y) {
		return false
	}
	k, _ := d.nearest(p.X, p.Y, Coincident*Coincident)
	return k < 0
}

// Contains reports whether p lies in the filled loop or within 1e-9 mm of its boundary,
// whatever the orientation. Where a loop crosses itself, points count as inside that the
// boundary goes round an odd number of times. No point that is not finite lies inside.
//
// The side of p is decided by the crossings of a level ray; on lines by [Orient], which is
// exact.
func (l Loop) Contains(p r2.Point) bool {
	if l.d == nil {
		return false
	}
	b := &l.d.box
	if !(b.dist2Point(p.X, p.Y) <= Coincident*Coincident) {
		return false
	}
	if l.d.crossings(p.X, p.Y) {
		return true
	}
	k, _ := l.d.nearest(p.X, p.Y, Coincident*Coincident)
	return k >= 0
}

// Nearest returns the point of the boundary nearest to p and its distance in mm. The empty
// loop, or a p that is not finite or beyond 1e150, gives the origin and +Inf.
func (l Loop) Nearest(p r2.Point) (r2.Point, float64) {
	if l.d == nil {
		return r2.Point{}, math.Inf(1)
	}
	k, d2 := l.d.nearest(p.X, p.Y, math.Inf(1))
	if k < 0 {
		return r2.Point{}, math.Inf(1)
	}
	x, y, _ := l.d.pieces[k].foot(p.X, p.Y)
	return r2.Point{X: x, Y: y}, math.Sqrt(d2)
}
