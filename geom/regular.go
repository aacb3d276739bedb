package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// FitRegular returns the regular polygon that lies nearest to points given counter-clockwise in
// the order of its corners, by least squares: centre, radius in mm and the angle of its first
// corner. With the points as complex numbers z the centre is their mean, and the mean of
// z·e^(-2πik/n) is radius and angle. No points give zeros; one is a polygon of radius 0.
func FitRegular(points []r2.Point) (c r2.Point, radius float64, turn s1.Angle) {
	n := float64(len(points))
	for _, p := range points {
		c = c.Add(p.Mul(1 / n))
	}
	var mean r2.Point
	for k, p := range points {
		sn, cs := SinCos(s1.Angle(-2 * math.Pi * float64(k) / n))
		v := p.Sub(c)
		mean.X += (float64(v.X*cs) - float64(v.Y*sn)) / n
		mean.Y += (float64(v.X*sn) + float64(v.Y*cs)) / n
	}
	return c, mean.Norm(), Heading(mean)
}
