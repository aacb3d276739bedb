package layout_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"dryfit/layout"
)

// FuzzLoad: whatever the bytes are, loading ends with a complete build or with errors at
// places in the file, and never with both.
func FuzzLoad(f *testing.F) {
	for _, pattern := range []string{"testdata/*.yaml", "testdata/mistakes/*.yaml", "../examples/*/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	lib := testLibrary(f)
	bench, err := os.ReadFile("testdata/bench-parts.yaml")
	if err != nil {
		f.Fatal(err)
	}
	var dir fs.FS = fstest.MapFS{"bench-parts.yaml": {Data: bench}}
	f.Fuzz(func(t *testing.T, data []byte) {
		b, diags := layout.LoadBytes("fuzz.yaml", data, dir, lib)
		if (b == nil) != diags.HasErrors() {
			t.Fatalf("build %v with\n%s", b, diags)
		}
		lines := strings.Count(string(data), "\n") + 2
		for _, d := range diags.Sorted() {
			switch {
			case d.Message == "":
				t.Errorf("a mistake without words at %s", d.Pos)
			case d.Pos.File == "":
				t.Errorf("a mistake nowhere: %s", d)
			case d.Pos.File == "fuzz.yaml" && (d.Pos.Line > lines || d.Pos.Line < 0 || (d.Pos.Line > 0 && d.Pos.Col < 1)):
				t.Errorf("a mistake outside the file: %s", d)
			case d.Path != "" && d.Pos.Line == 0:
				t.Errorf("a mistake without a place: %s", d)
			}
		}
	})
}
