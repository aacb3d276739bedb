package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// tryEdge is how far apart, in mm, places along an edge are looked at for the one that lacks least.
const tryEdge = 2.0

// edges notes, for every two parts that a way over an edge would join, where on that edge the least is lacking and
// between which two things.
func (m *parts) edges(p *pair) {
	p.all(func(g *group) {
		if g.kind != Edge {
			return
		}
		part := g.wall.parts[g.chunk]
		lap := &g.wall.loops[part.lap]
		lo, hi := lap.start[part.from], lap.end(part.to-1)
		n := max(1, int(math.Ceil((hi-lo)/tryEdge)))
		best, least := lo, math.Inf(1)
		lack := func(s float64) float64 {
			t, _ := m.c.transitAt(p, g, part.lap, s)
			return m.c.lacking(p, &t, least)
		}
		for k := range n + 1 {
			if s := lo + (hi-lo)*float64(k)/float64(n); s < hi-finest || k < n {
				if l := lack(s); l < least {
					best, least = s, l
				}
			}
		}
		for d := tryEdge / 2; d > 1e-4; d /= 2 {
			for _, s := range [2]float64{max(lo, best-d), min(hi-finest, best+d)} {
				if l := lack(s); l < least {
					best, least = s, l
				}
			}
		}
		if least <= play || math.IsInf(least, 1) {
			return // it is free: the groups know it; or it cannot be told
		}
		t, _ := m.c.transitAt(p, g, part.lap, best)
		why := m.c.gapAt(p, &t)
		a, b := m.find(t.lo, t.p[0]), m.find(t.hi, t.p[1])
		if why != nil && a >= 0 && b >= 0 && a != b {
			m.narrow = append(m.narrow, narrow{a, b, why})
		}
	})
}

// A crossing is a place of a way over an edge and what it keeps away from there.
type crossing struct {
	at    r2.Point
	walls []*wall
}

// crossings lists places of a way over an edge: where it leaves either level, on the way to the edge, and beside it.
func (c *class) crossings(p *pair, t *transit) (list []crossing) {
	for k, l := range [2]*level{p.lo, p.hi} {
		ws := l.walls[len(l.limits):]
		list = append(list, crossing{t.p[k], ws})
		if t.p[k] != t.at[k] {
			list = append(list, crossing{t.p[k].Add(t.at[k]).Mul(0.5), ws}, crossing{t.at[k], ws})
		}
	}
	out := t.at[0]
	if p.lo.sheet == p.hi.sheet {
		u := out.Sub(t.p[0])
		if n := u.Norm(); n > 0 {
			out = out.Add(u.Mul((c.r + 2*play) / n))
		}
	}
	return append(list, crossing{out, p.beside})
}

// lacking returns by how much a way over an edge comes too near to something, 0 if it does not; the first that is no
// less than bound.
func (c *class) lacking(p *pair, t *transit, bound float64) float64 {
	worst := 0.0
	for _, q := range c.crossings(p, t) {
		for _, w := range q.walls {
			if w.clear-w.box.Away(q.at) <= worst {
				continue
			}
			if worst = max(worst, w.clear-geom.DistancePoint(w.plan, q.at).Dist); worst >= bound {
				return worst
			}
		}
	}
	return worst
}

// gapAt returns the gap in which a way over an edge lies: between what it comes nearest to and what is as near on its
// other side, else the edge itself.
func (c *class) gapAt(p *pair, t *transit) *Blocked {
	places := c.crossings(p, t)
	worst := 0.0
	var wall *wall
	var at r2.Point
	for _, q := range places {
		for _, w := range q.walls {
			if w.clear-w.box.Away(q.at) <= worst {
				continue
			}
			if l := w.clear - geom.DistancePoint(w.plan, q.at).Dist; l > worst {
				worst, wall, at = l, w, q.at
			}
		}
	}
	if wall == nil {
		return nil
	}
	near := geom.DistancePoint(wall.plan, at)
	rim, _ := c.space.Sheets[t.sheet].rim(at)
	k := &Blocked{Z: (p.lo.z + p.hi.z) / 2, Level: p.lo.name, Of: [2]string{c.name(wall), c.space.Sheets[t.sheet].ID}, At: [2]r2.Point{near.A, rim},
		Gap: near.Dist + c.r, Need: wall.clear + c.r}
	for _, q := range places {
		for _, w := range q.walls {
			if w == wall || w.clear-w.box.Away(q.at) < worst-asNear {
				continue
			}
			if d := geom.DistancePoint(w.plan, q.at); w.clear-d.Dist >= worst-asNear && near.Push.Dot(d.Push) < 0 {
				k.Of[1], k.At[1] = c.name(w), d.A
				k.Gap, k.Need = wall.clear+w.clear-2*worst, wall.clear+w.clear
				return k
			}
		}
	}
	return k
}

// asNear is by how much, in mm, less may be lacking on the other side of a way for it to lie between two things.
const asNear = 0.05

// rim returns the place on the outside of a sheet that is nearest to a point.
func (s *Sheet) rim(at r2.Point) (r2.Point, float64) {
	best, d := at, math.Inf(1)
	for i := range s.Plan {
		if q, e := s.Plan[i].Outer.Nearest(at); e < d {
			best, d = q, e
		}
	}
	return best, d
}
