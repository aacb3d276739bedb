package geom_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// course lays n obstacles, plates, discs and polygons in turn, on a sunflower, about as far
// from each other for every n, and twenty pairs of points on opposite sides.
func course(n int) (obstacles []geom.Region, queries [][2]r2.Point) {
	for i := range n {
		a, d := float64(i)*2.399963, 14*math.Sqrt(float64(i)+0.5)
		s, c := math.Sincos(a)
		at := pt(d*c, d*s)
		var l geom.Loop
		switch i % 3 {
		case 0:
			l = geom.Circle(at, 4+float64(i%5))
		case 1:
			l = geom.RoundedRectangle(pt(0, 0), 14, 8, 1).Transform(geom.Pose2{Turn: 0.3, Shift: at})
		default:
			l = geom.RegularPolygon(at, 12, 3+i%5, 0)
		}
		obstacles = append(obstacles, geom.RegionOf(l))
	}
	r := 14*math.Sqrt(float64(n)) + 30
	for k := range 20 {
		s, c := math.Sincos(float64(k) * math.Pi / 20)
		queries = append(queries, [2]r2.Point{pt(r*c, r*s), pt(-r*c, -r*s)})
	}
	return obstacles, queries
}

func BenchmarkPath(b *testing.B) {
	for _, n := range []int{10, 50, 200} {
		obstacles, queries := course(n)
		build := func(b *testing.B) *geom.Field {
			f, err := geom.NewField(obstacles, 1.5)
			if err != nil {
				b.Fatal(err)
			}
			return f
		}
		b.Run(fmt.Sprintf("NewField/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				build(b)
			}
		})
		b.Run(fmt.Sprintf("Prepare/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				build(b).Prepare()
			}
		})
		f := build(b)
		f.Prepare()
		b.Run(fmt.Sprintf("Length/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				q := queries[i%len(queries)]
				if _, err := f.Length(q[0], q[1]); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("Path/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				q := queries[i%len(queries)]
				if _, err := f.Path(q[0], q[1], geom.PathOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestFieldFromManyGoroutines: queries at once give the answers that they give in turn.
func TestFieldFromManyGoroutines(t *testing.T) {
	obstacles, queries := course(50)
	f, err := geom.NewField(obstacles, 1.5)
	if err != nil {
		t.Fatal(err)
	}
	got := make([]float64, len(queries))
	done := make(chan error)
	for i, q := range queries {
		go func() {
			var err error
			got[i], err = f.Length(q[0], q[1])
			done <- err
		}()
	}
	for range queries {
		if err := <-done; err != nil {
			t.Fatal(err)
		}
	}
	g, err := geom.NewField(obstacles, 1.5)
	if err != nil {
		t.Fatal(err)
	}
	for i, q := range queries {
		want, err := g.Length(q[0], q[1])
		if err != nil || got[i] != want {
			t.Errorf("query %d: %.17g at once, %.17g in turn, %v", i, got[i], want, err)
		}
	}
}
