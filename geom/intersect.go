package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// meet notes where strands i and j meet. An end of one that lies on the other cuts it
// there, ends that coincide are welded, and true crossings become new junctions. Where
// the two run together, the ends of the common part are such ends; nothing else needs to
// be known about it.
//
// A crossing within the weld distance of an end is that end. Two curves that pass through
// each other no deeper than the weld distance, or miss each other by no more, touch in
// one junction, so that rounding cannot turn a tangency into two crossings or none.
func (ar *arrangement) meet(i, j int32) {
	s, t := &ar.strands[i], &ar.strands[j]
	if s.vb == t.va || s.va == t.vb {
		return // one ends where the other begins, further right: they share only that
	}
	switch {
	case s.r == 0 && t.r == 0:
		ar.meetLines(i, j, s, t)
	case s.r == 0:
		ar.meetLineArc(i, j, s, t)
	case t.r == 0:
		ar.meetLineArc(j, i, t, s)
	default:
		ar.meetArcs(i, j, s, t)
	}
}

// meetEnds welds or notes the ends of each strand that lie on the other.
func (ar *arrangement) meetEnds(i, j int32, s, t *strand) {
	ar.meetEnd(s.a, s.va, j, t)
	ar.meetEnd(s.b, s.vb, j, t)
	ar.meetEnd(t.a, t.va, i, s)
	ar.meetEnd(t.b, t.vb, i, s)
}

func (ar *arrangement) meetEnd(p r2.Point, v int32, j int32, t *strand) {
	if v == t.va || v == t.vb {
		return
	}
	if near2(p, t.a, ar.tol) {
		ar.join(v, t.va)
		return
	}
	if near2(p, t.b, ar.tol) {
		ar.join(v, t.vb)
		return
	}
	if math.Abs(t.side(p)) <= ar.tol && t.spans(p, ar.tol) {
		ar.meets = append(ar.meets, meet{strand: j, at: v})
	}
}

// side returns the distance of p from the strand's line, positive on its left, or from
// its circle, positive outside. For a circle it is exact to first order near the curve:
// the power of p over 2r. The power is taken from the end a, so that it does not cancel
// for large radii.
func (s *strand) side(p r2.Point) float64 {
	d := sub2(p, s.a)
	if s.r == 0 {
		return cross2(s.u, d)
	}
	e := r2.Point{X: d.X + 2*(s.a.X-s.c.X), Y: d.Y + 2*(s.a.Y-s.c.Y)}
	return dot2(d, e) / (2 * s.r)
}

// spans reports whether p, known to lie near the line or circle, lies between the ends. An
// arc of at most half a turn is that part of its circle which lies over its chord, on the
// right of it if the arc is counter-clockwise.
func (s *strand) spans(p r2.Point, tol float64) bool {
	d := sub2(p, s.a)
	if t := dot2(s.u, d); t < 0 || t > s.chord {
		return false
	}
	if s.r == 0 {
		return true
	}
	h := cross2(s.u, d)
	if s.ccw {
		return h <= tol
	}
	return h >= -tol
}

// crossing adds the crossing at p of strands i and j, unless p is one of their ends.
func (ar *arrangement) crossing(p r2.Point, i, j int32, s, t *strand) {
	tol := ar.tol
	if near2(p, s.a, tol) || near2(p, s.b, tol) || near2(p, t.a, tol) || near2(p, t.b, tol) {
		return
	}
	v := ar.junction(p)
	ar.meets = append(ar.meets, meet{strand: i, at: v}, meet{strand: j, at: v})
}

func (ar *arrangement) meetLines(i, j int32, s, t *strand) {
	tol := ar.tol
	a := cross2(s.u, sub2(t.a, s.a))
	b := cross2(s.u, sub2(t.b, s.a))
	if a > tol && b > tol || a < -tol && b < -tol {
		return
	}
	c := cross2(t.u, sub2(s.a, t.a))
	d := cross2(t.u, sub2(s.b, t.a))
	if c > tol && d > tol || c < -tol && d < -tol {
		return
	}
	if math.Abs(a) <= tol || math.Abs(b) <= tol || math.Abs(c) <= tol || math.Abs(d) <= tol {
		ar.meetEnds(i, j, s, t)
	}
	if a < 0 == (b < 0) || c < 0 == (d < 0) || a == b || c == d {
		return
	}
	k := a / (a - b)
	ar.crossing(r2.Point{
		X: t.a.X + float64(k*t.chord*t.u.X),
		Y: t.a.Y + float64(k*t.chord*t.u.Y),
	}, i, j, s, t)
}

