package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

// judgeText runs a rule over a build given as text.
func judgeText(t *testing.T, rule *Rule, text string) layout.Outcome {
	t.Helper()
	out := Run(layouttest.MustLoad(t, text), []*Rule{rule})[0]
	if out.Status == layout.Crashed {
		t.Fatalf("%s crashed: %s", rule.Name, out.Reason)
	}
	return out
}

// verdicts writes an outcome in short: "fail -0.40, ok 0.20 x2", or "nothing".
func verdicts(o layout.Outcome) string {
	if o.Status == layout.Nothing {
		return "nothing"
	}
	var words []string
	count := map[string]int{}
	for i := range o.Findings {
		f := &o.Findings[i]
		w := f.Verdict.String()
		if f.HasMeasure && f.Verdict != layout.Unknown {
			w += " " + fmt.Sprintf("%.2f", f.Margin+1e-9)
		}
		if count[w]++; count[w] == 1 {
			words = append(words, w)
		}
	}
	for i, w := range words {
		if count[w] > 1 {
			words[i] += fmt.Sprintf(" x%d", count[w])
		}
	}
	return strings.Join(words, ", ")
}

// changed reads a build of the test data and replaces pieces of its text, each of which
// must stand there once.
func changed(t *testing.T, rule *Rule, file string, oldNew ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", rule.Name, file+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(oldNew); i += 2 {
		if n := strings.Count(text, oldNew[i]); n != 1 {
			t.Fatalf("%s holds %q %d times, want once", file, oldNew[i], n)
		}
		text = strings.Replace(text, oldNew[i], oldNew[i+1], 1)
	}
	return text
}

// change is one dimension of a test build that is changed, and what the rule says then.
type change struct {
	file     string
	old, new string
	want     string
}

// testChanges changes one thing after the other and holds the verdicts to it. Every
// change must change what is said.
func testChanges(t *testing.T, rule *Rule, list []change) {
	t.Helper()
	for _, c := range list {
		before := verdicts(judgeText(t, rule, changed(t, rule, c.file)))
		after := verdicts(judgeText(t, rule, changed(t, rule, c.file, c.old, c.new)))
		if after != c.want {
			t.Errorf("%s with %q in place of %q: %s, want %s", c.file, c.new, c.old, after, c.want)
		}
		if before == after {
			t.Errorf("%s: %q in place of %q changes nothing: %s", c.file, c.new, c.old, after)
		}
	}
}

// firstFix returns what the first finding of a build says to do.
func firstFix(t *testing.T, rule *Rule, text string) string {
	t.Helper()
	out := judgeText(t, rule, text)
	if len(out.Findings) == 0 {
		t.Fatalf("%s found nothing: %s", rule.Name, out.Reason)
	}
	return out.Findings[0].Fix
}

// wantFix holds the words of the first finding's way out.
func wantFix(t *testing.T, rule *Rule, text string, words ...string) {
	t.Helper()
	fix := firstFix(t, rule, text)
	for _, w := range words {
		if !strings.Contains(fix, w) {
			t.Errorf("%s says to do %q, want %q in it", rule.Name, fix, w)
		}
	}
}
