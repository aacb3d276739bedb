package rules

import "testing"

func TestStrapAndSlot(t *testing.T) { testRule(t, strapAndSlot, "ok tight fail unknown nothing") }

func TestStrapAndSlotFollowsTheFigures(t *testing.T) {
	testChanges(t, strapAndSlot, []change{
		// What the ways out of tight and narrow say: 22.3 by 2.6, and a strap of 210.
		{"tight", "slot: [22.2, 2.5]", "slot: [22.3, 2.6]", "tight 2.00, ok 0.30 x2"},
		{"tight", "lengths: [200]", "lengths: [210]", "tight 0.20 x2, ok 12.00"},
		{"strapped", "width: 20 ", "width: 22 ", "fail -1.00, ok 0.90, ok 22.00"},
		// The build asks for 4 more than the strap is wide.
		{"strapped", "plates:", "needs: {strap-and-slot: 4}\nplates:", "fail -1.00, ok 0.90, ok 22.00"},
		// Lower posts leave 3 - 2 and less than nothing.
		{"bay", "length: 36", "length: 33", "fail -1.00, tight 0.50"},
		// A pack that swells by 4.
		{"bay", "swell: 2", "swell: 4", "tight 0.00, tight 0.50"},
		// A post in the middle of the room: from 44.5 to 39.5 behind, 45 - 39.5 part them.
		{"bay", "[-48, 0]", "[-42, 0]", "fail -5.50, ok 2.00"},
		// Leads to the front: no post is near, and the roof lies 4 over them.
		{"bay", "lead: rear", "lead: front", "ok 2.00, ok 4.00"},
	})
	wantFix(t, strapAndSlot, changed(t, strapAndSlot, "tight"), "make the slot")
	wantFix(t, strapAndSlot, changed(t, strapAndSlot, "narrow"), "take a strap of 210 mm or more")
	wantFix(t, strapAndSlot, changed(t, strapAndSlot, "bay", "length: 36", "length: 33"), "the battery and the roof plate 2.9 mm further apart")
}

// Hung from the roof it keeps as much to the base: 36 - 32 - 2. A plate over the place to which it may creep counts.
func TestBayOfPacksThatHangOrCreep(t *testing.T) {
	hung := changed(t, strapAndSlot, "bay", "on: base.top, hold", "on: roof.bottom, hold")
	if got := verdicts(judgeText(t, strapAndSlot, hung)); got != "tight 0.50, ok 2.00" {
		t.Errorf("hung: %s", got)
	}
	// A roof that begins 5 behind the pack covers it once it creeps 10.
	behind := []string{"outline: {rectangle: [120, 80]}}\nposts", "outline: {rectangle: [20, 80]}, shift: [-50, 0]}\nposts", "[55, 35], [55, -35]", "[-55, 35]"}
	text := changed(t, strapAndSlot, "bay", append(behind, "lead: rear", "lead: front")...)
	if got := verdicts(judgeText(t, strapAndSlot, text)); got != "ok" {
		t.Errorf("a pack that lies still: %s", got)
	}
	text = changed(t, strapAndSlot, "bay", append(behind, "lead: rear", "lead: front", "slide: 0", "slide: 10")...)
	if got := verdicts(judgeText(t, strapAndSlot, text)); got != "ok 2.00, ok" {
		t.Errorf("a pack that creeps: %s", got)
	}
}
