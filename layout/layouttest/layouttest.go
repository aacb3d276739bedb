// Package layouttest loads and places builds written in tests.
package layouttest

import (
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/shapes/read"
)

// MustBuild decodes a build file given as text. Any mistake in it fails the test. Lines
// may be indented with tabs for looks: tabs at their start count as two blanks each.
func MustBuild(t testing.TB, yaml string) *layout.Build {
	t.Helper()
	b, diags := layout.LoadBytes("build.yaml", []byte(untab(yaml)), nil, nil)
	if diags.HasErrors() {
		t.Fatalf("the build does not load:\n%v", diags)
	}
	return b
}

// MustLoad decodes and places a build file given as text, as [MustBuild] does.
func MustLoad(t testing.TB, yaml string) *layout.Assembly {
	t.Helper()
	asm, diags := layout.Resolve(MustBuild(t, yaml))
	if diags.HasErrors() {
		t.Fatalf("the build cannot be placed:\n%v", diags)
	}
	return asm
}

// Mistakes places a build file that loads but cannot be placed, and returns what is
// said about it. A build without mistakes fails the test.
func Mistakes(t testing.TB, yaml string) []read.Diag {
	t.Helper()
	_, diags := layout.Resolve(MustBuild(t, yaml))
	if !diags.HasErrors() {
		t.Fatalf("the build is placed without a mistake")
	}
	return diags.Sorted()
}

// Body returns the body with this ID; a missing one fails the test.
func Body(t testing.TB, asm *layout.Assembly, id string) *layout.Body {
	t.Helper()
	var all []string
	for _, b := range asm.Bodies {
		if b.ID == id {
			return b
		}
		all = append(all, b.ID)
	}
	t.Fatalf("no body %q; there are:\n%s", id, strings.Join(all, "\n"))
	return nil
}

// Component returns the component with this ID; a missing one fails the test.
func Component(t testing.TB, asm *layout.Assembly, id string) *layout.Component {
	t.Helper()
	var all []string
	for _, c := range asm.Components {
		if c.ID == id {
			return c
		}
		all = append(all, c.ID)
	}
	t.Fatalf("no component %q; there are:\n%s", id, strings.Join(all, "\n"))
	return nil
}

func untab(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		rest := strings.TrimLeft(l, "\t")
		lines[i] = strings.Repeat("  ", len(l)-len(rest)) + rest
	}
	return strings.Join(lines, "\n")
}
