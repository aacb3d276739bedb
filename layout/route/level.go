package route

import (
	"errors"
	"math"
	"slices"
	"sync"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// touch is the overlap in height, in mm, up to which things only touch: a part that stands
// where the room of a wire ends is not in its way.
const touch = 1e-6

// play is what a place may lack of its clearance, in mm, and still count as free: ten times
// what [geom.Field] leaves paths.
const play = 1e-6

// A level is a height at which bundles of one diameter run: along a face of a sheet, or in
// the air over a board.
type level struct {
	name   string
	z      float64 // of the middle of the bundle
	sheet  int     // the sheet whose face it is; -1 over a board
	top    bool    // of a face: it looks up
	owner  string  // of a level over a board
	rest   []int   // solids that the bundle lies on
	domain []geom.Region
	within float64 // how far the middle stays inside the domain; negative: it may reach beyond
	walls  []wall  // what stands in it

	field func() (*geom.Field, error)
}

// A wall is a region to keep away from.
type wall struct {
	plan  geom.Region
	box   geom.Rect
	clear float64 // mm from the middle of the bundle
	of    thing
}

// A thing is a solid or a sheet of the space.
type thing struct {
	sheet bool
	index int
}

// levels returns the levels for bundles of one diameter: the faces of the sheets from the
// lowest up, then what lies over boards, in the order of the solids.
func (c *class) makeLevels() {
	s := c.space
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		for _, top := range [2]bool{false, true} {
			l := &level{sheet: i, top: top, within: s.Edge + c.r, domain: c.bridged(sh.Plan)}
			if top {
				l.name, l.z = sh.ID+".top", sh.Hi+c.r
			} else {
				l.name, l.z = sh.ID+".bottom", sh.Lo-c.r
			}
			c.levels = append(c.levels, l)
		}
	}
	for i := range s.Solids {
		so := &s.Solids[i]
		if !so.Level {
			continue
		}
		k := slices.IndexFunc(c.levels, func(l *level) bool {
			return l.sheet < 0 && l.owner == so.Owner && math.Abs(l.z-so.Hi-c.r) < touch
		})
		if k < 0 {
			c.levels = append(c.levels, &level{name: "over " + so.Owner, z: so.Hi + c.r, sheet: -1, owner: so.Owner, within: -2 * c.r})
			k = len(c.levels) - 1
		}
		c.levels[k].rest = append(c.levels[k].rest, i)
	}
	for _, l := range c.levels {
		if l.sheet < 0 {
			l.domain = c.storey(l)
		}
		l.walls = c.wallsBetween(l.z-c.r, l.z+c.r, l, nil)
		l.field = sync.OnceValues(func() (*geom.Field, error) { return c.makeField(l) })
	}
}

// bridged returns the plan without the holes that are narrower than the bundle, which it
// lies across.
func (c *class) bridged(plan []geom.Region) []geom.Region {
	var out []geom.Region
	for _, r := range plan {
		k := geom.Region{Outer: r.Outer}
		for _, h := range r.Holes {
			if rest, err := geom.Offset([]geom.Region{geom.RegionOf(h.CCW())}, -c.r); err != nil || len(rest) > 0 {
				k.Holes = append(k.Holes, h)
			}
		}
		out = append(out, k)
	}
	return out
}

// storey returns the plan in which a bundle over a board may run: over or under the nearest
// sheets below and above the board, and over the board itself.
func (c *class) storey(l *level) []geom.Region {
	s := c.space
	var own []geom.Region
	for _, i := range l.rest {
		own = append(own, s.Solids[i].Plan...)
	}
	meets := func(sh *Sheet) bool {
		for _, a := range own {
			for _, b := range sh.Plan {
				if geom.Intersects(a, b) {
					return true
				}
			}
		}
		return false
	}
	below, above := math.Inf(-1), math.Inf(1)
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		if sh.Hi <= l.z+touch && sh.Hi > below && meets(sh) {
			below = sh.Hi
		}
		if sh.Lo >= l.z-touch && sh.Lo < above && meets(sh) {
			above = sh.Lo
		}
	}
	all := own
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		if math.Abs(sh.Hi-below) < touch || math.Abs(sh.Lo-above) < touch {
			for _, r := range sh.Plan {
				all = append(all, geom.Region{Outer: r.Outer})
			}
		}
	}
	u, err := geom.Union(all, nil)
	if err != nil {
		return all
	}
	return u
}

// wallsBetween returns what stands between two heights, but for what the level, if any, rests
// on and what skip names.
func (c *class) wallsBetween(lo, hi float64, l *level, skip func(*Solid) bool) []wall {
	s := c.space
	var ws []wall
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		if !(sh.Lo < hi-touch && sh.Hi > lo+touch) {
			continue
		}
		for _, r := range sh.Plan {
			ws = append(ws, wall{r, r.Bound(), c.r, thing{true, i}})
		}
	}
	for i := range s.Solids {
		so := &s.Solids[i]
		if !(so.Lo-so.Keep < hi-touch && so.Hi+so.Keep > lo+touch) {
			continue
		}
		if l != nil && slices.Contains(l.rest, i) || skip != nil && skip(so) {
			continue
		}
		for _, r := range so.Plan {
			ws = append(ws, wall{r, r.Bound(), so.Keep + c.r, thing{false, i}})
		}
	}
	return ws
}

// clearOf reports whether the point keeps its distance from all walls.
func clearOf(ws []wall, p r2.Point) bool {
	for i := range ws {
		w := &ws[i]
		if w.box.Distance(geom.Rect{Lo: p, Hi: p}) < w.clear-play && geom.DistancePoint(w.plan, p).Dist < w.clear-play {
			return false
		}
	}
	return true
}

// inside reports whether the point lies in the level's domain.
func (l *level) inside(p r2.Point) bool {
	best := math.Inf(1)
	for _, r := range l.domain {
		best = min(best, geom.DistancePoint(r, p).Dist)
	}
	return best <= -l.within+play
}

// free reports whether the middle of a bundle may lie at the point.
func (l *level) free(p r2.Point) bool { return l.inside(p) && clearOf(l.walls, p) }

// makeField makes the level ready for shortest paths.
func (c *class) makeField(l *level) (*geom.Field, error) {
	if len(l.domain) == 0 {
		return nil, errors.New("nothing to lie on")
	}
	keeps, err := c.limits(l)
	if err != nil {
		return nil, err
	}
	for _, w := range l.walls {
		keeps = append(keeps, geom.Keep{Region: w.plan, Clearance: w.clear})
	}
	return geom.NewField(nil, 0, keeps...)
}

// limits returns the walls round the level's domain.
func (c *class) limits(l *level) ([]geom.Keep, error) {
	d := l.domain
	clear := l.within
	if clear < 0 {
		var err error
		if d, err = geom.Offset(d, -clear); err != nil {
			return nil, err
		}
		clear = 0
	}
	if len(d) == 1 {
		return []geom.Keep{{Region: d[0], Clearance: clear, Inside: true}}, nil
	}
	box := geom.EmptyRect()
	for _, r := range d {
		box = box.Union(r.Bound())
	}
	frame := geom.RegionOf(geom.RectLoop(box.Expand(1)))
	out, err := geom.Difference([]geom.Region{frame}, d)
	if err != nil {
		return nil, err
	}
	keeps := []geom.Keep{{Region: frame, Inside: true}}
	for _, r := range out {
		keeps = append(keeps, geom.Keep{Region: r, Clearance: clear})
	}
	return keeps, nil
}
