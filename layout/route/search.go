package route

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A place is where a search has got to: on a level, with so many stops passed.
type place struct {
	level int
	at    r2.Point
	stage int
}

// A hop is a way from a start to a place: along its level from the place of the hop before,
// then by a transit, an entry or a stop.
type hop struct {
	f, g   float64
	before int // -1: an entry of From
	entry  int // of From or To, -1
	by     int // transit, -1
	side   int // of the transit at which it comes in
	done   bool
	length float64 // along the level
	known  bool    // length is true, not the straight line
	place  place
	end    bool
	node   int
}

type frontier struct {
	hops []hop
	heap []int
}

func (f *frontier) Len() int { return len(f.heap) }
func (f *frontier) Less(i, j int) bool {
	a, b := f.heap[i], f.heap[j]
	if f.hops[a].f != f.hops[b].f {
		return f.hops[a].f < f.hops[b].f
	}
	return a < b
}
func (f *frontier) Swap(i, j int) { f.heap[i], f.heap[j] = f.heap[j], f.heap[i] }
func (f *frontier) Push(x any)    { f.heap = append(f.heap, x.(int)) }
func (f *frontier) Pop() any {
	k := f.heap[len(f.heap)-1]
	f.heap = f.heap[:len(f.heap)-1]
	return k
}

func (f *frontier) add(h hop) {
	f.hops = append(f.hops, h)
	heap.Push(f, len(f.hops)-1)
}

// find searches the level graph from end to end (A*, Hart, Nilsson, Raphael 1968). A hop
// enters the frontier with the straight line as its length on the level and is measured when
// it comes up. What is ahead is at least the straight line in plan by the stops that are
// left and the difference in height, for uprights count beside what runs level.
func (c *class) find(b Bundle) Way {
	from, to := c.entries(b.From), c.entries(b.To)
	if len(from) == 0 || len(to) == 0 {
		e := b.From
		if len(from) > 0 {
			e = b.To
		}
		return Way{Blocked: &Blocked{At: [2]r2.Point{e.At, e.At}, Z: e.Z, Need: b.OD, Enclosed: true, Of: [2]string{e.Owner, e.Owner}}}
	}
	n := len(c.transits)
	stages := len(b.Via) + 1
	// Nodes: both sides of each transit, stops on each level, entries of To; by stage.
	width := 2*n + len(c.levels) + len(to)
	best := make([]float64, stages*width)
	for i := range best {
		best[i] = math.Inf(1)
	}
	closed := make([]bool, len(best))
	ahead := func(p place) float64 {
		d, at := 0.0, p.at
		for _, v := range b.Via[p.stage:] {
			if v.Opening == "" {
				d += dist(at, v.At)
				at = v.At
			}
		}
		if p.stage < len(b.Via) {
			return d
		}
		t := math.Inf(1)
		for _, e := range to {
			t = min(t, dist(at, e.at)+math.Abs(c.levels[p.level].z-c.levels[e.level].z)+e.cost)
		}
		return d + t
	}
	var fr frontier
	open := func(h hop) {
		k := h.node
		if closed[k] || h.g >= best[k] {
			return
		}
		if h.known {
			best[k] = h.g
		}
		h.f = h.g + ahead(h.place)
		if h.end {
			h.f = h.g
		}
		fr.add(h)
	}
	expand := func(k int) {
		p := fr.hops[k].place
		g := fr.hops[k].g
		for _, i := range c.touching[p.level] {
			t := &c.transits[i]
			side := 0
			if t.hi == p.level {
				side = 1
			}
			other := [2]int{t.hi, t.lo}[side]
			stage := p.stage
			if stage < len(b.Via) && b.Via[stage].Opening != "" && t.kind == Hole && c.openingID(t) == b.Via[stage].Opening {
				stage++
			}
			d := dist(p.at, t.p[side])
			open(hop{g: g + d + t.length(), before: k, entry: -1, by: i, side: side, length: d,
				place: place{other, t.p[1-side], stage}, node: stage*width + 2*i + 1 - side})
		}
		if p.stage < len(b.Via) {
			if v := b.Via[p.stage]; v.Opening == "" && c.levels[p.level].free(v.At) {
				d := dist(p.at, v.At)
				open(hop{g: g + d, before: k, entry: -1, by: -1, length: d,
					place: place{p.level, v.At, p.stage + 1}, node: (p.stage+1)*width + 2*n + p.level})
			}
			return
		}
		for i, e := range to {
			if e.level == p.level {
				d := dist(p.at, e.at)
				open(hop{g: g + d + e.cost, before: k, entry: i, by: -1, length: d, end: true,
					place: place{p.level, e.at, p.stage}, node: p.stage*width + 2*n + len(c.levels) + i})
			}
		}
	}
	var why []blame
	for i, e := range from {
		fr.hops = append(fr.hops, hop{g: e.cost, before: -1, entry: i, by: -1, place: place{e.level, e.at, 0}, known: true})
		expand(i)
	}
	for fr.Len() > 0 {
		k := heap.Pop(&fr).(int)
		h := fr.hops[k]
		if closed[h.node] || h.g > best[h.node] {
			continue
		}
		if !h.known {
			if h.by >= 0 && !c.check(&c.transits[h.by]) {
				continue
			}
			prev := fr.hops[h.before].place
			target := h.place.at
			if h.by >= 0 {
				target = c.transits[h.by].p[h.side]
			}
			f, err := c.levels[prev.level].field()
			if err != nil {
				continue
			}
			d, err := f.Length(prev.at, target)
			if err != nil {
				why = append(why, blame{prev.level, err})
				continue
			}
			h.g += d - h.length
			h.length, h.known = d, true
			open(h)
			continue
		}
		closed[h.node] = true
		if h.end {
			return c.way(b, fr.hops, h, from, to)
		}
		expand(k)
	}
	return Way{Blocked: c.blocked(b, why)}
}