// meetLineArc meets line s with arc t.
func (ar *arrangement) meetLineArc(i, j int32, s, t *strand) {
	tol := ar.tol
	d := sub2(t.c, s.a)
	h := cross2(s.u, d) // of the centre over the line
	gap := math.Abs(h) - t.r
	if t.r > shallowRadius { // |h| - r cancels: use the power of the foot, as in side
		f := dot2(s.u, d)
		gap = -math.Abs(t.side(r2.Point{X: s.a.X + f*s.u.X, Y: s.a.Y + f*s.u.Y}))
		if math.Abs(h) > t.r {
			gap = -gap
		}
	}
	if gap > tol {
		return
	}
	ar.meetEnds(i, j, s, t)
	f := dot2(s.u, d)
	if gap > -tol {
		p := r2.Point{X: s.a.X + float64(f*s.u.X), Y: s.a.Y + float64(f*s.u.Y)}
		if s.spans(p, tol) && t.spans(p, tol) {
			ar.crossing(p, i, j, s, t)
		}
		return
	}
	w := math.Sqrt((t.r - math.Abs(h)) * (t.r + math.Abs(h)))
	for _, k := range [2]float64{f - w, f + w} {
		if t.r > shallowRadius {
			// One step of Newton on the power along the line, which does not cancel.
			p := r2.Point{X: s.a.X + k*s.u.X, Y: s.a.Y + k*s.u.Y}
			if g := dot2(s.u, sub2(p, t.c)) / t.r; g != 0 {
				k -= t.side(p) / g
			}
		}
		if !(k >= 0 && k <= s.chord) {
			continue
		}
		p := r2.Point{X: s.a.X + float64(k*s.u.X), Y: s.a.Y + float64(k*s.u.Y)}
		if t.spans(p, 0) {
			ar.crossing(p, i, j, s, t)
		}
	}
}

func (ar *arrangement) meetArcs(i, j int32, s, t *strand) {
	if s.r > t.r { // measured from the smaller circle, where the terms cancel less
		i, j, s, t = j, i, t, s
	}
	tol := ar.tol
	d := sub2(t.c, s.c)
	n := math.Sqrt(d.X*d.X + d.Y*d.Y)
	out, in := n-(s.r+t.r), math.Abs(s.r-t.r)-n
	slack := tol + 4e-16*(n+t.r) // the differences are known to a rounding of the radii
	if out > slack || in > slack {
		return // circles apart
	}
	ar.meetEnds(i, j, s, t)
	if n+math.Abs(s.r-t.r) <= tol || n == 0 {
		return // the same circle
	}
	e := r2.Point{X: d.X / n, Y: d.Y / n}
	if out > -slack || in > -slack { // tangent: the circles are nearest along the line of centres
		k := s.r
		if in > -slack {
			k = -k
		}
		p := r2.Point{X: s.c.X + float64(k*e.X), Y: s.c.Y + float64(k*e.Y)}
		if math.Abs(t.side(p)) <= tol && s.spans(p, tol) && t.spans(p, tol) {
			ar.crossing(p, i, j, s, t)
		}
		return
	}
	// The common chord cuts the line of centres at x from s.c, at half its length w.
	x := (n + (s.r-t.r)*(s.r+t.r)/n) / 2
	w := math.Sqrt(math.Max(0, (s.r-x)*(s.r+x)))
	for _, w := range [2]float64{w, -w} {
		p := r2.Point{
			X: s.c.X + float64(x*e.X) - float64(w*e.Y),
			Y: s.c.Y + float64(x*e.Y) + float64(w*e.X),
		}
		if s.r > shallowRadius || t.r > shallowRadius {
			p = polish(p, s, t)
		}
		if s.spans(p, 0) && t.spans(p, 0) {
			ar.crossing(p, i, j, s, t)
		}
	}
}

// polish moves p, nearly a crossing of two arcs, onto both by Newton's method on the two
// powers, which unlike the radii do not cancel.
func polish(p r2.Point, s, t *strand) r2.Point {
	for range 8 {
		g := r2.Point{X: (p.X - s.c.X) / s.r, Y: (p.Y - s.c.Y) / s.r}
		h := r2.Point{X: (p.X - t.c.X) / t.r, Y: (p.Y - t.c.Y) / t.r}
		det := cross2(g, h)
		if math.Abs(det) < 1e-12 {
			break
		}
		a, b := s.side(p), t.side(p)
		dx, dy := (a*h.Y-b*g.Y)/det, (b*g.X-a*h.X)/det
		p.X -= dx
		p.Y -= dy
		if math.Abs(dx)+math.Abs(dy) < Coincident/16 {
			break
		}
	}
	return p
}
