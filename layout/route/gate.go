package route

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A gate is what a sheet leaves open between what lies below and above it: the openings that
// take a bundle, and all that lies beside it. It sharpens what a search takes to be
// ahead: whoever has to get past the sheet has at least to reach a gate and go on from there.
type gate struct {
	shut  bool // it counts: nothing gets past the sheet otherwise
	boxes []geom.Rect
	outer []geom.Region
}

// makeGates makes the gates of all sheets.
func (c *class) makeGates() {
	c.gates = make([]gate, len(c.space.Sheets))
	for i := range c.space.Sheets {
		g := &c.gates[i]
		sh := &c.space.Sheets[i]
		g.shut = true
		for _, l := range c.levels {
			if l.z-c.r < sh.Hi-touch && l.z+c.r > sh.Lo+touch {
				g.shut = false // a level within a hole of it
			}
		}
		in := c.space.Edge + c.r
		for k := range sh.Holes {
			h := &sh.Holes[k]
			if b := h.Loop.Bound(); h.Taken <= 0 && !b.IsEmpty() && min(b.Size().X, b.Size().Y) >= 2*in-play {
				g.boxes = append(g.boxes, b)
			}
		}
		for _, r := range sh.Plan {
			g.outer = append(g.outer, geom.Region{Outer: r.Outer})
		}
	}
}

// depth returns how far a point lies within the sheet, 0 beside it.
func (g *gate) depth(p r2.Point) float64 {
	d := 0.0
	for _, r := range g.outer {
		d = max(d, -geom.DistancePoint(r, p).Dist)
	}
	return d
}

// past returns the least length in plan from p to q past the sheet, given how deep q lies
// within it, if that is more than d; else d. It does not fall faster than p moves.
func (g *gate) past(p, q r2.Point, depth, d float64) float64 {
	best := depth // when p lies beside it
	for i := range g.boxes {
		if b := g.boxes[i].Away(p) + g.boxes[i].Away(q); b <= d {
			return d
		}
	}
	best += g.depth(p)
	for i := range g.boxes {
		best = min(best, g.boxes[i].Away(p)+g.boxes[i].Away(q))
	}
	return max(d, best)
}

// pastFrom is past from the best point of a box.
func (g *gate) pastFrom(b *geom.Rect, q r2.Point, depth, d float64) float64 {
	best := depth
	for i := range g.boxes {
		best = min(best, b.Distance(g.boxes[i])+g.boxes[i].Away(q))
		if best <= d {
			return d
		}
	}
	return max(d, best)
}

// parts reports whether the sheet lies between two heights.
func (c *class) parts(sheet int, z0, z1 float64) bool {
	sh := &c.space.Sheets[sheet]
	return c.gates[sheet].shut && (z0 <= sh.Lo && z1 >= sh.Hi || z1 <= sh.Lo && z0 >= sh.Hi)
}
