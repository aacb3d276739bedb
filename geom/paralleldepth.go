package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// parallelDepth is depth for two cores that stand on parallel axes: points, segments,
// cylinders, boxes and prisms. The difference is then a prism itself, so that the least
// move is the lesser of those along the axis and across it. For a pin in a hole of the
// same axis the search by a polytope would have a whole ring of directions to refine.
//
// The axes count as parallel if their lean makes no more than 1e-9 mm over the bodies.
// common is the part in a of the origin.
func (m *difference) parallelDepth(common r3.Vector) (deep, bool) {
	a, b := m.a, m.b
	if !a.isRound() && !b.isRound() {
		return deep{}, false // the search ends by itself
	}
	lean := math.Hypot(m.rel[2].X, m.rel[2].Y)
	if b.kind == corePoint {
		lean = 0 // a point stands on any axis
	} else if a.kind == corePoint && b.stands() {
		flip := differenceOf(b, a)
		d, ok := flip.parallelDepth(r3.Vector{})
		d.push, d.p = mulCols(m.rel, d.push).Mul(-1), r3.Vector{}
		return d, ok
	}
	if !(lean*m.size <= 1e-9) || !a.stands() || !b.stands() {
		return deep{}, false
	}
	// Along the axis; every core is as long above its middle as below.
	z, way := a.half.Z+b.half.Z-m.off.Z, 1.0
	if m.off.Z < 0 {
		z, way = a.half.Z+b.half.Z+m.off.Z, -1
	}
	best := deep{depth: z, push: r3.Vector{Z: way}, p: r3.Vector{X: common.X, Y: common.Y, Z: way * a.half.Z}}
	across, push, at, ok := m.planDepth()
	if !ok {
		return deep{}, false
	}
	if across < z {
		lo, hi := max(-a.half.Z, m.off.Z-b.half.Z), min(a.half.Z, m.off.Z+b.half.Z)
		best = deep{depth: across, push: r3.Vector{X: push.X, Y: push.Y}, p: r3.Vector{X: at.X, Y: at.Y, Z: (lo + hi) / 2}}
	}
	best.low = best.depth
	best.clamp()
	return best, true
}

// isRound reports whether the core has a curved face.
func (k *convex) isRound() bool {
	if k.kind == corePrism {
		for _, c := range k.plan.corners() {
			if c.r > 0 {
				return true
			}
		}
	}
	return k.kind == coreCylinder
}

// stands reports whether the core is a prism over its plan, along its z axis.
func (k *convex) stands() bool { return k.kind <= corePrism && len(k.slides) == 0 }

// roundPlan returns the radius of a plan that is a disc or a point.
func (k *convex) roundPlan() (float64, bool) {
	switch k.kind {
	case corePoint, coreSegment:
		return 0, true
	case coreCylinder:
		return k.half.X, true
	}
	return 0, false
}

// planDepth returns the least move of b across the common axis, its direction and a point
// of a where they touch then. ok is false for boxes without a plan area.
func (m *difference) planDepth() (depth float64, push, at r2.Point, ok bool) {
	off := r2.Point{X: m.off.X, Y: m.off.Y}
	ra, roundA := m.a.roundPlan()
	rb, roundB := m.b.roundPlan()
	if roundA && roundB {
		push = r2.Point{X: 1}
		d := math.Hypot(off.X, off.Y)
		if d > Coincident { // nearer than that every way is the same
			push = off.Mul(1 / d)
		}
		return ra + rb - d, push, push.Mul(ra), true
	}
	la, lb := m.a.planLoop(), m.b.planLoop()
	x, y := m.rel[0], m.rel[1]
	lb = lb.Transform(Pose2{Turn: s1.Angle(math.Atan2(x.Y, x.X)), Mirror: x.X*y.Y-x.Y*y.X < 0}).CCW()
	var g Gap
	switch {
	case !la.IsEmpty() && !lb.IsEmpty():
		g = convexLoopGap(la.d, lb.d, off)
	case !la.IsEmpty() && roundB: // b is a point
		g = DistancePoint(Region{Outer: la}, off)
	case !lb.IsEmpty() && roundA: // a is a point
		g = DistancePoint(Region{Outer: lb}, off.Mul(-1))
		g.Push, g.A = g.Push.Mul(-1), r2.Point{}
	default:
		return 0, push, at, false
	}
	return -g.Dist, g.Push, g.A, true
}
