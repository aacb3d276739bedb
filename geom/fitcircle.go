package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// fitStep is the most that an arc turns between two of the points to which a circle is
// fitted: on an arc of nearly the circle's radius what lies between them is then as near as
// they are.
const fitStep = math.Pi / 12

// FitCircle returns the circle that lies nearest to points along the loop, and how far the
// worst of them lies off it, in mm. The points are the corners, at least one between two,
// and on arcs one every 15° at most. The circle is that of least squares of (distance² -
// radius²), the algebraic fit of Kåsa (A circle fitting procedure and its error analysis,
// IEEE Transactions on Instrumentation and Measurement 25, 1976), which for points on one
// circle is that circle to within rounding.
//
// The centre lies at the origin and off is +Inf for the empty loop and for one without
// width in some direction.
func FitCircle(l Loop) (c r2.Point, radius, off float64) {
	none := math.Inf(1)
	if l.IsEmpty() {
		return c, 0, none
	}
	var points []r2.Point
	for _, s := range l.Segs() {
		n := 2 + int(math.Abs(s.Sweep().Radians())/fitStep)
		for k := range n {
			points = append(points, s.At(float64(k)/float64(n)))
		}
	}
	o := l.Bound().Center()
	var sx, sy, sxx, sxy, syy, sxz, syz, sz float64
	for _, p := range points {
		x, y := p.X-o.X, p.Y-o.Y
		z := float64(x*x) + float64(y*y)
		sx, sy, sz = sx+x, sy+y, sz+z
		sxx, sxy, syy = sxx+x*x, sxy+x*y, syy+y*y
		sxz, syz = sxz+x*z, syz+y*z
	}
	// Least Σ(x² + y² - 2ax - 2by - k)²: two equations for the centre (a, b) about the means.
	n := float64(len(points))
	mx, my, mz := sx/n, sy/n, sz/n
	a11, a12, a22 := sxx-n*mx*mx, sxy-n*mx*my, syy-n*my*my
	b1, b2 := (sxz-n*mx*mz)/2, (syz-n*my*mz)/2
	det := float64(a11*a22) - float64(a12*a12)
	if !(det > 1e-12*a11*a22) {
		return c, 0, none
	}
	cx, cy := (float64(b1*a22)-float64(b2*a12))/det, (float64(a11*b2)-float64(a12*b1))/det
	r := math.Sqrt(max(0, mz-2*(cx*mx+cy*my)+cx*cx+cy*cy))
	c = r2.Point{X: o.X + cx, Y: o.Y + cy}
	for _, p := range points {
		off = max(off, math.Abs(p.Sub(c).Norm()-r))
	}
	return c, r, off
}
