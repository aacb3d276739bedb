package geom

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"github.com/golang/geo/r2"
)

// pathSlack is the play that paths are given, in mm at coordinates up to 10 m, growing
// with them beyond as the weld distance of set operations does: obstacles are grown by
// that much less when it is asked whether a line runs free. It is ten times the weld
// distance, so that a slot exactly twice the clearance wide stays open, and a tenth of
// the promised error.
const pathSlack = 1e-7

// minClearance is the clearance in mm from which on it is honoured; less counts as 0.
const minClearance = 1e-6

// maxBoundary bounds the pieces of the grown obstacles of a field.
const maxBoundary = 1 << 20

// Keep is one more thing that a path has to heed, with a clearance of its own: a region to
// keep away from, or, if Inside is set, one to stay inside of, that far from its edge and
// from its holes.
type Keep struct {
	Region    Region
	Clearance float64 // mm
	Inside    bool
}

// Field is a set of obstacles made ready for shortest paths round them, see [NewField].
//
// A path may touch the obstacles grown by the clearance, but not enter them. With c the
// clearance and s the slack of 1e-7 mm (1e-11 of the coordinates beyond 10 m), every path
// stays farther than c - s from every obstacle, and is no longer than the shortest path
// that stays c away: its length lies between those of the shortest paths at the
// clearances c - s and c, but for rounding of about 1e-12 of it. So a slot exactly 2c wide
// is open, one narrower than 2c - 2s is shut. With clearance 0 obstacles that share an
// edge are one obstacle, and obstacles that touch in a point leave a way through there.
//
// What is worked out for one query, such as the tangents from one corner, is kept for
// later ones. A Field may be used from several goroutines.
type Field struct {
	obstacles []Keep
	slack     float64
	exact     bool // every clearance is 0: posts stand on the obstacles themselves
	bounded   bool // some Keep has Inside set
	limits    Rect // where paths may be if bounded

	solid []Region // what paths must not enter
	rim   []piece  // boundary of the grown obstacles, for leaving them
	reach float64  // how far the rim lies inside the true one
	posts []post
	sight sight
	fans  []fan
	raw   func() *sight // pieces of the obstacles themselves, their seg the obstacle

	scratch sync.Pool // of *search
	wides   struct {  // see wider
		sync.Mutex
		kept []wide
	}
}

// NewField returns the field of the obstacles, each to be passed at the clearance in mm,
// and of more regions with clearances of their own. Obstacles may overlap, touch or lie
// inside each other; they count as closed sets, loops must not cross themselves. Errors
// and [NoWay.Of] number the obstacles from 0, then the entries of more. Clearances below
// 1e-6 mm count as 0. Obstacles or parts of them thinner than 2e-7 mm do not stop a path
// at clearance 0. No obstacle at all is fine.
//
// It fails with a [*Failure] if a clearance is negative, not finite or beyond 1e7, if a
// region cannot be grown (see [Offset]), or if the grown boundary has more than 2^20
// pieces.
func NewField(obstacles []Region, clearance float64, more ...Keep) (*Field, error) {
	f := &Field{}
	for _, r := range obstacles {
		f.obstacles = append(f.obstacles, Keep{Region: r, Clearance: clearance})
	}
	f.obstacles = append(f.obstacles, more...)
	if err := f.grow(); err != nil {
		return nil, err
	}
	return f, nil
}

// grow works out the field of its obstacles.
func (f *Field) grow() error {
	const op = "field"
	all := EmptyRect()
	f.exact = true
	reach := 0.0
	for i := range f.obstacles {
		k := &f.obstacles[i]
		if !(k.Clearance >= 0 && k.Clearance <= MaxCoord) {
			return &Failure{Op: op, At: k.Region.Bound().Center(), Why: fmt.Sprintf("the clearance of obstacle %d is negative, not finite or beyond 1e7 mm", i)}
		}
		if k.Clearance < minClearance {
			k.Clearance = 0
		} else {
			f.exact = false
		}
		all = all.Union(k.Region.Bound())
		reach = math.Max(reach, k.Clearance)
	}
	if all.IsEmpty() {
		all = Rect{} // a boundary that holds nothing still shuts out everything
	}
	m := math.Max(math.Max(-all.Lo.X, -all.Lo.Y), math.Max(all.Hi.X, all.Hi.Y)) + reach
	f.slack = pathSlack * math.Max(1, m/1e4)
	frame := all.Expand(2*reach + f.margin())
	groups, err := f.groups(frame)
	if err != nil {
		return err
	}
	var base []Region // the obstacles themselves, for exact posts
	if f.exact {
		if base, err = UnionAll(groups[0].of); err == nil {
			f.solid, err = Offset(base, -f.slack)
		}
	} else {
		var sets [][]Region
		for _, g := range groups {
			s, err := Offset(g.of, g.clearance-f.slack)
			if err != nil {
				return err
			}
			sets = append(sets, s)
		}
		if len(sets) == 1 {
			f.solid = sets[0]
		} else {
			f.solid, err = UnionAll(sets...)
		}
	}
	if err != nil {
		return err
	}
	return f.settle(base)
}

