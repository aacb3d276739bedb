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
// each other no deeper than a quarter of the weld distance, or miss each other by no more,
// touch in one junction, so that rounding cannot turn a tangency into two crossings or
// none. It is less than the whole so that an end beside such a touch is always near enough
// to be welded.
func (ar *arrangement) meet(i, j int32) {
	s, t := &ar.strands[i], &ar.strands[j]
	if s.vb == t.va || s.va == t.vb {
		return // one ends where the other begins, further right: they share only that
	}
	switch {
	case s.line && t.line:
		ar.meetLines(i, j, s, t)
	case !t.line && t.r > shallowRadius && (s.line || s.r <= t.r):
		ar.meetLarge(i, j, s, t)
	case !s.line && s.r > shallowRadius:
		ar.meetLarge(j, i, t, s)
	case s.line:
		ar.meetLineArc(i, j, s, t)
	case t.line:
		ar.meetLineArc(j, i, t, s)
	default:
		ar.meetArcs(i, j, s, t)
	}
}

// touchShare is the share of the weld distance within which curves touch; see meet.
const touchShare = 0.25

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
	if s.line {
		return cross2(s.u, d)
	}
	e := r2.Point{X: d.X + 2*(s.a.X-s.c.X), Y: d.Y + 2*(s.a.Y-s.c.Y)}
	return dot2(d, e) / (2 * s.r)
}

// spans reports whether p, known to lie within tol of the line or circle, lies between the
// ends. An arc of at most half a turn is that part of its circle which lies over its chord,
// on the right of it if the arc is counter-clockwise. Where it stands upright on its chord,
// p may lie as far beyond the chord as it lies beside the arc.
func (s *strand) spans(p r2.Point, tol float64) bool {
	d := sub2(p, s.a)
	t := dot2(s.u, d)
	if s.line {
		return t >= 0 && t <= s.chord
	}
	h := cross2(s.u, d)
	if !s.ccw {
		h = -h
	}
	return h <= tol && t >= -tol && t <= s.chord+tol
}

// crossing adds the crossing at p of strands i and j, unless p is one of their ends: that
// is, unless an end of one that lies on the other is near p, or so placed that between it
// and p the two strands run together.
func (ar *arrangement) crossing(p r2.Point, i, j int32, s, t *strand) {
	tol := ar.tol
	v, w := s.endNear(p, tol), t.endNear(p, tol)
	switch {
	case v >= 0 && w >= 0:
		ar.join(v, w)
		return
	case v >= 0: // cut here even if rounding had the end just too far from the curve
		ar.meets = append(ar.meets, meet{strand: j, at: v})
		return
	case w >= 0:
		ar.meets = append(ar.meets, meet{strand: i, at: w})
		return
	}
	if s.endsAlong(t, p, tol) || t.endsAlong(s, p, tol) {
		return
	}
	v = ar.junction(p)
	ar.meets = append(ar.meets, meet{strand: i, at: v}, meet{strand: j, at: v})
	ar.crossed = append(ar.crossed, meet{strand: i, at: v})
}

// endNear returns the junction at the end of s near p, or -1.
func (s *strand) endNear(p r2.Point, tol float64) int32 {
	switch {
	case near2(p, s.a, tol):
		return s.va
	case near2(p, s.b, tol):
		return s.vb
	}
	return -1
}

// endsAlong reports whether an end of s lies on t and s runs along t from there to p.
// Between two meetings the distance of the curves has one maximum, and half way it is at
// least half of that.
func (s *strand) endsAlong(t *strand, p r2.Point, tol float64) bool {
	k := dot2(s.u, sub2(p, s.a))
	if math.Abs(t.side(s.a)) <= tol && math.Abs(t.side(s.at(k/2))) <= tol/2 && t.spans(s.a, tol) {
		return true
	}
	return math.Abs(t.side(s.b)) <= tol && math.Abs(t.side(s.at((k+s.chord)/2))) <= tol/2 && t.spans(s.b, tol)
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
	if max(math.Abs(a), math.Abs(b)) <= tol || max(math.Abs(c), math.Abs(d)) <= tol {
		return // they run together, and which side an end lies on is rounding
	}
	k := a / (a - b)
	p := r2.Point{X: t.a.X + float64(k*t.chord*t.u.X), Y: t.a.Y + float64(k*t.chord*t.u.Y)}
	if s.spans(p, tol) {
		ar.crossing(p, i, j, s, t)
	}
}

// meetLineArc meets line s with arc t.
func (ar *arrangement) meetLineArc(i, j int32, s, t *strand) {
	tol := ar.tol
	d := sub2(t.c, s.a)
	h := cross2(s.u, d) // of the centre over the line
	gap := math.Abs(h) - t.r
	if gap > tol {
		return
	}
	ar.meetEnds(i, j, s, t)
	f := dot2(s.u, d)
	if gap > touchShare*tol {
		return
	}
	if gap > -touchShare*tol {
		p := r2.Point{X: s.a.X + float64(f*s.u.X), Y: s.a.Y + float64(f*s.u.Y)}
		if s.spans(p, tol) && t.spans(p, tol) {
			ar.crossing(p, i, j, s, t)
		}
		return
	}
	w := math.Sqrt((t.r - math.Abs(h)) * (t.r + math.Abs(h)))
	for _, k := range [2]float64{f - w, f + w} {
		if !(k >= 0 && k <= s.chord) {
			continue
		}
		p := r2.Point{X: s.a.X + float64(k*s.u.X), Y: s.a.Y + float64(k*s.u.Y)}
		if t.spans(p, tol) {
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
	if n+math.Abs(s.r-t.r) <= tol || n == 0 {
		ar.meetEnds(i, j, s, t)
		return // the same circle
	}
	e := r2.Point{X: d.X / n, Y: d.Y / n}
	out, in := n-(s.r+t.r), t.r-s.r-n
	if out > tol || in > tol {
		return
	}
	ar.meetEnds(i, j, s, t)
	touch := touchShare * tol
	if out > touch || in > touch {
		return
	}
	if out > -touch || in > -touch { // tangent
		k := s.r
		if in > -touch {
			k = -k
		}
		p := r2.Point{X: s.c.X + float64(k*e.X), Y: s.c.Y + float64(k*e.Y)}
		if s.spans(p, tol) && t.spans(p, tol) {
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
		if s.spans(p, tol) && t.spans(p, tol) {
			ar.crossing(p, i, j, s, t)
		}
	}
}

// meetLarge meets strand s with arc t of a radius beyond [shallowRadius] and not below that
// of s, where a difference of radii would cancel. It follows the distance of s from the
// circle, which s.at and t.side give without the centre, along s: it has no more than one
// extreme on either side of the line of centres, and between extremes at most one zero.
func (ar *arrangement) meetLarge(i, j int32, s, t *strand) {
	ar.meetEnds(i, j, s, t)
	tol := ar.tol
	g := func(k float64) float64 { return t.side(s.at(k)) }
	ks := make([]float64, 1, 4)
	extreme := func(k float64) {
		if k > ks[len(ks)-1] && k < s.chord {
			ks = append(ks, k)
		}
	}
	switch {
	case s.line:
		extreme(dot2(s.u, sub2(t.c, s.a)))
	case s.r <= shallowRadius:
		d := sub2(t.c, s.c)
		n := math.Sqrt(d.X*d.X + d.Y*d.Y)
		e := r2.Point{X: s.r * d.X / n, Y: s.r * d.Y / n}
		near := r2.Point{X: s.c.X + e.X, Y: s.c.Y + e.Y}
		far := r2.Point{X: s.c.X - e.X, Y: s.c.Y - e.Y}
		for _, p := range [2]r2.Point{near, far} {
			if s.spans(p, 0) { // at most one of them, on half a circle
				extreme(dot2(s.u, sub2(p, s.a)))
			}
		}
	default:
		// Two shallow arcs: to the fourth order a parabola, with its extreme where the
		// slopes at the ends say.
		h := s.chord / 1024
		a, b := g(h)-g(0), g(s.chord)-g(s.chord-h)
		if a != b && a < 0 != (b < 0) {
			extreme(h/2 + (s.chord-h)*a/(a-b))
		}
	}
	ks = append(ks, s.chord)
	together := true
	gs := make([]float64, len(ks), 4)
	for m, k := range ks {
		gs[m] = g(k)
		together = together && math.Abs(gs[m]) <= tol
	}
	if together {
		return
	}
	if len(ks) == 3 && math.Abs(gs[1]) <= touchShare*tol && gs[0] < 0 == (gs[2] < 0) { // they touch
		if p := s.at(ks[1]); t.spans(p, tol) {
			ar.crossing(p, i, j, s, t)
		}
		return
	}
	for m := 1; m < len(ks); m++ {
		if gs[m-1] < 0 == (gs[m] < 0) {
			continue
		}
		lo, hi := ks[m-1], ks[m]
		for range 100 {
			mid := lo + (hi-lo)/2
			if mid <= lo || mid >= hi {
				break
			}
			if g(mid) < 0 == (gs[m] < 0) {
				hi = mid
			} else {
				lo = mid
			}
		}
		if p := s.at(lo); t.spans(p, tol) {
			ar.crossing(p, i, j, s, t)
		}
	}
}

// at returns the point of the strand over the chord's point at the distance k from a. With
// the centre at the distance m below the chord, its height y satisfies y·(y+2m) = k·(n-k).
func (s *strand) at(k float64) r2.Point {
	p := r2.Point{X: s.a.X + float64(k*s.u.X), Y: s.a.Y + float64(k*s.u.Y)}
	if s.line {
		return p
	}
	q, m := k*(s.chord-k), s.chordDistance()
	if q <= 0 { // an end
		return p
	}
	y := q / (m + math.Sqrt(m*m+q))
	if s.ccw { // to the right
		y = -y
	}
	return r2.Point{X: p.X - float64(y*s.u.Y), Y: p.Y + float64(y*s.u.X)}
}
