package geom

import "github.com/golang/geo/r2"

// AreaFrom returns the signed area in mm² that the line from o to a point sweeps as the
// point runs along the segment, positive where it turns counter-clockwise: the triangle of
// o and the chord, and on an arc the circular segment beside the chord. Over the segments
// of a closed chain it adds up to the area inside, whatever o is; an o near the chain
// keeps the rounding small.
func (s Seg) AreaFrom(o r2.Point) float64 {
	a, b := s.A.Sub(o), s.B.Sub(o)
	area := triangle(a, b).a
	if s.IsArc() {
		area += circularSegment(Seg{A: a, B: b, Bulge: s.Bulge}).a
	}
	return area
}
