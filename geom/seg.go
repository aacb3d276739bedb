package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Seg is a directed straight line or circular arc from A to B. The bulge is the tangent
// of a quarter of the arc's sweep: 0 for a line, 1 for a half circle, positive when the
// arc turns counter-clockwise (it then lies to the right of the chord from A to B).
//
// The zero value is the point at the origin. Methods accept any values; where A and B
// coincide the segment is that point.
type Seg struct {
	A, B  r2.Point // mm
	Bulge float64
}

// IsArc reports whether the segment is an arc: its bulge is not 0 and its height over
// the chord is more than 1e-10 mm.
func (s Seg) IsArc() bool {
	if s.Bulge == 0 {
		return false
	}
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	if d := (dx*dx + dy*dy) * s.Bulge * s.Bulge; d > 1e-16 && d < 1e200 {
		return true // far from both limits
	}
	h := 0.5 * s.chord() * math.Abs(s.Bulge)
	return h > flatSagitta && !math.IsInf(h, 0)
}

func (s Seg) chord() float64 { return math.Hypot(s.B.X-s.A.X, s.B.Y-s.A.Y) }

// Center returns the centre of the arc; for a line, the middle of A and B.
//
// With the chord d = B - A and the bulge b the centre lies (1-b²)/(4b)·|d| to the left
// of the middle of the chord: half the chord times the cotangent of half the sweep.
func (s Seg) Center() r2.Point {
	mx, my := s.A.X+(s.B.X-s.A.X)/2, s.A.Y+(s.B.Y-s.A.Y)/2
	if !s.IsArc() {
		return r2.Point{X: mx, Y: my}
	}
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	k := (1 - s.Bulge) * (1 + s.Bulge) / (4 * s.Bulge)
	return r2.Point{X: mx - float64(k*dy), Y: my + float64(k*dx)}
}

// Radius returns the radius of the arc in mm, 0 for a line.
func (s Seg) Radius() float64 {
	if !s.IsArc() {
		return 0
	}
	b := math.Abs(s.Bulge)
	return s.chord() * (1/b + b) / 4
}

// Sweep returns the signed angle that the arc turns through, within ±2π; 0 for a line.
func (s Seg) Sweep() s1.Angle {
	if !s.IsArc() {
		return 0
	}
	return s1.Angle(4 * math.Atan(s.Bulge))
}

// Length returns the length along the segment in mm.
func (s Seg) Length() float64 {
	if !s.IsArc() {
		return s.chord()
	}
	return s.Radius() * math.Abs(4*math.Atan(s.Bulge))
}

// At returns the point at the share t of the length; t is clamped to 0..1, At(0) is A
// and At(1) is B exactly.
//
// On an arc the point is A plus the chord to it, whose length is 2·r·sin(φ/2) and whose
// direction is the starting tangent turned by φ/2. This needs no centre and keeps its
// accuracy on arcs of any radius.
func (s Seg) At(t float64) r2.Point {
	if !(t > 0) {
		return s.A
	}
	if t >= 1 {
		return s.B
	}
	if !s.IsArc() {
		return r2.Point{
			X: s.A.X + float64(t*(s.B.X-s.A.X)),
			Y: s.A.Y + float64(t*(s.B.Y-s.A.Y)),
		}
	}
	// The chord from A to the point makes the angle (t-1)·sweep/2 with the chord A to B,
	// and is sin(t·sweep/2)/sin(sweep/2) times as long.
	half := 2 * math.Atan(s.Bulge)
	k := math.Sin(t*half) / math.Sin(half)
	sn, cs := math.Sincos((t - 1) * half)
	dx, dy := k*(s.B.X-s.A.X), k*(s.B.Y-s.A.Y)
	return r2.Point{
		X: s.A.X + float64(cs*dx) - float64(sn*dy),
		Y: s.A.Y + float64(sn*dx) + float64(cs*dy),
	}
}

// Tangent returns the unit direction of travel at the share t of the length (clamped to
// 0..1); the zero vector if A and B coincide.
func (s Seg) Tangent(t float64) r2.Point {
	c := s.chord()
	if !(c > 0) || math.IsInf(c, 0) {
		return r2.Point{}
	}
	u := r2.Point{X: (s.B.X - s.A.X) / c, Y: (s.B.Y - s.A.Y) / c}
	if !s.IsArc() {
		return u
	}
	t = math.Max(0, math.Min(1, t))
	if math.IsNaN(t) {
		t = 0
	}
	sn, cs := math.Sincos((2*t - 1) * 2 * math.Atan(s.Bulge))
	return r2.Point{X: float64(cs*u.X) - float64(sn*u.Y), Y: float64(sn*u.X) + float64(cs*u.Y)}
}

// Reverse returns the same points run through from B to A.
func (s Seg) Reverse() Seg { return Seg{A: s.B, B: s.A, Bulge: -s.Bulge} }

// Transform returns the segment moved; a mirror turns the arc the other way.
func (s Seg) Transform(t Pose2) Seg {
	b := s.Bulge
	if t.Mirror {
		b = -b
	}
	return Seg{A: t.Apply(s.A), B: t.Apply(s.B), Bulge: b}
}

// Bound returns the least axis-parallel box of the segment.
func (s Seg) Bound() Rect {
	box := EmptyRect().Add(s.A).Add(s.B)
	if !s.IsArc() {
		return box
	}
	for _, e := range s.extremes() {
		if e.inside {
			box = box.Add(e.p)
		}
	}
	return box
}

// An extreme of an arc is the point farthest to the right, up, left or down.
type extreme struct {
	p      r2.Point
	t      float64 // the share of the arc's length before it
	inside bool    // it lies on the arc, not at an end
}

// extremes returns the extremes of an arc in the order of travel. On arcs of large radius
// they are found along the arc, since the centre plus the radius would cancel.
func (s Seg) extremes() [4]extreme {
	const quarter = math.Pi / 2
	c, r := s.Center(), s.Radius()
	sweep := 4 * math.Atan(s.Bulge)
	start := math.Atan2(s.A.Y-c.Y, s.A.X-c.X)
	k, step := math.Floor(start/quarter)+1, 1.0
	if sweep < 0 {
		k, step = math.Ceil(start/quarter)-1, -1
	}
	var out [4]extreme
	for i := range out {
		e := extreme{t: (k*quarter - start) / sweep}
		if e.inside = e.t > 0 && e.t < 1; e.inside {
			switch int(math.Mod(k+8, 4)) {
			case 0:
				e.p = r2.Point{X: c.X + r, Y: c.Y}
			case 1:
				e.p = r2.Point{X: c.X, Y: c.Y + r}
			case 2:
				e.p = r2.Point{X: c.X - r, Y: c.Y}
			default:
				e.p = r2.Point{X: c.X, Y: c.Y - r}
			}
			if r >= shallowRadius {
				e.p = s.At(e.t)
			}
		}
		out[i] = e
		k += step
	}
	return out
}
