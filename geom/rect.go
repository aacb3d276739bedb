package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// Rect is an axis-parallel box, closed on all sides. Its zero value is the single
// point at the origin; use [EmptyRect] to start a union.
type Rect struct{ Lo, Hi r2.Point }

// EmptyRect returns the box that holds nothing and is neutral in [Rect.Union].
func EmptyRect() Rect {
	return Rect{
		Lo: r2.Point{X: math.Inf(1), Y: math.Inf(1)},
		Hi: r2.Point{X: math.Inf(-1), Y: math.Inf(-1)},
	}
}

// IsEmpty reports whether the box holds no point.
func (r Rect) IsEmpty() bool { return !(r.Lo.X <= r.Hi.X && r.Lo.Y <= r.Hi.Y) }

// Union returns the least box that holds both.
func (r Rect) Union(s Rect) Rect {
	return Rect{
		Lo: r2.Point{X: math.Min(r.Lo.X, s.Lo.X), Y: math.Min(r.Lo.Y, s.Lo.Y)},
		Hi: r2.Point{X: math.Max(r.Hi.X, s.Hi.X), Y: math.Max(r.Hi.Y, s.Hi.Y)},
	}
}

// Add returns the least box that holds r and p.
func (r Rect) Add(p r2.Point) Rect { return r.Union(Rect{Lo: p, Hi: p}) }

// Expand returns the box grown by d mm on every side (shrunk for negative d, to the
// empty box when nothing is left). An empty box stays empty.
func (r Rect) Expand(d float64) Rect {
	if r.IsEmpty() {
		return EmptyRect()
	}
	e := Rect{
		Lo: r2.Point{X: r.Lo.X - d, Y: r.Lo.Y - d},
		Hi: r2.Point{X: r.Hi.X + d, Y: r.Hi.Y + d},
	}
	if e.IsEmpty() {
		return EmptyRect()
	}
	return e
}

// Intersects reports whether the boxes share a point; touching counts.
func (r Rect) Intersects(s Rect) bool {
	return r.Lo.X <= s.Hi.X && s.Lo.X <= r.Hi.X && r.Lo.Y <= s.Hi.Y && s.Lo.Y <= r.Hi.Y
}

// Contains reports whether p lies in the box or on its edge.
func (r Rect) Contains(p r2.Point) bool {
	return r.Lo.X <= p.X && p.X <= r.Hi.X && r.Lo.Y <= p.Y && p.Y <= r.Hi.Y
}

// Center returns the middle of the box, the origin for an empty one.
func (r Rect) Center() r2.Point {
	if r.IsEmpty() {
		return r2.Point{}
	}
	return r2.Point{X: r.Lo.X + (r.Hi.X-r.Lo.X)/2, Y: r.Lo.Y + (r.Hi.Y-r.Lo.Y)/2}
}

// Size returns the extent along x and y in mm, zero for an empty box.
func (r Rect) Size() r2.Point {
	if r.IsEmpty() {
		return r2.Point{}
	}
	return r.Hi.Sub(r.Lo)
}

// Distance returns the distance between the boxes: 0 if they share a point, +Inf if
// either is empty.
func (r Rect) Distance(s Rect) float64 {
	if r.IsEmpty() || s.IsEmpty() {
		return math.Inf(1)
	}
	dx := math.Max(0, math.Max(r.Lo.X-s.Hi.X, s.Lo.X-r.Hi.X))
	dy := math.Max(0, math.Max(r.Lo.Y-s.Hi.Y, s.Lo.Y-r.Hi.Y))
	return math.Hypot(dx, dy)
}

// Away returns the distance from p to the box, mm: 0 within it, +Inf of the empty box.
func (r *Rect) Away(p r2.Point) float64 {
	x, y := max(0, r.Lo.X-p.X, p.X-r.Hi.X), max(0, r.Lo.Y-p.Y, p.Y-r.Hi.Y)
	return math.Sqrt(x*x + y*y)
}
