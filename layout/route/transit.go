package route

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A transit leads from one level to another at one place. On each level it begins where a
// path in that level ends; from there it leads straight on to where it goes up or down.
type transit struct {
	kind    Kind
	lo, hi  int         // levels
	p       [2]r2.Point // where the paths on lo and hi end
	at      [2]r2.Point // where it is upright: the same but for the rounding of an edge
	upright float64     // length
	sheet   int         // Edge, Hole
	opening int         // Hole
	state   int8        // 0 not looked at, 1 free, -1 not
	pocket  [2]int32    // of its places on lo and hi, as pocketAt tells; 0 not looked at

	// Where p lies on an outline, for moving it; of an opening, where each of both lies.
	wall  *wall
	lap   int
	along [2]float64
}

func (t *transit) length() float64 { return dist(t.p[0], t.at[0]) + t.upright + dist(t.p[1], t.at[1]) }

// A pair is two levels and the places at which one may be changed for the other.
type pair struct {
	lo, hi *level
	walls  []*wall // that a drop keeps clear of, the limits of both levels among them
	beside []*wall // that a way over an edge or through an opening keeps clear of, where it is upright
	bands  []band
	groups []group
}

// A band is the places of one sort along the whole outline of a wall. It is cut into groups, one a chunk of outline,
// when a search first comes near it: most walls are never grown.
type band struct {
	like        group   // all groups are like it, but for chunk and box
	wide        float64 // mm by which the groups' boxes reach beyond their chunks
	cut         bool
	first, next int // of its groups in those of the pair
}

// bandOf returns the band of the places of one sort along a wall.
func bandOf(like group, wide float64) band {
	like.box = like.wall.box.Expand(like.wall.clear + 2*play + wide)
	return band{like: like, wide: wide}
}

// groupsOf returns the numbers of the first group of a band and of the one behind its last.
func (p *pair) groupsOf(b *band) (first, next int) {
	if !b.cut {
		b.cut, b.first = true, len(p.groups)
		if b.like.kind == Hole {
			p.groups = append(p.groups, b.like)
		} else {
			parts := b.like.wall.outline()
			p.groups = slices.Grow(p.groups, len(parts))
			for k, part := range parts {
				g := b.like
				g.chunk, g.box = k, part.box.Expand(b.wide)
				p.groups = append(p.groups, g)
			}
		}
		b.next = len(p.groups)
	}
	return b.first, b.next
}

// spent reports whether nothing has been found in any group of the band.
func (b *band) spent(p *pair) bool {
	if !b.cut {
		return false
	}
	for i := b.first; i < b.next; i++ {
		if g := &p.groups[i]; !g.looked || len(g.found) > 0 {
			return false
		}
	}
	return true
}

// all yields the groups of the pair, in an order that does not depend on what was looked at before.
func (p *pair) all(yield func(*group)) {
	for i := range p.bands {
		first, next := p.groupsOf(&p.bands[i])
		for k := first; k < next; k++ {
			yield(&p.groups[k])
		}
	}
}

// A group is places of one sort near each other.
type group struct {
	kind   Kind
	off    bool // Edge: off the rim to another level, not round it
	wall   *wall
	chunk  int
	sheet  int
	hole   int
	box    geom.Rect
	extra  float64 // least length beside what runs in plan between the box's points and the difference in height
	looked bool
	found  []int // transits
}