func (c *class) openingID(t *transit) string {
	sh := &c.space.Sheets[t.sheet]
	return sh.ID + "." + sh.Holes[t.opening].Name
}

// way writes down what was found.
func (c *class) way(b Bundle, hops []hop, last hop, from, to []entry) Way {
	chain := []hop{last}
	for k := last.before; k >= 0; k = hops[k].before {
		chain = append(chain, hops[k])
	}
	var w Way
	add := func(l Leg) {
		w.Legs = append(w.Legs, l)
		w.Length += l.Length
	}
	straight := func(a, b r2.Point) geom.Path {
		if dist(a, b) <= geom.Coincident {
			return geom.Path{}
		}
		return geom.Path{Segs: []geom.Seg{{A: a, B: b}}, Length: dist(a, b)}
	}
	e := from[chain[len(chain)-1].entry]
	if p := straight(b.From.At, e.out); p.Length > 0 {
		add(Leg{Kind: Leave, Path: p, Z0: b.From.Z, Z1: b.From.Z, Length: p.Length})
	}
	if z := c.levels[e.level].z; math.Abs(z-b.From.Z) > touch {
		add(Leg{Kind: Drop, At: e.at, Z0: b.From.Z, Z1: z, Length: math.Abs(z - b.From.Z)})
	}
	at := e.at
	level := e.level
	var run geom.Path
	flush := func() {
		if len(run.Segs) > 0 {
			z := c.levels[level].z
			add(Leg{Kind: Along, Level: c.levels[level].name, Path: run, Z0: z, Z1: z, Length: run.Length})
		}
		run = geom.Path{}
	}
	more := func(p geom.Path) {
		for _, k := range p.Inside {
			run.Inside = append(run.Inside, len(run.Segs)+k)
		}
		run.Segs = append(run.Segs, p.Segs...)
		run.Length += p.Length
	}
	for i := len(chain) - 2; i >= 0; i-- {
		h := chain[i]
		target := h.place.at
		if h.by >= 0 {
			target = c.transits[h.by].p[h.side]
		}
		f, err := c.levels[level].field()
		var p geom.Path
		if err == nil {
			p, err = f.Path(at, target, geom.PathOptions{Bend: b.Bend + c.r})
			if err != nil {
				p, err = f.Path(at, target, geom.PathOptions{})
			}
		}
		if err != nil {
			return Way{Blocked: c.blocked(b, []blame{{level, err}})}
		}
		more(p)
		at = target
		if h.by >= 0 {
			t := &c.transits[h.by]
			more(straight(at, t.at[h.side]))
			flush()
			l := Leg{Kind: t.kind, At: t.at[h.side], Z0: c.levels[level].z, Z1: c.levels[h.place.level].z, Length: t.upright}
			if t.sheet >= 0 {
				l.Sheet = c.space.Sheets[t.sheet].ID
			}
			if t.opening >= 0 {
				l.Opening = c.space.Sheets[t.sheet].Holes[t.opening].Name
			}
			add(l)
			level = h.place.level
			more(straight(t.at[1-h.side], t.p[1-h.side]))
			at = t.p[1-h.side]
		}
	}
	flush()
	z := c.levels[level].z
	e = to[last.entry]
	if math.Abs(z-b.To.Z) > touch {
		add(Leg{Kind: Drop, At: e.at, Z0: z, Z1: b.To.Z, Length: math.Abs(z - b.To.Z)})
	}
	if p := straight(e.out, b.To.At); p.Length > 0 {
		add(Leg{Kind: Leave, Path: p, Z0: b.To.Z, Z1: b.To.Z, Length: p.Length})
	}
	return w
}
