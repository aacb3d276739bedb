package geom

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
)

// maxSteps bounds the ways that one search may hold open, 150 MB of them.
const maxSteps = 1 << 21

// tie is the length in mm by which a way must be longer than another one to the same
// place to be dropped whatever it does next: more than rounding can do.
const tie = 1e-9

// A step is a way from a start to a point of a post, or to an end.
type step struct {
	g      float64 // length up to here
	in     float64 // angle on the post
	out    float64 // angle on the post before at which it left
	x, y   float64 // where it arrives; for an end, where it left
	before int32   // the step before, or -1 less the number of the start
	post   int32   // or -1 less the number of the end
	next   int32   // the step done before it on the same post, with the same turn
	turn   turn
	tried  bool // its line is known to be free
}

type open struct {
	f    float64
	step int32
}

// A visit is what a search knows about a post.
type visit struct {
	stamp uint32
	done  [2]int32 // last step done, by turn
	g, in float64  // the shortest way found to it
}

// search is one query's working memory, kept for the next one.
type search struct {
	field        *Field
	starts, ends []r2.Point
	steps        []step
	heap         []open
	visits       []visit
	stamp        uint32
}

func (f *Field) newSearch() *search {
	s := f.scratch.Get().(*search)
	s.field = f
	s.starts, s.ends, s.steps, s.heap = s.starts[:0], s.ends[:0], s.steps[:0], s.heap[:0]
	if len(s.visits) != len(f.posts) {
		s.visits = make([]visit, len(f.posts))
		s.stamp = 0
	}
	s.stamp++
	if s.stamp == 0 { // wrapped round
		clear(s.visits)
		s.stamp = 1
	}
	return s
}

// run finds the shortest way from a start to an end, none of which is covered, and returns
// its last step; -1 if there is no way. The search is A* (Hart, Nilsson, Raphael 1968) on
// the tangent graph (Liu, Arimoto 1992): a shortest path among regions bounded by lines and
// arcs consists of lines that touch convex arcs or corners and of parts of those arcs. Its
// nodes are points of contact with the hand of the bend; from one a path goes on along the
// arc and leaves on any tangent that it passes. The straight line to the nearest end never
// overestimates and obeys the triangle inequality, so the first way that reaches an end is
// a shortest one.
//
// Of two ways to one post the longer is dropped if going on from the shorter one along the
// arc is no longer: see spare.
func (s *search) run() (int32, error) {
	for i := range s.starts {
		for j := range s.ends {
			d := dist(s.starts[i], s.ends[j])
			if len(s.starts) == 1 && len(s.ends) == 1 && !s.field.sight.blocked(s.starts[i], s.ends[j]) {
				s.steps = append(s.steps, step{g: d, before: int32(-1 - i), post: int32(-1 - j), x: s.starts[i].X, y: s.starts[i].Y})
				return 0, nil
			}
			if len(s.starts) > 1 || len(s.ends) > 1 {
				s.push(d, step{g: d, before: int32(-1 - i), post: int32(-1 - j), x: s.starts[i].X, y: s.starts[i].Y})
			}
		}
	}
	for i := range s.starts {
		s.begin(int32(i))
	}
	for len(s.heap) > 0 {
		if len(s.steps) > maxSteps {
			return -1, &Failure{Op: "path", At: s.starts[0], Why: fmt.Sprintf("more than %d ways had to be kept open", maxSteps)}
		}
		k := s.pop()
		w := &s.steps[k]
		if w.post < 0 {
			if w.tried || !s.field.sight.blocked(r2.Point{X: w.x, Y: w.y}, s.ends[-1-w.post]) {
				return k, nil
			}
			continue
		}
		if w.before < 0 { // the line from a start has not been tried yet
			if s.spare(w, s.visit(w.post)) {
				continue
			}
			a := s.starts[-1-w.before]
			if s.field.sight.blocked(a, r2.Point{X: w.x, Y: w.y}) {
				continue
			}
			s.found(w.post, w.g, w.in)
		}
		s.expand(k)
	}
	return -1, nil
}

