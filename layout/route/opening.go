package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A roomPiece is a piece of the boundary of where in an opening the middle of a bundle may
// pass.
type roomPiece struct {
	a, b        r2.Point
	arc         bool
	c           r2.Point
	r           float64
	from, sweep float64 // angles, of an arc
}

// room returns where in an opening the middle of a bundle may pass.
func (c *class) room(sheet, hole int) []roomPiece {
	in := c.space.Edge + c.r
	h := &c.space.Sheets[sheet].Holes[hole]
	room, err := geom.Offset([]geom.Region{geom.RegionOf(h.Loop.CCW())}, -in+play)
	if err != nil {
		return nil
	}
	var ps []roomPiece
	for i := range room {
		for l := range room[i].Loops() {
			for _, s := range l.Segs() {
				p := roomPiece{a: s.A, b: s.B}
				if s.IsArc() {
					p.arc, p.c, p.r, p.sweep = true, s.Center(), s.Radius(), s.Sweep().Radians()
					p.from = math.Atan2(s.A.Y-p.c.Y, s.A.X-p.c.X)
				}
				ps = append(ps, p)
			}
		}
	}
	return ps
}

// openingTransits calls put with ways through an opening: from a place beside it on one
// face, over its rim, upright through it, and over the rim to a place on the other face.
// Where it is upright is worked out when one is looked at; until then the tails are as short
// as can be.
func (c *class) openingTransits(p *pair, g *group, put func(transit)) {
	g.wall.room = c.room(g.sheet, g.hole)
	if len(g.wall.room) == 0 {
		return
	}
	sh := &c.space.Sheets[g.sheet]
	lap := &g.wall.loops[0]
	n := max(8, min(12, int(math.Ceil(lap.total/3))))
	for i := range n {
		a, _ := lap.at(lap.total * float64(i) / float64(n))
		for j := range n {
			b, _ := lap.at(lap.total * float64(j) / float64(n))
			m := a.Add(b).Mul(0.5)
			put(transit{kind: Hole, lo: p.lo.index, hi: p.hi.index, sheet: g.sheet, opening: g.hole, wall: g.wall,
				along: [2]float64{lap.total * float64(i) / float64(n), lap.total * float64(j) / float64(n)},
				p:     [2]r2.Point{a, b}, at: [2]r2.Point{m, m}, upright: sh.Hi - sh.Lo + 2*c.r})
		}
	}
}

// placeInOpening sets the places of a transit through an opening from where it lies along
// the outline round it: it is upright where the way between is shortest.
func (c *class) placeInOpening(t *transit) {
	lap := &t.wall.loops[t.lap]
	a, _ := lap.at(t.along[0])
	b, _ := lap.at(t.along[1])
	t.p = [2]r2.Point{a, b}
	q := between(t.wall.room, a, b)
	t.at = [2]r2.Point{q, q}
}

// between returns the point of the room by way of which it is shortest from a to b, both of
// which lie outside of it.
func between(room []roomPiece, a, b r2.Point) r2.Point {
	best, at := math.Inf(1), a
	for i := range room {
		p := &room[i]
		q := viaLine(p.a, p.b, a, b)
		if p.arc {
			q = p.viaArc(a, b)
		}
		if d := dist(a, q) + dist(q, b); d < best {
			best, at = d, q
		}
	}
	return at
}

// viaLine returns the point of the line from p to q by way of which it is shortest from a to
// b: where the line from a to b crosses it, or with b mirrored in it if both lie on one side.
func viaLine(p, q, a, b r2.Point) r2.Point {
	u := q.Sub(p)
	n := u.Norm()
	if n <= geom.Coincident {
		return p
	}
	u = u.Mul(1 / n)
	sa, sb := math.Abs(u.Cross(a.Sub(p))), math.Abs(u.Cross(b.Sub(p)))
	ta, tb := u.Dot(a.Sub(p)), u.Dot(b.Sub(p))
	t := (ta + tb) / 2
	if sa+sb > geom.Coincident {
		t = ta + (tb-ta)*sa/(sa+sb)
	}
	return p.Add(u.Mul(max(0, min(n, t))))
}

// viaArc is viaLine for an arc, by halving down from eight starts: on an arc the sum of two
// distances may have several minima.
func (s *roomPiece) viaArc(a, b r2.Point) r2.Point {
	c, r, from, sweep := s.c, s.r, s.from, s.sweep
	place := func(t float64) r2.Point {
		sin, cos := math.Sincos(from + t*sweep)
		return r2.Point{X: c.X + r*cos, Y: c.Y + r*sin}
	}
	sum := func(t float64) float64 {
		q := place(t)
		return math.Sqrt((q.X-a.X)*(q.X-a.X)+(q.Y-a.Y)*(q.Y-a.Y)) + math.Sqrt((q.X-b.X)*(q.X-b.X)+(q.Y-b.Y)*(q.Y-b.Y))
	}
	const starts = 8
	t, least := 0.0, math.Inf(1)
	for i := range starts + 1 {
		if x := sum(float64(i) / starts); x < least {
			t, least = float64(i)/starts, x
		}
	}
	for h := 0.5 / starts; h*math.Abs(sweep)*r > 1e-3; h /= 2 {
		for _, d := range [2]float64{h, -h} {
			if k := max(0, min(1, t+d)); k != t {
				if x := sum(k); x < least {
					t, least = k, x
				}
			}
		}
	}
	return place(t)
}
