package route

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// room returns where in an opening the middle of a bundle may pass.
func (c *class) room(sheet, hole int) []geom.Edge {
	in := c.space.Edge + c.r
	h := &c.space.Sheets[sheet].Holes[hole]
	room, err := geom.Offset([]geom.Region{geom.RegionOf(h.Loop.CCW())}, -in+play)
	if err != nil {
		return nil
	}
	var es []geom.Edge
	for i := range room {
		for l := range room[i].Loops() {
			for _, s := range l.Segs() {
				es = append(es, geom.EdgeOf(s))
			}
		}
	}
	return es
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
func between(room []geom.Edge, a, b r2.Point) r2.Point {
	best, at := math.Inf(1), a
	for i := range room {
		q := room[i].Via(a, b)
		if d := dist(a, q) + dist(q, b); d < best {
			best, at = d, q
		}
	}
	return at
}
