package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"
)

func cylinderAt(t rapid.TB, r, h float64, p Pose3) *convex {
	t.Helper()
	c, err := NewCylinder(r, h, p)
	return mustConvex(t, c, err)
}

func TestParallelDepthByHand(t *testing.T) {
	at := func(x, y, z float64) Pose3 { return Pose3{T: xyz(x, y, z)} }
	slot, err := NewPrism(Capsule(r2.Point{X: -4}, r2.Point{X: 4}, 6), r1.Interval{Lo: -10, Hi: 10}, Pose3{})
	prism := mustConvex(t, slot, err)
	point := func(x, y, z float64) *convex {
		c, err := NewSphere(xyz(x, y, z), 0)
		return mustConvex(t, c, err)
	}
	for _, c := range []struct {
		name string
		a, b *convex
		want float64
		push r3.Vector // zero: any; in the frame of a
	}{
		// Radii 3 + 2 across; 20 + 30 along.
		{"pin in a sleeve", cylinderAt(t, 3, 40, Pose3{}), cylinderAt(t, 2, 60, Pose3{}), 5, r3.Vector{}},
		// Axes 4 apart: 5 - 4, away along the line of the middles (0.6, 0.8).
		{"beside the axis", cylinderAt(t, 3, 40, Pose3{}), cylinderAt(t, 2, 60, at(2.4, 3.2, 5)), 1, xyz(0.6, 0.8, 0)},
		// Flat discs, 1 + 1 high, middles 1.5 apart: 0.5 up.
		{"discs", cylinderAt(t, 30, 2, Pose3{}), cylinderAt(t, 20, 2, at(1, 1, 1.5)), 0.5, xyz(0, 0, 1)},
		{"discs, below", cylinderAt(t, 30, 2, Pose3{}), cylinderAt(t, 20, 2, at(1, 1, -1.5)), 0.5, xyz(0, 0, -1)},
		{"identical", cylinderAt(t, 3, 40, Pose3{}), cylinderAt(t, 3, 40, Pose3{}), 6, r3.Vector{}},
		{"identical and flat", cylinderAt(t, 3, 0, Pose3{}), cylinderAt(t, 3, 0, Pose3{}), 0, xyz(0, 0, 1)},
		{"touching sides", cylinderAt(t, 3, 4, Pose3{}), cylinderAt(t, 2, 4, at(5, 0, 0)), 0, xyz(1, 0, 0)},
		{"touching faces", cylinderAt(t, 3, 4, Pose3{}), cylinderAt(t, 2, 4, at(1, 0, 4)), 0, xyz(0, 0, 1)},
		// A needle without thickness 1 off the axis: 3 - 1.
		{"needle", cylinderAt(t, 3, 40, Pose3{}), cylinderAt(t, 0, 1000, at(0, 1, 0)), 2, xyz(0, 1, 0)},
		{"needle first", cylinderAt(t, 0, 1000, Pose3{}), cylinderAt(t, 3, 40, at(0, 1, 0)), 2, xyz(0, 1, 0)},
		// A point 1 below the upper face and 2 from the side; then 1.5 and 0.5.
		{"a point near the face", cylinderAt(t, 3, 10, Pose3{}), point(1, 0, 4), 1, xyz(0, 0, 1)},
		{"a point near the side", cylinderAt(t, 3, 10, Pose3{}), point(0, -2.5, 3.5), 0.5, xyz(0, -1, 0)},
		{"a point first", point(0, -2.5, 3.5), cylinderAt(t, 3, 10, Pose3{}), 0.5, xyz(0, 1, 0)},
		// A box of 4 x 4 about the axis of a cylinder of radius 3: half sides 2 + 3 across.
		{"box", cylinderAt(t, 3, 40, Pose3{}), boxAt(t, xyz(4, 4, 40), r3.Vector{}), 5, r3.Vector{}},
		// A box whose left side lies 1 left of the cylinder's right: 3 - (4 - 2).
		{"box beside", cylinderAt(t, 3, 40, Pose3{}), boxAt(t, xyz(4, 20, 40), xyz(4, 0, 0)), 1, xyz(1, 0, 0)},
		// A slot 6 wide holds a pin of radius 1 at its middle line, 1 above: 3 - 1 + 1.
		{"pin in a slot's filling", prism, cylinderAt(t, 1, 40, at(2, 1, 0)), 3, xyz(0, 1, 0)},
		// Two discs whose axes lean 90° in the frame of space are parallel to each other.
		{"lying", cylinderAt(t, 3, 40, RotX(90*s1.Degree)), cylinderAt(t, 2, 60, RotX(90*s1.Degree)), 5, r3.Vector{}},
		{"upside down", cylinderAt(t, 3, 40, Pose3{}), cylinderAt(t, 2, 60, RotX(180*s1.Degree)), 5, r3.Vector{}},
	} {
		m := differenceOf(c.a, c.b)
		d, ok := m.parallelDepth(r3.Vector{})
		if !ok {
			t.Errorf("%s: not taken for parallel", c.name)
			continue
		}
		if math.Abs(d.depth-c.want) > 1e-9 || math.Abs(d.push.Norm()-1) > 1e-12 {
			t.Errorf("%s: depth %v along %v, want %v", c.name, d.depth, d.push, c.want)
		}
		if c.push != (r3.Vector{}) && d.push.Sub(c.push).Norm() > 1e-9 {
			t.Errorf("%s: push %v, want %v", c.name, d.push, c.push)
		}
		// Moved by it they come no nearer than touching.
		if w, _ := m.support(d.push); w.Dot(d.push) > d.depth+1e-9 {
			t.Errorf("%s: the move leaves %v", c.name, w.Dot(d.push)-d.depth)
		}
	}
}