// begin opens the tangents from a start to all posts.
func (s *search) begin(i int32) {
	f := s.field
	a := s.starts[i]
	tol := 2 * f.slack
	for j := range f.posts {
		p := &f.posts[j]
		dx, dy := p.c.X-a.X, p.c.Y-a.Y
		w := step{before: -1 - i, post: int32(j)}
		if p.r == 0 {
			l := math.Abs(dx) + math.Abs(dy)
			left, right := p.holds(dy, -dx, l), p.holds(-dy, dx, l)
			if !left && !right {
				continue
			}
			w.g, w.x, w.y = math.Sqrt(dx*dx+dy*dy), p.c.X, p.c.Y
			h := w.g + s.ahead(w.x, w.y)
			if w.g <= Coincident { // it stands on the corner and may leave it any way
				w.in = 0
				w.turn = 1
				s.push(h, w)
				w.in = p.sweep
				w.turn = -1
				s.push(h, w)
				continue
			}
			if left {
				w.in = p.angle(dy/w.g, -dx/w.g)
				w.turn = 1
				s.push(h, w)
			}
			if right {
				w.in = p.angle(-dy/w.g, dx/w.g)
				w.turn = -1
				s.push(h, w)
			}
			continue
		}
		d := math.Sqrt(dx*dx + dy*dy)
		if d <= Coincident {
			continue // deep inside the arc
		}
		for t := turn(1); t >= -1; t -= 2 {
			ux, uy, _, ok := grazing(dx, dy, d, float64(-t)*p.r, tol)
			if !ok {
				continue
			}
			w.in, w.x, w.y, ok = p.contact(float64(t)*uy, -float64(t)*ux, a, t, false, tol)
			if !ok {
				continue
			}
			w.turn = t
			w.g = math.Sqrt(sq(w.x-a.X, w.y-a.Y))
			s.push(w.g+s.ahead(w.x, w.y), w)
		}
	}
}

// ahead returns the distance to the nearest end.
func (s *search) ahead(x, y float64) float64 {
	best := math.Inf(1)
	for i := range s.ends {
		dx, dy := s.ends[i].X-x, s.ends[i].Y-y
		best = min(best, dx*dx+dy*dy)
	}
	return math.Sqrt(best)
}

func (s *search) visit(post int32) *visit {
	v := &s.visits[post]
	if v.stamp != s.stamp {
		*v = visit{stamp: s.stamp, done: [2]int32{-1, -1}, g: math.Inf(1)}
	}
	return v
}

// found notes a way to a post.
func (s *search) found(post int32, g, in float64) {
	if v := s.visit(post); g < v.g {
		v.g, v.in = g, in
	}
}

// spare reports whether a way need not be followed. If another way to the same post is so
// short that it could walk along the arc to this one's point and still be shorter, every
// path that goes on from here is longer than some other, though bent, path. If a way with
// the same turn came to an earlier point and is no longer here, it does all that this one
// can.
func (s *search) spare(w *step, v *visit) bool {
	p := &s.field.posts[w.post]
	if p.r == 0 {
		if v.g < w.g-tie {
			return true
		}
	} else {
		d := math.Abs(v.in - w.in)
		if p.full {
			d = min(d, 2*math.Pi-d)
		}
		if v.g+p.r*d < w.g-tie {
			return true
		}
	}
	for k := v.done[side(w.turn)]; k >= 0; k = s.steps[k].next {
		e := &s.steps[k]
		if d, ok := p.along(e.in, w.in, w.turn); ok && e.g+p.r*d <= w.g {
			return true
		}
	}
	return false
}

// along returns the angle from one point of the post to another one with the turn, and
// whether that way exists.
func (p *post) along(from, to float64, t turn) (float64, bool) {
	d := float64(t) * (to - from)
	if d >= 0 {
		return d, true
	}
	if d > -p.play {
		return 0, true
	}
	if p.full {
		return d + 2*math.Pi, true
	}
	return 0, false
}

