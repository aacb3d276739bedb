package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// MirrorAxes lists unit directions in which an axis of symmetry of g through c, in mm, may
// run; every one that there is lies among them if c is the centre of the outline. An axis
// meets the outline at a corner or in the middle of an edge, and takes the first hole off
// the middle to one whose area differs by less than area mm² and whose distance from c by
// less than far mm. Along x and y come first, also of the empty region; no direction comes
// twice, within 1e-9. Of a circle any direction is an axis, and only some are listed.
func (g Region) MirrorAxes(c r2.Point, area, far float64) []r2.Point {
	out := []r2.Point{{X: 1}, {Y: 1}}
	add := func(d r2.Point) {
		n := d.Norm()
		if n < 1e-6 {
			return
		}
		d = d.Mul(1 / n)
		for _, e := range out {
			if math.Abs(d.Cross(e)) < 1e-9 {
				return
			}
		}
		out = append(out, d)
	}
	for _, s := range g.Outer.Segs() {
		add(s.A.Sub(c))
		add(s.At(0.5).Sub(c))
	}
	var at []r2.Point
	var areas []float64
	for _, h := range g.Holes {
		at = append(at, h.Centroid().Sub(c))
		areas = append(areas, math.Abs(h.Area()))
	}
	for i := range at {
		add(at[i])
		if at[i].Norm() < 1e-6 {
			continue
		}
		// Where one hole goes decides the axis; more than the first off the middle need not be tried.
		for k := range at {
			if math.Abs(areas[i]-areas[k]) < area && math.Abs(at[i].Norm()-at[k].Norm()) < far {
				add(at[i].Mul(1 / at[i].Norm()).Add(at[k].Mul(1 / at[k].Norm())))
				add(at[i].Sub(at[k]).Ortho())
			}
		}
		break
	}
	return out
}
