package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// Offset grows the set by d mm for d > 0, or shrinks it for d < 0: the points within d of
// it, or those whose surroundings to the distance -d belong to it. Corners are rounded,
// so the result consists of lines and arcs again. Holes that fill up vanish, parts that
// are too thin vanish or fall apart, grown parts that meet become one.
//
// Regions of the result are as in [Union], with the same weld distance. For
// d = 0 the result is the union of a. The operand is a set: its regions may overlap or
// touch. Each of them must be valid but for touching loops; of a loop that crosses itself
// only some cases are found out.
//
// It fails with a [*Failure] as [Union] does, or if d is not finite or beyond 1e7.
func Offset(a []Region, d float64) ([]Region, error) {
	const op = "offset"
	if !(math.Abs(d) <= MaxCoord) {
		return nil, &Failure{Op: op, At: boundAll(a).Center(), Why: "the distance is not finite or beyond 1e7 mm"}
	}
	if math.Abs(d) <= Coincident {
		return UnionAll(a)
	}
	if d < 0 && boxesMeet(a) {
		// Where regions share an edge it is no boundary.
		u, err := UnionAll(a)
		if err != nil {
			return nil, err
		}
		a = u
	}
	p := problem{
		op: op, in: func(w windings) bool { return w.a > 0 },
		box: boundAll(a).Expand(math.Max(0, d)), size: 2 * countAll(a),
		build: func(ar *arrangement) {
			for i := range a {
				for l := range a[i].Loops() {
					ar.addOffset(l, d, l.d != a[i].Outer.d)
				}
			}
		},
	}
	if d > 0 {
		p.negative = "a loop crosses itself or a hole reaches beyond its outer loop"
	}
	return solve(p)
}

// boxesMeet reports whether any two regions may be welded.
func boxesMeet(a []Region) bool {
	box := boundAll(a)
	gap := 2 * weldFor(max(-box.Lo.X, -box.Lo.Y, box.Hi.X, box.Hi.Y))
	for i := range a {
		for j := range i {
			if a[i].Bound().Expand(gap).Intersects(a[j].Bound()) {
				return true
			}
		}
	}
	return false
}

// addOffset adds the raw offset curve of a loop at the distance d to the right of it, when
// it is run through with the set on its left.
//
// The curve is the boundary of a sum of patches: the loop's inside, and for each segment
// and each corner that is convex towards the offset side the points that are swept when it
// moves out along its normals. For a line that is a rectangle, for a corner a sector of a
// circle, for an arc a part of a ring, or a sector up to its centre when the arc is hollow
// and its radius is no larger than d: further points have their nearest point elsewhere.
// Every point within d of the set lies in such a patch, that of its nearest point, and no
// other point does. Each patch is run round counter-clockwise. So the curve winds at least
// once round every point within d, and not at all round the others; for d < 0 the same
// holds for the complement. Where neighbouring patches meet at a hollow corner the curve
// goes back to the corner and out again.
//
// At a hollow corner of lines that turns by at most a right angle the way back to the
// corner can be left out: the curve then turns where the two moved lines cross. That
// takes away one turn round the kite between the corner, the two ends and the crossing.
// Its points lie in both rectangles, over parts of the two lines that no other kite uses
// if each takes at most half a line, so that at least one turn is left.
func (ar *arrangement) addOffset(l Loop, d float64, hole bool) {
	n := l.Len()
	if n == 0 {
		return
	}
	box := l.Bound()
	size := box.Size()
	reversed := (l.Area() < 0) != hole
	inward := hole == (d > 0) // the loop's own filled side shrinks
	if inward && math.Min(size.X, size.Y) <= 2*math.Abs(d) {
		return // no circle of radius |d| fits into its box, so nothing is left of it
	}
	w := windings{a: 1}
	if !reversed {
		o := offsetter{ar: ar, d: d, rise: w, v: l.d.v}
		o.run()
		return
	}
	v := make([]Vertex, n)
	for i := range v {
		v[i] = Vertex{P: l.d.v[n-1-i].P, Bulge: -l.d.v[(2*n-2-i)%n].Bulge}
	}
	o := offsetter{ar: ar, d: d, rise: w, v: v}
	o.run()
}

// offsetter walks along a loop and adds its raw offset curve.
type offsetter struct {
	ar   *arrangement
	d    float64
	rise windings
	v    []Vertex
	last int32 // junction at the end of the curve so far
	head int32 // its first junction
}

// leg is a segment of the loop with its directions at the ends.
type leg struct {
	p, q   r2.Point
	s, e   r2.Point // unit tangents at p and q
	n      float64  // length of the chord
	bulge  float64
	c      r2.Point // centre
	r      float64  // radius, 0 for a line
	bend   float64  // signed curvature
	moved  float64  // radius after the move; not positive if the arc collapses
	pinned bool     // the arc collapses to its centre
}

