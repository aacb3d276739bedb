package geom_test

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// A plate with a bore, and a screw head near it.
func ExampleDistance() {
	plate, err := geom.NewRegion(
		geom.RoundedRectangle(r2.Point{}, 40, 40, 4),
		geom.Circle(r2.Point{X: 10}, 5))
	if err != nil {
		fmt.Println(err)
		return
	}
	inBore := geom.RegionOf(geom.Circle(r2.Point{X: 11}, 3))
	g := geom.Distance(plate, inBore)
	fmt.Printf("%.2f mm of air, towards (%.0f, %.0f)\n", g.Dist, g.Push.X, g.Push.Y)

	onPlate := geom.RegionOf(geom.Circle(r2.Point{X: 22}, 3))
	g = geom.Distance(plate, onPlate)
	fmt.Printf("overlap %.2f mm deep\n", -g.Dist)
	// Output:
	// 1.00 mm of air, towards (-1, 0)
	// overlap 1.00 mm deep
}

// The move that Gap names parts two shapes.
func ExampleGap() {
	a := geom.Rectangle(r2.Point{}, 10, 10)
	b := geom.Circle(r2.Point{X: 6, Y: 1}, 2)
	g := geom.DistanceLoops(a, b)
	moved := b.Transform(geom.Pose2{Shift: g.Push.Mul(-g.Dist)})
	fmt.Printf("%.1f, then %.1f\n", g.Dist, geom.DistanceLoops(a, moved).Dist)
	// Output: -1.0, then 0.0
}

// An arc is a bulge: the tangent of a quarter of its sweep. A D-shaped shaft of 5 mm with
// a flat 2 mm from its axis:
func ExampleNewLoop() {
	half := math.Acos(2.0 / 2.5) // half the angle that the flat takes out
	sweep := 2*math.Pi - 2*half
	y := 2.5 * math.Sin(half)
	shaft, err := geom.NewLoop([]geom.Vertex{
		{P: r2.Point{X: 2, Y: y}, Bulge: math.Tan(sweep / 4)},
		{P: r2.Point{X: 2, Y: -y}},
	})
	fmt.Printf("%.3f mm², %v\n", shaft.Area(), err)

	_, err = geom.NewLoop([]geom.Vertex{{P: r2.Point{X: math.NaN()}}})
	var v *geom.Violation
	fmt.Println(errors.As(err, &v), v.Kind)
	// Output:
	// 18.613 mm², <nil>
	// true a coordinate is not finite or lies beyond 1e7 mm
}

// How far a camera stays inside its guard, and how far it sticks out.
func ExampleInside() {
	guard := geom.RegionOf(geom.RoundedRectangle(r2.Point{}, 20, 20, 3))
	camera := geom.RegionOf(geom.Rectangle(r2.Point{X: 1}, 14, 14))
	fmt.Printf("%+.1f\n", geom.Inside(guard, camera).Dist)
	fmt.Printf("%+.1f\n", geom.Inside(guard, camera.Transform(geom.Pose2{Shift: r2.Point{X: 4}})).Dist)
	// Output:
	// +2.0
	// -2.0
}

// Many placements of one shape against another, without building any of them.
func ExamplePrepared() {
	frame := geom.Prepare(geom.RegionOf(geom.Rectangle(r2.Point{}, 30, 30), geom.Circle(r2.Point{}, 10)))
	boss := geom.Prepare(geom.RegionOf(geom.Circle(r2.Point{}, 4)))
	for x := 0.0; x <= 6; x += 3 {
		fmt.Printf("at %.0f: %.1f\n", x, frame.SeparationAt(boss, r2.Point{X: x}))
	}
	// Output:
	// at 0: 6.0
	// at 3: 3.0
	// at 6: 0.0
}

func ExampleLoop_Transform() {
	arm := geom.Bar(r2.Point{X: 10}, r2.Point{X: 60}, 12, 8)
	turned := arm.Transform(geom.Pose2{Turn: s1.Angle(math.Pi / 2)})
	b := turned.Bound()
	fmt.Println(b.Lo, b.Hi)
	// Output: (-6.000000000000, 10.000000000000) (6.000000000000, 60.000000000000)
}
