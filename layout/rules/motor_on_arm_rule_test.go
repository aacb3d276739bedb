package rules

import (
	"strings"
	"testing"

	"dryfit/layout"
)

func TestMotorOnArm(t *testing.T) { testRule(t, motorOnArm, "ok tight fail unknown nothing") }

// TestSquareReadingIsNamed holds that holes at the corners of a square of the circle's
// size are called what they are, with the figure to draw.
func TestSquareReadingIsNamed(t *testing.T) {
	asm := loadBuild(t, "testdata/motor-on-arm/square-read.yaml")
	for _, f := range Run(asm, []*Rule{motorOnArm})[0].Findings {
		if f.Verdict != layout.Fail {
			continue
		}
		// 16 / sqrt 2 = 11.31.
		for _, want := range []string{"square of 16 mm", "circle of 16 mm", "square of 11.31 mm"} {
			if !strings.Contains(f.Fix, want) {
				t.Errorf("the fix %q does not say %q", f.Fix, want)
			}
		}
		return
	}
	t.Error("nothing failed")
}

// TestHolesOfMotorsFollowTheFigures: what is lost at worst is half of what the hole is narrower and half of what it may stand off its
// place.
func TestHolesOfMotorsFollowTheFigures(t *testing.T) {
	for _, c := range []struct {
		file, from, to string
		want           float64
		verdict        layout.Verdict
	}{
		{"half-place", "place-tolerance: 0 ±0.18", "place-tolerance: 0 ±0.18", 0.01, layout.OK},
		{"half-place", "place-tolerance: 0 ±0.18", "place-tolerance: 0 ±0.22", -0.01, layout.Tight}, // 0.15 - 0.05 - 0.11
		{"class-hole", "hole-tolerance: 0 ±0.02", "hole-tolerance: 0 ±0.02", 0.01, layout.OK},
		{"class-hole", "hole-tolerance: 0 ±0.02", "hole-tolerance: 0 ±0.06", -0.01, layout.Tight},                          // 0.05 - 0.03 - 0.03
		{"class-hole", "{for: motors, centre: 8}", "{for: motors, centre: 8, hole: 3.1 +0.2 -0.05}", -0.005, layout.Tight}, // said of this hole: 0.025
	} {
		o := judgeText(t, motorOnArm, changed(t, motorOnArm, c.file, c.from, c.to))
		for i := range o.Findings {
			f := &o.Findings[i]
			if !strings.Contains(f.Message, "screws of the nose motor") {
				continue
			}
			if f.Verdict != c.verdict || f.Worst < c.want-1e-6 || f.Worst > c.want+1e-6 {
				t.Errorf("%s with %q: %v, at worst %.4f, want %v, %g", c.file, c.to, f.Verdict, f.Worst, c.verdict, c.want)
			}
		}
	}
}
