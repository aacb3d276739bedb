package report_test

import (
	"encoding/json"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/render/report"
)

// TestNumber: fails of both rules come before what is tight and unknown, alike findings share
// a number, those that hold or are excused have none.
func TestNumber(t *testing.T) {
	left := finding("esc-on-arm", layout.Fail, -0.15, 0, 1, "it stands out at the left")
	right := finding("esc-on-arm", layout.Fail, -0.15, 0, 1, "it stands out at the right")
	otherFix := right
	otherFix.Fix = "turn it"
	otherKind := right
	otherKind.Subjects = []string{"mounts.esc"}
	excused := right
	excused.Excuse = &layout.Excuse{Why: "meant"}
	tight := finding("esc-on-arm", layout.Tight, 0.1, 0, 1, "m")
	ok := finding("esc-on-arm", layout.OK, 5, 0, 1, "m")
	words := layout.Finding{Rule: "rotor-hands", Verdict: layout.Fail, Message: "turns the wrong way"}
	unknown := finding("body-gap", layout.Unknown, 0, 1, 0, "m")
	outs := []layout.Outcome{
		judged("body-gap", unknown), judged("esc-on-arm", ok, tight, left, excused, right, otherFix, otherKind), judged("rotor-hands", words, words),
	}
	type told struct {
		rule    string
		verdict layout.Verdict
		n       int
	}
	want := []told{
		{"esc-on-arm", layout.Fail, 2}, {"esc-on-arm", layout.Fail, 1}, {"esc-on-arm", layout.Fail, 1},
		{"rotor-hands", layout.Fail, 2}, {"esc-on-arm", layout.Tight, 1}, {"body-gap", layout.Unknown, 1},
	}
	got := report.Number(outs)
	if len(got) != len(want) {
		t.Fatalf("%d numbers, want %d", len(got), len(want))
	}
	for i, n := range got {
		if n.No != i+1 || n.Rule != want[i].rule || n.All[0].Verdict != want[i].verdict || len(n.All) != want[i].n {
			t.Errorf("number %d: %s %v, %d findings; want %+v", n.No, n.Rule, n.All[0].Verdict, len(n.All), want[i])
		}
	}
	if got[0].All[1] != &outs[1].Findings[4] {
		t.Error("the findings of a number are not those of the outcomes")
	}
}

// TestNumbersAgree: text and JSON give a finding the same number, and alike ones one number.
func TestNumbersAgree(t *testing.T) {
	outs := everything()
	data, err := report.JSON(&layout.Assembly{Name: "craft"}, outs)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Rules []struct {
			Rule, Group string
			Findings    []struct {
				Verdict string
				Number  int
			}
		}
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	want := map[string]int{"body-gap": 1, "board-gap": 2, "camera-tilt": 3} // the others hold or are excused
	page := text(t, outs, report.Options{})
	for i, r := range doc.Rules {
		if r.Group != outs[i].Group {
			t.Errorf("%s: group %q, want %q", r.Rule, r.Group, outs[i].Group)
		}
		for _, f := range r.Findings {
			if f.Number != want[r.Rule] {
				t.Errorf("%s: number %d, want %d", r.Rule, f.Number, want[r.Rule])
			}
		}
	}
	for _, head := range []string{"\nFAIL 1     body-gap:", "\nTIGHT 2    board-gap:", "\nUNKNOWN 3  camera-tilt:"} {
		if !strings.Contains(page, head) {
			t.Errorf("no %q in the text", head)
		}
	}
}
