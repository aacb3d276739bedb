package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// smoothTurn is the turn in rad up to which two pieces count as one smooth line.
const smoothTurn = 1e-9

// GrowConvex returns a convex loop grown by d mm, counter-clockwise, as [Offset] does and far quicker: each
// piece moved outwards, with an arc round each corner. False if the loop is not convex or
// empty, d is negative, or the result is no loop.
func (l Loop) GrowConvex(d float64) (Loop, bool) {
	if !l.IsConvex() || !(d >= 0) {
		return Loop{}, false
	}
	l = l.CCW()
	var v []Vertex
	out := func(p, u r2.Point) r2.Point { return r2.Point{X: p.X + d*u.Y, Y: p.Y - d*u.X} }
	for i, s := range l.Segs() {
		u := s.Tangent(1)
		v = append(v, Vertex{P: out(s.A, s.Tangent(0)), Bulge: s.Bulge})
		next := l.Seg((i + 1) % l.Len()).Tangent(0)
		if turn := math.Atan2(u.Cross(next), u.Dot(next)); turn > smoothTurn {
			v = append(v, Vertex{P: out(s.B, u), Bulge: math.Tan(turn / 4)})
		}
	}
	g, err := NewLoop(v)
	return g, err == nil
}
