package route

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// An upright is where a bundle goes up or down.
type upright struct {
	at     r2.Point
	r      float64
	z0, z1 float64
}

// meets reports whether another bundle that is upright between two heights would overlap.
func (u *upright) meets(at r2.Point, r, z0, z1 float64) bool {
	return z0 < u.z1+u.r+r && u.z0 < z1+u.r+r && dist(u.at, at) < u.r+r-play
}

// thickFirst returns the numbers of the threads that there are, thick bundles first.
func thickFirst(threads []*thread) []int {
	var order []int
	for i, t := range threads {
		if t != nil {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch a, b := threads[i].b.OD, threads[j].b.OD; {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	return order
}

// spread moves the places at which bundles change level apart, so that they are upright
// beside each other: thick ones stay where it is shortest, each one after goes to the side, along the
// outline on which the place lies, that makes it least longer. Where there is no room within
// reach they stay on each other.
func spread(threads []*thread) {
	var all []upright
	for _, i := range thickFirst(threads) {
		t := threads[i]
		t.taken = all
		moved := false
		for k := range t.knots {
			moved = t.aside(k) || moved
		}
		if moved {
			t.refine()
		}
		for k := range t.knots {
			if kn := &t.knots[k]; !kn.stop {
				all = append(all, upright{kn.move.at[0], t.c.r, t.c.levels[kn.move.lo].z, t.c.levels[kn.move.hi].z})
			}
		}
	}
}

// reachAside is how far, in diameters, a place is moved to make room.
const reachAside = 12

// aside moves a knot that lies where other bundles are to the nearest free place on either
// side, whichever makes the way shorter, and reports whether it did.
func (t *thread) aside(i int) bool {
	k := &t.knots[i]
	if k.stop || k.move.wall == nil || !t.crowded(&k.move) {
		return false
	}
	was := k.move
	best, least := was, math.Inf(1)
	for _, sign := range [2]float64{1, -1} {
		for d := 0.25; d <= reachAside; d += 0.25 {
			m := was
			m.along[0] += sign * d * t.b.OD
			m.along[1] += sign * d * t.b.OD
			if !t.c.replace(&m) || t.crowded(&m) {
				continue
			}
			k.move = m
			if x, ok := t.around(i); ok {
				if x < least {
					best, least = m, x
				}
				break
			}
		}
	}
	k.move = best
	return !math.IsInf(least, 1)
}
