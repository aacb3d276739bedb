package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
	"dryfit/shapes"
)

// TestLegsOfACapacitor: two legs of 1 leave a can at x = 10, 6 high, for pads at x = 4 and
// z = 3 on a face that looks up. As they lie on the pads their middle is at z = 3 + 2/2 = 4: 6 along, 2 up, 8 in all,
// whichever end is named first. A post that stands 0.5 beside their outside, which needs 0.3, is no matter; at
// 0.2 it is in their way, as are a lid over the bend and pads 20 away.
func TestLegsOfACapacitor(t *testing.T) {
	can := &Component{ID: "can", Part: &shapes.Part{Kind: shapes.Capacitor}}
	board := &Component{ID: "board", Part: &shapes.Part{Kind: shapes.PowerBoard}}
	legs := func(x float64, swap bool, solids ...route.Solid) (route.Way, bool) {
		c := &Circuit{From: can, To: board, Spec: &WireSpec{}, OD: &shapes.Dim{Value: 2}}
		for _, y := range []float64{-1, 1} {
			leg := &Terminal{Owner: can, At: r2.Point{X: 10, Y: y}, Z: Fixed(6), Dir: r2.Point{X: -1}}
			pad := &Terminal{Owner: board, At: r2.Point{X: x, Y: y}, Z: Fixed(3), Dir: r2.Point{X: 1}, Up: 1}
			if swap {
				leg, pad = pad, leg
			}
			c.Wires = append(c.Wires, &Wire{From: leg, To: pad})
		}
		if swap {
			c.From, c.To = board, can
		}
		return c.legsOf(&route.Space{Solids: solids}, route.Bundle{OD: 2})
	}
	block := func(x, y, w, lo, hi float64) route.Solid {
		return route.Solid{ID: "post", Owner: "post", Plan: []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{X: x, Y: y}, w, w))}, Lo: lo, Hi: hi, Keep: 0.3}
	}
	for _, swap := range []bool{false, true} {
		w, ok := legs(4, swap)
		if !ok || math.Abs(w.Length-8) > 1e-9 || len(w.Legs) != 2 {
			t.Fatalf("swapped %v: %+v %v", swap, w, ok)
		}
		first, last := w.Legs[0], w.Legs[1]
		if swap {
			first, last = last, first
		}
		if first.Kind != route.Drop || first.At != (r2.Point{X: 10}) || math.Abs(first.Length-2) > 1e-9 || last.Kind != route.Leave || math.Abs(last.Length-6) > 1e-9 || math.Abs(last.Z0-4) > 1e-9 {
			t.Errorf("swapped %v: %+v", swap, w.Legs)
		}
	}
	if _, ok := legs(4, false, block(7, 2.5, 2, 0, 9)); !ok { // its side at y = 1.5, the legs' at 1
		t.Error("a post 0.5 away stops the legs")
	}
	if _, ok := legs(4, false, block(7, 2.2, 2, 0, 9)); ok {
		t.Error("the legs pass a post at 0.2")
	}
	if _, ok := legs(4, false, block(10, 0, 4, 5.2, 5.4)); ok { // between 4 and 6
		t.Error("the legs pass a lid")
	}
	if _, ok := legs(-9, false); ok { // 19 and 2
		t.Error("the legs reach 21")
	}
	// Parts of the board as high as the bend stop the legs at x = 10, unless the can stands in them too.
	parts := route.Solid{ID: "parts", Owner: "board", Plan: []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{X: 8}, 6, 6))}, Lo: 3, Hi: 7}
	if _, ok := legs(4, false, parts); ok {
		t.Error("the legs pass the parts")
	}
	round := route.Solid{ID: "can", Owner: "can", Plan: []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{X: 15.5}, 10, 6))}, Lo: 3, Hi: 9}
	if w, ok := legs(4, false, parts, round); !ok || math.Abs(w.Length-8) > 1e-9 {
		t.Errorf("a can 0.5 in the parts has no way: %+v", w)
	}
}
