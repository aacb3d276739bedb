package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// Edge is a segment with what many questions about it need, worked out once: its box and,
// for an arc, its circle. It serves drawings and sweeps along outlines, which ask where
// edges cut each other; distances and regions use their own representation.
type Edge struct {
	Seg    Seg
	Box    Rect // with a margin of 1e-6 mm
	Arc    bool
	Center r2.Point // of an arc
	Radius float64  // of an arc, mm
}

// EdgeOf returns the edge of a segment. Segments that are arcs by their bulge alone (see
// [Seg.IsArc]) count as lines.
func EdgeOf(s Seg) Edge {
	e := Edge{Seg: s, Arc: s.Bulge != 0 && s.IsArc()}
	if !e.Arc {
		e.Box = Rect{
			Lo: r2.Point{X: math.Min(s.A.X, s.B.X), Y: math.Min(s.A.Y, s.B.Y)},
			Hi: r2.Point{X: math.Max(s.A.X, s.B.X), Y: math.Max(s.A.Y, s.B.Y)},
		}.Expand(edgeBox)
		return e
	}
	e.Center, e.Radius, e.Box = s.Center(), s.Radius(), s.Bound().Expand(edgeBox)
	return e
}

const (
	edgeBox   = 1e-6 // mm, so that edges that touch have boxes that meet
	edgeShare = 1e-7 // of the length: how far beyond its ends an edge still counts as met
)

// Cuts appends to dst the shares (0..1) of e's length at which it meets o, and returns it.
// Ends of o count within 1e-6 of its length for lines and 1e-7 for arcs, ends of e not at
// all for lines. Pieces that run along each other, and circles that touch from inside
// or outside without crossing, give no cuts.
func (e *Edge) Cuts(o *Edge, dst []float64) []float64 {
	var both [2]r2.Point
	var points []r2.Point
	switch {
	case !e.Arc && !o.Arc:
		d, f := e.Seg.B.Sub(e.Seg.A), o.Seg.B.Sub(o.Seg.A)
		det := float64(d.X*f.Y) - float64(d.Y*f.X)
		if det*det < 1e-18*(1+d.Dot(d)*f.Dot(f)) {
			return dst
		}
		w := o.Seg.A.Sub(e.Seg.A)
		t := (float64(w.X*f.Y) - float64(w.Y*f.X)) / det
		u := (float64(w.X*d.Y) - float64(w.Y*d.X)) / det
		if t > 0 && t < 1 && u > -1e-6 && u < 1+1e-6 {
			dst = append(dst, t)
		}
		return dst
	case !e.Arc:
		points = lineMeetsCircle(both[:0], e.Seg.A, e.Seg.B.Sub(e.Seg.A), o.Center, o.Radius)
	case !o.Arc:
		points = lineMeetsCircle(both[:0], o.Seg.A, o.Seg.B.Sub(o.Seg.A), e.Center, e.Radius)
	default:
		points = circlesMeet(both[:0], e.Center, e.Radius, o.Center, o.Radius)
	}
	for _, p := range points {
		if _, on := o.Share(p); on {
			if t, on := e.Share(p); on {
				dst = append(dst, t)
			}
		}
	}
	return dst
}

// Share returns at which share of its length the edge passes p, a point of its line or
// circle, and whether that lies on the edge, within 1e-7 of its length beyond the ends.
// Of other points it is the share of their foot on the line, or of the ray from the
// circle's centre. An edge without length has share 0 everywhere and is nowhere met.
func (e *Edge) Share(p r2.Point) (t float64, on bool) {
	s := e.Seg
	if !e.Arc {
		d := s.B.Sub(s.A)
		if d.Dot(d) == 0 {
			return 0, false
		}
		t := p.Sub(s.A).Dot(d) / d.Dot(d)
		return t, t > -edgeShare && t < 1+edgeShare
	}
	u, v := s.A.Sub(e.Center), p.Sub(e.Center)
	turn := math.Atan2(float64(u.X*v.Y)-float64(u.Y*v.X), u.Dot(v))
	sweep := 4 * math.Atan(s.Bulge)
	if sweep > 0 && turn < -edgeShare {
		turn += 2 * math.Pi
	} else if sweep < 0 && turn > edgeShare {
		turn -= 2 * math.Pi
	}
	t = turn / sweep
	return t, t > -edgeShare && t < 1+edgeShare
}

// Nearest returns the share of the edge's length at which it is nearest to p, 0..1, and how
// far that is, in mm; of equally near points the first. It errs by about 2^-52 of the
// radius and the coordinates; [Seg.Nearest] is exact on shallow arcs too, and slower.
func (e *Edge) Nearest(p r2.Point) (t, dist float64) {
	s := e.Seg
	if !e.Arc {
		d, v := s.B.Sub(s.A), p.Sub(s.A)
		if n := d.Dot(d); n > 0 {
			t = max(0, min(1, v.Dot(d)/n))
		}
		return t, math.Hypot(v.X-t*d.X, v.Y-t*d.Y)
	}
	if t, _ := e.Share(p); t >= 0 && t <= 1 {
		return t, math.Abs(math.Hypot(p.X-e.Center.X, p.Y-e.Center.Y) - e.Radius)
	}
	a, b := math.Hypot(p.X-s.A.X, p.Y-s.A.Y), math.Hypot(p.X-s.B.X, p.Y-s.B.Y)
	if a <= b {
		return 0, a
	}
	return 1, b
}

