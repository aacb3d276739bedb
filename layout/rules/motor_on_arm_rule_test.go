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
