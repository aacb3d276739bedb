package geom

import "github.com/golang/geo/r2"

// Prepared is a region made ready for many queries, none of which allocates, not even the
// first. Its queries may place the other region by a shift without building it.
//
// A Prepared is immutable and may be used from several goroutines.
type Prepared struct {
	r Region
}

// Prepare returns the region made ready. Later changes to r.Holes have no effect on it.
func Prepare(r Region) *Prepared {
	p := &Prepared{r: Region{Outer: r.Outer, Holes: append([]Loop(nil), r.Holes...)}}
	for l := range p.r.Loops() {
		if l.d != nil {
			l.d.ready()
			l.d.isConvex()
		}
	}
	return p
}

// Region returns the region that was prepared.
func (p *Prepared) Region() Region { return p.r }

// Bound returns the least axis-parallel box.
func (p *Prepared) Bound() Rect { return p.r.Bound() }

// Contains is [Region.Contains].
func (p *Prepared) Contains(q r2.Point) bool { return p.r.locate(q) != outside }

// Distance is [Distance] between p and q.
func (p *Prepared) Distance(q *Prepared) Gap { return distance(&p.r, &q.r, r2.Point{}) }

// DistanceAt is [Distance] between p and q moved by shift. The witness B is the point of
// q where it is then.
func (p *Prepared) DistanceAt(q *Prepared, shift r2.Point) Gap {
	g := distance(&p.r, &q.r, shift)
	if g.Push != (r2.Point{}) {
		g.B = g.B.Add(shift)
	}
	return g
}

// Separation is [Separation] between p and q.
func (p *Prepared) Separation(q *Prepared) float64 { return separationOf(&p.r, &q.r, r2.Point{}) }

// SeparationAt is [Separation] between p and q moved by shift.
func (p *Prepared) SeparationAt(q *Prepared, shift r2.Point) float64 {
	return separationOf(&p.r, &q.r, shift)
}

// DistancePoint is [DistancePoint].
func (p *Prepared) DistancePoint(q r2.Point) Gap { return distancePoint(&p.r, q) }

// IsCloser is [IsCloser] between p and q.
func (p *Prepared) IsCloser(q *Prepared, limit float64) bool {
	return isCloser(&p.r, &q.r, r2.Point{}, limit)
}

// IsCloserAt is [IsCloser] between p and q moved by shift.
func (p *Prepared) IsCloserAt(q *Prepared, shift r2.Point, limit float64) bool {
	return isCloser(&p.r, &q.r, shift, limit)
}

// Intersects is [Intersects] between p and q.
func (p *Prepared) Intersects(q *Prepared) bool { return intersects(&p.r, &q.r, r2.Point{}) }

// IntersectsAt is [Intersects] between p and q moved by shift.
func (p *Prepared) IntersectsAt(q *Prepared, shift r2.Point) bool {
	return intersects(&p.r, &q.r, shift)
}

// Inside is [Inside] with p as the outer region.
func (p *Prepared) Inside(inner *Prepared) Gap { return Inside(p.r, inner.r) }
