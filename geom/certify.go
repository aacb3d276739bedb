package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Every result is compared with its operands once more, by none of the steps that led to
// it: along upright lines, the winding numbers of the strands as they came in say what belongs
// to the set, and the loops of the result, as they go out, must say the same. They may
// differ only next to a boundary, see certifyReach.

const (
	// certifyReach is how many weld distances from all strands a point must lie to belong
	// to a result exactly if it belongs to the set. Welding moves a boundary by one weld
	// distance in each round, by up to four where tiny links are welded, and simplifying by
	// one more; what needs more than a few rounds is tiny in itself.
	certifyReach = 32

	// besideReach is how many weld distances beside a contradiction it must be found again.
	besideReach = certifyReach / 2

	// certifyFew is the number of lines for results that were settled at once, of which doc.go
	// proves that they are right, and certifyMany for all others.
	certifyFew  = 2
	certifyMany = 64
)

// An event is a place where a line of x passes a boundary.
type event struct {
	line   int // index of the line
	y      float64
	rise   windings // from below to above, of a strand
	result bool     // of a loop of the result
}

// certify compares a result with the strands. It returns a place where they contradict
// each other, if it finds one.
//
// Strands and threads are closed curves to the last bit, so a line of x passes each of them
// as often upward as downward, and none of it slips through between two pieces. Where
// rounding counts a vertex of the result wrong that shows at the end of the line, unless it
// happens twice on it. Therefore a contradiction counts only if it is found again besideReach to
// the left or right, by events of their own. All strands are twice as far off, so that the same belongs
// to the set there; what this lets pass is a fault narrower than besideReach.
func (ar *arrangement) certify(rs []Region, in func(windings) bool, lines int) (at r2.Point, ok bool) {
	ar.lineUp(rs, lines)
	ar.pass(ar.lines, rs)
	for ev := ar.events; len(ev) > 0; {
		n := 1
		for n < len(ev) && ev[n].line == ev[0].line {
			n++
		}
		p, differ := ar.differ(ar.lines[ev[0].line], ev[:n], in)
		ev = ev[n:]
		if !differ {
			continue
		}
		if ar.beside(p, rs, in) {
			return p, false
		}
		ar.pass(ar.lines, rs) // they were written over
	}
	return at, true
}

// differ returns a point on the line of x, far from all strands, that belongs to the set
// and not to the result or the other way round, if there is one.
func (ar *arrangement) differ(x float64, ev []event, in func(windings) bool) (p r2.Point, differ bool) {
	w, inside := windings{}, false
	least := 2 * certifyReach * ar.tol
	for i := range ev {
		e := &ev[i]
		if e.result {
			inside = !inside
		} else {
			w = w.plus(e.rise)
		}
		if i+1 == len(ev) || differ || in(w) == inside || ev[i+1].y-e.y <= least {
			continue
		}
		q := r2.Point{X: x, Y: e.y + (ev[i+1].y-e.y)/2}
		if ar.farFromAll(q) {
			p, differ = q, true
		}
	}
	// A line through a vertex, or along a boundary, may count wrong: that says nothing.
	return p, differ && w == (windings{}) && !inside
}

// beside reports whether set and result differ at a point to the left or right of p too.
func (ar *arrangement) beside(p r2.Point, rs []Region, in func(windings) bool) bool {
	d := besideReach * ar.tol
	for _, x := range [2]float64{p.X - d, p.X + d} {
		ar.pass([]float64{x}, rs)
		w, inside, differ := windings{}, false, false
		for i, e := range ar.events {
			if e.result {
				inside = !inside
			} else {
				w = w.plus(e.rise)
			}
			if e.y <= p.Y && (i+1 == len(ar.events) || p.Y < ar.events[i+1].y) {
				differ = in(w) != inside
			}
		}
		if differ && w == (windings{}) && !inside {
			return true
		}
	}
	return false
}

// pass lists the events on all lines, line by line, in the order of y.
func (ar *arrangement) pass(xs []float64, rs []Region) {
	ev := ar.events[:0]
	for i := range ar.strands {
		s := &ar.strands[i]
		for k, x := range xs {
			if s.a.X <= x && x < s.b.X {
				ev = append(ev, event{line: k, y: s.over(x), rise: s.rise})
			}
		}
	}
	for i := range ar.threads {
		t := &ar.threads[i]
		for k, x := range xs {
			if t.a.X <= x && x < t.b.X {
				ev = append(ev, event{line: k, y: t.a.Y, rise: t.rise})
			} else if t.b.X <= x && x < t.a.X {
				ev = append(ev, event{line: k, y: t.a.Y, rise: t.rise.neg()})
			}
		}
	}
	for i := range rs {
		for k, x := range xs {
			if b := &rs[i].Outer.d.box; x < b.lx || b.hx < x {
				continue
			}
			for l := range rs[i].Loops() {
				if l.d.box.lx <= x && x <= l.d.box.hx {
					n := len(ev)
					ev = l.over(x, ev)
					for ; n < len(ev); n++ {
						ev[n].line = k
					}
				}
			}
		}
	}
	slices.SortFunc(ev, func(a, b event) int {
		if a.line != b.line {
			return a.line - b.line
		}
		return cmp.Compare(a.y, b.y)
	})
	ar.events = ev
}

// A span is what a loop or strand takes up in x.
type span struct{ lx, hx float64 }

