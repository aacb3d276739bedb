package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// simplify returns the vertices of a closed walk, given with its first tread again at the
// end, without those between two lines in one direction or two arcs of one circle. Taking a
// vertex out moves the boundary by at most the weld distance. The result is overwritten by
// the next one.
func (ar *arrangement) simplify(treads []tread) []Vertex {
	n := len(treads) - 1
	v := ar.verts[:0]
	defer func() { ar.verts = v }()
	// Begin at a corner.
	k := 0
	if ar.straight(&treads[n-1], &treads[0], treads[1].p) {
		for k = 1; k < n && ar.straight(&treads[k-1], &treads[k], treads[k+1].p); k++ {
		}
	}
	if k == n {
		if treads[0].arc {
			v = ar.wholeCircle(treads, v)
			return v
		}
		// Every corner is cut off by less than the weld distance: the lowest of these
		// stays one.
		k = 0
		for i := range n {
			if lower(treads[i].p, treads[k].p) {
				k = i
			}
		}
	}
	if k > 0 {
		ar.turn = append(append(append(ar.turn[:0], treads[k:n]...), treads[:k]...), treads[k])
		treads = ar.turn
	}
	for i := 0; i < n; {
		st := &treads[i]
		p := st.p
		j := i + 1
		if !st.arc {
			// Go on while one line from p passes all vertices left out.
			c := cone{}
			for j < n && ar.straight(&treads[j-1], &treads[j], treads[j+1].p) &&
				c.admit(sub2(treads[j].p, p), sub2(treads[j+1].p, p), ar.tol) {
				j++
			}
			v = append(v, clean(p, 0))
			i = j
			continue
		}
		for j < n && ar.straight(&treads[j-1], &treads[j], treads[j+1].p) {
			j++
		}
		if j == i+1 {
			v = append(v, clean(p, st.bulge))
			i = j
			continue
		}
		sweep := 0.0
		for m := i; m < j; m++ {
			sweep += 4 * math.Atan(ar.bend(&treads[m], treads[m+1].p))
		}
		if math.Abs(sweep) > 1.5*math.Pi { // in two halves, so that no bulge is large
			s := &ar.strands[st.strand]
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

// wholeCircle appends the loop of a walk without corners: two half circles, or nothing if
// it is no circle.
func (ar *arrangement) wholeCircle(treads []tread, v []Vertex) []Vertex {
	s := &ar.strands[treads[0].strand]
	if s.r == 0 {
		return v
	}
	b := 1.0
	if ar.bend(&treads[0], treads[1].p) < 0 {
		b = -1
	}
	return append(v, clean(r2.Point{X: s.c.X - s.r, Y: s.c.Y}, b), clean(r2.Point{X: s.c.X + s.r, Y: s.c.Y}, b))
}

// bend returns the bulge of a tread that ends at q, also where an arc is taken as its chord.
func (ar *arrangement) bend(st *tread, q r2.Point) float64 {
	if st.bulge != 0 || !st.arc {
		return st.bulge
	}
	return ar.strands[st.strand].bulgeBetween(st.p, q)
}

// straight reports whether g, which ends at r, carries h on: lines in one direction, arcs
// of one circle.
func (ar *arrangement) straight(h, g *tread, r r2.Point) bool {
	if !h.arc && !g.arc {
		p, q := h.p, g.p
		d, e := sub2(q, p), sub2(r, q)
		if dot2(d, e) <= 0 {
			return false
		}
		f := sub2(r, p)
		x := cross2(d, f)
		return x*x <= ar.tol*ar.tol*(f.X*f.X+f.Y*f.Y)
	}
	if !h.arc || !g.arc {
		return false
	}
	s, t := &ar.strands[h.strand], &ar.strands[g.strand]
	return near2(s.c, t.c, ar.tol) && math.Abs(s.r-t.r) <= ar.tol && ar.bend(h, g.p) > 0 == (ar.bend(g, r) > 0)
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
