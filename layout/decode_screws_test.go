package layout_test

import (
	"testing"

	"dryfit/layout"
	"dryfit/shapes"
)

// TestScrewKeys: what testdata/valid-screws.yaml says of screws is what the build holds.
func TestScrewKeys(t *testing.T) {
	b, diags := layout.Load("testdata/valid-screws.yaml", testLibrary(t))
	if diags.HasErrors() {
		t.Fatal(diags.Err())
	}
	for _, r := range b.Rotors.Rotors {
		s := r.Screw
		want := 8.0
		if r.Name == "front-left" {
			want = 6 // its own screw stands for all of the common one
		}
		if s == nil || s.Length.Value != want || s.Washer != (want > 6) || r.PropScrew == nil || r.PropScrew.Length != nil {
			t.Errorf("%s: %+v, %+v", r.Name, s, r.PropScrew)
		}
	}
	holes := b.Plates[0].Holes
	if s := holes[0].Sink; s == nil || s.Diameter.Value != 5.8 || s.Depth.Value != 1.5 || s.Angle > 0 || !holes[0].HasFace || holes[0].Face != shapes.Bottom {
		t.Errorf("counterbore: %+v, %+v", s, holes[0])
	}
	if s := holes[1].Sink; s == nil || s.Depth != nil || s.Angle != 90 || holes[1].HasFace {
		t.Errorf("countersink: %+v", s)
	}
	if h := b.Plates[1].Holes[0]; !h.Press || h.Sink != nil || h.Face != shapes.Top {
		t.Errorf("press nut: %+v", h)
	}
	front, rear := b.Posts[0], b.Posts[1]
	if front.Bottom == nil || front.Bottom != front.Top || front.Bottom.Head != "socket" {
		t.Errorf("front posts: %+v %+v", front.Bottom, front.Top)
	}
	if rear.Bottom.Length.Value != 8 || rear.Top.Head != "countersunk" || rear.Top.Length != nil {
		t.Errorf("rear posts: %+v %+v", rear.Bottom, rear.Top)
	}
	s := b.Stacks[0]
	if s.BoltKind != "through" || s.BoltFrom != "above" || s.Bolts.Length.Value != 25 || s.Bolts.Head != "socket" || s.Bolts.Material != "titanium" {
		t.Errorf("bolts: %q %q %+v", s.BoltKind, s.BoltFrom, s.Bolts)
	}
	c := b.Cameras[0]
	if c.Screw.Length.Value != 4 || c.Cheek.Value != 2 || c.Cheek.Plus != 0.1 {
		t.Errorf("camera: %+v %+v", c.Screw, c.Cheek)
	}
	if h := b.Bolts[0]; h.Name != "hatch" || h.Thread != "M3" || !h.Above || h.Nut != "press" || h.Screw.Length.Value != 6 || h.Through.ID() != "plates.lid.bolts" {
		t.Errorf("screws: %+v", h)
	}
}
