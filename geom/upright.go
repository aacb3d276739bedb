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
// For distances heights beyond [MaxCoord] count as MaxCoord.
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

// hold brings the heights within MaxCoord, so that their differences are numbers.
func (u *Upright) hold() {
	if u.Z.Lo <= u.Z.Hi {
		u.Z.Lo = max(-MaxCoord, min(MaxCoord, u.Z.Lo))
		u.Z.Hi = max(-MaxCoord, min(MaxCoord, u.Z.Hi))
	}
}

// Bound returns the least axis-parallel box that holds the body.
func (u Upright) Bound() Box {
	r := EmptyRect()
	if len(u.Plan) > 0 {
		r = u.Plan[0].Bound()
	}
	for i := 1; i < len(u.Plan); i++ {
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
	p.X, p.Y = farthestInPlan(u.Plan, d.X, d.Y)
	return p
}

// farthestInPlan returns a point of the regions farthest along (x, y).
func farthestInPlan(plan []Region, x, y float64) (px, py float64) {
	best := math.Inf(-1)
	flat := math.Sqrt(x*x + y*y)
	for i := range plan {
		if plan[i].Outer.d == nil {
			continue
		}
		pieces := plan[i].Outer.d.ready().pieces
		for j := range pieces {
			s := &pieces[j]
			if h := s.ax*x + s.ay*y; h > best {
				best, px, py = h, s.ax, s.ay
			}
			if s.r > 0 && flat > 1e-150 {
				if w := wallOf(s); w.facing(x, y) {
					ex, ey := s.cx+s.r/flat*x, s.cy+s.r/flat*y
					if h := ex*x + ey*y; h > best {
						best, px, py = h, ex, ey
					}
				}
			}
		}
	}
	return px, py
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
