package geom

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Path is a way through the plane: lines and arcs, each beginning where the last one ended.
// The zero value is the way that stays where it is.
type Path struct {
	Segs   []Seg
	Length float64 // mm
	// Inside holds the indices of those Segs that run inside the clearance of an obstacle:
	// the straight ways out of it at a terminal or waypoint that lies inside, in order.
	Inside []int
}

// PathOptions are what a path has to heed besides the field. The zero value asks for
// nothing.
type PathOptions struct {
	// Via are points to pass in this order. The path may turn sharply there.
	Via []r2.Point
	// Bend is the least radius of the path's bends in mm, see [Field.Path]; 0 for any.
	Bend float64
	// Strict refuses terminals and waypoints inside the clearance, with a *Covered.
	Strict bool
}

// Covered says that a terminal or waypoint lies inside an obstacle or its clearance, and
// may not, or that no straight way leads out.
type Covered struct {
	At  r2.Point
	Why string
}

// Error says which end lies covered, and why no way leads out.
func (c *Covered) Error() string {
	return fmt.Sprintf("path: (%.6g, %.6g) %s", c.At.X, c.At.Y, c.Why)
}

// Path returns the shortest path from a to b that heeds the clearances, by way of opt.Via.
// It enters no obstacle's clearance by more than 1e-7 mm (see [Field]), is never shorter
// than the straight line, and its length errs by less than 1e-6 mm from the shortest for
// paths of up to 10 m that turn up to 10 rad. If a and b are equal the path has no segments; shorter segments than 1e-9 mm are left out.
// Of several shortest paths the same one is returned every time.
//
// A terminal or waypoint inside the clearance of an obstacle, or inside the obstacle, first
// takes the shortest straight way out that crosses no obstacle but those that hold it; the
// points looked at are the feet on, and the ends of, the lines and arcs of the grown
// boundary. Path.Inside names these segments. With opt.Strict this is an error of type
// [*Covered].
//
// With a bend radius the path runs without kinks but at waypoints and where it leaves or
// enters a clearance, and all its arcs have at least that radius. To find the shortest such
// curve is NP-hard (Reif, Wang 1998, The complexity of the two dimensional
// curvature-constrained shortest-path problem). What is found is the shortest path round
// more obstacles: each corner that a path would bend round too tightly is covered by a disc
// of that radius which touches the corner from inside, until no such corner is met. If that
// is longer than the shortest path at the clearance max(c, opt.Bend), or not found, the
// latter is taken. So its length lies between those of the shortest paths at the clearances
// c and max(c, opt.Bend); it is the shortest there is if the shortest path for any bend has
// no tighter bend. Turns of less than 1e-4 rad do not count as bends.
//
// It fails with a [*NoWay] if there is no path, a [*NoBend] if there is one but none was
// found with the bend radius, and a [*Failure] if a point or radius is not finite or beyond
// 1e7, or the search grows too large.
func (f *Field) Path(a, b r2.Point, opt PathOptions) (Path, error) {
	points := make([]r2.Point, 0, len(opt.Via)+2)
	points = append(append(append(points, a), opt.Via...), b)
	if err := f.check(points, opt.Bend); err != nil {
		return Path{}, err
	}
	var p Path
	for i := 1; i < len(points); i++ {
		leg, err := f.between(points[i-1:i], points[i:i+1], opt)
		if err != nil {
			return Path{}, err
		}
		p.add(leg)
	}
	p.Length = max(p.Length, dist(a, b)) // sums round
	return p, nil
}

// Length returns the length of Path(a, b, PathOptions{}), in mm. It does not allocate but
// for working memory, which is kept.
func (f *Field) Length(a, b r2.Point) (float64, error) {
	if !usable(a) || !usable(b) {
		return 0, f.check([]r2.Point{a, b}, 0)
	}
	if a == b {
		return 0, nil
	}
	if f.covered(a) || f.covered(b) || f.settled(a) != a || f.settled(b) != b {
		p, err := f.Path(a, b, PathOptions{})
		return p.Length, err
	}
	s := f.newSearch()
	defer f.scratch.Put(s)
	s.starts, s.ends = append(s.starts, a), append(s.ends, b)
	k, err := s.run()
	if err != nil {
		return 0, err
	}
	if k < 0 {
		return 0, f.noWay([]r2.Point{a}, []r2.Point{b})
	}
	return max(s.steps[k].g, dist(a, b)), nil
}

