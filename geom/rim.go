package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// RimPolygon returns the corners of the regular polygon of n sides that touches a circle in
// space from outside: about c, in the plane that the unit vectors u and v, at right angles
// to each other, span, of radius r mm. Its convex hull holds the disc and reaches
// r·(1/cos(π/n) − 1) beyond it at the corners, the first of which lies along u and the next
// towards v. Fewer than 3 sides cannot hold a disc and give nil; with r = 0 all corners lie
// at c.
func RimPolygon(c, u, v r3.Vector, r float64, n int) []r3.Vector {
	if n < 3 {
		return nil
	}
	out := make([]r3.Vector, n)
	far := r / math.Cos(math.Pi/float64(n))
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = c.Add(u.Mul(far * cos)).Add(v.Mul(far * sin))
	}
	return out
}
