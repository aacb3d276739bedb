package rules

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dryfit/layout"
)

// Test builds stand in testdata/<rule>/*.yaml. Beside the line that a finding points to
// stands what is expected, as a comment:
//
//	wheelbase: 180    # want prop-tip-gap ok 20.68 x4
//
// that is the rule, the verdict, the nominal margin (left out for findings without a
// number), the count if more than one, and if wished the chance of not holding:
// "chance 2.3%". A build in which the rule has nothing to judge says
// "# want <rule> nothing" with a piece of the reason after it, in quotes. The working of
// every number stands in comments of the same file.

// marginSlack is the error in mm that a number worked out by hand may have.
const marginSlack = 0.01

// chanceSlack is the error in percentage points of a chance worked out by hand.
const chanceSlack = 0.1

var wantRE = regexp.MustCompile(`\bwant ([a-z0-9-]+) (ok|tight|fail|unknown)(?: (-?[0-9]+(?:\.[0-9]+)?))?(?: x([0-9]+))?(?: chance ([0-9]+(?:\.[0-9]+)?)%)?`)
var wantNothingRE = regexp.MustCompile(`\bwant ([a-z0-9-]+) nothing(?: "([^"]*)")?`)

// wanted is one expected finding.
type wanted struct {
	line    int
	verdict string
	margin  float64
	number  bool
	chance  float64
	odds    bool
	met     bool
}

func (w *wanted) String() string {
	s := fmt.Sprintf("line %d: %s", w.line, w.verdict)
	if w.number {
		s += fmt.Sprintf(" %.2f", w.margin)
	}
	if w.odds {
		s += fmt.Sprintf(" chance %.1f%%", w.chance)
	}
	return s
}

// expectations reads the comments of a build about one rule.
func expectations(t *testing.T, rule, text string) (list []*wanted, nothing bool, reason string) {
	t.Helper()
	for i, line := range strings.Split(text, "\n") {
		_, comment, ok := strings.Cut(line, "#")
		if !ok {
			continue
		}
		if m := wantNothingRE.FindStringSubmatch(comment); m != nil && m[1] == rule {
			nothing, reason = true, m[2]
		}
		for _, m := range wantRE.FindAllStringSubmatch(comment, -1) {
			if m[1] != rule {
				t.Errorf("line %d is about %s", i+1, m[1])
				continue
			}
			w := wanted{line: i + 1, verdict: m[2]}
			count := 1
			var err error
			if m[3] != "" {
				w.number = true
				if w.margin, err = strconv.ParseFloat(m[3], 64); err != nil {
					t.Fatal(err)
				}
			}
			if m[4] != "" {
				if count, err = strconv.Atoi(m[4]); err != nil {
					t.Fatal(err)
				}
			}
			if m[5] != "" {
				w.odds = true
				if w.chance, err = strconv.ParseFloat(m[5], 64); err != nil {
					t.Fatal(err)
				}
			}
			for range count {
				one := w
				list = append(list, &one)
			}
		}
	}
	return list, nothing, reason
}

// loadBuild reads and places a build of the test data.
func loadBuild(t *testing.T, file string) *layout.Assembly {
	t.Helper()
	b, diags := layout.Load(file, nil)
	if diags.HasErrors() {
		t.Fatalf("%s:\n%v", file, diags.Err())
	}
	asm, diags := layout.Resolve(b)
	if diags.HasErrors() {
		t.Fatalf("%s:\n%v", file, diags.Err())
	}
	return asm
}

// testRule runs a rule over its builds. can lists all that the rule can say: verdicts
// and "nothing". At least one build must show each, and no build anything else.
func testRule(t *testing.T, rule *Rule, can string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("testdata", rule.Name, "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no builds in testdata/%s (%v)", rule.Name, err)
	}
	shown := map[string]bool{}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".yaml"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			list, nothing, reason := expectations(t, rule.Name, string(text))
			if len(list) == 0 && !nothing {
				t.Fatal("the build says nothing of what it wants")
			}
			asm := loadBuild(t, file)
			out := Run(asm, []*Rule{rule})[0]
			switch {
			case out.Status == layout.Crashed:
				t.Fatalf("the rule crashed: %s", out.Reason)
			case nothing:
				shown["nothing"] = true
				if out.Status != layout.Nothing || !strings.Contains(out.Reason, reason) {
					t.Errorf("got %d findings and the reason %q, want nothing to judge with %q", len(out.Findings), out.Reason, reason)
				}
				return
			case out.Status == layout.Nothing:
				t.Errorf("nothing to judge: %s", out.Reason)
			}
			for i := range out.Findings {
				f := &out.Findings[i]
				shown[f.Verdict.String()] = true
				checkFinding(t, asm, f)
				if !take(list, f) {
					t.Errorf("unexpected: line %d: %v %.3f (chance %.1f%%, worst %.3f)\n\t%s\n\t%s", f.Pos.Line, f.Verdict, f.Margin, 100*f.Chance, f.Worst, f.Message, f.Fix)
				}
			}
			for _, w := range list {
				if !w.met {
					t.Errorf("missing: %v", w)
				}
			}
		})
	}
	for _, v := range strings.Fields(can) {
		if !shown[v] {
			t.Errorf("no build shows %q", v)
		}
		delete(shown, v)
	}
	for _, v := range []string{"ok", "tight", "fail", "unknown", "nothing"} {
		if shown[v] {
			t.Errorf("a build shows %q, which the rule is said not to give", v)
		}
	}
}

