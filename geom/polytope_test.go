package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"
)

func TestDepthByHand(t *testing.T) {
	cube := boxAt(t, xyz(2, 2, 2), r3.Vector{})
	posed := func(size r3.Vector, p Pose3) *convex {
		c, err := NewBox(size, p)
		return mustConvex(t, c, err)
	}
	deg45 := RotZ(45 * s1.Degree)
	deg45.T = xyz(2, 0, 0)
	point := func(p r3.Vector) *convex {
		c, err := NewSphere(p, 0)
		return mustConvex(t, c, err)
	}
	rod := func(a, b r3.Vector) *convex {
		c, err := NewCapsule(a, b, 0)
		return mustConvex(t, c, err)
	}
	for _, c := range []struct {
		name string
		a, b *convex
		want float64
		push r3.Vector // zero: not looked at
	}{
		// From -1..1 and 0.5..2.5: 0.5 along x.
		{"overlap", cube, boxAt(t, xyz(2, 2, 2), xyz(1.5, 0.25, 0.125)), 0.5, xyz(1, 0, 0)},
		// The nearest side of the cube lies 1 - (2 - √2) beyond the corner of the turned one.
		{"turned by 45°", cube, posed(xyz(2, 2, 2), deg45), math.Sqrt2 - 1, xyz(1, 0, 0)},
		// Out by the whole of the shortest side of both.
		{"identical", cube, cube, 2, r3.Vector{}},
		{"identical, flat", boxAt(t, xyz(2, 2, 0), r3.Vector{}), boxAt(t, xyz(2, 2, 0), r3.Vector{}), 0, r3.Vector{}},
		{"touching faces", cube, boxAt(t, xyz(2, 2, 2), xyz(2, 0, 0)), 0, r3.Vector{}},
		{"one point", point(xyz(1, 2, 3)), point(xyz(1, 2, 3)), 0, r3.Vector{}},
		{"a point on a rod", rod(xyz(-1, 0, 0), xyz(1, 0, 0)), point(xyz(0.5, 0, 0)), 0, r3.Vector{}},
		{"rods in one line", rod(xyz(-1, 0, 0), xyz(1, 0, 0)), rod(xyz(0, 0, 0), xyz(5, 0, 0)), 0, r3.Vector{}},
		{"rods that cross", rod(xyz(-1, 0, 0), xyz(1, 0, 0)), rod(xyz(0, -1, 0), xyz(0, 1, 0)), 0, xyz(0, 0, 1)},
		// A point 0.25 below the upper face.
		{"a point in a cube", cube, point(xyz(0.1, 0.2, 0.75)), 0.25, xyz(0, 0, 1)},
		// Needles 2e-3 thick across each other, middles 5e-4 apart in height: 2e-3 - 5e-4.
		{"needles", boxAt(t, xyz(1000, 2e-3, 2e-3), r3.Vector{}), boxAt(t, xyz(2e-3, 1000, 2e-3), xyz(0, 0, 5e-4)), 1.5e-3, xyz(0, 0, 1)},
	} {
		m := differenceOf(c.a, c.b)
		_, p, _, _ := m.nearest()
		d := m.depth(p)
		if math.Abs(d.depth-c.want) > 1e-7 || d.low > d.depth || d.depth-d.low > depthGap {
			t.Errorf("%s: depth %v, at least %v, want %v", c.name, d.depth, d.low, c.want)
		}
		if n := d.push.Norm(); math.Abs(n-1) > 1e-12 {
			t.Errorf("%s: the direction %v has length %v", c.name, d.push, n)
		}
		if push := mulCols(c.a.rot, d.push); c.push != (r3.Vector{}) && push.Sub(c.push).Norm() > 1e-6 && !(c.want == 0 && push.Add(c.push).Norm() <= 1e-6) {
			t.Errorf("%s: push %v, want %v", c.name, push, c.push)
		}
	}
}