func (o *offsetter) leg(i int) (g leg) {
	g.p, g.q, g.bulge = o.v[i].P, o.v[(i+1)%len(o.v)].P, o.v[i].Bulge
	d := sub2(g.q, g.p)
	g.n = math.Sqrt(d.X*d.X + d.Y*d.Y)
	u := r2.Point{X: d.X / g.n, Y: d.Y / g.n}
	g.s, g.e = u, u
	if b := g.bulge; b != 0 {
		sn, cs := 2*b/(1+b*b), (1-b)*(1+b)/(1+b*b) // of half the sweep
		g.s = r2.Point{X: float64(cs*u.X) + float64(sn*u.Y), Y: float64(cs*u.Y) - float64(sn*u.X)}
		g.e = r2.Point{X: float64(cs*u.X) - float64(sn*u.Y), Y: float64(cs*u.Y) + float64(sn*u.X)}
		s := Seg{A: g.p, B: g.q, Bulge: b}
		g.c, g.r = s.Center(), s.Radius()
		g.bend = 2 * sn / g.n
		g.moved = g.r + o.d
		if b < 0 {
			g.moved = g.r - o.d
		}
		g.pinned = g.moved <= o.ar.tol
	}
	return g
}

// right returns p moved by the offset distance to the right of the direction u.
func (o *offsetter) right(p, u r2.Point) r2.Point {
	return r2.Point{X: p.X + float64(o.d*u.Y), Y: p.Y - float64(o.d*u.X)}
}

// joint kinds between two legs.
const (
	smooth  = iota // the curve goes on
	round          // an arc about the corner
	hollow         // by way of the corner
	trimmed        // where the moved lines cross
)

func (o *offsetter) joint(f, g *leg) int {
	x, c := cross2(f.e, g.s), dot2(f.e, g.s)
	d := math.Abs(o.d)
	if c > 0 && math.Abs(x)*d <= o.ar.tol/8 {
		return smooth
	}
	out := x > 0 == (o.d > 0) // turns away from the offset side
	if c < 0 && math.Abs(x) < 1e-7 {
		// A cusp. The sector of half a circle about it holds only points within d, so
		// it is right on either side.
		return round
	}
	if out {
		return round
	}
	if f.r == 0 && g.r == 0 && c >= 0 {
		// Both lines lose |d|·tan(half the turn).
		if t := d * math.Abs(x) / (1 + c); t <= f.n/2 && t <= g.n/2 {
			return trimmed
		}
	}
	return hollow
}

func (o *offsetter) run() {
	n := len(o.v)
	f := o.leg(n - 1)
	g := o.leg(0)
	kind := o.joint(&f, &g)
	// The head is where the curve leaves the first joint.
	o.head = o.ar.junction(o.leaving(kind, &f, &g))
	o.last = o.head
	for i := range n {
		h := o.leg((i + 1) % n)
		next := o.joint(&g, &h)
		o.side(&g, o.arriving(next, &g, &h))
		if i == n-1 {
			o.turn(next, &g, &h, true)
			break
		}
		o.turn(next, &g, &h, false)
		g = h
	}
}

// arriving and leaving return where the curve comes to the joint of f and g, and where it
// leaves it.
func (o *offsetter) arriving(kind int, f, g *leg) r2.Point {
	if kind == trimmed {
		return o.mitre(f, g)
	}
	return o.right(f.q, f.e)
}

func (o *offsetter) leaving(kind int, f, g *leg) r2.Point {
	switch kind {
	case trimmed:
		return o.mitre(f, g)
	case smooth:
		return o.right(f.q, f.e)
	}
	return o.right(g.p, g.s)
}

// mitre returns the crossing of the two moved lines.
func (o *offsetter) mitre(f, g *leg) r2.Point {
	k := o.d / (1 + dot2(f.e, g.s))
	return r2.Point{
		X: g.p.X + float64(k*f.e.Y) + float64(k*g.s.Y),
		Y: g.p.Y - float64(k*f.e.X) - float64(k*g.s.X),
	}
}

// side adds the moved leg from the last junction to p.
func (o *offsetter) side(g *leg, p r2.Point) {
	ar := o.ar
	if g.pinned {
		c := ar.junction(g.c)
		ar.addLine(o.last, c, o.rise)
		o.last = c
	}
	v := ar.junction(p)
	if g.r == 0 || g.pinned {
		ar.addLine(o.last, v, o.rise)
	} else {
		ar.addArc(o.last, v, g.c, g.moved, g.bulge > 0, math.Abs(g.bulge) > 1, o.rise)
	}
	o.last = v
}

// turn adds the joint between f and g; the last one of a loop leads back to its head.
func (o *offsetter) turn(kind int, f, g *leg, closing bool) {
	ar := o.ar
	if kind == smooth || kind == trimmed {
		if closing {
			ar.joinAlong(o.last, o.head, o.rise)
		}
		return
	}
	if kind == hollow {
		c := ar.junction(g.p)
		ar.addLine(o.last, c, o.rise)
		o.last = c
	}
	v := o.head
	if !closing {
		v = ar.junction(o.leaving(kind, f, g))
	}
	if kind == hollow {
		ar.addLine(o.last, v, o.rise)
	} else {
		ar.addArc(o.last, v, g.p, math.Abs(o.d), o.d > 0, false, o.rise)
	}
	o.last = v
}
