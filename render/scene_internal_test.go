package render

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

func slab(id string, l geom.Loop, lo, hi float64) *layout.Body {
	return &layout.Body{ID: id, Of: id, Kind: layout.PartBody, Plan: []geom.Region{geom.RegionOf(l)}, Bottom: layout.Fixed(lo), Top: layout.Fixed(hi)}
}

func box(x0, y0, x1, y1 float64) geom.Loop {
	return geom.RectLoop(geom.Rect{Lo: r2.Point{X: x0, Y: y0}, Hi: r2.Point{X: x1, Y: y1}})
}

// lengths returns how much of each body's outline is visible and hidden.
func lengths(sc *scene) (shown, hidden map[string]float64) {
	shown, hidden = map[string]float64{}, map[string]float64{}
	for _, e := range sc.edges() {
		into := shown
		if e.hidden {
			into = hidden
		}
		n := len(e.v)
		last := n - 1
		if e.closed {
			last = n
		}
		for i := range last {
			into[sc.shadows[e.shadow].id] += geom.Seg{A: e.v[i].P, B: e.v[(i+1)%n].P, Bulge: e.v[i].Bulge}.Length()
		}
	}
	return shown, hidden
}

// From above, in plan:
//
//	+--------------+  low: 0..10 x 0..10, 1 mm high
//	|low    +------+---+
//	|       |high  |   |  high: 5..15 x 4..14, 2..3 mm high
//	+-------+------+   |
//	        +----------+
//
// High hides low's edges inside it: of low's right edge (x = 10) y 4..10, of its upper
// edge (y = 10) x 5..10: 6 + 5 = 11 of 40 mm.
func TestHiddenFromAbove(t *testing.T) {
	asm := &layout.Assembly{Bodies: []*layout.Body{slab("high", box(5, 4, 15, 14), 2, 3), slab("low", box(0, 0, 10, 10), 0, 1)}}
	shown, hidden := lengths(newScene(asm, fromAbove))
	want(t, "low hidden", hidden["low"], 11)
	want(t, "low shown", shown["low"], 29)
	want(t, "high shown", shown["high"], 40)
	want(t, "high hidden", hidden["high"], 0)
}

// A disc of radius 5 over a square of 10 mm side, concentric: it touches the square's
// edges from inside and hides none of them. A disc of radius √50 reaches the corners and
// hides all.
func TestHiddenUnderDisc(t *testing.T) {
	for _, c := range []struct{ r, want float64 }{{4.9, 0}, {math.Sqrt(50) + 0.01, 40}} {
		asm := &layout.Assembly{Bodies: []*layout.Body{slab("disc", geom.Circle(r2.Point{}, c.r), 2, 3), slab("square", box(-5, -5, 5, 5), 0, 1)}}
		_, hidden := lengths(newScene(asm, fromAbove))
		want(t, "square hidden", hidden["square"], c.want)
	}
	// Between: radius 6 meets each edge where x² = 36 - 25, so 2·√11 of each edge is hidden.
	asm := &layout.Assembly{Bodies: []*layout.Body{slab("disc", geom.Circle(r2.Point{}, 6), 2, 3), slab("square", box(-5, -5, 5, 5), 0, 1)}}
	shown, hidden := lengths(newScene(asm, fromAbove))
	want(t, "square hidden", hidden["square"], 8*math.Sqrt(11))
	want(t, "square shown", shown["square"], 40-8*math.Sqrt(11))
}

// From the right the viewer stands at y = −∞. Near (y −10..−5) is 4 wide and 6 high, far
// (y 5..10) is 10 wide and 3 high; far's lower and upper edge are hidden over near's 4 mm.
func TestHiddenFromTheRight(t *testing.T) {
	asm := &layout.Assembly{Bodies: []*layout.Body{slab("far", box(0, 5, 10, 10), 1, 4), slab("near", box(3, -10, 7, -5), 0, 6)}}
	shown, hidden := lengths(newScene(asm, fromRight))
	want(t, "far hidden", hidden["far"], 8)
	want(t, "far shown", shown["far"], 26-8)
	want(t, "near shown", shown["near"], 20)
}

// The fronts of a notched body and of a post in its notch: the post stands behind the
// body's wings but in front of the notch's ground, so where the notch is it is seen.
//
//	y  8 +--------------------+
//	     |        body        |
//	   0 |      +------+      |   notch: x 4..8, y −8..0
//	     |      | post |      |   post: x 5..7, y −4..−2
//	  −8 +------+      +------+
func TestFrontFollowsTheOutline(t *testing.T) {
	l, err := geom.Polygon([]r2.Point{{X: 0, Y: -8}, {X: 4, Y: -8}, {X: 4, Y: 0}, {X: 8, Y: 0}, {X: 8, Y: -8}, {X: 12, Y: -8}, {X: 12, Y: 8}, {X: 0, Y: 8}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	asm := &layout.Assembly{Bodies: []*layout.Body{slab("body", l, 0, 10), slab("post", box(5, -4, 7, -2), 2, 6)}}
	shown, hidden := lengths(newScene(asm, fromRight))
	want(t, "post hidden", hidden["post"], 0)
	want(t, "post shown", shown["post"], 12)
}

func want(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("%s: %.6f mm, want %.6f", what, got, want)
	}
}

func TestClip(t *testing.T) {
	v := &view{cut: &window{lo: 2, hi: 8}}
	square := box(0, 0, 10, 4).Vertices()
	got := v.clip(square, true)
	// The lower and the upper edge remain, 6 mm each; the ends are cut away.
	if len(got) != 2 {
		t.Fatalf("%d runs, want 2: %v", len(got), got)
	}
	for _, e := range got {
		if len(e.v) != 2 || math.Abs(math.Abs(e.v[1].P.X-e.v[0].P.X)-6) > 1e-9 {
			t.Errorf("run %v, want 6 mm along x", e.v)
		}
	}
	if got := v.clip(box(3, 0, 5, 4).Vertices(), true); len(got) != 1 || !got[0].closed {
		t.Errorf("a body inside the window was cut: %v", got)
	}
	if got := v.clip(box(20, 0, 25, 4).Vertices(), true); len(got) != 0 {
		t.Errorf("a body outside the window was drawn: %v", got)
	}
}
