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

	// certifyFew is the number of lines for results that were settled at once, of which doc.go
	// proves that they are right, and certifyMany for all others.
	certifyFew  = 2
	certifyMany = 64
)

// An event is a place where a line of x passes a boundary.
type event struct {
	y      float64
	rise   windings // from below to above, of a strand
	result bool     // of a loop of the result
}

// certify compares a result with the strands. It returns a place where they contradict
// each other, if it finds one.
func (ar *arrangement) certify(rs []Region, in func(windings) bool, lines int) (at r2.Point, ok bool) {
	for _, x := range ar.certifyLines(rs, lines) {
		ev := ar.events[:0]
		for i := range ar.strands {
			if s := &ar.strands[i]; s.a.X <= x && x < s.b.X {
				ev = append(ev, event{y: s.over(x), rise: s.rise})
			}
		}
		for i := range rs {
			if l := &rs[i].Outer.d.box; l.lx > x || l.hx < x {
				continue
			}
			for l := range rs[i].Loops() {
				if l.d.box.lx <= x && x <= l.d.box.hx {
					ev = l.over(x, ev)
				}
			}
		}
		ar.events = ev
		slices.SortFunc(ev, func(a, b event) int { return cmp.Compare(a.y, b.y) })
		w, inside := windings{}, false
		least := 2 * certifyReach * ar.tol
		found := false
		for i, e := range ev {
			if e.result {
				inside = !inside
			} else {
				w = w.plus(e.rise)
			}
			if i+1 == len(ev) || found || in(w) == inside || ev[i+1].y-e.y <= least {
				continue
			}
			if p := (r2.Point{X: x, Y: e.y + (ev[i+1].y-e.y)/2}); ar.farFromAll(p) {
				at, found = p, true
			}
		}
		// A line through a vertex, or along a boundary, may count wrong: that says nothing.
		if found && w == (windings{}) && !inside {
			return at, false
		}
	}
	return at, true
}

// certifyLines returns the x of at most n lines: through the widest loops of the result and
// the widest strands, near their middles, but not where vertices of symmetric shapes lie.
func (ar *arrangement) certifyLines(rs []Region, n int) []float64 {
	const off = 0.4871
	type span struct{ lx, hx float64 }
	wider := func(a, b span) int {
		if c := cmp.Compare(b.hx-b.lx, a.hx-a.lx); c != 0 {
			return c
		}
		return cmp.Compare(a.lx, b.lx)
	}
	var spans []span
	var buf [certifyMany]float64
	xs := buf[:0]
	take := func(most int) {
		slices.SortFunc(spans, wider)
		for _, s := range spans[:min(most, len(spans))] {
			// Where the operands leave out pieces up to the weld distance a line may slip through,
			// which is likely only where all is about as narrow.
			if s.hx-s.lx < 1e4*ar.tol {
				break
			}
			xs = append(xs, s.lx+off*(s.hx-s.lx))
		}
		spans = spans[:0]
	}
	if n <= certifyFew {
		if len(rs) > 0 {
			for k := range n {
				i := k * (len(rs) - 1) / max(1, n-1)
				b := &rs[i].Outer.d.box
				xs = append(xs, b.lx+(off+0.2*float64(k))*(b.hx-b.lx))
			}
		}
		return xs
	}
	for i := range rs {
		for l := range rs[i].Loops() {
			spans = append(spans, span{l.d.box.lx, l.d.box.hx})
		}
	}
	take(n / 2)
	for i := range ar.strands {
		spans = append(spans, span{ar.strands[i].a.X, ar.strands[i].b.X})
	}
	take(n - len(xs))
	return xs
}

// over returns the y of the strand over x, which lies between its ends.
func (s *strand) over(x float64) float64 {
	k := (x - s.a.X) / s.u.X
	if s.line {
		return s.a.Y + k*s.u.Y
	}
	if s.r > shallowRadius {
		for range 8 { // the chord's point under which the arc is at x
			k += (x - s.at(k).X) / s.u.X
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
	was := v[len(v)-1].P.X <= x
	last := len(v) - 1
	for i := range v {
		k, crosses := last, false
		last = i
		if is := v[i].P.X <= x; is != was {
			was, crosses = is, true
		}
		if !crosses && v[k].Bulge == 0 {
			continue
		}
		s := Seg{A: v[k].P, B: v[i].P, Bulge: v[k].Bulge}
		if !s.IsArc() || s.Radius() > shallowRadius {
			if !crosses {
				continue
			}
			t := (x - s.A.X) / (s.B.X - s.A.X)
			if s.IsArc() {
				for range 8 {
					t += (x - s.At(t).X) / (s.B.X - s.A.X)
				}
			}
			ev = append(ev, event{y: s.At(t).Y, result: true})
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
	return true
}
