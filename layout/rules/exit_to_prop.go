package rules

import (
	"fmt"

	"dryfit/layout"
)

var exitToProp = &Rule{
	Name:     "exit-to-prop",
	Group:    "ports",
	Question: "do plugs that stay in keep clear of the props, lead included",
	Why:      "A loose lead or plug near a disc is drawn into it: chopped leads, a plug flung into a prop.",
	Need:     "Twice the radial clearance of hard parts, since a lead moves: 6 mm up to 3 inch, 10 at 5 inch, 16 from 7 inch.",
	How:      "Housing and bend of each plug used in flight, as a box from the port's mouth outwards, against each disc with blade flex, in plan where heights meet and in height where the lead passes over or under; mm.",
	Fix:      "Turn the board so that the lead leaves along the body, or tie it at the plate's edge.",
	Run:      runExitToProp,
}

func runExitToProp(p *Pass) {
	used, judged := 0, 0
	for _, port := range p.Asm.Ports {
		if !port.Used || port.Port.Button || port.Port.Card || port.Plug == nil || port.Plug.Plug == nil {
			continue
		}
		used++
		if p.exitAgainstDiscs(port) {
			judged++
		}
	}
	switch {
	case len(p.Asm.Rotors) == 0:
		p.Nothing("the build has no rotors")
	case used == 0:
		p.Nothing("no port is said to hold a plug in flight (ports: {board.port: {used: true}})")
	case judged == 0:
		p.Nothing("no plug used in flight is of a size that is known, as connector-exit tells")
	}
}

func (p *Pass) exitAgainstDiscs(port *layout.PortPlace) bool {
	way := plugRoom(port, port.Angled && port.Plug.Plug.Angled != nil)
	if len(way.lacks()) > 0 {
		return false // connector-exit says what is missing
	}
	_, most := way.long.Worst()
	room, longest := way.room(way.long.Nominal()), way.room(most)
	room.Soft, longest.Soft = true, true
	var worst worstOf
	var rotor *layout.Rotor
	vertical := false
	for _, r := range p.Asm.Rotors {
		m, long := reachOf(r, room), reachOf(r, longest)
		if m.radial.Empty {
			continue
		}
		z := between(heights(room), sweptBand(r))
		at := apart{form: m.radial.Form, a: lift(m.radial.B, z), b: lift(m.radial.A, z)}
		// How much a plug of the greatest length comes nearer is charged to its length. What
		// passes over or under a disc is as far from it as in height.
		flat := charge(at, apart{form: long.radial.Form}, way.long, most-way.long.Nominal())
		under, over := at, at
		under.over, under.form = true, m.flexed
		over.over, over.form = true, m.over
		f := p.portFinding(port)
		f.Subjects = append(f.Subjects, propID(r))
		need := p.Need(looseFactor * sweepNeed(labelD(r)))
		f, best := judged(f, []apart{flat, under, over}, func(bool) layout.Form { return need })
		if worst.add(f) {
			rotor, vertical = r, best.over
		}
	}
	if rotor == nil {
		return false
	}
	f := worst.f
	what := fmt.Sprintf("the plug in %s of %s and its lead", spoken(port.Port.Name), p.call(port.Owner.ID))
	disc := "the " + spoken(rotor.Name) + " disc"
	where := "sideways"
	if vertical {
		where = "in height"
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s keep off %s hangs on a dimension that is missing", what, disc)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s reach %s into %s, %s off it needed, as they can move", what, mm(-f.Measured), disc, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s stay %s %s from %s, %s needed, as they can move", what, mm(f.Measured), where, disc, mm(f.Needed))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("turn %s so that %s looks along the body, or tie the lead %s further in at the plate's edge",
			p.call(port.Owner.ID), spoken(port.Port.Name), mm(up(-f.Worst, 0.1)))
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
	return true
}
