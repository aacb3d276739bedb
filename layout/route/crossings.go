package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// stacks measures how much of each run lies on others.
func stacks(threads []*thread, order []int) {
	for n, i := range order {
		for _, j := range order[:n] {
			t, o := threads[i], threads[j]
			for k := range t.runs {
				for m := range o.runs {
					r, q := &t.runs[k], &o.runs[m]
					if r.level.name == q.level.name {
						r.stacked += stacked(r.path, q.path, t.c.r+o.c.r)
					}
				}
			}
		}
	}
}

// stacked returns the length of p that lies nearer than room to q, stretches aside that are
// no longer than a crossing at 30° or an end beside the other: four times the room.
func stacked(p, q geom.Path, room float64) float64 {
	if len(p.Segs) == 0 || len(q.Segs) == 0 || !boundOf(p).Expand(room).Intersects(boundOf(q)) {
		return 0
	}
	sum, stretch := 0.0, 0.0
	end := func() {
		if stretch > 4*room {
			sum += stretch
		}
		stretch = 0
	}
	for _, s := range p.Segs {
		n := max(1, int(math.Ceil(s.Length()/0.5)))
		for i := range n {
			x := s.At((float64(i) + 0.5) / float64(n))
			near := false
			for _, o := range q.Segs {
				if o.Bound().Distance(geom.Rect{Lo: x, Hi: x}) > room {
					continue
				}
				if _, _, d := o.Nearest(x); d < room-1e-3 {
					near = true
					break
				}
			}
			if near {
				stretch += s.Length() / float64(n)
			} else {
				end()
			}
		}
	}
	end()
	return sum
}

func boundOf(p geom.Path) geom.Rect {
	b := geom.EmptyRect()
	for _, s := range p.Segs {
		b = b.Union(s.Bound())
	}
	return b
}

// Crossing is a place at which two ways lie over each other on one level.
type Crossing struct {
	A, B  int // numbers of the ways, A < B
	Level string
	At    r2.Point
}

// Crossings returns the places at which ways cross on a level, by A, B and then along A.
// Ways that touch, or run on each other for a while, cross once.
func Crossings(ways []Way) []Crossing {
	var found []Crossing
	for a := range ways {
		for b := a + 1; b < len(ways); b++ {
			for i := range ways[a].Legs {
				p := &ways[a].Legs[i]
				if p.Kind != Along {
					continue
				}
				for j := range ways[b].Legs {
					q := &ways[b].Legs[j]
					if q.Kind == Along && q.Level == p.Level && boundOf(p.Path).Intersects(boundOf(q.Path)) {
						found = crossings(found, p, q, a, b)
					}
				}
			}
		}
	}
	return found
}

func crossings(found []Crossing, p, q *Leg, a, b int) []Crossing {
	var store [8]r2.Point
	var last r2.Point
	any := false
	for _, s := range p.Path.Segs {
		for _, o := range q.Path.Segs {
			for _, x := range s.Meet(o, 1e-6, store[:0]) {
				if any && dist(last, x) < 0.1 {
					continue
				}
				last, any = x, true
				found = append(found, Crossing{A: a, B: b, Level: p.Level, At: x})
			}
		}
	}
	return found
}
