package rules

import (
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

func TestSignalBesidePower(t *testing.T) {
	testRule(t, signalBesidePower, "ok tight fail unknown nothing")
}

// besideBench: a camera's video lead of 100 mm along x at y = 0, and a pack lead along x at y = off.
func besideBench(off float64, quiet float64, route bool) *bench {
	b := newBench()
	eye := b.part("eye", &shapes.Part{Kind: shapes.CameraKind})
	if quiet > 0 {
		eye.Part.Quiet = &shapes.Dim{Name: "eye quiet", Value: quiet, Unit: shapes.MM}
	}
	var way *layout.Route
	if route {
		way = path(r2.Point{}, r2.Point{X: 100}, 3)
	}
	b.join(layout.SignalCircuit, eye, b.part("brain", &shapes.Part{Kind: shapes.Controller}), []shapes.Role{shapes.VideoRole}, copper(200, 1), way, 100)
	b.join(layout.PackCircuit, b.pack(4, 80), b.part("esc", escPart()), supplyPair(), copper(5, 4.5), path(r2.Point{X: 20, Y: off}, r2.Point{X: 60, Y: off}, 3), 100)
	return b
}

func TestSignalBesidePowerByHand(t *testing.T) {
	// 8 beside it, from x = 20 to 60, and within 10 as long as √(8² + d²) ≤ 10: d = 6 further at both ends: 14 to 66. The
	// steps of 1 mm lie at half mm: 52 of them. 8 - 5 = 3; 8 - 12 = -4.
	b := besideBench(8, 5, true)
	b.told(t, signalBesidePower, "ok 3.00")
	besideBench(8, 12, true).told(t, signalBesidePower, "fail -4.00")
	besideBench(8, 12, false).told(t, signalBesidePower, "unknown")
	out := besideBench(8, 0, true).told(t, signalBesidePower, "nothing")
	if !strings.Contains(out.Reason, "eye-brain 52 mm beside battery-esc") {
		t.Errorf("told %q", out.Reason)
	}
	out = besideBench(14, 0, true).told(t, signalBesidePower, "nothing")
	if !strings.Contains(out.Reason, "none runs within 10 mm") {
		t.Errorf("told %q", out.Reason)
	}
	out = besideBench(8, 0, false).told(t, signalBesidePower, "nothing")
	if !strings.Contains(out.Reason, "no signal lead has a route") {
		t.Errorf("told %q", out.Reason)
	}
}

// TestCrossingIsNotBeside: at right angles nothing couples.
func TestCrossingIsNotBeside(t *testing.T) {
	b := besideBench(8, 5, true)
	b.asm.Circuits[1].Route = path(r2.Point{X: 50, Y: -40}, r2.Point{X: 50, Y: 40}, 3)
	b.told(t, signalBesidePower, "ok")
}
