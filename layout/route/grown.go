package route

import "dryfit/geom"

// grownLoops returns the outline of a region grown by d, mm. Posts, screw heads, boards and most other things are convex:
// there it is known at once.
func grownLoops(r geom.Region, d float64) []geom.Loop {
	if len(r.Holes) == 0 {
		if l, ok := r.Outer.GrowConvex(d); ok {
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
