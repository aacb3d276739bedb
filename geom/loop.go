package geom

import (
	"fmt"
	"iter"
	"math"
	"sync"

	"github.com/golang/geo/r2"
)

// Vertex is a corner of a loop and the way to the next corner: straight for bulge 0,
// otherwise an arc with that bulge (the tangent of a quarter of its sweep, positive for
// counter-clockwise).
type Vertex struct {
	P     r2.Point // mm
	Bulge float64
}

// Loop is a closed chain of lines and circular arcs, the boundary of a filled set. It is
// immutable. The first query makes boxes, centres and radii, which the loop keeps, so that
// later ones do not allocate. Copying a Loop is cheap; loops may be used from several
// goroutines.
//
// The zero value is the empty loop: no vertices, area 0, infinitely far from everything.
type Loop struct{ d *loopData }

type loopData struct {
	v    []Vertex
	area float64
	box  box4

	made   sync.Once // pieces and nodes
	pieces []piece
	nodes  []node

	fanned sync.Once // convex and fan
	convex bool
	fan    []corner // normals of a convex loop in turn, nil otherwise
}

// NewLoop returns the loop through the vertices; the last one leads back to the first.
// The orientation is kept. Pieces no longer than 1e-9 mm are dropped. At least two
// vertices must remain, two only if an arc joins them.
//
// It fails if a coordinate is not finite or beyond 1e7 mm, if a bulge is not finite or
// beyond 1e6, if an arc reaches beyond 1e7 mm, or if too few vertices remain. It does
// not look for crossings: see [Loop.Validate].
func NewLoop(v []Vertex) (Loop, error) {
	kept := make([]Vertex, 0, len(v))
	for i, w := range v {
		if !(math.Abs(w.P.X) <= MaxCoord && math.Abs(w.P.Y) <= MaxCoord) {
			return Loop{}, &Violation{Kind: BadCoordinate, At: w.P, Index: i}
		}
		if !(math.Abs(w.Bulge) <= maxBulge) {
			return Loop{}, &Violation{Kind: BadBulge, At: w.P, Index: i}
		}
		if w.P.X == 0 {
			w.P.X = 0 // no negative zeros
		}
		if w.P.Y == 0 {
			w.P.Y = 0
		}
		if n := len(kept); n > 0 && dist(kept[n-1].P, w.P) <= Coincident {
			kept[n-1].Bulge = w.Bulge // the piece between them vanishes
			continue
		}
		kept = append(kept, w)
	}
	for len(kept) > 1 && dist(kept[len(kept)-1].P, kept[0].P) <= Coincident {
		kept = kept[:len(kept)-1]
	}
	arcs := 0
	for i := range kept {
		s := Seg{A: kept[i].P, B: kept[(i+1)%len(kept)].P, Bulge: kept[i].Bulge}
		if !s.IsArc() {
			kept[i].Bulge = 0
			continue
		}
		arcs++
		if b := s.Bound(); !(max(-b.Lo.X, -b.Lo.Y, b.Hi.X, b.Hi.Y) <= MaxCoord) {
			return Loop{}, &Violation{Kind: BadCoordinate, At: s.At(0.5), Index: i}
		}
	}
	if len(kept) < 2 || len(kept) == 2 && arcs == 0 {
		at := r2.Point{}
		if len(kept) > 0 {
			at = kept[0].P
		}
		return Loop{}, &Violation{Kind: TooFewVertices, At: at}
	}
	return makeLoop(kept), nil
}

// makeLoop builds the loop of vertices that are known to be clean; it keeps the slice.
func makeLoop(v []Vertex) Loop {
	d := &loopData{v: v, box: box4{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}}
	for i := range v {
		d.box.add(v[i].P)
	}
	l := Loop{d}
	arcs := 0.0
	for i := range v {
		if b := v[i].Bulge; b != 0 {
			s := l.Seg(i)
			d.box.addArc(s)
			arcs += ((s.B.X-s.A.X)*(s.B.X-s.A.X) + (s.B.Y-s.A.Y)*(s.B.Y-s.A.Y)) * bulgeArea(b)
		}
	}
	// The polygon of the vertices about the middle of the box, then the arcs' segments.
	mx, my := d.box.lx+(d.box.hx-d.box.lx)/2, d.box.ly+(d.box.hy-d.box.ly)/2
	twice := 0.0
	px, py := v[len(v)-1].P.X-mx, v[len(v)-1].P.Y-my
	for i := range v {
		qx, qy := v[i].P.X-mx, v[i].P.Y-my
		twice += float64(px*qy) - float64(py*qx)
		px, py = qx, qy
	}
	d.area = twice/2 + arcs
	return l
}

