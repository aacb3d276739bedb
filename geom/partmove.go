package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// part3 looks for a short move of u that parts it from k, given that they meet. The
// candidates are
//
//   - the least move that takes k off the convex hull of u, up or down past u's height;
//   - for each wall that k meets, the move past its tangent planes, to the free side; if it
//     meets none, as deep inside, for each of the walls nearest to it;
//   - several such moves in a row, each past the nearest wall still met.
//
// A candidate counts only if the bodies, moved, are measured to be apart; it is then
// shortened as long as they stay so, by the distance measured, over and over. So the
// result is an upper bound on the depth, and proven. A least move that is shorter than
// 1.5e-7 mm is a touch.
func (t *tilted) part3() Gap3 {
	f := freeing{t: t, at: t.k.at, best: math.Inf(1)}
	moved := *t.k
	f.moved = &moved

	hull := convex{kind: coreUpright, plans: t.plan}
	hull.rot = Pose3{}.columns()
	box := (&Upright{Plan: t.plan, Z: t.z}).Bound()
	hull.mid = r2.Point{X: box.Center().X, Y: box.Center().Y}
	hull.at = box.Center()
	hull.half.Z = (t.z.Hi - t.z.Lo) / 2
	hull.reach = box.Size().Norm() / 2
	m := differenceOf(t.k, &hull)
	d := m.depth(r3.Vector{})
	f.try(mulCols(t.k.rot, d.push).Mul(-1), d.depth+t.k.radius)
	f.try(r3.Vector{Z: 1}, t.z.Hi-t.lo.Z+t.k.radius)
	f.try(r3.Vector{Z: -1}, t.hi.Z-t.z.Lo+t.k.radius)

	var w [maxMet]wall
	met := f.met(w[:0], r3.Vector{}, apartFrom)
	next := met
	if len(met) == 0 {
		// Past a wall that is further off than the best move none is better.
		next = f.met(w[:0], r3.Vector{}, f.best)
	}
	for i := range next {
		for _, n := range next[i].normals() {
			f.try(n, f.past(&next[i], n, r3.Vector{}))
		}
	}
	shift := r3.Vector{}
	for step := 0; step < 8 && len(met) > 0; step++ {
		// Past the wall that takes the least.
		best, way := math.Inf(1), r3.Vector{}
		for i := range met {
			for _, n := range met[i].normals() {
				if l := f.past(&met[i], n, shift); l > 0 && l < best {
					best, way = l, n
				}
			}
		}
		if math.IsInf(best, 1) {
			break
		}
		shift = shift.Add(way.Mul(best + 1e-7))
		if u, ok := unit(shift); ok && step > 0 {
			f.try(u, shift.Norm())
		}
		met = f.met(w[:0], shift, apartFrom)
	}
	if math.IsInf(f.best, 1) {
		// No move could be measured, as over a plan that crosses itself at 100 m: past the whole
		// height of u it is free whatever the plan.
		f.way, f.best = r3.Vector{Z: 1}, max(0, t.z.Hi-t.lo.Z+t.k.radius)
		if down := max(0, t.hi.Z-t.z.Lo+t.k.radius); down < f.best {
			f.way, f.best = r3.Vector{Z: -1}, down
		}
		f.p = Convex{c: t.k}.Support(f.way.Mul(-1)).Add(f.way.Mul(f.best))
	}
	g := Gap3{Dist: -f.best, Push: f.way.Mul(-1), A: f.p.Sub(f.way.Mul(f.best))}
	if f.best <= 1.5e-7 {
		g.Dist, g.Exact = 0, true
	}
	return g.settled()
}

const maxMet = 24

// freeing looks for moves of k (u stays) that set it free.
type freeing struct {
	t     *tilted
	moved *convex
	at    r3.Vector // of k before
	best  float64
	way   r3.Vector
	p     r3.Vector // a point of k's surface, moved, that touches u then
}

// measure returns the distance of k, moved, from u, and k's nearest point.
func (f *freeing) measure(shift r3.Vector) (float64, r3.Vector) {
	t := f.shifted(shift)
	t.distance()
	d := t.best - t.k.radius
	p := t.p
	if u, ok := unit(t.q.Sub(t.p)); ok {
		p = p.Add(u.Mul(t.k.radius))
	}
	return d, p
}

