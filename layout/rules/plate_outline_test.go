package rules

import (
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/layout/layouttest"
)

func TestPlateOutline(t *testing.T) { testRule(t, plateOutline, "ok fail nothing") }

func TestPlateOutlineNamesTheUnit(t *testing.T) {
	// 3.15 x 25.4 = 80.01, 1.575 x 25.4 = 40.005; 1905/25.4 = 75.
	wantFix(t, plateOutline, changed(t, plateOutline, "inches"), "in inches it would be 80.01 by 40")
	wantFix(t, plateOutline, changed(t, plateOutline, "blown-up"), "75 by 40 mm")
	testChanges(t, plateOutline, []change{{"inches", "rectangle: [3.15, 1.575]", "rectangle: [10, 5]", "ok"}})
}

// TestOutlinesThatCannotBeCut gives the rule outlines that no build file leads to: one that
// crosses itself, and one in two pieces.
func TestOutlinesThatCannotBeCut(t *testing.T) {
	asm := layouttest.MustLoad(t, changed(t, plateOutline, "plain"))
	loop := func(v ...geom.Vertex) geom.Loop {
		l, err := geom.NewLoop(v)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	at := func(x, y float64) geom.Vertex { return geom.Vertex{P: r2.Point{X: x, Y: y}} }
	for _, c := range []struct {
		outline []geom.Region
		say     string
	}{
		{[]geom.Region{{Outer: loop(at(0, 0), at(40, 20), at(40, 0), at(0, 30))}}, "no outline that can be cut"},
		{[]geom.Region{geom.RegionOf(geom.Circle(r2.Point{}, 10)), geom.RegionOf(geom.Circle(r2.Point{X: 50}, 10))}, "is in 2 pieces"},
	} {
		asm.Plates[0].Outline = c.outline
		out := Run(asm, []*Rule{plateOutline})[0]
		if len(out.Findings) != 1 || out.Findings[0].Verdict != layout.Fail || !strings.Contains(out.Findings[0].Message, c.say) {
			t.Errorf("want one failure that says %q, got %+v", c.say, out.Findings)
			continue
		}
		checkFinding(t, asm, &out.Findings[0])
	}
}