// pair returns what joins two levels, nil if nothing can.
func (c *class) pair(a, b int) *pair {
	if c.levels[a].z > c.levels[b].z {
		a, b = b, a
	}
	if p := c.pairs[a][b]; p != nil {
		return p
	}
	lo, hi := c.levels[a], c.levels[b]
	p := &pair{lo: lo, hi: hi}
	c.pairs[a][b] = p
	if !(lo.z < hi.z-touch) {
		return p
	}
	if lo.sheet >= 0 && lo.sheet == hi.sheet {
		p.beside = c.between(lo.z-c.r, hi.z+c.r, lo, true, nil)
		p.beside = slices.DeleteFunc(p.beside, func(w *wall) bool { return w.of == thing{true, lo.sheet} })
		c.roundEdge(p)
		c.throughOpenings(p)
		return p
	}
	p.walls = c.between(lo.z-c.r, hi.z+c.r, lo, true, nil)
	p.beside = p.walls
	for _, l := range [2]*level{lo, hi} {
		if l.sheet >= 0 && l.top == (l == hi) {
			c.offEdge(p, l)
		}
	}
	if c.parted(p) {
		return p
	}
	limits := lo.limits
	if !(len(lo.limits) > 0 && len(hi.limits) > 0 && lo.limits[0] == hi.limits[0]) {
		limits = slices.Concat(hi.limits, lo.limits)
	}
	p.walls = slices.Concat(limits, p.walls)
	p.bands = slices.Grow(p.bands, len(p.walls))
	for _, w := range p.walls {
		p.bands = append(p.bands, bandOf(group{kind: Drop, wall: w, sheet: -1, hole: -1}, 0))
	}
	return p
}

// parted reports whether a sheet between the levels covers all of one of them.
func (c *class) parted(p *pair) bool {
	s := c.space
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		if !(sh.Lo > p.lo.z && sh.Hi < p.hi.z) || len(sh.Plan) != 1 {
			continue
		}
		cover := geom.Region{Outer: sh.Plan[0].Outer}
		for _, l := range [2]*level{p.lo, p.hi} {
			if l.sheet < 0 {
				continue
			}
			if l.sheet == i {
				return true
			}
			all := true
			for _, r := range s.Sheets[l.sheet].Plan {
				all = all && geom.ContainsRegion(cover, geom.Region{Outer: r.Outer})
			}
			if all {
				return true
			}
		}
	}
	return false
}

// roundEdge lists the rims that lead from one face of a sheet to the other. The middle of
// the bundle goes straight to the edge, on from where it has to stay inside, round it in two quarter turns
// of half its diameter with the thickness between, and straight back.
func (c *class) roundEdge(p *pair) {
	in := c.space.Edge + c.r
	sh := &c.space.Sheets[p.lo.sheet]
	for _, w := range p.hi.limits {
		if w.rim != outerRim {
			continue
		}
		p.bands = append(p.bands, bandOf(group{kind: Edge, wall: w, sheet: p.lo.sheet, hole: -1,
			extra: max(0, 2*in+sh.Hi-sh.Lo+math.Pi*c.r-(p.hi.z-p.lo.z))}, 0))
	}
}

// offEdge lists the rims of a sheet over which a bundle goes from its face l straight down or up to
// the other level of the pair.
func (c *class) offEdge(p *pair, l *level) {
	for _, w := range l.limits {
		if w.rim != outerRim {
			continue
		}
		p.bands = append(p.bands, bandOf(group{kind: Edge, off: true, wall: w, sheet: l.sheet, hole: -1}, c.space.Edge+2*c.r))
	}
}

// throughOpenings lists the openings of a sheet that take the bundle.
func (c *class) throughOpenings(p *pair) {
	sh := &c.space.Sheets[p.lo.sheet]
	in := c.space.Edge + c.r
	for k := range sh.Holes {
		h := &sh.Holes[k]
		if !(h.Taken <= 0) {
			continue
		}
		size := h.Loop.Bound().Size()
		if min(size.X, size.Y) < 2*in-play {
			continue
		}
		w := newWall(geom.RegionOf(h.Loop.CCW()), in, thing{true, p.lo.sheet})
		w.outline()
		if len(w.loops) == 0 {
			continue
		}
		p.bands = append(p.bands, bandOf(group{kind: Hole, wall: w, sheet: p.lo.sheet, hole: k}, 0))
	}
}

