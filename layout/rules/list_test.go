package rules

import (
	"strings"
	"testing"
)

func TestTableHasOneRowARule(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(Table(), "\n"), "\n")
	if len(lines) != len(All)+2 {
		t.Fatalf("%d lines for %d rules and a head of 2", len(lines), len(All))
	}
	for i, r := range All {
		if !strings.Contains(lines[i+2], "`"+r.Name+"`") || strings.Count(lines[i+2], "|") != 4 {
			t.Errorf("row %q is not of %s, or not of three cells", lines[i+2], r.Name)
		}
	}
}

func TestGroupsStandTogether(t *testing.T) {
	seen := map[string]bool{}
	last := ""
	for _, r := range All {
		if r.Group != last && seen[r.Group] {
			t.Errorf("%s: the group %s is torn apart", r.Name, r.Group)
		}
		seen[r.Group], last = true, r.Group
	}
}

func TestNamed(t *testing.T) {
	for _, r := range All {
		if Named(r.Name) != r {
			t.Errorf("Named(%q) is another rule", r.Name)
		}
	}
	if Named("no-such-rule") != nil {
		t.Error("Named finds a rule that is not there")
	}
}
