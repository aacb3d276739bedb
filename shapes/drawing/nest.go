package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// ring is a loop of the drawing with its place among the others.
type ring struct {
	loop     geom.Loop
	area     float64
	box      geom.Rect
	diameter float64 // of a circle, 0 for other loops
	center   r2.Point
	parent   int // index of the ring round it, -1
	depth    int
	open     int // index of the open part that it belongs to, -1
	sunkIn   int // index of the ring that it is the inner circle of, -1
}

// maxRings bounds the loops of one drawing; a plate full of holes has some hundreds.
const maxRings = 20_000

// newRing makes a circle of a loop that is one.
func newRing(l geom.Loop, ch *Changes) ring {
	r := ring{loop: l, parent: -1, open: -1, sunkIn: -1}
	if c, rad, drawn, ok := circleFit(l, CircleTolerance); ok {
		if !drawn || l.Len() > 2 {
			ch.Circles++
		}
		r.loop, r.diameter, r.center = geom.Circle(c, rad), 2*rad, c
		if drawn && l.Len() == 2 {
			r.loop = l // as drawn, to the last digit
		}
	} else {
		r.center = l.Centroid()
	}
	r.area, r.box = math.Abs(r.loop.Area()), r.loop.Bound()
	return r
}

// nest finds for each ring the least ring round it. Rings come out by area, the largest
// first.
func nest(rings []ring) []ring {
	slices.SortStableFunc(rings, func(a, b ring) int { return cmp.Compare(b.area, a.area) })
	for i := range rings {
		r := &rings[i]
		for j := i - 1; j >= 0; j-- {
			o := &rings[j]
			if !o.box.Expand(1e-6).Contains(r.box.Lo) || !o.box.Expand(1e-6).Contains(r.box.Hi) || !within(r, o) {
				continue
			}
			r.parent, r.depth = j, o.depth+1
			break
		}
	}
	return rings
}

// within reports whether ring r lies inside o: rings do not cross, but they may touch, so
// most of a few points decide.
func within(r, o *ring) bool {
	in, n := 0, 0
	for i := 0; i < r.loop.Len() && n < 5; i += max(1, r.loop.Len()/5) {
		n++
		if o.loop.Contains(r.loop.Seg(i).At(0.5)) {
			in++
		}
	}
	return 2*in > n
}

// sink marks circles about one centre, one directly inside the other, as one hole with a
// countersink, and returns the number of such holes. The rim is no wider than the head of
// a large screw, 16 mm: a ring lying in a larger opening is a part of its own.
func sink(rings []ring, isHole func(r *ring) bool) int {
	const largest, ratio = 16, 4 // mm; a countersink is about twice its hole
	count := 0
	for i := range rings {
		r := &rings[i]
		if r.parent < 0 || r.diameter == 0 {
			continue
		}
		o := &rings[r.parent]
		if o.diameter == 0 || o.diameter > largest || o.diameter > ratio*r.diameter ||
			o.center.Sub(r.center).Norm() > ConcentricTolerance || !(isHole(o) || o.sunkIn >= 0) {
			continue
		}
		r.sunkIn = r.parent
		if o.sunkIn < 0 {
			count++
		}
	}
	return count
}

