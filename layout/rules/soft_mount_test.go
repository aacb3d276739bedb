package rules

import "testing"

func TestSoftMount(t *testing.T) { testRule(t, softMount, "ok tight fail unknown nothing") }

// TestLostNut says what to do about a plain nut over rubber, and that a bolt with its nut
// behind the plate has one with an insert.
func TestLostNut(t *testing.T) {
	wantFix(t, softMount, changed(t, softMount, "plain-nut"), "nut insert", "second nut", "no threadlocker")
	testChanges(t, softMount, []change{
		{"plain-nut", "nut steel ", "nut insert ", "ok 0.38, ok 1.06, ok"},
		{"plain-nut", "nut steel ", "nut nylon ", "ok 0.38, ok 1.06, ok"},
		{"plain-nut", "    items:", "    bolts: {from: above}\n    items:", "ok 0.38, ok 1.06, ok"},
	})
}
