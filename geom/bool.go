package geom

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
)

// Failure says that an operation on regions could not be carried out, and where.
type Failure struct {
	Op  string   // the operation: "union", "offset", ...
	At  r2.Point // a place where it failed, in mm
	Why string
}

// Error gives the operation, the place and the reason.
func (f *Failure) Error() string {
	return fmt.Sprintf("%s at (%.6g, %.6g): %s", f.Op, f.At.X, f.At.Y, f.Why)
}

// Union returns the points in a or b, as connected regions.
//
// The operands are sets: the regions of one slice may overlap, touch or share edges. All
// curves stay what they are; arcs come out as arcs of the same circle. Regions of the
// result are maximal pieces whose inside is connected, so two squares that share an edge
// come out as one region and two that share a corner as two. Loops are simple and start
// at their lowest vertex (the leftmost of several), outer loops counter-clockwise, holes
// clockwise; regions and holes are sorted by those vertices. A hole may touch the outer
// loop or another hole in a point. Points where two curves go on as one are taken out.
//
// Boundaries nearer than the weld distance count as the same, and pieces or gaps thinner
// than that vanish: 1e-9 mm for coordinates up to 1 m, in proportion beyond. Where two
// curves part from a vertex by less than that over some way, as at tangent arcs, they may
// still cross there by so much. Empty operands are fine; an empty result is nil.
//
// It fails with a [*Failure] if a loop crosses itself, if a hole reaches beyond its outer
// loop, or if the boundaries cannot be told apart consistently.
func Union(a, b []Region) ([]Region, error) {
	return combine("union", a, b, func(w windings) bool { return w.a > 0 || w.b > 0 })
}

// Difference returns the points of a that are not inside b, closed, as [Union] does.
func Difference(a, b []Region) ([]Region, error) {
	return combine("difference", a, b, func(w windings) bool { return w.a > 0 && w.b <= 0 })
}

// Intersection returns the points in both a and b, as [Union] does. Where they only touch
// there is no region.
func Intersection(a, b []Region) ([]Region, error) {
	return combine("intersection", a, b, func(w windings) bool { return w.a > 0 && w.b > 0 })
}

// UnionAll returns the points in any of the sets, as [Union] does.
func UnionAll(rs ...[]Region) ([]Region, error) {
	n := 0
	for _, r := range rs {
		n += len(r)
	}
	all := make([]Region, 0, n)
	for _, r := range rs {
		all = append(all, r...)
	}
	return combine("union", all, nil, func(w windings) bool { return w.a > 0 })
}

func combine(op string, a, b []Region, in func(windings) bool) ([]Region, error) {
	return solve(problem{
		op: op, in: in, box: boundAll(a).Union(boundAll(b)), size: countAll(a) + countAll(b),
		build: func(ar *arrangement) {
			for i := range a {
				ar.addRegion(a[i], windings{a: 1})
			}
			for i := range b {
				ar.addRegion(b[i], windings{b: 1})
			}
		},
		negative: "a loop crosses itself or a hole reaches beyond its outer loop",
	})
}

// addRegion adds the loops of a region, inside on the left whatever their orientation.
func (ar *arrangement) addRegion(r Region, rise windings) {
	if r.Outer.IsEmpty() {
		return
	}
	for l := range r.Loops() {
		w := rise
		if (l.Area() < 0) != (l.d != r.Outer.d) {
			w = rise.neg()
		}
		ar.addLoop(l, w)
	}
}

func boundAll(rs []Region) Rect {
	box := EmptyRect()
	for i := range rs {
		box = box.Union(rs[i].Bound())
	}
	return box
}

func countAll(rs []Region) int {
	n := 0
	for i := range rs {
		for l := range rs[i].Loops() {
			n += l.Len()
		}
	}
	return n
}

// problem is a set given by winding numbers of curves.
type problem struct {
	op       string
	in       func(windings) bool // which windings belong to the set
	build    func(*arrangement)  // adds the curves
	box      Rect                // holds all curves
	size     int                 // about how many there are
	negative string              // why a winding below 0 is wrong; empty if it is not
}

// attempts are the weld distances tried one after the other, as multiples of the usual one,
// until the graph is consistent.
var attempts = [...]float64{1, 8, 1.0 / 8, 64}

