package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// simplify appends the vertices of a closed walk to v, without those between two lines in
// one direction or two arcs of one circle. Taking a vertex out moves the boundary by at
// most the weld distance.
func (ar *arrangement) simplify(walk []half, v []Vertex) []Vertex {
	n := len(walk)
	// Begin at a corner.
	k := 0
	for k < n && ar.straight(walk[(k+n-1)%n], walk[k]) {
		k++
	}
	if k == n {
		return ar.wholeCircle(walk, v)
	}
	for i := 0; i < n; {
		h := walk[(k+i)%n]
		p := ar.pts[ar.from(h)]
		j := i + 1
		if ar.strands[ar.links[h.link()].of].r == 0 {
			// Go on while one line from p passes all vertices left out.
			c := cone{}
			for j < n {
				g := walk[(k+j)%n]
				if !ar.straight(walk[(k+j-1)%n], g) || !c.admit(sub2(ar.pts[ar.from(g)], p), sub2(ar.pts[ar.to(g)], p), ar.tol) {
					break
				}
				j++
			}
			v = append(v, clean(p, 0))
			i = j
			continue
		}
		for j < n && ar.straight(walk[(k+j-1)%n], walk[(k+j)%n]) {
			j++
		}
		if j == i+1 {
			v = append(v, clean(p, ar.bulge(h)))
			i = j
			continue
		}
		sweep := 0.0
		for m := i; m < j; m++ {
			sweep += 4 * math.Atan(ar.bend(walk[(k+m)%n]))
		}
		if math.Abs(sweep) > 1.5*math.Pi { // in two halves, so that no bulge is large
			s := &ar.strands[ar.links[h.link()].of]
			sn, cs := math.Sincos(sweep / 2)
			d := sub2(p, s.c)
			half := math.Tan(sweep / 8)
			v = append(v, clean(p, half), clean(r2.Point{
				X: s.c.X + float64(cs*d.X) - float64(sn*d.Y),
				Y: s.c.Y + float64(sn*d.X) + float64(cs*d.Y),
			}, half))
		} else {
			v = append(v, clean(p, math.Tan(sweep/4)))
		}
		i = j
	}
	return v
}

func clean(p r2.Point, b float64) Vertex {
	if p.X == 0 {
		p.X = 0 // no negative zeros
	}
	if p.Y == 0 {
		p.Y = 0
	}
	return Vertex{P: p, Bulge: b}
}

// wholeCircle returns the loop of a walk without corners: two half circles, or nothing if
// it is no circle.
func (ar *arrangement) wholeCircle(walk []half, v []Vertex) []Vertex {
	s := &ar.strands[ar.links[walk[0].link()].of]
	if s.r == 0 {
		return v
	}
	b := 1.0
	if ar.bend(walk[0]) < 0 {
		b = -1
	}
	return append(v, clean(r2.Point{X: s.c.X - s.r, Y: s.c.Y}, b), clean(r2.Point{X: s.c.X + s.r, Y: s.c.Y}, b))
}

// bend returns the bulge of a link, also of a part of an arc that is taken as its chord.
func (ar *arrangement) bend(h half) float64 {
	l := &ar.links[h.link()]
	s := &ar.strands[l.of]
	if l.bulge != 0 || s.r == 0 {
		return ar.bulge(h)
	}
	return s.bulgeBetween(ar.pts[ar.from(h)], ar.pts[ar.to(h)])
}

// straight reports whether g carries h on: lines in one direction, arcs of one circle.
func (ar *arrangement) straight(h, g half) bool {
	s, t := &ar.strands[ar.links[h.link()].of], &ar.strands[ar.links[g.link()].of]
	if s.r == 0 && t.r == 0 {
		p, q, r := ar.pts[ar.from(h)], ar.pts[ar.to(h)], ar.pts[ar.to(g)]
		d, e := sub2(q, p), sub2(r, q)
		if dot2(d, e) <= 0 {
			return false
		}
		f := sub2(r, p)
		x := cross2(d, f)
		return x*x <= ar.tol*ar.tol*(f.X*f.X+f.Y*f.Y)
	}
	if s.r == 0 || t.r == 0 {
		return false
	}
	return near2(s.c, t.c, ar.tol) && math.Abs(s.r-t.r) <= ar.tol && ar.bend(h) > 0 == (ar.bend(g) > 0)
}

// cone holds the directions in which a line from the origin passes all admitted points
// within a distance (Reumann and Witkam's strip, kept as slopes over a first direction).
type cone struct {
	e      r2.Point
	lo, hi float64
	set    bool
}

// admit takes p in, if the line on to q then still passes every point admitted.
func (c *cone) admit(p, q r2.Point, tol float64) bool {
	if !c.set {
		n := math.Hypot(p.X, p.Y)
		c.e, c.lo, c.hi, c.set = r2.Point{X: p.X / n, Y: p.Y / n}, math.Inf(-1), math.Inf(1), true
	}
	x, y := dot2(c.e, p), cross2(c.e, p)
	lo, hi := math.Max(c.lo, (y-tol)/x), math.Min(c.hi, (y+tol)/x)
	x, y = dot2(c.e, q), cross2(c.e, q)
	if x <= 0 || y/x < lo || y/x > hi {
		return false
	}
	c.lo, c.hi = lo, hi
	return true
}