// take finds an expectation that the finding meets and marks it as met.
func take(list []*wanted, f *layout.Finding) bool {
	for _, w := range list {
		if w.met || w.line != f.Pos.Line || w.verdict != f.Verdict.String() {
			continue
		}
		if w.number != f.HasMeasure && f.Verdict != layout.Unknown {
			continue
		}
		if w.number && math.Abs(w.margin-f.Margin) > marginSlack {
			continue
		}
		if w.odds && math.Abs(w.chance-100*f.Chance) > chanceSlack {
			continue
		}
		w.met = true
		return true
	}
	return false
}

// checkFinding holds what is true of every finding.
func checkFinding(t *testing.T, asm *layout.Assembly, f *layout.Finding) {
	t.Helper()
	if len(f.Subjects) == 0 {
		t.Errorf("no subject: %s", f.Message)
	}
	for _, s := range f.Subjects {
		if !isComponent(asm, s) {
			t.Errorf("the subject %q is no component: %s", s, f.Message)
		}
	}
	for _, s := range []string{f.Message, f.Fix, f.Near} {
		if strings.ContainsAny(s, "\n") || strings.HasSuffix(s, ".") || strings.Contains(s, "%!") || strings.Contains(s, "NaN") ||
			strings.Contains(s, "Inf") || strings.Contains(s, "  ") || strings.Contains(s, "-0 ") {
			t.Errorf("not a plain sentence: %q", s)
		}
	}
	if f.Message == "" {
		t.Errorf("no message: %+v", f)
	}
	if f.Near == "" {
		t.Errorf("no place in words: %s", f.Message)
	}
	if f.Verdict != layout.OK && f.Fix == "" {
		t.Errorf("no fix: %s", f.Message)
	}
	if f.Verdict == layout.OK && f.Fix != "" {
		t.Errorf("a fix for what holds: %s: %s", f.Message, f.Fix)
	}
	if f.Verdict == layout.Unknown && len(f.Missing) == 0 {
		t.Errorf("unknown, and nothing said to be missing: %s", f.Message)
	}
	if f.Pos.IsZero() {
		t.Errorf("no line: %s", f.Message)
	}
	for _, v := range []float64{f.A.X, f.A.Y, f.A.Z, f.B.X, f.B.Y, f.B.Z, f.Measured, f.Needed, f.Margin, f.Worst, f.Chance} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("a number that is not finite: %+v", f)
		}
	}
	if f.HasMeasure && f.Worst > f.Margin+1e-9 {
		t.Errorf("the worst case %.4f is better than the margin %.4f as drawn: %s", f.Worst, f.Margin, f.Message)
	}
}

func isComponent(asm *layout.Assembly, id string) bool {
	for _, c := range asm.Components {
		if c.ID == id {
			return true
		}
	}
	return false
}

// fileName is the file of a rule or its test, without what stands behind. A file named
// x_arm.go would be built for that processor alone, so such names get one word more.
func fileName(r *Rule) string {
	name := strings.ReplaceAll(r.Name, "-", "_")
	if strings.HasSuffix(name, "_arm") {
		name += "_rule"
	}
	return name
}

func TestRulesAreWellFormed(t *testing.T) {
	if err := Validate(All); err != nil {
		t.Error(err)
	}
	for _, r := range All {
		for _, f := range []string{fileName(r) + ".go", fileName(r) + "_test.go"} {
			if _, err := os.Stat(f); err != nil {
				t.Errorf("%s: %v", r.Name, err)
			}
		}
	}
	dirs, err := os.ReadDir("testdata")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		if d.IsDir() && Named(d.Name()) == nil {
			t.Errorf("testdata/%s belongs to no rule", d.Name())
		}
	}
}

