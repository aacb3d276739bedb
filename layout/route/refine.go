package route

// enough is what a round of moving places must gain, in mm, for another one.
const enough = 1e-3

// finest is the least distance in mm by which a place is moved.
const finest = 2e-3

// refine moves the places at which the thread changes level along the outlines that they lie
// on, one at a time, until that makes it no shorter.
func (t *thread) refine() {
	n := len(t.knots)
	stale := make([]bool, n+2) // with one more before the first and behind the last
	for i := range stale {
		stale[i] = true
	}
	first := step / 2
	for range 20 {
		gain := 0.0
		for i := range n {
			if !stale[i+1] {
				continue
			}
			stale[i+1] = false
			if g := t.slide(i, first); g > 0 {
				gain += g
				if g > enough/10 {
					stale[i], stale[i+2] = true, true
				}
			}
		}
		if gain >= enough {
			first = step / 8
			continue
		}
		for i := range n - 1 {
			if g := t.slideBoth(i, i+1, first) + t.slideBoth(i+1, i, first); g > enough/10 {
				gain += g
				for k := i; k < i+4; k++ {
					stale[k] = true
				}
			}
		}
		if gain < enough {
			return
		}
		first = step / 8
	}
}

// around returns the length of the runs before and behind a knot and of the knot itself.
func (t *thread) around(i int) (float64, bool) {
	k := &t.knots[i]
	before, a, _ := t.ends(i)
	after, _, b := t.ends(i + 1)
	x, ok := t.c.levels[before].reach(a, k.in())
	if !ok {
		return 0, false
	}
	y, ok := t.c.levels[after].reach(k.out(), b)
	if !ok {
		return 0, false
	}
	return x + k.move.length() + y, true
}

// slide moves one knot, at first by so much, and returns what that gains.
func (t *thread) slide(i int, first float64) float64 {
	k := &t.knots[i]
	if k.stop || k.move.wall == nil {
		return 0
	}
	was, ok := t.around(i)
	if !ok {
		return 0
	}
	_, a, _ := t.ends(i)
	_, _, b := t.ends(i + 1)
	if k.move.kind == Drop && was-k.move.upright <= dist(a, b)+enough/10 {
		return 0 // straight through
	}
	best := was
	sides := 1
	if k.move.kind == Hole {
		sides = 2
	}
	for side := range sides {
		for h := first; h > finest; {
			moved := false
			for _, d := range [2]float64{h, -h} {
				m := k.move
				m.set(side, m.along[side]+d)
				if !t.c.replace(&m) || t.crowded(&m) {
					continue
				}
				old := k.move
				k.move = m
				if x, ok := t.around(i); ok && x < best-1e-7 {
					best, moved = x, true
					break
				}
				k.move = old
			}
			if !moved {
				h /= 2
			}
		}
	}
	return was - best
}

// slideBoth moves a knot with the one beside it, which follows to the nearest place of its
// outline, and returns what that gains: two that lie on each other hold each other where each alone would
// have to go a longer way first.
func (t *thread) slideBoth(lead, follow int, first float64) float64 {
	i := min(lead, follow)
	k, o := &t.knots[lead], &t.knots[follow]
	if k.stop || o.stop || k.move.wall == nil || o.move.wall == nil || dist(t.knots[i].out(), t.knots[i+1].in()) > step/2 {
		return 0
	}
	length := func() (float64, bool) {
		x, ok := t.around(i)
		if !ok {
			return 0, false
		}
		level, _, b := t.ends(i + 2)
		y, ok := t.c.levels[level].reach(t.knots[i+1].out(), b)
		return x + t.knots[i+1].move.length() + y, ok
	}
	was, ok := length()
	if !ok {
		return 0
	}
	_, a, _ := t.ends(i)
	_, _, b := t.ends(i + 2)
	if k.move.kind == Drop && o.move.kind == Drop && was-k.move.upright-o.move.upright <= dist(a, b)+enough/10 {
		return 0 // straight through
	}
	best := was
	ks, os := 1-k.side, o.side // the sides that face each other
	if lead > follow {
		ks, os = k.side, 1-o.side
	}
	for h := min(first, step/4); h > 10*finest; {
		moved := false
		for _, d := range [2]float64{h, -h} {
			m, n := k.move, o.move
			m.set(ks, m.along[ks]+d)
			if !t.c.replace(&m) || t.crowded(&m) {
				continue
			}
			n.set(os, n.wall.loops[n.lap].nearest(m.p[ks]))
			if !t.c.replace(&n) || t.crowded(&n) {
				continue
			}
			oldM, oldN := k.move, o.move
			k.move, o.move = m, n
			if x, ok := length(); ok && x < best-1e-7 {
				best, moved = x, true
				break
			}
			k.move, o.move = oldM, oldN
		}
		if !moved {
			h /= 2
		}
	}
	return was - best
}

// set moves one side of a transit along its outline; but for openings both go together.
func (t *transit) set(side int, s float64) {
	t.along[side] = s
	if t.kind != Hole {
		t.along[1-side] = s
	}
}

// replace sets the places of a transit from where it lies along its outline, and reports
// whether it is free there.
func (c *class) replace(t *transit) bool {
	p := c.pair(t.lo, t.hi)
	t.state, t.pocket = 0, [2]int32{}
	if t.kind != Hole {
		g := group{kind: t.kind, wall: t.wall, sheet: t.sheet, hole: t.opening}
		g.off = t.kind == Edge && p.lo.sheet != p.hi.sheet
		m, ok := c.transitAt(p, &g, t.lap, t.along[0])
		if !ok {
			return false
		}
		*t = m
	}
	return c.check(t)
}

// crowded reports whether a transit is upright where another bundle is.
func (t *thread) crowded(m *transit) bool {
	z0, z1 := t.c.levels[m.lo].z, t.c.levels[m.hi].z
	for i := range t.taken {
		if u := &t.taken[i]; u.meets(m.at[0], t.c.r, z0, z1) {
			return true
		}
	}
	return false
}
