package route

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A corner is where a run bends round something.
type corner struct {
	t       *thread
	run     int
	seg     int // of the first piece of the arc
	centre  r2.Point
	radius  float64
	left    bool    // it turns left
	lo, hi  float64 // angles from the centre, counter-clockwise from lo to hi; hi may be beyond 2π
	want    float64 // radius at which it has a lane of its own
	order   int     // of the corners of its run
	corners *[]corner
}

// lanes gives bundles that bend round the same corners lanes side by side.
//
// Shortest paths share no more than corners and the straight lines between; so it is enough
// to say at each corner who goes inside. That is who hugs the corner for longer: the other
// one comes from farther out and leaves to farther out. Where two come or leave along the same
// line, the next corner says, and if that lies on the other side, the other way round. A bundle that
// goes outside gets a corner as much wider as the bundles within need, and its path is found anew round
// the wider corners.
func lanes(threads []*thread) {
	order := thickFirst(threads)
	byLevel := map[string][]int{} // corners, in the order in which they are found
	var names []string
	var all []*corner
	for _, i := range order {
		t := threads[i]
		for k := range t.runs {
			cs := cornersOf(t, k)
			for j := range cs {
				name := t.runs[k].level.name
				if byLevel[name] == nil {
					names = append(names, name)
				}
				byLevel[name] = append(byLevel[name], len(all))
				all = append(all, &cs[j])
			}
		}
	}
	for _, name := range names {
		list := byLevel[name]
		done := make([]bool, len(list))
		for i := range list {
			if done[i] {
				continue
			}
			c := all[list[i]]
			group := []*corner{c}
			for j := i + 1; j < len(list); j++ {
				if o := all[list[j]]; !done[j] && c.same(o) {
					group = append(group, o)
					done[j] = true
				}
			}
			nest(group)
		}
	}
	for _, i := range order {
		t := threads[i]
		for k := range t.runs {
			t.widen(k, all)
		}
	}
	stacks(threads, order)
}

// cornersOf lists the corners of a run.
func cornersOf(t *thread, k int) []corner {
	var cs []corner
	segs := t.runs[k].path.Segs
	for i := 0; i < len(segs); i++ {
		s := &segs[i]
		if !s.IsArc() {
			continue
		}
		c := corner{t: t, run: k, seg: i, centre: s.Center(), radius: s.Radius(), left: s.Bulge > 0, order: len(cs)}
		from, to := s.A, s.B
		sweep := math.Abs(s.Sweep().Radians())
		for i+1 < len(segs) && segs[i+1].IsArc() && dist(segs[i+1].Center(), c.centre) < 1e-6 {
			i++
			to = segs[i].B
			sweep += math.Abs(segs[i].Sweep().Radians())
		}
		if !c.left {
			from = to
		}
		c.lo = geom.Heading(from.Sub(c.centre)).Radians()
		c.hi = c.lo + sweep
		c.want = c.radius
		cs = append(cs, c)
	}
	for i := range cs {
		cs[i].corners = &cs
	}
	return cs
}

// same reports whether two corners are one.
func (c *corner) same(o *corner) bool { return dist(c.centre, o.centre) < 1e-4 }

