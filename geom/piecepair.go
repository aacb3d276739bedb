package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// The distance of two pieces in closed form. The nearest points of two curves are either
// an end of one with its foot on the other, or two inner points whose common normal both
// curves share, or a crossing. For lines and arcs the common normals are few: a line and
// an arc share the normal through the centre, two arcs the line of centres.
//
// A crossing counts only where no sign that decides it can be the work of rounding.
// Otherwise an end or a normal gives a distance that differs from 0 by no more than the
// rounding, so no exact predicate is needed.

// shifted returns the piece moved by (x, y).
func (p *piece) shifted(x, y float64) piece {
	q := *p
	q.ax += x
	q.ay += y
	q.bx += x
	q.by += y
	q.cx += x
	q.cy += y
	return q
}

// dist2Pieces returns the squared distance between two pieces.
func dist2Pieces(p, q *piece) float64 {
	if p.r == 0 && q.r == 0 {
		return dist2Lines(p, q)
	}
	d2 := min(p.dist2Point(q.ax, q.ay), p.dist2Point(q.bx, q.by))
	d2 = min(d2, q.dist2Point(p.ax, p.ay), q.dist2Point(p.bx, p.by))
	if d2 == 0 {
		return 0
	}
	var n normal
	switch {
	case p.r == 0:
		n = normalLineArc(p, q)
	case q.r == 0:
		n = normalLineArc(q, p)
	default:
		n = normalArcs(p, q)
	}
	if n.found {
		d2 = min(d2, n.dist*n.dist)
	}
	return d2
}

// dist2Lines is dist2Pieces for two lines.
func dist2Lines(p, q *piece) float64 {
	px, py := p.bx-p.ax, p.by-p.ay
	qx, qy := q.bx-q.ax, q.by-q.ay
	wx, wy := q.ax-p.ax, q.ay-p.ay
	// Both ends of q against p, in the frame of p: s across, t along (times |p|).
	s0 := px*wy - py*wx
	k := px*qy - py*qx
	s1 := s0 + k
	// Both ends of p against q.
	u0 := qy*wx - qx*wy
	u1 := u0 - k
	if (s0 > 0) != (s1 > 0) && (u0 > 0) != (u1 > 0) &&
		min(math.Abs(s0), math.Abs(s1), math.Abs(u0), math.Abs(u1)) > crossNoise(px, py, qx, qy, wx, wy) {
		return 0
	}
	pp, qq := px*px+py*py, qx*qx+qy*qy
	t0 := px*wx + py*wy
	dd := px*qx + py*qy
	t1 := t0 + dd
	v0 := -(qx*wx + qy*wy)
	v1 := v0 + dd
	best := endDist2(t0, s0, pp, wx, wy, px, py)
	best = min(best, endDist2(t1, s1, pp, wx+qx, wy+qy, px, py))
	best = min(best, endDist2(v0, u0, qq, -wx, -wy, qx, qy))
	return min(best, endDist2(v1, u1, qq, px-wx, py-wy, qx, qy))
}

// crossNoise bounds the rounding of the cross products of p and q with each other and with
// w: each is two products of rounded differences and a sum, at most 4·2^-53 of the sum of
// their magnitudes, and one more sum of two of them. Lines on one common line give cross
// products that are all noise, be they ever so far apart.
func crossNoise(px, py, qx, qy, wx, wy float64) float64 {
	p, q, w := math.Abs(px)+math.Abs(py), math.Abs(qx)+math.Abs(qy), math.Abs(wx)+math.Abs(wy)
	return 0x1p-50 * (p*w + q*w + p*q)
}

// endDist2 returns the squared distance from the point at e (from the start of a line with
// direction d) to the line: t and s are e·d and d×e, n is d².
func endDist2(t, s, n, ex, ey, dx, dy float64) float64 {
	if t <= 0 {
		return ex*ex + ey*ey
	}
	if t >= n {
		ex -= dx
		ey -= dy
		return ex*ex + ey*ey
	}
	return s * s / n
}

// A normal is a common normal of two pieces, or a crossing (dist 0).
type normal struct {
	found          bool
	dist           float64
	ax, ay, bx, by float64 // the points on the first and the second piece
}

// normalLineArc looks for the common normal or crossing of line l and arc a.
func normalLineArc(l, a *piece) normal {
	dx, dy := l.bx-l.ax, l.by-l.ay
	len2 := dx*dx + dy*dy
	t := ((a.cx-l.ax)*dx + (a.cy-l.ay)*dy) / len2
	fx, fy := l.ax+t*dx, l.ay+t*dy
	// The offset of the foot from the centre is across the line; computed as such it
	// keeps its direction when the line passes close to the centre.
	s := (dx*(l.ay-a.cy) - dy*(l.ax-a.cx)) / len2
	nx, ny := -dy*s, dx*s
	h := math.Sqrt(nx*nx + ny*ny)
	e := a.fromCircle(fx, fy, h)
	if e >= 0 {
		if t >= 0 && t <= 1 && a.faces(nx, ny) {
			return normal{true, e, fx, fy, fx - e*(nx/h), fy - e*(ny/h)}
		}
		return normal{}
	}
	half := math.Sqrt(-e * (a.r + h) / len2)
	for _, u := range [2]float64{t - half, t + half} {
		if u >= 0 && u <= 1 {
			x, y := l.ax+u*dx, l.ay+u*dy
			if a.faces(x-a.cx, y-a.cy) {
				return normal{true, 0, x, y, x, y}
			}
		}
	}
	return normal{}
}