// Nearest returns the shortest path from any of the starts to any of the ends, as Path
// does.
func (f *Field) Nearest(starts, ends []r2.Point, opt PathOptions) (Path, error) {
	if len(starts) == 0 || len(ends) == 0 {
		return Path{}, &Failure{Op: "path", Why: "there is no start or no end"}
	}
	if err := f.check(append(append(append([]r2.Point(nil), starts...), ends...), opt.Via...), opt.Bend); err != nil {
		return Path{}, err
	}
	if len(opt.Via) == 0 {
		return f.between(starts, ends, opt)
	}
	// By way of one point the two halves are independent.
	via := opt.Via
	p, err := f.between(starts, via[:1], opt)
	for i := 1; i < len(via) && err == nil; i++ {
		var leg Path
		leg, err = f.between(via[i-1:i], via[i:i+1], opt)
		p.add(leg)
	}
	if err == nil {
		var leg Path
		leg, err = f.between(via[len(via)-1:], ends, opt)
		p.add(leg)
	}
	if err != nil {
		return Path{}, err
	}
	return p, nil
}

func usable(p r2.Point) bool { return math.Abs(p.X) <= MaxCoord && math.Abs(p.Y) <= MaxCoord }

func (f *Field) check(points []r2.Point, bend float64) error {
	for _, p := range points {
		if !usable(p) {
			if x := p.X + p.Y; math.IsNaN(x) || math.IsInf(x, 0) {
				p = r2.Point{} // no place to name
			}
			return &Failure{Op: "path", At: p, Why: "a coordinate is not finite or lies beyond 1e7 mm"}
		}
	}
	if !(bend >= 0 && bend <= MaxCoord) {
		return &Failure{Op: "path", Why: "the bend radius is negative, not finite or beyond 1e7 mm"}
	}
	return nil
}

func (p *Path) add(q Path) {
	for _, k := range q.Inside {
		p.Inside = append(p.Inside, len(p.Segs)+k)
	}
	p.Segs = append(p.Segs, q.Segs...)
	p.Length += q.Length
}

// A terminal is a start or an end: the point, and where it is clear of obstacles.
type terminal struct {
	at, clear r2.Point
	covered   bool
}

// terminals leads each point out of the clearance.
func (f *Field) terminals(points []r2.Point, strict bool) ([]terminal, []r2.Point, error) {
	ts := make([]terminal, len(points))
	clear := make([]r2.Point, len(points))
	for i, p := range points {
		var q r2.Point
		covered := f.covered(p)
		if !covered {
			q = f.settled(p)
		} else {
			if strict {
				return nil, nil, &Covered{At: p, Why: "lies inside the clearance of an obstacle"}
			}
			var ok bool
			if q, ok = f.wayOut(p); ok {
				q = f.settled(q)
			} else {
				return nil, nil, &Covered{At: p, Why: "lies inside an obstacle's clearance and no straight way leads out"}
			}
		}
		ts[i], clear[i] = terminal{p, q, covered}, q
	}
	return ts, clear, nil
}

