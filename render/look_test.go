package render_test

import (
	"os"
	"path/filepath"
	"testing"

	"dryfit/render"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	for _, paper := range []render.Paper{render.A4, render.A3} {
		sheets, err := render.Sheets(newCraft().asm, faults(), render.Options{Paper: paper})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sheets {
			b, err := s.SVG()
			if err != nil {
				t.Fatal(err)
			}
			os.WriteFile(filepath.Join(dir, paper.String()+"-"+s.Name+".svg"), b, 0o644)
			t.Log(paper, s.Name, s.Scale, len(b), len(s.List.Items))
			for _, c := range render.Overlaps(s.List) {
				t.Log("   ", c)
			}
		}
	}
}
