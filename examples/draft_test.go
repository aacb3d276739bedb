package examples

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/rules"
)

// A line of the list at the top of a draft: number, rule, measured and needed (or a
// dash where there is no figure), and how often.
var faultRE = regexp.MustCompile(`^#\s+(\d+)\. ([a-z-]+) (?:(-?[0-9.]+) / ([0-9.]+)|-)(?: x(\d+))?\s*:`)

// fault is one entry of that list.
type fault struct {
	rule             string
	measured, needed float64
	figure           bool
	left             int // findings still to come
	// slack is half a unit of the last digit written, at most 0.01.
	slack [2]float64
}

func (f *fault) String() string {
	if !f.figure {
		return f.rule
	}
	return fmt.Sprintf("%s %g / %g", f.rule, f.measured, f.needed)
}

// faults reads the list; its numbers must run from 1 up.
func faults(t *testing.T, src string) []*fault {
	t.Helper()
	var out []*fault
	for _, line := range strings.Split(src, "\n") {
		m := faultRE.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		f := &fault{rule: m[2], figure: m[3] != "", left: 1}
		if f.figure {
			f.measured, f.slack[0] = figure(t, m[3])
			f.needed, f.slack[1] = figure(t, m[4])
		}
		if m[5] != "" {
			f.left, _ = strconv.Atoi(m[5])
		}
		out = append(out, f)
		if m[1] != strconv.Itoa(len(out)) {
			t.Errorf("fault %s stands in place %d of the list", m[1], len(out))
		}
	}
	return out
}

func figure(t *testing.T, s string) (v, slack float64) {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, digits, _ := strings.Cut(s, ".")
	return v, math.Min(0.01, 0.5*math.Pow(10, -float64(len(digits)))+1e-9)
}

// TestDraftsHaveTheirFaultsAndNoOther holds the list at the top of each draft against what is
// found: each fault with its figures and as often as it says, nothing tight, nothing
// unknown, nothing besides.
func TestDraftsHaveTheirFaultsAndNoOther(t *testing.T) {
	for _, name := range drafts() {
		t.Run(name, func(t *testing.T) { holdsDraft(t, name) })
	}
}

func holdsDraft(t *testing.T, name string) {
	src := text(t, name)
	list := faults(t, src)
	kinds := map[string]bool{}
	for _, f := range list {
		kinds[f.rule] = true
	}
	if len(kinds) < 12 {
		t.Errorf("the list names faults of only %d rules", len(kinds))
	}
	for _, o := range judge(load(t, path(name), src)) {
		if o.Status == layout.Crashed {
			t.Errorf("%s crashed: %s", o.Rule, o.Reason)
		}
		for i := range o.Findings {
			f := &o.Findings[i]
			if f.Verdict == layout.OK {
				continue
			}
			if f.Verdict != layout.Fail || !found(list, f) {
				t.Errorf("not on the list: %s %s, measured %.4f, needed %.4f: %s", f.Rule, f.Verdict, f.Measured, f.Needed, f.Message)
			}
			if f.Fix == "" {
				t.Errorf("nobody says what to do about it: %s", f.Message)
			}
		}
	}
	for i, f := range list {
		if f.left != 0 {
			t.Errorf("fault %d, %s, is still to be found %d times", i+1, f, f.left)
		}
	}
}

// TestWiredDraftFitsButForItsWires wants the second draft to be about wiring and supply alone.
func TestWiredDraftFitsButForItsWires(t *testing.T) {
	groups := map[string]string{}
	for _, r := range rules.All {
		groups[r.Name] = r.Group
	}
	for _, f := range faults(t, text(t, wiredDraft)) {
		if g := groups[f.rule]; g != "wires" && g != "supply" {
			t.Errorf("%s is of the group %q", f.rule, g)
		}
	}
}

// found ticks off one finding.
func found(list []*fault, f *layout.Finding) bool {
	for _, w := range list {
		if w.rule != f.Rule || w.left == 0 || w.figure != f.HasMeasure {
			continue
		}
		if w.figure && (math.Abs(w.measured-f.Measured) > w.slack[0] || math.Abs(w.needed-f.Needed) > w.slack[1]) {
			continue
		}
		w.left--
		return true
	}
	return false
}