func TestValidateFindsMistakes(t *testing.T) {
	good := func() *Rule {
		return &Rule{Name: "some-rule", Group: "arms", Question: "does it hold", Why: "w", Need: "n", How: "h", Fix: "f", Run: func(*Pass) {}}
	}
	if err := Validate([]*Rule{good()}); err != nil {
		t.Fatalf("a good rule: %v", err)
	}
	for name, spoil := range map[string]func(*Rule){
		"capital in name":   func(r *Rule) { r.Name = "Some-rule" },
		"double hyphen":     func(r *Rule) { r.Name = "some--rule" },
		"empty why":         func(r *Rule) { r.Why = "" },
		"empty need":        func(r *Rule) { r.Need = " " },
		"full stop":         func(r *Rule) { r.Question = "does it hold." },
		"capital question":  func(r *Rule) { r.Question = "Does it hold" },
		"long question":     func(r *Rule) { r.Question = strings.Repeat("a", maxQuestion+1) },
		"two lines":         func(r *Rule) { r.Fix = "a\nb" },
		"nothing to run":    func(r *Rule) { r.Run = nil },
		"breaks the table":  func(r *Rule) { r.Question = "a | b" },
		"no group of rules": func(r *Rule) { r.Group = "" },
	} {
		r := good()
		spoil(r)
		if Validate([]*Rule{r}) == nil {
			t.Errorf("%s: not found", name)
		}
	}
	if Validate([]*Rule{good(), good()}) == nil {
		t.Error("a name that stands twice: not found")
	}
	if Validate([]*Rule{nil}) == nil {
		t.Error("nil: not found")
	}
}

func TestCrashIsIsolated(t *testing.T) {
	fine := func(name string) *Rule {
		return &Rule{Name: name, Run: func(p *Pass) {
			p.Report(layout.Finding{Verdict: layout.OK, Message: name})
		}}
	}
	bad := &Rule{Name: "bad", Run: func(p *Pass) {
		p.Report(layout.Finding{Verdict: layout.OK, Message: "half way"})
		var none []int
		_ = none[len(p.Asm.Rotors)]
	}}
	mute := &Rule{Name: "mute", Run: func(*Pass) {}}
	out := Run(&layout.Assembly{}, []*Rule{fine("first"), bad, mute, fine("last")})
	want := []layout.Status{layout.Judged, layout.Crashed, layout.Crashed, layout.Judged}
	if len(out) != len(want) {
		t.Fatalf("got %d outcomes, want %d", len(out), len(want))
	}
	for i, o := range out {
		if o.Status != want[i] {
			t.Errorf("%s: status %d, want %d", o.Rule, o.Status, want[i])
		}
	}
	if !strings.Contains(out[1].Reason, "index out of range") || len(out[1].Findings) != 0 {
		t.Errorf("the crash told %q with %d findings", out[1].Reason, len(out[1].Findings))
	}
	if out[0].Findings[0].Message != "first" || out[3].Findings[0].Message != "last" {
		t.Error("a crash changed another rule's findings")
	}
}

func TestFindingsHaveATotalOrder(t *testing.T) {
	list := []layout.Finding{
		{Verdict: layout.OK, HasMeasure: true, Margin: 0.5, Message: "e"},
		{Verdict: layout.Tight, HasMeasure: true, Margin: 1, Message: "c"},
		{Verdict: layout.Fail, HasMeasure: true, Margin: -1, Message: "b"},
		{Verdict: layout.Unknown, Message: "d"},
		{Verdict: layout.Fail, HasMeasure: true, Margin: -2, Message: "a"},
	}
	r := &Rule{Name: "order", Run: func(p *Pass) {
		for _, f := range list {
			p.Report(f)
		}
	}}
	got := ""
	for _, f := range Run(&layout.Assembly{}, []*Rule{r})[0].Findings {
		got += f.Message
	}
	if got != "abcde" {
		t.Errorf("got the order %q, want abcde: fail by margin, tight, unknown, ok", got)
	}
}

func TestExcuseIsKept(t *testing.T) {
	e := &layout.Excuse{A: "mounts.receiver", B: "plates.base", Why: "glued"}
	asm := &layout.Assembly{Excuses: []*layout.Excuse{e}}
	r := &Rule{Name: "r", Run: func(p *Pass) {
		p.Report(layout.Finding{Verdict: layout.Fail, Subjects: []string{"plates.base", "mounts.receiver"}})
		p.Report(layout.Finding{Verdict: layout.Fail, Subjects: []string{"plates.roof", "mounts.receiver"}})
		p.Report(layout.Finding{Verdict: layout.OK, Subjects: []string{"plates.base", "mounts.receiver"}})
	}}
	for _, f := range Run(asm, []*Rule{r})[0].Findings {
		want := f.Verdict == layout.Fail && f.Subjects[0] == "plates.base"
		if (f.Excuse == e) != want {
			t.Errorf("%v %v: excused %v, want %v", f.Verdict, f.Subjects, f.Excuse != nil, want)
		}
	}
}

// The README holds the table between these two lines.
const (
	tableBegin = "<!-- rules: begin -->\n"
	tableEnd   = "<!-- rules: end -->"
)

func TestReadmeTableIsCurrent(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(data), tableBegin)
	got, _, ok2 := strings.Cut(rest, tableEnd)
	if !ok || !ok2 {
		t.Fatalf("the README has no table of rules between %q and %q", strings.TrimSpace(tableBegin), tableEnd)
	}
	if strings.TrimSpace(got) != strings.TrimSpace(Table()) {
		t.Errorf("the table in the README is stale; it must read\n%s", Table())
	}
}
