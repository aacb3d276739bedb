package layout

import (
	"math"

	"github.com/golang/geo/r3"

	"dryfit/geom"
)

// tiltCoverTol is how far, in mm, each piece of the cover of a tilting camera may reach
// beyond the convex hull of what it covers.
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
func tiltCover(points []r3.Vector, lo, hi float64) ([]geom.Convex, error) {
	return geom.TiltHulls(points, r3.Vector{}, r3.Vector{Y: -1}, degrees(lo), degrees(hi), tiltCoverTol)
}
