package rules

import (
	"os"
	"path/filepath"
	"regexp"
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

// Every rule that a file of the package makes is in the list, in the file of its name.
func TestAllHoldsEveryRule(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	made := regexp.MustCompile(`(?m)^var \w+ = &Rule\{\n\tName:\s+"([^"]*)"`)
	any := regexp.MustCompile(`&Rule\{`)
	found := 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		rules := made.FindAllStringSubmatch(string(data), -1)
		if len(rules) != len(any.FindAll(data, -1)) {
			t.Errorf("%s makes a rule in another form than `var x = &Rule{ Name: ...`", file)
		}
		for _, m := range rules {
			found++
			if r := Named(m[1]); r == nil {
				t.Errorf("%s: the rule %s is not in the list", file, m[1])
			} else if fileName(r)+".go" != file {
				t.Errorf("the rule %s stands in %s, want %s.go", m[1], file, fileName(r))
			}
		}
	}
	if found != len(All) {
		t.Errorf("the files make %d rules, the list holds %d", found, len(All))
	}
}
