package layout

import (
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
	"dryfit/shapes"
)

// What the outside of a wire keeps from, in mm. An insulated wire may lie against what is
// insulated and smooth; it stays off what cuts, spins or burns.
const (
	keepSoft  = 0.0 // foam, sleeves, packs, antennas
	keepStrap = 1.5 // straps wander by 1 in their slots and pull at what lies against them
	keepHard  = 0.3 // posts, spacers, cases, boards' parts: a wire must not be pressed on them
	keepMetal = 0.5 // screw heads, nuts, metal posts: edges
	keepHot   = 2.0 // heat sinks and video transmitters: silicone stands it, plugs and ties do not
	keepSpin  = 2.0 // a motor's turning bell, and the discs of props, between two ties
	keepBulge = 1.0 // beyond the clearance of hard parts from a disc, for the bulge between ties
	keepEdge  = 0.5 // inside the edge of the plate that it lies on
)

// thickPlate is the thickness in mm beyond which a plate is a wall and not a sheet to lie on:
// the rings of ducts, whose inside is no hole that a wire is led through but room like any
// other. Plates that are cut from sheet stock are thinner.
const thickPlate = 8.0

// wireSpace is what wires run through: plates as sheets, everything else as solids.
//
// Of a prop what its blades sweep with flex, at the worst of all tolerances, is forbidden; its
// hub lies in it. Room for leads is no obstacle to them.
func (a *Assembly) wireSpace() *route.Space {
	s := &route.Space{Edge: keepEdge}
	for _, p := range a.Plates {
		if lo, hi := p.Bottom.Nominal(), p.Top.Nominal(); hi-lo > thickPlate {
			s.Solids = append(s.Solids, route.Solid{ID: p.ID, Owner: p.ID, Plan: p.Outline, Lo: lo, Hi: hi, Keep: keepHard})
			continue
		}
		s.Sheets = append(s.Sheets, a.sheetOf(p))
	}
	tops := a.boardTops()
	for _, b := range a.Bodies {
		keep, is := keepOf(b)
		if !is || len(b.Plan) == 0 {
			continue
		}
		lo, hi := b.Bottom.Nominal(), b.Top.Nominal()
		if hi-lo < 1e-9 {
			continue
		}
		solid := route.Solid{ID: b.ID, Owner: b.Of, Plan: b.Plan, Lo: lo, Hi: hi, Keep: keep, Level: tops[b], Bare: inOnePiece(b)}
		switch {
		case b.Tilted != nil && b.Kind == AntennaBody:
			s.Solids = append(s.Solids, a.leaning(b, solid)...)
		case b.Tilted != nil && b.Kind == CameraBody:
			s.Solids = append(s.Solids, a.tilting(b, solid)...)
		default:
			s.Solids = append(s.Solids, solid)
		}
	}
	for _, p := range a.Packs {
		if p.SweptBody != nil {
			b := p.SweptBody
			s.Solids = append(s.Solids, route.Solid{ID: b.ID, Owner: b.Of, Plan: b.Plan, Lo: b.Bottom.Nominal(), Hi: b.Top.Nominal(), Keep: keepSoft})
		}
	}
	for _, r := range a.Rotors {
		if disc, ok := discOf(r); ok {
			s.Solids = append(s.Solids, disc)
		}
	}
	return s
}

// inOnePiece tells what no wire goes through, not even from its own pads: boards, and parts in one piece such as a speed
// controller.
func inOnePiece(b *Body) bool { return b.Kind == PcbBody || b.Kind == PartBody && b.ID == b.Of }

// discOf is the room that a prop sweeps, at the worst of all tolerances.
func discOf(r *Rotor) (route.Solid, bool) {
	_, radius := r.Radius.Worst()
	radius += tolOf(r.Place)
	lo, _ := r.SweptLo.Worst()
	_, hi := r.SweptHi.Worst()
	if radius <= 0 || hi <= lo {
		return route.Solid{}, false
	}
	return route.Solid{ID: discID(r), Owner: "rotors." + r.Name + ".prop", Plan: one(geom.Circle(r.At, radius)), Lo: lo, Hi: hi,
		Keep: keepSpin, Forbidden: true}, true
}

func discID(r *Rotor) string { return "rotors." + r.Name + ".disc" }

func (a *Assembly) sheetOf(p *Plate) route.Sheet {
	sh := route.Sheet{ID: p.ID, Plan: p.Outline, Lo: p.Bottom.Nominal(), Hi: p.Top.Nominal()}
	for i := range p.Holes {
		h := &p.Holes[i]
		if h.Loop.IsEmpty() {
			continue
		}
		sh.Holes = append(sh.Holes, route.Opening{Name: h.Name, Loop: h.Loop, Taken: a.taken(p, h)})
	}
	return sh
}

