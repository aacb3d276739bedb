package main

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
)

// pairFiles are the files of W5 and the workloads that they belong to.
var pairFiles = []struct{ file, workload string }{
	{"comps.txt", "W5.comps"},
	{"prisms_100.txt", "W5.prisms"},
	{"prisms_1000.txt", "W5.prisms"},
	{"prisms_10000.txt", "W5.prisms"},
}

// closer is the limit of W5 in mm.
const closer = 2

// uprights reads a file of upright bodies, rings made loops by how.
func (b *bench) uprights(name string, how func([]r2.Point) (geom.Loop, error)) ([]geom.Body, error) {
	shapes, err := b.shapes(name)
	if err != nil {
		return nil, err
	}
	out := make([]geom.Body, len(shapes))
	for i := range shapes {
		r, err := shapes[i].region(how)
		if err != nil {
			return nil, err
		}
		out[i] = geom.Upright{Plan: []geom.Region{r}, Z: r1.Interval{Lo: shapes[i].z0, Hi: shapes[i].z1}}
	}
	return out, nil
}

// pairSearch runs W5: the index built, all pairs of bodies closer than 2 mm and the distance
// of each; on the chorded shapes, and as dryfit_arcs on the arcs that the chords came from.
func pairSearch(b *bench) error {
	if !b.wants("W5") {
		return nil
	}
	for _, form := range []struct {
		peer string
		how  func([]r2.Point) (geom.Loop, error)
	}{{"dryfit", loop}, {"dryfit_arcs", refit}} {
		for _, f := range pairFiles {
			bodies, err := b.uprights(f.file, form.how)
			if err != nil {
				return err
			}
			b.time(form.peer, f.workload, len(bodies), 1, func() float64 {
				sum := 0.0
				geom.EachCloser(bodies, closer, func(_, _ int, d float64) bool {
					if d < closer {
						sum += 1 + d
					}
					return true
				})
				return sum
			})
		}
	}
	return nil
}

// convexClasses are the classes of W6.
var convexClasses = []string{"box-box", "cyl-cyl", "cap-cap", "box-cyl", "box-cap", "cyl-cap", "hull-hull"}

// solids reads the pairs of convex bodies of every class.
func (b *bench) solids() (map[string][][2]geom.Body, error) {
	out := map[string][][2]geom.Body{}
	err := b.lines("w6.txt", func(t []string) error {
		if len(t) < 4 {
			return fmt.Errorf("expected an id, a class and two bodies")
		}
		p, rest, err := solid(t[2:])
		if err != nil {
			return err
		}
		q, rest, err := solid(rest)
		if err != nil {
			return err
		}
		if len(rest) > 0 {
			return fmt.Errorf("too many fields: %s", strings.Join(rest, " "))
		}
		out[t[1]] = append(out[t[1]], [2]geom.Body{p, q})
		return nil
	})
	return out, err
}

// solid reads one convex body and returns the fields after it.
func solid(t []string) (geom.Body, []string, error) {
	sizes := map[string]int{"box": 3, "cyl": 2, "cap": 2, "hull": 1}[t[0]]
	if sizes == 0 || len(t) < 1+sizes {
		return nil, nil, fmt.Errorf("%q is not a body", t[0])
	}
	s, err := numbers(t[1 : 1+sizes])
	if err != nil {
		return nil, nil, err
	}
	rest := t[1+sizes:]
	n := 12
	if t[0] == "hull" {
		n = 6 * int(s[0])
	}
	if n < 0 || len(rest) < n {
		return nil, nil, fmt.Errorf("%s ends early", t[0])
	}
	v, err := numbers(rest[:n])
	if err != nil {
		return nil, nil, err
	}
	rest = rest[n:]
	var c geom.Convex
	if t[0] == "hull" {
		points := make([]r3.Vector, n/3)
		for i := range points {
			points[i] = r3.Vector{X: v[3*i], Y: v[3*i+1], Z: v[3*i+2]}
		}
		c, err = geom.NewHull(points)
		return c, rest, err
	}
	// The nine numbers are row by row; a pose holds columns.
	p := geom.Pose3{T: r3.Vector{X: v[9], Y: v[10], Z: v[11]}}
	for i := range p.R {
		p.R[i] = r3.Vector{X: v[i], Y: v[3+i], Z: v[6+i]}
	}
	switch t[0] {
	case "box":
		c, err = geom.NewBox(r3.Vector{X: 2 * s[0], Y: 2 * s[1], Z: 2 * s[2]}, p)
	case "cyl":
		c, err = geom.NewCylinder(s[0], 2*s[1], p)
	case "cap":
		half := p.R[2].Mul(s[1])
		c, err = geom.NewCapsule(p.T.Sub(half), p.T.Add(half), s[0])
	}
	return c, rest, err
}

// convexDistances runs W6: the distance of two separate convex bodies, with its witness
// points.
func convexDistances(b *bench) error {
	if !b.wants("W6") {
		return nil
	}
	pairs, err := b.solids()
	if err != nil {
		return err
	}
	for _, class := range convexClasses {
		p := pairs[class]
		b.time("dryfit", "W6."+class, len(p), len(p), func() float64 {
			sum := 0.0
			for i := range p {
				sum += geom.DistanceBodies(p[i][0], p[i][1]).Dist
			}
			return sum
		})
	}
	return nil
}
