package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// A piece is what the queries work on: a line, or a part of an arc of at most a quarter
// turn that is monotone in x and in y, with everything that a distance needs worked out
// beforehand.
//
// Monotone parts make every question local: the box of a part is the box of its ends, a
// level line crosses it at most once, and "is this direction within the arc" is the sign
// of two cross products without any angle.
type piece struct {
	ax, ay, bx, by float64
	cx, cy, r      float64 // centre and radius; r is 0 for a line
	lam            float64 // (b²-1)/(2b) of the part's own bulge b; see power
	ccw            bool    // the arc turns counter-clockwise from a to b
	right          bool    // the arc lies on the +x side of its centre
	seg            int32   // index of the segment that the piece is a part of
}

func (p *piece) a() r2.Point { return r2.Point{X: p.ax, Y: p.ay} }
func (p *piece) b() r2.Point { return r2.Point{X: p.bx, Y: p.by} }
func (p *piece) c() r2.Point { return r2.Point{X: p.cx, Y: p.cy} }

func (p *piece) box() box4 {
	return box4{min(p.ax, p.bx), min(p.ay, p.by), max(p.ax, p.bx), max(p.ay, p.by)}
}

// chords returns into how many parts a shallow arc is cut so that each keeps within the
// sagitta, or followShare of the whole arc's chord, of its own chord: the height of a part
// falls with the square of their number.
func (s Seg) chords(sagitta float64) float64 {
	h := s.chord() * math.Abs(s.Bulge) / 2
	sagitta = max(sagitta, followShare*s.chord())
	return max(1, min(maxFollow, math.Ceil(math.Sqrt(h/sagitta))))
}

// appendPieces appends the pieces of s, at most most of them where it is followed by chords.
func appendPieces(dst []piece, s Seg, index int32, most float64) []piece {
	if !s.IsArc() {
		return append(dst, piece{ax: s.A.X, ay: s.A.Y, bx: s.B.X, by: s.B.Y, seg: index})
	}
	c, r := s.Center(), s.Radius()
	if r > followRadius {
		n := min(most, s.chords(followSagitta))
		a := s.A
		for k := 1.0; k <= n; k++ {
			b := s.At(k / n)
			if b != a {
				dst = append(dst, piece{ax: a.X, ay: a.Y, bx: b.X, by: b.Y, seg: index})
			}
			a = b
		}
		return dst
	}
	sweep := 4 * math.Atan(s.Bulge)
	prev, prevT := s.A, 0.0
	put := func(to r2.Point, t float64) {
		if to == prev {
			return
		}
		b := math.Tan((t - prevT) * sweep / 4)
		p := piece{
			ax: prev.X, ay: prev.Y, bx: to.X, by: to.Y, cx: c.X, cy: c.Y, r: r,
			lam: (b - 1) * (b + 1) / (2 * b), ccw: s.Bulge > 0, seg: index,
		}
		p.right = prev.X+to.X > 2*c.X
		dst = append(dst, p)
		prev, prevT = to, t
	}
	for _, e := range s.extremes() {
		if e.inside && dist(e.p, s.A) > Coincident && dist(e.p, s.B) > Coincident {
			put(e.p, e.t)
		}
	}
	put(s.B, 1)
	return dst
}

// halves returns the two halves of the piece, m being its middle. The bulge of a half arc
// is the tangent of half the angle: b/(1+√(1+b²)).
func (p *piece) halves(m r2.Point) (first, second piece) {
	first, second = *p, *p
	first.bx, first.by = m.X, m.Y
	second.ax, second.ay = m.X, m.Y
	if p.r != 0 {
		// λ = (b²-1)/(2b) gives |b| back without cancellation as λ is not positive on arcs
		// of at most half a turn.
		l := -math.Abs(p.lam)
		b := 1 / (math.Sqrt(l*l+1) - l)
		b /= 1 + math.Sqrt(1+b*b)
		first.lam = (b - 1) * (b + 1) / (2 * b)
		if p.lam > 0 {
			first.lam = -first.lam
		}
		second.lam = first.lam
	}
	return first, second
}

func dist(a, b r2.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }
