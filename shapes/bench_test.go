package shapes

import (
	"io/fs"
	"testing"
)

func catalogueDir(t testing.TB) fs.FS {
	t.Helper()
	sub, err := fs.Sub(catalogueFiles, "catalogue")
	if err != nil {
		t.Fatal(err)
	}
	return sub
}

// BenchmarkBuiltin is what a check pays for the catalogue: finding the parts by name in
// the embedded files, then reading the dozen that a build names.
func BenchmarkBuiltin(b *testing.B) {
	names := []string{"controller-30.5", "esc4-30.5-45a", "motor-2207", "prop-5.1", "rx-coax", "vtx-digital-compact",
		"camera-digital-20", "antenna-24-t", "pack-6s-1300", "m3", "standoff-m3-round", "grommet-m3"}
	for b.Loop() {
		ix, err := scanCatalogue(catalogueDir(b))
		if err != nil {
			b.Fatal(err)
		}
		lib := newLibrary(ix)
		for _, n := range names {
			if _, ok := lib.Find(n); !ok {
				b.Fatal(n)
			}
		}
	}
}

// BenchmarkWholeCatalogue reads every part, as `parts` with a search in figures would.
func BenchmarkWholeCatalogue(b *testing.B) {
	for b.Loop() {
		lib := builtin(b)
		for _, n := range lib.Names() {
			if _, ok := lib.Find(n); !ok {
				b.Fatal(n)
			}
		}
	}
}
