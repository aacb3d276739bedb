package rules

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/layout"
)

// TestEveryVerdictHasABuild: whatever a rule says of any build of the test data, its own
// builds show with the working beside it. A verdict that is met elsewhere alone lacks one.
// Rules whose builds show no more than that there is nothing to judge are held to their
// figures by builds in their tests. Run with -v it lists rules and verdicts.
func TestEveryVerdictHasABuild(t *testing.T) {
	shown := map[string]map[string]bool{}
	for _, r := range All {
		shown[r.Name] = map[string]bool{}
		own, err := filepath.Glob(filepath.Join("testdata", r.Name, "*.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range own {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			list, nothing, _ := expectations(t, r.Name, string(data))
			for _, w := range list {
				shown[r.Name][w.verdict] = true
			}
			if nothing {
				shown[r.Name]["nothing"] = true
			}
		}
	}
	inTests := func(rule string) bool { return len(shown[rule]) == 1 && shown[rule]["nothing"] }
	files, err := filepath.Glob(filepath.Join("testdata", "*", "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%d builds (%v)", len(files), err)
	}
	missing := map[string]bool{}
	for _, file := range files {
		for _, o := range Run(loadBuild(t, file), All) {
			var said []string
			switch o.Status {
			case layout.Crashed:
				t.Errorf("%s: %s crashed: %s", file, o.Rule, o.Reason)
			case layout.Nothing:
				said = append(said, "nothing")
			}
			for i := range o.Findings {
				said = append(said, o.Findings[i].Verdict.String())
			}
			for _, v := range said {
				if key := o.Rule + " " + v; !shown[o.Rule][v] && !missing[key] && !inTests(o.Rule) {
					missing[key] = true
					t.Errorf("%s says %q of %s, and no build of its own shows that", o.Rule, v, file)
				}
			}
		}
	}
	for _, r := range All {
		var row []string
		for _, v := range []string{"ok", "tight", "fail", "unknown", "nothing"} {
			if shown[r.Name][v] {
				row = append(row, v)
			}
		}
		t.Logf("%-24s %s", r.Name, strings.Join(row, " "))
		if inTests(r.Name) {
			continue
		}
		if !slices.Contains(row, "ok") || !slices.Contains(row, "fail") || !slices.Contains(row, "nothing") {
			t.Errorf("%s: its builds show no more than %s", r.Name, strings.Join(row, " "))
		}
	}
}
