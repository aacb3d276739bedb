package route_test

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
)

// sixArms is a craft with six arms as builders make them: a base plate with its arms in one piece, two
// plates over it and a roof, motors and props, posts and screws, three boards with what stands on
// them, and around thirty bundles. Lengths in mm.
func sixArms() (*route.Space, []route.Bundle) {
	s := &route.Space{Edge: 0.5}
	var outline []r2.Point
	var radii []float64
	var bores []geom.Loop
	polar := func(a, r float64) r2.Point { return pt(r*math.Cos(a), r*math.Sin(a)) }
	for k := range 6 {
		a := float64(k) * math.Pi / 3
		along, across := polar(a, 1), polar(a+math.Pi/2, 1)
		at := func(x, y float64) r2.Point { return along.Mul(x).Add(across.Mul(y)) }
		outline = append(outline, at(34, -9), at(150, -9), at(160, 0), at(150, 9), at(34, 9))
		radii = append(radii, 4, 3, 5, 3, 4)
		bores = append(bores, geom.Circle(at(140, 0), 3))
		for j := range 4 {
			b := a + float64(j)*math.Pi/2 + math.Pi/4
			bores = append(bores, geom.Circle(at(140, 0).Add(polar(b, 8)), 1.6))
		}
		bores = append(bores, geom.Circle(at(25, 0), 1.6), geom.Circle(at(38, 0), 1.6))
		motor := geom.RegionOf(geom.Circle(at(140, 0), 14))
		id := fmt.Sprintf("motor-%d", k)
		s.Solids = append(s.Solids,
			route.Solid{ID: id + ".bell", Owner: id, Plan: []geom.Region{motor}, Lo: 5, Hi: 24, Keep: 1},
			route.Solid{ID: id + ".sweep", Owner: "prop", Plan: []geom.Region{geom.RegionOf(geom.Circle(at(140, 0), 64))}, Lo: 26, Hi: 36, Keep: 3, Forbidden: true})
		for j := range 4 {
			b := a + float64(j)*math.Pi/2 + math.Pi/4
			s.Solids = append(s.Solids, route.Solid{ID: fmt.Sprintf("%s.screw-%d", id, j), Owner: "screws", Lo: -2, Hi: 0, Keep: 0.3,
				Plan: []geom.Region{geom.RegionOf(geom.Circle(at(140, 0).Add(polar(b, 8)), 2.75))}})
		}
		s.Solids = append(s.Solids, // a post between base and first plate, and screws over and under it
			route.Solid{ID: fmt.Sprintf("post-%d", k), Owner: "post", Plan: []geom.Region{geom.RegionOf(geom.Circle(at(25, 0), 2.5))}, Lo: 5, Hi: 25, Keep: 0.3},
			route.Solid{ID: fmt.Sprintf("post-%d.under", k), Owner: "screws", Plan: []geom.Region{geom.RegionOf(geom.Circle(at(25, 0), 2.75))}, Lo: -2, Hi: 0, Keep: 0.3},
			route.Solid{ID: fmt.Sprintf("tall-%d", k), Owner: "post", Plan: []geom.Region{geom.RegionOf(geom.RegularPolygon(at(38, 8), 5, 6, 0))}, Lo: 27, Hi: 57, Keep: 0.3},
			route.Solid{ID: fmt.Sprintf("tall-%d.under", k), Owner: "screws", Plan: []geom.Region{geom.RegionOf(geom.Circle(at(38, 8), 2.75))}, Lo: 23, Hi: 25, Keep: 0.3})
	}
	base, err := geom.Polygon(outline, radii)
	if err != nil {
		panic(err) // the outline above is fixed
	}
	hexagon := func(across float64, holes ...geom.Loop) geom.Region {
		return geom.RegionOf(geom.RegularPolygon(pt(0, 0), across, 6, 0), holes...)
	}
	slots := func(r float64) (loops []geom.Loop) {
		for k := range 3 {
			a := float64(k)*2*math.Pi/3 + math.Pi/6
			loops = append(loops, geom.Capsule(polar(a-0.25, r), polar(a+0.25, r), 8))
		}
		return loops
	}
	holes := func(loops []geom.Loop) (os []route.Opening) {
		for k, l := range loops {
			os = append(os, route.Opening{Name: fmt.Sprintf("slot-%d", k), Loop: l})
		}
		return os
	}
	s.Sheets = []route.Sheet{
		{ID: "base", Plan: []geom.Region{geom.RegionOf(base, bores...)}, Lo: 0, Hi: 5},
		{ID: "deck", Plan: []geom.Region{hexagon(84, slots(32)...)}, Lo: 25, Hi: 27, Holes: holes(slots(32))},
		{ID: "shelf", Plan: []geom.Region{hexagon(84, slots(30)...)}, Lo: 57, Hi: 59, Holes: holes(slots(30))},
		{ID: "roof", Plan: []geom.Region{hexagon(70)}, Lo: 80, Hi: 82},
	}
	board := func(owner string, half, lo float64) {
		s.Solids = append(s.Solids, route.Solid{ID: owner + ".board", Owner: owner, Plan: []geom.Region{rect(-half, -half, half, half)}, Lo: lo, Hi: lo + 1.6, Level: true})
		for k := range 4 {
			a := float64(k)*math.Pi/2 + math.Pi/4
			s.Solids = append(s.Solids, // bolts through the stack, and parts on the board
				route.Solid{ID: fmt.Sprintf("%s.bolt-%d", owner, k), Owner: "bolts", Plan: []geom.Region{geom.RegionOf(geom.Circle(polar(a, 21.6), 2.75))}, Lo: lo - 4, Hi: lo + 5, Keep: 0.3},
				route.Solid{ID: fmt.Sprintf("%s.chip-%d", owner, k), Owner: owner, Plan: []geom.Region{geom.RegionOf(geom.Rectangle(polar(a, 9), 5, 5))}, Lo: lo + 1.6, Hi: lo + 3.2, Keep: 0.3})
		}
	}
	board("esc", 19, 9)
	board("flight", 18, 33)
	board("video", 15, 63)
	for k := range 6 { // shelf to roof
		p := polar(float64(k)*math.Pi/3, 36)
		s.Solids = append(s.Solids, route.Solid{ID: fmt.Sprintf("top-%d", k), Owner: "post", Plan: []geom.Region{geom.RegionOf(geom.Circle(p, 2.5))}, Lo: 59, Hi: 80, Keep: 0.3})
	}
	s.Solids = append(s.Solids, route.Solid{ID: "pack", Owner: "battery", Plan: []geom.Region{rect(-55, -20, 55, 20)}, Lo: 82, Hi: 118, Keep: 0.5})

	var bs []route.Bundle
	add := func(od float64, from, to route.End) {
		bs = append(bs, route.Bundle{ID: fmt.Sprintf("w%d", len(bs)), OD: od, Bend: 1.5 * od, From: from, To: to})
	}
	for k := range 6 { // motor leads
		a := float64(k) * math.Pi / 3
		u := polar(a, 1)
		pad := pt(18, []float64{-10, -6, 9}[k%3]) // three pads on each of two sides
		if math.Cos(a+0.1) < 0 {
			pad.X = -18
		}
		add(3.6, route.End{At: u.Mul(126), Z: 7.5, Dir: u.Mul(-1), Owner: fmt.Sprintf("motor-%d", k)},
			route.End{At: pad, Z: 10.6, Dir: pt(pad.X/18, 0), Owner: "esc"})
	}
	add(6.5, route.End{At: pt(-55, 0), Z: 100, Dir: pt(-1, 0), Owner: "battery"}, route.End{At: pt(3, -18), Z: 10.6, Dir: pt(0, -1), Owner: "esc"})
	add(2.4, route.End{At: pt(0, 17.5), Z: 10.6, Dir: pt(0, 1), Owner: "esc"}, route.End{At: pt(0, 16.5), Z: 34.6, Dir: pt(0, 1), Owner: "flight"})
	for k := range 6 { // signal wires of each arm's lamp
		a := float64(k) * math.Pi / 3
		u, v := polar(a, 1), polar(a+math.Pi/2, 1)
		add(1.6, route.End{At: u.Mul(80).Add(v.Mul(3)), Z: 5.8}, route.End{At: polar(a, 14), Z: 34.6, Owner: "flight"})
	}
	for k := range 8 { // between flight and video boards, and things beside them
		a := float64(k)*math.Pi/4 + 0.2
		add(1.2, route.End{At: polar(a, 12), Z: 34.6, Owner: "flight"}, route.End{At: polar(a+2, 10), Z: 64.6, Owner: "video"})
	}
	for k := range 4 { // supply pairs from the esc board up to the deck and the shelf
		a := float64(k)*math.Pi/2 + 0.1
		add(2.0, route.End{At: polar(a, 15), Z: 10.6, Owner: "esc"}, route.End{At: polar(a+1, 30), Z: 28, Owner: ""})
	}
	for k := range 4 { // under the base
		a := float64(k)*math.Pi/2 + 0.4
		add(1.2, route.End{At: polar(a, 12), Z: 10.6, Owner: "esc"}, route.End{At: polar(a+0.8, 26), Z: -0.6})
	}
	return s, bs
}
