package route

import (
	"errors"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// enclosed says that no way leads out of an end.
func (c *class) enclosed(b *Bundle, e End, w *wall) *Blocked {
	k := &Blocked{At: [2]r2.Point{e.At, e.At}, Z: e.Z, Need: b.OD, Enclosed: true}
	if w != nil {
		k.Of = [2]string{c.name(w), c.name(w)}
	}
	return k
}

// name returns the ID of what a wall stands for.
func (c *class) name(w *wall) string {
	if w.of.sheet {
		return c.space.Sheets[w.of.index].ID
	}
	return c.space.Solids[w.of.index].ID
}

// blame says what stands in the way on a level.
func (c *class) blame(b *Bundle, l *level, err error) *Blocked {
	var n *geom.NoWay
	if !errors.As(err, &n) {
		return &Blocked{At: [2]r2.Point{b.From.At, b.To.At}, Z: l.z, Need: b.OD, Level: l.name, Enclosed: true}
	}
	k := &Blocked{At: n.At, Z: l.z, Gap: n.Gap, Need: n.Need, Level: l.name, Enclosed: n.Solid}
	for i, o := range n.Of {
		if o--; o >= 0 && o < len(l.walls) {
			k.Of[i] = c.name(l.walls[o])
		}
	}
	return k
}

// A part is one connected part of the free room on a level.
type part struct {
	level  int
	pocket int
	at     r2.Point // a point of it
	lack   float64  // the least that has to be lacking in one gap on the way here
	why    *Blocked // that gap
	open   bool     // reached, what leads on from it has not been looked at
	links  []int    // parts joined by free transits
}

// blocked says which gap would have to open for a way: of all ways that lead through gaps
// that are too narrow the one is taken whose worst gap lacks the least, and that gap is told. The parts of
// the free room on the levels are joined by places to change levels, which lack nothing; by the gaps
// between parts of one level; and by openings that are too narrow.
func (s *search) blocked() *Blocked {
	c := s.c
	m := c.free
	if m == nil {
		m = &parts{c: c, gaps: map[[2]int]*Blocked{}}
		for i := range c.levels {
			for j := range c.levels {
				if c.levels[i].z < c.levels[j].z-touch {
					m.join(c.pair(i, j))
				}
			}
		}
		c.free = m
	}
	for k := range m.list {
		m.list[k].lack, m.list[k].why, m.list[k].open = math.Inf(1), nil, false
	}
	var ends []int
	for i := range s.from {
		if k := m.find(s.from[i].level, s.from[i].at); k >= 0 {
			m.list[k].lack, m.list[k].open = 0, true
		}
	}
	for i := range s.to {
		if k := m.find(s.to[i].level, s.to[i].at); k >= 0 {
			ends = append(ends, k)
		}
	}
	for {
		best := -1
		for k := range m.list {
			if p := &m.list[k]; p.open && (best < 0 || p.lack < m.list[best].lack) {
				best = k
			}
		}
		if best < 0 {
			break
		}
		m.list[best].open = false
		for _, e := range ends {
			if e == best && m.list[best].why != nil {
				why := *m.list[best].why
				return &why
			}
		}
		m.leave(s.b, best)
	}
	k := &Blocked{At: [2]r2.Point{s.b.From.At, s.b.To.At}, Z: s.b.From.Z, Need: s.b.OD, Enclosed: true}
	if len(s.from) > 0 {
		k.Level = c.levels[s.from[0].level].name
	}
	return k
}

// parts collects the parts of all levels.
type parts struct {
	c      *class
	list   []part
	narrow []narrow
	gaps   map[[2]int]*Blocked // between two parts of a level, as far as looked at
}

// narrow is an opening that does not take the bundle.
type narrow struct {
	a, b int
	why  *Blocked
}

// find returns the number of the part in which a point lies, -1 for none.
func (m *parts) find(level int, at r2.Point) int {
	f, err := m.c.levels[level].fieldOf()
	if err != nil {
		return -1
	}
	pocket := f.Pocket(at)
	if pocket < 0 {
		// The bundle first leads straight out of the clearance.
		if q, ok := f.WayOut(at); ok && f.Pocket(q) >= 0 {
			return m.find(level, q)
		}
		return -1
	}
	for k := range m.list {
		if m.list[k].level == level && m.list[k].pocket == pocket {
			return k
		}
	}
	m.list = append(m.list, part{level: level, pocket: pocket, at: at, lack: math.Inf(1)})
	return len(m.list) - 1
}

// join links the parts of two levels by all free places to change between them.
func (m *parts) join(p *pair) {
	p.all(func(g *group) {
		for _, k := range m.c.members(p, g) {
			t := &m.c.transits[k]
			if !m.c.check(t) {
				continue
			}
			a, b := m.find(t.lo, t.p[0]), m.find(t.hi, t.p[1])
			if a >= 0 && b >= 0 {
				m.link(a, b)
			}
		}
	})
	m.edges(p)
	if p.lo.sheet < 0 || p.lo.sheet != p.hi.sheet {
		return
	}
	sh := &m.c.space.Sheets[p.lo.sheet]
	for i := range sh.Holes {
		why := m.c.tooNarrow(p.lo.sheet, i)
		if why == nil {
			continue
		}
		// Beside it, on both faces.
		round := newWall(geom.RegionOf(sh.Holes[i].Loop.CCW()), m.c.space.Edge+m.c.r, thing{true, p.lo.sheet})
		a, b := -1, -1
		for _, l := range round.outline() {
			for _, g := range round.loops[l.lap].segs[l.from:l.to] {
				if a < 0 && p.lo.free(g.A) {
					a = m.find(p.lo.index, g.A)
				}
				if b < 0 && p.hi.free(g.A) {
					b = m.find(p.hi.index, g.A)
				}
			}
		}
		if a >= 0 && b >= 0 {
			m.narrow = append(m.narrow, narrow{a, b, why})
		}
	}
}

func (m *parts) link(a, b int) {
	for _, k := range m.list[a].links {
		if k == b {
			return
		}
	}
	m.list[a].links = append(m.list[a].links, b)
	m.list[b].links = append(m.list[b].links, a)
}

// reach notes a way to a part by which one gap lacks so much.
func (m *parts) reach(k int, lack float64, why *Blocked) {
	if p := &m.list[k]; lack < p.lack {
		p.lack, p.why, p.open = lack, why, true
	}
}

// leave follows what leads on from a part.
func (m *parts) leave(b *Bundle, k int) {
	p := m.list[k]
	for _, q := range p.links {
		m.reach(q, p.lack, p.why)
	}
	further := func(q int, why *Blocked) {
		lack := why.Need - why.Gap
		switch {
		case why.Enclosed:
			lack = 1e6 // no gap at all: only if nothing else leads on
		case why.Gap < touch:
			lack += 1e5 // two things that touch or overlap: rather a gap that there is
		}
		if lack < p.lack {
			lack, why = p.lack, p.why
		}
		m.reach(q, lack, why)
	}
	for _, n := range m.narrow {
		if n.a == k {
			further(n.b, n.why)
		} else if n.b == k {
			further(n.a, n.why)
		}
	}
	l := m.c.levels[p.level]
	f, err := l.fieldOf()
	if err != nil {
		return
	}
	for q := range m.list {
		if o := &m.list[q]; o.level == p.level && q != k && o.lack > p.lack {
			why, known := m.gaps[[2]int{k, q}]
			if !known {
				if _, err := f.Path(p.at, o.at, geom.PathOptions{}); err != nil {
					why = m.c.blame(b, l, err)
				}
				m.gaps[[2]int{k, q}] = why
			}
			if why != nil {
				further(q, why)
			}
		}
	}
}

// tooNarrow says what an opening lacks for the bundle, nil if it takes it.
func (c *class) tooNarrow(sheet, hole int) *Blocked {
	sh := &c.space.Sheets[sheet]
	h := &sh.Holes[hole]
	if h.Loop.IsEmpty() {
		return nil
	}
	need := 2 * (c.space.Edge + c.r)
	region := geom.RegionOf(h.Loop.CCW())
	size := h.Loop.Bound().Size()
	lo, hi := 0.0, min(size.X, size.Y)/2 // half the width lies between
	at := h.Loop.Bound().Center()
	for range 40 {
		d := (lo + hi) / 2
		if hi-lo < 1e-7 {
			break
		}
		if rest, err := geom.Offset([]geom.Region{region}, -d); err == nil && len(rest) > 0 {
			lo, at = d, rest[0].Outer.Vertex(0).P
		} else {
			hi = d
		}
	}
	k := &Blocked{Z: (sh.Lo + sh.Hi) / 2, Gap: 2 * lo, Need: need, Of: [2]string{sh.ID, sh.ID}, Level: sh.ID + "." + h.Name}
	q, _ := h.Loop.Nearest(at)
	k.At = [2]r2.Point{q, at.Mul(2).Sub(q)}
	if h.Taken > 0 {
		k.Gap = 0
		return k
	}
	if 2*lo >= need-play {
		return nil
	}
	return k
}
