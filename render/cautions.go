package render

import (
	"fmt"
	"slices"

	"dryfit/layout"
)

// cautionsTop are the cautions that belong to what the plan shows.
func (d *drawing) cautionsTop() []string {
	var out []string
	if len(d.asm.Rotors) > 0 {
		out = append(out, "Caution: take the propellers off for every powered bench test.")
	}
	for _, p := range d.asm.Plates {
		if p.Material != nil && p.Material.Material != nil && p.Material.Material.Conducts {
			out = append(out, "Caution: cut edges are sharp; carbon dust harms: work it wet, with mask and gloves.")
			break
		}
	}
	return out
}

// cautionsSide are the cautions that belong to what the side view shows.
func (d *drawing) cautionsSide() []string {
	if len(d.asm.Packs) == 0 {
		return nil
	}
	return []string{"Caution: lithium packs burn. Charge attended, never a damaged one; check polarity; limit the current at the first power-up."}
}

// notes are the general notes: tolerances, what the drawing is good for, what was left
// out, and the cautions that go with every craft.
func (d *drawing) notes() []string {
	out := []string{
		"Tolerances are those of the build file; findings count with them.",
		"Print at 100 % and check the scale bar with a rule. Cut plates from the profiles, not from this sheet.",
		"Dashed: hidden. Two-dot chain: swept by blades, room for plugs and leads, extreme positions.",
	}
	judged, nothing, faults := 0, 0, 0
	for _, o := range d.outcomes {
		switch o.Status {
		case layout.Judged:
			judged++
		case layout.Nothing:
			nothing++
		case layout.Crashed:
			faults++
		}
	}
	if len(d.outcomes) > 0 {
		s := fmt.Sprintf("Rules asked: %d. Judged: %d; nothing to judge: %d.", len(d.outcomes), judged, nothing)
		if faults > 0 {
			s += fmt.Sprintf(" %d ended in a fault of the program and judged nothing.", faults)
		}
		out = append(out, s)
	}
	for _, n := range d.found {
		if !slices.ContainsFunc(n.all, func(f layout.Finding) bool { return finitePlace(&f) }) {
			out = append(out, fmt.Sprintf("Finding %d concerns no single place and has no mark in the views.", n.no))
		}
	}
	for _, o := range d.outcomes {
		for _, f := range o.Findings {
			if f.Excuse != nil {
				out = append(out, "Excused: "+f.Excuse.A+" and "+f.Excuse.B+" ("+f.Rule+"): "+f.Excuse.Why)
			}
		}
	}
	if lines := d.asm.Hardware(); slices.ContainsFunc(lines, func(l layout.HardwareLine) bool { return !l.Sure }) {
		out = append(out, "! in the hardware list: not sure to be right at worst case; `dryfit check` says by how much.")
	}
	if len(d.asm.Packs) > 0 {
		out = append(out, "Soldering: fumes and hot parts; keep packs away from the bench until the joints are checked.")
	}
	return append(out, "Flight, transmit power and registration: local codes and licensed practice decide.")
}
