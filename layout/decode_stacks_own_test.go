package layout_test

import (
	"strings"
	"testing"

	"dryfit/layout/layouttest"
)

// A spacer in short form is the build's own part where just one has its thread and material, however it is named, and
// the catalogue's where several have, since nobody said which.
func TestSpacerInShortFormIsTheOwnPart(t *testing.T) {
	const build = `
		dryfit: 1
		name: spacers
		parts:
		  board: {kind: controller, size: [30, 30], pcb: 1.6, above: 2, below: 1, mass: 5 g, square: {side: 20, hole: 2.2, screw: M2}}
		  zz-measured: {like: standoff-m2-hex-nylon, corners: 4.4}
		  other-thread: {like: standoff-m3-hex-nylon, corners: 5.77}
		  other-stuff: {like: standoff-m2-hex-brass, corners: 4.5}
		plates: {base: {material: carbon, thickness: 2, outline: {rectangle: [60, 60]}}}
		stacks: {main: {from: base.top, pattern: 20, items: [spacer nylon 6 mm, board, nut nylon]}}`
	spacer := func(text string) string {
		return layouttest.Component(t, layouttest.MustLoad(t, text), "stacks.main.spacer-1").Part.Name
	}
	if got := spacer(build); got != "zz-measured" {
		t.Errorf("with one own part the spacer is %s", got)
	}
	if got := spacer(strings.Replace(build, "zz-measured", "a-measured", 1)); got != "a-measured" {
		t.Errorf("with the own part named to sort first the spacer is %s", got)
	}
	two := strings.Replace(build, "\t\tplates:", "\t\t  a-second: {like: standoff-m2-hex-nylon, corners: 4.2}\n\t\tplates:", 1)
	if got := spacer(two); got != "standoff-m2-hex-nylon" {
		t.Errorf("with two own parts the spacer is %s", got)
	}
}
