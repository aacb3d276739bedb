package geom

import (
	"github.com/golang/geo/r2"
)

// Cutting and welding must not change the area under the curves, counted as often as the
// winding rises over them, by more than the weld distance times their length: else whole
// parts went astray. Strands in the middle of a link are the same before and after, so the
// change is that of the strands at the ends of links.

// areaUnder returns the area from o under the arc or line from p to q of the given bulge,
// counted as often as the winding rises. The two operands are weighed differently, so that
// an error in one cannot hide an error in the other.
func areaUnder(p, q, o r2.Point, bulge float64, rise windings) float64 {
	p, q = sub2(p, o), sub2(q, o)
	a := cross2(p, q) / 2
	if bulge != 0 {
		d := sub2(q, p)
		a += dot2(d, d) * bulgeArea(bulge)
	}
	return a * (float64(rise.a) + 0.7*float64(rise.b))
}

// lose notes that the strand will be replaced by parts of links.
func (ar *arrangement) lose(s *strand) {
	ar.lost += areaUnder(s.a, s.b, ar.strands[0].a, s.bulge, s.rise)
}

// areaChange returns by how much the area under the links differs from that under the
// strands.
func (ar *arrangement) areaChange() float64 {
	sum := -ar.lost
	for i := range ar.links {
		l := &ar.links[i]
		if l.dead {
			continue
		}
		o := ar.strands[0].a
		p, q, b := ar.part(l, l.s)
		sum += areaUnder(p, q, o, b, l.rise)
		if !l.single() {
			p, q, b = ar.part(l, l.t)
			sum += areaUnder(p, q, o, b, l.rise)
		}
	}
	return sum
}