// overlaps reports whether two bundles run beside each other at their common corner.
func (c *corner) overlaps(o *corner) bool {
	d := math.Mod(o.lo-c.lo, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	const eps = 1e-3
	return d <= c.hi-c.lo+eps || d+(o.hi-o.lo) >= 2*math.Pi-eps
}

// beyond returns the corner that follows in the run at the end hi (or lo), or nil.
func (c *corner) beyond(hi bool) *corner {
	k := c.order - 1
	if c.left == hi {
		k = c.order + 1
	}
	if k < 0 || k >= len(*c.corners) {
		return nil
	}
	return &(*c.corners)[k]
}

// outer returns +1 if c has to go outside of o at their common corner, as far as its end hi
// (or lo) can tell, -1 if inside and 0 if it cannot.
func (c *corner) outer(o *corner, hi bool) int {
	flip := 1
	for range 64 {
		n, m := c.beyond(hi), o.beyond(hi)
		if n == nil || m == nil || !n.same(m) {
			break
		}
		// The line between leaves this corner at hi and comes to the next one at lo, if both lie on one
		// side of it; else the same end, and inside is outside.
		if c.leftAt(hi) == n.leftFrom(hi, c) {
			c, o = n, m
			continue
		}
		flip = -flip
		hi = !hi
		c, o = n, m
	}
	a, b := c.hi, o.hi
	if !hi {
		a, b = -c.lo, -o.lo
	}
	d := math.Remainder(a-b, 2*math.Pi)
	switch {
	case d > 1e-6:
		return -flip // hugs for longer
	case d < -1e-6:
		return flip
	}
	return 0
}

// leftAt reports whether the corner lies to the left of who leaves it by the end hi (or lo).
func (c *corner) leftAt(hi bool) bool { return hi }

// leftFrom reports whether the corner lies to the left of who comes to it from the corner
// before, which was left by its end hi (or lo).
func (c *corner) leftFrom(hi bool, before *corner) bool {
	// Along its run it lies to the left if it turns left. Who leaves by hi goes with the run if the
	// corner before turns left, and against it else.
	with := before.left == hi
	return c.left == with
}

// nest says how wide the corners of several bundles are at one place.
func nest(group []*corner) {
	if len(group) < 2 {
		return
	}
	// Insert one after the other, thick ones first, each outside of those it has to.
	sorted := group[:1:1]
	for _, c := range group[1:] {
		at := len(sorted)
		for i, o := range sorted {
			if c.t != o.t && c.within(o) {
				at = i
				break
			}
		}
		sorted = slices.Insert(sorted, at, c)
	}
	for i, c := range sorted {
		for _, o := range sorted[:i] {
			if c.t != o.t && c.overlaps(o) {
				c.want = max(c.want, o.want+o.t.c.r+c.t.c.r)
			}
		}
	}
}

// within reports whether c has to go inside of o.
func (c *corner) within(o *corner) bool {
	if k := c.outer(o, true); k != 0 {
		return k < 0
	}
	return c.outer(o, false) < 0
}

// widen lays a run again round corners that have become wider.
func (t *thread) widen(k int, all []*corner) {
	r := &t.runs[k]
	_, a, b := t.ends(k)
	var more []geom.Keep
	lane := 0.0
	for _, c := range all {
		if c.t != t || c.run != k || c.want < c.radius+play {
			continue
		}
		want := min(c.want, dist(a, c.centre)-play, dist(b, c.centre)-play)
		if want < c.radius+play {
			continue
		}
		more = append(more, geom.Keep{Region: geom.RegionOf(geom.Circle(c.centre, want/2)), Clearance: want / 2})
		off := want - c.radius
		if c.left {
			off = -off
		}
		if math.Abs(off) > math.Abs(lane) {
			lane = off
		}
	}
	if len(more) == 0 {
		return
	}
	p, tight, ok := t.roundMore(r.level, a, b, more)
	if !ok || p.Length > r.path.Length+8*math.Abs(lane)+1 {
		return // no room, or only another way round: it stays on the others
	}
	r.path, r.tight, r.lane = p, tight, lane
}

// roundMore returns the shortest path that also keeps away from more.
func (t *thread) roundMore(l *level, a, b r2.Point, more []geom.Keep) (geom.Path, bool, bool) {
	f, err := fieldOf(l.walls, more...)
	if err != nil {
		return geom.Path{}, false, false
	}
	if p, q := f.Pocket(a), f.Pocket(b); p < 0 || q < 0 || p != q {
		return geom.Path{}, false, false
	}
	p, err := f.Path(a, b, geom.PathOptions{})
	if err != nil {
		return geom.Path{}, false, false
	}
	p, tight := t.bent(f, p, a, b)
	return p, tight, true
}
