package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// DistanceBodies returns the gap between two bodies, see [Gap3].
//
//   - Upright and upright: in closed form from the plan and the heights. Bodies that share
//     no height and no plan are apart by the hypotenuse of both gaps; bodies that overlap
//     are parted by the shorter of the least moves in plan and in height, since a move
//     that mixes both parts them only if one of its components does. Exact if the least
//     move in plan is, see [DistanceSets].
//   - Convex and convex: exact, see convexGap and its parts.
//   - Concave upright and convex: the distance is exact, see tilted.distance; an overlap
//     is a move proven to part them.
//
// Distances and depths up to 1e-9 mm are 0. It does not allocate, save for overlaps of
// tilted bodies with curved faces that take many steps.
func DistanceBodies(a, b Body) Gap3 {
	switch a := a.(type) {
	case Convex:
		switch b := b.(type) {
		case Convex:
			if a.c != nil && b.c != nil {
				return convexGap(a.c, b.c)
			}
		case Upright:
			b.hold()
			return tiltedGap(&b, a.c)
		}
	case Upright:
		a.hold()
		switch b := b.(type) {
		case Upright:
			b.hold()
			return uprightGap(&a, &b)
		case Convex:
			return tiltedGap(&a, b.c).Flip()
		}
	}
	return Gap3{Dist: math.Inf(1)}
}

// SeparationBodies returns the distance between two bodies in mm, 0 where they touch or
// overlap and +Inf if either is empty. It is [DistanceBodies] for callers that need no
// depth: it stops where that would begin to look for one.
func SeparationBodies(a, b Body) float64 { return separationBodies(a, b, math.Inf(1)) }

// separationBodies may return +Inf for any distance beyond limit.
func separationBodies(a, b Body, limit float64) float64 {
	if x, ok := a.(Upright); ok {
		if y, ok := b.(Upright); ok {
			x.hold()
			y.hold()
			return uprightSeparation(&x, &y, limit)
		}
	}
	return separationTilted(a, b)
}

func uprightSeparation(a, b *Upright, limit float64) float64 {
	z, _ := heightGap(a, b)
	if !(z <= limit+Coincident) {
		return math.Inf(1)
	}
	if z <= Coincident {
		z = 0
	}
	// The planar search keeps what is strictly nearer: a hair more than the limit.
	l2 := (limit*limit-z*z)*(1+1e-9) + 1e-17
	c, st := separationSets(a.Plan, b.Plan, r2.Point{}, l2, 0)
	switch {
	case st != apart:
		return z
	case c.a == nil:
		return math.Inf(1)
	}
	return math.Sqrt(c.d2 + z*z)
}

// heightGap returns by how much the heights of two bodies are apart (less than 0: by how
// much they overlap, counted as the least move of b that parts them) and the way from a
// to b, or the way that b has to go. It is +Inf if a body has no height.
func heightGap(a, b *Upright) (z, way float64) {
	if !(a.Z.Lo <= a.Z.Hi && b.Z.Lo <= b.Z.Hi) {
		return math.Inf(1), 1
	}
	up, down := b.Z.Lo-a.Z.Hi, a.Z.Lo-b.Z.Hi
	if up >= down {
		return up, 1
	}
	return down, -1
}

func uprightGap(a, b *Upright) Gap3 {
	z, way := heightGap(a, b)
	if math.IsInf(z, 1) || math.IsNaN(z) {
		return Gap3{Dist: math.Inf(1)}
	}
	c, st := separationSets(a.Plan, b.Plan, r2.Point{}, math.Inf(1), 0)
	if c.a == nil && st == apart {
		return Gap3{Dist: math.Inf(1)}
	}
	// The heights of the witness points: the facing ends, or the middle of what is shared.
	za, zb := a.Z.Hi, b.Z.Lo
	if way < 0 {
		za, zb = a.Z.Lo, b.Z.Hi
	}
	if z < 0 {
		lo, hi := max(a.Z.Lo, b.Z.Lo), min(a.Z.Hi, b.Z.Hi)
		za = lo + (hi-lo)/2
		zb = za
	}
	var pa, pb r2.Point
	switch {
	case st == apart:
		pa, pb, _ = c.feet(r2.Point{})
		dx, dy, dz := pb.X-pa.X, pb.Y-pa.Y, zb-za
		d := math.Sqrt(dx*dx + dy*dy + dz*dz)
		if d == 0 { // so near that the square is nothing: they touch
			at := r3.Vector{X: pa.X, Y: pa.Y, Z: za}
			return Gap3{Exact: true, A: at, B: at, Push: r3.Vector{Z: 1}}
		}
		return Gap3{
			Dist: d, Exact: true,
			A:    r3.Vector{X: pa.X, Y: pa.Y, Z: za},
			B:    r3.Vector{X: pb.X, Y: pb.Y, Z: zb},
			Push: r3.Vector{X: dx / d, Y: dy / d, Z: dz / d},
		}
	case st == nested:
		pa = commonPoint(a.Plan, b.Plan)
	default:
		pa, _, _ = c.feet(r2.Point{})
	}
	g := Gap3{Dist: z, Push: r3.Vector{Z: way}, A: r3.Vector{X: pa.X, Y: pa.Y, Z: za}, Exact: true}
	if z >= -Coincident { // one above the other
		return g.settled()
	}
	plan := DistanceSets(a.Plan, b.Plan)
	if plan.Dist > z {
		return Gap3{
			Dist: plan.Dist, Exact: plan.Exact,
			A:    r3.Vector{X: plan.A.X, Y: plan.A.Y, Z: za},
			Push: r3.Vector{X: plan.Push.X, Y: plan.Push.Y},
		}.settled()
	}
	g.Exact = plan.Exact
	if way > 0 {
		g.A.Z = a.Z.Hi
	} else {
		g.A.Z = a.Z.Lo
	}
	return g.settled()
}

// settled rounds a touch to 0 and puts B where A and Push say.
func (g Gap3) settled() Gap3 {
	g.settle()
	return g
}

func (g *Gap3) settle() {
	if math.Abs(g.Dist) <= Coincident {
		g.Dist = 0
	}
	g.B = g.A.Add(g.Push.Mul(g.Dist))
}

// commonPoint returns a point of both plans, given that a region of one has its first
// vertex in a region of the other.
func commonPoint(as, bs []Region) r2.Point {
	in := func(r *Region, p r2.Point) bool {
		return r.Outer.d.encloses(p) && holeAround(r.Holes, p) == nil
	}
	for i := range as {
		for j := range bs {
			a, b := as[i].Outer.d, bs[j].Outer.d
			if a == nil || b == nil {
				continue
			}
			if p := b.v[0].P; in(&as[i], p) {
				return p
			}
			if p := a.v[0].P; in(&bs[j], p) {
				return p
			}
		}
	}
	return r2.Point{}
}
