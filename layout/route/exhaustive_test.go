package route_test

import (
	"container/heap"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
	"dryfit/layout/route"
)

// A grid is an independent search: every level as a grid of points, a bundle moves between points near each
// other where the line is free, up and down where the column is, and over edges at every point of a fine
// row along them. What it finds is then pulled taut on each level. It never finds what is not there, so that its
// length is one that the router must not exceed by much.
type grid struct {
	s      *route.Space
	r      float64
	levels []gridLevel
	nx, ny int
	free   [][]bool // by level and point
	fields []*geom.Field
	plans  [][]geom.Region // see plan
	within []float64
}

type gridLevel struct {
	z     float64
	sheet int
	top   bool
	rest  int // solid, -1
}

const (
	gridStep = 1.0
	gridX    = 22.0
	gridY    = 17.0
)

func newGrid(s *route.Space, od float64) *grid {
	g := &grid{s: s, r: od / 2, nx: int(2*gridX/gridStep) + 1, ny: int(2*gridY/gridStep) + 1}
	for i, sh := range s.Sheets {
		g.levels = append(g.levels, gridLevel{sh.Lo - g.r, i, false, -1}, gridLevel{sh.Hi + g.r, i, true, -1})
	}
	for i, so := range s.Solids {
		if so.Level {
			g.levels = append(g.levels, gridLevel{so.Hi + g.r, -1, false, i})
		}
	}
	for k := range g.levels {
		p, in := g.plan(k)
		g.plans, g.within = append(g.plans, p), append(g.within, in)
	}
	for k := range g.levels {
		f := make([]bool, g.nx*g.ny)
		for i := range f {
			f[i] = g.freeAt(k, g.at(i))
		}
		g.free = append(g.free, f)
		g.fields = append(g.fields, g.field(k))
	}
	return g
}

func (g *grid) at(i int) r2.Point {
	return pt(-gridX+gridStep*float64(i%g.nx), -gridY+gridStep*float64(i/g.nx))
}

// meets calls yield with what stands between two heights and how far the middle keeps from it.
func (g *grid) meets(lo, hi float64, but int, yield func(r geom.Region, clear float64)) {
	for i, so := range g.s.Solids {
		if i != but && so.Lo-so.Keep < hi-1e-6 && so.Hi+so.Keep > lo+1e-6 {
			yield(so.Plan[0], so.Keep+g.r)
		}
	}
	for _, sh := range g.s.Sheets {
		if sh.Lo < hi-1e-6 && sh.Hi > lo+1e-6 {
			yield(geom.Region{Outer: sh.Plan[0].Outer}, g.r)
		}
	}
}

// plan returns where a level's middle may be, before what stands on it, and how far inside.
func (g *grid) plan(k int) ([]geom.Region, float64) {
	l := g.levels[k]
	if l.sheet >= 0 {
		p := geom.Region{Outer: g.s.Sheets[l.sheet].Plan[0].Outer}
		for _, h := range g.s.Sheets[l.sheet].Plan[0].Holes {
			if rest, _ := geom.Offset([]geom.Region{geom.RegionOf(h.CCW())}, -g.r); len(rest) > 0 {
				p.Holes = append(p.Holes, h)
			}
		}
		return []geom.Region{p}, g.s.Edge + g.r
	}
	board := g.s.Solids[l.rest].Plan[0]
	all := []geom.Region{board}
	below, above := -1, -1
	for i, sh := range g.s.Sheets {
		if !geom.Intersects(board, geom.Region{Outer: sh.Plan[0].Outer, Holes: sh.Plan[0].Holes}) {
			continue
		}
		if sh.Hi <= l.z+1e-6 {
			below = i
		} else if sh.Lo >= l.z-1e-6 && above < 0 {
			above = i
		}
	}
	for _, i := range []int{below, above} {
		if i >= 0 {
			all = append(all, geom.Region{Outer: g.s.Sheets[i].Plan[0].Outer})
		}
	}
	all, err := geom.Offset(all, 2*g.r)
	if err != nil {
		panic(err)
	}
	return all, 0
}

func (g *grid) freeAt(k int, p r2.Point) bool {
	in := g.within[k]
	d := math.Inf(1)
	for _, r := range g.plans[k] {
		d = min(d, geom.DistancePoint(r, p).Dist)
	}
	return d <= -in && g.clear(g.levels[k].z-g.r, g.levels[k].z+g.r, g.levels[k].rest, p)
}

