package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
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
	used := 0
	judged := 0
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
		p.Nothing("no disc is known well enough to be measured against the plugs")
	}
}

func (p *Pass) exitAgainstDiscs(port *layout.PortPlace) bool {
	plug := port.Plug.Plug
	long := plug.Beyond
	if port.Angled && plug.Angled != nil {
		long = plug.Angled
	}
	if isMissing(long) || isMissing(plug.Width) || isMissing(plug.Height) {
		return false // connector-exit says what is missing
	}
	out := long.Value
	if plug.Bend != nil {
		out += plug.Bend.Value
	}
	room := corridor(port, plug.Width, plug.Height, 0, out)
	room.Soft = true
	var best layout.Form
	var at reach
	var rotor *layout.Rotor
	need, worst := 0.0, math.Inf(1)
	vertical := false
	for _, r := range p.Asm.Rotors {
		m := reachOf(r, room)
		if m.radial.Empty {
			continue
		}
		form, up := m.radial.Form, false
		// What passes over or under a disc is as far from it as in height; outside the
		// circle the greater of the two distances counts.
		for _, h := range []layout.Form{m.flexed, m.over} {
			if h.Nominal() > form.Nominal() {
				form, up = h, true
			}
		}
		n := 2 * sweepNeed(labelD(r))
		w, _ := form.Worst()
		if w-n < worst-1e-9 {
			best, at, rotor, need, worst, vertical = form, m, r, n, w-n, up
		}
	}
	if rotor == nil {
		return false
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{port.Owner.ID, propID(rotor)}, Pos: port.Owner.Pos, HasPlace: true,
		Near: fmt.Sprintf("port %s of %s, %s", port.Port.Name, port.Owner.Label, facingWords(port)),
	}.Judge(best, p.Need(need))
	z := between(heights(room), sweptBand(rotor))
	f.A, f.B = lift(at.radial.B, z), lift(at.radial.A, z)
	where := "in plan"
	if vertical {
		where = "in height"
	}
	f.Message = fmt.Sprintf("the plug of %s on %s and its bend stay %.1f mm %s from the %s disc",
		port.Port.Name, port.Owner.Label, f.Measured, where, rotor.Name)
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("the plug of %s on %s and its bend reach %.1f mm into the %s disc", port.Port.Name, port.Owner.Label, -f.Measured, rotor.Name)
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = fmt.Sprintf("turn %s so that %s points along the body, or use an angled plug and tie its lead at the plate's edge", port.Owner.Label, port.Port.Name)
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
	return true
}
