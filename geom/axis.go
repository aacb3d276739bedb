package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// An Axis is a directed line in the plane through P along the unit vector U: a frame whose
// coordinates run along the line and across it, to the left.
type Axis struct {
	P r2.Point // mm
	U r2.Point // unit
}

// Coords returns where q lies: how far along the axis from P, and how far to its left, in mm.
func (a Axis) Coords(q r2.Point) (along, left float64) {
	d := q.Sub(a.P)
	return float64(d.X*a.U.X) + float64(d.Y*a.U.Y), float64(a.U.X*d.Y) - float64(a.U.Y*d.X)
}

// At returns the point at these coordinates.
func (a Axis) At(along, left float64) r2.Point {
	return a.P.Add(a.U.Mul(along)).Add(a.Left().Mul(left))
}

// Left returns the unit vector to the left of the axis: U turned by a quarter.
func (a Axis) Left() r2.Point { return r2.Point{X: -a.U.Y, Y: a.U.X} }

// Span returns the stretch of the axis round P that no edge cuts, as lengths along it: from the
// nearest edge behind P (lo < 0, -Inf for none) to the nearest one ahead (hi, +Inf for
// none). An edge through P itself counts as ahead. For P inside a loop that is the
// chord of the loop through P.
func (a Axis) Span(edges []Edge) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	var store [2]r2.Point
	for i := range edges {
		for _, q := range edges[i].MeetLine(a.P, a.U, store[:0]) {
			if y, _ := a.Coords(q); y < 0 {
				lo = max(lo, y)
			} else {
				hi = min(hi, y)
			}
		}
	}
	return lo, hi
}
