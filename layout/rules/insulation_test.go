package rules

import (
	"strings"
	"testing"
)

func TestInsulation(t *testing.T) { testRule(t, insulation, "ok tight fail unknown nothing") }

// TestInsulationTellsTheChain holds that what touches what is told from the board to the
// carbon, link by link, and where to break it.
func TestInsulationTellsTheChain(t *testing.T) {
	for _, c := range []struct{ file, say, fix string }{
		// 3 of plate, 6 of spacer, 1.6 of board and a nut of 2.4 with a turn of 0.5 are 13.5: the bolt is one of 14 or more.
		{"grounded", "the pack's negative side is tied to carbon: hole rings of the fc > steel M3x", "`bolts: {material: nylon}`"},
		{"grounded", " button > the base plate", "rubber grommets in the fc"},
		{"not-measured", "whether this ties the pack to carbon hangs on the board: hole rings of the fc > steel M3x", "write `square: {ring: isolated}` if there is no contact"},
		{"brass-spacers", "the pack's positive side is tied to carbon: hole rings of the fc > metal spacer 1 > the base plate", "take nylon in place of metal spacer 1"},
		{"pads-at-a-post", "the pack is tied to carbon: pads of the pdb > metal post main[1] > the roof plate", "move metal post main[1] away from the pads of the pdb"},
	} {
		f := judgeText(t, insulation, changed(t, insulation, c.file)).Findings[0]
		if !strings.Contains(f.Message, c.say) {
			t.Errorf("%s: %q does not say %q", c.file, f.Message, c.say)
		}
		if !strings.Contains(f.Fix, c.fix) {
			t.Errorf("%s: the fix %q does not say %q", c.file, f.Fix, c.fix)
		}
	}
}

// TestInsulationBreaksAtEveryLink changes one link of a chain at a time.
func TestInsulationBreaksAtEveryLink(t *testing.T) {
	testChanges(t, insulation, []change{
		{"grounded", "    items:", "    bolts: {material: nylon}\n    items:", "ok"},
		{"grounded", "- fc ", "- {board: fc, soft: grommet-m3} ", "ok"},
		{"grounded", "ring: ground", "ring: isolated", "ok"},
		{"grounded", "material: carbon", "material: glass", "nothing"},
		{"grounded", "material: carbon", "material: plywood", "nothing"},
		{"brass-spacers", "{spacer: brass, length: 6 mm ±0.1, part: brass}", "spacer nylon 6 mm", "ok"},
		{"pads-at-a-post", "material: aluminium", "material: nylon", "ok x2"},
		{"pads-at-a-post", "material: glass", "material: carbon", "fail x2"},
		{"rubber", "{board: fc, soft: grommet-m3}", "fc", "fail"},
	})
}