// taken is how much of a hole, in mm², screws fill.
func (a *Assembly) taken(p *Plate, h *Hole) float64 {
	area := 0.0
	for _, j := range a.Joints {
		if geom.RegionOf(h.Loop.CCW()).Contains(j.At) && slices.ContainsFunc(j.Layers, func(l Layer) bool { return l.Component == p.ID }) {
			area += geom.DiscArea(majorOf(j.Size))
		}
	}
	return area
}

// KeepOff tells whether a body stands in the way of wires, and how far in mm their outsides stay off it. Plates do
// not: wires lie on their faces.
func KeepOff(b *Body) (keep float64, is bool) { return keepOf(b) }

// keepOf tells whether a body stands in the way of wires, and how far they stay off it.
func keepOf(b *Body) (keep float64, is bool) {
	switch b.Kind {
	case PlateBody, HubBody, LeadBody:
		return 0, false // sheets, within the discs, room for leads
	case StrapBody:
		return keepStrap, true
	case PackBody, CushionBody, AntennaBody, GrommetBody:
		return keepSoft, true
	case MotorBody:
		if strings.HasSuffix(b.ID, ".bell") {
			return keepSpin, true
		}
	}
	switch {
	case b.Hot:
		return keepHot, true
	case b.Conducts && b.Kind != PcbBody:
		return keepMetal, true
	case b.Kind == PcbBody:
		return keepSoft, true
	}
	return keepHard, true
}

// boardTops lists the bodies whose tops wires may lie on: of each board the room over its
// parts outside the zones, or the bare board where nothing stands on it; and what a wire is
// plugged into from above.
func (a *Assembly) boardTops() map[*Body]bool {
	out := map[*Body]bool{}
	for _, c := range a.Components {
		var top, pcb *Body
		for _, b := range c.Bodies {
			switch {
			case b.Kind == PcbBody:
				pcb = b
			case b.Kind == ZoneBody && (b.Face == shapes.Top) != c.Flip && (b.ID == c.ID+".above" || b.ID == c.ID+".below"):
				top = b
			}
		}
		if top == nil || top.Top.Nominal()-top.Bottom.Nominal() < 1e-9 {
			top = pcb
		}
		if top != nil {
			out[top] = true
		}
	}
	for _, c := range a.Circuits {
		for _, w := range c.Wires {
			for _, t := range []*Terminal{w.From, w.To} {
				if t.Up <= 0 || t.Dir != zero2 {
					continue
				}
				for _, b := range t.Owner.Bodies {
					if b.Kind == PartBody {
						out[b] = true
					}
				}
			}
		}
	}
	return out
}

// bundleEnd is where a circuit as one body begins or ends: the middle of those terminals that
// lie near the first one. The others' wires part from the bundle there. On pads its wires, the
// thickest of them so thick, lie side by side.
func bundleEnd(ts []*Terminal, od, thick float64) (route.End, []*Terminal) {
	var near []*Terminal
	for _, t := range ts {
		if t.At.Sub(ts[0].At).Norm() <= nearTerminals {
			near = append(near, t)
		}
	}
	e := route.End{Owner: ts[0].Owner.ID}
	n := 1 / float64(len(near))
	var dir r2.Point
	for _, t := range near {
		e.At = e.At.Add(t.At.Mul(n))
		dir = dir.Add(t.Dir.Mul(n))
		z := t.Z.Nominal()
		switch {
		case t.bedUp != 0:
			z = t.bed.Nominal() + t.bedUp*od/2
		case t.Port == nil && t.Up != 0 && t.Dir != zero2:
			z += float64(t.Up) * thick / 2 // it lies on the pad
			e.Thick = thick
		}
		e.Z += z * n
	}
	if d := dir.Norm(); d > 0.5 {
		e.Dir = clean(dir.Mul(1 / d))
	} else {
		e.Dir = ts[0].Dir
	}
	return e, near
}

// uprightEnd is the end of a bundle that is soldered to pads on a face and led straight off
// it instead of over the edge of the part; false where that cannot be meant: at plugs, leads,
// and pads whose part says where wires leave.
func uprightEnd(ts []*Terminal, e route.End) (route.End, bool) {
	z, n := 0.0, 0.0
	for _, t := range ts {
		if t.Port != nil || t.Pad == nil || t.Pad.HasFacing || t.Up == 0 || t.Dir == zero2 {
			return e, false
		}
		if t.At.Sub(ts[0].At).Norm() <= nearTerminals {
			z += t.Z.Nominal()
			n++
		}
	}
	e.Z, e.Dir, e.Thick = z/n, zero2, 0
	return e, true
}

// nearTerminals is how far apart, in mm, terminals of one end may lie for their wires to
// leave together: a set of pads or a plug.
const nearTerminals = 16.0