// settled returns p, or if it lies within the slack of what paths must not enter, a point
// near it that does not: there the tangents to the nearest posts may run through hollow
// corners.
//
// It is pushed along the sum of the outward normals of all pieces that are near, so far
// that it is clear of their tangents; in a hollow corner of the angle θ that is the slack
// over sin(θ/2). Corners so sharp that it would be 10⁴ slacks are left alone.
func (f *Field) settled(p r2.Point) r2.Point {
	const enough = 1 - 1e-6
	q := p
	for range 16 {
		d2, c := f.sight.nearest(q, 4*f.slack*f.slack)
		if c == nil {
			// In a channel no wider than the slack both its sides push, and the push may have
			// gone through the wall at its end.
			if f.covered(q) {
				return p
			}
			return q
		}
		x, y, _ := c.foot(q.X, q.Y)
		if n := c.outward(r2.Point{X: x, Y: y}); d2 >= f.slack*f.slack*enough && n.X*(q.X-x)+n.Y*(q.Y-y) > 0 {
			return q
		}
		var u r2.Point
		around := func(yield func(n r2.Point, d float64)) {
			f.sight.eachNear(box4{q.X, q.Y, q.X, q.Y}, 2*f.slack, func(k int32) {
				c := &f.sight.pieces[k]
				x, y, d2 := c.foot(q.X, q.Y)
				if d2 > 4*f.slack*f.slack {
					return
				}
				n := c.outward(r2.Point{X: x, Y: y})
				n = n.Mul(1 / math.Hypot(n.X, n.Y))
				yield(n, n.X*(q.X-x)+n.Y*(q.Y-y))
			})
		}
		around(func(n r2.Point, _ float64) { u = u.Add(n) })
		l := math.Hypot(u.X, u.Y)
		if !(l > 0) {
			return p
		}
		u = u.Mul(1 / l)
		step := 0.0
		around(func(n r2.Point, d float64) {
			step = max(step, (1.2*f.slack-d)/max(1e-9, dot2(n, u)))
		})
		if !(step <= 1e4*f.slack) {
			return p
		}
		q = q.Add(u.Mul(step))
	}
	return p
}

// outward returns a vector across the piece at its point x, to the right.
func (c *piece) outward(x r2.Point) r2.Point {
	if c.r == 0 {
		return r2.Point{X: c.by - c.ay, Y: c.ax - c.bx}
	}
	if c.ccw {
		return r2.Point{X: x.X - c.cx, Y: x.Y - c.cy}
	}
	return r2.Point{X: c.cx - x.X, Y: c.cy - x.Y}
}

// between returns the shortest path from a start to an end.
func (f *Field) between(starts, ends []r2.Point, opt PathOptions) (Path, error) {
	for _, a := range starts {
		if slices.Contains(ends, a) {
			return Path{}, nil
		}
	}
	from, a, err := f.terminals(starts, opt.Strict)
	if err != nil {
		return Path{}, err
	}
	to, b, err := f.terminals(ends, opt.Strict)
	if err != nil {
		return Path{}, err
	}
	if opt.Bend > 0 {
		return f.bent(from, to, a, b, opt)
	}
	r, err := f.route(a, b)
	if err != nil {
		return Path{}, err
	}
	return r.path(f, from, to), nil
}

// A bend is a part of a route along a post.
type bend struct {
	post    int32
	turn    turn
	in, out float64
}

// A route is a found way: the terminals that it joins and the bends between.
type route struct {
	start, end int
	a, b       r2.Point // where it begins and ends
	bends      []bend
	length     float64
}

// errShut says that there is no way, without saying why.
var errShut = errors.New("no way")

// route returns the shortest way from one of a to one of b, none of which is covered.
func (f *Field) route(a, b []r2.Point) (route, error) {
	r, err := f.routeOnly(a, b)
	if errors.Is(err, errShut) {
		err = f.noWay(a, b)
	}
	return r, err
}

// routeOnly is route that fails with errShut if there is no way.
func (f *Field) routeOnly(a, b []r2.Point) (route, error) {
	s := f.newSearch()
	defer f.scratch.Put(s)
	s.starts, s.ends = append(s.starts, a...), append(s.ends, b...)
	k, err := s.run()
	if err != nil {
		return route{}, err
	}
	if k < 0 {
		return route{}, errShut
	}
	w := s.steps[k]
	r := route{end: int(-1 - w.post), length: w.g}
	for w.before >= 0 {
		v := s.steps[w.before]
		r.bends = append(r.bends, bend{post: v.post, turn: v.turn, in: v.in, out: w.out})
		w = v
	}
	r.start = int(-1 - w.before)
	for i, j := 0, len(r.bends)-1; i < j; i, j = i+1, j-1 {
		r.bends[i], r.bends[j] = r.bends[j], r.bends[i]
	}
	r.a, r.b = a[r.start], b[r.end]
	return r, nil
}