// TestDepthAgainstTwin: two hulls of points by the normals of all triangles of the differences of their points. The
// least move parts them across a face of the difference, and all faces are among these.
func TestDepthAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, a := drawCloud(t, "a", 2)
		q, b := drawCloud(t, "b", 2)
		m := differenceOf(a, b)
		_, common, _, how := m.nearest()
		if how != cameTogether {
			t.Skip("apart")
		}
		var w []r3.Vector
		for i := range p {
			for j := range q {
				w = append(w, p[i].Sub(q[j]))
			}
		}
		reach := func(u r3.Vector) float64 {
			h := math.Inf(-1)
			for _, x := range w {
				h = max(h, x.Dot(u))
			}
			return h
		}
		want, volume := math.Inf(1), false
		for i := range w {
			for j := i + 1; j < len(w); j++ {
				for k := j + 1; k < len(w); k++ {
					n := w[j].Sub(w[i]).Cross(w[k].Sub(w[i]))
					if n.Norm() < 1e-6 {
						continue
					}
					n = n.Normalize()
					up, down := reach(n), reach(n.Mul(-1))
					volume = volume || up+down > 1e-6
					want = min(want, up, down)
				}
			}
		}
		d := m.depth(common)
		if !volume {
			if d.depth > 1e-6 {
				t.Fatalf("depth %v of a difference without volume", d.depth)
			}
			return
		}
		if math.Abs(d.depth-max(0, want)) > 1e-6 {
			t.Fatalf("depth %v, want %v", d.depth, want)
		}
		if h := reach(d.push); math.Abs(h-d.depth) > 1e-9 && h > 0 {
			t.Fatalf("the push %v takes %v, not %v", d.push, h, d.depth)
		}
	})
}

// TestHullStaysClosed grows the polytope of a ball-like difference and looks at every step whether each
// edge of a facet is the reversed edge of the neighbour it names, Euler's formula holds and no point lies outside.
func TestHullStaysClosed(t *testing.T) {
	c, err := NewCylinder(3, 4, RotX(20*s1.Degree))
	a := mustConvex(t, c, err)
	b := boxAt(t, xyz(1, 2, 3), xyz(0.3, 0.2, -0.1))
	m := differenceOf(a, b)
	try := func(u r3.Vector) (r3.Vector, r3.Vector) { return m.support(u) }
	h, ok := m.start(hull{eps: 4e-15 * m.size}, try)
	if !ok {
		t.Fatal("no tetrahedron")
	}
	for step := range 60 {
		faces := 0
		for i := range h.faces {
			f := &h.faces[i]
			if f.dead {
				continue
			}
			faces++
			for k := range 3 {
				g := &h.faces[f.near[k]]
				found := false
				for j := range 3 {
					found = found || g.v[j] == f.v[(k+1)%3] && g.v[(j+1)%3] == f.v[k] && int(g.near[j]) == i
				}
				if g.dead || !found {
					t.Fatalf("step %d: facet %d and the one across its edge %d do not fit", step, i, k)
				}
			}
			for _, w := range h.w {
				if f.n != (r3.Vector{}) && w.Dot(f.n) > f.d+1e-9 {
					t.Fatalf("step %d: a point lies %v outside", step, w.Dot(f.n)-f.d)
				}
			}
		}
		// A closed surface of triangles with V corners has 2V - 4 of them; points inside are none of its corners.
		used := map[int32]bool{}
		for i := range h.faces {
			if !h.faces[i].dead {
				for _, v := range h.faces[i].v {
					used[v] = true
				}
			}
		}
		if faces != 2*len(used)-4 {
			t.Fatalf("step %d: %d facets on %d points", step, faces, len(used))
		}
		var q queued
		if h, q, ok = h.pop(); !ok {
			return
		}
		f := h.faces[q.f]
		w, p := try(f.n)
		if w.Dot(f.n)-f.d <= h.eps {
			return
		}
		if h, ok = h.add(w, p, q.f); !ok {
			t.Fatalf("step %d: the horizon is no ring", step)
		}
	}
}
