package examples

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"dryfit/layout"
	"dryfit/layout/rules"
	"dryfit/shapes"
)

// clean are the examples that fit; the drafts do not: one in its geometry, the other in its
// wiring.
var clean = []string{"attic", "orchard", "quarry", "riverbank", "shoreline"}

const (
	draft      = "shoreline-draft"
	wiredDraft = "riverbank-draft"
)

func drafts() []string { return []string{wiredDraft, draft} }

func all() []string { return append(append([]string{}, clean...), drafts()...) }

func path(name string) string { return name + "/" + name + ".yaml" }

func text(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(path(name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func library(t testing.TB) *shapes.Library {
	t.Helper()
	lib, err := shapes.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// load reads and places a build given as text, as if it stood in the file of an example and
// with that one's folder.
func load(t testing.TB, file, text string) *layout.Assembly {
	t.Helper()
	b, diags := layout.LoadBytes(file, []byte(text), folder(file), library(t))
	if diags.HasErrors() {
		t.Fatalf("%s does not load:\n%v", file, diags)
	}
	asm, diags := layout.Resolve(b)
	if diags.HasErrors() {
		t.Fatalf("%s cannot be placed:\n%v", file, diags)
	}
	return asm
}

// folder is where an example stands.
func folder(file string) fs.FS { return os.DirFS(filepath.Dir(file)) }

func judge(asm *layout.Assembly) []layout.Outcome { return rules.Run(asm, rules.All) }
