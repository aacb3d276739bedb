package geom

import (
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Upright is the set of all points over a plan (one or more regions, concave and with
// holes if need be) between two heights in mm. It is empty if no region of the plan
// holds a point or the interval is empty; the interval [0, 0] of the zero value is not.
type Upright struct {
	Plan []Region
	Z    r1.Interval
}

// IsEmpty reports whether the body holds no point.
func (u Upright) IsEmpty() bool {
	if !(u.Z.Lo <= u.Z.Hi) {
		return true
	}
	for i := range u.Plan {
		if !u.Plan[i].IsEmpty() {
			return false
		}
	}
	return true
}

// Bound returns the least axis-parallel box that holds the body.
func (u Upright) Bound() Box {
	r := EmptyRect()
	for i := range u.Plan {
		r = r.Union(u.Plan[i].Bound())
	}
	if r.IsEmpty() || !(u.Z.Lo <= u.Z.Hi) {
		return EmptyBox()
	}
	return Box{
		Lo: r3.Vector{X: r.Lo.X, Y: r.Lo.Y, Z: u.Z.Lo},
		Hi: r3.Vector{X: r.Hi.X, Y: r.Hi.Y, Z: u.Z.Hi},
	}
}

// Support returns a point of the body farthest along dir, the origin for none.
func (u Upright) Support(dir r3.Vector) r3.Vector {
	if u.IsEmpty() {
		return r3.Vector{}
	}
	d, ok := unit(dir)
	if !ok {
		d = r3.Vector{Z: 1}
	}
	p := r3.Vector{Z: u.Z.Lo}
	if d.Z > 0 {
		p.Z = u.Z.Hi
	}
	best := math.Inf(-1)
	take := func(x, y float64) {
		if h := x*d.X + y*d.Y; h > best {
			best, p.X, p.Y = h, x, y
		}
	}
	flat := math.Hypot(d.X, d.Y)
	for i := range u.Plan {
		if u.Plan[i].IsEmpty() {
			continue
		}
		pieces := u.Plan[i].Outer.d.pieces
		for j := range pieces {
			s := &pieces[j]
			take(s.ax, s.ay)
			if s.r > 0 && flat > 0 && s.facing(d.X, d.Y) {
				take(s.cx+s.r*d.X/flat, s.cy+s.r*d.Y/flat)
			}
		}
	}
	return p
}

// facing reports whether the ray from the centre of the arc along (x, y) meets the arc.
func (p *piece) facing(x, y float64) bool {
	ux, uy, wx, wy := p.ax-p.cx, p.ay-p.cy, p.bx-p.cx, p.by-p.cy
	if !p.ccw {
		ux, uy, wx, wy = wx, wy, ux, uy
	}
	return ux*y-uy*x >= 0 && x*wy-y*wx >= 0
}

// Transform returns the body moved in plan by p and up by dz mm.
func (u Upright) Transform(p Pose2, dz float64) Upright {
	plan := make([]Region, len(u.Plan))
	for i, r := range u.Plan {
		plan[i] = r.Transform(p)
	}
	return Upright{Plan: plan, Z: r1.Interval{Lo: u.Z.Lo + dz, Hi: u.Z.Hi + dz}}
}

// DiscBand returns what a flexing disc can reach: the upright cylinder of radius r
// about center from below + flexDown under it to above + flexUp over it (mm). Negative
// or non-finite amounts give the empty body.
func DiscBand(center r3.Vector, r, below, above, flexUp, flexDown float64) Upright {
	if !(r >= 0 && below >= 0 && above >= 0 && flexUp >= 0 && flexDown >= 0) || !finite3(center) {
		return Upright{Z: r1.EmptyInterval()}
	}
	return Upright{
		Plan: []Region{RegionOf(Circle(r2.Point{X: center.X, Y: center.Y}, r))},
		Z:    r1.Interval{Lo: center.Z - below - flexDown, Hi: center.Z + above + flexUp},
	}
}

func (u Upright) sealed() {}
