package rules

import (
	"fmt"

	"dryfit/geom"
	"dryfit/layout"
)

// Trade figures for the least plate between the edge of a hole and the edge of its plate, mm.
const (
	leastEdge  = 1.5 // lightly loaded, and
	edgeShare  = 0.6 // of the screw's diameter, whichever is more
	loadedEdge = 2.5 // at the root of an arm or round a motor
)

var holeEdge = &Rule{
	Name:     "hole-edge",
	Group:    "plates",
	Question: "does every hole keep far enough from the edge of its plate",
	Why:      "A hole near the edge tears out: at the arm's root in the first crash, at the motor's screws when a blade strikes, at a roof's corner when the pack pulls.",
	Need: "1.5 mm or 0.6 of the screw's diameter, whichever is more, from edge to edge where the load is light; 2.5 mm round motors and at the root " +
		"of separate arms, both in the arm and in the plates over and under it. Trade figures.",
	How: "From the edge of the hole, slot or cut-out to the outer edge of the plate in plan, in mm, less what diameter, place and cut may take. A hole is at " +
		"an arm's root if it takes a screw and stands in an arm plate, or on one axis with such a hole. One finding a plate tells its nearest hole; every " +
		"entry that does not hold is told too. Printed parts are not judged.",
	Fix: "Move the hole inwards, or widen the plate there.",
	Run: runHoleEdge,
}

func runHoleEdge(p *Pass) {
	plates := p.fromSheet()
	var bad, held perPart
	for _, pl := range plates {
		if len(pl.Solid) != 1 {
			continue
		}
		list := p.openings(pl)
		for i := range list {
			f := p.toEdge(pl, &list[i])
			if f.Verdict == layout.OK {
				held.add(pl.Name, f)
			} else {
				bad.add(list[i].group, f)
			}
		}
	}
	if len(bad.list)+len(held.list) == 0 {
		if len(plates) == 0 {
			p.Nothing(noSheet)
		} else {
			p.Nothing("no plate has a hole")
		}
		return
	}
	bad.report(p)
	for i := range held.list {
		if told := p.toldOf(held.parts[i], bad.list); !told {
			p.Report(held.list[i])
		}
	}
}

// toldOf reports whether one of the findings is on a plate of this name.
func (p *Pass) toldOf(name string, list []layout.Finding) bool {
	for i := range list {
		if pl := p.plate(list[i].Subjects[0]); pl != nil && pl.Name == name {
			return true
		}
	}
	return false
}

// toEdge judges one opening against the outer edge of its plate.
func (p *Pass) toEdge(pl *layout.Plate, o *opening) layout.Finding {
	in := geom.Inside(geom.RegionOf(pl.Solid[0].Outer), o.area)
	need, why := leastEdge, "lightly loaded"
	if o.hole != nil {
		if d := p.screwIn(pl, o.hole); edgeShare*d > need {
			need = edgeShare * d
		}
		switch r, _ := p.motorAt(pl, o); {
		case r != nil:
			need, why = max(need, loadedEdge), "round a motor"
		case p.atRoot(pl, o.hole):
			need, why = max(need, loadedEdge), "at an arm's root"
		}
	}
	f := layout.Finding{
		Subjects: []string{pl.ID}, Pos: pl.Pos, HasPlace: true,
		A: lift(in.B, pl.Top.Nominal()), B: lift(in.A, pl.Top.Nominal()), Near: p.platePlace(pl, o.at()),
	}
	if o.hole != nil {
		f.Pos = o.hole.Pos
	}
	cut := deviation(layout.Of(pl.CutTol))
	f = f.Judge(layout.Fixed(in.Dist).Sub(o.edge).Sub(cut), p.Need(need))
	f.Message = fmt.Sprintf("%s lies %s from the edge of %s, %s needed: %s", o.called(), mm(f.Measured), p.plateName(pl), mm(f.Needed), why)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move it %s inwards, or widen the plate there by %s", mm(up(-f.Worst, 0.05)), mm(up(-f.Worst, 0.05)))
	} else {
		f.Fix = unknownFix(&f)
	}
	return f
}

// atRoot reports whether a hole takes a screw that holds a separate arm.
func (p *Pass) atRoot(pl *layout.Plate, h *layout.Hole) bool {
	if h.Length > 0 || p.screwIn(pl, h) <= 0 {
		return false
	}
	if pl.ArmOf != "" {
		return true
	}
	for _, arm := range p.Asm.Plates {
		if arm.ArmOf == "" || pl.Bottom.Nominal() > arm.Top.Nominal()+touch || pl.Top.Nominal() < arm.Bottom.Nominal()-touch {
			continue
		}
		for i := range arm.Holes {
			if k := &arm.Holes[i]; k.Length <= 0 && k.At.Sub(h.At).Norm() < 0.5 && p.screwIn(arm, k) > 0 {
				return true
			}
		}
	}
	return false
}
