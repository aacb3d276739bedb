package route

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// An entry is a place on a level to which an end of a bundle leads.
type entry struct {
	level int
	at    r2.Point
	up    r2.Point  // where it comes to the level; from there straight to at, out of the clearance of what is about the end
	leave geom.Path // from the end, at its height; then upright
	cost  float64
	depth []float64 // how deep it lies within each sheet, of an end that is searched for
}

// entries returns the ways in which a bundle can leave an end: straight out until it is free
// of its owner at that height, then up or down to a level. An end that comes out beside all
// levels leads on through free air at its height, to the place over or under a level that is
// reached first by that level. If there is none, it tells the first thing in the way, if one is. No way that
// is longer than limit is looked for from there to the other end.
func (c *class) entries(e End, other r2.Point, limit float64) (list []entry, stopped *wall) {
	lo, hi := c.heights(&e)
	others := c.between(lo, hi, nil, false, func(s *Solid) bool { return e.owns(s) })
	out := c.leave(e)
	if e.Dir.Norm() > 0 {
		if stopped = blocker(others, e.At, out); stopped != nil {
			// Something stands before it: bend up or down at once.
			out, e.Dir = e.At, r2.Point{}
		}
	}
	straight := line(e.At, out)
	if stopped == nil && e.Dir.Norm() == 0 {
		stopped = blocker(others, out, out)
	}
	for k := range c.levels {
		if l := c.levels[k]; l.inside(out) {
			if w := c.upright(e, l, out); w == nil {
				if en := (entry{level: k, at: out, up: out, leave: straight, cost: straight.Length + math.Abs(l.z-e.Z)}); l.clearing(&en) {
					list = append(list, en)
				}
			} else if stopped == nil {
				stopped = w
			}
		}
	}
	if len(list) > 0 {
		return list, nil
	}
	if w := c.hang(e, out, other, limit, straight, &list); stopped == nil {
		stopped = w
	}
	return list, stopped
}

// heights are those between which a bundle leaves an end.
func (c *class) heights(e *End) (lo, hi float64) {
	half := c.r
	if e.Thick > 0 {
		half = min(e.Thick/2, c.r)
	}
	return e.Z - half, e.Z + half
}

// clearing leads an entry that lies inside the clearance of something out of it, and reports
// whether that can be done.
func (l *level) clearing(e *entry) bool {
	if l.free(e.at) {
		return true
	}
	f, err := l.fieldOf()
	if err != nil {
		return false
	}
	q, ok := f.WayOut(e.at)
	if !ok {
		return false
	}
	e.cost += dist(e.at, q)
	e.at = q
	return true
}

// owns reports whether the solid belongs to what the end is on; forbidden bands are nobody's.
func (e *End) owns(s *Solid) bool { return !s.Forbidden && s.Owner == e.Owner && e.Owner != "" }

// upright returns the first wall between an end and a level at one point, nil if there is
// none. From a pad on a face (an end without direction) the bundle passes what else lies on that
// face, but not the board.
func (c *class) upright(e End, l *level, at r2.Point) *wall { return blocker(c.column(e, l), at, at) }

// column returns what an end keeps away from on its way upright to a level.
func (c *class) column(e End, l *level) []*wall {
	lo, hi := l.z-c.r, l.z+c.r
	var skip func(*Solid) bool
	if e.Dir.Norm() > 0 {
		low, high := c.heights(&e)
		lo, hi = min(lo, low), max(hi, high)
	} else {
		lo, hi = min(lo, e.Z), max(hi, e.Z)
		skip = func(s *Solid) bool { return !s.Level && !s.Bare && e.owns(s) }
	}
	under := l
	if l.z-c.r > e.Z+touch {
		under = nil // its board lies between
	}
	return c.between(lo, hi, under, true, skip)
}

// A near is a chunk of a wall's outline and how far its box is from a place; the whole wall, if part is -1.
type near struct {
	wall *wall
	part int
	d    float64
}

// nearest is a heap of them.
type nearest []near

func (h *nearest) push(q near) {
	*h = append(*h, q)
	s := *h
	i := len(s) - 1
	for ; i > 0 && q.d < s[(i-1)/2].d; i = (i - 1) / 2 {
		s[i] = s[(i-1)/2]
	}
	s[i] = q
}

// pop returns the nearest one; which of equal ones depends on nothing but their order.
func (h *nearest) pop() near {
	s := *h
	top, q := s[0], s[len(s)-1]
	s = s[:len(s)-1]
	*h = s
	if len(s) == 0 {
		return top
	}
	i := 0
	for k := 1; k < len(s); k = 2*i + 1 {
		if k+1 < len(s) && s[k+1].d < s[k].d {
			k++
		}
		if s[k].d >= q.d {
			break
		}
		s[i] = s[k]
		i = k
	}
	s[i] = q
	return top
}

