package route

import (
	"math"

	"dryfit/geom"
)

// Find returns the way of one bundle, as FindAll does.
func Find(space *Space, b Bundle) Way { return FindAll(space, []Bundle{b})[0] }

// FindAll returns the ways of the bundles, in their order.
func FindAll(space *Space, bundles []Bundle) []Way {
	s := space.sound()
	ways := make([]Way, len(bundles))
	classes := map[float64]*class{}
	var search search
	threads := make([]*thread, len(bundles))
	for i := range bundles {
		b := &bundles[i]
		if !b.sound() {
			ways[i].Blocked = &Blocked{Enclosed: true}
			continue
		}
		c := classes[b.OD]
		if c == nil {
			c = newClass(s, b.OD)
			classes[b.OD] = c
		}
		t, blocked := c.thread(&search, b)
		if blocked != nil {
			ways[i].Blocked = blocked
			continue
		}
		t.refine()
		threads[i] = t
	}
	spread(threads)
	for i, t := range threads {
		if t == nil {
			continue
		}
		if ways[i].Blocked = t.lay(); ways[i].Blocked != nil {
			threads[i] = nil
		}
	}
	lanes(threads)
	for i, t := range threads {
		if t != nil {
			ways[i] = t.write()
		}
	}
	return ways
}

// finite reports whether all numbers are within the range of geom.
func finite(v ...float64) bool {
	for _, x := range v {
		if !(math.Abs(x) <= geom.MaxCoord) {
			return false
		}
	}
	return true
}

// sound reports whether a bundle can be looked at.
func (b *Bundle) sound() bool {
	ok := finite(b.OD, b.Bend) && b.OD > 0 && b.Bend >= 0
	for _, e := range [2]*End{&b.From, &b.To} {
		ok = ok && finite(e.At.X, e.At.Y, e.Z, e.Dir.X, e.Dir.Y)
	}
	for i := range b.Via {
		ok = ok && finite(b.Via[i].At.X, b.Via[i].At.Y)
	}
	return ok
}

// sound returns the space without what has no place or no size in it: sheets and solids
// whose heights are no numbers or lie the wrong way round. A negative or infinite distance
// to keep counts as none.
func (s *Space) sound() *Space {
	out := &Space{}
	if s == nil {
		return out
	}
	kept := func(d float64) float64 {
		if !finite(d) || d < 0 {
			return 0
		}
		return d
	}
	some := func(rs []geom.Region) []geom.Region {
		var k []geom.Region
		for _, r := range rs {
			if !r.IsEmpty() {
				k = append(k, r)
			}
		}
		return k
	}
	out.Edge = kept(s.Edge)
	for _, sh := range s.Sheets {
		if sh.Plan = some(sh.Plan); finite(sh.Lo, sh.Hi) && sh.Lo <= sh.Hi && len(sh.Plan) > 0 {
			out.Sheets = append(out.Sheets, sh)
		}
	}
	for _, so := range s.Solids {
		so.Keep = kept(so.Keep)
		if so.Plan = some(so.Plan); finite(so.Lo, so.Hi) && so.Lo <= so.Hi && len(so.Plan) > 0 {
			out.Solids = append(out.Solids, so)
		}
	}
	return out
}
