package main

import (
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// pairClasses are the classes of pairs in the order in which they are run; the last two
// overlap and are only asked whether they intersect.
var pairClasses = []string{"pp_far", "pp_near", "pc_far", "pc_near", "pc_hole", "dd", "pp_hit", "pc_hit"}

// pair is two regions to be compared, and the same made ready.
type pair struct {
	a, b   geom.Region
	pa, pb *geom.Prepared
}

// readPairs returns the pairs of every class, rings made loops by how.
func (b *bench) readPairs(how func([]r2.Point) (geom.Loop, error)) (map[string][]pair, error) {
	regions := map[string]*geom.Prepared{}
	for _, name := range []string{"plates.txt", "shapes.txt", "disks.txt"} {
		shapes, err := b.shapes(name)
		if err != nil {
			return nil, err
		}
		for i := range shapes {
			r, err := shapes[i].region(how)
			if err != nil {
				return nil, err
			}
			regions[shapes[i].id] = geom.Prepare(r)
		}
	}
	pairs := map[string][]pair{}
	err := b.lines("pairs.txt", func(t []string) error {
		if len(t) != 3 || regions[t[1]] == nil || regions[t[2]] == nil {
			return fmt.Errorf("expected a class and the ids of two shapes")
		}
		p, q := regions[t[1]], regions[t[2]]
		pairs[t[0]] = append(pairs[t[0]], pair{a: p.Region(), b: q.Region(), pa: p, pb: q})
		return nil
	})
	return pairs, err
}

// distances runs W1 (distance), W1w (closer than 1 mm ?) and W2 (do they intersect ?) on
// the chorded shapes, and as dryfit_arcs on the arcs that the chords came from. There is no
// row for prepared regions: every loop carries its tree from the start, so that preparing
// changes no time.
func distances(b *bench) error {
	if !b.wants("W1") && !b.wants("W2") {
		return nil
	}
	for _, form := range []struct {
		peer string
		how  func([]r2.Point) (geom.Loop, error)
	}{{"dryfit", loop}, {"dryfit_arcs", refit}} {
		pairs, err := b.readPairs(form.how)
		if err != nil {
			return err
		}
		for _, class := range pairClasses {
			p := pairs[class]
			n := len(p)
			if class != "pp_hit" && class != "pc_hit" {
				b.time(form.peer, "W1."+class, n, n, func() float64 { return sumDistances(p) })
				b.time(form.peer, "W1w."+class, n, n, func() float64 { return countCloser(p) })
			}
			b.time(form.peer, "W2."+class, n, n, func() float64 { return countIntersecting(p) })
		}
	}
	return nil
}

func sumDistances(p []pair) float64 {
	sum := 0.0
	for i := range p {
		sum += geom.Separation(p[i].a, p[i].b)
	}
	return sum
}

func countCloser(p []pair) float64 {
	sum := 0.0
	for i := range p {
		if geom.IsCloser(p[i].a, p[i].b, 1) {
			sum++
		}
	}
	return sum
}

func countIntersecting(p []pair) float64 {
	sum := 0.0
	for i := range p {
		if geom.Intersects(p[i].a, p[i].b) {
			sum++
		}
	}
	return sum
}
