package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// xPlate is a plate as a frame has it: four arms, rounded corners, bores in every arm.
func xPlate() geom.Region {
	var v []r2.Point
	var radii []float64
	for k := range 4 {
		s, c := math.Sincos(float64(k) * math.Pi / 2)
		for _, p := range []r2.Point{pt(12, -12), pt(60, -6), pt(60, 6)} {
			v = append(v, pt(c*p.X-s*p.Y, s*p.X+c*p.Y))
			radii = append(radii, 3)
		}
	}
	outer, err := geom.Polygon(v, radii)
	if err != nil {
		panic(err) // the outline above is fixed
	}
	var holes []geom.Loop
	for k := range 4 {
		s, c := math.Sincos(float64(k) * math.Pi / 2)
		for _, p := range []r2.Point{pt(56, 0), pt(50, 3), pt(50, -3), pt(15.25, 0), pt(30, 0)} {
			holes = append(holes, geom.Circle(pt(c*p.X-s*p.Y, s*p.X+c*p.Y), 1.5))
		}
	}
	return geom.RegionOf(outer, holes...)
}

// queries are the benchmarks and the queries that must not allocate.
func queries() map[string]func() {
	plate := xPlate()
	far := plate.Transform(geom.Pose2{Turn: 0.4, Shift: pt(150, 20)})
	near := plate.Transform(geom.Pose2{Turn: math.Pi / 4, Shift: pt(0, 86)})
	screw := geom.RegionOf(geom.Circle(pt(30.1, 0), 1.2))
	board := geom.RegionOf(geom.RoundedRectangle(pt(30, 30), 36, 36, 4))
	hit := geom.RegionOf(geom.RoundedRectangle(pt(40, 2), 20, 8, 1))
	diskA, diskB := geom.RegionOf(geom.Circle(pt(0, 0), 60)), geom.RegionOf(geom.Circle(pt(100, 60), 50))
	p, q := geom.Prepare(plate), geom.Prepare(board)
	return map[string]func(){
		"DistanceFar":      func() { geom.Distance(plate, far) },
		"DistanceNear":     func() { geom.Distance(plate, near) },
		"DistanceInHole":   func() { geom.Distance(plate, screw) },
		"DistanceDisks":    func() { geom.Distance(diskA, diskB) },
		"DepthConvex":      func() { geom.Distance(board, hit) },
		"IsCloser":         func() { geom.IsCloser(plate, board, 1) },
		"IntersectsHit":    func() { geom.Intersects(plate, hit) },
		"IntersectsFar":    func() { geom.Intersects(plate, far) },
		"DistancePoint":    func() { geom.DistancePoint(plate, pt(20, 20)) },
		"Contains":         func() { plate.Contains(pt(33, 1)) },
		"Nearest":          func() { plate.Outer.Nearest(pt(20, 20)) },
		"PreparedDistance": func() { p.DistanceAt(q, pt(25, 20)) },
		"Separation":       func() { geom.Separation(plate, hit) },
	}
}

func TestQueriesDoNotAllocate(t *testing.T) {
	for name, f := range queries() {
		if n := testing.AllocsPerRun(50, f); n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
}

func bench(b *testing.B, name string) {
	f := queries()[name]
	b.ReportAllocs()
	for b.Loop() {
		f()
	}
}

func BenchmarkDistanceFar(b *testing.B)      { bench(b, "DistanceFar") }
func BenchmarkDistanceNear(b *testing.B)     { bench(b, "DistanceNear") }
func BenchmarkDistanceInHole(b *testing.B)   { bench(b, "DistanceInHole") }
func BenchmarkDistanceDisks(b *testing.B)    { bench(b, "DistanceDisks") }
func BenchmarkDepthConvex(b *testing.B)      { bench(b, "DepthConvex") }
func BenchmarkIsCloser(b *testing.B)         { bench(b, "IsCloser") }
func BenchmarkIntersectsHit(b *testing.B)    { bench(b, "IntersectsHit") }
func BenchmarkDistancePoint(b *testing.B)    { bench(b, "DistancePoint") }
func BenchmarkContains(b *testing.B)         { bench(b, "Contains") }
func BenchmarkPreparedDistance(b *testing.B) { bench(b, "PreparedDistance") }

// BenchmarkDepthConcave is the overlap of two concave plates, for which a parting move is
// searched.
func BenchmarkDepthConcave(b *testing.B) {
	plate := xPlate()
	other := plate.Transform(geom.Pose2{Turn: math.Pi / 4, Shift: pt(0, 80)})
	b.ReportAllocs()
	for b.Loop() {
		geom.Distance(plate, other)
	}
}

// BenchmarkInsideOut is the protrusion of a plate that sticks out all round.
func BenchmarkInsideOut(b *testing.B) {
	plate := xPlate()
	guard := geom.RegionOf(geom.Circle(pt(0, 0), 40))
	b.ReportAllocs()
	for b.Loop() {
		geom.Inside(guard, plate)
	}
}

func BenchmarkNewLoop(b *testing.B) {
	v := xPlate().Outer.Vertices()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := geom.NewLoop(v); err != nil {
			b.Fatal(err)
		}
	}
}
