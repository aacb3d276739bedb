package render_test

import (
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"dryfit/examples"
	"dryfit/layout"
	"dryfit/layout/rules"
	"dryfit/shapes"
)

// drawn is a build to draw with what was found out about it.
type drawn struct {
	name     string
	asm      *layout.Assembly
	outcomes []layout.Outcome
}

// cases are the hand-made craft, with and without faults, with wires, every example, and the builds of testdata/builds: six arms of
// their own, a plus with pushers, coaxial pairs, plates without rotors.
func cases(t testing.TB) []drawn {
	t.Helper()
	out := []drawn{
		{"bench-five", newCraft().asm, faults()},
		{"bench-five-clean", newCraft().asm, faults()[3:]},
		{"bench-wired", newWired().asm, append(faults(), wireFaults()...)},
	}
	lib, err := shapes.Builtin()
	if err != nil {
		t.Fatalf("catalogue: %v", err)
	}
	for _, set := range []struct {
		files fs.FS
		glob  string
	}{{examples.Files, "*/*.yaml"}, {os.DirFS("testdata/builds"), "*.yaml"}} {
		files, err := fs.Glob(set.files, set.glob)
		if err != nil || len(files) == 0 {
			t.Fatalf("builds: %v, %d files", err, len(files))
		}
		for _, f := range files {
			out = append(out, load(t, set.files, f, lib))
		}
	}
	return out
}

// load resolves and judges a build.
func load(t testing.TB, files fs.FS, f string, lib *shapes.Library) drawn {
	t.Helper()
	data, err := fs.ReadFile(files, f)
	if err != nil {
		t.Fatal(err)
	}
	dir, err := fs.Sub(files, path.Dir(f))
	if err != nil {
		t.Fatal(err)
	}
	b, diags := layout.LoadBytes(f, data, dir, lib)
	if diags.HasErrors() {
		t.Fatalf("%s: %v", f, diags)
	}
	asm, diags := layout.Resolve(b)
	if diags.HasErrors() {
		t.Fatalf("%s: %v", f, diags)
	}
	return drawn{strings.TrimSuffix(path.Base(f), ".yaml"), asm, rules.Run(asm, rules.All)}
}