// members returns the transits of a group.
func (c *class) members(p *pair, g *group) []int {
	if g.looked {
		return g.found
	}
	g.looked = true
	put := func(t transit) {
		g.found = append(g.found, len(c.transits))
		c.transits = append(c.transits, t)
	}
	if g.kind == Hole {
		c.openingTransits(p, g, put)
		return g.found
	}
	part := g.wall.parts[g.chunk]
	lap := &g.wall.loops[part.lap]
	if g.kind == Edge {
		c.edgeTransits(p, g, put)
		return g.found
	}
	for i := part.from; i < part.to; i++ {
		length := lap.end(i) - lap.start[i]
		n := max(1, int(math.Ceil(length/step)))
		for k := range n {
			s := lap.start[i] + length*float64(k)/float64(n)
			if t, ok := c.transitAt(p, g, part.lap, s); ok {
				put(t)
			}
		}
	}
	// Corners of the free column: where this outline meets another one.
	var store [4]float64
	for _, w := range p.walls {
		if w == g.wall || !w.box.Expand(w.clear+play).Intersects(part.box) {
			continue
		}
		for _, q := range w.outline() {
			if !q.box.Intersects(part.box) {
				continue
			}
			others := w.loops[q.lap].edges
			for j := q.from; j < q.to; j++ {
				for i := part.from; i < part.to; i++ {
					if !lap.edges[i].Box.Intersects(others[j].Box) {
						continue
					}
					for _, share := range lap.edges[i].Cuts(&others[j], store[:0]) {
						if t, ok := c.transitAt(p, g, part.lap, lap.start[i]+share*(lap.end(i)-lap.start[i])); ok {
							put(t)
						}
					}
				}
			}
		}
	}
	return g.found
}

// narrowest is the width in mm from which on a free stretch of an edge is sure to be found.
const narrowest = 0.4

// edgeTransits calls put with ways over an edge along a chunk, and with those at the limits of where it is
// free.
func (c *class) edgeTransits(p *pair, g *group, put func(transit)) {
	part := g.wall.parts[g.chunk]
	lap := &g.wall.loops[part.lap]
	at := func(s float64) transit {
		t, _ := c.transitAt(p, g, part.lap, s)
		c.check(&t)
		return t
	}
	var last transit
	next := func(t transit) {
		if last.state != 0 && last.state != t.state {
			good, bad := last, t
			if good.state < 0 {
				good, bad = t, last
			}
			for math.Abs(good.along[0]-bad.along[0]) > finest {
				if m := at((good.along[0] + bad.along[0]) / 2); m.state > 0 {
					good = m
				} else {
					bad = m
				}
			}
			put(good)
		}
		if t.state > 0 {
			put(t)
		}
		last = t
	}
	// Beyond a place at which so much is lacking none is free for half as far: between two places
	// that are not free the rest is halved until nothing of narrowest can be passed by.
	near := c.nearChunk(p, g)
	lack := func(t *transit) float64 { return c.lackingOf(near, p, t) / 2 }
	var between func(a, b *transit, la, lb float64)
	between = func(a, b *transit, la, lb float64) {
		lo, hi := a.along[0]+la, b.along[0]-lb
		if hi-lo < narrowest {
			return
		}
		m := at((lo + hi) / 2)
		if m.state > 0 {
			next(m)
			return
		}
		lm := lack(&m)
		between(a, &m, la, lm)
		next(m)
		between(&m, b, lm, lb)
	}
	sample := func(s float64) {
		t := at(s)
		if last.state < 0 && t.state < 0 {
			was := last
			if la := lack(&was); la+narrowest < s-was.along[0] {
				between(&was, &t, la, lack(&t))
			}
		}
		next(t)
	}
	for i := part.from; i < part.to; i++ {
		length := lap.end(i) - lap.start[i]
		n := max(1, int(math.Ceil(length/step)))
		for k := range n {
			sample(lap.start[i] + length*float64(k)/float64(n))
		}
	}
	sample(lap.end(part.to-1) - finest)
}

// A nearby is what may come too near to ways over an edge along a chunk: to where they lie on either
// level, and to what they do beside the edge.
type nearby [3][]*wall

func (c *class) nearChunk(p *pair, g *group) (out nearby) {
	box := g.wall.parts[g.chunk].box.Expand(2*c.r + g.wall.clear + 4*play)
	for k, ws := range [3][]*wall{p.lo.walls[len(p.lo.limits):], p.hi.walls[len(p.hi.limits):], p.beside} {
		for _, w := range ws {
			if box.Distance(w.box) < w.clear {
				out[k] = append(out[k], w)
			}
		}
	}
	return out
}

