package report_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"dryfit/layout"
	"dryfit/render/report"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// finding makes a finding by hand: measured and needed in mm, the spread taken off the
// margin at worst case.
func finding(rule string, v layout.Verdict, measured, needed, spread float64, message string) layout.Finding {
	return layout.Finding{
		Rule: rule, Verdict: v, Unit: shapes.MM, HasMeasure: true, Measured: measured, Needed: needed,
		Margin: measured - needed, Worst: measured - needed - spread,
		Subjects: []string{"stacks.main.board", "plates.roof"}, Near: "under the roof",
		Message: message, Fix: "lower it", Pos: read.Pos{File: "mine.yaml", Line: 7, Col: 3},
	}
}

func judged(rule string, list ...layout.Finding) layout.Outcome {
	return layout.Outcome{Rule: rule, Status: layout.Judged, Findings: list}
}

func text(t *testing.T, outs []layout.Outcome, opt report.Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := report.Text(&b, &layout.Assembly{Name: "craft"}, outs, opt); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// everything is one outcome of each kind, in an order that is not that of the report.
func everything() []layout.Outcome {
	ok := finding("stack-height", layout.OK, 9, 1, 1.4, "the nut ends 9 mm under the roof")
	tight := finding("board-gap", layout.Tight, 2.25, 2, 0.5, "the boards are 2.25 mm apart")
	tight.Chance = 0.042
	tight.Eaters = []layout.Share{{Dim: &shapes.Dim{Name: "spacer-2"}, MM: 0.25}}
	tight.RestsOn = []*shapes.Dim{{Name: "board above", Source: shapes.Catalogue}, {Name: "spacer-2", Source: shapes.Given, TolSource: shapes.Assumed}}
	fail := finding("body-gap", layout.Fail, -1, 0.5, 0.3, "the can and the roof overlap by 1 mm")
	fail.Chance = 0.9999
	unknown := finding("camera-tilt", layout.Unknown, 0, 1, 0, "whether the camera clears the roof hangs on its depth")
	unknown.Missing = []*shapes.Dim{{Name: "camera depth"}, {Name: "camera height"}}
	unknown.Fix = "write both"
	excused := finding("prop-sweep", layout.Fail, 1, 5, 0.1, "the tips pass 1 mm from the guard")
	excused.Excuse = &layout.Excuse{Why: "it folds away"}
	kinds := layout.Finding{Rule: "rotor-hands", Verdict: layout.OK, Message: "all rotors alternate", Subjects: []string{"rotors.front.motor"}}
	hands, height := judged("rotor-hands", kinds), judged("stack-height", ok)
	hands.Group, height.Group = "rotors", "stack"
	return []layout.Outcome{
		hands, judged("prop-sweep", excused), height, judged("board-gap", tight),
		judged("camera-tilt", unknown), judged("body-gap", fail),
		{Rule: "strap-and-slot", Status: layout.Nothing, Reason: "the build has no battery"},
		{Rule: "balance", Status: layout.Crashed, Reason: "index out of range\ngoroutine 1"},
	}
}

// TestText: what broke on our side first, then what fails, is tight, is unknown, what is
// excused, what holds, what had nothing to judge; numbers in one form.
func TestText(t *testing.T) {
	const want = `craft: not fully checked (1 fail, 1 tight, 1 unknown, 2 ok, 1 excused; 8 rules)

OURS       balance could not be judged through a fault of ours: index out of range
           do: the other rules stand; please report this with the build file

FAIL 1     body-gap: the can and the roof overlap by 1 mm
           margin -1.5 mm, worst -1.8 mm (has -1 mm, needs 0.5 mm)
           where: under the roof; mine.yaml:7:3
           do: lower it

TIGHT 2    board-gap: the boards are 2.25 mm apart
           margin +0.25 mm, worst -0.25 mm, chance of not holding 4.2 % (has 2.25 mm, needs 2 mm)
           eaten by: spacer-2 0.25 mm
           rests on: class figures for board above; assumed figures for spacer-2
           where: under the roof; mine.yaml:7:3
           do: lower it

UNKNOWN 3  camera-tilt: whether the camera clears the roof hangs on its depth
           measure: camera depth, camera height
           where: under the roof; mine.yaml:7:3
           do: write both

excused in the build
  prop-sweep (fail): the tips pass 1 mm from the guard
    because: it folds away

holds, with the least room at worst case (mm where no unit stands; --all says where)
  rotors  rotor-hands
  stack   stack-height 6.6
nothing to judge for strap-and-slot (--all says why)

numbers: as on the sheets of ` + "`dryfit draw`" + `; margin: as drawn; worst: with every tolerance against
you; chance: tolerances added as root-sum-square, each taken as three standard deviations
`
	if got := text(t, everything(), report.Options{}); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestTextAll: with All each verdict that holds is told with its figures, and each rule that
// had nothing to judge with its reason.
func TestTextAll(t *testing.T) {
	got := text(t, everything(), report.Options{All: true})
	for _, want := range []string{
		"\nholds                      ok  least margin  at worst  at\n  rotor-hands               1\n" +
			"  stack-height              1      +8.00 mm     +6.60  main.board / roof\n",
		"\nholds, one by one\n  rotor-hands            all rotors alternate\n",
		"  stack-height           the nut ends 9 mm under the roof\n                         margin +8 mm, worst +6.6 mm (has 9 mm, needs 1 mm)\n",
		"\nnothing to judge\n  strap-and-slot         the build has no battery\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// TestAlike: the four arms of a cross are told once, with the places of the others; a finding
// that differs in its last shown figure is told for itself.
func TestAlike(t *testing.T) {
	var list []layout.Finding
	for _, arm := range []string{"front left arm", "front right arm", "rear left arm"} {
		f := finding("esc-on-arm", layout.Fail, -0.15, 0, 1, "it stands out 0.15 mm")
		f.Near = arm
		list = append(list, f)
	}
	other := finding("esc-on-arm", layout.Fail, -0.17, 0, 1, "it stands out 0.17 mm")
	other.Near = "rear right arm"
	got := text(t, []layout.Outcome{judged("esc-on-arm", append(list, other)...)}, report.Options{})
	if n := strings.Count(got, "\nFAIL "); n != 2 {
		t.Errorf("told %d times, want 2:\n%s", n, got)
	}
	if !strings.Contains(got, "the same: front right arm; rear left arm\n") {
		t.Errorf("the other arms are not named:\n%s", got)
	}
	if !strings.HasPrefix(got, "craft: does not fit (4 fail; 1 rules)") {
		t.Errorf("the count is of findings, not of what is told:\n%s", got)
	}
}

func TestSummary(t *testing.T) {
	ok := finding("a", layout.OK, 2, 1, 0, "m")
	tight := finding("a", layout.Tight, 2, 1, 2, "m")
	unknown := finding("a", layout.Unknown, 0, 1, 0, "m")
	for _, c := range []struct {
		outs []layout.Outcome
		want string
	}{
		{[]layout.Outcome{judged("a", ok)}, "everything fits (1 ok; 1 rules)"},
		{[]layout.Outcome{judged("a", ok, tight)}, "fits as drawn, but tight (1 tight, 1 ok; 1 rules)"},
		{[]layout.Outcome{judged("a", tight, unknown)}, "cannot be told yet (1 tight, 1 unknown; 1 rules)"},
		{[]layout.Outcome{{Rule: "a", Status: layout.Nothing}}, "nothing to check (nothing judged; 1 rules)"},
		{[]layout.Outcome{{Rule: "a"}, judged("b", ok)}, "not fully checked (1 ok; 2 rules)"},
	} {
		got, _, _ := strings.Cut(text(t, c.outs, report.Options{}), "\n")
		if got != "craft: "+c.want {
			t.Errorf("got %q, want %q", got, "craft: "+c.want)
		}
	}
}

// TestNum: at most two decimals, no zeros behind, no minus before nothing.
func TestNum(t *testing.T) {
	for _, c := range []struct {
		v    float64
		u    shapes.Unit
		want string
	}{{5, shapes.MM, "5 mm"}, {4.2, shapes.MM, "4.2 mm"}, {0.126, shapes.MM, "0.13 mm"}, {-0.001, shapes.MM, "0 mm"}, {100, "", "100"}, {-12.5, shapes.Gram, "-12.5 g"}} {
		if got := report.Num(c.v, c.u); got != c.want {
			t.Errorf("Num(%g) = %q, want %q", c.v, got, c.want)
		}
	}
}

// TestWrap: lines hang under the first, units stay with their numbers, long words stand
// alone.
func TestWrap(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"one two three", "- one two\n  three"},
		{"  blanks   go ", "- blanks go"},
		{"passes at 12 mm here", "- passes at\n  12 mm here"},
		{"a-word-beyond-all-bounds b", "- a-word-beyond-all-bounds\n  b"},
		{"", "-"},
		{"±±±±± ±±±±±", "- ±±±±±\n  ±±±±±"},
	} {
		if got := report.Wrap("- ", "  ", c.text, 12); got != c.want {
			t.Errorf("Wrap(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// TestLinesAreNotTooLong: however long the words of a rule, no line is over the width.
func TestLinesAreNotTooLong(t *testing.T) {
	f := finding("prop-tip-gap", layout.Tight, 2.25, 2, 0.5, strings.Repeat("many words ", 40))
	f.Fix, f.Near = strings.Repeat("do this ", 30), strings.Repeat("here ", 40)
	f.Excuse = nil
	g := f
	g.Rule, g.Verdict = "board-gap", layout.OK
	g.Subjects = []string{strings.Repeat("long name ", 9), "b"}
	outs := []layout.Outcome{judged("prop-tip-gap", f), judged("board-gap", g), {Rule: "balance", Status: layout.Nothing, Reason: strings.Repeat("why ", 50)}}
	for _, all := range []bool{false, true} {
		for _, line := range strings.Split(text(t, outs, report.Options{All: all}), "\n") {
			if n := len([]rune(line)); n > report.Width {
				t.Errorf("%d characters: %s", n, line)
			}
		}
	}
}

// TestJSONAgainstText: both tell the same findings in the same order with the same
// numbers.
func TestJSONAgainstText(t *testing.T) {
	outs := everything()
	outs[5].Findings[0].HasPlace = true
	outs[5].Findings[0].A = r3.Vector{X: 1, Y: -2, Z: 0.1234567891}
	data, err := report.JSON(&layout.Assembly{Name: "craft", File: "mine.yaml"}, outs)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Name   string
		Fits   bool
		Counts map[string]int
		Rules  []struct {
			Rule, Question, Status, Reason string
			Findings                       []struct {
				Verdict, Message, Fix, Unit     string
				Measured, Needed, Margin, Worst *float64
				Missing                         []string
				Points                          [][3]float64
				Line, Column                    int
				Excuse                          string
			}
		}
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	if err := dec.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	if doc.Fits || doc.Name != "craft" || fmt.Sprint(doc.Counts) != "map[crashed:1 excused:1 fail:1 nothing:1 ok:2 tight:1 unknown:1]" {
		t.Errorf("head: fits %v, name %q, counts %v", doc.Fits, doc.Name, doc.Counts)
	}
	page := text(t, outs, report.Options{All: true})
	order := []string{}
	for _, verdict := range []string{"fail", "tight", "unknown", "ok"} { // as the text tells them
		for _, r := range doc.Rules {
			for _, f := range r.Findings {
				if f.Verdict == verdict && f.Excuse == "" {
					order = append(order, f.Message)
					if f.Measured != nil {
						figures := fmt.Sprintf("(has %s, needs %s)", report.Num(*f.Measured, shapes.Unit(f.Unit)), report.Num(*f.Needed, shapes.Unit(f.Unit)))
						if !strings.Contains(page, figures) || *f.Margin != *f.Measured-*f.Needed {
							t.Errorf("%s: the text does not have %s", r.Rule, figures)
						}
					}
				}
			}
		}
	}
	at := 0
	for _, m := range order {
		i := strings.Index(page[at:], m)
		if i < 0 {
			t.Errorf("%q does not come in its turn in the text", m)
			continue
		}
		at += i
	}
	if len(order) != 5 {
		t.Errorf("%d findings that are not excused, want 5", len(order))
	}
	for i, r := range doc.Rules {
		if r.Rule != outs[i].Rule {
			t.Errorf("rule %d is %s, want %s", i, r.Rule, outs[i].Rule)
		}
		if r.Question == "" {
			t.Errorf("%s: no question", r.Rule)
		}
	}
	body := doc.Rules[5].Findings[0]
	if body.Points[0] != [3]float64{1, -2, 0.123457} || body.Line != 7 || body.Column != 3 {
		t.Errorf("place %v at %d:%d", body.Points, body.Line, body.Column)
	}
	if u := doc.Rules[4].Findings[0]; u.Measured != nil || len(u.Missing) != 2 {
		t.Errorf("an unknown has a measure, or does not say what is missing: %+v", u)
	}
}
