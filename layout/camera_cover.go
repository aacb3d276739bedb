package layout

import (
	"math"

	"github.com/golang/geo/r3"

	"dryfit/geom"
)

// tiltCoverTol is how far, in mm, the cover of a tilting camera may reach beyond what
// the camera really sweeps.
const tiltCoverTol = 0.05

// rimCorners is the number of corners of the polygon that is put round the rim of a
// lens: it reaches r(1/cos(π/32) - 1) = 0.005·r beyond it.
const rimCorners = 32

// boxCorners lists the corners of the case, from the side-screw axis.
func boxCorners(f cameraFigures) []r3.Vector {
	var out []r3.Vector
	for _, x := range []float64{f.back, f.caseFront} {
		for _, y := range []float64{-f.width / 2, f.width / 2} {
			for _, z := range []float64{-f.height / 2, f.height / 2} {
				out = append(out, r3.Vector{X: x, Y: y, Z: z})
			}
		}
	}
	return out
}

// lensRims lists the corners of the polygons round both ends of the lens.
func lensRims(f cameraFigures) []r3.Vector {
	var out []r3.Vector
	r := f.lens / 2 / math.Cos(math.Pi/rimCorners)
	for i := range rimCorners {
		s, c := math.Sincos(2 * math.Pi * float64(i) / rimCorners)
		out = append(out, r3.Vector{X: f.caseFront, Y: r * c, Z: r * s}, r3.Vector{X: f.lensFront, Y: r * c, Z: r * s})
	}
	return out
}

// tiltCover returns convex pieces that together hold all that the hull of the points
// sweeps when it tilts from lo to hi degrees about the y axis, up positive (x towards z).
//
// The range is cut in equal steps. A point at distance ρ from the axis moves on an arc,
// which lies within ρ(1 - cos(step/2)) of its chord; so the hull of the points at both
// ends of a step, grown by that much for the farthest point, holds the whole step. The
// steps are as many as keep that growth within tiltCoverTol.
func tiltCover(points []r3.Vector, lo, hi float64) []geom.Convex {
	rho := 0.0
	for _, p := range points {
		rho = max(rho, math.Hypot(p.X, p.Z))
	}
	span := (hi - lo) * math.Pi / 180
	steps := 1
	if span > 0 && rho > tiltCoverTol {
		steps = int(math.Ceil(span / (2 * math.Acos(1-tiltCoverTol/rho))))
	}
	grow := rho * (1 - math.Cos(span/float64(steps)/2))
	at := func(i int) []r3.Vector {
		sin, cos := geom.SinCos(degrees(lo + (hi-lo)*float64(i)/float64(steps)))
		out := make([]r3.Vector, len(points))
		for k, p := range points {
			out[k] = r3.Vector{X: cos*p.X - sin*p.Z, Y: p.Y, Z: sin*p.X + cos*p.Z}
		}
		return out
	}
	var out []geom.Convex
	for i := range steps {
		both := at(i)
		if span > 0 {
			both = append(both, at(i+1)...)
		}
		c, err := geom.NewHull(both)
		if err == nil && grow > 0 {
			c, err = c.Grow(grow)
		}
		if err == nil {
			out = append(out, c)
		}
	}
	return out
}
