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
	sweep float64 // 0..2π
	wide  bool    // more than half a turn
	full  bool    // a whole circle
}

// coneTol is the play in the unit normals that may fall outside a post, in radians. Where a
// tangent leaves at the end of an arc, to the next arc of a smooth chain, its direction is
// lost to half the digits: 1.5e-8.
const coneTol = 1e-7

// straightTurn is the turn in radians below which a corner counts as straight: over 2 m,
// 1e-9 off.
const straightTurn = 1e-9

// holds reports whether the direction n, whose length is about l, is a normal of the post.
func (p *post) holds(nx, ny, l float64) bool {
	if p.full {
		return true
	}
	tol := -coneTol * l
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
func appendPosts(dst []post, l Loop, extra float64) []post {
	n := l.Len()
	first := len(dst)
	open := false // the last post appended may go on
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
				dst = append(dst, p)
			}
			open = true
		} else {
			open = false
		}
		g := l.Seg(i + 1)
		t, u := s.Tangent(1), g.Tangent(0)
		x, d := cross2(t, u), dot2(t, u)
		if !(x > straightTurn || d < 0 && x > -straightTurn) {
			continue // straight or hollow
		}
		if s.Bulge > 0 && g.Bulge > 0 && x < coneTol && d > 0 {
			continue // arcs of one smooth chain
		}
		dst = append(dst, post{
			c: s.B, r: extra, sweep: math.Abs(math.Atan2(x, d)),
			s: r2.Point{X: t.Y, Y: -t.X}, e: r2.Point{X: u.Y, Y: -u.X},
		})
		open = false
	}
	// The arc that the loop starts in the middle of.
	if k := len(dst) - 1; open && k > first && l.Seg(0).Bulge > 0 && dst[k].joins(&dst[first]) {
		dst[k].extend(&dst[first])
		dst[first] = dst[k]
		dst = dst[:k]
	}
	for i := first; i < len(dst); i++ {
		p := &dst[i]
		p.wide = p.sweep > math.Pi
		if p.sweep >= 2*math.Pi-coneTol {
			p.sweep, p.full, p.e = 2*math.Pi, true, p.s
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
