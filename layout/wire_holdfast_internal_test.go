package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// TestHoldfastOnSpacer: a spacer of 4 across, from 2 to 27 high, at (18, 0). A bundle of radius
// 1.5 whose middle is x from its middle in plan is x - 2 - 1.5 off it, and a tie spans 5: as far
// as x = 8.5 to either side, between the spacer's ends and not at them.
func TestHoldfastOnSpacer(t *testing.T) {
	round := []geom.Region{geom.RegionOf(geom.Circle(r2.Point{X: 18}, 2))}
	body := func(kind Kind) *Body {
		return &Body{ID: "stacks.main.spacer-1[1]", Of: "stacks.main.spacer-1", Kind: kind, Plan: round, Bottom: Fixed(2), Top: Fixed(27)}
	}
	spacer := &Assembly{Bodies: []*Body{body(SpacerBody)}}
	for _, q := range []struct {
		p    r2.Point
		z    float64
		want string
	}{
		{r2.Point{X: 23, Y: 3}, 15, "stacks.main.spacer-1"},
		{r2.Point{X: 18 + 8.4}, 15, "stacks.main.spacer-1"}, // 4.9 off
		{r2.Point{X: 18, Y: -8.4}, 15, "stacks.main.spacer-1"},
		{r2.Point{X: 18 + 8.6}, 15, ""}, // 5.1 off
		{r2.Point{X: 18 - 8.6}, 15, ""},
		{r2.Point{X: 23, Y: 3}, 2.1, "stacks.main.spacer-1"},
		{r2.Point{X: 23, Y: 3}, 1.9, ""}, // under its foot
		{r2.Point{X: 23, Y: 3}, 26.9, "stacks.main.spacer-1"},
		{r2.Point{X: 23, Y: 3}, 27.1, ""}, // over its head
	} {
		if got := spacer.holdfast(q.p, q.z, 1.5); got != q.want {
			t.Errorf("at %v, %g high: %q, want %q", q.p, q.z, got, q.want)
		}
	}
	// The same thing as a screw's head is nothing to tie to.
	head := &Assembly{Bodies: []*Body{body(FastenBody)}}
	if got := head.holdfast(r2.Point{X: 23, Y: 3}, 15, 1.5); got != "" {
		t.Errorf("tied to a screw's head: %q", got)
	}
}

// TestOffRegions: (3, 4) is 5 from the origin, so 3 off a circle of radius 2 round it and 4 off a
// circle of radius 1 round (3, -1); the nearer counts. In a circle it is 0.
func TestOffRegions(t *testing.T) {
	two := []geom.Region{geom.RegionOf(geom.Circle(r2.Point{X: 3, Y: -1}, 1)), geom.RegionOf(geom.Circle(r2.Point{}, 2))}
	if got := off(two, r2.Point{X: 3, Y: 4}); math.Abs(got-3) > 1e-6 {
		t.Errorf("%g off, want 3", got)
	}
	if got := off(two, r2.Point{X: 1}); got > 0 {
		t.Errorf("%g off from inside, want 0", got)
	}
	if got := off(nil, r2.Point{}); !math.IsInf(got, 1) {
		t.Errorf("%g off nothing, want infinite", got)
	}
}
