package rules

import "testing"

func TestConnectorExit(t *testing.T) { testRule(t, connectorExit, "ok tight fail unknown nothing") }

func TestConnectorExitFollowsTheFigures(t *testing.T) {
	testChanges(t, connectorExit, []change{
		// The way out of the tight one: 0.5 aside.
		{"beside-a-post", "[[40, 9]]", "[[40, 9.5]]", "ok 0.70"},
		// A quarter turn to the left, and the post is far from the plug; the base lies 6.1 under it.
		{"beside-a-post", "- board ", "- {board: board, turn: 90} ", "ok 5.80"},
		// The angled plug ends 3 before the post.
		{"blocked", "stacks:", "ports: {board.usb: {angled: true}}\nstacks:", "ok 2.70"},
		// A post too low for it: 6 over the base, the plug's underside at 6.1, needed 0.3.
		{"blocked", "length: 25", "length: 6", "fail -0.20"},
		// A plug of a known length.
		{"ahead", "beyond: 40 ±5", "beyond: 40 ±0.5", "ok 1.20"},
		// A socket set back by 0.5 instead.
		{"ahead", "overhang: 0.5 ±0", "overhang: -0.5 ±0", "tight 2.20"},
		// The other plug is put in as well. The post at y = -21 stands in it, from -23.5 to -18.5; its way goes from -18 to
		// -24: 5.5 either sideways (3 + 2.5) or out (24 - 18.5) part them.
		{"in-flight", "{used: false}", "{used: true}", "fail -5.80, ok 0.70"},
		// A plug that is put in before the pack: the strap gives way, the base lies 1.1 under it.
		{"under-a-strap", "battery:", "ports: {board.usb: {used: true, reach: false}}\nbattery:", "ok 0.80"},
	})
	// Where the socket ends counts like the length of the plug: 0.7, 0.5 and 1 can be lost of 1.2.
	set := changed(t, connectorExit, "ahead", "beyond: 40 ±5", "beyond: 40 ±0.5", "overhang: 0.5 ±0", "overhang: 0.5 ±1")
	if got := verdicts(judgeText(t, connectorExit, set)); got != "tight 1.20" {
		t.Errorf("a socket that may stand out further: %s", got)
	}
	wantFix(t, connectorExit, changed(t, connectorExit, "blocked"), "use an angled plug, 16 mm out, turn the board by a quarter counter-clockwise, or move post main[1] 9.5 mm aside")
	wantFix(t, connectorExit, changed(t, connectorExit, "beside-a-post"), "move post main[1] 0.5 mm aside")
	wantFix(t, connectorExit, changed(t, connectorExit, "unmeasured"), "measure")
	// With a post on every side and no angled plug that is short enough there is only the post to move.
	walled := changed(t, connectorExit, "blocked", "[[40, 0]]", "[[33, 0], [-33, 0], [0, 33], [0, -33]]")
	if fix := firstFix(t, connectorExit, walled); fix != "move post main[1] 9.5 mm aside" {
		t.Errorf("walled in it says to do %q", fix)
	}
}
