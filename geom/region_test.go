package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"dryfit/geom"
)

// TestZeroRegion: the zero region is empty in every respect, and so is one whose outer loop
// is, whatever its holes.
func TestZeroRegion(t *testing.T) {
	sq := region(geom.Rectangle(pt(0, 0), 2, 2))
	for _, r := range []geom.Region{{}, {Holes: []geom.Loop{geom.Circle(pt(0, 0), 1)}}, {Holes: []geom.Loop{{}}}} {
		if !r.IsEmpty() || r.Area() != 0 || !r.Bound().IsEmpty() || r.Contains(pt(0, 0)) || !r.Transform(geom.Pose2{Turn: 1}).IsEmpty() {
			t.Errorf("%v is not empty", r)
		}
		for range r.Loops() {
			t.Error("the empty region has a loop")
		}
		for _, g := range []geom.Gap{geom.Distance(r, sq), geom.Distance(sq, r), geom.Distance(r, r), geom.DistancePoint(r, pt(0, 0)), geom.Prepare(r).Distance(geom.Prepare(sq))} {
			if !math.IsInf(g.Dist, 1) {
				t.Errorf("the empty region is at %g", g.Dist)
			}
		}
		if geom.Intersects(r, sq) || geom.IsCloser(sq, r, 1e9) || geom.Separation(sq, r) != math.Inf(1) {
			t.Error("the empty region is near")
		}
	}
}

// TestLiteralRegion: written out literally, with clockwise outer loop, holes of either
// orientation and empty ones, a region answers like the normalised one.
func TestLiteralRegion(t *testing.T) {
	outer, hole := geom.Rectangle(pt(0, 0), 20, 10), geom.Circle(pt(5, 0), 3)
	want := region(outer, hole)
	if want.Outer.Area() <= 0 || want.Holes[0].Area() >= 0 {
		t.Fatal("orientation is not normalised")
	}
	lit := geom.Region{Outer: outer.Reverse(), Holes: []geom.Loop{{}, hole}}
	near(t, "area", lit.Area(), want.Area(), 1e-12)
	near(t, "area by hand", want.Area(), 200-9*math.Pi, 1e-12)
	disk := region(geom.Circle(pt(5, 0), 1))
	for _, r := range []geom.Region{want, lit} {
		near(t, "distance", geom.Distance(r, disk).Dist, 2, 1e-12) // 3 - 1
		near(t, "inside", geom.Inside(r, region(geom.Circle(pt(0, 0), 1))).Dist, 1, 1e-12)
		near(t, "outside", geom.Inside(r, disk).Dist, -3, 2e-7) // the middle of the hole
		if r.Contains(pt(5, 0)) || !r.Contains(pt(2, 0)) || !r.Contains(pt(-10, 5)) || r.Contains(pt(-10.1, 5)) {
			t.Error("containment")
		}
	}
}

// TestRegionTransform: area and containment go with the motion, orientation is kept.
func TestRegionTransform(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, pose, p := genRegion().Draw(t, "r"), genPose().Draw(t, "pose"), genPoint(20).Draw(t, "p")
		m := r.Transform(pose)
		if math.Abs(m.Area()-r.Area()) > 1e-9 {
			t.Fatalf("area %g, moved %g", r.Area(), m.Area())
		}
		if m.Outer.Area() <= 0 {
			t.Fatal("the outer loop runs clockwise")
		}
		if d := geom.DistancePoint(r, p).Dist; math.Abs(d) > 1e-8 && m.Contains(pose.Apply(p)) != r.Contains(p) {
			t.Fatalf("containment changes at %g from the boundary", d)
		}
		back := m.Transform(pose.Inverse())
		if d := dist(back.Moments().Centroid, r.Moments().Centroid); d > 1e-9 {
			t.Fatalf("there and back moves the centroid by %g", d)
		}
	})
}
