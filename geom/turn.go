package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Turn returns the angle by which from has to turn to point along to, counter-clockwise
// positive, in (−π, π]. Where one of them is the zero vector it is 0. It errs by a few
// units in the last place of the angle, however small that is.
func Turn(from, to r2.Point) s1.Angle {
	return s1.Angle(math.Atan2(float64(from.X*to.Y)-float64(from.Y*to.X), float64(from.X*to.X)+float64(from.Y*to.Y)))
}

// Heading returns the angle of a direction, counter-clockwise from the x axis, in (−π, π]; 0 of
// the zero vector.
func Heading(d r2.Point) s1.Angle { return s1.Angle(math.Atan2(d.Y, d.X)) }

// Turn returns by how much the loop turns at vertex i (taken modulo its length), from the
// tangent of the piece that comes in to that of the piece that goes out, left positive, in
// (−π, π]. With the material on the left (outer edges counter-clockwise, holes clockwise) a
// negative turn is an inside corner. The empty loop turns by 0.
func (l Loop) Turn(i int) s1.Angle {
	n := l.Len()
	if n == 0 {
		return 0
	}
	i = ((i % n) + n) % n
	return Turn(l.Seg((i+n-1)%n).Tangent(1), l.Seg(i).Tangent(0))
}

// Upend returns the motion that lays the z axis along axis, by the least turn, and moves
// the origin to p. Along −z it turns about the x axis; a zero axis only moves.
func Upend(axis, p r3.Vector) Pose3 {
	z := r3.Vector{Z: 1}
	across := z.Cross(axis)
	if across.Norm() <= 1e-12*axis.Norm() {
		if axis.Z < 0 {
			across = r3.Vector{X: 1}
		} else {
			return Shift3(p)
		}
	}
	t := Rotation3(r3.Vector{}, across, z.Angle(axis))
	t.T = p
	return t
}

// Line3 is a straight piece in space, lengths in mm.
type Line3 struct{ A, B r3.Vector }

// Nearest returns the point of the piece nearest to p, its share of the length (0 at A, 1
// at B) and its distance from p in mm. A piece without length is its point A.
func (l Line3) Nearest(p r3.Vector) (q r3.Vector, t, dist float64) {
	v, t := nearestOnSegment(l.A.Sub(p), l.B.Sub(p))
	return p.Add(v), t, v.Norm()
}
