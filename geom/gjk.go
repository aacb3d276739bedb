package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// difference is the set of all a - b for a in the core of one body and b in that of
// another, seen in the frame of the first so that quarter turns stay exact and far-out
// coordinates cancel once, at the start.
type difference struct {
	a, b *convex
	rel  [3]r3.Vector // columns: axes of b in the frame of a
	off  r3.Vector    // origin of b in the frame of a
	size float64      // bounds |x| over the difference; errors scale with it

	lastA, lastB int // the points of hulls that were the farthest in the query before
}

// differenceOf is a function that returns a value, and not a method that fills one in, so
// that its operands may stay on the stack.
func differenceOf(a, b *convex) (m difference) {
	m.a, m.b = a, b
	for i := range m.rel {
		m.rel[i] = mulRows(a.rot, b.rot[i])
	}
	m.off = mulRows(a.rot, b.at.Sub(a.at))
	m.size = a.reach + b.reach + m.off.Norm()
	return m
}

// support returns the point w = p - q of the difference farthest along d, and p.
func (m *difference) support(d r3.Vector) (w, p r3.Vector) {
	e := r3.Vector{
		X: -(m.rel[0].X*d.X + m.rel[0].Y*d.Y + m.rel[0].Z*d.Z),
		Y: -(m.rel[1].X*d.X + m.rel[1].Y*d.Y + m.rel[1].Z*d.Z),
		Z: -(m.rel[2].X*d.X + m.rel[2].Y*d.Y + m.rel[2].Z*d.Z),
	}
	var q r3.Vector
	if m.a.kind == coreHull && m.a.slides == nil {
		m.lastA = farthest(m.a.points, d, m.lastA)
		p = m.a.points[m.lastA]
	} else {
		p = m.a.support(d)
	}
	if m.b.kind == coreHull && m.b.slides == nil {
		m.lastB = farthest(m.b.points, e, m.lastB)
		q = m.b.points[m.lastB]
	} else {
		q = m.b.support(e)
	}
	w.X = p.X - (m.rel[0].X*q.X + m.rel[1].X*q.Y + m.rel[2].X*q.Z) - m.off.X
	w.Y = p.Y - (m.rel[0].Y*q.X + m.rel[1].Y*q.Y + m.rel[2].Y*q.Z) - m.off.Y
	w.Z = p.Z - (m.rel[0].Z*q.X + m.rel[1].Z*q.Y + m.rel[2].Z*q.Z) - m.off.Z
	return w, p
}

// simplex is the inner polytope of at most four support points that the search keeps.
type simplex struct {
	n    int
	w, p [4]r3.Vector // points of the difference, and their part in a
	l    [4]float64   // weights of the point nearest the origin
}

// Outcomes of the search.
const (
	cameApart = iota // closed to within the tolerance
	cameTogether
	cameUnsure // rounding stopped the search before the tolerance
)

const (
	gjkGap   = 1e-8 // mm: upper bound minus lower bound at which the search ends
	gjkNear  = 1e-5 // mm: difference of the bounds from which on the best is kept
	gjkSteps = 100
	// A step must shorten v; this many may fail to by rounding, in all.
	gjkStalls = 8
)

// nearest finds the point v of the difference nearest the origin by the method of
// Gilbert, Johnson and Keerthi (1988): v is the nearest point of a simplex of support
// points, and the support plane across v bounds the distance from below,
//
//	v·w/|v| <= distance <= |v|   for w = support(-v),
//
// whatever rounding did to v (the upper bound is checked against the weights at the end), up to the rounding of one support query (a few 1e-16 of
// the size). The search ends when the bounds meet within gjkGap, or after gjkSteps.
// It returns v, the matching point of a, and the lower bound. When it came apart the bound
// is that of the plane across v itself, so that the direction of v is proven too, however
// short v is.
func (m *difference) nearest() (v, p r3.Vector, low float64, how int) {
	var s simplex
	touch := 1e-13 * (1 + m.size)
	v = r3.Vector{X: -m.off.X, Y: -m.off.Y, Z: -m.off.Z}
	if v.X == 0 && v.Y == 0 && v.Z == 0 {
		v.X = 1
	}
	len2 := math.Inf(1)
	// The best pair of bounds, kept when near the end.
	var bestV, bestP r3.Vector
	best, stalls := gjkNear, 0
	for step := 0; step < gjkSteps && stalls < gjkStalls; step++ {
		w, q := m.support(r3.Vector{X: -v.X, Y: -v.Y, Z: -v.Z})
		if s.n > 0 {
			norm := math.Sqrt(len2)
			d := (v.X*w.X + v.Y*w.Y + v.Z*w.Z) / norm
			gap := norm - d
			low = max(low, d)
			if gap <= gjkGap {
				p, in := s.partOfA(v)
				if n := in.Norm(); n-d > 10*gjkGap {
					// v is off the simplex: too slender for its numbers.
					return in, p, low, cameUnsure
				}
				return v, p, d, cameApart
			}
			if gap < best {
				p, in := s.partOfA(v)
				if n := in.Norm() - d; n < best {
					best, bestV, bestP = n, in, p
				}
			}
		}
		s.w[s.n], s.p[s.n] = w, q
		s.n++
		next, inside := s.reduce()
		if inside {
			p, _ := s.partOfA(next)
			return next, p, 0, cameTogether
		}
		n2 := next.X*next.X + next.Y*next.Y + next.Z*next.Z
		if n2 <= touch*touch {
			p, _ := s.partOfA(next)
			return next, p, 0, cameTogether
		}
		if !(n2 < len2) {
			stalls++ // v may still turn where it no longer shortens
		}
		v, len2 = next, n2
	}
	if best < gjkNear {
		return bestV, bestP, low, cameUnsure
	}
	p, v = s.partOfA(v)
	return v, p, low, cameUnsure
}

