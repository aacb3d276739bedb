package rules

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
	"dryfit/layout"
)

// No tilt between those that are tried brings a point nearer to the line between the fronts.
func TestGuardTilts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(n string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, n) }
		z := num("pivot", 5, 15)
		c := &layout.CameraPlace{TiltLo: num("lo", -60, 60), PivotZ: layout.Fixed(z)}
		c.TiltHi = c.TiltLo + num("range", 0, 80)
		low, high := &layout.Plate{Top: layout.Fixed(2)}, &layout.Plate{Bottom: layout.Fixed(22)}
		under, over := &front{low, num("under", 5, 40)}, &front{high, num("over", 5, 40)}
		switch rapid.IntRange(0, 3).Draw(t, "alone") {
		case 0:
			under = nil
		case 1:
			over = nil
		}
		p := r2.Point{X: num("ahead", 0, 25), Y: num("rim", -12, 12)}
		gap := func(a s1.Angle) float64 {
			sin, cos := geom.SinCos(a)
			line, _ := guardLine(under, over, z+sin*p.X+cos*p.Y)
			return line.Nominal() - (cos*p.X - sin*p.Y)
		}
		least := math.Inf(1)
		for _, a := range guardTilts(c, under, over, p, p) {
			if d := a.Degrees(); d < c.TiltLo-1e-9 || d > c.TiltHi+1e-9 {
				t.Fatalf("tries %v out of the range", d)
			}
			least = math.Min(least, gap(a))
		}
		for i := range 801 {
			a := s1.Angle(c.TiltLo+(c.TiltHi-c.TiltLo)*float64(i)/800) * s1.Degree
			if gap(a) < least-1e-9 {
				t.Fatalf("%v at %v, told %v", gap(a), a.Degrees(), least)
			}
		}
	})
}