// hang looks for places over or under levels that an end beside all of them can reach.
func (c *class) hang(e End, out, other r2.Point, limit float64, straight geom.Path, list *[]entry) (stopped *wall) {
	const tries = 16 // of each level, the nearest first
	walls := c.between(e.Z-c.r, e.Z+c.r, nil, false, func(s *Solid) bool { return e.Dir.Norm() == 0 && e.owns(s) })
	var field *geom.Field
	for k, l := range c.levels {
		best := entry{cost: math.Inf(1)}
		n := 0
		fixed := straight.Length + math.Abs(l.z-e.Z)
		column := c.column(e, l)
		var waits nearest
		wait := func(w *wall, part int, box geom.Rect) {
			if d := box.Away(out); d+fixed+box.Away(other) <= limit {
				waits.push(near{w, part, d})
			}
		}
		for _, w := range l.walls {
			wait(w, -1, w.box.Expand(w.clear+2*play))
		}
		try := func(p r2.Point) {
			if d := dist(p, out) + fixed; d >= best.cost || d+dist(p, other) > limit || !l.free(p) {
				return
			}
			if w := blocker(column, p, p); w != nil {
				if stopped == nil {
					stopped = w
				}
				return
			}
			n++
			way := line(out, p)
			if !clearLine(walls, out, p) {
				if field == nil {
					keeps := make([]geom.Keep, 0, len(walls))
					for _, w := range walls {
						keeps = append(keeps, geom.Keep{Region: w.plan, Clearance: w.clear})
					}
					var err error
					if field, err = geom.NewField(nil, 0, keeps...); err != nil {
						return
					}
				}
				// Both may lie inside a clearance, out of which the way first leads, but not in a body.
				if inBody(walls, out) || inBody(walls, p) {
					return
				}
				a, okA := field.WayOut(out)
				b, okB := field.WayOut(p)
				if !okA || !okB || field.Pocket(a) != field.Pocket(b) {
					return
				}
				var err error
				if way, err = field.Path(out, p, geom.PathOptions{}); err != nil {
					return
				}
			}
			if cost := way.Length + fixed; cost < best.cost {
				best = entry{level: k, at: p, up: p, leave: joined(straight, way), cost: cost}
			}
		}
		for len(waits) > 0 {
			q := waits.pop()
			if n >= tries || q.d+fixed >= best.cost {
				break
			}
			if q.part < 0 {
				for i, part := range q.wall.outline() {
					wait(q.wall, i, part.box)
				}
				continue
			}
			part := &q.wall.parts[q.part]
			lap := &q.wall.loops[part.lap]
			try(lap.segs[part.from].A)
			for k := part.from; k < part.to; k++ {
				share, _ := lap.nearestOn(k, out)
				try(lap.segs[k].At(share))
			}
		}
		if !math.IsInf(best.cost, 1) {
			*list = append(*list, best)
		}
	}
	return stopped
}

// inBody reports whether a point lies in what one of the walls stands for.
func inBody(ws []*wall, p r2.Point) bool {
	for _, w := range ws {
		if w.box.Away(p) <= 0 && geom.DistancePoint(w.plan, p).Dist < -play {
			return true
		}
	}
	return false
}

// leave returns where a bundle that goes straight out of an end is first free of the bodies
// of its owner at that height.
func (c *class) leave(e End) r2.Point {
	n := e.Dir.Norm()
	if !(n > 0) {
		return e.At
	}
	lo, hi := c.heights(&e)
	own := c.between(lo, hi, nil, false, func(s *Solid) bool { return !e.owns(s) })
	own = slices.DeleteFunc(own, func(w *wall) bool { return w.of.sheet })
	u := e.Dir.Mul(1 / n)
	at := e.At
	// Each step is at most what is missing to be clear of the body that lacks most, so that none is
	// passed by; the last ones are as small as play.
	for range 10000 {
		far := 0.0
		for _, w := range own {
			if w.box.Away(at) >= w.clear {
				continue
			}
			if g := geom.DistancePoint(w.plan, at); g.Dist < w.clear-play {
				far = max(far, w.clear-g.Dist)
			}
		}
		if far == 0 {
			break
		}
		at = at.Add(u.Mul(max(far, 1e-4)))
	}
	return at
}

// line returns the straight path, without pieces between equal points.
func line(a, b r2.Point) geom.Path {
	if dist(a, b) <= geom.Coincident {
		return geom.Path{}
	}
	return geom.Path{Segs: []geom.Seg{{A: a, B: b}}, Length: dist(a, b)}
}

// joined returns the paths one after the other.
func joined(paths ...geom.Path) geom.Path {
	var p geom.Path
	for _, q := range paths {
		for _, k := range q.Inside {
			p.Inside = append(p.Inside, len(p.Segs)+k)
		}
		p.Segs = append(p.Segs, q.Segs...)
		p.Length += q.Length
	}
	return p
}
