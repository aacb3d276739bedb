package layout

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// wired loads and places one of the examples.
func wired(t testing.TB, name string) *Assembly {
	t.Helper()
	dir := filepath.Join("..", "examples", name)
	file := name + ".yaml"
	data, err := os.ReadFile(filepath.Join(dir, file))
	if err != nil {
		t.Fatal(err)
	}
	b, diags := LoadBytes(file, data, os.DirFS(dir), nil)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	asm, diags := Resolve(b)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return asm
}

// BenchmarkRouteWires finds the ways and ties of all wires of each example, and of the first
// quarter, half and three quarters of the circuits of the craft with six arms.
func BenchmarkRouteWires(b *testing.B) {
	run := func(name string, share int) {
		asm := wired(b, name)
		asm.Circuits = asm.Circuits[:(len(asm.Circuits)*share+3)/4]
		wires := 0
		for _, c := range asm.Circuits {
			wires += len(c.Wires)
		}
		b.Run(fmt.Sprintf("%s/wires=%d", name, wires), func(b *testing.B) {
			r := &resolver{asm: asm}
			b.ReportAllocs()
			for b.Loop() {
				r.routeWires()
			}
		})
	}
	for _, name := range []string{"quarry", "riverbank", "riverbank-draft", "shoreline"} {
		run(name, 4)
	}
	for share := 1; share <= 4; share++ {
		run("orchard", share)
	}
}
