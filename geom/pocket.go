package geom

import (
	"slices"

	"github.com/golang/geo/r2"
)

// Pocket returns the number of the connected part of the field's free room in which p lies:
// paths join just the points of one part. Parts are numbered from 1, and 0 is what lies
// outside of all obstacles; -1 means that p lies inside an obstacle's clearance, from where
// [Field.Path] first looks for a way out. Points within the slack of a clearance may get
// either answer.
func (f *Field) Pocket(p r2.Point) int {
	if f.covered(p) {
		return -1
	}
	best, area := 0, 0.0
	n := 0
	for i := range f.solid {
		for _, h := range f.solid[i].Holes {
			n++
			if h.d == nil || !h.d.encloses(p) {
				continue
			}
			// The smallest hole around it: solids may lie in holes of others.
			if a := max(h.d.area, -h.d.area); best == 0 || a < area {
				best, area = n, a
			}
		}
	}
	return best
}

// Lengths sets dst[i] to the length of the shortest path from a to ends[i], as [Field.Length]
// returns it, or to -1 where there is none, and returns dst, which is made longer if need be.
// It asks why there is no way nowhere, which makes it the quicker one where that is no news.
func (f *Field) Lengths(a r2.Point, ends []r2.Point, dst []float64) []float64 {
	dst = slices.Grow(dst[:0], len(ends))
	home := f.Pocket(a)
	for _, b := range ends {
		d := -1.0
		if other := f.Pocket(b); home < 0 || other < 0 || home == other {
			if x, err := f.Length(a, b); err == nil {
				d = x
			}
		}
		dst = append(dst, d)
	}
	return dst
}

// WayOut returns where a path from p begins to heed the clearances: p itself, or if that lies
// inside the clearance of an obstacle, the end of the straight way out that [Field.Path]
// takes; false if none leads out.
func (f *Field) WayOut(p r2.Point) (r2.Point, bool) {
	if !usable(p) {
		return p, false
	}
	if !f.covered(p) {
		return p, true
	}
	q, ok := f.wayOut(p)
	if !ok {
		return p, false
	}
	return f.settled(q), true
}
