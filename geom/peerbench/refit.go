package main

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// refit makes a loop of a ring, with arcs in place of the chords that follow them: runs of
// at least three chords of one length, each turned against the last by one angle, have all
// their vertices on a circle. The files round coordinates to 1e-6 mm, so this holds to a
// few times that.
func refit(ring []r2.Point) (geom.Loop, error) {
	n := len(ring)
	at := func(i int) r2.Point { return ring[((i%n)+n)%n] }
	// even reports whether chord i goes on from chord i-1 along a circle.
	even := func(i int) bool {
		u, v := at(i).Sub(at(i-1)), at(i+1).Sub(at(i))
		w := at(i - 1).Sub(at(i - 2))
		a, b := turn(w, u), turn(u, v)
		return math.Abs(u.Norm()-v.Norm()) < 1e-5 && math.Abs(u.Norm()-w.Norm()) < 1e-5 &&
			math.Abs(a-b)*u.Norm() < 1e-5 && math.Abs(a) > 1e-4 && math.Abs(a) < 1.2
	}
	// inner[i]: vertex i lies inside an arc: the chords to both sides belong to one run.
	inner := make([]bool, n)
	all := true
	for i := range n {
		if even(i) { // chords i-2.., i-1.., i.. form a run; their inner vertices:
			inner[((i-1)%n+n)%n], inner[i] = true, true
		}
	}
	for i := range n {
		all = all && inner[i]
	}
	if all { // a full circle
		c := r2.Point{}
		for _, p := range ring {
			c = c.Add(p.Mul(1 / float64(n)))
		}
		l := geom.Circle(c, ring[0].Sub(c).Norm())
		if turn(at(1).Sub(at(0)), at(2).Sub(at(1))) < 0 {
			l = l.Reverse()
		}
		return l, nil
	}
	var v []geom.Vertex
	for i := range n {
		if inner[i] {
			continue
		}
		w := geom.Vertex{P: ring[i]}
		sweep := 0.0
		for k := i + 1; inner[k%n]; k++ {
			a := turn(at(k).Sub(at(k-1)), at(k+1).Sub(at(k)))
			if sweep == 0 {
				sweep = a // n chords sweep n times the turn between two
			}
			sweep += a
		}
		w.Bulge = math.Tan(sweep / 4)
		v = append(v, w)
	}
	return geom.NewLoop(v)
}

// turn returns the angle from u to v.
func turn(u, v r2.Point) float64 { return math.Atan2(u.Cross(v), u.Dot(v)) }
