package layout_test

import (
	"encoding/json"
	"math"
	"testing"

	"dryfit/layout/layouttest"
)

// TestJSONJoints: the joints in the JSON are those worked out by hand in joint_test.go.
func TestJSONJoints(t *testing.T) {
	type height struct{ Nominal, Least, Most float64 }
	var got struct {
		Joints []struct {
			ID, Kind, Screw string
			Up, Sure, Given bool
			Layers          []struct {
				Name      string
				Thickness height
			}
			Grip, Length, Depth, Least, Most height
		}
	}
	if err := json.Unmarshal(layouttest.MustLoad(t, frameBuild).JSON(), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Joints) != 51 {
		t.Fatalf("%d joints, want 51", len(got.Joints))
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	for _, j := range got.Joints {
		if j.ID != "posts.main.bottom-screws[1]" {
			continue
		}
		// M3x8 ±0.29 through 3 ±0.1 into a post: 5 ±0.39 for 3 at least and 7.5 ±0.5 at most.
		if j.Kind != "post-screw" || j.Screw != "M3x8 button" || !j.Up || !j.Sure || j.Given || len(j.Layers) != 1 || j.Layers[0].Name != "base plate" {
			t.Errorf("%+v", j)
		}
		if !near(j.Grip.Nominal, 3) || !near(j.Length.Least, 7.71) || !near(j.Depth.Least, 4.61) || !near(j.Depth.Most, 5.39) || !near(j.Least.Nominal, 3) || !near(j.Most.Least, 7) {
			t.Errorf("%+v", j)
		}
		return
	}
	t.Error("no joint posts.main.bottom-screws[1]")
}
