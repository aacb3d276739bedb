package drawing

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// circleFit returns the circle that a loop follows to within tol, if there is one: the
// least-squares circle of points along it (the algebraic fit, which for points on a true
// circle is that circle). drawn tells that the loop is a circle to within rounding.
func circleFit(l geom.Loop, tol float64) (c r2.Point, r float64, drawn, ok bool) {
	size := l.Bound().Size()
	if n := l.Len(); math.Abs(size.X-size.Y) > 2*tol || n > 4096 {
		return c, 0, false, false
	}
	points := ringPoints(l)
	o := l.Bound().Center()
	var sx, sy, sxx, sxy, syy, sxz, syz, sz, n float64
	for _, p := range points {
		x, y := p.X-o.X, p.Y-o.Y
		z := x*x + y*y
		sx, sy, sz, n = sx+x, sy+y, sz+z, n+1
		sxx, sxy, syy = sxx+x*x, sxy+x*y, syy+y*y
		sxz, syz = sxz+x*z, syz+y*z
	}
	// Minimise Σ(x² + y² - 2ax - 2by - k)²: two equations for the centre about the means.
	mx, my, mz := sx/n, sy/n, sz/n
	a11, a12, a22 := sxx-n*mx*mx, sxy-n*mx*my, syy-n*my*my
	b1, b2 := (sxz-n*mx*mz)/2, (syz-n*my*mz)/2
	det := float64(a11*a22) - float64(a12*a12)
	if !(det > 1e-12*a11*a22) {
		return c, 0, false, false
	}
	cx, cy := (b1*a22-b2*a12)/det, (a11*b2-a12*b1)/det
	c = r2.Point{X: o.X + cx, Y: o.Y + cy}
	r = math.Sqrt(max(0, mz-2*(cx*mx+cy*my)+cx*cx+cy*cy))
	worst := 0.0
	for _, p := range points {
		worst = max(worst, math.Abs(p.Sub(c).Norm()-r))
	}
	return c, r, worst < 1e-9, worst <= tol && r > tol
}

// ringPoints returns points evenly along each segment, the corners among them: on arcs
// every 15° at most, so that between them an arc of nearly the circle's radius stays as
// near to it as at them.
func ringPoints(l geom.Loop) []r2.Point {
	var out []r2.Point
	for _, s := range l.Segs() {
		n := 2 + int(math.Abs(s.Sweep().Degrees())/15)
		for k := range n {
			out = append(out, s.At(float64(k)/float64(n)))
		}
	}
	return out
}