// normalArcs looks for the common normal or crossing of two arcs. One centre within the
// other arc's circle and the circles apart: the normal runs from the larger circle's
// centre through the smaller's. Concentric arcs have no normal of their own: where they
// run beside each other an end of one has its foot on the other.
func normalArcs(p, q *piece) normal {
	wx, wy := q.cx-p.cx, q.cy-p.cy
	d := math.Sqrt(wx*wx + wy*wy)
	if d == 0 {
		return normal{}
	}
	ux, uy := wx/d, wy/d
	if e := d - p.r - q.r; e >= 0 {
		if p.faces(wx, wy) && q.faces(-wx, -wy) {
			return normal{true, e, p.cx + p.r*ux, p.cy + p.r*uy, q.cx - q.r*ux, q.cy - q.r*uy}
		}
		return normal{}
	}
	if e := math.Abs(p.r-q.r) - d; e >= 0 {
		if q.r > p.r {
			ux, uy = -ux, -uy
		}
		if p.faces(ux, uy) && q.faces(ux, uy) {
			return normal{true, e, p.cx + p.r*ux, p.cy + p.r*uy, q.cx + q.r*ux, q.cy + q.r*uy}
		}
		return normal{}
	}
	// Measured from the centre of the smaller circle: from the larger one the half chord
	// h would be a small difference of large numbers.
	if q.r < p.r {
		n := crossArcs(q, p, -ux, -uy, d)
		n.ax, n.ay, n.bx, n.by = n.bx, n.by, n.ax, n.ay
		return n
	}
	return crossArcs(p, q, ux, uy, d)
}

// crossArcs returns a crossing of arcs whose circles cross; u is the unit direction and d
// the distance from p's centre to q's, and p.r is at most q.r.
func crossArcs(p, q *piece, ux, uy, d float64) normal {
	a := ((d-q.r)*((d+q.r)/d) + p.r*(p.r/d)) / 2
	h := math.Sqrt(max(0, (p.r-a)*(p.r+a)))
	for _, h := range [2]float64{h, -h} {
		x, y := p.cx+a*ux-h*uy, p.cy+a*uy+h*ux
		if p.faces(x-p.cx, y-p.cy) && q.faces(x-q.cx, y-q.cy) {
			return normal{true, 0, x, y, x, y}
		}
	}
	return normal{}
}

// feet returns the nearest points of two pieces and their distance.
func feet(p, q *piece) (a, b r2.Point, d float64) {
	best := math.Inf(1)
	try := func(ax, ay, bx, by, d2 float64) {
		if d2 < best {
			best = d2
			a, b = r2.Point{X: ax, Y: ay}, r2.Point{X: bx, Y: by}
		}
	}
	fx, fy, d2 := p.foot(q.ax, q.ay)
	try(fx, fy, q.ax, q.ay, d2)
	fx, fy, d2 = p.foot(q.bx, q.by)
	try(fx, fy, q.bx, q.by, d2)
	fx, fy, d2 = q.foot(p.ax, p.ay)
	try(p.ax, p.ay, fx, fy, d2)
	fx, fy, d2 = q.foot(p.bx, p.by)
	try(p.bx, p.by, fx, fy, d2)
	var n normal
	switch {
	case p.r == 0 && q.r == 0:
		n = crossLines(p, q)
	case p.r == 0:
		n = normalLineArc(p, q)
	case q.r == 0:
		n = normalLineArc(q, p)
		n.ax, n.ay, n.bx, n.by = n.bx, n.by, n.ax, n.ay
	default:
		n = normalArcs(p, q)
	}
	if n.found {
		try(n.ax, n.ay, n.bx, n.by, n.dist*n.dist)
	}
	return a, b, math.Sqrt(best)
}

// crossLines looks for the crossing of two lines.
func crossLines(p, q *piece) normal {
	px, py := p.bx-p.ax, p.by-p.ay
	qx, qy := q.bx-q.ax, q.by-q.ay
	wx, wy := q.ax-p.ax, q.ay-p.ay
	k := px*qy - py*qx
	s0, u0 := px*wy-py*wx, qy*wx-qx*wy
	s1, u1 := s0+k, u0-k
	if (s0 > 0) == (s1 > 0) || (u0 > 0) == (u1 > 0) ||
		min(math.Abs(s0), math.Abs(s1), math.Abs(u0), math.Abs(u1)) <= crossNoise(px, py, qx, qy, wx, wy) {
		return normal{}
	}
	t := max(0, min(1, u0/k))
	x, y := p.ax+t*px, p.ay+t*py
	return normal{true, 0, x, y, x, y}
}
