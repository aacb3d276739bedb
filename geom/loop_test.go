package geom_test

import (
	"math"
	"testing"

	"dryfit/geom"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func TestCircleMeasures(t *testing.T) {
	c := geom.Circle(pt(3, -2), 5)
	near(t, "area", c.Area(), math.Pi*25, 1e-12)           // π r²
	near(t, "perimeter", c.Perimeter(), math.Pi*10, 1e-12) // 2 π r
	m := c.Moments()
	near(t, "XX", m.XX, math.Pi*625/4, 1e-10) // π r⁴ / 4
	near(t, "YY", m.YY, math.Pi*625/4, 1e-10)
	near(t, "XY", m.XY, 0, 1e-10)
	near(t, "cx", m.Centroid.X, 3, 1e-12)
	near(t, "cy", m.Centroid.Y, -2, 1e-12)
	if b := c.Bound(); b.Lo != pt(-2, -7) || b.Hi != pt(8, 3) {
		t.Errorf("bound %v", b)
	}
	if !c.IsConvex() {
		t.Error("a circle is convex")
	}
}
