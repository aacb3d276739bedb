package rules

import (
	"math"

	"github.com/golang/geo/r3"

	"dryfit/layout"
)

// planned is the measured distance of two bodies in plan, with its uncertainty.
type planned struct {
	a, b  *layout.Body
	gap   clearance
	worst float64 // least value of the distance
}

// measurePlan measures two upright bodies in plan; bodies without an outline are
// infinitely far from everything.
func measurePlan(a, b *layout.Body) planned {
	c := planGap(a, b)
	if c.Empty {
		c.Form = layout.Fixed(math.Inf(1))
		return planned{a, b, c, math.Inf(1)}
	}
	w, _ := c.Form.Worst()
	return planned{a, b, c, w}
}

// points returns the two nearest points, at the middle of the heights that both bodies
// share (of the gap between them when they share none).
func (m *planned) points() (a, b r3.Vector) {
	z := between(heights(m.a), heights(m.b))
	return r3.Vector{X: m.gap.A.X, Y: m.gap.A.Y, Z: z}, r3.Vector{X: m.gap.B.X, Y: m.gap.B.Y, Z: z}
}
