package route

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A thread is a way that has been found, in a form in which its places can still be moved: runs along levels between knots.
type thread struct {
	c        *class
	b        *Bundle
	from, to entry
	knots    []knot
}

// A knot is where a thread changes level, or a stop that it passes.
type knot struct {
	level int // before it
	side  int // of the transit at which it comes in
	move  transit
	stop  bool // a point that is passed, move.p
	spare bool // may not be moved: asked for
}

// in and out return where the thread comes to a knot, and where it goes on.
func (k *knot) in() r2.Point  { return k.move.p[k.side] }
func (k *knot) out() r2.Point { return k.move.p[1-k.side] }

// after returns the level behind the knot.
func (k *knot) after() int {
	if k.stop {
		return k.level
	}
	return [2]int{k.move.hi, k.move.lo}[k.side]
}

// thread finds the way of a bundle.
func (c *class) thread(s *search, b *Bundle) (*thread, *Blocked) {
	s.reset(c, b)
	var stopped *wall
	if s.from, stopped = c.entries(b.From); len(s.from) == 0 {
		return nil, c.enclosed(b, b.From, stopped)
	}
	if s.to, stopped = c.entries(b.To); len(s.to) == 0 {
		return nil, c.enclosed(b, b.To, stopped)
	}
	for _, v := range b.Via {
		st, ok := c.stopAt(v)
		if !ok {
			return nil, &Blocked{At: [2]r2.Point{v.At, v.At}, Z: b.From.Z, Need: b.OD, Enclosed: true, Of: [2]string{v.Opening, v.Opening}}
		}
		s.stops = append(s.stops, st)
	}
	k := s.run()
	if k < 0 {
		return nil, s.blocked()
	}
	t := &thread{c: c, b: b, to: s.to[s.hops[k].entry]}
	for k = s.hops[k].before; s.hops[k].before >= 0; k = s.hops[k].before {
		h := &s.hops[k]
		kn := knot{level: int(s.hops[h.before].level), side: int(h.side)}
		if h.by >= 0 {
			kn.move = c.transits[h.by]
		} else {
			kn.stop = true
			kn.move.p = [2]r2.Point{h.at, h.at}
			kn.move.at = kn.move.p
		}
		t.knots = append(t.knots, kn)
	}
	slices.Reverse(t.knots)
	t.from = s.from[s.hops[k].entry]
	return t, nil
}

// stopAt makes a stop ready. It reports whether there is such an opening.
func (c *class) stopAt(v Stop) (stop, bool) {
	if v.Opening == "" {
		return stop{at: v.At, sheet: -1, hole: -1}, true
	}
	for i := range c.space.Sheets {
		sh := &c.space.Sheets[i]
		name, ok := strings.CutPrefix(v.Opening, sh.ID+".")
		if !ok {
			continue
		}
		for k := range sh.Holes {
			if sh.Holes[k].Name == name && !sh.Holes[k].Loop.IsEmpty() {
				b := sh.Holes[k].Loop.Bound()
				size := b.Size()
				return stop{at: b.Center(), radius: math.Hypot(size.X, size.Y)/2 + c.space.Edge + c.r, sheet: i, hole: k}, true
			}
		}
	}
	return stop{}, false
}

// ends returns the points between which the run before knot i goes.
func (t *thread) ends(i int) (level int, a, b r2.Point) {
	a, level = t.from.at, t.from.level
	if i > 0 {
		a, level = t.knots[i-1].out(), t.knots[i-1].after()
	}
	if i < len(t.knots) {
		return level, a, t.knots[i].in()
	}
	return level, a, t.to.at
}

// write writes the legs down.
func (t *thread) write() (Way, *Blocked) {
	var w Way
	c := t.c
	add := func(l Leg) {
		w.Legs = append(w.Legs, l)
		w.Length += l.Length
	}
	leave := func(p geom.Path, z float64) {
		if p.Length > 0 {
			add(Leg{Kind: Leave, Path: p, Z0: z, Z1: z, Length: p.Length})
		}
	}
	drop := func(at r2.Point, z0, z1 float64) {
		if math.Abs(z1-z0) > touch {
			add(Leg{Kind: Drop, At: at, Z0: z0, Z1: z1, Length: math.Abs(z1 - z0)})
		}
	}
	leave(t.from.leave, t.b.From.Z)
	drop(t.from.at, t.b.From.Z, c.levels[t.from.level].z)
	var tail geom.Path // what the run to come begins with
	var before geom.Path
	tight := false
	for i := range len(t.knots) + 1 {
		level, a, b := t.ends(i)
		l := c.levels[level]
		p, sharp, blocked := t.path(i, l, a, b)
		if blocked != nil {
			return Way{}, blocked
		}
		tight = tight || sharp
		before = joined(before, tail, p)
		tail = geom.Path{}
		if i < len(t.knots) && t.knots[i].stop {
			continue
		}
		var k *knot
		if i < len(t.knots) {
			k = &t.knots[i]
			before = joined(before, line(k.in(), k.move.at[k.side]))
		}
		if len(before.Segs) > 0 {
			add(Leg{Kind: Along, Level: l.name, Path: before, Z0: l.z, Z1: l.z, Length: before.Length, Tight: tight})
		}
		before, tight = geom.Path{}, false
		if k == nil {
			break
		}
		m := &k.move
		leg := Leg{Kind: m.kind, At: m.at[k.side], Z0: l.z, Z1: c.levels[k.after()].z, Length: m.upright}
		if m.sheet >= 0 {
			leg.Sheet = c.space.Sheets[m.sheet].ID
		}
		if m.kind == Hole {
			leg.Opening = c.space.Sheets[m.sheet].Holes[m.opening].Name
		}
		add(leg)
		tail = line(m.at[1-k.side], k.out())
	}
	drop(t.to.at, c.levels[t.to.level].z, t.b.To.Z)
	leave(reversed(t.to.leave), t.b.To.Z)
	return w, nil
}

// path returns the shortest path of a run, and whether it bends more tightly than asked.
func (t *thread) path(_ int, l *level, a, b r2.Point) (p geom.Path, tight bool, blocked *Blocked) {
	if clearLine(l.walls, a, b) {
		return line(a, b), false, nil
	}
	f, err := l.fieldOf()
	if err == nil {
		p, err = f.Path(a, b, geom.PathOptions{})
	}
	if err != nil {
		return p, false, t.c.blame(t.b, l, err)
	}
	if t.b.Bend > 0 && bends(p, t.b.Bend+t.c.r) {
		if q, err := f.Path(a, b, geom.PathOptions{Bend: t.b.Bend + t.c.r}); err == nil {
			return q, false, nil
		}
		tight = true
	}
	return p, tight, nil
}

// bends reports whether the path has a bend of less than the radius.
func bends(p geom.Path, radius float64) bool {
	for i, s := range p.Segs {
		if s.IsArc() && s.Radius() < radius-play && math.Abs(s.Sweep().Radians()) > 1e-4 {
			return true
		}
		if i > 0 {
			u, v := p.Segs[i-1].Tangent(1), s.Tangent(0)
			if math.Abs(u.Cross(v)) > 1e-4 || u.Dot(v) < 0 {
				return true
			}
		}
	}
	return false
}

func reversed(p geom.Path) geom.Path {
	var r geom.Path
	r.Length = p.Length
	for i := len(p.Segs) - 1; i >= 0; i-- {
		r.Segs = append(r.Segs, p.Segs[i].Reverse())
	}
	for i := len(p.Inside) - 1; i >= 0; i-- {
		r.Inside = append(r.Inside, len(p.Segs)-1-p.Inside[i])
	}
	return r
}
