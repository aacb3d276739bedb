package geom

import (
	"fmt"

	"github.com/golang/geo/r2"
)

// ViolationKind says which rule a loop or region breaks.
type ViolationKind int

// The rules. A valid loop breaks none of the first group, a valid region none at all.
const (
	BadCoordinate  ViolationKind = iota + 1 // a coordinate is not finite or beyond 1e7 mm
	BadBulge                                // a bulge is not finite or beyond 1e6
	TooFewVertices                          // fewer than two vertices, or two and no arc
	NoArea                                  // the loop encloses no area
	SelfCrossing                            // the boundary crosses itself
	SelfTouching                            // the boundary touches or runs along itself

	EmptyOuter   // the outer loop is empty
	HoleOutside  // a hole does not lie inside the outer loop
	HoleCrosses  // a hole crosses the outer loop or another hole
	HoleInHole   // a hole lies inside another hole
	HoleTouching // a hole touches the outer loop or another hole
)

var violationText = [...]string{
	BadCoordinate:  "a coordinate is not finite or lies beyond 1e7 mm",
	BadBulge:       "a bulge is not finite or beyond 1e6",
	TooFewVertices: "too few distinct vertices for a loop",
	NoArea:         "the loop encloses no area",
	SelfCrossing:   "the boundary crosses itself",
	SelfTouching:   "the boundary touches itself",
	EmptyOuter:     "the outer loop is empty",
	HoleOutside:    "a hole lies outside the outer loop",
	HoleCrosses:    "a hole crosses another loop",
	HoleInHole:     "a hole lies inside another hole",
	HoleTouching:   "a hole touches another loop",
}

// String returns the rule in words.
func (k ViolationKind) String() string {
	if k >= 1 && int(k) < len(violationText) {
		return violationText[k]
	}
	return "unknown violation"
}

// Violation tells which rule a loop or region breaks and where.
type Violation struct {
	Kind  ViolationKind
	At    r2.Point // a place where the rule is broken
	Index int      // the vertex, segment or hole concerned, counted from 0
}

// Error gives the rule and the place.
func (v *Violation) Error() string {
	return fmt.Sprintf("%v at (%.6g, %.6g)", v.Kind, v.At.X, v.At.Y)
}
