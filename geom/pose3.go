package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Pose3 is a rigid motion of space: the orthogonal matrix R (its three columns are the
// images of the x, y and z axes), then the shift T in mm. The zero value is the
// identity: an R of all zeros counts as the unit matrix.
type Pose3 struct {
	R [3]r3.Vector // columns; all zero means identity
	T r3.Vector    // mm, applied last
}

// RotX turns about the x axis, from y towards z. Multiples of 90° are exact.
func RotX(a s1.Angle) Pose3 {
	s, c := SinCos(a)
	return Pose3{R: [3]r3.Vector{{X: 1}, {Y: c, Z: s}, {Y: -s, Z: c}}}
}

// RotY turns about the y axis, from z towards x. Multiples of 90° are exact.
func RotY(a s1.Angle) Pose3 {
	s, c := SinCos(a)
	return Pose3{R: [3]r3.Vector{{X: c, Z: -s}, {Y: 1}, {X: s, Z: c}}}
}

// RotZ turns about the z axis, from x towards y. Multiples of 90° are exact.
func RotZ(a s1.Angle) Pose3 {
	s, c := SinCos(a)
	return Pose3{R: [3]r3.Vector{{X: c, Y: s}, {X: -s, Y: c}, {Z: 1}}}
}

// Shift3 moves by t without turning.
func Shift3(t r3.Vector) Pose3 { return Pose3{T: t} }

// Rotation3 turns by a about the line through point along dir, right-handed
// (Rodrigues' formula). A zero or non-finite dir gives the identity. Quarter turns
// about a coordinate axis are exact.
func Rotation3(point, dir r3.Vector, a s1.Angle) Pose3 {
	u, ok := unit(dir)
	if !ok {
		return Pose3{}
	}
	s, c := SinCos(a)
	turn := func(v r3.Vector) r3.Vector {
		return v.Mul(c).Add(u.Cross(v).Mul(s)).Add(u.Mul(u.Dot(v) * (1 - c)))
	}
	p := Pose3{R: [3]r3.Vector{turn(r3.Vector{X: 1}), turn(r3.Vector{Y: 1}), turn(r3.Vector{Z: 1})}}
	p.T = point.Sub(p.Direction(point))
	return p
}

// Lift returns the motion of space that does in plan what p does, and shifts by z.
func (t Pose2) Lift(z float64) Pose3 {
	x := t.Direction(r2.Point{X: 1})
	y := t.Direction(r2.Point{Y: 1})
	return Pose3{
		R: [3]r3.Vector{{X: x.X, Y: x.Y}, {X: y.X, Y: y.Y}, {Z: 1}},
		T: r3.Vector{X: t.Shift.X, Y: t.Shift.Y, Z: z},
	}
}

// columns returns R with the zero value replaced by the unit matrix.
func (t Pose3) columns() [3]r3.Vector {
	if t.R == ([3]r3.Vector{}) {
		return [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	}
	return t.R
}

// Apply moves a point.
func (t Pose3) Apply(p r3.Vector) r3.Vector { return t.Direction(p).Add(t.T) }

// Direction moves a direction: turned, not shifted.
func (t Pose3) Direction(d r3.Vector) r3.Vector { return mulCols(t.columns(), d) }

// Then returns the motion that applies t first and u after it.
func (t Pose3) Then(u Pose3) Pose3 {
	r := t.columns()
	for i := range r {
		r[i] = u.Direction(r[i])
	}
	return Pose3{R: r, T: u.Apply(t.T)}
}

// Inverse returns the motion that undoes t.
func (t Pose3) Inverse() Pose3 {
	inv := Pose3{R: transpose(t.columns())}
	inv.T = inv.Direction(t.T).Mul(-1)
	return inv
}

// isRigid reports whether the matrix is orthogonal to within 1e-9 and all is finite.
// Mirrored frames (determinant -1) count as rigid.
func (t Pose3) isRigid() bool {
	if !finite3(t.T) {
		return false
	}
	r := t.columns()
	for i := range r {
		for j := i; j < 3; j++ {
			want := 0.0
			if i == j {
				want = 1
			}
			if !(math.Abs(r[i].Dot(r[j])-want) <= 1e-9) {
				return false
			}
		}
	}
	return true
}

// mulCols returns the matrix with columns r, times v.
func mulCols(r [3]r3.Vector, v r3.Vector) r3.Vector {
	return r3.Vector{
		X: float64(r[0].X*v.X) + float64(r[1].X*v.Y) + float64(r[2].X*v.Z),
		Y: float64(r[0].Y*v.X) + float64(r[1].Y*v.Y) + float64(r[2].Y*v.Z),
		Z: float64(r[0].Z*v.X) + float64(r[1].Z*v.Y) + float64(r[2].Z*v.Z),
	}
}

// mulRows returns the transposed matrix times v: v seen in the frame of r.
func mulRows(r [3]r3.Vector, v r3.Vector) r3.Vector {
	return r3.Vector{
		X: float64(r[0].X*v.X) + float64(r[0].Y*v.Y) + float64(r[0].Z*v.Z),
		Y: float64(r[1].X*v.X) + float64(r[1].Y*v.Y) + float64(r[1].Z*v.Z),
		Z: float64(r[2].X*v.X) + float64(r[2].Y*v.Y) + float64(r[2].Z*v.Z),
	}
}

func transpose(r [3]r3.Vector) [3]r3.Vector {
	return [3]r3.Vector{
		{X: r[0].X, Y: r[1].X, Z: r[2].X},
		{X: r[0].Y, Y: r[1].Y, Z: r[2].Y},
		{X: r[0].Z, Y: r[1].Z, Z: r[2].Z},
	}
}

// unit scales v to length 1 without overflow; ok is false for zero and non-finite v.
func unit(v r3.Vector) (u r3.Vector, ok bool) {
	m := math.Max(math.Abs(v.X), math.Max(math.Abs(v.Y), math.Abs(v.Z)))
	if !(m > 0) || math.IsInf(m, 0) {
		return r3.Vector{}, false
	}
	v = r3.Vector{X: v.X / m, Y: v.Y / m, Z: v.Z / m}
	return v.Mul(1 / math.Sqrt(v.Norm2())), true
}

func finite3(v r3.Vector) bool {
	const big = math.MaxFloat64
	return math.Abs(v.X) <= big && math.Abs(v.Y) <= big && math.Abs(v.Z) <= big
}
