package geom

import "math"

// DiscArea returns the area of a disc of diameter d, π/4·d², in the square of d's unit.
// The sign of d does not matter.
func DiscArea(d float64) float64 { return math.Pi / 4 * d * d }

// RingArea returns the area between two circles of the diameters outer and inner, one
// within the other: negative if inner is the larger.
func RingArea(outer, inner float64) float64 { return DiscArea(outer) - DiscArea(inner) }

// RegularPolygonArea returns the area of a regular polygon of n sides about a circle of the
// diameter acrossFlats: n/4·tan(π/n)·acrossFlats², in the square of its unit. It is what
// [RegularPolygon] has, also for one of size 0; fewer than 3 sides give 0.
func RegularPolygonArea(acrossFlats float64, n int) float64 {
	if n < 3 {
		return 0
	}
	return float64(n) / 4 * math.Tan(math.Pi/float64(n)) * acrossFlats * acrossFlats
}

// AcrossCorners returns the diameter of the circle through the corners of a regular polygon
// of n sides about a circle of the diameter acrossFlats: acrossFlats/cos(π/n). Fewer than 3
// sides give +Inf.
func AcrossCorners(acrossFlats float64, n int) float64 {
	if n < 3 {
		return math.Inf(1)
	}
	return acrossFlats / math.Cos(math.Pi/float64(n))
}

// AcrossFlats returns the diameter of the circle within a regular polygon of n sides whose
// corners lie on a circle of the diameter acrossCorners: acrossCorners·cos(π/n). Fewer than
// 3 sides give 0.
func AcrossFlats(acrossCorners float64, n int) float64 {
	if n < 3 {
		return 0
	}
	return acrossCorners * math.Cos(math.Pi/float64(n))
}

// PolygonRadius returns the radius of the circle on which n points stand evenly, each side
// mm from the next: side/(2·sin(π/n)). One point or none stand at its centre: 0.
func PolygonRadius(side float64, n int) float64 {
	if n < 2 {
		return 0
	}
	return side / (2 * math.Sin(math.Pi/float64(n)))
}

// PolygonSide returns how far from the next each of n points stands that lie evenly on a
// circle of that radius: 2·radius·sin(π/n), the chord. Fewer than 2 points give 0.
func PolygonSide(radius float64, n int) float64 {
	if n < 2 {
		return 0
	}
	return 2 * radius * math.Sin(math.Pi/float64(n))
}

// FrustumVolume returns the volume of a frustum of a cone of height h between ends of the
// radii a and b, π/3·h·(a²+ab+b²), in the cube of their unit: with a = b that of a cylinder,
// with one of them 0 of a cone.
func FrustumVolume(a, b, h float64) float64 { return math.Pi / 3 * h * (a*a + a*b + b*b) }

// CapVolume returns the volume of a cap cut off a ball, of height h over a disc of radius
// a: π/6·h·(3a²+h²), in the cube of their unit. With h = a it is half the ball.
func CapVolume(a, h float64) float64 { return math.Pi / 6 * h * (3*a*a + h*h) }