// solve returns the regions of a problem. If the windings of an attempt contradict each
// other, its links are cut and welded once more, since welding may have moved one across
// another; then the next weld distance is tried.
func solve(p problem) ([]Region, error) {
	if p.box.IsEmpty() {
		return nil, nil
	}
	reach := max(-p.box.Lo.X, -p.box.Lo.Y, p.box.Hi.X, p.box.Hi.Y)
	if !(reach <= MaxCoord) {
		return nil, &Failure{Op: p.op, At: p.box.Center(), Why: "coordinates beyond 1e7 mm"}
	}
	last := &Failure{Op: p.op}
	for _, k := range attempts {
		ar := newArrangement(k*weldFor(reach), p.size)
		p.build(ar)
		for round := range 3 {
			if round > 0 {
				ar = ar.again()
			}
			before := ar.signedArea()
			ar.meetAll()
			ar.cut()
			ar.connect()
			at, ok := ar.wind()
			if !ok || ar.misfit {
				last.At, last.Why = at, "boundaries cross too flatly or too often to be told apart"
				continue
			}
			if ar.doubtful && round < 2 {
				continue
			}
			if after := ar.linkedArea(); !(math.Abs(after.area-before.area) <= 16*ar.tol*before.length) {
				last.At, last.Why = p.box.Center(), "features are smaller than the weld distance"
				break
			}
			if p.negative != "" && ar.anyNegative() {
				if bad := ar.chain(func(w windings) bool { return w.a < 0 || w.b < 0 }); len(bad) > 0 {
					return nil, &Failure{Op: p.op, At: bad[0].Outer.Vertex(0).P, Why: p.negative}
				}
			}
			return ar.chain(p.in), nil
		}
	}
	return nil, last
}

func (ar *arrangement) anyNegative() bool {
	for i := range ar.links {
		l := &ar.links[i]
		if l.dead {
			continue
		}
		if r := l.left.minus(l.rise); min(l.left.a, l.left.b, r.a, r.b) < 0 {
			return true
		}
	}
	return false
}

// again returns an arrangement of the links.
func (ar *arrangement) again() *arrangement {
	to := newArrangement(ar.tol, len(ar.links))
	for _, p := range ar.pts {
		to.junction(p)
	}
	for i := range ar.links {
		l := &ar.links[i]
		if l.dead {
			continue
		}
		if l.bulge == 0 {
			to.addLine(l.u, l.v, l.rise)
			continue
		}
		s := Seg{A: ar.pts[l.u], B: ar.pts[l.v], Bulge: l.bulge}
		if !s.IsArc() {
			to.addLine(l.u, l.v, l.rise)
			continue
		}
		to.addArc(l.u, l.v, s.Center(), s.Radius(), l.bulge > 0, math.Abs(l.bulge) > 1, l.rise)
	}
	return to
}

// measure is the area under curves, counted as often as the winding rises over them, and
// their length: a sum that cutting and welding must not change.
type measure struct{ area, length float64 }

func (m *measure) add(p, q, o r2.Point, b float64, rise windings) {
	p, q = sub2(p, o), sub2(q, o)
	d := sub2(q, p)
	n2 := d.X*d.X + d.Y*d.Y
	a := cross2(p, q) / 2
	n := math.Sqrt(n2)
	if b != 0 {
		a += n2 * bulgeArea(b)
		n += n * math.Abs(b)
	}
	// The two operands are weighed differently, so that an error in one cannot hide an
	// error in the other.
	m.area += a * (float64(rise.a) + 0.7*float64(rise.b))
	m.length += n
}

func (ar *arrangement) signedArea() (m measure) {
	for i := range ar.strands {
		s := &ar.strands[i]
		b := 0.0
		if !s.line {
			b = s.bulgeBetween(s.a, s.b)
		}
		m.add(s.a, s.b, ar.strands[0].a, b, s.rise)
	}
	return m
}

func (ar *arrangement) linkedArea() (m measure) {
	for i := range ar.links {
		l := &ar.links[i]
		if !l.dead {
			m.add(ar.pts[l.u], ar.pts[l.v], ar.strands[0].a, l.bulge, l.rise)
		}
	}
	return m
}
