package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// convexGap measures two convex bodies.
//
// The balls drop out of the search: with h the support function of the difference of
// the cores, the signed distance of the bodies is the greatest value of -h over all unit
// directions less both radii, and a constant does not move the place of a maximum. So
// spheres and capsules are exact, at any depth.
func convexGap(a, b *convex) (g Gap3) {
	if a.kind <= coreSegment && b.kind <= coreSegment && len(a.slides)+len(b.slides) == 0 {
		if segmentGap(a, b, &g) {
			return g
		}
	}
	m := differenceOf(a, b)
	v, p, low, how := m.nearest()
	n := v.Norm()
	if how == cameTogether || how == cameUnsure && n <= 2*gjkPoor {
		return m.overlap(p) // v is too short to tell the direction
	}
	if n-low > gjkPoor && low <= 0 {
		// Too close to tell by this search; the other one may.
		if low = m.depth(p).apart; low == 0 {
			return m.overlap(p)
		}
	}
	push := v.Mul(-1 / n)
	g = m.inSpace(n, push, p)
	g.Exact = n-low <= gjkPoor
	return g
}

// gjkPoor is the difference of the bounds (mm) that still keeps the promise of 1e-6.
const gjkPoor = 5e-7

// convexSeparation is the distance of convexGap, 0 for an overlap.
func convexSeparation(a, b *convex) float64 {
	if a.kind <= coreSegment && b.kind <= coreSegment && len(a.slides)+len(b.slides) == 0 {
		var g Gap3
		if segmentGap(a, b, &g) {
			return max(0, g.Dist)
		}
	}
	m := differenceOf(a, b)
	v, p, low, how := m.nearest()
	n := v.Norm()
	if how == cameTogether || how == cameUnsure && n <= 2*gjkPoor || n-low > gjkPoor && low <= 0 && m.depth(p).apart == 0 {
		return 0
	}
	if n -= a.radius + b.radius; n > Coincident {
		return n
	}
	return 0
}

// overlap measures cores that meet, p being a common point.
func (m *difference) overlap(p r3.Vector) Gap3 {
	if a, b := m.a.upright, m.b.upright; a != nil && b != nil {
		return uprightGap(a, b)
	}
	d := m.depth(p)
	g := m.inSpace(d.apart-d.depth, d.push, d.p)
	g.Exact = d.depth-d.low <= gjkPoor
	return g
}

// inSpace turns a result for the cores, in the frame of a, into one for the bodies.
func (m *difference) inSpace(dist float64, push, p r3.Vector) Gap3 {
	u := mulCols(m.a.rot, push)
	var g Gap3
	g.Dist = dist - m.a.radius - m.b.radius
	g.Push = u
	g.A = mulCols(m.a.rot, p).Add(u.Mul(m.a.radius)).Add(m.a.at)
	g.settle()
	return g
}

// segmentGap measures two bodies whose cores are segments or points, in closed form
// (the nearest points of two lines, clamped in turn; Ericson, Real-Time Collision
// Detection, 5.1.9, with parameters counted from the middles). It is false when the
// cores come so near each other that the direction between them is lost.
func segmentGap(a, b *convex, g *Gap3) bool {
	ua, ub := &a.rot[2], &b.rot[2]
	dx, dy, dz := b.at.X-a.at.X, b.at.Y-a.at.Y, b.at.Z-a.at.Z
	da := dx*ua.X + dy*ua.Y + dz*ua.Z
	db := dx*ub.X + dy*ub.Y + dz*ub.Z
	k := ua.X*ub.X + ua.Y*ub.Y + ua.Z*ub.Z
	ha, hb := 0.0, 0.0
	if a.kind == coreSegment {
		ha = a.half.Z
	}
	if b.kind == coreSegment {
		hb = b.half.Z
	}
	// Squared sine of the angle between the axes; from the cross product, which keeps
	// its digits when they are nearly parallel.
	cx, cy, cz := ua.Y*ub.Z-ua.Z*ub.Y, ua.Z*ub.X-ua.X*ub.Z, ua.X*ub.Y-ua.Y*ub.X
	sin2 := cx*cx + cy*cy + cz*cz
	s := 0.0
	if sin2 > 1e-24 {
		s = clamp((da-k*db)/sin2, ha)
	}
	t := clamp(k*s-db, hb)
	s = clamp(k*t+da, ha)
	t = clamp(k*s-db, hb)
	ex, ey, ez := dx+t*ub.X-s*ua.X, dy+t*ub.Y-s*ua.Y, dz+t*ub.Z-s*ua.Z
	n := math.Sqrt(ex*ex + ey*ey + ez*ez)
	if !(n > 1e-9*(1+ha+hb)) {
		return false
	}
	d, r := n-a.radius-b.radius, a.radius
	if math.Abs(d) <= Coincident {
		d = 0
	}
	ex, ey, ez = ex/n, ey/n, ez/n
	x, y, z := a.at.X+s*ua.X+ex*r, a.at.Y+s*ua.Y+ey*r, a.at.Z+s*ua.Z+ez*r
	g.Dist, g.Exact = d, true
	g.Push.X, g.Push.Y, g.Push.Z = ex, ey, ez
	g.A.X, g.A.Y, g.A.Z = x, y, z
	g.B.X, g.B.Y, g.B.Z = x+ex*d, y+ey*d, z+ez*d
	return true
}

// clamp is written out since min and max, which tell apart zeros and NaN, take longer.
func clamp(x, h float64) float64 {
	if x > h {
		return h
	}
	if x < -h {
		return -h
	}
	return x
}
