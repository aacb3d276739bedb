package rules

import "testing"

func TestStrapOverLead(t *testing.T) {
	testRule(t, strapOverLead, "ok tight fail nothing")
	const b = "beside"
	testChanges(t, strapOverLead, []change{
		{b, "dryfit: 1", "dryfit: 1\nneeds: {strap-over-lead: 6 mm}", "fail -0.70"}, // 5.3 - 6
		{b, "width: 15 ±0.2", "width: 21 ±0.2", "ok 1.30"},                          // 14 - 10.5 - 1.2 - 1
		{b, "outside: 1.2 ±0.1", "outside: 2 ±0.1", "ok 3.50"},                      // 14 - 7.5 - 2 - 1
	})
	wantFix(t, strapOverLead, changed(t, strapOverLead, "led-past-too-near"), "lead them past it with `via:`, 0.6 mm farther off, or move the slots of the strap")
}
