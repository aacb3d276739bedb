package drawing

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// circleFit returns the circle that a loop follows to within tol, if there is one. drawn
// tells that the loop is a circle to within rounding.
func circleFit(l geom.Loop, tol float64) (c r2.Point, r float64, drawn, ok bool) {
	const most = 4096 // segments: no hole is drawn with more
	if size := l.Bound().Size(); math.Abs(size.X-size.Y) > 2*tol || l.Len() > most {
		return c, 0, false, false
	}
	c, r, off := geom.FitCircle(l)
	return c, r, off < 1e-9, off <= tol && r > tol
}
