package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// A box of 4 by 2 by 6 mm seen from above is its rectangle of 8 mm², from the front one of
// 24 mm²; a ball of radius 3 mm is the polygon of 72 corners in its circle, of the area
// 36·9·sin 5°.
func TestSilhouette(t *testing.T) {
	x, y, z := r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	box, err := geom.NewBox(r3.Vector{X: 4, Y: 2, Z: 6}, geom.Shift3(r3.Vector{}))
	if err != nil {
		t.Fatal(err)
	}
	ball, err := geom.NewSphere(r3.Vector{X: 1}, 3)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		loop    geom.Loop
		corners int
		area    float64
	}{
		"box from above": {box.Silhouette(x, y, 72), 4, 8},
		"box in front":   {box.Silhouette(x, z, 72), 4, 24},
		"ball":           {ball.Silhouette(x, z, 72), 72, 36 * 9 * math.Sin(5*math.Pi/180)},
		"two directions": {ball.Silhouette(x, z, 2), 0, 0},
	} {
		if c.loop.Len() != c.corners || math.Abs(c.loop.Area()-c.area) > 1e-9 {
			t.Errorf("%s: %d corners, %v mm², want %d, %v", name, c.loop.Len(), c.loop.Area(), c.corners, c.area)
		}
	}
}

// The outline of a tilted box reaches as far as the box itself in every direction, to within
// the bound of its longest side.
func TestSilhouetteIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(1, 30)
		a := rapid.Float64Range(-3, 3)
		pose := geom.RotZ(s1.Angle(a.Draw(t, "a"))).Then(geom.RotX(s1.Angle(a.Draw(t, "b"))))
		c, err := geom.NewBox(r3.Vector{X: f.Draw(t, "x"), Y: f.Draw(t, "y"), Z: f.Draw(t, "z")}, pose)
		if err != nil {
			t.Fatal(err)
		}
		const n = 72
		l := c.Silhouette(r3.Vector{X: 1}, r3.Vector{Y: 1}, n)
		side := 0.0
		for _, s := range l.Segs() {
			side = math.Max(side, s.Length())
		}
		for k := range 500 {
			sn, cs := math.Sincos(float64(k) * 2 * math.Pi / 500)
			d := r2.Point{X: cs, Y: sn}
			s := c.Support(r3.Vector{X: cs, Y: sn})
			most := math.Inf(-1)
			for _, p := range l.Segs() {
				most = math.Max(most, p.A.Dot(d))
			}
			reach := r2.Point{X: s.X, Y: s.Y}.Dot(d)
			if most > reach+1e-9 || reach-most > side/2*math.Tan(math.Pi/n)+0.021 {
				t.Fatalf("reaches %v, the box %v", most, reach)
			}
		}
	})
}
