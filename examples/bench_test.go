package examples

import (
	"testing"

	"dryfit/layout"
	"dryfit/render"
)

// BenchmarkLoad reads, decodes and checks the file of each example: from bytes to a
// build.
func BenchmarkLoad(b *testing.B) {
	lib := library(b)
	for _, name := range all() {
		b.Run(name, func(b *testing.B) {
			data := []byte(text(b, name))
			b.ReportAllocs()
			for b.Loop() {
				if _, diags := layout.LoadBytes(path(name), data, folder(path(name)), lib); diags.HasErrors() {
					b.Fatal(diags)
				}
			}
		})
	}
}

// BenchmarkCheck places each example and asks every rule.
func BenchmarkCheck(b *testing.B) {
	for _, name := range all() {
		b.Run(name, func(b *testing.B) {
			build, diags := layout.LoadBytes(path(name), []byte(text(b, name)), folder(path(name)), library(b))
			if diags.HasErrors() {
				b.Fatal(diags)
			}
			b.ReportAllocs()
			for b.Loop() {
				asm, diags := layout.Resolve(build)
				if diags.HasErrors() {
					b.Fatal(diags)
				}
				if outs := judge(asm); len(outs) == 0 {
					b.Fatal("no rule ran")
				}
			}
		})
	}
}

// BenchmarkDraw makes all sheets of each example as SVG.
func BenchmarkDraw(b *testing.B) {
	for _, name := range all() {
		b.Run(name, func(b *testing.B) {
			asm := load(b, path(name), text(b, name))
			outs := judge(asm)
			b.ReportAllocs()
			for b.Loop() {
				sheets, err := render.Sheets(asm, outs, render.Options{})
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
