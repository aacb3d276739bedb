package route_test

import (
	"fmt"
	"testing"

	"dryfit/layout/route"
)

// BenchmarkFindAll is all the wires of a craft with six arms, and how that grows with their
// number.
func BenchmarkFindAll(b *testing.B) {
	s, all := sixArms()
	for _, n := range []int{1, 6, 15, len(all)} {
		b.Run(fmt.Sprintf("bundles=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				route.FindAll(s, all[:n])
			}
		})
	}
}