func (b *box4) add(p r2.Point) {
	b.lx, b.ly, b.hx, b.hy = min(b.lx, p.X), min(b.ly, p.Y), max(b.hx, p.X), max(b.hy, p.Y)
}

// addArc takes in the extremes of an arc, as in [Seg.Bound].
func (b *box4) addArc(s Seg) {
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	if math.Abs(s.Bulge) < quarterBulge {
		// Of a quarter turn or less at most one end's tangent crosses an axis: without a
		// change of sign between the tangents there is no extreme inside. The tangents are
		// the chord turned by half the sweep, cos 1-β² and sin 2β over 1+β².
		cs, sn := (1-s.Bulge)*(1+s.Bulge), 2*s.Bulge
		if (float64(cs*dx)+float64(sn*dy))*(float64(cs*dx)-float64(sn*dy)) > 0 &&
			(float64(cs*dy)-float64(sn*dx))*(float64(cs*dy)+float64(sn*dx)) > 0 {
			return
		}
	}
	if r := s.Radius(); r < shallowRadius {
		// The arc is what of its circle lies on the right of the chord, or on the left.
		c := s.Center()
		for _, e := range [4]r2.Point{{X: c.X + r, Y: c.Y}, {X: c.X, Y: c.Y + r}, {X: c.X - r, Y: c.Y}, {X: c.X, Y: c.Y - r}} {
			if side := float64(dx*(e.Y-s.A.Y)) - float64(dy*(e.X-s.A.X)); side < 0 == (s.Bulge > 0) && side != 0 {
				b.add(e)
			}
		}
		return
	}
	r := s.Bound()
	b.add(r.Lo)
	b.add(r.Hi)
}

// ready returns d with its pieces and their tree, which the first query makes.
func (d *loopData) ready() *loopData {
	d.made.Do(d.makePieces)
	return d
}

func (d *loopData) makePieces() {
	n := 0
	for i := range d.v {
		n++
		if d.v[i].Bulge != 0 {
			n += 2
		}
	}
	d.pieces = make([]piece, 0, n)
	l := Loop{d}
	most := max(1, float64(maxFollowLoop/len(d.v)))
	for i := range d.v {
		d.pieces = appendPieces(d.pieces, l.Seg(i), int32(i), most)
	}
	d.nodes = buildTree(d.pieces)
}

// isConvex reports whether the loop is convex.
func (d *loopData) isConvex() bool {
	d.fanned.Do(func() { d.convex, d.fan = Loop{d}.fan() })
	return d.convex
}

// corners returns the corners of a convex loop in turn.
func (d *loopData) corners() []corner {
	d.isConvex()
	return d.fan
}

// IsEmpty reports whether the loop has no vertices.
func (l Loop) IsEmpty() bool { return l.d == nil }

// Len returns the number of vertices, which is that of segments.
func (l Loop) Len() int {
	if l.d == nil {
		return 0
	}
	return len(l.d.v)
}

// Vertex returns vertex i, counted round the loop: any i is accepted, -1 is the last.
// The empty loop returns the zero vertex.
func (l Loop) Vertex(i int) Vertex {
	n := l.Len()
	if n == 0 {
		return Vertex{}
	}
	return l.d.v[((i%n)+n)%n]
}

// Seg returns the segment from vertex i to the next, i as in [Loop.Vertex].
func (l Loop) Seg(i int) Seg {
	v := l.Vertex(i)
	return Seg{A: v.P, B: l.Vertex(i + 1).P, Bulge: v.Bulge}
}

// Segs iterates over the segments in order.
func (l Loop) Segs() iter.Seq2[int, Seg] {
	return func(yield func(int, Seg) bool) {
		for i := range l.Len() {
			if !yield(i, l.Seg(i)) {
				return
			}
		}
	}
}

