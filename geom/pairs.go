package geom

// Pair is two of a list of bodies, I before J, and how they lie to each other.
type Pair struct {
	I, J int
	Gap  Gap3
}

// PairsCloser returns all pairs of bodies that are at most limit mm apart, by ascending I
// and then J, each with its full gap ([DistanceBodies]): with limit 0 those that touch
// or overlap. Pairs whose boxes are farther apart are not looked at, so that the cost is
// about n log n for bodies that do not pile up. Empty and nil bodies are in no pair; nor
// is anything if limit is negative or NaN.
func PairsCloser(bodies []Body, limit float64) []Pair {
	var out []Pair
	EachCloser(bodies, limit, func(i, j int, dist float64) bool {
		if g := DistanceBodies(bodies[i], bodies[j]); g.Dist <= limit {
			out = append(out, Pair{i, j, g})
		}
		return true
	})
	return out
}

// EachCloser calls yield with every pair of bodies that are at most limit mm apart and
// with their distance, 0 where they touch or overlap ([SeparationBodies]), in the order
// of [PairsCloser], until yield returns false. It is the quicker one where nobody asks
// for the depth of overlaps and for witness points.
func EachCloser(bodies []Body, limit float64, yield func(i, j int, dist float64) bool) {
	boxes := make([]Box, len(bodies))
	for i, b := range bodies {
		boxes[i] = EmptyBox()
		if b != nil {
			boxes[i] = b.Bound()
		}
	}
	if !(limit >= 0) {
		return
	}
	// Gaps up to Coincident count as 0, those of boxes do not.
	indexOf(boxes).Pairs(limit+Coincident, func(i, j int) bool {
		if d := separationBodies(bodies[i], bodies[j], limit); d <= limit {
			return yield(i, j, d)
		}
		return true
	})
}
