package geom_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// gear returns a loop of n segments, arcs and lines in turn, round a circle of radius r.
func gear(n int, r float64) geom.Loop {
	v := make([]geom.Vertex, n)
	for i := range v {
		sn, cs := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		k := r
		if i%4 > 1 {
			k *= 0.97
		}
		v[i].P = pt(k*cs, k*sn)
		if i%2 == 0 {
			v[i].Bulge = 0.2
		}
	}
	l, err := geom.NewLoop(v)
	if err != nil {
		panic(err)
	}
	return l
}

var benchSizes = []int{12, 100, 300, 1000, 3000}

// BenchmarkUnion unites two gears of n segments in all that cross each other all round.
func BenchmarkUnion(b *testing.B) {
	for _, n := range benchSizes {
		a := regions(gear(n/8*4, 50))
		c := moved(a, geom.Pose2{Turn: s1.Angle(0.01), Shift: pt(0.3, 0.1)})
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			area := 0.0
			for b.Loop() {
				rs, err := geom.Union(a, c)
				if err != nil {
					b.Fatal(err)
				}
				area += areaOf(rs)
			}
			if !(area > 0) {
				b.Fatal("no area")
			}
		})
	}
}

// BenchmarkOffset grows and shrinks a gear of n segments.
func BenchmarkOffset(b *testing.B) {
	for _, d := range []float64{0.5, -0.5} {
		for _, n := range benchSizes {
			a := regions(gear(n/4*4, 50))
			b.Run(fmt.Sprintf("%+g/%d", d, n), func(b *testing.B) {
				b.ReportAllocs()
				area := 0.0
				for b.Loop() {
					rs, err := geom.Offset(a, d)
					if err != nil {
						b.Fatal(err)
					}
					area += areaOf(rs)
				}
				if !(area > 0) {
					b.Fatal("no area")
				}
			})
		}
	}
}
