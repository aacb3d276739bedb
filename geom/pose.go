package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Pose2 is a rigid motion of the plane: mirror y (if asked), then turn about the
// origin, then shift. The zero value is the identity.
type Pose2 struct {
	Turn   s1.Angle // counter-clockwise, applied after the mirror
	Mirror bool     // (x, y) becomes (x, -y) before the turn
	Shift  r2.Point // mm, applied last
}

// Apply moves a point. Turns by multiples of 90° are exact.
func (t Pose2) Apply(p r2.Point) r2.Point {
	if t.Mirror {
		p.Y = -p.Y
	}
	s, c := SinCos(t.Turn)
	return r2.Point{
		X: float64(c*p.X) - float64(s*p.Y) + t.Shift.X,
		Y: float64(s*p.X) + float64(c*p.Y) + t.Shift.Y,
	}
}

// Direction moves a direction: mirrored and turned, not shifted.
func (t Pose2) Direction(d r2.Point) r2.Point {
	t.Shift = r2.Point{}
	return t.Apply(d)
}

// Then returns the motion that applies t first and u after it.
func (t Pose2) Then(u Pose2) Pose2 {
	turn := t.Turn
	if u.Mirror {
		turn = -turn
	}
	return Pose2{Turn: turn + u.Turn, Mirror: t.Mirror != u.Mirror, Shift: u.Apply(t.Shift)}
}

// Inverse returns the motion that undoes t.
func (t Pose2) Inverse() Pose2 {
	inv := Pose2{Turn: -t.Turn, Mirror: t.Mirror}
	if t.Mirror {
		inv.Turn = t.Turn
	}
	inv.Shift = inv.Direction(t.Shift).Mul(-1)
	return inv
}

// SinCos returns the sine and cosine of a, exact (0 or ±1) at every multiple of 90°,
// so that quarter turns of a part leave its coordinates clean. A non-finite angle
// counts as 0.
func SinCos(a s1.Angle) (sin, cos float64) {
	r := a.Radians()
	if math.IsNaN(r) || math.IsInf(r, 0) {
		return 0, 1
	}
	if q := r / (math.Pi / 2); math.Abs(q-math.Round(q)) < 1e-12 && math.Abs(q) < 1e6 {
		switch ((int64(math.Round(q)) % 4) + 4) % 4 {
		case 0:
			return 0, 1
		case 1:
			return 1, 0
		case 2:
			return 0, -1
		default:
			return -1, 0
		}
	}
	return math.Sincos(r)
}
