package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// A post is a part of the grown obstacles' boundary that a taut path can bend round: a
// convex arc, or a convex corner as an arc of radius 0. A point of the arc is told by the
// unit normal there, which points away from the obstacle; normals run counter-clockwise
// from s through the sweep to e. Hollow arcs and hollow corners are never bent round.
type post struct {
	c     r2.Point
	r     float64
	s, e  r2.Point
	sweep float64  // 0..2π
	play  float64  // rad by which a normal may fall outside of s..e, see tolerance
	from  r2.Point // its ends
	to    r2.Point
	wide  bool // more than half a turn
	full  bool // a whole circle
	// The posts to which the boundary leads straight on from its end and from its start, -1
	// for none. Their common tangent there is known without working it out: where large
	// arcs go on smoothly that would be far from exact.
	next, prev int32
}

// The play in the unit normals that may fall outside a post, in radians: at an arc as much
// as moves a point by the slack, but no more than coneTol, or else what rounding does, 2^-52
// of the coordinates over the radius. At a corner any play is harmless, since it is the same
// point: cornerTol also makes up for small arcs next to it. Lines that leave outside the
// post are tried for obstacles as all are.
const (
	coneTol   = 1e-7
	cornerTol = 1e-4
)

func (p *post) tolerance(slack float64) float64 {
	if p.r == 0 {
		return cornerTol
	}
	round := 0x1p-48 * math.Max(math.Abs(p.c.X), math.Abs(p.c.Y)) / p.r
	return math.Min(0.1, math.Max(round, math.Min(coneTol, slack/p.r)))
}

// straightTurn is the turn in radians below which a corner counts as straight: over 2 m,
// 1e-9 off.
const straightTurn = 1e-9

// holds reports whether the direction n, whose length is about l, is a normal of the post.
func (p *post) holds(nx, ny, l float64) bool {
	if p.full {
		return true
	}
	tol := -p.play * l
	a := p.s.X*ny - p.s.Y*nx
	b := nx*p.e.Y - ny*p.e.X
	if p.wide {
		return a >= tol || b >= tol
	}
	return a >= tol && b >= tol && nx*(p.s.X+p.e.X)+ny*(p.s.Y+p.e.Y) >= tol
}

// angle returns the angle from the start of the post to the unit normal n, within 0..sweep
// or, for a whole circle, 0..2π.
func (p *post) angle(nx, ny float64) float64 {
	a := math.Atan2(p.s.X*ny-p.s.Y*nx, p.s.X*nx+p.s.Y*ny)
	if a < 0 {
		a += 2 * math.Pi
	}
	if a > p.sweep { // beyond an end by rounding: which one ?
		if a-p.sweep < 2*math.Pi-a {
			return p.sweep
		}
		return 0
	}
	return a
}

// contact returns the angle and the point at which a tangent to or from the point q touches
// the post, n being the unit normal there, or false if that lies outside the post.
//
// A point that all but lies on the tangent at an end of the arc, within tol mm, is joined to
// that end: so near to the arc, rounding or the slack would lead past it. This is the end at
// which a path with the turn would leave for q, or come from it.
func (p *post) contact(nx, ny float64, q r2.Point, t turn, leaving bool, tol float64) (angle, x, y float64, ok bool) {
	if p.holds(nx, ny, 1) {
		return p.angle(nx, ny), p.c.X + p.r*nx, p.c.Y + p.r*ny, true
	}
	n, at := p.s, p.from
	if leaving == (t > 0) {
		n, at, angle = p.e, p.to, p.sweep
	}
	v := sub2(q, at)
	ahead := float64(t) * cross2(n, v)
	if !leaving {
		ahead = -ahead
	}
	if math.Abs(dot2(v, n)) <= tol && ahead >= -tol {
		return angle, at.X, at.Y, true
	}
	return 0, 0, 0, false
}

