package geom_test

import (
	"errors"
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A wire of 2 mm leads round a post with 0.5 mm of air.
func ExampleField_Path() {
	post := geom.RegionOf(geom.Circle(r2.Point{}, 3))
	f, err := geom.NewField([]geom.Region{post}, 1.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := f.Path(r2.Point{X: -10}, r2.Point{X: 10}, geom.PathOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f mm:", p.Length)
	for _, s := range p.Segs {
		if s.IsArc() {
			fmt.Printf(" arc of radius %.1f,", s.Radius())
		} else {
			fmt.Printf(" line of %.3f mm,", s.Length())
		}
	}
	fmt.Println()
	// Output: 22.061 mm: line of 8.930 mm, arc of radius 4.5, line of 8.930 mm,
}

// A frame keeps the path inside, and a wall leaves gaps that are too narrow.
func ExampleNoWay() {
	plate := geom.Keep{Region: geom.RegionOf(geom.Rectangle(r2.Point{}, 60, 30)), Clearance: 2, Inside: true}
	wall := geom.RegionOf(geom.Rectangle(r2.Point{Y: -1}, 4, 25)) // y from -13.5 to 11.5
	f, err := geom.NewField([]geom.Region{wall}, 2, plate)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = f.Path(r2.Point{X: -20}, r2.Point{X: 20}, geom.PathOptions{})
	var n *geom.NoWay
	if errors.As(err, &n) {
		fmt.Printf("the gap at y = %.2f is %.1f mm wide, %.1f are needed\n", (n.At[0].Y+n.At[1].Y)/2, n.Gap, n.Need)
	}
	// Output: the gap at y = 13.25 is 3.5 mm wide, 4.0 are needed
}

func ExampleField_Tree() {
	f, err := geom.NewField(nil, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := f.Tree([]r2.Point{{X: 0}, {X: 10}, {X: 4}, {X: 4, Y: 3}}, geom.PathOptions{})
	fmt.Println(t.Ends, t.Length, err)
	// Output: [[0 2] [2 3] [2 1]] 13 <nil>
}
