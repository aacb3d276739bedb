package geom

import (
	"iter"
	"slices"

	"github.com/golang/geo/r2"
)

// leastPiece is the share of an edge below which what lies between two cuts is left out.
const leastPiece = 1e-7

// Pieces yields what lies between neighbouring cuts of the edge, from its start to its end, with
// the point in the middle of each by length, at which questions about the piece are best asked.
// Cuts are shares of its length as [Edge.Cuts] gives them, in any order and more than once; they
// are sorted in place. Pieces of less than 1e-7 of the length are left out.
func (e *Edge) Pieces(cuts []float64) iter.Seq2[r2.Point, Seg] {
	return func(yield func(r2.Point, Seg) bool) {
		slices.Sort(cuts)
		from := 0.0
		for i := 0; i <= len(cuts); i++ {
			to := 1.0
			if i < len(cuts) {
				to = max(0, min(1, cuts[i]))
			}
			if to-from >= leastPiece && !yield(e.Seg.At((from+to)/2), e.Seg.Part(from, to)) {
				return
			}
			from = to
		}
	}
}
