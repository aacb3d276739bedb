package geom

import (
	"math"

	"github.com/golang/geo/s1"
)

// BulgeOf returns the bulge of an arc of that sweep, positive counter-clockwise: the tangent of
// a quarter of it. Sweeps of a whole turn and more have none and give huge or wrong values.
func BulgeOf(sweep s1.Angle) float64 { return math.Tan(sweep.Radians() / 4) }

// PartBulge returns the bulge of a share of an arc, by length: of tan(x) it is tan(share·x).
// A share of 1 gives the bulge within two roundings.
func PartBulge(bulge, share float64) float64 { return math.Tan(math.Atan(bulge) * share) }

// ChordBulge returns the bulge of the counter-clockwise arc of that radius over a chord, both in
// mm, of the two the shorter one: with the half chord h it turns through 2·asin(h/r), so that the
// bulge is tan(asin(h/r)/2) = h/(r + √(r² - h²)). A chord of twice the radius and more gives 1, a
// half circle over the chord. The longer arc has the inverse as its bulge.
func ChordBulge(chord, radius float64) float64 {
	h := chord / 2
	if !(h < radius) {
		return 1
	}
	return h / (radius + math.Sqrt((radius-h)*(radius+h)))
}
