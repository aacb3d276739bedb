package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// IsCloserPoint reports whether the point lies in the region or less than limit mm from it.
// It is [DistancePoint] for callers that need neither the distance nor the depth: it stops at
// the first piece that decides. The empty region is never closer, nor is a p that is not
// finite; a limit that is not positive leaves the points inside by more than 1e-9 mm.
func IsCloserPoint(a Region, p r2.Point, limit float64) bool {
	l := a.Outer.d
	if l == nil || !usable(p) {
		return false
	}
	limit = max(limit, 0)
	if l.box.dist2Point(p.X, p.Y) > limit*limit {
		return false
	}
	if l.encloses(p) {
		h := holeAround(a.Holes, p)
		if h == nil {
			if limit > 0 {
				return true
			}
			return a.locate(p) == within
		}
		l = h
	}
	return l.lineNearer(p, p, limit)
}

// IsCloserLine reports whether any point of the straight line from p to q lies in the region
// or less than limit mm from it, as IsCloserPoint does for one point. With a limit that is
// not positive the line counts where it crosses the boundary or an end lies inside; touching
// does not.
func IsCloserLine(a Region, p, q r2.Point, limit float64) bool {
	l := a.Outer.d
	if l == nil || !usable(p) || !usable(q) {
		return false
	}
	if dist(p, q) <= Coincident {
		return IsCloserPoint(a, p, limit)
	}
	limit = max(limit, 0)
	line := box4{min(p.X, q.X), min(p.Y, q.Y), max(p.X, q.X), max(p.Y, q.Y)}
	if l.box.dist2(&line) > limit*limit {
		return false
	}
	if l.encloses(p) {
		h := holeAround(a.Holes, p)
		if h == nil {
			return true
		}
		return h.lineNearer(p, q, limit) // whoever leaves the hole crosses its rim
	}
	// Whoever comes in crosses the outer loop.
	return l.lineNearer(p, q, limit)
}

// lineNearer reports whether a piece of the loop is less than limit from the line from p to
// q; for a limit of 0, whether one crosses it.
func (d *loopData) lineNearer(p, q r2.Point, limit float64) bool {
	d.ready()
	var stack [stackSize]int32
	line := piece{ax: p.X, ay: p.Y, bx: q.X, by: q.Y}
	limit2 := limit * limit
	point := p == q
	hx, hy := (q.X-p.X)/2, (q.Y-p.Y)/2
	mx, my := p.X+hx, p.Y+hy
	ax, ay := math.Abs(hx), math.Abs(hy)
	across := limit * math.Sqrt(hx*hx+hy*hy) * (1 + 1e-12)
	top := 1
	for top > 0 {
		top--
		i := stack[top]
		n := &d.nodes[i]
		ex, ey := (n.box.hx-n.box.lx)/2, (n.box.hy-n.box.ly)/2
		wx, wy := n.box.lx+ex-mx, n.box.ly+ey-my
		// Separating axes: x, y and the normal of the line.
		play := 1e-12 * (math.Abs(mx) + math.Abs(my) + ex + ey)
		if math.Abs(wx) > ax+ex+limit+play || math.Abs(wy) > ay+ey+limit+play ||
			math.Abs(hx*wy-hy*wx) > (ex*ay+ey*ax)*(1+1e-12)+across+play*(ax+ay) {
			continue
		}
		if n.right != 0 {
			stack[top], stack[top+1] = n.right, i+1
			top += 2
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			c := &d.pieces[k]
			switch {
			case point:
				if c.dist2Point(p.X, p.Y) < limit2 {
					return true
				}
			case limit == 0:
				if c.cuts(p, q) {
					return true
				}
			default:
				if dist2Pieces(c, &line) < limit2 {
					return true
				}
			}
		}
	}
	return false
}