// normal returns the unit normal at an angle.
func (p *post) normal(a float64) r2.Point {
	sn, cs := math.Sincos(a)
	return r2.Point{X: float64(cs*p.s.X) - float64(sn*p.s.Y), Y: float64(sn*p.s.X) + float64(cs*p.s.Y)}
}

// at returns the point at an angle.
func (p *post) at(a float64) r2.Point {
	if p.r == 0 {
		return p.c
	}
	n := p.normal(a)
	return r2.Point{X: p.c.X + float64(p.r*n.X), Y: p.c.Y + float64(p.r*n.Y)}
}

// appendPosts appends the posts of a loop that has the obstacle on its left, grown by
// extra.
func appendPosts(dst []post, l Loop, extra, slack float64) []post {
	n := l.Len()
	first := len(dst)
	open := false     // the last post appended may go on
	straight := true  // so is the boundary since then
	var before []bool // by post: so it was from the post before, or the start of the loop
	put := func(p post) {
		dst = append(dst, p)
		before = append(before, straight)
		straight = true
	}
	for i := range n {
		s := l.Seg(i)
		if s.Bulge > 0 {
			t, u := s.Tangent(0), s.Tangent(1)
			p := post{
				c: s.Center(), r: s.Radius() + extra, sweep: s.Sweep().Radians(),
				s: r2.Point{X: t.Y, Y: -t.X}, e: r2.Point{X: u.Y, Y: -u.X},
			}
			if open && dst[len(dst)-1].joins(&p) {
				dst[len(dst)-1].extend(&p)
			} else {
				put(p)
			}
			open = true
		} else {
			open = false
			straight = straight && s.Bulge == 0
		}
		g := l.Seg(i + 1)
		t, u := s.Tangent(1), g.Tangent(0)
		x, d := cross2(t, u), dot2(t, u)
		if !(x > straightTurn || d < 0 && x > -straightTurn) {
			if x < -coneTol { // hollow
				straight, open = false, false
			}
			continue
		}
		if s.Bulge > 0 && g.Bulge > 0 && x < coneTol && d > 0 {
			continue // arcs of one smooth chain
		}
		put(post{
			c: s.B, r: extra, sweep: math.Abs(math.Atan2(x, d)),
			s: r2.Point{X: t.Y, Y: -t.X}, e: r2.Point{X: u.Y, Y: -u.X},
		})
		open = false
	}
	if first == len(dst) {
		return dst
	}
	before[0] = before[0] && straight
	// The arc that the loop starts in the middle of.
	if k := len(dst) - 1; open && k > first && l.Seg(0).Bulge > 0 && dst[k].joins(&dst[first]) {
		dst[k].extend(&dst[first])
		dst[first] = dst[k]
		before[0] = before[k-first]
		dst = dst[:k]
	}
	last := len(dst) - 1
	for i := first; i <= last; i++ {
		dst[i].next, dst[i].prev = -1, -1
	}
	for i := first; i <= last; i++ {
		p := &dst[i]
		p.wide = p.sweep > math.Pi
		p.play = p.tolerance(slack)
		p.from, p.to = p.at(0), p.at(p.sweep)
		if p.sweep >= 2*math.Pi-coneTol {
			p.sweep, p.full, p.e = 2*math.Pi, true, p.s
			continue
		}
		k := i - 1
		if i == first {
			k = last
		}
		if before[i-first] && k != i {
			p.prev, dst[k].next = int32(k), int32(i)
		}
	}
	return dst
}

// joins reports whether q goes on with p on the same circle.
func (p *post) joins(q *post) bool {
	const same = 1e-8
	return dist(p.c, q.c) <= same && math.Abs(p.r-q.r) <= same && cross2(p.e, q.s) < coneTol && dot2(p.e, q.s) > 0
}

func (p *post) extend(q *post) {
	p.sweep = math.Min(2*math.Pi, p.sweep+q.sweep)
	p.e = q.e
}
