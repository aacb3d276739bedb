package geom

import (
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// tilted is the question how a convex body k and an upright one u lie, u's plan concave
// or with holes. Distances are those of the core of k; its ball is taken off after.
type tilted struct {
	k      *convex
	plan   []Region
	z      r1.Interval
	lo, hi r3.Vector // box of k's core
	below  float64   // square of the gap in height

	best  float64 // the least distance found
	p, q  r3.Vector
	exact bool
	tries int
	most  int
	flat  float64 // mm: an arc so near its chord counts as reached
}

const (
	arcFlat  = 2e-8 // mm: the first tolerance for arcs
	arcTries = 2500 // walls measured at the first tolerance; four times as many at the next
)

// distance finds the distance between the core of k and u and a nearest pair p, q.
//
// Let F(x) be the distance of the core from the upright line over the plan point x,
// between the heights of u. F is convex, because it is the distance from a convex set
// to lines that move linearly, and the distance sought is its least value over the plan
// P. Let s minimise F over the whole plane: the plan of a point of the core nearest to
// the slab between u's heights. If P holds s, F(s) is the answer. Otherwise a least
// value over P is found on the boundary of P, for on the way from s to any x in P, F
// does not exceed F(x), and the way crosses the boundary.
//
// So what is left is the least distance from the core to the walls over the boundary
// pieces. A straight piece has a rectangle for a wall, which is convex. An arc is
// searched by branch and bound: the wall over the hull of a part of the arc, a slice
// between arc and chord, is convex, and its distance bounds that of the part from below.
// If the nearest point of the hull lies in P or within a tolerance of the arc, the bound
// is reached and the part is done; else it is halved, which quarters its height over the
// chord. Parts that cannot beat the best by more than the tolerance are dropped. So the
// error is at most that of the convex search, gjkGap, plus the tolerance.
//
// The tolerance is small at first. Where much of an arc is nearly as near as the nearest
// of it (the tip of a leaning body right on the axis of a hole), that takes too many
// parts; then all is done again with a wider one. exact is false once it exceeds the
// promised 1e-6 mm.
func (t *tilted) distance() {
	t.exact = true
	ball := r3.Vector{X: t.k.radius, Y: t.k.radius, Z: t.k.radius}
	t.lo, t.hi = t.k.box.Lo.Add(ball), t.k.box.Hi.Sub(ball)
	if t.k.kind == corePoint && len(t.k.slides) == 0 {
		t.point()
		return
	}
	t.most = arcTries
	for t.flat = arcFlat; ; t.flat *= 6.5 {
		if t.flat > 1 {
			t.most = math.MaxInt // an arc has few parts at this tolerance
		}
		t.best, t.tries = math.Inf(1), 0
		if t.search(); t.tries < t.most {
			break
		}
		t.most *= 4
	}
	t.exact = t.exact && t.flat+gjkGap <= 1e-6
}

func (t *tilted) search() {
	k := t.k
	up := mulCols(k.rot, k.support(mulRows(k.rot, r3.Vector{Z: 1}))).Add(k.at)
	down := mulCols(k.rot, k.support(mulRows(k.rot, r3.Vector{Z: -1}))).Add(k.at)
	var s r3.Vector
	gap, zq := 0.0, 0.0
	switch {
	case down.Z >= t.z.Hi:
		s, gap, zq = down, down.Z-t.z.Hi, t.z.Hi
	case up.Z <= t.z.Lo:
		s, gap, zq = up, t.z.Lo-up.Z, t.z.Lo
	default:
		lo, hi := max(down.Z, t.z.Lo), min(up.Z, t.z.Hi)
		zq = lo + (hi-lo)/2
		w := 0.0
		if up.Z > down.Z {
			w = (zq - down.Z) / (up.Z - down.Z)
		}
		s = down.Add(up.Sub(down).Mul(max(0, min(1, w))))
	}
	t.below = gap * gap
	for i := range t.plan {
		r := &t.plan[i]
		if r.Outer.d == nil {
			continue
		}
		if r.Contains(r2.Point{X: s.X, Y: s.Y}) {
			t.best, t.p, t.q = gap, s, r3.Vector{X: s.X, Y: s.Y, Z: zq}
			return
		}
	}
	for i := range t.plan {
		r := &t.plan[i]
		if r.Outer.d == nil {
			continue
		}
		t.walls(r, r.Outer.d, func(w wall) { t.part(r, w, t.gap(w)) })
		for _, h := range r.Holes {
			if h.d != nil {
				t.walls(r, h.d, func(w wall) { t.part(r, w, t.gap(w)) })
			}
		}
	}
}

// walls calls do for the pieces of a loop whose walls may be nearer than the best, the
// nearer boxes first.
func (t *tilted) walls(r *Region, l *loopData, do func(wall)) {
	l.ready()
	var stack [2 * stackSize]nodePair
	box := box4{t.lo.X, t.lo.Y, t.hi.X, t.hi.Y}
	near := func(i int32) float64 { return l.nodes[i].box.dist2(&box) + t.below }
	stack[0] = nodePair{i: 0, d2: near(0)}
	for top := 1; top > 0; {
		top--
		if s := stack[top].d2; s > 0 && !(s < t.best*t.best) {
			continue
		}
		i := stack[top].i
		n := &l.nodes[i]
		if n.right == 0 {
			for p := n.first; p < n.first+n.count; p++ {
				b := l.pieces[p].box()
				if d2 := b.dist2(&box) + t.below; d2 == 0 || d2 < t.best*t.best {
					do(wallOf(&l.pieces[p]))
				}
			}
			continue
		}
		a, b := nodePair{i: i + 1, d2: near(i + 1)}, nodePair{i: n.right, d2: near(n.right)}
		if a.d2 < b.d2 {
			a, b = b, a
		}
		stack[top], stack[top+1] = a, b
		top += 2
	}
}

type wallGap struct {
	d    float64
	p, q r3.Vector // on k and on the wall, in space
}

// gap measures the core against the hull of a wall.
func (t *tilted) gap(w wall) wallGap {
	t.tries++
	mid := r2.Point{X: w.ax + (w.bx-w.ax)/2, Y: w.ay + (w.by-w.ay)/2}
	side := convex{kind: coreWall, wall: w, mid: mid}
	side.rot = Pose3{}.columns()
	side.half.Z = (t.z.Hi - t.z.Lo) / 2
	side.at = r3.Vector{X: mid.X, Y: mid.Y, Z: t.z.Lo + side.half.Z}
	side.reach = math.Hypot(math.Hypot(w.bx-w.ax, w.by-w.ay), side.half.Z)
	m := differenceOf(t.k, &side)
	v, p, low, how := m.nearest()
	g := wallGap{p: mulCols(t.k.rot, p).Add(t.k.at)}
	if how == cameTogether {
		g.q = g.p
		return g
	}
	g.d = v.Norm()
	if how == cameUnsure && g.d-low > gjkPoor {
		t.exact = false
		g.d = low
	}
	g.q = g.p.Sub(mulCols(t.k.rot, v))
	return g
}

// part takes a wall, or a part of an arc's, into account whose hull is g away.
func (t *tilted) part(r *Region, w wall, g wallGap) {
	if !(g.d < t.best-t.flat) || t.tries >= t.most {
		return
	}
	reached := w.r == 0 || w.sagitta() <= t.flat
	if !reached {
		x, y := g.q.X-w.cx, g.q.Y-w.cy
		reached = math.Abs(math.Sqrt(x*x+y*y)-w.r) <= t.flat && w.facing(x, y) ||
			r.Contains(r2.Point{X: g.q.X, Y: g.q.Y})
	}
	if reached {
		t.best, t.p, t.q = g.d, g.p, g.q
		return
	}
	a, b := w.halves()
	ga, gb := t.gap(a), t.gap(b)
	if gb.d < ga.d {
		a, b, ga, gb = b, a, gb, ga
	}
	t.part(r, a, ga)
	t.part(r, b, gb)
}

// wall is a line or an arc of at most a quarter turn in plan; over it stands the wall.
type wall struct {
	ax, ay, bx, by float64
	cx, cy, r      float64 // r is 0 for a line
	ccw            bool
}

func wallOf(p *piece) wall { return wall{p.ax, p.ay, p.bx, p.by, p.cx, p.cy, p.r, p.ccw} }

// sagitta is the height of the arc over its chord: c²/8r, a little more for wide arcs.
func (w *wall) sagitta() float64 {
	dx, dy := w.bx-w.ax, w.by-w.ay
	c2 := dx*dx + dy*dy
	return c2 / (4 * (w.r + math.Sqrt(max(0, w.r*w.r-c2/4))))
}

// facing reports whether the ray from the centre along (x, y) meets the arc.
func (w *wall) facing(x, y float64) bool {
	ux, uy, vx, vy := w.ax-w.cx, w.ay-w.cy, w.bx-w.cx, w.by-w.cy
	if !w.ccw {
		ux, uy, vx, vy = vx, vy, ux, uy
	}
	return ux*y-uy*x >= 0 && x*vy-y*vx >= 0
}

// halves splits an arc in the middle.
func (w *wall) halves() (a, b wall) {
	x, y := (w.ax-w.cx)+(w.bx-w.cx), (w.ay-w.cy)+(w.by-w.cy)
	k := w.r / math.Sqrt(x*x+y*y)
	a, b = *w, *w
	a.bx, a.by = w.cx+k*x, w.cy+k*y
	b.ax, b.ay = a.bx, a.by
	return a, b
}

// support returns the point of the hull of the piece farthest along (x, y).
func (w *wall) support(x, y float64) (px, py float64) {
	if w.r > 0 && w.facing(x, y) {
		if n := math.Sqrt(x*x + y*y); n > 1e-150 {
			return w.cx + w.r/n*x, w.cy + w.r/n*y
		}
	}
	if x*(w.bx-w.ax)+y*(w.by-w.ay) > 0 {
		return w.bx, w.by
	}
	return w.ax, w.ay
}

// tiltedGap returns the gap from k to u, b being u.
func tiltedGap(u *Upright, k *convex) Gap3 {
	if k == nil || u.IsEmpty() {
		return Gap3{Dist: math.Inf(1)}
	}
	if k.upright != nil {
		return uprightGap(k.upright, u)
	}
	if l := u.convexPlan(); l != nil {
		prism := prismOver(l, u.Z)
		return convexGap(k, &prism)
	}
	t := tilted{k: k, plan: u.Plan, z: u.Z}
	t.distance()
	d := t.best - k.radius
	v := t.q.Sub(t.p)
	n := v.Norm()
	if d > apartFrom && n > 0 {
		push := v.Mul(1 / n)
		return Gap3{Dist: d, Push: push, A: t.p.Add(push.Mul(k.radius)), Exact: t.exact}.settled()
	}
	return t.part3()
}

// point measures a core that is a point: in closed form, from the plan and the heights.
func (t *tilted) point() {
	at := t.k.at
	t.best, t.p, t.q = math.Inf(1), at, at
	for i := range t.plan {
		g := DistancePoint(t.plan[i], r2.Point{X: at.X, Y: at.Y})
		if d := max(0, g.Dist); d < t.best {
			t.best, t.q.X, t.q.Y = d, at.X, at.Y
			if d > 0 {
				t.q.X, t.q.Y = g.A.X, g.A.Y
			}
		}
	}
	t.q.Z = max(t.z.Lo, min(t.z.Hi, at.Z))
	t.best = t.q.Sub(at).Norm()
}

// apartFrom is the distance (mm) from which on bodies are certainly apart: twice the
// tolerance of the search.
const apartFrom = 2 * gjkGap

func separationTilted(a, b Body) float64 {
	var u Upright
	var k *convex
	switch a := a.(type) {
	case Upright:
		if c, ok := b.(Convex); ok {
			u, k = a, c.c
		}
	case Convex:
		switch b := b.(type) {
		case Upright:
			u, k = b, a.c
		case Convex:
			if a.c != nil && b.c != nil {
				return convexSeparation(a.c, b.c)
			}
		}
	}
	if k == nil || u.IsEmpty() {
		return math.Inf(1)
	}
	u.hold()
	if k.upright != nil {
		return uprightSeparation(&u, k.upright, math.Inf(1))
	}
	if l := u.convexPlan(); l != nil {
		prism := prismOver(l, u.Z)
		return convexSeparation(k, &prism)
	}
	t := tilted{k: k, plan: u.Plan, z: u.Z}
	t.distance()
	if d := t.best - k.radius; d > apartFrom {
		return d
	}
	return 0
}
