package geom

import (
	"github.com/golang/geo/r3"
)

// Body is a solid: an [Upright] or a [Convex]. No other types satisfy it, so that
// [DistanceBodies] covers every pair.
type Body interface {
	// Bound returns the least axis-parallel box that holds the body (empty for none).
	Bound() Box
	// Support returns a point of the body that lies farthest along dir.
	Support(dir r3.Vector) r3.Vector
	// IsEmpty reports whether the body holds no point.
	IsEmpty() bool
	sealed()
}

// Gap3 tells how two bodies a and b lie to each other.
//
// Dist > 0: they are apart by Dist mm; A on a and B on b are a nearest pair.
// Dist <= 0: they overlap or touch, and moving b by -Dist along Push parts them.
// Dist = +Inf: one of them is empty; the other fields are zero.
//
// In every finite case B - A = Dist * Push, with Push a unit vector: apart, it points
// from a to b, in overlap it is the way b has to go. A and B are then the points that
// come to touch by that move.
type Gap3 struct {
	Dist float64
	A, B r3.Vector
	Push r3.Vector
	// Exact reports that Dist is within 1e-6 mm of the truth for bodies of at most 2 m
	// within 10 m of the origin. Otherwise the bodies overlap, the move is proven to
	// part them, and a shorter one may exist.
	Exact bool
}

// Flip returns the same gap seen with the bodies exchanged.
func (g Gap3) Flip() Gap3 {
	g.A, g.B, g.Push = g.B, g.A, g.Push.Mul(-1)
	return g
}
