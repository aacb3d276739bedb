package layout

import (
	"github.com/golang/geo/r3"

	"dryfit/geom"
)

// tiltCoverTol is how far, in mm, each piece of the cover of a tilting camera may reach
// beyond the convex hull of what it covers.
const tiltCoverTol = 0.05

// rimCorners is the number of corners of the polygon that is put round the rim of a
// lens: it reaches 0.005 of the lens' radius beyond it.
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
	for _, x := range []float64{f.caseFront, f.lensFront} {
		out = append(out, geom.RimPolygon(r3.Vector{X: x}, r3.Vector{Y: 1}, r3.Vector{Z: 1}, f.lens/2, rimCorners)...)
	}
	return out
}

// tiltCover returns convex pieces that together hold all that the hull of the points
// sweeps when it tilts from lo to hi degrees about the y axis, up positive (x towards z).
func tiltCover(points []r3.Vector, lo, hi float64) ([]geom.Convex, error) {
	return geom.TiltHulls(points, r3.Vector{}, r3.Vector{Y: -1}, degrees(lo), degrees(hi), tiltCoverTol)
}
