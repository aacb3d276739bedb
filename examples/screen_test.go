package examples

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/render/report"
	"dryfit/shapes"
)

// A terminal that nobody has made larger, and the width of a printed page of small type.
const (
	screenLines = 24
	screenWide  = 100
)

func fitsScreen(t *testing.T, asm *layout.Assembly, outs []layout.Outcome) {
	t.Helper()
	var b bytes.Buffer
	if err := report.Text(&b, asm, outs, report.Options{}); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if len(lines) > screenLines {
		t.Errorf("%d rules take %d lines, want at most %d:\n%s", len(outs), len(lines), screenLines, b.String())
	}
	for _, l := range lines {
		if n := len([]rune(l)); n > screenWide {
			t.Errorf("%d characters, want at most %d: %s", n, screenWide, l)
		}
	}
	for _, o := range outs {
		if !strings.Contains(b.String(), " "+o.Rule) {
			t.Errorf("%s is not told", o.Rule)
		}
	}
}

// TestScreen: the report of a build in which everything holds is read without scrolling.
func TestScreen(t *testing.T) {
	for _, name := range clean {
		t.Run(name, func(t *testing.T) {
			asm := load(t, path(name), text(t, name))
			fitsScreen(t, asm, judge(asm))
		})
	}
}

// TestScreenOfMoreRules: there is room for 60 rules, all with figures and names as long as
// those that there are.
func TestScreenOfMoreRules(t *testing.T) {
	asm := load(t, path("riverbank"), text(t, "riverbank"))
	outs := judge(asm)
	for i := 0; len(outs) < 60; i++ {
		o := layout.Outcome{Rule: fmt.Sprintf("further-rule-%d", i), Group: "further", Status: layout.Judged}
		if i >= 14 {
			o.Group = "others"
		}
		o.Findings = []layout.Finding{{Rule: o.Rule, Verdict: layout.OK, HasMeasure: true, Unit: shapes.MM, Measured: 2.25, Margin: 1.25, Needed: 1, Worst: 1.05}}
		outs = append(outs, o)
	}
	fitsScreen(t, asm, outs)
}
