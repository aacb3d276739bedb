package route

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A thread is a way that has been found, in a form in which its places can still be moved: runs along levels between knots.
type thread struct {
	c        *class
	b        *Bundle
	from, to entry
	knots    []knot

	runs []run // before each knot and behind the last, once laid
	// taken are places where other bundles are upright: knots are not moved onto them.
	taken []upright
}

// A run is what lies on a level between two knots.
type run struct {
	level   *level
	path    geom.Path
	tight   bool
	lane    float64
	stacked float64
}

// A knot is where a thread changes level, or a stop that it passes.
type knot struct {
	level int // before it
	side  int // of the transit at which it comes in
	move  transit
	stop  bool // a point that is passed, move.p
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
	if s.from, stopped = c.entries(b.From, b.To.At, b.limit()); len(s.from) == 0 {
		return nil, c.enclosed(b, b.From, stopped)
	}
	if s.to, stopped = c.entries(b.To, b.From.At, b.limit()); len(s.to) == 0 {
		return nil, c.enclosed(b, b.To, stopped)
	}
	for _, v := range b.Via {
		st, ok := c.stopAt(v)
		if !ok {
			return nil, &Blocked{At: [2]r2.Point{v.At, v.At}, Z: b.From.Z, Need: b.OD, Enclosed: true, Of: [2]string{v.Opening, v.Opening}}
		}
		if st.hole >= 0 {
			if why := c.tooNarrow(st.sheet, st.hole); why != nil {
				return nil, why
			}
		}
		s.stops = append(s.stops, st)
	}
	k := s.run()
	if k < 0 && b.Limit > 0 {
		return nil, &Blocked{At: [2]r2.Point{b.From.At, b.To.At}, Z: b.From.Z, Need: b.OD, Enclosed: true}
	}
	if k < 0 {
		return nil, s.blocked()
	}
	t := &thread{c: c, b: b, to: s.to[s.hops[k].entry]}
	for k = s.hops[k].before; s.hops[k].before >= 0; k = s.hops[k].before {
		h := &s.hops[k]
		kn := knot{level: int(s.hops[h.before].level), side: int(h.side)}
		if h.by != none {
			kn.move = *s.transit(h.by)
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

// lay finds the paths of the runs.
func (t *thread) lay() *Blocked {
	t.runs = make([]run, len(t.knots)+1)
	for i := range t.runs {
		level, a, b := t.ends(i)
		l := t.c.levels[level]
		p, tight, blocked := t.path(l, a, b)
		if blocked != nil {
			return blocked
		}
		t.runs[i] = run{level: l, path: p, tight: tight}
	}
	return nil
}

// write writes the legs down.
func (t *thread) write() Way {
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
	drop(t.from.up, t.b.From.Z, c.levels[t.from.level].z)
	var leg Leg // the one along a level that is being put together
	leg.Path = inside(line(t.from.up, t.from.at))
	for i := range t.runs {
		r := &t.runs[i]
		leg.Path = joined(leg.Path, r.path)
		leg.Tight = leg.Tight || r.tight
		leg.Stacked += r.stacked
		if math.Abs(r.lane) > math.Abs(leg.Lane) {
			leg.Lane = r.lane
		}
		var k *knot
		if i < len(t.knots) {
			if k = &t.knots[i]; k.stop {
				continue
			}
			leg.Path = joined(leg.Path, line(k.in(), k.move.at[k.side]))
		} else {
			leg.Path = joined(leg.Path, inside(line(t.to.at, t.to.up)))
		}
		if len(leg.Path.Segs) > 0 {
			leg.Kind, leg.Level, leg.Z0, leg.Z1, leg.Length = Along, r.level.name, r.level.z, r.level.z, leg.Path.Length
			add(leg)
		}
		leg = Leg{}
		if k == nil {
			break
		}
		m := &k.move
		up := Leg{Kind: m.kind, At: m.at[k.side], Z0: r.level.z, Z1: c.levels[k.after()].z, Length: m.upright}
		if m.sheet >= 0 {
			up.Sheet = c.space.Sheets[m.sheet].ID
		}
		if m.kind == Hole {
			up.Opening = c.space.Sheets[m.sheet].Holes[m.opening].Name
		}
		add(up)
		leg.Path = line(m.at[1-k.side], k.out())
	}
	drop(t.to.up, c.levels[t.to.level].z, t.b.To.Z)
	leave(reversed(t.to.leave), t.b.To.Z)
	return w
}

// inside marks a straight path as one inside a clearance.
func inside(p geom.Path) geom.Path {
	if len(p.Segs) > 0 {
		p.Inside = []int{0}
	}
	return p
}

// path returns the shortest path on a level, and whether it bends more tightly than asked.
func (t *thread) path(l *level, a, b r2.Point) (p geom.Path, tight bool, blocked *Blocked) {
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
	p, tight = t.bent(f, p, a, b)
	return p, tight, nil
}

// bent returns the path with bends as wide as asked, or as it is, if there is none or it needs
// none, and whether it then bends more tightly.
func (t *thread) bent(f *geom.Field, p geom.Path, a, b r2.Point) (geom.Path, bool) {
	if t.b.Bend == 0 || !bends(p, t.b.Bend+t.c.r) {
		return p, false
	}
	q, err := f.Path(a, b, geom.PathOptions{Bend: t.b.Bend + t.c.r})
	if err != nil {
		return p, true
	}
	return q, false
}

// bends reports whether the path has a bend of less than the radius.
func bends(p geom.Path, radius float64) bool {
	for i, s := range p.Segs {
		if s.IsArc() && s.Radius() < radius-play && math.Abs(s.Sweep().Radians()) > 1e-4 {
			return true
		}
		if i > 0 {
			u, v := p.Segs[i-1].Tangent(1), s.Tangent(0)
			if math.Abs(geom.Turn(u, v).Radians()) > 1e-4 {
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
