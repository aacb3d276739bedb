package route

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// touch is the overlap in height, in mm, up to which things only touch: a part that stands
// where the room of a wire ends is not in its way.
const touch = 1e-6

// play is what a place may lack of its clearance, in mm, and still count as free: ten times
// what [geom.Field] leaves paths.
const play = 1e-6

// step is the greatest distance in mm between places that are tried along an outline. A free
// stretch between two things that is narrower than this can be passed by: of some thousand random spaces one has a
// shorter way there, for all that is looked for between two places of an edge.
const step = 5.0

// chunkLength is the length in mm of outline that is looked at together.
const chunkLength = 25.0

// A thing is a solid or a sheet of the space.
type thing struct {
	sheet bool
	index int
}

// A wall is a region that the middle of a bundle keeps away from.
type wall struct {
	plan  geom.Region
	box   geom.Rect
	clear float64 // mm from the middle of the bundle
	of    thing
	rim   int         // of the limits of a face: outerRim or holeRim
	lined bool        // chunks are made
	loops []lap       // the outline at the clearance
	parts []chunk     // of them
	room  []geom.Edge // of an opening: where a bundle may pass
}

const (
	outerRim = iota + 1
	holeRim
)

func newWall(plan geom.Region, clear float64, of thing) *wall {
	return &wall{plan: plan, box: plan.Bound(), clear: clear, of: of}
}

// A lap is a closed outline: its pieces, and the length up to the start of each.
type lap struct {
	segs  []geom.Seg
	boxes []geom.Rect
	edges []geom.Edge
	flat  []bool // it is a line
	start []float64
	total float64
}

// nearest returns the length along the lap of its point nearest to q.
func (p *lap) nearest(q r2.Point) float64 {
	s, least := 0.0, math.Inf(1)
	for k := range p.segs {
		if p.boxes[k].Away(q) < least {
			if share, d := p.nearestOn(k, q); d < least {
				s, least = p.start[k]+share*(p.end(k)-p.start[k]), d
			}
		}
	}
	return s
}

// nearestOn returns the share of a piece's length at which it is nearest to q, and how near.
func (p *lap) nearestOn(k int, q r2.Point) (share, d float64) {
	g := &p.segs[k]
	if !p.flat[k] {
		return p.edges[k].Nearest(q)
	}
	dx, dy := g.B.X-g.A.X, g.B.Y-g.A.Y
	if n := dx*dx + dy*dy; n > 0 {
		share = max(0, min(1, ((q.X-g.A.X)*dx+(q.Y-g.A.Y)*dy)/n))
	}
	x, y := q.X-g.A.X-share*dx, q.Y-g.A.Y-share*dy
	return share, math.Sqrt(x*x + y*y)
}

// end returns the length up to the end of a piece.
func (p *lap) end(k int) float64 {
	if k+1 < len(p.start) {
		return p.start[k+1]
	}
	return p.total
}

// A chunk is a run of pieces of a lap.
type chunk struct {
	lap      int
	from, to int // pieces
	box      geom.Rect
}

// outline returns the boundary of the wall grown by its clearance, in chunks. One that
// cannot be grown has none.
func (w *wall) outline() []chunk {
	if w.lined {
		return w.parts
	}
	w.lined = true
	for _, l := range grownLoops(w.plan, w.clear+play) {
		if b := l.Bound(); w.rim == outerRim && b.Lo.X < w.box.Lo.X && b.Hi.X > w.box.Hi.X {
			continue // the frame round the sheet
		}
		w.addLap(l)
	}
	return w.parts
}

func (w *wall) addLap(l geom.Loop) {
	pieces := l.Len() + int(l.Perimeter()/chunkLength)
	p := lap{segs: make([]geom.Seg, 0, pieces), boxes: make([]geom.Rect, 0, pieces), edges: make([]geom.Edge, 0, pieces),
		flat: make([]bool, 0, pieces), start: make([]float64, 0, pieces)}
	for _, s := range l.Segs() {
		length := s.Length()
		n := max(1, int(math.Ceil(length/chunkLength)))
		for i := range n {
			p.start = append(p.start, p.total)
			part := s.Part(float64(i)/float64(n), float64(i+1)/float64(n))
			p.segs = append(p.segs, part)
			e := geom.EdgeOf(part)
			p.edges = append(p.edges, e)
			p.boxes = append(p.boxes, e.Box)
			p.flat = append(p.flat, !e.Arc)
			p.total += length / float64(n)
		}
	}
	k := len(w.loops)
	w.loops = append(w.loops, p)
	for i := 0; i < len(p.segs); {
		c := chunk{lap: k, from: i, box: geom.EmptyRect()}
		for i < len(p.segs) && (i == c.from || p.end(i)-p.start[c.from] <= chunkLength*1.01) {
			c.box = c.box.Union(p.boxes[i])
			i++
		}
		c.to = i
		w.parts = append(w.parts, c)
	}
}

// at returns the point at a length along the lap, and the direction to the right there.
func (p *lap) at(s float64) (q, right r2.Point) {
	s = math.Mod(s, p.total)
	if s < 0 {
		s += p.total
	}
	i, ok := slices.BinarySearch(p.start, s)
	if !ok {
		i--
	}
	i = max(0, min(i, len(p.segs)-1))
	g := &p.segs[i]
	n := p.end(i) - p.start[i]
	t := 0.0
	if n > 0 {
		t = min(1, (s-p.start[i])/n)
	}
	var u r2.Point
	if p.flat[i] && n > 0 {
		u = r2.Point{X: (g.B.X - g.A.X) / n, Y: (g.B.Y - g.A.Y) / n}
		q = r2.Point{X: g.A.X + t*(g.B.X-g.A.X), Y: g.A.Y + t*(g.B.Y-g.A.Y)}
	} else {
		u, q = g.Tangent(t), g.At(t)
	}
	return q, r2.Point{X: u.Y, Y: -u.X}
}

// clearOf reports whether the point keeps its distance from all walls.
func clearOf(ws []*wall, p r2.Point) bool {
	for _, w := range ws {
		d := w.clear - play
		if p.X < w.box.Lo.X-d || p.X > w.box.Hi.X+d || p.Y < w.box.Lo.Y-d || p.Y > w.box.Hi.Y+d {
			continue
		}
		if geom.IsCloserPoint(w.plan, p, d) {
			return false
		}
	}
	return true
}

// clearLine reports whether the straight line keeps its distance from all walls.
func clearLine(ws []*wall, a, b r2.Point) bool { return blocker(ws, a, b) == nil }

// blocker returns the first wall that the line comes too near to, or nil.
func blocker(ws []*wall, a, b r2.Point) *wall {
	lx, hx, ly, hy := min(a.X, b.X), max(a.X, b.X), min(a.Y, b.Y), max(a.Y, b.Y)
	for _, w := range ws {
		d := w.clear - play
		if hx < w.box.Lo.X-d || lx > w.box.Hi.X+d || hy < w.box.Lo.Y-d || ly > w.box.Hi.Y+d {
			continue
		}
		if geom.IsCloserLine(w.plan, a, b, d) {
			return w
		}
	}
	return nil
}

func dist(a, b r2.Point) float64 {
	x, y := a.X-b.X, a.Y-b.Y
	return math.Sqrt(x*x + y*y)
}