// partOfA returns the part in a of the nearest point v, and the point of the simplex that
// goes with it, v up to rounding. On a slender triangle the weights are a little off; as
// v is known better, they are corrected by what their point misses v by.
func (s *simplex) partOfA(v r3.Vector) (p, in r3.Vector) {
	if s.n == 3 {
		u, w := s.w[1].Sub(s.w[0]), s.w[2].Sub(s.w[0])
		n := u.Cross(w)
		miss := v.Sub(s.w[0]).Sub(u.Mul(s.l[1])).Sub(w.Mul(s.l[2]))
		if nn := n.Norm2(); nn > 0 {
			s.l[1] = min(1, max(0, s.l[1]+n.Dot(miss.Cross(w))/nn))
			s.l[2] = min(1-s.l[1], max(0, s.l[2]+n.Dot(u.Cross(miss))/nn))
			s.l[0] = 1 - s.l[1] - s.l[2]
		}
	}
	for i := 0; i < s.n; i++ {
		p = p.Add(s.p[i].Mul(s.l[i]))
		in = in.Add(s.w[i].Mul(s.l[i]))
	}
	return p, in
}

// keep drops all vertices but those listed, in order.
func (s *simplex) keep(i, j, k, n int) {
	idx := [3]int{i, j, k}
	for t := 0; t < n; t++ {
		s.w[t], s.p[t] = s.w[idx[t]], s.p[idx[t]]
	}
	s.n = n
}

// reduce replaces the simplex by its least face that holds the point nearest the
// origin, sets the weights and returns that point. inside: the origin is in the
// tetrahedron. The vertex added last belongs to that face, by the theory of the
// method, so only faces with it are looked at.
func (s *simplex) reduce() (v r3.Vector, inside bool) {
	switch s.n {
	case 1:
		s.l[0] = 1
		return s.w[0], false
	case 2:
		v, t := nearestOnSegment(s.w[1], s.w[0])
		if t <= 0 {
			s.keep(1, 0, 0, 1)
			s.l[0] = 1
			return s.w[0], false
		}
		s.l[0], s.l[1] = t, 1-t
		return v, false
	case 3:
		f := nearestOnTriangle(s.w[2], s.w[1], s.w[0])
		s.takeFace(f, 2, 1, 0)
		return f.v, false
	}
	return s.reduceTetrahedron()
}

// face is the point of a triangle nearest the origin: its weights for the vertices in
// the order given, at most two of which may be zero.
type face struct {
	v  r3.Vector
	l  [3]float64
	d2 float64
}

func (s *simplex) takeFace(f face, i, j, k int) {
	idx := [3]int{i, j, k}
	// Copy out first: the targets may be sources.
	w, p := s.w, s.p
	n := 0
	for t := 2; t >= 0; t-- { // oldest first, so that the newest stays last
		if f.l[t] > 0 {
			s.w[n], s.p[n], s.l[n] = w[idx[t]], p[idx[t]], f.l[t]
			n++
		}
	}
	s.n = n
}

