package rules

import (
	"fmt"

	"dryfit/layout"
)

var edgeGuard = &Rule{
	Name:     "edge-guard",
	Group:    "wires",
	Question: "is every wire guarded where it lies over a plate's edge",
	Why:      "The edge of a carbon plate is a saw that conducts: it nicks the insulation in a few flights and burns the controller.",
	Need:     "Where a wire goes over an edge or through an opening of carbon or glass: a sleeve on the wire, tape on the edge, or an edge chamfered by 0.5 mm.",
	How:      "Every edge and opening on the routed way, against what the build says of it (`sleeve:` or `edge:` of the wire).",
	Fix:      "Slip a sleeve over the wire, tape the edge, or chamfer it.",
	Run:      runEdgeGuard,
}

func runEdgeGuard(p *Pass) {
	ways := 0
	for _, c := range p.Asm.Circuits {
		if !routed(c) {
			continue
		}
		ways++
		for i := range c.Route.Edges {
			p.Report(p.guard(c, &c.Route.Edges[i]))
		}
	}
	switch {
	case len(p.Asm.Circuits) == 0:
		p.Nothing("the build has no `wires:`")
	case ways == 0:
		p.Nothing("no wire has a way yet, as wire-route tells")
	case len(p.findings) == 0:
		p.Nothing("no wire goes over the edge of a plate or through one")
	}
}

func (p *Pass) guard(c *layout.Circuit, e *layout.EdgePlace) layout.Finding {
	f := wireFinding(c)
	f.Subjects = append(f.Subjects[:1], e.Plate)
	z := 0.0
	if pl := p.plate(e.Plate); pl != nil {
		z = (pl.Bottom.Nominal() + pl.Top.Nominal()) / 2
	}
	f.HasPlace, f.A, f.B = true, lift(e.At, z), lift(e.At, z)
	where := "over the edge of " + p.call(e.Plate)
	if e.Hole != "" {
		where = "through " + spoken(e.Hole) + " of " + p.call(e.Plate)
	}
	if !e.Sharp {
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("%s %s %s, which is guarded or blunt", wiresOf(c), goes(c), where)
		return f
	}
	f.Verdict = layout.Fail
	f.Message = fmt.Sprintf("%s %s %s with nothing between the insulation and a sharp edge", wiresOf(c), goes(c), where)
	f.Fix = "guard it and write `edge: sleeve`, `edge: tape` or `edge: chamfer` at the wire"
	return f
}

func goes(c *layout.Circuit) string {
	if len(c.Wires) == 1 {
		return "goes"
	}
	return "go"
}