// expand opens the ways on from a step on a post.
func (s *search) expand(k int32) {
	f := s.field
	w := s.steps[k]
	v := s.visit(w.post)
	if s.spare(&w, v) {
		return
	}
	s.steps[k].next = v.done[side(w.turn)]
	v.done[side(w.turn)] = k
	p := &f.posts[w.post]
	for j := range s.ends {
		s.finish(&w, k, p, j)
	}
	list := f.fan(w.post)[side(w.turn)]
	first := 0
	if !p.full {
		lo, hi := 0, len(list)
		for lo < hi {
			m := (lo + hi) / 2
			if float64(w.turn)*(list[m].out-w.in) < -p.play {
				lo = m + 1
			} else {
				hi = m
			}
		}
		first = lo
	}
	for i := first; i < len(list); i++ {
		t := &list[i]
		g := w.g + t.length
		if p.r > 0 {
			d, _ := p.along(w.in, t.out, w.turn)
			g += p.r * d
		}
		u := s.visit(t.to)
		if u.g < g-tie {
			q := &f.posts[t.to]
			if q.r == 0 {
				continue
			}
			d := math.Abs(u.in - t.in)
			if q.full {
				d = min(d, 2*math.Pi-d)
			}
			if u.g+q.r*d < g-tie {
				continue
			}
		} else if g < u.g {
			u.g, u.in = g, t.in
		}
		s.push(g+s.ahead(t.x, t.y), step{
			g: g, in: t.in, out: t.out, x: t.x, y: t.y, before: k, post: t.to, turn: t.turn,
		})
	}
}

// finish opens the tangent from a post to an end.
func (s *search) finish(w *step, k int32, p *post, j int) {
	b := s.ends[j]
	a := float64(w.turn) * p.r
	dx, dy := b.X-p.c.X, b.Y-p.c.Y
	d := math.Sqrt(dx*dx + dy*dy)
	e := step{before: k, post: int32(-1 - j)}
	switch {
	case d > Coincident:
		ux, uy, _, ok := grazing(dx, dy, d, a, 2*s.field.slack)
		if !ok {
			return
		}
		e.out, e.x, e.y, ok = p.contact(float64(w.turn)*uy, -float64(w.turn)*ux, b, w.turn, true, 2*s.field.slack)
		if !ok {
			return
		}
		d, ok := p.along(w.in, e.out, w.turn)
		if !ok {
			return
		}
		e.g = w.g + p.r*d + math.Sqrt(sq(e.x-b.X, e.y-b.Y))
	case p.r == 0: // the end is the corner
		e.out, e.g, e.x, e.y = w.in, w.g, p.c.X, p.c.Y
	default:
		return
	}
	s.push(e.g, e)
}

// push opens a way whose length, with the least that is still ahead, is f.
func (s *search) push(f float64, w step) {
	w.next = -1
	i := len(s.heap)
	o := open{f, int32(len(s.steps))}
	s.steps = append(s.steps, w)
	s.heap = append(s.heap, o)
	for i > 0 {
		up := (i - 1) / 2
		if s.heap[up].f <= f {
			break
		}
		s.heap[i] = s.heap[up]
		i = up
	}
	s.heap[i] = o
}

// pop closes the most promising way, of equal ones the oldest.
func (s *search) pop() int32 {
	top := s.heap[0].step
	n := len(s.heap) - 1
	o := s.heap[n]
	s.heap = s.heap[:n]
	if n == 0 {
		return top
	}
	i := 0
	for {
		c := 2*i + 1
		if c >= n {
			break
		}
		if c+1 < n && s.heap[c+1].less(s.heap[c]) {
			c++
		}
		if !s.heap[c].less(o) {
			break
		}
		s.heap[i] = s.heap[c]
		i = c
	}
	s.heap[i] = o
	return top
}

func (o open) less(p open) bool { return o.f < p.f || o.f == p.f && o.step < p.step }
