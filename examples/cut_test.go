package examples

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestNothingCut: no text of a sheet ends in "…", and a mark in the hardware list is explained.
func TestNothingCut(t *testing.T) {
	for _, name := range all() {
		files, err := filepath.Glob(filepath.Join(name, "*.svg"))
		if err != nil || len(files) < 3 {
			t.Fatalf("%s: %d sheets, %v", name, len(files), err)
		}
		marked, explained := false, false
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Contains(data, []byte("…")) {
				t.Errorf("%s: a text is cut", file)
			}
			marked = marked || bytes.Contains(data, []byte(" screw !<"))
			explained = explained || bytes.Contains(data, []byte("! in the hardware list: "))
		}
		if marked != explained {
			t.Errorf("%s: the hardware list has marks: %v, and explains them: %v", name, marked, explained)
		}
		if marked != (name == draft) {
			t.Errorf("%s: marked screws: %v; shoreline-draft alone has screws that are not sure", name, marked)
		}
	}
}
