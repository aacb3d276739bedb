package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// shape is one line of a file of shapes.
type shape struct {
	id, kind string
	z0, z1   float64
	rings    [][]r2.Point
}

// lines calls yield with the fields of every line of a data file that is not a comment.
func (b *bench) lines(name string, yield func(fields []string) error) error {
	f, err := os.Open(filepath.Join(b.dir, name))
	if err != nil {
		return err
	}
	defer f.Close()
	sc := bufio.NewScanner(f)
	sc.Buffer(nil, 1<<22) // a plate takes 70 kB
	for n := 1; sc.Scan(); n++ {
		t := strings.Fields(sc.Text())
		if len(t) == 0 || t[0][0] == '#' {
			continue
		}
		if err := yield(t); err != nil {
			return fmt.Errorf("%s:%d: %w", name, n, err)
		}
	}
	return sc.Err()
}

// shapes reads a file of shapes.
func (b *bench) shapes(name string) ([]shape, error) {
	var out []shape
	err := b.lines(name, func(t []string) error {
		s, err := parseShape(t)
		out = append(out, s)
		return err
	})
	return out, err
}

func parseShape(t []string) (shape, error) {
	if len(t) < 5 {
		return shape{}, fmt.Errorf("a shape needs an id, a kind, z0, z1 and a number of rings")
	}
	s := shape{id: t[0], kind: t[1]}
	v, err := numbers(t[2:])
	if err != nil {
		return s, err
	}
	s.z0, s.z1 = v[0], v[1]
	k := 3
	for range int(v[2]) {
		if k >= len(v) || k+1+2*int(v[k]) > len(v) {
			return s, fmt.Errorf("shape %s ends within a ring", s.id)
		}
		n := int(v[k])
		ring := make([]r2.Point, n)
		for i := range ring {
			ring[i] = r2.Point{X: v[k+1+2*i], Y: v[k+2+2*i]}
		}
		k += 1 + 2*n
		s.rings = append(s.rings, ring)
	}
	return s, nil
}

func numbers(t []string) ([]float64, error) {
	v := make([]float64, len(t))
	for i := range t {
		x, err := strconv.ParseFloat(t[i], 64)
		if err != nil {
			return nil, err
		}
		v[i] = x
	}
	return v, nil
}

// loop makes a loop of a ring, its vertices joined by lines.
func loop(ring []r2.Point) (geom.Loop, error) {
	v := make([]geom.Vertex, len(ring))
	for i, p := range ring {
		v[i] = geom.Vertex{P: p}
	}
	return geom.NewLoop(v)
}

// region makes a region of a shape, its rings made loops by how.
func (s *shape) region(how func([]r2.Point) (geom.Loop, error)) (geom.Region, error) {
	var loops []geom.Loop
	for _, ring := range s.rings {
		l, err := how(ring)
		if err != nil {
			return geom.Region{}, fmt.Errorf("shape %s: %w", s.id, err)
		}
		loops = append(loops, l)
	}
	if len(loops) == 0 {
		return geom.Region{}, nil
	}
	return geom.RegionOf(loops[0], loops[1:]...), nil
}
