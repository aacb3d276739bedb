package main

import (
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// course is one file of W7: obstacles, and the ends of the paths asked for.
type course struct {
	obstacles []geom.Region
	queries   [][2]r2.Point
}

func (b *bench) readCourse(n int) (course, error) {
	var c course
	shapes, err := b.shapes(fmt.Sprintf("route_%d.txt", n))
	if err != nil {
		return c, err
	}
	for i := range shapes {
		s := &shapes[i]
		if s.kind == "query" {
			if len(s.rings) != 1 || len(s.rings[0]) != 2 {
				return c, fmt.Errorf("query %s has not two points", s.id)
			}
			c.queries = append(c.queries, [2]r2.Point{s.rings[0][0], s.rings[0][1]})
			continue
		}
		r, err := s.region(loop)
		if err != nil {
			return c, err
		}
		c.obstacles = append(c.obstacles, r)
	}
	return c, nil
}

// lengths returns the sum of the lengths of all paths asked for.
func (c *course) lengths(f *geom.Field) (float64, error) {
	sum := 0.0
	for _, q := range c.queries {
		l, err := f.Length(q[0], q[1])
		if err != nil {
			return 0, err
		}
		sum += l
	}
	return sum, nil
}

// routes runs W7: obstacles grown by a clearance and made ready, and the lengths of
// shortest paths. Preparing takes in all tangents; its checksum counts the corners that
// paths can bend round, which other ways of growing count differently. The rows of
// dryfit_lazy leave the tangents to the queries: its preparing does without them, and each
// set of queries runs on a field of its own whose making is taken off.
func routes(b *bench) error {
	if !b.wants("W7") {
		return nil
	}
	for _, n := range []int{10, 50, 200} {
		c, err := b.readCourse(n)
		if err != nil {
			return err
		}
		for _, clearance := range []float64{0, 1.5} {
			if err := b.route(n, &c, clearance); err != nil {
				return err
			}
		}
	}
	return nil
}

func (b *bench) route(n int, c *course, clearance float64) error {
	var err error
	build := func() *geom.Field {
		var f *geom.Field
		if f, err = geom.NewField(c.obstacles, clearance); err != nil {
			return nil
		}
		return f
	}
	f := build()
	if err != nil {
		return err
	}
	ask := func(f *geom.Field) float64 {
		sum, e := c.lengths(f)
		if e != nil {
			err = e
		}
		return sum
	}
	prep, query := fmt.Sprintf("W7.prep%g", clearance), fmt.Sprintf("W7.query%g", clearance)
	b.time("dryfit", prep, n, 1, func() float64 {
		if f := build(); f != nil {
			f.Prepare()
			return float64(f.Corners())
		}
		return 0
	})
	b.time("dryfit_lazy", prep, n, 1, func() float64 {
		if f := build(); f != nil {
			return float64(f.Corners())
		}
		return 0
	})
	f.Prepare()
	b.time("dryfit", query, n, len(c.queries), func() float64 { return ask(f) })
	// First queries: preparing without tangents and all queries, as one operation each.
	b.time("dryfit_cold", query, n, len(c.queries), func() float64 {
		if f := build(); f != nil {
			return ask(f)
		}
		return 0
	})
	return err
}
