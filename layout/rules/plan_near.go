package rules

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// nearInPlan is geom.DistanceSets for callers that ask how far two plans are apart, if at
// all: it does not look for the least way out of an overlap, which costs most. Plans that
// overlap or touch have Dist -1, and A and B between their middles.
func nearInPlan(a, b []geom.Region) geom.Gap {
	if at, ok := meetInPlan(a, b); ok {
		return geom.Gap{Dist: -1, A: at, B: at}
	}
	return geom.DistanceSets(a, b)
}

// meetInPlan reports whether two plans overlap or touch, with the middle between the
// middles of two regions that do.
func meetInPlan(a, b []geom.Region) (at r2.Point, ok bool) {
	for _, p := range a {
		for _, q := range b {
			if geom.Separation(p, q) <= 0 {
				return p.Bound().Center().Add(q.Bound().Center()).Mul(0.5), true
			}
		}
	}
	return at, false
}

// overlapInPlan reports whether two plans have more than their edges in common.
func overlapInPlan(a, b []geom.Region) bool {
	for _, p := range a {
		for _, q := range b {
			if geom.IsCloser(p, q, 0) {
				return true
			}
		}
	}
	return false
}
