package geom

import "github.com/golang/geo/r2"

// A stretch is a row of strands, each beginning where the one before ends, along which
// neither x nor y turns back. Its box and that of any part of it are those of the two ends.
//
// Its own strands meet nowhere but at their common ends: from the end of one to any point
// of the next but one, x and y go on as they went along the one between, so that the two
// are further apart than the ends of that one, which are further apart than the weld
// distance. So strands need only be tried against those of other stretches.
type stretch struct {
	lo, hi int32 // strands lo to hi-1
	back   bool  // run through from right to left
	bulgy  bool  // a single arc that reaches beyond its ends in y
}

// follows reports whether strand t goes on where s, the one before it, ends, and does not
// turn back in x. Then back says in which direction.
func (s *strand) follows(t *strand) (back, ok bool) {
	if s.vb == t.va {
		return false, true
	}
	return true, s.va == t.vb
}

// bulgy reports whether the strand is an arc that reaches above or below both its ends.
// Shallow arcs, whose centres do not tell, are taken for such.
func (s *strand) bulgy() bool {
	return !s.line && (s.r > shallowRadius || s.a.X < s.c.X && s.b.X > s.c.X)
}

// stretch parts the strands into stretches.
func (ar *arrangement) stretch() {
	out := ar.stretches[:0]
	slope := 0 // of the last stretch in the direction of x: 1, -1, or 0 if not known
	for i := range ar.strands {
		t := &ar.strands[i]
		up := 0
		if t.b.Y > t.a.Y {
			up = 1
		} else if t.b.Y < t.a.Y {
			up = -1
		}
		bulgy := t.bulgy()
		if i > 0 && !bulgy {
			p := &out[len(out)-1]
			back, ok := ar.strands[i-1].follows(t)
			if ok && !p.bulgy && (p.hi-p.lo == 1 || p.back == back) && slope*up >= 0 {
				p.hi, p.back = int32(i)+1, back
				if up != 0 {
					slope = up
				}
				continue
			}
		}
		out = append(out, stretch{lo: int32(i), hi: int32(i) + 1, bulgy: bulgy})
		slope = up
	}
	ar.stretches = out
}

// box returns the box of strands lo to hi-1 of a stretch.
func (ar *arrangement) box(s *stretch, lo, hi int32) box4 {
	p, q := &ar.strands[lo], &ar.strands[hi-1]
	if s.back {
		p, q = q, p
	}
	b := box4{lx: p.a.X, hx: q.b.X, ly: p.a.Y, hy: q.b.Y}
	if b.ly > b.hy {
		b.ly, b.hy = b.hy, b.ly
	}
	if s.bulgy {
		if p.r > shallowRadius {
			h := p.chord * p.chord / 4 / (p.r + p.chordDistance())
			b.ly -= h
			b.hy += h
		} else if p.ccw {
			b.ly = p.c.Y - p.r
		} else {
			b.hy = p.c.Y + p.r
		}
	}
	return b
}

// meetStretches tries the strands pl to ph-1 of stretch p, in box a, against ql to qh-1 of
// q, in box b: by halves as long as their boxes are no further apart than the weld distance.
func (ar *arrangement) meetStretches(p *stretch, pl, ph int32, a *box4, q *stretch, ql, qh int32, b *box4) {
	switch m, n := ph-pl, qh-ql; {
	case m == 1 && n == 1:
		ar.meet(pl, ql)
	case m >= n:
		k := pl + m/2
		if c := ar.box(p, pl, k); c.near(b, ar.tol) {
			ar.meetStretches(p, pl, k, &c, q, ql, qh, b)
		}
		if c := ar.box(p, k, ph); c.near(b, ar.tol) {
			ar.meetStretches(p, k, ph, &c, q, ql, qh, b)
		}
	default:
		k := ql + n/2
		if c := ar.box(q, ql, k); c.near(a, ar.tol) {
			ar.meetStretches(p, pl, ph, a, q, ql, k, &c)
		}
		if c := ar.box(q, k, qh); c.near(a, ar.tol) {
			ar.meetStretches(p, pl, ph, a, q, k, qh, &c)
		}
	}
}

// near reports whether two boxes are nowhere further apart than t in x or y.
func (b *box4) near(c *box4, t float64) bool {
	return b.lx <= c.hx+t && c.lx <= b.hx+t && b.ly <= c.hy+t && c.ly <= b.hy+t
}

// meetPoint tries the crossing p, at junction v, against strands lo to hi-1 of a stretch,
// but for one that it is known to lie on.
func (ar *arrangement) meetPoint(p r2.Point, v, but int32, s *stretch, lo, hi int32) {
	b := ar.box(s, lo, hi)
	if t := ar.tol; p.X > b.hx+t || p.X < b.lx-t || p.Y > b.hy+t || p.Y < b.ly-t {
		return
	}
	if hi-lo == 1 {
		if lo != but {
			ar.meetEnd(p, v, lo, &ar.strands[lo])
		}
		return
	}
	k := lo + (hi-lo)/2
	ar.meetPoint(p, v, but, s, lo, k)
	ar.meetPoint(p, v, but, s, k, hi)
}