// lackingOf returns by how much a way over an edge comes too near to something near by, at least, up to
// step: 0 if to nothing.
func (c *class) lackingOf(near nearby, p *pair, t *transit) float64 {
	worst := 0.0
	look := func(ws []*wall, q r2.Point) bool {
		for _, w := range ws {
			if w.clear-w.box.Away(q) > worst {
				if worst = max(worst, w.clear-geom.DistancePoint(w.plan, q).Dist); worst >= step {
					return true
				}
			}
		}
		return false
	}
	out := t.at[0]
	if p.lo.sheet == p.hi.sheet {
		if u := out.Sub(t.p[0]); u.Norm() > 0 {
			out = out.Add(u.Mul((c.r + 2*play) / u.Norm()))
		}
	}
	_ = look(near[2], out) || look(near[0], t.p[0]) || look(near[1], t.p[1])
	return worst
}

// transitAt returns the transit of a group at a length along the outline. Those that drop
// are looked at at once; others when they are needed.
func (c *class) transitAt(p *pair, g *group, lap int, s float64) (transit, bool) {
	q, right := g.wall.loops[lap].at(s)
	t := transit{kind: g.kind, lo: p.lo.index, hi: p.hi.index, sheet: g.sheet, opening: g.hole,
		wall: g.wall, lap: lap, along: [2]float64{s, s}, upright: p.hi.z - p.lo.z}
	t.p = [2]r2.Point{q, q}
	t.at = t.p
	if g.kind == Drop {
		if !p.open(q) {
			return t, false
		}
		t.state = 1
		return t, true
	}
	// The outline of what lies round the sheet runs clockwise round the sheet's outside, which is its hole: the sheet on
	// its right.
	rim := q.Add(right.Mul(c.outwards(g.wall, q, right) * (g.wall.clear + play)))
	if !g.off {
		t.at = [2]r2.Point{rim, rim}
		sh := &c.space.Sheets[g.sheet]
		t.upright = sh.Hi - sh.Lo + math.Pi*c.r
		return t, true
	}
	out := q.Add(right.Mul(c.outwards(g.wall, q, right) * (g.wall.clear + c.r + 2*play)))
	t.at = [2]r2.Point{out, out}
	if p.lo.sheet == g.sheet {
		t.p[1] = out
	} else {
		t.p[0] = out
	}
	return t, true
}

// open reports whether a bundle may drop at a point. What stands on the lower level stands between the two as well, and so
// does what stands on the upper one, but for what the lower one rests on.
func (p *pair) open(q r2.Point) bool {
	return p.lo.frame.Contains(q) && p.hi.frame.Contains(q) && clearOf(p.walls, q) && (p.lo.sheet >= 0 || p.hi.free(q))
}

// outwards returns the sign with which the direction to the right of an outline leads to
// its wall.
func (c *class) outwards(w *wall, q, right r2.Point) float64 {
	if geom.IsCloserPoint(w.plan, q.Add(right.Mul(w.clear)), 2*play) {
		return 1
	}
	return -1
}

// check finds out whether a transit is free.
func (c *class) check(t *transit) bool {
	if t.state == 0 {
		t.state = -1
		if c.isFree(t) {
			t.state = 1
		}
	}
	return t.state > 0
}

func (c *class) isFree(t *transit) bool {
	lo, hi := c.levels[t.lo], c.levels[t.hi]
	if t.kind == Hole {
		c.placeInOpening(t)
	}
	if t.kind == Drop {
		return c.pair(t.lo, t.hi).open(t.p[0])
	}
	if !lo.free(t.p[0]) || !hi.free(t.p[1]) {
		return false
	}
	// What runs straight beyond the level's limits keeps away from all else.
	for k, l := range [2]*level{lo, hi} {
		if t.p[k] != t.at[k] && !clearLine(l.walls[len(l.limits):], t.p[k], t.at[k]) {
			return false
		}
	}
	out := t.at[0]
	if t.kind == Edge && lo.sheet == hi.sheet {
		u := out.Sub(t.p[0])
		out = out.Add(u.Mul((c.r + 2*play) / u.Norm()))
	}
	return clearOf(c.pair(t.lo, t.hi).beside, out)
}
