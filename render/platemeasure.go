package render

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// narrow is the least material between two edges of a profile.
type narrowPlace struct {
	a, b r2.Point // on the two edges, profile's frame
	mm   float64
	n    int // how many places are as narrow, within 0.005 mm; at least 1
}

// leastWeb returns the least material between two openings; ok is false if there are not
// two.
func leastWeb(p *Profile) (least narrowPlace, ok bool) {
	least.mm = math.Inf(1)
	for i := range p.Openings {
		for j := i + 1; j < len(p.Openings); j++ {
			a, b := p.Openings[i].Loop, p.Openings[j].Loop
			if a.Bound().Distance(b.Bound()) > least.mm+tied {
				continue
			}
			g := geom.DistanceLoops(a, b)
			least.take(g.A, g.B, g.Dist)
		}
	}
	return least, least.n > 0
}

// leastEdge returns the least material between an opening and the outer edge; ok is false
// if there is no opening.
func leastEdge(p *Profile) (least narrowPlace, ok bool) {
	least.mm = math.Inf(1)
	outer := geom.RegionOf(p.Outer)
	for _, o := range p.Openings {
		g := geom.Inside(outer, geom.RegionOf(o.Loop))
		least.take(g.A, g.B, g.Dist)
	}
	return least, least.n > 0
}

// tied is how near in mm two measures count as equal: half of the last figure printed.
const tied = 0.005

func (n *narrowPlace) take(a, b r2.Point, mm float64) {
	switch {
	case mm < n.mm-tied:
		*n = narrowPlace{a, b, mm, 1}
	case mm <= n.mm+tied:
		n.n++
	}
}

// leastInside returns the least radius that a cutter meets on the profile's edges but for
// round holes, and where: 0 for a sharp corner, ok false if a cutter of any size can
// follow. On the outer edge run counter-clockwise, and on openings clockwise, the material
// lies to the left and the cutter to the right: it is held by turns to the right.
func leastInside(p *Profile) (radius float64, at r2.Point, ok bool) {
	radius = math.Inf(1)
	scan := func(l geom.Loop) {
		for i, s := range l.Segs() {
			if s.IsArc() && s.Bulge < 0 && s.Radius() < radius-1e-9 {
				radius, at = s.Radius(), s.At(0.5)
			}
			const straight = 1e-4 // turn in radians below which two pieces go on as one
			if l.Turn(i+1) < -straight && radius > 0 {
				radius, at = 0, s.B
			}
		}
	}
	scan(p.Outer.CCW())
	for _, o := range p.Openings {
		if o.D == 0 {
			scan(o.Loop.CCW().Reverse())
		}
	}
	return radius, at, !math.IsInf(radius, 1)
}

// bothWays reports whether a profile is its own mirror image, so that a piece laid with the
// wrong face up is no fault: turned over about the x or the y direction it covers the same
// points but for less than area mm², and no opening is sunk.
func bothWays(p *Profile) bool {
	for _, o := range p.Openings {
		if o.Sink != "" {
			return false
		}
	}
	const area = 0.05
	r := p.Region()
	c := r.Bound().Center()
	for _, turn := range [2]float64{0, 180} {
		flip := geom.Pose2{Shift: c.Mul(-1)}.Then(geom.Pose2{Mirror: true, Turn: deg(turn)}).Then(geom.Pose2{Shift: c})
		rest, err := geom.Difference([]geom.Region{r}, []geom.Region{r.Transform(flip)})
		if err != nil {
			continue
		}
		left := 0.0
		for _, q := range rest {
			left += q.Area()
		}
		if left < area {
			return true
		}
	}
	return false
}