func (g *grid) clear(lo, hi float64, but int, p r2.Point) bool {
	ok := true
	g.meets(lo, hi, but, func(r geom.Region, clear float64) {
		ok = ok && geom.DistancePoint(r, p).Dist >= clear
	})
	return ok
}

func (g *grid) field(k int) *geom.Field {
	plan, in := g.plans[k], g.within[k]
	l := g.levels[k]
	var keeps []geom.Keep
	if len(plan) != 1 {
		return nil
	}
	keeps = append(keeps, geom.Keep{Region: plan[0], Clearance: in, Inside: true})
	g.meets(l.z-g.r, l.z+g.r, l.rest, func(r geom.Region, clear float64) {
		keeps = append(keeps, geom.Keep{Region: r, Clearance: clear})
	})
	f, err := geom.NewField(nil, 0, keeps...)
	if err != nil {
		return nil
	}
	return f
}

// A jump leads from a point of one level to one of another.
type jump struct {
	level  int
	at     r2.Point
	length float64
}

// rims lists the ways over edges: by level, from where to where.
func (g *grid) rims() map[int][][2]jump {
	rims := map[int][][2]jump{}
	in := g.s.Edge + g.r
	for i, sh := range g.s.Sheets {
		b := sh.Plan[0].Outer.Bound() // the plates of these crafts are rectangles
		each := func(rim, n r2.Point) {
			p, out := rim.Sub(n.Mul(in)), rim.Add(n.Mul(g.r))
			bottom, top := 2*i, 2*i+1
			var ok [2]bool
			for _, k := range []int{bottom, top} {
				ok[k-bottom] = g.freeAt(k, p)
				for t := 0.0; t <= 1; t += 0.1 {
					ok[k-bottom] = ok[k-bottom] && g.clear(g.levels[k].z-g.r, g.levels[k].z+g.r, -1, p.Add(out.Sub(p).Mul(t)).Add(n.Mul(1e-9)))
				}
			}
			put := func(a, b int, pa, pb r2.Point, l float64) {
				rims[a] = append(rims[a], [2]jump{{a, pa, 0}, {b, pb, l}})
				rims[b] = append(rims[b], [2]jump{{b, pb, 0}, {a, pa, l}})
			}
			if ok[0] && ok[1] && g.clear(g.levels[bottom].z-g.r, g.levels[top].z+g.r, -1, out.Add(n.Mul(1e-9))) {
				put(bottom, top, p, p, 2*in+sh.Hi-sh.Lo+math.Pi*g.r)
			}
			for k, l := range g.levels {
				if k == bottom || k == top || !g.freeAt(k, out.Add(n.Mul(1e-6))) {
					continue
				}
				if lt := g.levels[top]; ok[1] && l.z < lt.z-1e-6 && g.clear(l.z-g.r, lt.z+g.r, l.rest, out.Add(n.Mul(1e-9))) {
					put(top, k, p, out.Add(n.Mul(1e-6)), in+g.r+lt.z-l.z)
				}
				if lb := g.levels[bottom]; ok[0] && l.z > lb.z+1e-6 && g.clear(lb.z-g.r, l.z+g.r, -1, out.Add(n.Mul(1e-9))) {
					put(bottom, k, p, out.Add(n.Mul(1e-6)), in+g.r+l.z-lb.z)
				}
			}
		}
		g.openings(i, rims)
		for x := b.Lo.X + in; x <= b.Hi.X-in; x += 0.5 {
			each(pt(x, b.Lo.Y), pt(0, -1))
			each(pt(x, b.Hi.Y), pt(0, 1))
		}
		for y := b.Lo.Y + in; y <= b.Hi.Y-in; y += 0.5 {
			each(pt(b.Lo.X, y), pt(-1, 0))
			each(pt(b.Hi.X, y), pt(1, 0))
		}
	}
	return rims
}

