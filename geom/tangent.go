package geom

import (
	"math"
	"slices"
	"sync/atomic"

	"github.com/golang/geo/r2"
)

// turn is the hand of a bend: +1 runs counter-clockwise round the post, which then lies
// on the left, -1 clockwise.
type turn int8

// A tangent leaves one post for another, free of obstacles.
type tangent struct {
	out    float64 // angle on the post that it leaves
	in     float64 // angle on the post that it comes to
	length float64
	x, y   float64 // where it arrives
	to     int32
	turn   turn // round the post that it comes to
}

// A fan is all tangents that leave a post, by the hand of the bend that they end, in the
// order in which the bend passes them. It is worked out when first asked for.
type fan struct{ made atomic.Pointer[[2][]tangent] }

func side(t turn) int {
	if t > 0 {
		return 0
	}
	return 1
}

// onCircle is the distance in mm up to which circles touch: rounding alone must not make
// a line of its square root. A path that bends that much too early or late is longer by
// its cube.
const onCircle = 1e-11

// grazing returns the direction and length of the line from a circle to another that
// passes each on the side given by the sign of its radius: positive if the circle is left
// of the line. (dx, dy) leads from centre to centre, d is its length, not 0, and k the first
// signed radius less the second. The point of contact is the centre plus the signed radius times (uy, -ux).
//
// The line is at the distance a from the first centre and b from the second, so d×u = k.
// If one circle lies inside the other there is none; within tol mm of touching it counts
// as touching. Circles that touch have it in their common point, of length 0.
func grazing(dx, dy, d, k, tol float64) (ux, uy, length float64, ok bool) {
	if k == 0 {
		return dx / d, dy / d, d, true
	}
	out := d - math.Abs(k)
	if out <= onCircle {
		if out < -tol {
			return 0, 0, 0, false
		}
		s := math.Copysign(1/d, k)
		return -dy * s, dx * s, 0, true
	}
	length = math.Sqrt(out * (d + math.Abs(k)))
	w := 1 / (d * d)
	return (dx*length - dy*k) * w, (dy*length + dx*k) * w, length, true
}

// A bitangent is a common tangent line of two posts, run from the first to the second.
type bitangent struct {
	s, t           turn
	ux, uy, length float64
	p, q           r2.Point
}

// bitangents sets the common tangents from p to q that leave and meet them within their
// arcs, at most four, and returns their number.
func bitangents(p, q *post, out *[4]bitangent) int {
	dx, dy := q.c.X-p.c.X, q.c.Y-p.c.Y
	n := 0
	if p.r == 0 && q.r == 0 {
		// One line; each corner may lie on either side of it.
		l := math.Abs(dx) + math.Abs(dy)
		pl, pr := p.holds(dy, -dx, l), p.holds(-dy, dx, l)
		if !pl && !pr {
			return 0
		}
		ql, qr := q.holds(dy, -dx, l), q.holds(-dy, dx, l)
		if !ql && !qr {
			return 0
		}
		d := math.Sqrt(dx*dx + dy*dy)
		if d <= Coincident {
			return 0
		}
		b := bitangent{ux: dx / d, uy: dy / d, length: d, p: p.c, q: q.c}
		for _, c := range [4]struct {
			ok   bool
			s, t turn
		}{{pl && ql, 1, 1}, {pl && qr, 1, -1}, {pr && ql, -1, 1}, {pr && qr, -1, -1}} {
			if c.ok {
				b.s, b.t = c.s, c.t
				out[n] = b
				n++
			}
		}
		return n
	}
	d2 := dx*dx + dy*dy
	d := math.Sqrt(d2)
	if d <= Coincident {
		return 0
	}
	for _, c := range [4]struct{ s, t turn }{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		s, t := float64(c.s), float64(c.t)
		ux, uy, length, ok := grazing(dx, dy, d, s*p.r-t*q.r, Coincident)
		if !ok || !p.holds(s*uy, -s*ux, 1) || !q.holds(t*uy, -t*ux, 1) {
			continue
		}
		out[n] = bitangent{
			s: c.s, t: c.t, ux: ux, uy: uy, length: length,
			p: r2.Point{X: p.c.X + s*p.r*uy, Y: p.c.Y - s*p.r*ux},
			q: r2.Point{X: q.c.X + t*q.r*uy, Y: q.c.Y - t*q.r*ux},
		}
		n++
	}
	return n
}

