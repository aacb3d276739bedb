package layout

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
)

// biotSavart is μ₀/4π in µT·mm/A: 1e-7 T·m/A. Since 2019 μ₀ is measured; it is 4π·1e-7 within
// 1e-9 of itself.
const biotSavart = 100.0

// FieldOfSegment returns the magnetic flux density in µT, as a vector in the frame of the
// points, that a current of amps from a to b makes at p. Lengths are in mm.
//
// It is the law of Biot and Savart in closed form for a straight piece: with u = p − a and
// v = p − b, B = μ₀I/4π · (u × v)·(|u| + |v|) / (|u||v|·(|u||v| + u·v)). Over a long wire this
// is 0.2·I/r with r in m. A piece is not a circuit: only sums over closed ones mean something.
//
// On the piece and on its axis beyond both ends it is 0, by symmetry; inside a real conductor
// the field falls to 0 towards its axis.
func FieldOfSegment(a, b, p r3.Vector, amps float64) r3.Vector {
	u, v := p.Sub(a), p.Sub(b)
	nu, nv := u.Norm(), v.Norm()
	cross := u.Cross(v)
	// |u × v| is the distance from the axis times the length of the piece.
	if cross.Norm() < 1e-9*(nu+nv)*(nu+nv) {
		return r3.Vector{}
	}
	return cross.Mul(biotSavart * amps * (nu + nv) / (nu * nv * (nu*nv + u.Dot(v))))
}

// FieldOfPair returns the magnetic flux density in µT at p of amps that go along line on one
// lead and come back on another, spacing mm beside it. The leads lie half the spacing to the
// left and right of the line in plan and are joined at both ends, so that the current is a closed one. For a long pair
// at a distance r that is large against the spacing s this is 0.2·I·s/r² with r and s in m.
//
// Leads that are twisted make less: the field of one half turn takes off that of the next. What this returns is
// then an upper bound. Of a line with less than two points it is 0; upright pieces keep the side of the piece
// before them.
func FieldOfPair(line []r3.Vector, spacing, amps float64, p r3.Vector) r3.Vector {
	if len(line) < 2 {
		return r3.Vector{}
	}
	left := make([]r3.Vector, 0, len(line))
	right := make([]r3.Vector, 0, len(line))
	sides := sidesOf(line)
	for i, at := range line {
		half := r3.Vector{X: sides[i].X, Y: sides[i].Y}.Mul(spacing / 2)
		left, right = append(left, at.Add(half)), append(right, at.Sub(half))
	}
	var sum r3.Vector
	n := len(line) - 1
	for i := range n {
		sum = sum.Add(FieldOfSegment(left[i], left[i+1], p, amps))
		sum = sum.Add(FieldOfSegment(right[i+1], right[i], p, amps))
	}
	sum = sum.Add(FieldOfSegment(left[n], right[n], p, amps))
	return sum.Add(FieldOfSegment(right[0], left[0], p, amps))
}

// FieldOfLead returns the magnetic flux density in µT at p of amps along line, without a
// return: 0.2·I/r for a long straight one, r in m.
func FieldOfLead(line []r3.Vector, amps float64, p r3.Vector) r3.Vector {
	var sum r3.Vector
	for i := 1; i < len(line); i++ {
		sum = sum.Add(FieldOfSegment(line[i-1], line[i], p, amps))
	}
	return sum
}

// sidesOf returns for each point of a line the unit vector in plan to its left: of the
// piece before and behind it together.
func sidesOf(line []r3.Vector) []r2.Point {
	out := make([]r2.Point, len(line))
	side := func(i int) (r2.Point, bool) { // of the piece from i to i+1
		if i < 0 || i+1 >= len(line) {
			return r2.Point{}, false
		}
		d := line[i+1].Sub(line[i])
		n := math.Hypot(d.X, d.Y)
		if n < 1e-9 {
			return r2.Point{}, false
		}
		return r2.Point{X: -d.Y / n, Y: d.X / n}, true
	}
	last := r2.Point{}
	for i := range line {
		a, okA := side(i - 1)
		b, okB := side(i)
		s := last
		switch {
		case okA && okB:
			s = a.Add(b)
		case okA:
			s = a
		case okB:
			s = b
		}
		if n := s.Norm(); n > 1e-6 {
			last = s.Mul(1 / n)
		}
		out[i] = last
	}
	// An upright start takes the side of the first piece that has one.
	for i := len(line) - 2; i >= 0; i-- {
		if out[i] == (r2.Point{}) {
			out[i] = out[i+1]
		}
	}
	for i := range out {
		if out[i] == (r2.Point{}) {
			out[i] = r2.Point{Y: 1}
		}
	}
	return out
}

// arcStep is the greatest turn in radians that one chord of a route's arc covers: the chord
// of 10° at 15 mm radius is off by 0.06 mm.
const arcStep = math.Pi / 18

// Line returns the middle of a routed bundle as a chain of points in the body frame, arcs by
// chords of at most 10°. It is empty without a way.
func (r *Route) Line() []r3.Vector {
	var out []r3.Vector
	if r == nil {
		return out
	}
	add := func(p r3.Vector) {
		if n := len(out); n == 0 || out[n-1].Sub(p).Norm() > 1e-6 {
			out = append(out, p)
		}
	}
	for i := range r.Legs {
		leg := &r.Legs[i]
		if len(leg.Path.Segs) == 0 {
			if leg.Length > 0 {
				add(r3.Vector{X: leg.At.X, Y: leg.At.Y, Z: leg.Z0})
				add(r3.Vector{X: leg.At.X, Y: leg.At.Y, Z: leg.Z1})
			}
			continue
		}
		var total, done float64
		for _, s := range leg.Path.Segs {
			total += s.Length()
		}
		for _, s := range leg.Path.Segs {
			length := s.Length()
			n := stepsOf(s)
			for k := range n + 1 {
				t := float64(k) / float64(n)
				q := s.At(t)
				z := leg.Z0
				if total > 1e-12 {
					z += (leg.Z1 - leg.Z0) * (done + t*length) / total
				}
				add(r3.Vector{X: q.X, Y: q.Y, Z: z})
			}
			done += length
		}
	}
	return out
}

func stepsOf(s geom.Seg) int {
	turn := math.Abs(s.Sweep().Radians())
	return max(1, int(math.Ceil(turn/arcStep-1e-9)))
}
