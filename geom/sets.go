package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// DistanceSets returns the gap between two sets of regions: the least distance of any
// pair, or the move of all of b that parts it from all of a, see [Gap]. Overlaps of more
// than one region a side are bounds, not exact.
func DistanceSets(a, b []Region) Gap {
	if len(a) == 1 && len(b) == 1 {
		return Distance(a[0], b[0])
	}
	c, st := separationSets(a, b, r2.Point{}, math.Inf(1), 0)
	switch {
	case st == apart && c.a == nil:
		return Gap{Dist: math.Inf(1)}
	case st == apart:
		return c.gap(r2.Point{})
	}
	return overlapSets(a, b, r2.Point{}, c)
}