// nearestOnSegment returns the point of the segment a b nearest the origin and its
// weight t on b, 0 <= t <= 1.
func nearestOnSegment(a, b r3.Vector) (v r3.Vector, t float64) {
	ux, uy, uz := b.X-a.X, b.Y-a.Y, b.Z-a.Z
	num := -(a.X*ux + a.Y*uy + a.Z*uz)
	den := ux*ux + uy*uy + uz*uz
	switch {
	case !(num > 0):
		return a, 0
	case num >= den:
		return b, 1
	}
	t = num / den
	v = r3.Vector{X: a.X + t*ux, Y: a.Y + t*uy, Z: a.Z + t*uz}
	// Square v to the segment once more: what it leans, a long segment multiplies.
	c := (v.X*ux + v.Y*uy + v.Z*uz) / den
	return r3.Vector{X: v.X - c*ux, Y: v.Y - c*uy, Z: v.Z - c*uz}, t
}

// nearestOnTriangle returns the point of the triangle a b c nearest the origin, given
// that it is not on the edge b c alone. The weights are areas over the area of the
// triangle, as products with its normal: their rounding grows with the slenderness of
// the triangle, not with its square.
func nearestOnTriangle(a, b, c r3.Vector) (f face) {
	ux, uy, uz := b.X-a.X, b.Y-a.Y, b.Z-a.Z
	wx, wy, wz := c.X-a.X, c.Y-a.Y, c.Z-a.Z
	nx, ny, nz := uy*wz-uz*wy, uz*wx-ux*wz, ux*wy-uy*wx
	nn := nx*nx + ny*ny + nz*nz
	if nn > 1e-26*(ux*ux+uy*uy+uz*uz)*(wx*wx+wy*wy+wz*wz) {
		lb := -(nx*(a.Y*wz-a.Z*wy) + ny*(a.Z*wx-a.X*wz) + nz*(a.X*wy-a.Y*wx)) / nn
		lc := -(nx*(uy*a.Z-uz*a.Y) + ny*(uz*a.X-ux*a.Z) + nz*(ux*a.Y-uy*a.X)) / nn
		if lb > 0 && lc > 0 && lb+lc < 1 {
			// Along the normal: more exact than the weighted sum when near.
			k := (a.X*nx + a.Y*ny + a.Z*nz) / nn
			f.v = r3.Vector{X: k * nx, Y: k * ny, Z: k * nz}
			f.l = [3]float64{1 - lb - lc, lb, lc}
			f.d2 = k * k * nn
			return f
		}
	}
	v1, t1 := nearestOnSegment(a, b)
	v2, t2 := nearestOnSegment(a, c)
	d1, d2 := v1.Norm2(), v2.Norm2()
	if d1 <= d2 {
		return face{v1, [3]float64{1 - t1, t1, 0}, d1}
	}
	return face{v2, [3]float64{1 - t2, 0, t2}, d2}
}

func (s *simplex) reduceTetrahedron() (r3.Vector, bool) {
	d, c, b, a := s.w[0], s.w[1], s.w[2], s.w[3]
	ub, uc, ud := b.Sub(a), c.Sub(a), d.Sub(a)
	nb, nc, nd := uc.Cross(ud), ud.Cross(ub), ub.Cross(uc)
	vol := ub.Dot(nb)
	o := r3.Vector{X: -a.X, Y: -a.Y, Z: -a.Z}
	lb, lc, ld := o.Dot(nb), o.Dot(nc), o.Dot(nd)
	if vol < 0 {
		vol, lb, lc, ld = -vol, -lb, -lc, -ld
	}
	la := vol - lb - lc - ld
	flat := vol*vol <= 1e-26*ub.Norm2()*uc.Norm2()*ud.Norm2()
	if !flat && la >= 0 && lb >= 0 && lc >= 0 && ld >= 0 {
		s.l = [4]float64{ld / vol, lc / vol, lb / vol, la / vol}
		return r3.Vector{}, true
	}
	best := face{d2: math.Inf(1)}
	i, j, k := 3, 2, 1
	if flat || ld < 0 {
		best = nearestOnTriangle(a, b, c)
	}
	if flat || lc < 0 {
		if f := nearestOnTriangle(a, b, d); f.d2 < best.d2 {
			best, i, j, k = f, 3, 2, 0
		}
	}
	if flat || lb < 0 {
		if f := nearestOnTriangle(a, c, d); f.d2 < best.d2 {
			best, i, j, k = f, 3, 1, 0
		}
	}
	if math.IsInf(best.d2, 1) {
		// Only the face without a is seen: rounding. Take the best of the others.
		best = nearestOnTriangle(a, b, c)
		if f := nearestOnTriangle(a, b, d); f.d2 < best.d2 {
			best, i, j, k = f, 3, 2, 0
		}
		if f := nearestOnTriangle(a, c, d); f.d2 < best.d2 {
			best, i, j, k = f, 3, 1, 0
		}
	}
	s.takeFace(best, i, j, k)
	return best.v, false
}
