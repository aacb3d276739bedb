package geom_test

import (
	"math"
	"testing"

	"dryfit/geom"
)

func TestBox(t *testing.T) {
	a := geom.Box{Lo: vec(0, 0, 0), Hi: vec(2, 2, 2)}
	cases := []struct {
		name string
		b    geom.Box
		dist float64
	}{
		{"itself", a, 0},
		{"shares a face", geom.Box{Lo: vec(2, 0, 0), Hi: vec(3, 2, 2)}, 0},
		{"shares a corner", geom.Box{Lo: vec(2, 2, 2), Hi: vec(3, 3, 3)}, 0},
		{"3 and 4 away", geom.Box{Lo: vec(5, -9, 0), Hi: vec(6, -4, 1)}, 5},
		{"1, 2 and 2 away", geom.Box{Lo: vec(3, 4, 4), Hi: vec(9, 9, 9)}, 3},
		{"nothing", geom.EmptyBox(), math.Inf(1)},
	}
	for _, c := range cases {
		if got := a.Distance(c.b); got != c.dist {
			t.Errorf("%s: distance %v, want %v", c.name, got, c.dist)
		}
		if got := c.b.Distance(a); got != c.dist {
			t.Errorf("%s: distance back %v, want %v", c.name, got, c.dist)
		}
		if got := a.Intersects(c.b); got != (c.dist == 0) {
			t.Errorf("%s: intersects %v", c.name, got)
		}
	}
	if e := a.Expand(-1.5); !e.IsEmpty() || !e.Expand(10).IsEmpty() {
		t.Error("a box shrunk by more than its half is not empty")
	}
	if got := a.Expand(1); got.Size() != vec(4, 4, 4) || got.Center() != vec(1, 1, 1) {
		t.Errorf("grown: %v", got)
	}
	if got := geom.EmptyBox().Add(vec(1, 2, 3)).Union(a); got != (geom.Box{Hi: vec(2, 2, 3)}) {
		t.Errorf("union: %v", got)
	}
	if s := geom.EmptyBox(); s.Size() != vec(0, 0, 0) || s.Center() != vec(0, 0, 0) || s.Contains(vec(0, 0, 0)) {
		t.Error("the empty box has a size, a middle or a point")
	}
	if n := (geom.Box{Lo: vec(math.NaN(), 0, 0), Hi: vec(1, 1, 1)}); !n.IsEmpty() || !math.IsInf(n.Distance(a), 1) {
		t.Error("a box of no number is not empty")
	}
}