// openings lists the ways through the openings of a sheet: from places all round on one face, by way of the
// best of many points within, to places all round on the other.
func (g *grid) openings(i int, rims map[int][][2]jump) {
	sh := g.s.Sheets[i]
	in := g.s.Edge + g.r
	bottom, top := 2*i, 2*i+1
	for _, h := range sh.Holes {
		hole := geom.RegionOf(h.Loop.CCW())
		var room []r2.Point
		b := h.Loop.Bound()
		for x := b.Lo.X; x <= b.Hi.X; x += 0.25 {
			for y := b.Lo.Y; y <= b.Hi.Y; y += 0.25 {
				if q := pt(x, y); geom.DistancePoint(hole, q).Dist <= -in && h.Taken == 0 && g.clearBut(i, g.levels[bottom].z-g.r, g.levels[top].z+g.r, q) {
					room = append(room, q)
				}
			}
		}
		if len(room) == 0 {
			continue
		}
		round, err := geom.Offset([]geom.Region{hole}, in+1e-6)
		if err != nil {
			panic(err)
		}
		var at []r2.Point
		for _, s := range round[0].Outer.Segs() {
			n := int(s.Length()/1.5) + 1
			for k := range n {
				at = append(at, s.At(float64(k)/float64(n)))
			}
		}
		// Between a place and a point within, the bundle lies on the face.
		over := func(level int, p, q r2.Point) bool {
			for t := 0.0; t <= 1; t += 0.1 {
				if !g.clear(g.levels[level].z-g.r, g.levels[level].z+g.r, -1, p.Add(q.Sub(p).Mul(t))) {
					return false
				}
			}
			return true
		}
		for _, p := range at {
			for _, q := range at {
				if !g.freeAt(bottom, p) || !g.freeAt(top, q) {
					continue
				}
				best, m := math.Inf(1), p
				for _, x := range room {
					if d := dist(p, x) + dist(x, q); d < best {
						best, m = d, x
					}
				}
				if !over(bottom, p, m) || !over(top, q, m) {
					continue
				}
				l := best + sh.Hi - sh.Lo + 2*g.r
				rims[bottom] = append(rims[bottom], [2]jump{{bottom, p, 0}, {top, q, l}})
				rims[top] = append(rims[top], [2]jump{{top, q, 0}, {bottom, p, l}})
			}
		}
	}
}

// clearBut is clear without one sheet.
func (g *grid) clearBut(sheet int, lo, hi float64, p r2.Point) bool {
	was := g.s.Sheets[sheet]
	g.s.Sheets[sheet].Lo, g.s.Sheets[sheet].Hi = 1e6, 1e6
	ok := g.clear(lo, hi, -1, p)
	g.s.Sheets[sheet] = was
	return ok
}

type gridNode struct {
	g      float64
	level  int
	point  int // of the grid; or of extra, after them
	before *gridNode
	jump   float64 // length of the move that is not level; 0: along the level
	at     r2.Point
}

type gridHeap []*gridNode

func (h gridHeap) Len() int           { return len(h) }
func (h gridHeap) Less(i, j int) bool { return h[i].g < h[j].g }
func (h gridHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *gridHeap) Push(x any)        { *h = append(*h, x.(*gridNode)) }
func (h *gridHeap) Pop() any {
	o := *h
	n := o[len(o)-1]
	*h = o[:len(o)-1]
	return n
}

