package starter

import (
	"math"
	"testing"

	"dryfit/shapes"
)

// TestOutside: on a bearing of 45° the corner (30, 20) is passed where the point (t, t)
// is 25 from it: (t−30)² + (t−20)² = 625, so t = 25 + √(1250 − 100)/2 = 41.9558, and the
// ray is t·√2 = 59.335 long. Straight ahead the front edge counts: 30 + 25.
func TestOutside(t *testing.T) {
	for _, c := range []struct{ bearing, want float64 }{
		{math.Pi / 4, math.Sqrt2 * (25 + math.Sqrt(1150)/2)},
		{0, 55},
		{math.Pi / 2, 45},
		{math.Pi, 55},
	} {
		if got := outside(c.bearing, 30, 20, 25); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("outside(%.3f) = %.4f, want %.4f", c.bearing, got, c.want)
		}
	}
}

// TestAlong: a strip 8 wide at 45° leaves a rectangle of half sides 60 and 20 last on its
// lower edge, o = −4: (20 + 4·0.7071)/0.7071 = 20·√2 + 4. Straight ahead and sideways the
// half sides themselves. At the bearing of the corner it is the corner: hypot(60, 20).
func TestAlong(t *testing.T) {
	for _, c := range []struct{ bearing, want float64 }{
		{math.Pi / 4, 20*math.Sqrt2 + 4},
		{3 * math.Pi / 4, 20*math.Sqrt2 + 4},
		{0, 60},
		{math.Pi / 2, 20},
		{math.Atan2(20, 60), math.Hypot(60, 20)},
	} {
		if got := along(c.bearing, 60, 20, 8); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("along(%.3f) = %.4f, want %.4f", c.bearing, got, c.want)
		}
	}
}

// TestSwing: a case 20 high, 12 ahead and 8 behind its axis, with a lens of 10 reaching 20
// ahead. At 30° its front top corner stands 12·0.5 + 10·0.8660 = 14.66 high, the lens's upper
// rim 20·0.5 + 5·0.8660 = 14.33, so 14.66; its rear bottom corner hangs
// 8·0.5 + 10·0.8660 = 12.66. Two callipers' errors of 0.2 are added to each.
func TestSwing(t *testing.T) {
	mm := func(v float64) *shapes.Dim { return &shapes.Dim{Value: v} }
	cam := &shapes.Camera{Height: mm(20), Depth: mm(28), LensLength: mm(8), LensD: mm(10), PivotBack: mm(8)}
	up, down := swing(cam, 0, 30)
	if want := 12*0.5 + 10*math.Sqrt(3)/2 + 0.4; math.Abs(up-want) > 1e-9 {
		t.Errorf("up %.4f, want %.4f", up, want)
	}
	if want := 8*0.5 + 10*math.Sqrt(3)/2 + 0.4; math.Abs(down-want) > 1e-9 {
		t.Errorf("down %.4f, want %.4f", down, want)
	}
}

func TestStock(t *testing.T) {
	sold := []float64{2, 3, 5}
	for _, c := range []struct{ need, least, near float64 }{{1, 2, 2}, {2, 2, 2}, {2.6, 3, 3}, {3.1, 5, 3}, {9, 5, 5}, {4, 5, 3}} {
		if got := atLeast(sold, c.need); got != c.least {
			t.Errorf("atLeast(%g) = %g, want %g", c.need, got, c.least)
		}
		if got := nearest(sold, c.need); got != c.near {
			t.Errorf("nearest(%g) = %g, want %g", c.need, got, c.near)
		}
	}
}
