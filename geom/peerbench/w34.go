package main

import (
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// assembly is one plate in parts: arms and hub to be united, holes to be cut out.
type assembly struct{ parts, holes []geom.Region }

func (b *bench) readAssemblies(how func([]r2.Point) (geom.Loop, error)) ([]assembly, error) {
	shapes, err := b.shapes("parts.txt")
	if err != nil {
		return nil, err
	}
	var out []assembly
	last := ""
	for i := range shapes {
		s := &shapes[i]
		r, err := s.region(how)
		if err != nil {
			return nil, err
		}
		if s.id != last {
			out = append(out, assembly{})
			last = s.id
		}
		a := &out[len(out)-1]
		if s.kind == "hole" {
			a.holes = append(a.holes, r)
		} else {
			a.parts = append(a.parts, r)
		}
	}
	return out, nil
}

// plate makes a plate of its parts.
func (a *assembly) plate() ([]geom.Region, error) { return geom.Difference(a.parts, a.holes) }

// readPlates returns the plates, each as a set of one region; outline leaves the holes out.
func (b *bench) readPlates(how func([]r2.Point) (geom.Loop, error), outline bool) ([][]geom.Region, error) {
	shapes, err := b.shapes("plates.txt")
	if err != nil {
		return nil, err
	}
	var out [][]geom.Region
	for i := range shapes {
		r, err := shapes[i].region(how)
		if err != nil {
			return nil, err
		}
		if outline {
			r.Holes = nil
		}
		out = append(out, []geom.Region{r})
	}
	return out, nil
}

// offsetWorkloads are the offsets of W4.
var offsetWorkloads = []struct {
	name    string
	outline bool
	d       float64
}{
	{"W4.outline+1", true, 1}, {"W4.outline-0.5", true, -0.5}, {"W4.full+1", false, 1}, {"W4.full-0.5", false, -0.5},
}

// setOperations runs W3 (plates made of their parts) and W4 (offsets of plates) on the
// chorded shapes, and as dryfit_arcs on the arcs that the chords came from. Those enclose
// a little more, so that their checksums differ from the others'.
func setOperations(b *bench) error {
	for _, form := range []struct {
		peer string
		how  func([]r2.Point) (geom.Loop, error)
	}{{"dryfit", loop}, {"dryfit_arcs", refit}} {
		if b.wants("W3") {
			a, err := b.readAssemblies(form.how)
			if err != nil {
				return err
			}
			var failed error
			b.time(form.peer, "W3.plate", len(a), len(a), func() float64 {
				sum := 0.0
				for i := range a {
					r, err := a[i].plate()
					if err != nil {
						failed = err
					}
					sum += areaOf(r)
				}
				return sum
			})
			if failed != nil {
				return failed
			}
		}
		for _, w := range offsetWorkloads {
			if !strings.HasPrefix(w.name, b.prefix) {
				continue
			}
			plates, err := b.readPlates(form.how, w.outline)
			if err != nil {
				return err
			}
			var failed error
			b.time(form.peer, w.name, len(plates), len(plates), func() float64 {
				sum := 0.0
				for _, p := range plates {
					r, err := geom.Offset(p, w.d)
					if err != nil {
						failed = err
					}
					sum += areaOf(r)
				}
				return sum
			})
			if failed != nil {
				return failed
			}
		}
	}
	return nil
}

func areaOf(rs []geom.Region) float64 {
	a := 0.0
	for i := range rs {
		a += rs[i].Area()
	}
	return a
}