// settle makes the posts and the trees of the field from f.solid and, if exact, base.
func (f *Field) settle(base []Region) error {
	if n := 3 * (countAll(f.solid) + countAll(base)); n > maxBoundary {
		return &Failure{Op: "field", At: boundAll(f.solid).Center(), Why: fmt.Sprintf("the grown obstacles have more than %d pieces", maxBoundary/3)}
	}
	var walls []piece
	f.eachLoop(f.solid, func(l Loop) { walls = append(walls, l.d.ready().pieces...) })
	f.sight.build(walls)
	extra := f.slack
	from := f.solid
	f.rim, f.reach = walls, f.slack
	if f.exact {
		extra, from, f.rim, f.reach = 0, base, nil, 0
		f.eachLoop(base, func(l Loop) { f.rim = append(f.rim, l.d.ready().pieces...) })
	}
	f.eachLoop(from, func(l Loop) { f.posts = appendPosts(f.posts, l, extra, f.slack) })
	f.fans = make([]fan, len(f.posts))
	f.raw = sync.OnceValue(f.rawSight)
	f.scratch.New = func() any { return new(search) }
	return nil
}

// rawSight makes the tree over the obstacles.
func (f *Field) rawSight() *sight {
	var raw []piece
	for i := range f.obstacles {
		for l := range f.obstacles[i].Region.Loops() {
			if l.d == nil {
				continue
			}
			k := len(raw)
			raw = append(raw, l.d.ready().pieces...)
			for ; k < len(raw); k++ {
				raw[k].seg = int32(i) // the owner
			}
		}
	}
	s := new(sight)
	s.build(raw)
	return s
}

// eachLoop calls yield with the loops of the regions but for the outer edge of the frame
// that stands for all that lies outside of a bounded field.
func (f *Field) eachLoop(rs []Region, yield func(Loop)) {
	for i := range rs {
		for l := range rs[i].Loops() {
			if b := l.Bound(); f.bounded && b.Lo.X < f.limits.Lo.X && b.Hi.X > f.limits.Hi.X {
				continue
			}
			yield(l)
		}
	}
}

// margin is the width in mm of the frame's rim.
func (f *Field) margin() float64 { return math.Max(1, 8*f.slack) }

type group struct {
	clearance float64
	of        []Region
}

// groups sorts the obstacles by clearance. What must be stayed inside of becomes the
// frame with that region cut out.
func (f *Field) groups(frame Rect) ([]group, error) {
	var gs []group
	put := func(c float64, rs ...Region) {
		for i := range gs {
			if gs[i].clearance == c { // as given, not computed
				gs[i].of = append(gs[i].of, rs...)
				return
			}
		}
		gs = append(gs, group{c, rs})
	}
	f.limits = frame
	for i := range f.obstacles {
		k := &f.obstacles[i]
		switch {
		case k.Inside:
			f.bounded = true
			size := frame.Size()
			rest := Rectangle(frame.Center(), size.X, size.Y)
			if rest.IsEmpty() {
				return nil, &Failure{Op: "field", At: frame.Center(), Why: "a boundary lies too far out"}
			}
			out, err := Difference([]Region{{Outer: rest}}, []Region{k.Region})
			if err != nil {
				return nil, err
			}
			put(k.Clearance, out...)
		case !k.Region.IsEmpty():
			put(k.Clearance, k.Region)
		}
	}
	if f.bounded {
		// Between the grown obstacles and the outer edge of the frame, grown or shrunk.
		f.limits = frame.Expand(-f.margin() / 2)
	}
	if len(gs) == 0 {
		gs = append(gs, group{})
	}
	slices.SortStableFunc(gs, func(a, b group) int {
		switch {
		case a.clearance < b.clearance:
			return -1
		case a.clearance > b.clearance:
			return 1
		}
		return 0
	})
	return gs, nil
}

// covered reports whether p lies inside the grown obstacles or outside the field.
func (f *Field) covered(p r2.Point) bool {
	if f.bounded && !f.limits.Contains(p) {
		return true
	}
	for i := range f.solid {
		r := &f.solid[i]
		if b := &r.Outer.d.box; p.X < b.lx || p.X > b.hx || p.Y < b.ly || p.Y > b.hy {
			continue
		}
		if r.locate(p) == within {
			return true
		}
	}
	return false
}

// Corners returns the number of convex arcs and corners of the grown obstacles, which
// paths can bend round.
func (f *Field) Corners() int { return len(f.posts) }
