package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// Nearest returns the point of the segment nearest to p, its share t of the length
// (0 at A, 1 at B) and its distance from p in mm, each within 1e-9 mm for coordinates up to
// 10 m. Of several nearest points the first along the segment is taken, but from the
// centre of an arc, from which all are, A. A p that is not finite or beyond 1e150 gives A,
// 0 and +Inf.
func (s Seg) Nearest(p r2.Point) (q r2.Point, t, dist float64) {
	q, best := s.A, math.Inf(1)
	var store [8]piece
	for _, k := range appendPieces(store[:0], s, 0, maxFollow) {
		var x, y, d2 float64
		if k.a() == k.b() { // the segment is a point
			x, y = k.ax, k.ay
			d2 = (x-p.X)*(x-p.X) + (y-p.Y)*(y-p.Y)
		} else {
			x, y, d2 = k.foot(p.X, p.Y)
		}
		if d2 < best {
			q, best = r2.Point{X: x, Y: y}, d2
		}
	}
	return q, s.share(q), math.Sqrt(best)
}

// share returns the share of the length at which the segment passes q, a point of it. The
// chord from A to q makes half the angle with the tangent at A that the arc turns through
// up to q (Euclid III.32), which needs no centre. Where it is small and would drown in
// rounding, it is taken from the chord's length, which is 2·r times its sine.
func (s Seg) share(q r2.Point) float64 {
	switch {
	case q == s.A:
		return 0
	case q == s.B:
		return 1
	}
	d := q.Sub(s.A)
	if !s.IsArc() {
		v := s.B.Sub(s.A)
		return max(0, min(1, d.Dot(v)/v.Dot(v)))
	}
	u, half := s.Tangent(0), 2*math.Atan(s.Bulge)
	along := u.Dot(d)
	if sin := d.Norm() / s.chord() * math.Sin(math.Abs(half)); sin <= 0.5 && (along > 0 || d.Norm() <= Coincident) {
		return min(1, math.Asin(sin)/math.Abs(half))
	}
	return max(0, min(1, math.Atan2(u.Cross(d), along)/half))
}

// Meet appends to dst the points that s and o share and returns it: where they cross, where
// they touch within tol mm (at least 1e-9), and the ends of one that lie within tol of the
// other. Where they run along each other these are the ends of the common stretch. Points
// within tol of one found before are left out, so that at most six remain; crossings lie
// on both within 1e-9 mm for coordinates up to 10 m. The order depends on the operands alone.
func (s Seg) Meet(o Seg, tol float64, dst []r2.Point) []r2.Point {
	tol = max(tol, Coincident)
	var ps, qs [8]piece
	var at [maxMeet]r2.Point
	first := len(dst)
	qq := appendPieces(qs[:0], o, 0, maxFollow)
	for _, p := range appendPieces(ps[:0], s, 0, maxFollow) {
		pb := p.box()
		for j := range qq {
			qb := qq[j].box()
			if pb.dist2(&qb) > tol*tol || p.a() == p.b() || qq[j].a() == qq[j].b() {
				continue
			}
			for _, x := range at[:meetPieces(&p, &qq[j], tol, &at)] {
				// The joints of an arc's monotone parts are no ends of it.
				if (x == p.a() || x == p.b()) && x != s.A && x != s.B && !o.passes(x) ||
					(x == qq[j].a() || x == qq[j].b()) && x != o.A && x != o.B && !s.passes(x) {
					continue
				}
				known := false
				for _, y := range dst[first:] {
					known = known || dist(x, y) <= tol
				}
				if !known {
					dst = append(dst, x)
				}
			}
		}
	}
	return dst
}

// passes reports whether the segment passes within 1e-9 mm of p.
func (s Seg) passes(p r2.Point) bool {
	_, _, d := s.Nearest(p)
	return d <= Coincident
}

// Support returns a point of the loop that lies farthest along dir, which need not be a
// unit vector; the origin for the empty loop.
func (l Loop) Support(dir r2.Point) r2.Point {
	x, y := farthestInPlan([]Region{{Outer: l}}, dir.X, dir.Y)
	return r2.Point{X: x, Y: y}
}

// Facing returns the stretch of the line square to dir in which the loop reaches farthest
// along dir: its two ends, the left one as seen along dir last. They are one point where a
// corner or an arc leads. Vertices, and foremost points of arcs, that lie up to slack mm
// behind count as on the line. The empty loop gives the origin.
func (l Loop) Facing(dir r2.Point, slack float64) (a, b r2.Point) {
	n := math.Hypot(dir.X, dir.Y)
	if l.d == nil || !(n > 0) || math.IsInf(n, 0) {
		return
	}
	u := r2.Point{X: dir.X / n, Y: dir.Y / n}
	v := r2.Point{X: -u.Y, Y: u.X}
	most := l.Support(u).Dot(u)
	lo, hi := math.Inf(1), math.Inf(-1)
	add := func(p r2.Point) {
		if p.Dot(u) < most-slack {
			return
		}
		if w := p.Dot(v); w < lo {
			lo, a = w, p
		}
		if w := p.Dot(v); w > hi {
			hi, b = w, p
		}
	}
	pieces := l.d.ready().pieces
	for i := range pieces {
		p := &pieces[i]
		add(p.a())
		add(p.b())
		if p.r > 0 && p.faces(u.X, u.Y) {
			add(r2.Point{X: p.cx + p.r*u.X, Y: p.cy + p.r*u.Y})
		}
	}
	return a, b
}
