package geom

import (
	"iter"
	"math"

	"github.com/golang/geo/r2"
)

// Region is one connected piece of the plane: a filled outer loop less the open insides of
// its holes. Holes lie wholly inside the outer loop and apart from each other. [NewRegion]
// checks this; a Region written out literally is taken as it stands, of either orientation.
//
// The zero value is the empty region.
type Region struct {
	Outer Loop
	Holes []Loop
}

// NewRegion returns the region, outer loop counter-clockwise and holes clockwise, or the
// [*Violation] that keeps it from being one. Empty holes are dropped.
func NewRegion(outer Loop, holes ...Loop) (Region, error) {
	r := RegionOf(outer, holes...)
	if err := r.Validate(); err != nil {
		return Region{}, err
	}
	return r, nil
}

// RegionOf returns the region with orientations normalised and empty holes dropped, but
// not validated.
func RegionOf(outer Loop, holes ...Loop) Region {
	r := Region{Outer: outer.CCW()}
	for _, h := range holes {
		if h.IsEmpty() {
			continue
		}
		if h.Area() > 0 {
			h = h.Reverse()
		}
		r.Holes = append(r.Holes, h)
	}
	return r
}

// IsEmpty reports whether the region holds no point.
func (r Region) IsEmpty() bool { return r.Outer.IsEmpty() }

// Loops iterates over the outer loop and then the holes that are not empty; none for the
// empty region.
func (r Region) Loops() iter.Seq[Loop] {
	return func(yield func(Loop) bool) {
		if r.IsEmpty() || !yield(r.Outer) {
			return
		}
		for _, h := range r.Holes {
			if !h.IsEmpty() && !yield(h) {
				return
			}
		}
	}
}

// Bound returns the least axis-parallel box, the empty box for the empty region.
func (r Region) Bound() Rect { return r.Outer.Bound() }

// Area returns the area in mm², never negative for a valid region.
func (r Region) Area() float64 {
	if r.IsEmpty() {
		return 0
	}
	a := math.Abs(r.Outer.Area())
	for _, h := range r.Holes {
		a -= math.Abs(h.Area())
	}
	return a
}

// Moments returns the moments of the outer loop less those of the holes. The area is
// positive whatever the orientation of the loops.
func (r Region) Moments() Moments {
	if r.IsEmpty() {
		return Moments{}
	}
	mid := r.Bound().Center()
	m := r.Outer.raw(mid)
	if m.a < 0 {
		m = m.times(-1)
	}
	for _, h := range r.Holes {
		n := h.raw(mid)
		if n.a > 0 {
			n = n.times(-1)
		}
		m.add(n)
	}
	return m.about(mid, mid)
}

func (m raw) times(k float64) raw {
	return raw{k * m.a, k * m.x, k * m.y, k * m.xx, k * m.yy, k * m.xy}
}

// Contains reports whether p lies in the region or within 1e-9 mm of its boundary.
func (r Region) Contains(p r2.Point) bool {
	if !r.Outer.Contains(p) {
		return false
	}
	for _, h := range r.Holes {
		if h.d != nil && h.d.strictlyInside(p) {
			return false
		}
	}
	return true
}

// Transform returns the region moved by t. Orientations are normalised again after a
// mirror. If the result would lie beyond 1e7 mm or is not finite it is empty.
func (r Region) Transform(t Pose2) Region {
	holes := make([]Loop, len(r.Holes))
	for i, h := range r.Holes {
		holes[i] = h.Transform(t)
	}
	return RegionOf(r.Outer.Transform(t), holes...)
}
