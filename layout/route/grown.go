package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// grownLoops returns the outline of a region grown by d, mm. Posts, screw heads, boards and most other things are convex:
// there it is known at once.
func grownLoops(r geom.Region, d float64) []geom.Loop {
	if len(r.Holes) == 0 && r.Outer.IsConvex() {
		if l, ok := grownConvex(r.Outer, d); ok {
			return []geom.Loop{l}
		}
	}
	grown, err := geom.Offset([]geom.Region{r}, d)
	if err != nil {
		return nil
	}
	var out []geom.Loop
	for _, g := range grown {
		for l := range g.Loops() {
			out = append(out, l)
		}
	}
	return out
}

// smoothTurn is the turn in rad up to which two pieces count as one smooth line.
const smoothTurn = 1e-9

// grownConvex returns a convex loop grown by d: each piece moved outwards, with an arc round each corner.
func grownConvex(l geom.Loop, d float64) (geom.Loop, bool) {
	l = l.CCW()
	var v []geom.Vertex
	out := func(p, u r2.Point) r2.Point { return r2.Point{X: p.X + d*u.Y, Y: p.Y - d*u.X} }
	for i, s := range l.Segs() {
		u := s.Tangent(1)
		v = append(v, geom.Vertex{P: out(s.A, s.Tangent(0)), Bulge: s.Bulge})
		next := l.Seg((i + 1) % l.Len()).Tangent(0)
		if turn := math.Atan2(u.Cross(next), u.Dot(next)); turn > smoothTurn {
			v = append(v, geom.Vertex{P: out(s.B, u), Bulge: math.Tan(turn / 4)})
		}
	}
	g, err := geom.NewLoop(v)
	return g, err == nil
}
