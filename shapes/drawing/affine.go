package drawing

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// affine is the map (x, y) -> (a·x + c·y + e, b·x + d·y + f), the order of SVG's matrix().
type affine struct{ a, b, c, d, e, f float64 }

func identity() affine                { return affine{a: 1, d: 1} }
func translation(x, y float64) affine { return affine{a: 1, d: 1, e: x, f: y} }
func scaling(x, y float64) affine     { return affine{a: x, d: y} }
func (m affine) det() float64         { return float64(m.a*m.d) - float64(m.b*m.c) }
func (m affine) apply(p r2.Point) r2.Point {
	return r2.Point{
		X: float64(m.a*p.X) + float64(m.c*p.Y) + m.e,
		Y: float64(m.b*p.X) + float64(m.d*p.Y) + m.f,
	}
}

// turn applies m to a direction.
func (m affine) turn(p r2.Point) r2.Point {
	m.e, m.f = 0, 0
	return m.apply(p)
}

// rotation turns counter-clockwise where y points up, exactly at multiples of 90°.
func rotation(degrees float64) affine {
	sn, cs := sinCosDeg(degrees)
	return affine{a: cs, b: sn, c: -sn, d: cs}
}

// sinCosDeg reduces the angle before turning it into radians, so that large angles and
// multiples of 90° stay exact.
func sinCosDeg(degrees float64) (sin, cos float64) {
	return geom.SinCos(s1.Angle(math.Mod(degrees, 360) * math.Pi / 180))
}

// of returns the map that applies n first and m after it.
func (m affine) of(n affine) affine {
	o := m.apply(r2.Point{X: n.e, Y: n.f})
	u := m.turn(r2.Point{X: n.a, Y: n.b})
	v := m.turn(r2.Point{X: n.c, Y: n.d})
	return affine{a: u.X, b: u.Y, c: v.X, d: v.Y, e: o.X, f: o.Y}
}

func (m affine) finite() bool {
	return finite(m.a) && finite(m.b) && finite(m.c) && finite(m.d) && finite(m.e) && finite(m.f)
}

// conformal reports whether m keeps circles circles, to one part in 1e9.
func (m affine) conformal() bool {
	s := math.Abs(m.a) + math.Abs(m.b) + math.Abs(m.c) + math.Abs(m.d)
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*s }
	return near(m.a, m.d) && near(m.b, -m.c) || near(m.a, -m.d) && near(m.b, m.c)
}
