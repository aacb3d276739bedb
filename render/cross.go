package render

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// curved reports whether a piece is an arc. Most pieces are lines with a bulge of exactly 0,
// which is told here without looking at their length.
func curved(s geom.Seg) bool { return s.Bulge != 0 && s.IsArc() }

// crossAt appends to cuts the shares of a's length at which a meets b. Pieces that run
// along each other give no cuts: their ends are found where neighbours meet.
func crossAt(cuts []float64, a, b *side) []float64 {
	var points []r2.Point
	switch {
	case !a.arc && !b.arc:
		d, e := a.seg.B.Sub(a.seg.A), b.seg.B.Sub(b.seg.A)
		det := d.Cross(e)
		if det*det < 1e-18*(1+d.Dot(d)*e.Dot(e)) {
			return cuts
		}
		w := b.seg.A.Sub(a.seg.A)
		t, u := w.Cross(e)/det, w.Cross(d)/det
		if t > 0 && t < 1 && u > -1e-6 && u < 1+1e-6 {
			cuts = append(cuts, t)
		}
		return cuts
	case !a.arc:
		points = lineCircle(a.seg.A, a.seg.B, b.c, b.r)
	case !b.arc:
		points = lineCircle(b.seg.A, b.seg.B, a.c, a.r)
	default:
		points = circleCircle(a.c, a.r, b.c, b.r)
	}
	for _, p := range points {
		if _, on := b.shareOf(p); on {
			if t, on := a.shareOf(p); on {
				cuts = append(cuts, t)
			}
		}
	}
	return cuts
}

// shareOf returns at which share of its length the piece passes p, a point of its line or
// circle, and whether that lies on the piece.
func (o *side) shareOf(p r2.Point) (float64, bool) {
	s := o.seg
	if !o.arc {
		d := s.B.Sub(s.A)
		t := p.Sub(s.A).Dot(d) / d.Dot(d)
		return t, t > -1e-7 && t < 1+1e-7
	}
	u, v := s.A.Sub(o.c), p.Sub(o.c)
	turn := math.Atan2(u.Cross(v), u.Dot(v))
	sweep := 4 * math.Atan(s.Bulge)
	if sweep > 0 && turn < -1e-7 {
		turn += 2 * math.Pi
	} else if sweep < 0 && turn > 1e-7 {
		turn -= 2 * math.Pi
	}
	t := turn / sweep
	return t, t > -1e-7 && t < 1+1e-7
}

func lineCircle(a, b, c r2.Point, r float64) []r2.Point {
	d := b.Sub(a)
	n := d.Norm()
	if n < 1e-9 {
		return nil
	}
	u := d.Mul(1 / n)
	foot := c.Sub(a).Dot(u)
	off := c.Sub(a).Cross(u)
	q := r*r - off*off
	if q <= 0 {
		return nil
	}
	h := math.Sqrt(q)
	return []r2.Point{a.Add(u.Mul(foot - h)), a.Add(u.Mul(foot + h))}
}

func circleCircle(a r2.Point, ra float64, b r2.Point, rb float64) []r2.Point {
	d := b.Sub(a)
	n := d.Norm()
	if n < 1e-9 || n > ra+rb || n < math.Abs(ra-rb) {
		return nil
	}
	x := (n*n + ra*ra - rb*rb) / (2 * n)
	q := ra*ra - x*x
	if q <= 0 {
		return nil
	}
	h := math.Sqrt(q)
	u := d.Mul(1 / n)
	v := r2.Point{X: -u.Y, Y: u.X}
	return []r2.Point{a.Add(u.Mul(x)).Add(v.Mul(h)), a.Add(u.Mul(x)).Sub(v.Mul(h))}
}

// part returns the stretch of a piece between two shares of its length.
func part(s geom.Seg, t0, t1 float64) geom.Seg {
	if t0 <= 0 && t1 >= 1 {
		return s
	}
	out := geom.Seg{A: s.At(t0), B: s.At(t1)}
	if curved(s) {
		out.Bulge = math.Tan((t1 - t0) * float64(s.Sweep()) / 4)
	}
	return out
}