// lineUp chooses at most n lines: through the widest loops of the result and
// the widest strands, near their middles, but not where vertices of symmetric shapes lie.
func (ar *arrangement) lineUp(rs []Region, n int) {
	const off = 0.4871
	ar.lines, ar.spans = ar.lines[:0], ar.spans[:0]
	if n <= certifyFew {
		if len(rs) > 0 {
			for k := range n {
				i := k * (len(rs) - 1) / max(1, n-1)
				b := &rs[i].Outer.d.box
				ar.lines = append(ar.lines, b.lx+(off+0.2*float64(k))*(b.hx-b.lx))
			}
		}
		return
	}
	take := func(most int) {
		slices.SortFunc(ar.spans, func(a, b span) int {
			if c := cmp.Compare(b.hx-b.lx, a.hx-a.lx); c != 0 {
				return c
			}
			return cmp.Compare(a.lx, b.lx)
		})
		for _, s := range ar.spans[:min(most, len(ar.spans))] {
			ar.lines = append(ar.lines, s.lx+off*(s.hx-s.lx))
		}
		ar.spans = ar.spans[:0]
	}
	for i := range rs {
		for l := range rs[i].Loops() {
			ar.spans = append(ar.spans, span{l.d.box.lx, l.d.box.hx})
		}
	}
	take(n / 2)
	for i := range ar.strands {
		ar.spans = append(ar.spans, span{ar.strands[i].a.X, ar.strands[i].b.X})
	}
	take(n - len(ar.lines))
}

// over returns the y of the strand over x, which lies between its ends.
func (s *strand) over(x float64) float64 {
	k := (x - s.a.X) / s.u.X
	if s.line {
		return s.a.Y + k*s.u.Y
	}
	if s.r > shallowRadius {
		lo, hi := 0.0, s.chord // of the chord's point under which the arc is at x; a is the left end
		for range bisections {
			if k = (lo + hi) / 2; s.at(k).X <= x {
				lo = k
			} else {
				hi = k
			}
		}
		return s.at(k).Y
	}
	d := x - s.c.X
	y := math.Sqrt(math.Max(0, (s.r-d)*(s.r+d)))
	if s.ccw { // below its chord
		y = -y
	}
	return s.c.Y + y
}

// over appends the places where the loop passes x.
func (l Loop) over(x float64, ev []event) []event {
	v := l.d.v
	k := len(v) - 1
	was := v[k].P.X <= x
	for i := range v {
		from, to := &v[k], &v[i]
		k = i
		is := to.P.X <= x
		crosses := is != was
		was = is
		if !crosses {
			if from.Bulge == 0 {
				continue
			}
			// An arc is nowhere further from its chord than twice its height, bulge times half the chord.
			dx := math.Abs(to.P.X - from.P.X)
			h := math.Abs(from.Bulge) * (dx + math.Abs(to.P.Y-from.P.Y))
			if math.Abs(x-from.P.X) > dx+h {
				continue
			}
		}
		s := Seg{A: from.P, B: to.P, Bulge: from.Bulge}
		if !s.IsArc() {
			if crosses {
				t := (x - s.A.X) / (s.B.X - s.A.X)
				ev = append(ev, event{y: s.At(t).Y, result: true})
			}
			continue
		}
		if s.Radius() > shallowRadius {
			ev = s.shallowOver(x, ev)
			continue
		}
		c, r := s.Center(), s.Radius()
		d := x - c.X
		if math.Abs(d) >= r {
			continue
		}
		h := math.Sqrt((r - d) * (r + d))
		for _, y := range [2]float64{c.Y - h, c.Y + h} {
			// The arc is what lies on the right of its chord, or on the left.
			if side := cross2(sub2(s.B, s.A), sub2(r2.Point{X: x, Y: y}, s.A)); side < 0 == (s.Bulge > 0) {
				ev = append(ev, event{y: y, result: true})
			}
		}
	}
	return ev
}

// farFromAll reports whether no strand comes within certifyReach weld distances of p.
func (ar *arrangement) farFromAll(p r2.Point) bool {
	d := certifyReach * ar.tol
	for i := range ar.strands {
		s := &ar.strands[i]
		if near2(p, s.a, d) || near2(p, s.b, d) || math.Abs(s.side(p)) <= d && s.spans(p, d) {
			return false
		}
	}
	for i := range ar.threads {
		if near2(p, ar.threads[i].a, d) {
			return false
		}
	}
	return true
}

// bisections halve an arc down to the rounding of its length.
const bisections = 54

// shallowOver appends the places where an arc of a large radius passes x. They are found along the arc,
// since its centre would cancel: it is cut where its tangent is upright (once at most: it turns
// by less than half a circle), and each piece goes one way in x.
func (s Seg) shallowOver(x float64, ev []event) []event {
	halve := func(lo, hi float64, before func(t float64) bool) float64 {
		for range bisections {
			if t := lo + (hi-lo)/2; before(t) {
				lo = t
			} else {
				hi = t
			}
		}
		return lo
	}
	at := [3]float64{0, 1, 1}
	if left := s.Tangent(0).X < 0; left != (s.Tangent(1).X < 0) {
		at[1] = halve(0, 1, func(t float64) bool { return (s.Tangent(t).X < 0) == left })
	}
	for i := range 2 {
		was := s.At(at[i]).X <= x
		if was == (s.At(at[i+1]).X <= x) {
			continue
		}
		t := halve(at[i], at[i+1], func(t float64) bool { return (s.At(t).X <= x) == was })
		ev = append(ev, event{y: s.At(t).Y, result: true})
	}
	return ev
}
