package render_test

import (
	"io/fs"
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

// cases are the hand-made craft, with and without faults, and every example.
func cases(t testing.TB) []drawn {
	t.Helper()
	out := []drawn{
		{"bench-five", newCraft().asm, faults()},
		{"bench-five-clean", newCraft().asm, faults()[3:]},
	}
	lib, err := shapes.Builtin()
	if err != nil {
		t.Fatalf("catalogue: %v", err)
	}
	files, err := fs.Glob(examples.Files, "*/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("examples: %v, %d files", err, len(files))
	}
	for _, f := range files {
		data, err := examples.Files.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		b, diags := layout.LoadBytes(f, data, nil, lib)
		if diags.HasErrors() {
			t.Fatalf("%s: %v", f, diags)
		}
		asm, diags := layout.Resolve(b)
		if diags.HasErrors() {
			t.Fatalf("%s: %v", f, diags)
		}
		out = append(out, drawn{strings.TrimSuffix(path.Base(f), ".yaml"), asm, rules.Run(asm, rules.All)})
	}
	return out
}
