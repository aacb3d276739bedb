package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// A corner of a convex loop is a vertex (r = 0) or an arc, over the normals from one
// direction to that of the next corner. The support of the loop in a direction u within
// that range is c + r·u.
type corner struct {
	cx, cy, r float64
	nx, ny    float64 // the first normal of the range, unit
	angle     float64 // its angle, rising from the first corner over less than 2π
}

// fan reports whether the loop is convex, and if so returns its corners in the order of
// their normals. The range of a corner ends where that of the next begins.
func (l Loop) fan() (bool, []corner) {
	n := l.Len()
	sign := 1.0
	if l.Area() < 0 {
		sign = -1
	}
	if !(math.Abs(l.Area()) > 0) {
		return false, nil
	}
	seg := func(i int) Seg {
		if sign > 0 {
			return l.Seg(i)
		}
		return l.Seg(-i - 1).Reverse()
	}
	// All corners and arcs must turn left, and by one full turn in all.
	total := 0.0
	for i := range n {
		s, next := seg(i), seg(i+1)
		if s.Bulge < 0 {
			return false, nil
		}
		if total += 4 * math.Atan(s.Bulge); total > 2*math.Pi+1e-6 {
			return false, nil
		}
		turn := angleFrom(s.Tangent(1), next.Tangent(0))
		if turn < -1e-9 || turn > math.Pi-1e-9 {
			return false, nil
		}
		total += turn
	}
	if math.Abs(total-2*math.Pi) > 1e-6 {
		return false, nil
	}
	fan := make([]corner, 0, 2*n)
	angle := 0.0
	put := func(c r2.Point, r float64, tangent r2.Point, width float64) {
		// The outer normal is the tangent turned right.
		fan = append(fan, corner{cx: c.X, cy: c.Y, r: r, nx: tangent.Y, ny: -tangent.X, angle: angle})
		angle += width
	}
	t0 := seg(0).Tangent(0)
	angle = math.Atan2(-t0.X, t0.Y)
	for i := range n {
		s, next := seg(i), seg(i+1)
		if s.Bulge > 0 {
			put(s.Center(), s.Radius(), s.Tangent(0), 4*math.Atan(s.Bulge))
		}
		if turn := angleFrom(s.Tangent(1), next.Tangent(0)); turn > 1e-12 {
			put(s.B, 0, s.Tangent(1), turn)
		}
	}
	return true, fan
}

// angleFrom returns the angle from u to v, within ±π.
func angleFrom(u, v r2.Point) float64 {
	return math.Atan2(float64(u.X*v.Y)-float64(u.Y*v.X), float64(u.X*v.X)+float64(u.Y*v.Y))
}
