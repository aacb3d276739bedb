package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// step is the greatest distance in mm between places that are tried along a rim.
const step = 5.0

// A transit leads from one level to another at one place. On each level it begins at the
// end of a path in that level's field; tails lead straight on to where it goes up or down.
type transit struct {
	kind     Kind
	lo, hi   int         // levels
	p        [2]r2.Point // where the paths on lo and hi end
	at       [2]r2.Point // where the tails end: equal but for rounding
	upright  float64     // length
	sheet    int         // Edge, Hole
	opening  int         // Hole
	checked  bool
	possible bool
}

// tail returns the length of the straight piece on one side.
func (t *transit) tail(side int) float64 { return dist(t.p[side], t.at[side]) }

func (t *transit) length() float64 { return t.tail(0) + t.upright + t.tail(1) }

func dist(a, b r2.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// along calls yield with points along the loop, its corners and others at most gap apart,
// and the direction to the right of travel there.
func along(l geom.Loop, gap float64, yield func(p, right r2.Point)) {
	for _, s := range l.Segs() {
		n := max(1, int(math.Ceil(s.Length()/gap)))
		for i := range n {
			t := float64(i) / float64(n)
			u := s.Tangent(t)
			yield(s.At(t), r2.Point{X: u.Y, Y: -u.X})
		}
	}
}

// makeTransits lists the places at which levels may be changed.
func (c *class) makeTransits() {
	for i := range c.space.Sheets {
		c.overEdges(i)
		c.throughHoles(i)
	}
	c.drops()
	c.touching = make([][]int, len(c.levels))
	for i := range c.transits {
		t := &c.transits[i]
		c.touching[t.lo] = append(c.touching[t.lo], i)
		c.touching[t.hi] = append(c.touching[t.hi], i)
	}
}

// overEdges lists the ways over the outer edge of a sheet: round it to the other face, or
// off it, straight down or up to another level.
func (c *class) overEdges(i int) {
	sh := &c.space.Sheets[i]
	bottom, top := 2*i, 2*i+1
	in := c.space.Edge + c.r
	shrunk, err := geom.Offset(sh.Plan, -in-play)
	if err != nil {
		return
	}
	for _, r := range shrunk {
		along(r.Outer, step, func(p, n r2.Point) {
			rim := p.Add(n.Mul(in + play))
			out := rim.Add(n.Mul(c.r + play))
			if !c.levels[top].inside(p) {
				return
			}
			c.transits = append(c.transits, transit{
				kind: Edge, lo: bottom, hi: top, sheet: i, opening: -1,
				p: [2]r2.Point{p, p}, at: [2]r2.Point{rim, rim}, upright: sh.Hi - sh.Lo + math.Pi*c.r,
			})
			for k, l := range c.levels {
				if k == bottom || k == top || !l.free(out) {
					continue
				}
				switch {
				case l.z < c.levels[top].z-touch:
					c.transits = append(c.transits, transit{
						kind: Edge, lo: k, hi: top, sheet: i, opening: -1,
						p: [2]r2.Point{out, p}, at: [2]r2.Point{out, out}, upright: c.levels[top].z - l.z,
					})
				}
				if l.z > c.levels[bottom].z+touch {
					c.transits = append(c.transits, transit{
						kind: Edge, lo: bottom, hi: k, sheet: i, opening: -1,
						p: [2]r2.Point{p, out}, at: [2]r2.Point{out, out}, upright: l.z - c.levels[bottom].z,
					})
				}
			}
		})
	}
}

// throughHoles lists the ways through the openings of a sheet.
func (c *class) throughHoles(i int) {
	sh := &c.space.Sheets[i]
	in := c.space.Edge + c.r
	for k := range sh.Holes {
		h := &sh.Holes[k]
		if h.Taken > 0 {
			continue
		}
		hole := []geom.Region{geom.RegionOf(h.Loop.CCW())}
		room, err := geom.Offset(hole, -in+play)
		if err != nil || len(room) == 0 {
			continue
		}
		round, err := geom.Offset(hole, in+play)
		if err != nil {
			continue
		}
		for _, r := range round {
			along(r.Outer, 2, func(p, _ r2.Point) {
				best, q := math.Inf(1), p
				for _, m := range room {
					if g := geom.DistancePoint(m, p); g.Dist < best {
						best, q = g.Dist, g.A
					}
				}
				c.transits = append(c.transits, transit{
					kind: Hole, lo: 2 * i, hi: 2*i + 1, sheet: i, opening: k,
					p: [2]r2.Point{p, p}, at: [2]r2.Point{q, q}, upright: sh.Hi - sh.Lo + 2*c.r,
				})
			})
		}
	}
}

// drops lists the upright ways between levels with nothing between.
func (c *class) drops() {
	for a := range c.levels {
		for b := range c.levels {
			lo, hi := c.levels[a], c.levels[b]
			if !(lo.z < hi.z-touch) {
				continue
			}
			walls := c.column(lo, hi)
			put := func(p, _ r2.Point) {
				if lo.free(p) && hi.free(p) && clearOf(walls, p) {
					c.transits = append(c.transits, transit{
						kind: Drop, lo: a, hi: b, sheet: -1, opening: -1,
						p: [2]r2.Point{p, p}, at: [2]r2.Point{p, p}, upright: hi.z - lo.z, checked: true, possible: true,
					})
				}
			}
			for _, w := range walls {
				if g, err := geom.Offset([]geom.Region{w.plan}, w.clear+play); err == nil {
					for _, r := range g {
						for l := range r.Loops() {
							along(l, step, put)
						}
					}
				}
			}
			for _, l := range [2]*level{lo, hi} {
				if g, err := geom.Offset(l.domain, -l.within-play); err == nil {
					for _, r := range g {
						for l := range r.Loops() {
							along(l, step, put)
						}
					}
				}
			}
		}
	}
}

// column returns what stands in the way of an upright move between two levels.
func (c *class) column(lo, hi *level) []wall {
	return c.wallsBetween(lo.z-c.r, hi.z+c.r, lo, nil)
}

// check finds out whether a way over an edge or through an opening is free.
func (c *class) check(t *transit) bool {
	if t.checked {
		return t.possible
	}
	t.checked = true
	lo, hi := c.levels[t.lo], c.levels[t.hi]
	if !lo.free(t.p[0]) || !hi.free(t.p[1]) {
		return false
	}
	for k, l := range [2]*level{lo, hi} {
		if !clearLine(l.walls, t.p[k], t.at[k]) {
			return false
		}
	}
	if t.kind == Edge {
		n := t.at[0].Sub(t.p[0])
		if t.at[0] == t.p[0] {
			n = t.at[1].Sub(t.p[1])
		}
		out := t.at[0]
		if t.lo == 2*t.sheet && t.hi == 2*t.sheet+1 {
			out = out.Add(n.Mul((c.r + play) / n.Norm()))
		}
		t.possible = clearOf(c.wallsBetween(lo.z-c.r, hi.z+c.r, lo, nil), out) // of the sheet itself: out lies beside it
		return t.possible
	}
	t.possible = clearOf(c.wallsBetween(lo.z-c.r, hi.z+c.r, lo, nil), t.at[0])
	return t.possible
}

// clearLine reports whether the line keeps its distance from all walls.
func clearLine(ws []wall, a, b r2.Point) bool {
	if dist(a, b) < play {
		return clearOf(ws, a)
	}
	bar := geom.RegionOf(geom.Capsule(a, b, play))
	for i := range ws {
		w := &ws[i]
		if w.box.Distance(bar.Bound()) < w.clear && geom.IsCloser(bar, w.plan, w.clear-2*play) {
			return false
		}
	}
	return true
}