// TestParallelDepthDeclines: what has no common axis, or no curved face, is left to the search.
func TestParallelDepthDeclines(t *testing.T) {
	a := cylinderAt(t, 3, 40, Pose3{})
	for name, b := range map[string]*convex{
		"lying":         cylinderAt(t, 3, 40, RotX(90*s1.Degree)),
		"a slight lean": cylinderAt(t, 3, 40, RotX(1e-8)), // 1e-8·reach = 5e-7 mm
	} {
		m := differenceOf(a, b)
		if d, ok := m.parallelDepth(r3.Vector{}); ok {
			t.Errorf("%s: %v", name, d.depth)
		}
	}
	m := differenceOf(boxAt(t, xyz(1, 1, 1), r3.Vector{}), boxAt(t, xyz(1, 1, 1), r3.Vector{}))
	if d, ok := m.parallelDepth(r3.Vector{}); ok {
		t.Errorf("boxes: %v", d.depth)
	}
}

// TestParallelDepthAgainstSearch: the search by a polytope knows nothing of axes and finds the same.
func TestParallelDepthAgainstSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) *convex {
			p := RotZ(s1.Angle(number(t, name+" turn")))
			p.T = xyz(number(t, "x"), number(t, "y"), number(t, "z")).Mul(0.2)
			size := func(l string) float64 { return 1 + math.Abs(number(t, name+l)) }
			switch rapid.IntRange(0, 2).Draw(t, name+" kind") {
			case 0:
				return cylinderAt(t, size("r"), size("h"), p)
			case 1:
				c, err := NewBox(xyz(size("x"), size("y"), size("z")), p)
				return mustConvex(t, c, err)
			}
			x, y := size("x"), size("y")
			c, err := NewPrism(RoundedRectangle(r2.Point{}, x, y, 0.3*min(x, y)), r1.Interval{Hi: size("h")}, p)
			return mustConvex(t, c, err)
		}
		a, b := draw("a"), draw("b")
		m := differenceOf(a, b)
		_, common, _, how := m.nearest()
		if how != cameTogether {
			t.Skip("apart")
		}
		d, ok := m.parallelDepth(common)
		if !ok {
			t.Skip("no curved face")
		}
		e := m.grow(hull{}, common)
		if e.depth < d.depth-1e-6 || e.low > d.depth+1e-6 {
			t.Fatalf("depth %v, by the search %v to %v", d.depth, e.low, e.depth)
		}
		flip := differenceOf(b, a)
		if f, ok := flip.parallelDepth(r3.Vector{}); !ok || math.Abs(f.depth-d.depth) > 1e-9 {
			t.Fatalf("depth %v, exchanged %v", d.depth, f.depth)
		}
	})
}
