package layout

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
	"dryfit/shapes"
)

// legReach is how far, in mm, the legs of a capacitor are looked at as what they are: stiff,
// bent once, with no need of a face to lie on.
const legReach = 20.0

// legsOf is the way of a capacitor's legs: straight out of the pads at their height as far as
// the capacitor, and upright to it. false where something stands there, or the pads are too far away. That the can itself stands
// in the pads' part is for another rule to tell, and does not stop its legs.
func (c *Circuit) legsOf(s *route.Space, b route.Bundle) (route.Way, bool) {
	b.From, _ = bundleEnd(c.ends(false), b.OD, b.OD)
	b.To, _ = bundleEnd(c.ends(true), b.OD, b.OD)
	is := func(k *Component) bool { return k != nil && k.Part != nil && k.Part.Kind == shapes.Capacitor }
	var can, pads route.End
	switch {
	case len(b.Via) > 0 || c.FromPlug != nil || c.ToPlug != nil:
		return route.Way{}, false
	case is(c.From):
		can, pads = b.From, b.To
	case is(c.To):
		can, pads = b.To, b.From
	default:
		return route.Way{}, false
	}
	seg := geom.Seg{A: pads.At, B: can.At}
	out, up := seg.Length(), math.Abs(can.Z-pads.Z)
	if out+up > legReach {
		return route.Way{}, false
	}
	// What the pads belong to may lie beside the level piece, as their solder does; nothing may
	// lie across the upright one.
	level := []geom.Region{geom.RegionOf(geom.Circle(pads.At, b.OD/2))}
	if out > 1e-9 {
		level = []geom.Region{geom.RegionOf(geom.Capsule(pads.At, can.At, b.OD))}
	}
	upright := []geom.Region{geom.RegionOf(geom.Circle(can.At, b.OD/2))}
	meets := func(plan []geom.Region, lo, hi float64, o *route.Solid) bool {
		return o.Hi+o.Keep > lo+1e-6 && o.Lo-o.Keep < hi-1e-6 && geom.DistanceSets(plan, o.Plan).Dist < max(o.Keep, 1e-6)
	}
	for i := range s.Solids {
		o := &s.Solids[i]
		if o.Owner == can.Owner {
			continue
		}
		if o.Owner != pads.Owner && meets(level, pads.Z-b.OD/2, pads.Z+b.OD/2, o) {
			return route.Way{}, false
		}
		if meets(upright, min(can.Z, pads.Z), max(can.Z, pads.Z), o) && !(o.Owner == pads.Owner && within(s, can.Owner, o)) {
			return route.Way{}, false
		}
	}
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		o := route.Solid{Plan: sh.Plan, Lo: sh.Lo, Hi: sh.Hi}
		if meets(level, pads.Z-b.OD/2, pads.Z+b.OD/2, &o) || meets(upright, min(can.Z, pads.Z), max(can.Z, pads.Z), &o) {
			return route.Way{}, false
		}
	}
	run := func(a, b r2.Point) route.Leg {
		return route.Leg{Kind: route.Leave, Path: geom.Path{Segs: []geom.Seg{{A: a, B: b}}, Length: out}, Z0: pads.Z, Z1: pads.Z, Length: out}
	}
	bend := func(from, to float64) route.Leg {
		return route.Leg{Kind: route.Drop, At: can.At, Z0: from, Z1: to, Length: up}
	}
	way := route.Way{Length: out + up}
	if is(c.From) {
		way.Legs = []route.Leg{bend(can.Z, pads.Z), run(can.At, pads.At)}
	} else {
		way.Legs = []route.Leg{run(pads.At, can.At), bend(pads.Z, can.Z)}
	}
	return way, true
}

// within reports whether a part stands in a solid of another one.
func within(s *route.Space, owner string, o *route.Solid) bool {
	for i := range s.Solids {
		if c := &s.Solids[i]; c.Owner == owner && c.Lo < o.Hi && o.Lo < c.Hi && geom.DistanceSets(c.Plan, o.Plan).Dist < 0 {
			return true
		}
	}
	return false
}
