package route

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A level is a height at which bundles of one diameter run: along a face of a sheet, or in
// the air over a board.
type level struct {
	name  string
	index int
	z     float64 // of the middle of the bundle
	sheet int     // the sheet whose face it is; -1 over a board
	top   bool    // of a face: it looks up
	owner string  // of a level over a board
	rest  []int   // solids that the bundle lies on
	// limits keep the bundle in the level's domain, walls are all that it must keep away from,
	// limits first.
	limits, walls []*wall
	frame         geom.Rect // all that counts lies in it

	ready bool // the field has been asked for
	field *geom.Field
	err   error
}

// A class is the space as bundles of one diameter see it.
type class struct {
	space  *Space
	r      float64 // half the diameter
	levels []*level
	pairs  [][]*pair // by the levels' numbers, the lower level first; nil: not looked at

	solids, sheets, filled [][]*wall // by solid or sheet; filled: the sheets without their holes

	transits []transit
	gates    []gate // by sheet
	free     *parts // nil: nothing has been blocked yet
}

func newClass(s *Space, od float64) *class {
	c := &class{space: s, r: od / 2}
	c.solids = make([][]*wall, len(s.Solids))
	c.sheets, c.filled = make([][]*wall, len(s.Sheets)), make([][]*wall, len(s.Sheets))
	c.transits = make([]transit, 0, 512)
	c.makeLevels()
	c.makeGates()
	c.pairs = make([][]*pair, len(c.levels))
	for i := range c.pairs {
		c.pairs[i] = make([]*pair, len(c.levels))
	}
	return c
}

// makeLevels lists the levels: the faces of the sheets in their order, bottom before top,
// then what lies over boards, in the order of the solids.
func (c *class) makeLevels() {
	s := c.space
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		c.levels = append(c.levels,
			&level{name: sh.ID + ".bottom", z: sh.Lo - c.r, sheet: i},
			&level{name: sh.ID + ".top", z: sh.Hi + c.r, sheet: i, top: true})
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
			k = len(c.levels)
			c.levels = append(c.levels, &level{name: "over " + so.Owner, z: so.Hi + c.r, sheet: -1, owner: so.Owner})
		}
		c.levels[k].rest = append(c.levels[k].rest, i)
	}
	for k, l := range c.levels {
		l.index = k
		if l.sheet >= 0 && l.top {
			l.limits, l.frame = c.levels[k-1].limits, c.levels[k-1].frame
		} else {
			l.limits = c.limits(l)
			l.frame = l.limits[0].box
		}
		l.walls = append(slices.Clone(l.limits), c.between(l.z-c.r, l.z+c.r, l, false, nil)...)
	}
}

// limits returns the walls round the domain of a level.
//
// On a face that is the plan of the sheet, less what lies within Edge of its edge; holes that are narrower
// than the bundle do not count, it lies across them. Over a board it is the storey, see there,
// and a bundle may hang beside its edge, by as much as it is thick.
func (c *class) limits(l *level) []*wall {
	var plan []geom.Region
	clear := c.space.Edge + c.r
	of := thing{true, l.sheet}
	if l.sheet >= 0 {
		plan = c.bridged(c.space.Sheets[l.sheet].Plan)
	} else {
		var err error
		clear = c.r
		of = thing{false, l.rest[0]}
		if plan, err = geom.Offset(c.storey(l), 3*c.r); err != nil {
			plan = nil
		}
	}
	box := geom.EmptyRect()
	for _, r := range plan {
		box = box.Union(r.Bound())
	}
	if box.IsEmpty() {
		box = geom.Rect{}
	}
	frame := geom.RectLoop(box.Expand(2*clear + 10))
	var ws []*wall
	add := func(r geom.Region) {
		w := newWall(r, clear, of)
		if w.rim = holeRim; r.Bound().Lo.X < box.Lo.X {
			w.rim = outerRim
		}
		ws = append(ws, w)
	}
	if len(plan) == 1 {
		add(geom.RegionOf(frame, plan[0].Outer))
		for _, h := range plan[0].Holes {
			add(geom.RegionOf(h.CCW()))
		}
		return ws
	}
	rest, err := geom.Difference([]geom.Region{geom.RegionOf(frame)}, plan)
	if err != nil {
		rest = []geom.Region{geom.RegionOf(frame)} // nothing to lie on
	}
	for _, r := range rest {
		add(r)
	}
	// The one round all of it first.
	slices.SortStableFunc(ws, func(v, w *wall) int { return v.rim - w.rim })
	return ws
}

