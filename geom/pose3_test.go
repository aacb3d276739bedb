package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestPose3ByHand(t *testing.T) {
	x, y, z := vec(1, 0, 0), vec(0, 1, 0), vec(0, 0, 1)
	quarter := 90 * s1.Degree
	cases := []struct {
		name     string
		p        geom.Pose3
		in, want r3.Vector
	}{
		{"nothing", geom.Pose3{}, vec(1, 2, 3), vec(1, 2, 3)},
		{"x by a quarter: y to z", geom.RotX(quarter), y, z},
		{"y by a quarter: z to x", geom.RotY(quarter), z, x},
		{"z by a quarter: x to y", geom.RotZ(quarter), x, y},
		{"z by half", geom.RotZ(180 * s1.Degree), vec(1, 2, 3), vec(-1, -2, 3)},
		{"shift", geom.Shift3(vec(1, 1, 1)), vec(1, 2, 3), vec(2, 3, 4)},
		{"turn, then shift", geom.RotZ(quarter).Then(geom.Shift3(x)), x, vec(1, 1, 0)},
		{"shift, then turn", geom.Shift3(x).Then(geom.RotZ(quarter)), x, vec(0, 2, 0)},
		{"about an upright line through (1, 0, 0)", geom.Rotation3(x, vec(0, 0, 5), quarter), vec(2, 0, 7), vec(1, 1, 7)},
		{"about no line", geom.Rotation3(x, vec(0, 0, 0), quarter), vec(1, 2, 3), vec(1, 2, 3)},
		{"plan motion lifted", geom.Pose2{Turn: quarter, Mirror: true, Shift: pt(10, 0)}.Lift(5), vec(1, 2, 3), vec(12, 1, 8)},
	}
	for _, c := range cases {
		if got := c.p.Apply(c.in); got != c.want {
			t.Errorf("%s: %v to %v, want %v exactly", c.name, c.in, got, c.want)
		}
		if got := c.p.Inverse().Apply(c.want); got.Sub(c.in).Norm() > 1e-14 {
			t.Errorf("%s, undone: %v to %v, want %v", c.name, c.want, got, c.in)
		}
	}
}

func TestPose3Properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := genPose3(100).Draw(t, "p"), genPose3(100).Draw(t, "q")
		a, b := genVector(100).Draw(t, "a"), genVector(100).Draw(t, "b")
		if d, e := a.Sub(b).Norm(), p.Apply(a).Sub(p.Apply(b)).Norm(); math.Abs(d-e) > 1e-11 {
			t.Fatalf("distance %v became %v", d, e)
		}
		if got, want := p.Then(q).Apply(a), q.Apply(p.Apply(a)); got.Sub(want).Norm() > 1e-11 {
			t.Fatalf("then: %v, want %v", got, want)
		}
		if got := p.Then(p.Inverse()).Apply(a); got.Sub(a).Norm() > 1e-11 {
			t.Fatalf("there and back: %v, want %v", got, a)
		}
		// A turn about a line leaves its points and the distance from it alone.
		turn := geom.Rotation3(a, b, 1)
		if got := turn.Apply(a.Add(b)); got.Sub(a.Add(b)).Norm() > 1e-10 {
			t.Fatalf("a point of the axis moved: %v to %v", a.Add(b), got)
		}
	})
}
