//go:build !race

package geom_test

import (
	"testing"

	"dryfit/geom"
)

// TestLengthDoesNotAllocate: a query that has been asked before allocates nothing. The race
// detector makes pools drop what they hold, so this is not asked of it.
func TestLengthDoesNotAllocate(t *testing.T) {
	obstacles, queries := course(50)
	f, err := geom.NewField(obstacles, 1.5)
	if err != nil {
		t.Fatal(err)
	}
	ask := func() {
		for _, q := range queries {
			if _, err := f.Length(q[0], q[1]); err != nil {
				t.Fatal(err)
			}
		}
	}
	ask()
	if n := testing.AllocsPerRun(20, ask); n >= 1 {
		t.Errorf("%g allocations for %d lengths", n, len(queries))
	}
}
