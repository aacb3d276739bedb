package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// An entry is a place on a level to which an end of a bundle leads.
type entry struct {
	level int
	at    r2.Point
	out   r2.Point // where it is free of its owner
	cost  float64
}

// entries returns the ways in which a bundle can leave an end: straight out until it is free
// of its owner at that height, then up or down to a level.
func (c *class) entries(e End) []entry {
	out := c.leave(e)
	// From a pad on a face it goes through what lies on that face, but not through the board.
	own := func(s *Solid) bool {
		return e.Dir.Norm() == 0 && !s.Level && !s.Forbidden && s.Owner == e.Owner && e.Owner != ""
	}
	var list []entry
	for k, l := range c.levels {
		if !l.inside(out) {
			continue
		}
		lo, hi := l.z-c.r, l.z+c.r
		if e.Dir.Norm() > 0 {
			lo, hi = min(lo, e.Z-c.r), max(hi, e.Z+c.r)
		} else {
			lo, hi = min(lo, e.Z), max(hi, e.Z)
		}
		under := l
		if l.z-c.r > e.Z+touch {
			under = nil // its board lies between
		}
		if !clearOf(c.wallsBetween(lo, hi, under, own), out) {
			continue
		}
		list = append(list, entry{level: k, at: out, out: out, cost: dist(e.At, out) + math.Abs(l.z-e.Z)})
	}
	return list
}

// leave returns where a bundle that goes straight out of an end is first free of the bodies
// of its owner at that height.
func (c *class) leave(e End) r2.Point {
	n := e.Dir.Norm()
	if !(n > 0) {
		return e.At
	}
	own := c.wallsBetween(e.Z-c.r, e.Z+c.r, nil, func(s *Solid) bool { return s.Forbidden || s.Owner != e.Owner || e.Owner == "" })
	u := e.Dir.Mul(1 / n)
	at := e.At
	for range 1000 {
		far := 0.0
		for i := range own {
			w := &own[i]
			if w.of.sheet {
				continue
			}
			if g := geom.DistancePoint(w.plan, at); g.Dist < w.clear-play {
				far = max(far, w.clear-g.Dist, 0.01)
			}
		}
		if far == 0 {
			break
		}
		// Clear of a body by d, or d deep in it, the way out is at least what is missing.
		at = at.Add(u.Mul(far))
	}
	return at
}
