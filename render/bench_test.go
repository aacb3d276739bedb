package render_test

import (
	"testing"

	"dryfit/render"
)

// BenchmarkDraw measures all sheets of a build, display list and printing.
func BenchmarkDraw(b *testing.B) {
	for _, c := range cases(b) {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{Paper: render.A4})
				if err != nil {
					b.Fatal(err)
				}
				for _, s := range sheets {
					if _, err := s.SVG(); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
