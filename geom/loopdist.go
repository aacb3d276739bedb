package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// A contact is the nearest pair of pieces of two boundaries. Without one, a is nil.
type contact struct {
	a, b *loopData
	i, j int32
	d2   float64
}

// A bound pair of nodes on the stack of nearestPieces.
type nodePair struct {
	i, j int32
	d2   float64
}

// nearestPieces looks for the nearest pair of pieces of the boundaries of a, and of b
// moved by s, among those nearer than the root of c.d2, and puts it into c. It ends early
// once it has a pair nearer than the root of stop2.
//
// This is branch and bound over pairs of boxes, the nearer pair first, so that the bound
// falls early; of a pair the larger box is opened.
func (c *contact) nearestPieces(a, b *loopData, s r2.Point, stop2 float64) {
	a.ready()
	b.ready()
	var stack [2 * stackSize]nodePair
	box := b.box.shifted(s)
	stack[0].d2 = a.box.dist2(&box)
	top := 1
	best := c.d2
	for top > 0 {
		top--
		if !(stack[top].d2 < best) {
			continue
		}
		i, j := stack[top].i, stack[top].j
		m, n := &a.nodes[i], &b.nodes[j]
		if m.right == 0 && n.right == 0 {
			nb := n.box.shifted(s)
			for q := n.first; q < n.first+n.count; q++ {
				pb := b.pieces[q].shifted(s.X, s.Y)
				box := pb.box()
				if !(m.box.dist2(&box) < best) {
					continue
				}
				for p := m.first; p < m.first+m.count; p++ {
					pa := &a.pieces[p]
					box := pa.box()
					if !(box.dist2(&nb) < best) {
						continue
					}
					if d2 := dist2Pieces(pa, &pb); d2 < best {
						best = d2
						*c = contact{a, b, p, q, d2}
						if d2 == 0 || d2 < stop2 {
							return
						}
					}
				}
			}
			continue
		}
		if n.right == 0 || m.right != 0 && m.box.extent() >= n.box.extent() {
			l, r := i+1, m.right
			nb := n.box.shifted(s)
			dl, dr := a.nodes[l].box.dist2(&nb), a.nodes[r].box.dist2(&nb)
			if dl < dr {
				l, r, dl, dr = r, l, dr, dl
			}
			stack[top] = nodePair{l, j, dl}
			stack[top+1] = nodePair{r, j, dr}
		} else {
			l, r := j+1, n.right
			lb, rb := b.nodes[l].box.shifted(s), b.nodes[r].box.shifted(s)
			dl, dr := m.box.dist2(&lb), m.box.dist2(&rb)
			if dl < dr {
				l, r, dl, dr = r, l, dr, dl
			}
			stack[top] = nodePair{i, l, dl}
			stack[top+1] = nodePair{i, r, dr}
		}
		top += 2
	}
}

func (b *box4) shifted(s r2.Point) box4 {
	return box4{b.lx + s.X, b.ly + s.Y, b.hx + s.X, b.hy + s.Y}
}

// extent is the longer side of the box.
func (b *box4) extent() float64 { return max(b.hx-b.lx, b.hy-b.ly) }

// A state is how two regions lie.
type state int

const (
	apart    state = iota // no common point
	touching              // boundaries share a point
	nested                // one region lies within the filled part of the other
)

// separation finds how a, and b moved by s, lie, and when they are apart the nearest pieces
// of their boundaries, provided that they are nearer than the root of limit2; else the
// contact is empty and its d2 is limit2. It ends early as nearestPieces does.
//
// A region is connected. So when a point of b's outer boundary lies within a hole of a,
// either all of b does and only the rim of that hole counts, or b meets the rim, at
// distance 0. When it lies in a itself they overlap. When neither outer loop has a point
// within the other, only the outer loops count.
func separation(a, b *Region, s r2.Point, limit2, stop2 float64) (contact, state) {
	c := contact{d2: limit2}
	if a.Outer.d == nil || b.Outer.d == nil {
		return c, apart
	}
	da, db := a.Outer.d, b.Outer.d
	box := db.box.shifted(s)
	d2 := da.box.dist2(&box)
	if !(d2 < limit2) {
		return c, apart
	}
	if d2 == 0 {
		if p := db.v[0].P.Add(s); da.encloses(p) {
			h := holeAround(a.Holes, p)
			if h == nil {
				return c, nested
			}
			c.nearestPieces(h, db, s, stop2)
			return c, c.state()
		}
		if p := da.v[0].P.Sub(s); db.encloses(p) {
			h := holeAround(b.Holes, p)
			if h == nil {
				return c, nested
			}
			c.nearestPieces(da, h, s, stop2)
			return c, c.state()
		}
	}
	c.nearestPieces(da, db, s, stop2)
	return c, c.state()
}

func (c *contact) state() state {
	if c.d2 <= Coincident*Coincident {
		return touching
	}
	return apart
}

// encloses reports whether p lies within the loop by the count of crossings.
func (d *loopData) encloses(p r2.Point) bool {
	b := &d.box
	return p.X >= b.lx && p.X <= b.hx && p.Y >= b.ly && p.Y <= b.hy && d.crossings(p.X, p.Y)
}

// holeAround returns the hole that encloses p, or nil.
func holeAround(holes []Loop, p r2.Point) *loopData {
	for _, h := range holes {
		if h.d != nil && h.d.encloses(p) {
			return h.d
		}
	}
	return nil
}

// feet returns the nearest points of the contact, b's before the move s.
func (c *contact) feet(s r2.Point) (a, b r2.Point, d float64) {
	pb := c.b.pieces[c.j].shifted(s.X, s.Y)
	a, b, d = feet(&c.a.pieces[c.i], &pb)
	return a, b.Sub(s), d
}

// Separation returns the distance between a and b in mm, 0 where they touch or overlap and
// +Inf if either is empty. It is [Distance] for callers that need no depth: it stops where
// that would begin to look for one.
func Separation(a, b Region) float64 { return separationOf(&a, &b, r2.Point{}) }

func separationOf(a, b *Region, s r2.Point) float64 {
	c, st := separation(a, b, s, math.Inf(1), 0)
	if st != apart {
		return 0
	}
	return math.Sqrt(c.d2)
}