// assemble makes parts of the rings, and of the open chains that lie in none of them.
func assemble(rings []ring, open []openPart, ch *Changes) []Part {
	for i := range rings {
		r := &rings[i]
		if r.parent >= 0 {
			r.open = rings[r.parent].open
			continue
		}
		for k := range open {
			if open[k].box.Contains(r.box.Lo) && open[k].box.Contains(r.box.Hi) {
				r.open = k
				break
			}
		}
	}
	level := func(r *ring) int { // 0 for an outline, 1 for a hole, 2 for a part in a hole, ...
		if r.open >= 0 {
			return r.depth + 1
		}
		return r.depth
	}
	ch.Sunk = sink(rings, func(r *ring) bool { return level(r)%2 == 1 })
	// A ring within the inner circle of a sunk hole is a part in a hole again.
	at := make([]int, len(rings)) // level without the sunk circles
	for i := range rings {
		r := &rings[i]
		at[i] = level(r)
		if r.parent >= 0 {
			at[i] = at[r.parent] + 1
		}
		if r.sunkIn >= 0 {
			at[i] = at[r.parent]
		}
	}
	parts := make([]Part, 0, len(open)+1)
	partOf := map[int]int{} // ring -> part
	openOf := make([]int, len(open))
	for k := range open {
		openOf[k] = len(parts)
		parts = append(parts, Part{Open: open[k].ends, openBox: open[k].box})
	}
	for i := range rings {
		if at[i]%2 == 0 && rings[i].sunkIn < 0 {
			partOf[i] = len(parts)
			parts = append(parts, Part{Outline: rings[i].loop})
		}
	}
	inner := make([]int, len(rings)) // the circle within a sunk one, -1
	for i := range inner {
		inner[i] = -1
	}
	for i := range rings {
		if k := rings[i].sunkIn; k >= 0 {
			inner[k] = i
		}
	}
	for i := range rings {
		r := &rings[i]
		if at[i]%2 == 0 || r.sunkIn >= 0 {
			continue
		}
		h := Hole{Loop: r.loop, Diameter: r.diameter, Center: r.center}
		for k := inner[i]; k >= 0; k = inner[k] {
			h.Rings = append(h.Rings, h.Diameter)
			h.Loop, h.Diameter, h.Center = rings[k].loop, rings[k].diameter, rings[k].center
		}
		slices.Reverse(h.Rings)
		k := 0
		if r.open >= 0 {
			k = openOf[r.open]
		}
		if r.parent >= 0 {
			// The outline round the hole, past circles that were sunk.
			o := r.parent
			for rings[o].sunkIn >= 0 {
				o = rings[o].parent
			}
			if p, ok := partOf[o]; ok {
				k = p
			}
		}
		parts[k].Holes = append(parts[k].Holes, h)
	}
	for i := range parts {
		parts[i].finish()
	}
	slices.SortStableFunc(parts, func(a, b Part) int {
		x, y := a.Box().Size(), b.Box().Size()
		return cmp.Compare(y.X*y.Y, x.X*x.Y)
	})
	for i := range parts {
		parts[i].Name = fmt.Sprintf("part %d", i+1)
	}
	return parts
}

// finish orders and names the holes, looks for faults and finds the patterns.
func (p *Part) finish() {
	key := func(v float64) float64 { return math.Round(v * 100) } // as people read them
	slices.SortStableFunc(p.Holes, func(a, b Hole) int {
		return cmp.Or(cmp.Compare(key(b.Center.Y), key(a.Center.Y)), cmp.Compare(key(a.Center.X), key(b.Center.X)))
	})
	for i := range p.Holes {
		p.Holes[i].Name = fmt.Sprintf("hole %d", i+1)
	}
	if p.Closed() {
		if err := p.Region().Validate(); err != nil {
			p.Fault = err.Error()
		}
	}
	p.Patterns = findPatterns(p.Holes)
}

// openPart is one or several open chains that make up one edge.
type openPart struct {
	ends []OpenEnd
	box  geom.Rect
}

// openParts gives each open end its nearest other one, drops chains that lie inside a
// closed loop (marks, engraving), and puts those together whose boxes meet or whose ends
// are each other's nearest.
func openParts(chains []openChain, rings []ring) (parts []openPart, marks []openChain) {
	type place struct{ chain, end int }
	var all []place
	for i := range chains {
		for k := range chains[i].ends {
			all = append(all, place{i, k})
		}
	}
	root := make([]int, len(chains))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	for _, a := range all {
		e := &chains[a.chain].ends[a.end]
		e.To, e.Gap = e.At, math.Inf(1)
		near := a.chain
		for _, b := range all {
			f := &chains[b.chain].ends[b.end]
			if d := f.At.Sub(e.At).Norm(); b != a && d < e.Gap {
				e.To, e.Gap, near = f.At, d, b.chain
			}
		}
		size := chains[a.chain].box.Size().Norm()
		if x, y := find(a.chain), find(near); x != y && e.Gap <= size/10 {
			root[max(x, y)] = min(x, y)
		}
	}
	for i := range chains {
		for j := range i {
			if x, y := find(i), find(j); x != y && chains[i].box.Intersects(chains[j].box) {
				root[max(x, y)] = min(x, y)
			}
		}
	}
	boxes := make([]openPart, len(chains))
	for i := range boxes {
		boxes[i].box = geom.EmptyRect()
	}
	for i := range chains {
		b := &boxes[find(i)]
		b.box = b.box.Union(chains[i].box)
		b.ends = append(b.ends, chains[i].ends...)
	}
	mark := make([]bool, len(chains)) // by root
	for i := range boxes {
		if find(i) != i {
			continue
		}
		for k := range rings {
			b := boxes[i]
			if rings[k].box.Contains(b.box.Lo) && rings[k].box.Contains(b.box.Hi) && rings[k].loop.Contains(b.ends[0].At) {
				mark[i] = true
				break
			}
		}
		if !mark[i] {
			parts = append(parts, boxes[i])
		}
	}
	for i := range chains {
		if mark[find(i)] {
			marks = append(marks, chains[i])
		}
	}
	return parts, marks
}
