package render_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/rules"
	"dryfit/render"
	"dryfit/shapes"
)

func TestLookReal(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	lib, err := shapes.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range strings.Fields(os.Getenv("BUILDS")) {
		b, d := layout.Load(f, lib)
		if d.HasErrors() {
			t.Error(f, d)
			continue
		}
		asm, d := layout.Resolve(b)
		if d.HasErrors() {
			t.Error(f, d)
			continue
		}
		paper, _ := render.ParsePaper(os.Getenv("PAPER"))
		sheets, err := render.Sheets(asm, rules.Run(asm, rules.All), render.Options{Paper: paper})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sheets {
			b, err := s.SVG()
			if err != nil {
				t.Fatal(err)
			}
			name := strings.TrimSuffix(filepath.Base(f), ".yaml")
			os.WriteFile(filepath.Join(dir, name+"-"+s.Name+".svg"), b, 0o644)
			t.Log(f, s.Name, s.Scale, len(b), len(s.List.Items))
			for _, c := range render.Overlaps(s.List) {
				t.Log("   ", c)
			}
		}
	}
}
