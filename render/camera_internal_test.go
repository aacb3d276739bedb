package render

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

// A camera of 20 mm case and 6 mm lens, pivot 8 mm from the back, 19 mm high, at (50, 0, 20)
// and level: case x 42..62, lens x 62..68. Tilted up by 90°, the lens front stands 18 mm
// over the pivot.
func TestCameraAt(t *testing.T) {
	d := func(v float64) *shapes.Dim { return &shapes.Dim{Value: v} }
	c := &layout.CameraPlace{Component: &layout.Component{ID: "cameras.nose"}, Pivot: r2.Point{X: 50}, PivotZ: layout.Fixed(20),
		Cam: &shapes.Camera{Width: d(19), Height: d(19), Depth: d(26), LensLength: d(6), LensD: d(14), PivotBack: d(8)}}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	level := cameraAt(c, 0, false)
	if len(level) != 2 {
		t.Fatalf("%d pieces, want case and lens", len(level))
	}
	body, lens := level[0].Tilted.Bound(), level[1].Tilted.Bound()
	near("back of the case", body.Lo.X, 42)
	near("front of the case", body.Hi.X, 62)
	near("top of the case", body.Hi.Z, 29.5)
	near("front of the lens", lens.Hi.X, 68)
	near("side of the lens", lens.Hi.Y, 7)
	up := cameraAt(c, 90, true)
	near("front of the lens, looking up", up[1].Tilted.Bound().Hi.Z, 38)
	if !up[0].Swept || level[0].Swept {
		t.Error("ends of the range are extreme positions, the middle is not")
	}
	c.Cam.LensD = nil
	if got := cameraAt(c, 0, false); len(got) != 1 {
		t.Errorf("without a lens diameter %d pieces, want the case alone", len(got))
	}
}
