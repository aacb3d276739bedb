package geom_test

import (
	"errors"
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A plate of an arm and a hub, less a screw hole.
func ExampleDifference() {
	hub := geom.RegionOf(geom.Circle(r2.Point{}, 10))
	arm := geom.RegionOf(geom.Rectangle(r2.Point{X: 15}, 30, 8))
	hole := geom.RegionOf(geom.Circle(r2.Point{X: 26}, 1.6))
	plate, err := geom.Difference([]geom.Region{hub, arm}, []geom.Region{hole})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d piece with %d hole, %.2f mm²\n", len(plate), len(plate[0].Holes), plate[0].Area())
	// The hub 100π, the arm outside it 30·8 - (4·√84 + 100·asin 0.4), the hole 1.6²π.
	// Output: 1 piece with 1 hole, 468.30 mm²
}

// Room for a rail of 2 mm round a board, and what is left when it is ground off again.
func ExampleOffset() {
	board := []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{}, 36, 36))}
	rail, err := geom.Offset(board, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f mm² in %d segments\n", rail[0].Area(), rail[0].Outer.Len())
	// 36² + 4·36·2 + π·2²
	back, err := geom.Offset(rail, -2)
	fmt.Printf("%.3f mm² in %d segments, %v\n", back[0].Area(), back[0].Outer.Len(), err)
	// Output:
	// 1596.566 mm² in 8 segments
	// 1296.000 mm² in 4 segments, <nil>
}

// A cutter of 2 mm diameter leaves a fillet of 1 mm in an inside corner: (1-π/4) mm² more.
func ExampleFilletInside() {
	l, err := geom.Polygon([]r2.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 10}, {X: 0, Y: 10}}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	cut, err := geom.FilletInside([]geom.Region{geom.RegionOf(l)}, 1)
	fmt.Printf("%.4f mm², %d segments, %v\n", cut[0].Area(), cut[0].Outer.Len(), err)
	// Output: 64.2146 mm², 7 segments, <nil>
}

func ExampleConvexHull() {
	h := geom.ConvexHull(geom.Circle(r2.Point{}, 3), geom.Circle(r2.Point{X: 20}, 3))
	fmt.Printf("%.3f mm², %d segments\n", h.Area(), h.Len())
	// 9π + 20·6
	// Output: 148.274 mm², 4 segments
}

func ExampleFailure() {
	bow, err := geom.NewLoop([]geom.Vertex{{P: r2.Point{}}, {P: r2.Point{X: 4, Y: 4}}, {P: r2.Point{X: 4}}, {P: r2.Point{Y: 2}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = geom.UnionAll([]geom.Region{geom.RegionOf(bow)})
	var f *geom.Failure
	if errors.As(err, &f) {
		fmt.Println(f.Op, "-", f.Why)
	}
	// Output: union - a loop crosses itself or a hole reaches beyond its outer loop
}