// path draws the route, with the ways out of the clearance at its ends.
func (r *route) path(f *Field, from, to []terminal) Path {
	p := Path{Length: r.length}
	at := r.a
	line := func(q r2.Point) {
		if dist(at, q) > Coincident {
			p.Segs = append(p.Segs, Seg{A: at, B: q})
			at = q
		}
	}
	if t := &from[r.start]; dist(t.at, t.clear) > Coincident {
		at = t.at
		line(t.clear)
		if t.covered {
			p.Inside = append(p.Inside, 0)
		}
		p.Length += dist(t.at, t.clear)
	}
	for _, b := range r.bends {
		post := &f.posts[b.post]
		line(post.at(b.in))
		sweep, _ := post.along(b.in, b.out, b.turn)
		n := 1.0
		if sweep > math.Pi {
			n = 2
		}
		for i := 1.0; i <= n; i++ {
			q := post.at(b.in + float64(b.turn)*sweep*i/n)
			if dist(at, q) <= Coincident {
				continue
			}
			p.Segs = append(p.Segs, Seg{A: at, B: q, Bulge: float64(b.turn) * math.Tan(sweep/n/4)})
			at = q
		}
	}
	line(r.b)
	if t := &to[r.end]; dist(t.at, t.clear) > Coincident {
		if t.covered {
			p.Inside = append(p.Inside, len(p.Segs))
		}
		p.Length += dist(at, t.at)
		line(t.at)
	}
	p.Length = max(p.Length, dist(from[r.start].at, to[r.end].at)) // sums round
	return p
}

// wayOut returns the nearest point clear of obstacles to which a straight way leads from a
// covered point without crossing an obstacle that does not hold it.
func (f *Field) wayOut(p r2.Point) (r2.Point, bool) {
	var owners []int32 // of the obstacles that hold p
	for i := range f.obstacles {
		k := &f.obstacles[i]
		if k.Region.Contains(p) != k.Inside {
			owners = append(owners, int32(i))
		}
	}
	free := func(i int) (r2.Point, bool) {
		x, y, _ := f.rim[i].foot(p.X, p.Y)
		q := f.beyond(p, r2.Point{X: x, Y: y}, &f.rim[i])
		return q, !f.covered(q) && !f.crosses(p, q, owners)
	}
	best, at := math.Inf(1), -1
	for i := range f.rim {
		if d := f.rim[i].dist2Point(p.X, p.Y); d < best {
			best, at = d, i
		}
	}
	if at < 0 {
		return r2.Point{}, false
	}
	if q, ok := free(at); ok {
		return q, true
	}
	type candidate struct {
		d float64
		i int
	}
	all := make([]candidate, len(f.rim))
	for i := range f.rim {
		all[i] = candidate{f.rim[i].dist2Point(p.X, p.Y), i}
	}
	slices.SortFunc(all, func(a, b candidate) int {
		if c := compare(a.d, b.d); c != 0 {
			return c
		}
		return a.i - b.i
	})
	for _, c := range all {
		if q, ok := free(c.i); ok {
			return q, true
		}
	}
	return r2.Point{}, false
}

// beyond returns the point of the true rim over the foot of p on the rim that is kept.
func (f *Field) beyond(p, foot r2.Point, c *piece) r2.Point {
	if f.reach == 0 {
		return foot
	}
	u := foot.Sub(p)
	if l := math.Hypot(u.X, u.Y); l > 10*f.reach {
		return foot.Add(u.Mul(f.reach / l))
	}
	u = c.outward(foot) // right of the boundary is outside
	return foot.Add(u.Mul(f.reach / math.Hypot(u.X, u.Y)))
}

// crosses reports whether the line from p to q meets an obstacle but for those listed.
func (f *Field) crosses(p, q r2.Point, but []int32) bool {
	hit := false
	box := box4{min(p.X, q.X), min(p.Y, q.Y), max(p.X, q.X), max(p.Y, q.Y)}
	f.raw().eachNear(box, 0, func(k int32) {
		c := &f.raw().pieces[k]
		if hit || !c.cuts(p, q) {
			return
		}
		for _, i := range but {
			if c.seg == i {
				return
			}
		}
		hit = true
	})
	return hit
}