// bridged returns the plan without the holes that are narrower than the bundle.
func (c *class) bridged(plan []geom.Region) []geom.Region {
	var out []geom.Region
	for _, r := range plan {
		k := geom.Region{Outer: r.Outer}
		for _, h := range r.Holes {
			size := h.Bound().Size()
			if min(size.X, size.Y) < 2*c.r {
				continue
			}
			if h.Len() == 2 && math.Abs(math.Abs(h.Vertex(0).Bulge)-1) < 1e-9 && math.Abs(math.Abs(h.Vertex(1).Bulge)-1) < 1e-9 {
				k.Holes = append(k.Holes, h) // a circle is as wide as its box
				continue
			}
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
	return all
}

// between returns what stands between two heights, but for what the level, if any, rests on
// and what skip names. With fill, sheets that lie wholly between count without their holes:
// those are passed as openings or not at all.
func (c *class) between(lo, hi float64, l *level, fill bool, skip func(*Solid) bool) []*wall {
	s := c.space
	ws := make([]*wall, 0, len(s.Sheets)+len(s.Solids)/2)
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		switch {
		case !(sh.Lo < hi-touch && sh.Hi > lo+touch):
		case fill && sh.Lo > lo-touch && sh.Hi < hi+touch:
			if c.filled[i] == nil {
				for _, r := range sh.Plan {
					c.filled[i] = append(c.filled[i], newWall(geom.RegionOf(r.Outer), c.r, thing{true, i}))
				}
			}
			ws = append(ws, c.filled[i]...)
		default:
			if c.sheets[i] == nil {
				for _, r := range sh.Plan {
					c.sheets[i] = append(c.sheets[i], newWall(r, c.r, thing{true, i}))
				}
			}
			ws = append(ws, c.sheets[i]...)
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
		if c.solids[i] == nil {
			for _, r := range so.Plan {
				c.solids[i] = append(c.solids[i], newWall(r, so.Keep+c.r, thing{false, i}))
			}
		}
		ws = append(ws, c.solids[i]...)
	}
	return ws
}

// free reports whether the middle of a bundle may lie at the point.
func (l *level) free(p r2.Point) bool { return l.frame.Contains(p) && clearOf(l.walls, p) }

// inside reports whether the point lies in the level's domain, whatever stands there.
func (l *level) inside(p r2.Point) bool { return l.frame.Contains(p) && clearOf(l.limits, p) }

// fieldOf returns the level made ready for shortest paths.
func (l *level) fieldOf() (*geom.Field, error) {
	if !l.ready {
		l.ready = true
		l.field, l.err = fieldOf(l.walls)
	}
	return l.field, l.err
}

// fieldOf returns the field of the walls. Its obstacle 0 is a frame round all limits, the
// walls follow.
func fieldOf(walls []*wall, more ...geom.Keep) (*geom.Field, error) {
	box := geom.EmptyRect()
	for _, w := range walls {
		if w.rim == outerRim {
			box = box.Union(w.box)
		}
	}
	keeps := make([]geom.Keep, 0, len(walls)+1)
	keeps = append(keeps, geom.Keep{Region: geom.RegionOf(geom.RectLoop(box)), Inside: true})
	for _, w := range walls {
		keeps = append(keeps, geom.Keep{Region: w.plan, Clearance: w.clear})
	}
	return geom.NewField(nil, 0, append(keeps, more...)...)
}

// pocketAt tells in which connected part of the level's free room p lies, from 2 on; 1 where that is
// not known, such as on a level whose field nobody has needed yet. Paths on the level join places in one part only.
func (l *level) pocketAt(p r2.Point) int32 {
	if !l.ready || l.err != nil {
		return 1
	}
	return int32(l.field.Pocket(p)) + 2
}

// apart reports whether two pockets are known and not the same.
func apart(a, b int32) bool { return a > 1 && b > 1 && a != b }

// reach returns the length of the shortest path between two points of the level, and whether
// there is one. Most lines are free, which is told without the field.
func (l *level) reach(a, b r2.Point) (float64, bool) {
	if clearLine(l.walls, a, b) {
		return dist(a, b), true
	}
	f, err := l.fieldOf()
	if err != nil {
		return 0, false
	}
	if p, q := f.Pocket(a), f.Pocket(b); p >= 0 && q >= 0 && p != q {
		return 0, false
	}
	d, err := f.Length(a, b)
	return d, err == nil
}
