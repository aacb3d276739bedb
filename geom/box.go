package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// Box is an axis-parallel box in space, closed on all sides. Its zero value is the
// single point at the origin; use [EmptyBox] to start a union.
type Box struct{ Lo, Hi r3.Vector }

// EmptyBox returns the box that holds nothing and is neutral in [Box.Union].
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Lo: r3.Vector{X: inf, Y: inf, Z: inf}, Hi: r3.Vector{X: -inf, Y: -inf, Z: -inf}}
}

// IsEmpty reports whether the box holds no point. A box with a NaN in it is empty.
func (b Box) IsEmpty() bool {
	return !(b.Lo.X <= b.Hi.X && b.Lo.Y <= b.Hi.Y && b.Lo.Z <= b.Hi.Z)
}

// Union returns the least box that holds both.
func (b Box) Union(c Box) Box {
	if b.IsEmpty() {
		return c
	}
	if c.IsEmpty() {
		return b
	}
	return Box{
		Lo: r3.Vector{X: min(b.Lo.X, c.Lo.X), Y: min(b.Lo.Y, c.Lo.Y), Z: min(b.Lo.Z, c.Lo.Z)},
		Hi: r3.Vector{X: max(b.Hi.X, c.Hi.X), Y: max(b.Hi.Y, c.Hi.Y), Z: max(b.Hi.Z, c.Hi.Z)},
	}
}

// Add returns the least box that holds b and p.
func (b Box) Add(p r3.Vector) Box { return b.Union(Box{Lo: p, Hi: p}) }

// Expand returns the box grown by d mm on every side (shrunk for negative d, to the
// empty box when nothing is left). An empty box stays empty.
func (b Box) Expand(d float64) Box {
	if b.IsEmpty() {
		return EmptyBox()
	}
	v := r3.Vector{X: d, Y: d, Z: d}
	e := Box{Lo: b.Lo.Sub(v), Hi: b.Hi.Add(v)}
	if e.IsEmpty() {
		return EmptyBox()
	}
	return e
}

// Intersects reports whether the boxes share a point; touching counts.
func (b Box) Intersects(c Box) bool {
	return b.Lo.X <= c.Hi.X && c.Lo.X <= b.Hi.X &&
		b.Lo.Y <= c.Hi.Y && c.Lo.Y <= b.Hi.Y &&
		b.Lo.Z <= c.Hi.Z && c.Lo.Z <= b.Hi.Z
}

// Contains reports whether p lies in the box or on its surface.
func (b Box) Contains(p r3.Vector) bool {
	return b.Lo.X <= p.X && p.X <= b.Hi.X && b.Lo.Y <= p.Y && p.Y <= b.Hi.Y && b.Lo.Z <= p.Z && p.Z <= b.Hi.Z
}

// Center returns the middle of the box, the origin for an empty one.
func (b Box) Center() r3.Vector {
	if b.IsEmpty() {
		return r3.Vector{}
	}
	return r3.Vector{
		X: b.Lo.X + (b.Hi.X-b.Lo.X)/2,
		Y: b.Lo.Y + (b.Hi.Y-b.Lo.Y)/2,
		Z: b.Lo.Z + (b.Hi.Z-b.Lo.Z)/2,
	}
}

// Size returns the extents in mm, zero for an empty box.
func (b Box) Size() r3.Vector {
	if b.IsEmpty() {
		return r3.Vector{}
	}
	return b.Hi.Sub(b.Lo)
}

// Distance returns the distance between the boxes: 0 if they share a point, +Inf if
// either is empty.
func (b Box) Distance(c Box) float64 {
	if b.IsEmpty() || c.IsEmpty() {
		return math.Inf(1)
	}
	return math.Sqrt(b.distance2(&c))
}

// distance2 is the square of the distance of two boxes that are not empty.
func (b *Box) distance2(c *Box) float64 {
	gap := func(a, b float64) float64 { // as max(0, a, b), without its care for NaN
		if a > b {
			b = a
		}
		if b > 0 {
			return b
		}
		return 0
	}
	dx := gap(b.Lo.X-c.Hi.X, c.Lo.X-b.Hi.X)
	dy := gap(b.Lo.Y-c.Hi.Y, c.Lo.Y-b.Hi.Y)
	dz := gap(b.Lo.Z-c.Hi.Z, c.Lo.Z-b.Hi.Z)
	return float64(dx*dx) + float64(dy*dy) + float64(dz*dz)
}
