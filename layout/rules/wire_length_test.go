package rules

import (
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
)

func TestWireLength(t *testing.T) { testRule(t, wireLength, "ok tight fail unknown nothing") }

func TestWireLengthFollowsTheFigures(t *testing.T) {
	testChanges(t, wireLength, []change{
		// 3 further off: 100 - 77.8.
		{"long", "at: [30, 0]", "at: [33, 0]", "ok 22.20"},
		// No slack: 100 - 64.8.
		{"long", "gauge: thin,", "gauge: thin, slack: 0 mm,", "ok 35.20"},
		// 4.8 less slack: just so.
		{"too-short", "gauge: thin,", "gauge: thin, slack: 5.2 mm,", "tight 0.00"},
	})
	// 70 is 4.8 short, and 17.18 may be lost: 91.98, sold in steps of 5.
	wantFix(t, wireLength, changed(t, wireLength, "too-short"), "get leads of 95 mm")
}

// Leads with less than 25 over can be soldered once only, which is told but is no fault.
func TestWireLengthTellsWhetherAJointCanBeMadeAgain(t *testing.T) {
	for gauge, want := range map[string]bool{"99 mm ±2": true, "100 mm ±2": false} { // 24.2 and 25.2 over
		o := judgeText(t, wireLength, changed(t, wireLength, "long", "100 mm ±2", gauge))
		if got := strings.Contains(o.Findings[0].Message, "too little to solder anew"); got != want {
			t.Errorf("%s: %q", gauge, o.Findings[0].Message)
		}
	}
}

// Motors in another order: the pads of the others on the same board lie 14 and, over a
// corner of 14 by 34, 36.77 from one's own.
func TestWireLengthOfOtherPads(t *testing.T) {
	esc, other := &layout.Component{ID: "stacks.main.esc"}, &layout.Component{ID: "mounts.esc"}
	at := func(to *layout.Component, x, y float64) *layout.Circuit {
		return &layout.Circuit{Kind: layout.MotorCircuit, To: to, Wires: []*layout.Wire{{To: &layout.Terminal{At: r2.Point{X: x, Y: y}}}}}
	}
	one := at(esc, -7, 17)
	p := &Pass{Asm: &layout.Assembly{Circuits: []*layout.Circuit{one, at(esc, 7, 17)}}}
	if got := p.otherPads(one); got != 14 {
		t.Errorf("got %g, want 14", got)
	}
	p.Asm.Circuits = append(p.Asm.Circuits, at(esc, 7, -17), at(other, 200, 0))
	if got := p.otherPads(one); num(got) != "36.77" { // √(14² + 34²) = √1352
		t.Errorf("got %g, want 36.77", got)
	}
	supply := &layout.Circuit{Kind: layout.SupplyCircuit, To: esc, Wires: one.Wires}
	if got := p.otherPads(supply); got != 0 {
		t.Errorf("a supply has no other pads, got %g", got)
	}
}