// leaving returns the bitangent as a tangent of the first post.
func (b *bitangent) leaving(p, q *post, to int) tangent {
	s, t := float64(b.s), float64(b.t)
	return tangent{
		out: p.angle(s*b.uy, -s*b.ux), in: q.angle(t*b.uy, -t*b.ux),
		length: b.length, x: b.q.X, y: b.q.Y, to: int32(to), turn: b.t,
	}
}

// back returns the bitangent run the other way.
func (b *bitangent) back() bitangent {
	return bitangent{s: -b.t, t: -b.s, ux: -b.ux, uy: -b.uy, length: b.length, p: b.q, q: b.p}
}

// fan returns the tangents that leave post i.
func (f *Field) fan(i int32) *[2][]tangent {
	if m := f.fans[i].made.Load(); m != nil {
		return m
	}
	m := new([2][]tangent)
	var four [4]bitangent
	last := int32(-1)
	p := &f.posts[i]
	for j := range f.posts {
		if j == int(i) {
			continue
		}
		q := &f.posts[j]
		n := bitangents(p, q, &four)
		free := false
		for k := range n {
			b := &four[k]
			if k == 0 || four[k-1].p != b.p || four[k-1].q != b.q {
				free = !f.sight.blockedAgain(b.p, b.q, &last)
			}
			if free {
				m[side(b.s)] = append(m[side(b.s)], b.leaving(p, q, j))
			}
		}
	}
	f.along(int(i), m)
	sortFan(m)
	f.fans[i].made.Store(m)
	return m
}

// along adds the tangents of a post that run along the boundary.
func (f *Field) along(i int, m *[2][]tangent) {
	p := &f.posts[i]
	if p.next >= 0 {
		q := &f.posts[p.next]
		a, b := p.at(p.sweep), q.at(0)
		m[0] = append(m[0], tangent{out: p.sweep, in: 0, length: dist(a, b), x: b.X, y: b.Y, to: p.next, turn: 1})
	}
	if p.prev >= 0 {
		q := &f.posts[p.prev]
		a, b := p.at(0), q.at(q.sweep)
		m[1] = append(m[1], tangent{out: 0, in: q.sweep, length: dist(a, b), x: b.X, y: b.Y, to: p.prev, turn: -1})
	}
}

func sortFan(m *[2][]tangent) {
	slices.SortStableFunc(m[0], func(a, b tangent) int { return compare(a.out, b.out) })
	slices.SortStableFunc(m[1], func(a, b tangent) int { return compare(b.out, a.out) })
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Prepare works out now what queries would work out when they need it: the tangents of
// all posts, which takes time with the square of the number of convex corners. Each pair
// of posts is then looked at once in place of twice.
func (f *Field) Prepare() {
	all := make([][2][]tangent, len(f.posts))
	var four [4]bitangent
	last := int32(-1)
	for i := range f.posts {
		p := &f.posts[i]
		for j := i + 1; j < len(f.posts); j++ {
			q := &f.posts[j]
			n := bitangents(p, q, &four)
			free := false
			for k := range n {
				b := &four[k]
				if k == 0 || four[k-1].p != b.p || four[k-1].q != b.q {
					free = !f.sight.blockedAgain(b.p, b.q, &last)
				}
				if free {
					all[i][side(b.s)] = append(all[i][side(b.s)], b.leaving(p, q, j))
					r := b.back()
					all[j][side(r.s)] = append(all[j][side(r.s)], r.leaving(q, p, i))
				}
			}
		}
	}
	for i := range all {
		f.along(i, &all[i])
		sortFan(&all[i])
		f.fans[i].made.Store(&all[i])
	}
}
