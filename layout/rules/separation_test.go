package rules

import (
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
)

// A rod of 2 across that lies 5 over a slab's underside of 0 to 1: 5 - 1 - 1 = 3 straight up. Places in plan that
// are off by 1 each cannot bring them nearer; the rod's height of ±0.2 can.
func TestSteepGapsKeepFromBlurInPlan(t *testing.T) {
	slip := plusMinus("slab by hand", 0, 1)
	rise := plusMinus("height of the rod", 4, 0.2)
	rod, err := geom.NewCapsule(r3.Vector{X: 2, Y: 5, Z: 5}, r3.Vector{X: 8, Y: 5, Z: 5}, 1)
	if err != nil {
		t.Fatal(err)
	}
	above := &layout.Body{
		Tilted: ptr(rod), Plan: []geom.Region{geom.RegionOf(geom.Capsule(r2.Point{X: 2, Y: 5}, r2.Point{X: 8, Y: 5}, 2))},
		Bottom: layout.Of(rise), Top: layout.Of(rise).Shift(2),
		Blur: layout.Form{}.Plus(plusMinus("rod by hand", 0, 1), 1),
	}
	slab := func(plan geom.Region) *layout.Body {
		return &layout.Body{
			Plan: []geom.Region{plan}, Bottom: layout.Fixed(0), Top: layout.Fixed(1), Blur: layout.Form{}.Plus(slip, 1),
		}
	}
	square := geom.RegionOf(geom.Rectangle(r2.Point{X: 5, Y: 5}, 10, 10))
	m := separation(slab(square), above)
	near(t, "gap", m.form.Nominal(), 3)
	near(t, "worst over a convex slab", m.worst, 3-0.2)

	// A slab with a hole is not convex: the rod might drop in beside where it is nearest.
	holed := geom.RegionOf(square.Outer, geom.Circle(r2.Point{X: 5, Y: 1}, 0.5))
	m = separation(slab(holed), above)
	near(t, "worst over a slab with a hole", m.worst, 3-0.2-1-1)

	// Beside each other at one height the blur counts in full: the rod's end cap is at x = 9, a post of 2 across
	// stands at x = 15: 15 - 1 - 9 = 5, less 1 and 1.
	post := &layout.Body{
		Plan:   []geom.Region{geom.RegionOf(geom.Circle(r2.Point{X: 15, Y: 5}, 1))},
		Bottom: layout.Fixed(0), Top: layout.Fixed(10), Blur: layout.Form{}.Plus(slip, 1),
	}
	m = separation(post, above)
	near(t, "beside", m.form.Nominal(), 5)
	near(t, "worst beside", m.worst, 5-1-1)
}

func ptr(c geom.Convex) *geom.Convex { return &c }

// It is enough that two bodies are apart in plan or in height, whichever is surer.
func TestEitherSeparationIsEnough(t *testing.T) {
	box := func(x, z float64, slip, rise float64) *layout.Body {
		at := plusMinus("height", z, rise)
		return &layout.Body{
			Plan:   []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{X: x}, 10, 10))},
			Bottom: layout.Of(at), Top: layout.Of(at).Shift(10),
			Blur: layout.Form{}.Plus(plusMinus("place", 0, slip), 1),
		}
	}
	need := func(bool) layout.Form { return layout.Fixed(1) }
	for _, c := range []struct {
		name   string
		b      *layout.Body
		want   layout.Verdict
		margin float64
		over   bool
	}{
		// 5 apart in plan, give or take 6; 3 in height, give or take 1: the latter is sure.
		{"surer in height", box(15, 13, 6, 1), layout.OK, 2, true},
		// 5 and 1, 3 and 6.
		{"surer in plan", box(15, 13, 1, 6), layout.OK, 4, false},
		// Neither is sure, and plan loses less beyond its 5.
		{"neither", box(15, 13, 5, 6), layout.Tight, 4, false},
		// They overlap both ways, by 2 in plan and by 4 in height.
		{"overlap", box(8, 6, 1, 1), layout.Fail, -3, false},
		// Beside each other 0.5 apart, at one height.
		{"beside", box(10.5, 0, 0, 1), layout.Fail, -0.5, false},
	} {
		f, m := judged(layout.Finding{}, separations(box(0, 0, 0, 0), c.b), need)
		if f.Verdict != c.want || m.over != c.over {
			t.Errorf("%s: %v, over %v, want %v, %v", c.name, f.Verdict, m.over, c.want, c.over)
		}
		near(t, c.name, f.Margin, c.margin)
	}

	// A height that nobody gave does not matter beside what is clear in plan, and matters where plans overlap.
	tall := box(15, 0, 0, 0)
	tall.Top = layout.Of(known(nil, "height"))
	if f, _ := judged(layout.Finding{}, separations(box(0, 0, 0, 0), tall), need); f.Verdict != layout.OK {
		t.Errorf("clear in plan: %v", f.Verdict)
	}
	low := box(0, 0, 0, 0)
	low.Bottom, low.Top = layout.Fixed(-10), layout.Of(known(nil, "height"))
	if f, _ := judged(layout.Finding{}, separations(box(0, 3, 0, 0), low), need); f.Verdict != layout.Unknown {
		t.Errorf("over what nobody measured: %v", f.Verdict)
	}
}