func (f *freeing) shifted(shift r3.Vector) tilted {
	*f.moved = *f.t.k
	f.moved.at = f.at.Add(shift)
	f.moved.box.Lo, f.moved.box.Hi = f.moved.box.Lo.Add(shift), f.moved.box.Hi.Add(shift)
	return tilted{k: f.moved, plan: f.t.plan, z: f.t.z}
}

// try tests the move of k by length along the unit vector way, and shortens it.
func (f *freeing) try(way r3.Vector, length float64) {
	const slack = 1e-7
	length = max(0, length) + slack
	if !(length < 2*f.best+slack) || math.IsNaN(length) {
		return
	}
	d, p := f.measure(way.Mul(length))
	if !(d > apartFrom) {
		return
	}
	for i := 0; i < 60 && d > slack; i++ {
		next := max(0, length-(d-1.5*apartFrom))
		e, q := f.measure(way.Mul(next))
		if !(e > apartFrom) {
			break
		}
		length, d, p = next, e, q
	}
	if length < f.best {
		f.best, f.way, f.p = length, way, p
	}
}

// met appends the walls within reach of k, moved; of more than dst can hold, the nearest.
func (f *freeing) met(dst []wall, shift r3.Vector, reach float64) []wall {
	t := f.shifted(shift)
	t.lo = t.k.box.Lo.Add(r3.Vector{X: t.k.radius, Y: t.k.radius, Z: t.k.radius})
	t.hi = t.k.box.Hi.Sub(r3.Vector{X: t.k.radius, Y: t.k.radius, Z: t.k.radius})
	t.best = t.k.radius + reach
	var ds [maxMet]float64
	for i := range t.plan {
		for l := range t.plan[i].Loops() {
			if l.d == nil {
				continue
			}
			t.walls(&t.plan[i], l.d, func(w wall) {
				d := t.gap(w).d
				if d > t.best {
					return
				}
				if n := len(dst); n < cap(dst) {
					dst, ds[n] = append(dst, w), d
					return
				}
				far := 0
				for k := range ds {
					if ds[k] > ds[far] {
						far = k
					}
				}
				if d < ds[far] {
					dst[far], ds[far] = w, d
				}
			})
		}
	}
	return dst
}

// past returns how far k, moved by shift, must go along n to be past the tangent plane
// of the wall that n is normal to.
func (f *freeing) past(w *wall, n, shift r3.Vector) float64 {
	x, y := w.ax, w.ay
	if w.r > 0 {
		s := 1.0
		if (n.X*(w.ax+w.bx-2*w.cx) + n.Y*(w.ay+w.by-2*w.cy)) < 0 {
			s = -1
		}
		x, y = w.cx+s*w.r*n.X, w.cy+s*w.r*n.Y
	}
	low := Convex{f.t.k}.Support(n.Mul(-1)).Add(shift)
	return n.X*(x-low.X) + n.Y*(y-low.Y) - n.Z*low.Z
}

// normals returns the normals of a wall to its free side: at both ends and in the middle
// of an arc. Outer loops run counter-clockwise and holes clockwise, so the free side is
// on the right.
func (w *wall) normals() []r3.Vector {
	unit2 := func(x, y float64) r3.Vector {
		n := math.Hypot(x, y)
		if !(n > 0) {
			return r3.Vector{X: 1}
		}
		return r3.Vector{X: x / n, Y: y / n}
	}
	if w.r == 0 {
		return []r3.Vector{unit2(w.by-w.ay, w.ax-w.bx)}
	}
	s := 1.0
	if !w.ccw {
		s = -1
	}
	return []r3.Vector{
		unit2(s*(w.ax-w.cx), s*(w.ay-w.cy)),
		unit2(s*(w.ax+w.bx-2*w.cx), s*(w.ay+w.by-2*w.cy)),
		unit2(s*(w.bx-w.cx), s*(w.by-w.cy)),
	}
}