// LowestAt returns the least y of the edge at x, and whether it has a point there.
func (e *Edge) LowestAt(x float64) (y float64, ok bool) {
	s := e.Seg
	if !e.Arc {
		if math.Min(s.A.X, s.B.X) > x || math.Max(s.A.X, s.B.X) < x {
			return 0, false
		}
		if d := s.B.X - s.A.X; math.Abs(d) > Coincident {
			return s.A.Y + (x-s.A.X)*(s.B.Y-s.A.Y)/d, true
		}
		return math.Min(s.A.Y, s.B.Y), true
	}
	q := float64(e.Radius*e.Radius) - float64((x-e.Center.X)*(x-e.Center.X))
	if q < 0 {
		return 0, false
	}
	h := math.Sqrt(q)
	for _, y := range [2]float64{e.Center.Y - h, e.Center.Y + h} {
		if _, on := e.Share(r2.Point{X: x, Y: y}); on {
			return y, true
		}
	}
	return 0, false
}

// MeetLine appends to dst the points that the edge shares with the line through p along n (not zero), at
// most two, and returns it. An edge with an end on the line has it in common with only one
// of the two edges that join there; one that runs along the line has no point.
func (e *Edge) MeetLine(p, n r2.Point, dst []r2.Point) []r2.Point {
	if e.Arc {
		first := len(dst)
		dst = lineMeetsCircle(dst, p, n, e.Center, e.Radius)
		keep := dst[:first]
		for _, q := range dst[first:] {
			if _, on := e.Share(q); on {
				keep = append(keep, q)
			}
		}
		return keep
	}
	a, b := e.Seg.A.Sub(p), e.Seg.B.Sub(p)
	da := float64(n.X*a.Y) - float64(n.Y*a.X)
	db := float64(n.X*b.Y) - float64(n.Y*b.X)
	if (da > 0) != (db > 0) {
		dst = append(dst, e.Seg.A.Add(e.Seg.B.Sub(e.Seg.A).Mul(da/(da-db))))
	}
	return dst
}

// Extremes appends to dst the points of an arc's inside and ends at which x or y is
// extreme on its circle, and returns it; a line has none.
func (e *Edge) Extremes(dst []r2.Point) []r2.Point {
	if !e.Arc {
		return dst
	}
	c, r := e.Center, e.Radius
	for _, q := range [4]r2.Point{{X: c.X + r, Y: c.Y}, {X: c.X - r, Y: c.Y}, {X: c.X, Y: c.Y + r}, {X: c.X, Y: c.Y - r}} {
		if _, on := e.Share(q); on {
			dst = append(dst, q)
		}
	}
	return dst
}

// Part returns the stretch of a segment between two shares of its length, t0 <= t1. Shares beyond
// 0 and 1 count as these when both ends lie there.
func (s Seg) Part(t0, t1 float64) Seg {
	if t0 <= 0 && t1 >= 1 {
		return s
	}
	out := Seg{A: s.At(t0), B: s.At(t1)}
	if s.Bulge != 0 && s.IsArc() {
		out.Bulge = math.Tan((t1 - t0) * float64(s.Sweep()) / 4)
	}
	return out
}

// lineMeetsCircle appends the points at which the line through a along d crosses the
// circle; a tangent has none.
func lineMeetsCircle(dst []r2.Point, a, d, c r2.Point, r float64) []r2.Point {
	n := math.Hypot(d.X, d.Y)
	if n < Coincident {
		return dst
	}
	u, v := d.Mul(1/n), c.Sub(a)
	foot := v.Dot(u)
	off := float64(v.X*u.Y) - float64(v.Y*u.X)
	q := float64((r - off) * (r + off))
	if q <= 0 {
		return dst
	}
	h := math.Sqrt(q)
	return append(dst, a.Add(u.Mul(foot-h)), a.Add(u.Mul(foot+h)))
}

// circlesMeet appends the points at which two circles cross; those that touch have none.
func circlesMeet(dst []r2.Point, a r2.Point, ra float64, b r2.Point, rb float64) []r2.Point {
	d := b.Sub(a)
	n := math.Hypot(d.X, d.Y)
	if n < Coincident || n > ra+rb || n < math.Abs(ra-rb) {
		return dst
	}
	x := (float64(n*n) + float64((ra-rb)*(ra+rb))) / (2 * n)
	q := float64((ra - x) * (ra + x))
	if q <= 0 {
		return dst
	}
	h := math.Sqrt(q)
	u := d.Mul(1 / n)
	v := r2.Point{X: -u.Y, Y: u.X}
	return append(dst, a.Add(u.Mul(x)).Add(v.Mul(h)), a.Add(u.Mul(x)).Sub(v.Mul(h)))
}
