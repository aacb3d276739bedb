package render

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// crossing is a place where one circuit passes over another.
type crossing struct {
	upper, lower int // indices of stretches
	at           r2.Point
}

// bridge finds where circuits cross in plan and leaves out the lower one there: half the
// width of the upper one and air mm to either side, more where they cross askew. Of two at
// one height the later in the list lies over the earlier. Ways that touch or run along each
// other do not cross. width gives the width of a circuit in mm.
func bridge(all []stretch, width func(no int) float64, air float64) []crossing {
	var out []crossing
	ways := waysOf(all)
	for i := range ways {
		for j := i + 1; j < len(ways); j++ {
			a, b := &ways[i], &ways[j]
			if !a.box.Intersects(b.box) {
				continue
			}
			for _, x := range a.crosses(b) {
				low, high := a, b
				at := x.a
				u, v := a.stretchAt(x.a), b.stretchAt(x.b)
				if all[u].z > all[v].z+1e-6 {
					low, high, at, u, v = b, a, x.b, v, u
				}
				sin := math.Max(x.sin, 0.3)
				cos := math.Sqrt(math.Max(0, 1-x.sin*x.sin))
				reach := (width(high.no)/2+air)/sin + width(low.no)/2*math.Min(cos/sin, 2)
				// Where the upper one ends before that, the lower comes out beyond its end.
				back, ahead := high.beyond(low, x.a+x.b-at, at)
				room := func(left float64) float64 {
					return math.Min(reach, (left+air+width(low.no)/2*sin)/math.Max(cos, 0.1))
				}
				low.leaveOut(all, at-room(back), at+room(ahead))
				out = append(out, crossing{upper: v, lower: u, at: x.p})
			}
		}
	}
	for i := range all {
		all[i].cuts = merge(all[i].cuts)
	}
	return out
}

// beyond returns how much of the way is left from a length along it towards where the way below
// comes from, and towards where that goes on to, at its length along.
func (w *way) beyond(below *way, along, at float64) (back, ahead float64) {
	const step = 0.05 // mm
	back, ahead = along, w.length()-along
	u, v := w.at(along+step).Sub(w.at(along-step)), below.at(at+step).Sub(below.at(at-step))
	if u.Dot(v) < 0 {
		back, ahead = ahead, back
	}
	return back, ahead
}

// way is the whole of a circuit's way in plan: its stretches follow each other.
type way struct {
	no    int
	first int       // index of its first stretch
	ends  []float64 // mm along it at which its stretches end
	path  []geom.Seg
	from  []float64 // mm along it at which the pieces of path begin
	boxes []geom.Rect
	box   geom.Rect
}

func waysOf(all []stretch) []way {
	var out []way
	for i := range all {
		s := &all[i]
		if n := len(out); n == 0 || out[n-1].no != s.no {
			out = append(out, way{no: s.no, first: i, box: geom.EmptyRect()})
		}
		w := &out[len(out)-1]
		at := w.length()
		for _, g := range s.path {
			box := g.Bound().Expand(1e-6)
			w.path, w.from, w.boxes = append(w.path, g), append(w.from, at), append(w.boxes, box)
			w.box = w.box.Union(box)
			at += g.Length()
		}
		w.ends = append(w.ends, at)
	}
	return out
}

func (w *way) length() float64 {
	if len(w.ends) == 0 {
		return 0
	}
	return w.ends[len(w.ends)-1]
}

// stretchAt returns the index of the stretch at a length along the way.
func (w *way) stretchAt(at float64) int {
	for i, e := range w.ends {
		if at <= e {
			return w.first + i
		}
	}
	return w.first + len(w.ends) - 1
}

// at returns the point at a length along the way.
func (w *way) at(along float64) r2.Point {
	for i, g := range w.path {
		if n := g.Length(); along <= w.from[i]+n || i == len(w.path)-1 {
			return g.At((along - w.from[i]) / math.Max(n, 1e-12))
		}
	}
	return r2.Point{}
}

