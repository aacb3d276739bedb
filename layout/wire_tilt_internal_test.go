package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout/route"
	"dryfit/shapes"
)

// TestReachBetweenHeights: a cube of 10 on edge, turned by 45 degrees about y: at a height z from its middle it reaches √50 - |z| along x
// and 5 along y.
func TestReachBetweenHeights(t *testing.T) {
	cube, err := geom.NewBox(r3.Vector{X: 10, Y: 10, Z: 10}, geom.Rotation3(r3.Vector{}, r3.Vector{Y: 1}, 45*s1.Degree))
	if err != nil {
		t.Fatal(err)
	}
	half := math.Sqrt(50)
	for _, q := range []struct {
		u            r2.Point
		lo, hi, want float64
	}{
		{r2.Point{X: 1}, 2, 4, half - 2},
		{r2.Point{X: 1}, -1, 3, half},
		{r2.Point{X: -1}, -6, -5, half - 5},
		{r2.Point{Y: 1}, 4, 6, 5},
		{r2.Point{X: 1}, 8, 9, math.Inf(-1)},
	} {
		if got := reachOf(&cube, q.u, q.lo, q.hi); got != q.want && math.Abs(got-q.want) > 1e-6 {
			t.Errorf("%v from %g to %g: %g, want %g", q.u, q.lo, q.hi, got, q.want)
		}
	}
}

// TestTiltingCameraIsNarrowAtItsCorners: the same cube in a pose at (20, 0): 14.142 high, in 4 boxes of 3.536. The upper one begins 3.536 over
// the middle, where it reaches half as far, 3.536 to either side; the two in the middle reach √50.
func TestTiltingCameraIsNarrowAtItsCorners(t *testing.T) {
	cube, err := geom.NewBox(r3.Vector{X: 10, Y: 10, Z: 10}, geom.Rotation3(r3.Vector{}, r3.Vector{Y: 1}, 45*s1.Degree))
	if err != nil {
		t.Fatal(err)
	}
	if cube, err = cube.Transform(geom.Shift3(r3.Vector{X: 20})); err != nil {
		t.Fatal(err)
	}
	half := math.Sqrt(50)
	a := &Assembly{Cameras: []*CameraPlace{{Component: &Component{ID: "cameras.nose", Part: &shapes.Part{}, Pose: geom.Pose2{Shift: r2.Point{X: 20}}}}}}
	got := a.tilting(&Body{ID: "cameras.nose.case[1]", Of: "cameras.nose", Tilted: &cube}, route.Solid{ID: "cameras.nose.case[1]", Lo: -half, Hi: half})
	if len(got) != 4 {
		t.Fatalf("%d pieces, want 4", len(got))
	}
	for i, want := range []float64{half / 2, half, half, half / 2} {
		box := got[i].Plan[0].Bound()
		if math.Abs(box.Hi.X-20-want) > 1e-6 || math.Abs(20-box.Lo.X-want) > 1e-6 || math.Abs(box.Hi.Y-5) > 1e-6 {
			t.Errorf("piece %d: %v, want %g to either side of x = 20 and 5 of y = 0", i, box, want)
		}
	}
}
