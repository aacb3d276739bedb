package route

import (
	"math"

	"dryfit/geom"
)

// A class is the space as bundles of one diameter see it.
type class struct {
	space    *Space
	r        float64 // half the diameter
	levels   []*level
	transits []transit
	touching [][]int // by level
}

func newClass(s *Space, od float64) *class {
	c := &class{space: s, r: od / 2}
	c.makeLevels()
	c.makeTransits()
	return c
}

// Find returns the way of one bundle.
func Find(space *Space, b Bundle) Way { return FindAll(space, []Bundle{b})[0] }

// FindAll returns the ways of the bundles, in their order.
func FindAll(space *Space, bundles []Bundle) []Way {
	ways := make([]Way, len(bundles))
	classes := map[float64]*class{}
	for i, b := range bundles {
		if !sound(b) {
			ways[i].Blocked = &Blocked{Enclosed: true, Need: b.OD}
			continue
		}
		c := classes[b.OD]
		if c == nil {
			c = newClass(space, b.OD)
			classes[b.OD] = c
		}
		ways[i] = c.find(b)
	}
	return ways
}

// sound reports whether every number of a bundle is one.
func sound(b Bundle) bool {
	ok := func(v ...float64) bool {
		for _, x := range v {
			if !(math.Abs(x) <= geom.MaxCoord) {
				return false
			}
		}
		return true
	}
	if !(b.OD > 0 && b.OD <= geom.MaxCoord && b.Bend >= 0 && b.Bend <= geom.MaxCoord) {
		return false
	}
	for _, e := range [2]End{b.From, b.To} {
		if !ok(e.At.X, e.At.Y, e.Z, e.Dir.X, e.Dir.Y) {
			return false
		}
	}
	for _, v := range b.Via {
		if !ok(v.At.X, v.At.Y) {
			return false
		}
	}
	return true
}