// Vertices returns a copy of the vertices.
func (l Loop) Vertices() []Vertex {
	if l.d == nil {
		return nil
	}
	return append([]Vertex(nil), l.d.v...)
}

// Area returns the signed area in mm², positive for a counter-clockwise loop.
func (l Loop) Area() float64 {
	if l.d == nil {
		return 0
	}
	return l.d.area
}

// Perimeter returns the length of the boundary in mm.
func (l Loop) Perimeter() float64 {
	sum := 0.0
	for _, s := range l.Segs() {
		sum += s.Length()
	}
	return sum
}

// Centroid returns the centre of area. A loop without area returns the middle of its
// box, the empty loop the origin.
func (l Loop) Centroid() r2.Point { return l.Moments().Centroid }

// Bound returns the least axis-parallel box, the empty box for the empty loop.
func (l Loop) Bound() Rect {
	if l.d == nil {
		return EmptyRect()
	}
	b := l.d.box
	return Rect{Lo: r2.Point{X: b.lx, Y: b.ly}, Hi: r2.Point{X: b.hx, Y: b.hy}}
}

// IsConvex reports whether the filled loop is a convex set with more than no area.
// Dents up to 1e-10 mm, the work of rounding, do not count.
func (l Loop) IsConvex() bool { return l.d != nil && l.d.isConvex() }

// Reverse returns the same set with the boundary run through the other way round.
func (l Loop) Reverse() Loop {
	if l.d == nil {
		return Loop{}
	}
	n := len(l.d.v)
	v := make([]Vertex, n)
	for i := range v {
		// The new segment i runs from old vertex n-1-i back to n-2-i.
		v[i] = Vertex{P: l.d.v[n-1-i].P, Bulge: -l.Vertex(n - 2 - i).Bulge}
	}
	return makeLoop(v)
}

// CCW returns the loop run through counter-clockwise: itself or its reverse.
func (l Loop) CCW() Loop {
	if l.Area() < 0 {
		return l.Reverse()
	}
	return l
}

// Transform returns the loop moved by t, vertex for vertex. A mirror therefore turns a
// counter-clockwise loop into a clockwise one. If the result would lie beyond 1e7 mm or
// is not finite the empty loop is returned.
func (l Loop) Transform(t Pose2) Loop {
	if l.d == nil {
		return Loop{}
	}
	v := make([]Vertex, len(l.d.v))
	for i, w := range l.d.v {
		b := w.Bulge
		if t.Mirror {
			b = -b
		}
		v[i] = Vertex{P: t.Apply(w.P), Bulge: b}
	}
	m, err := NewLoop(v)
	if err != nil {
		return Loop{}
	}
	return m
}

// maxChords bounds the chords made of one arc by Flatten.
const maxChords = 1 << 14

// Flatten returns the corners of a polygon that follows the loop: its vertices, and on
// arcs points of the arc so close that no chord lies more than tol mm from it. A tol that
// is not positive counts as 0.01 mm; one arc gives at most 16384 chords.
func (l Loop) Flatten(tol float64) []r2.Point {
	if !(tol > 0) {
		tol = 0.01
	}
	out := make([]r2.Point, 0, l.Len())
	for _, s := range l.Segs() {
		out = append(out, s.A)
		if !s.IsArc() {
			continue
		}
		// A chord over the angle a has the sagitta r(1-cos(a/2)) = 2r·sin²(a/4).
		a := 4 * math.Asin(math.Min(1, math.Sqrt(tol/(2*s.Radius()))))
		n := math.Ceil(math.Abs(s.Sweep().Radians()) / a)
		n = math.Max(1, math.Min(maxChords, n))
		for k := 1.0; k < n; k++ {
			out = append(out, s.At(k/n))
		}
	}
	return out
}

// String describes the loop in short, for messages.
func (l Loop) String() string {
	if l.IsEmpty() {
		return "empty loop"
	}
	b := l.Bound()
	return fmt.Sprintf("loop of %d segments in [%g %g]..[%g %g]", l.Len(), b.Lo.X, b.Lo.Y, b.Hi.X, b.Hi.Y)
}