// leaveOut cuts what lies between two lengths along the way.
func (w *way) leaveOut(all []stretch, from, to float64) {
	begin := 0.0
	for i, end := range w.ends {
		if from < end && to > begin {
			s := &all[w.first+i]
			s.cuts = append(s.cuts, gap{math.Max(from, begin) - begin, math.Min(to, end) - begin})
		}
		begin = end
	}
}

// meeting is a place where two ways cross: the lengths along both and the sine of the angle
// between them.
type meeting struct {
	p    r2.Point
	a, b float64
	sin  float64
}

// crosses returns the places where one way passes from one side of the other to the other.
func (w *way) crosses(o *way) []meeting {
	const near = 0.02 // mm: the same place, found at the joint of two pieces
	var out []meeting
	var at []r2.Point
	for i := range w.path {
		for j := range o.path {
			if !w.boxes[i].Intersects(o.boxes[j]) {
				continue
			}
			at = w.path[i].Meet(o.path[j], 0, at[:0])
			for _, p := range at {
				_, ta, _ := w.path[i].Nearest(p)
				_, tb, _ := o.path[j].Nearest(p)
				m := meeting{p: p, a: w.from[i] + ta*w.path[i].Length(), b: o.from[j] + tb*o.path[j].Length()}
				m.sin = math.Abs(math.Sin(geom.Turn(w.path[i].Tangent(ta), o.path[j].Tangent(tb)).Radians()))
				if slices.ContainsFunc(out, func(q meeting) bool { return math.Abs(q.a-m.a) < near && math.Abs(q.b-m.b) < near }) {
					continue
				}
				if w.changesSide(o, m) {
					out = append(out, m)
				}
			}
		}
	}
	return out
}

// changesSide reports whether o lies on different sides of w shortly before and after they
// meet. At the very end of either there is nothing to cross.
func (w *way) changesSide(o *way, m meeting) bool {
	step := math.Min(math.Min(0.2, math.Min(m.a, w.length()-m.a)), math.Min(m.b, o.length()-m.b)) // mm
	if step < 0.02 {
		return false
	}
	back, ahead := w.at(m.a-step), w.at(m.a+step)
	p, q := o.at(m.b-step), o.at(m.b+step)
	return !w.passes(p, m.a, 2*step) && !w.passes(q, m.a, 2*step) && sideOfBend(back, m.p, ahead, p)*sideOfBend(back, m.p, ahead, q) < 0
}

// passes reports whether the way runs through a point, within 0.01 mm, where it is up to reach from a length along it.
func (w *way) passes(p r2.Point, along, reach float64) bool {
	for i, g := range w.path {
		if w.from[i] > along+reach || w.from[i]+g.Length() < along-reach {
			continue
		}
		if _, _, d := g.Nearest(p); d < 0.01 {
			return true
		}
	}
	return false
}

// sideOfBend tells on which side of the way from a by p to b a point lies: 1 on the left, -1 on
// the right, 0 on it.
func sideOfBend(a, p, b, q r2.Point) int {
	in, out := geom.Orient(a, p, q), geom.Orient(p, b, q)
	if geom.Orient(a, p, b) >= 0 { // straight or to the left: left of both legs
		return min(in, out)
	}
	return max(in, out)
}

// merge sorts gaps and joins those that meet.
func merge(gaps []gap) []gap {
	slices.SortFunc(gaps, func(a, b gap) int {
		if a.from < b.from {
			return -1
		}
		if a.from > b.from {
			return 1
		}
		return 0
	})
	var out []gap
	for _, g := range gaps {
		if n := len(out); n > 0 && g.from <= out[n-1].to {
			out[n-1].to = math.Max(out[n-1].to, g.to)
			continue
		}
		out = append(out, g)
	}
	return out
}

// kept returns what is drawn of a stretch: its pieces between the gaps.
func (s *stretch) kept() [][]geom.Seg {
	var out [][]geom.Seg
	at := 0.0
	for _, g := range append(s.cuts[:len(s.cuts):len(s.cuts)], gap{s.length(), math.Inf(1)}) {
		if p := between(s.path, at, g.from); len(p) > 0 {
			out = append(out, p)
		}
		at = g.to
	}
	return out
}
