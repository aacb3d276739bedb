package geom

import (
	"errors"
	"fmt"

	"github.com/golang/geo/r2"
)

// NoBend says that a path exists but none with the bend radius was found.
type NoBend struct {
	Bend float64  // mm
	At   r2.Point // the corner that could not be rounded
}

// Error says which bend radius cannot be kept, and where.
func (n *NoBend) Error() string {
	return fmt.Sprintf("path: no way was found with bends of radius %.6g mm; it fails at (%.6g, %.6g)", n.Bend, n.At.X, n.At.Y)
}

const (
	maxRounds  = 64   // searches for one path with a bend radius
	kink       = 1e-4 // rad; smaller turns do not count as bends
	bendSpread = 1e-6 // mm by which a radius may fall short by rounding
)

// bent returns a path with a bend radius, see [Field.Path].
//
// The disc of radius r that covers a corner touches it in the middle of the bend: about the
// centre c + (ρ-r)·n, n the normal there and ρ the post's radius. It holds the disc of the
// post, which is no longer part of the boundary; what it adds to the boundary is of radius
// r, and unions make hollow corners only. So every round does away with a post, and paths
// that meet none of the others keep all clearances and bend no tighter than r.
func (f *Field) bent(from, to []terminal, a, b []r2.Point, opt PathOptions) (Path, error) {
	r, err := f.route(a, b)
	if err != nil {
		return Path{}, err
	}
	g := f
	solid := append([]Region(nil), f.solid...)
	var failed error
	for round := 0; failed == nil; round++ {
		tight := r.tight(g, opt.Bend)
		if len(tight) == 0 {
			break
		}
		if round == maxRounds {
			failed = &NoBend{Bend: opt.Bend, At: g.posts[tight[0].post].c}
			break
		}
		var discs []Region
		for _, t := range tight {
			p := &g.posts[t.post]
			mid := p.normal((t.in + t.out) / 2)
			if p.full { // round the other way
				d, _ := p.along(t.in, t.out, t.turn)
				mid = p.normal(t.in + float64(t.turn)*d/2)
			}
			c := p.c.Add(mid.Mul(p.r - opt.Bend))
			disc := RegionOf(Circle(c, opt.Bend-f.slack))
			if disc.IsEmpty() || holdsAny(disc, a) || holdsAny(disc, b) {
				failed = &NoBend{Bend: opt.Bend, At: p.c}
			}
			discs = append(discs, disc)
		}
		if failed != nil {
			break
		}
		if solid, err = UnionAll(solid, discs); err != nil {
			return Path{}, err
		}
		if g, err = f.with(solid); err != nil {
			return Path{}, err
		}
		r, err = g.routeOnly(a, b)
		if err != nil {
			if !errors.Is(err, errShut) {
				return Path{}, err
			}
			failed = &NoBend{Bend: opt.Bend, At: g.posts[0].c}
		}
	}
	if failed == nil && g == f {
		return r.path(g, from, to), nil
	}
	wide, err := f.wider(opt.Bend)
	if err != nil {
		return Path{}, err
	}
	if !coveredAny(wide, a) && !coveredAny(wide, b) {
		q, err := wide.routeOnly(a, b)
		if err == nil && (failed != nil || q.length < r.length) {
			return q.path(wide, from, to), nil
		}
		if err != nil && !errors.Is(err, errShut) {
			return Path{}, err
		}
	}
	if failed != nil {
		return Path{}, failed
	}
	return r.path(g, from, to), nil
}

// tight returns the bends of the route that are tighter than the radius.
func (r *route) tight(f *Field, radius float64) []bend {
	var out []bend
	for _, b := range r.bends {
		p := &f.posts[b.post]
		if d, _ := p.along(b.in, b.out, b.turn); d > kink && p.r < radius-bendSpread {
			out = append(out, b)
		}
	}
	return out
}

func holdsAny(r Region, ps []r2.Point) bool {
	for _, p := range ps {
		if r.locate(p) == within {
			return true
		}
	}
	return false
}

func coveredAny(f *Field, ps []r2.Point) bool {
	for _, p := range ps {
		if f.covered(p) {
			return true
		}
	}
	return false
}

// with returns a field with other regions that paths must not enter.
func (f *Field) with(solid []Region) (*Field, error) {
	g := &Field{obstacles: f.obstacles, slack: f.slack, bounded: f.bounded, limits: f.limits, solid: solid}
	return g, g.settle(nil)
}

// wider returns the field with no clearance below c. The last few are kept: paths of one
// bend radius follow each other.
func (f *Field) wider(c float64) (*Field, error) {
	f.wides.Lock()
	defer f.wides.Unlock()
	for _, w := range f.wides.kept {
		if w.c == c {
			return w.field, w.err
		}
	}
	g, err := f.widened(c)
	if len(f.wides.kept) == maxWide {
		f.wides.kept = f.wides.kept[1:]
	}
	f.wides.kept = append(f.wides.kept, wide{c, g, err})
	return g, err
}

// maxWide is how many wider fields one field keeps.
const maxWide = 4

type wide struct {
	c     float64
	field *Field
	err   error
}

func (f *Field) widened(c float64) (*Field, error) {
	g := &Field{obstacles: append([]Keep(nil), f.obstacles...)}
	for i := range g.obstacles {
		g.obstacles[i].Clearance = max(c, g.obstacles[i].Clearance)
	}
	return g, g.grow()
}
