package rules_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/rules"
)

// TestNeedNames: a build can set the need of exactly those rules that ask for one, so
// that no line under `needs:` is without effect.
func TestNeedNames(t *testing.T) {
	for _, name := range layout.NeedNames() {
		if rules.Named(name) == nil {
			t.Errorf("%s: no such rule", name)
		}
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	ruleName := regexp.MustCompile(`\n\tName:\s+"([a-z-]+)"`)
	var asking []string
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		if strings.HasSuffix(file, "_test.go") || !strings.Contains(text, "p.Need(") {
			continue
		}
		m := ruleName.FindStringSubmatch(text)
		if m == nil {
			t.Errorf("%s asks for a need and holds no rule", file)
			continue
		}
		asking = append(asking, m[1])
	}
	slices.Sort(asking)
	if !slices.Equal(asking, layout.NeedNames()) {
		t.Errorf("rules that ask for a need: %s\nwhat a build may set:      %s", asking, layout.NeedNames())
	}
}