// find returns the length of a way from one point of a level to another, +Inf if it finds none.
func (g *grid) find(a int, p r2.Point, b int, q r2.Point) float64 {
	rims := g.rims()
	// Points beside the grid: the ends and those at edges.
	type extra struct {
		at    r2.Point
		jumps []jump
	}
	extras := make([][]extra, len(g.levels))
	for k := range g.levels {
		for _, j := range rims[k] {
			i := slices.IndexFunc(extras[k], func(e extra) bool { return dist(e.at, j[0].at) < 1e-9 })
			if i < 0 {
				i = len(extras[k])
				extras[k] = append(extras[k], extra{at: j[0].at})
			}
			extras[k][i].jumps = append(extras[k][i].jumps, j[1])
		}
	}
	extras[a] = append(extras[a], extra{at: p})
	start := g.nx*g.ny + len(extras[a]) - 1
	extras[b] = append(extras[b], extra{at: q})
	goal := g.nx*g.ny + len(extras[b]) - 1
	place := func(level, i int) r2.Point {
		if i < g.nx*g.ny {
			return g.at(i)
		}
		return extras[level][i-g.nx*g.ny].at
	}
	line := func(level int, u, v r2.Point) bool {
		n := int(dist(u, v)/0.34) + 1
		for i := 1; i < n; i++ {
			if !g.freeAt(level, u.Add(v.Sub(u).Mul(float64(i)/float64(n)))) {
				return false
			}
		}
		return true
	}
	done := map[[2]int]bool{}
	best := map[[2]int]float64{}
	var h gridHeap
	push := func(n *gridNode) {
		k := [2]int{n.level, n.point}
		if done[k] {
			return
		}
		if d, ok := best[k]; ok && d <= n.g {
			return
		}
		best[k] = n.g
		heap.Push(&h, n)
	}
	push(&gridNode{level: a, point: start, at: p})
	for h.Len() > 0 {
		n := heap.Pop(&h).(*gridNode)
		k := [2]int{n.level, n.point}
		if done[k] {
			continue
		}
		done[k] = true
		if n.level == b && n.point == goal {
			return g.taut(n)
		}
		along := func(i int) {
			v := place(n.level, i)
			if d := dist(n.at, v); !done[[2]int{n.level, i}] && line(n.level, n.at, v) {
				push(&gridNode{g: n.g + d, level: n.level, point: i, before: n, at: v})
			}
		}
		x, y := int(math.Round((n.at.X+gridX)/gridStep)), int(math.Round((n.at.Y+gridY)/gridStep))
		for dx := -2; dx <= 2; dx++ {
			for dy := -2; dy <= 2; dy++ {
				if u, v := x+dx, y+dy; u >= 0 && u < g.nx && v >= 0 && v < g.ny && g.free[n.level][v*g.nx+u] {
					along(v*g.nx + u)
				}
			}
		}
		for i := range extras[n.level] {
			if e := &extras[n.level][i]; dist(e.at, n.at) < 2.3*gridStep {
				along(g.nx*g.ny + i)
			}
		}
		if n.point >= g.nx*g.ny {
			for _, j := range extras[n.level][n.point-g.nx*g.ny].jumps {
				for i := range extras[j.level] {
					if dist(extras[j.level][i].at, j.at) < 1e-9 {
						push(&gridNode{g: n.g + j.length, level: j.level, point: g.nx*g.ny + i, before: n, jump: j.length, at: j.at})
						break
					}
				}
			}
			continue
		}
		for o, l := range g.levels {
			lo, hi := g.levels[n.level], l
			if lo.z > hi.z {
				lo, hi = hi, lo
			}
			if o != n.level && g.free[o][n.point] && hi.z > lo.z+1e-6 && g.clear(lo.z-g.r, hi.z+g.r, lo.rest, n.at) {
				push(&gridNode{g: n.g + hi.z - lo.z, level: o, point: n.point, before: n, jump: hi.z - lo.z, at: n.at})
			}
		}
	}
	return math.Inf(1)
}

// taut returns the length of the way to a node, pulled taut on each level.
func (g *grid) taut(n *gridNode) float64 {
	sum := 0.0
	end := n.at
	for ; n.before != nil; n = n.before {
		if n.jump == 0 {
			if n.before.before == nil || n.before.jump > 0 {
				sum += g.run(n, n.before.at, end)
			}
			continue
		}
		sum += n.jump
		end = n.before.at
		if n.before.before == nil {
			break
		}
	}
	return sum
}

func (g *grid) run(n *gridNode, a, b r2.Point) float64 {
	if f := g.fields[n.level]; f != nil {
		if d, err := f.Length(a, b); err == nil {
			return d
		}
	}
	d := 0.0
	for at := b; ; n = n.before {
		d += dist(at, n.before.at)
		if at = n.before.at; at == a {
			return d
		}
	}
}

// TestNotLongerThanExhaustive: on small random spaces the way is at most 1.02 times what the grid
// finds, and there is one where it finds one.
func TestNotLongerThanExhaustive(t *testing.T) {
	looked, over := 0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		if looked >= 25 {
			return
		}
		s := genSpace(t)
		const od = 1.6
		g := newGrid(s, od)
		var ends [2]route.End
		var on [2]int
		for i := range ends {
			on[i] = rapid.IntRange(0, len(g.levels)-1).Draw(t, "level")
			ends[i] = route.End{At: pt(float64(rapid.IntRange(-12, 12).Draw(t, "x")), float64(rapid.IntRange(-8, 8).Draw(t, "y"))), Z: g.levels[on[i]].z}
			if !g.freeAt(on[i], ends[i].At) {
				return
			}
		}
		looked++
		want := g.find(on[0], ends[0].At, on[1], ends[1].At)
		w := route.Find(s, route.Bundle{OD: od, From: ends[0], To: ends[1]})
		if w.Blocked != nil {
			if !math.IsInf(want, 1) {
				t.Fatalf("blocked, the grid finds %g: %+v", want, *w.Blocked)
			}
			return
		}
		over = max(over, w.Length/want)
		if w.Length > 1.02*want {
			t.Fatalf("%g, the grid finds %g\n%+v", w.Length, want, w.Legs)
		}
	})
	t.Logf("%d looked at, at most %.4f times the grid's", looked, over)
}
