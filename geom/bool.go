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

// solve returns the regions of a problem. If an attempt contradicts itself or the curves,
// the next weld distance is tried.
func solve(p problem) ([]Region, error) {
	if p.box.IsEmpty() {
		return nil, nil
	}
	reach := max(-p.box.Lo.X, -p.box.Lo.Y, p.box.Hi.X, p.box.Hi.Y)
	if !(reach <= MaxCoord) {
		return nil, &Failure{Op: p.op, At: p.box.Center(), Why: "coordinates beyond 1e7 mm"}
	}
	var last *Failure
	for _, k := range attempts {
		ar := newArrangement(k*weldFor(reach), p.size)
		p.build(ar)
		rs, clear, err := p.attempt(ar)
		if err == nil {
			return rs, nil
		}
		if last = err; err.Why == p.negative && clear {
			break
		}
	}
	return nil, last
}

// maxSettle is how often an arrangement is made of its own links until it is settled.
const maxSettle = 12

const tooFlat = "boundaries cross too flatly or too often to be told apart"

// attempt solves a problem by an arrangement of its curves, which it releases. As long as
// that is not settled, since welding may have moved a link across another, its links are
// cut and welded once more. It tells too whether it was settled from the start.
func (p *problem) attempt(ar *arrangement) (rs []Region, clear bool, _ *Failure) {
	fail := &Failure{Op: p.op}
	change := 0.0
	first := ar
	defer func() {
		ar.release()
		if first != ar {
			first.release()
		}
	}()
	for round := range maxSettle {
		if round > 0 {
			old := ar
			ar = old.again(round)
			if old != first {
				old.release()
			}
		}
		ar.meetAll()
		ar.cut()
		ar.connect()
		change += ar.areaChange()
		if !(math.Abs(change) <= 16*ar.tol*ar.length) {
			fail.At, fail.Why = p.box.Center(), "features are smaller than the weld distance"
			break
		}
		at, settled := ar.settled()
		if !settled {
			fail.At, fail.Why = at, tooFlat
			continue
		}
		at, ok := ar.wind()
		if !ok {
			fail.At, fail.Why = at, tooFlat
			break
		}
		clear = round == 0
		if p.negative != "" && ar.anyNegative() {
			if bad := ar.chain(func(w windings) bool { return w.a < 0 || w.b < 0 }); len(bad) > 0 {
				fail.At, fail.Why = bad[0].Outer.Vertex(0).P, p.negative
				break
			}
		}
		rs = ar.chain(p.in)
		if ar.torn {
			fail.At, fail.Why = ar.tornAt, tooFlat
			break
		}
		lines := certifyFew
		if !clear {
			lines = certifyMany
		}
		if at, ok := first.certify(rs, p.in, lines); !ok {
			fail.At, fail.Why = at, "the result contradicts the operands"
			break
		}
		return rs, clear, nil
	}
	return nil, clear, fail
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

// again returns an arrangement of the links, for another round. In later rounds links of
// a few weld distances are welded to a point: nodes so far apart, but each near the
// links of the others, would else cut these back and forth for ever.
func (ar *arrangement) again(round int) *arrangement {
	to := newArrangement(ar.tol, len(ar.strands))
	to.short = ar.tol * float64(min((1+round)/2, 4))
	for _, p := range ar.nodes {
		to.fixed[to.junction(p)] = true
	}
	for i := range ar.links {
		l := &ar.links[i]
		if l.dead {
			continue
		}
		u := l.u
		for k := l.s; k <= l.t; k++ {
			p, q, b := ar.part(l, k)
			v := l.v
			if k < l.t {
				v = to.junction(q)
			}
			// An arc whose end was welded to a node just beyond its extreme of x is left
			// so: cut there once more it would never settle.
			if s := (Seg{A: p, B: q, Bulge: b}); s.IsArc() && b > 0 {
				to.addMonotone(u, v, s.Center(), s.Radius(), l.rise)
			} else if s.IsArc() {
				to.addMonotone(v, u, s.Center(), s.Radius(), l.rise.neg())
			} else {
				to.addLine(u, v, l.rise)
			}
			u = v
		}
	}
	return to
}
