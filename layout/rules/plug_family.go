package rules

import (
	"fmt"
	"strings"

	"dryfit/layout"
	"dryfit/shapes"
)

var plugFamily = &Rule{
	Name:     "plug-family",
	Group:    "wires",
	Question: "do the plugs that meet belong to one family, with as many ways",
	Why:      "Plugs are sold by pitch, and two families of one pitch do not mate: a lead ordered as 1.25 does not go in, an antenna with another thread screws on and makes no contact.",
	Need:     "One family and as many ways at both ends of a ready-made lead; the pack's plug and an antenna's as the socket that they go into. A lead whose ways the build lists under `ways:` is made with a plug for each end.",
	How:      "Families and ways of the plug classes of both ports, the pack and the antenna; ways listed for a port against those of its plug.",
	Fix:      "Order by the series' name, not by the pitch; else have a lead made, or solder.",
	Run:      runPlugFamily,
}

func runPlugFamily(p *Pass) {
	if p.noWires() {
		return
	}
	for _, c := range p.Asm.Circuits {
		p.family(c)
	}
	if len(p.findings) == 0 {
		p.Nothing("no lead has a plug at both ends")
	}
}

// end is what a circuit brings to one of its ends: a plug that hangs on a part, or the socket
// that it goes into.
type plugEnd struct {
	owner *layout.Component
	plug  *shapes.Plug
	name  string
}

func (p *Pass) family(c *layout.Circuit) {
	ends := []plugEnd{p.plugEnd(c, c.From, c.FromPlug), p.plugEnd(c, c.To, c.ToPlug)}
	if ends[0].name == "" || ends[1].name == "" {
		return
	}
	a, b := ends[0], ends[1]
	f := p.circuitAt(c, "")
	f.Verdict = layout.OK
	hangs := hangsOn(a.owner) || hangsOn(b.owner)
	made := !hangs && c.Spec != nil && len(c.Spec.Ways) > 0
	who, whom := p.call(a.owner.ID), p.call(b.owner.ID)
	same := familyOf(a) == familyOf(b)
	switch {
	case same && (hangs || waysOf(a) == waysOf(b)):
		f.Message = fmt.Sprintf("%s and %s have plugs of one family, %s", who, whom, familyOf(a))
	case made:
		f.Message = fmt.Sprintf("the lead from %s to %s is made with %s at one end and %s at the other", who, whom, spoken(a.name), spoken(b.name))
	case same:
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("%s has a plug of %d ways and %s one of %d: no ready-made lead has both", who, waysOf(a), whom, waysOf(b))
		f.Fix = "have a lead made with a plug for each end, and list its ways under `ways:`"
	default:
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("%s has %s and %s has %s, which do not mate", who, spoken(a.name), whom, spoken(b.name))
		if pitch := pitchWord(familyOf(a)); pitch != "" && pitch == pitchWord(familyOf(b)) {
			f.Message += fmt.Sprintf(", though both have a pitch of %s mm", pitch)
		}
		switch {
		case c.Kind == layout.CoaxCircuit:
			f.Fix = fmt.Sprintf("an antenna with %s, or an adapter: without contact the transmitter burns", spoken(b.name))
			if a.owner.Part != nil && a.owner.Part.Kind != shapes.AntennaKind {
				f.Fix = fmt.Sprintf("an antenna with %s, or an adapter: without contact the transmitter burns", spoken(a.name))
			}
		case hangs:
			f.Fix = "solder the same plug to both, sockets on the pack, and check polarity before the first connection"
		default:
			f.Fix = "have a lead made with a plug for each end, and list its ways under `ways:`; order by the series, not by the pitch"
		}
	}
	p.Report(f)
}

// hangsOn reports whether a part brings its own plug on a lead.
func hangsOn(c *layout.Component) bool {
	return c.Part != nil && (c.Part.Pack != nil || c.Part.Antenna != nil)
}

func (p *Pass) plugEnd(c *layout.Circuit, owner *layout.Component, port *layout.PortPlace) plugEnd {
	e := plugEnd{owner: owner}
	switch {
	case port != nil:
		e.name = port.Port.Plug
		if port.Plug != nil {
			e.name, e.plug = port.Plug.Name, port.Plug.Plug
		}
	case owner.Part != nil && owner.Part.Pack != nil:
		e.name = owner.Part.Pack.Plug
		if c.Mate != nil {
			e.plug = c.Mate.Plug
		}
	case owner.Part != nil && owner.Part.Antenna != nil:
		e.name = owner.Part.Antenna.Plug
	}
	return e
}

// familyOf is the family of a plug, its own name where it has none.
func familyOf(e plugEnd) string {
	if e.plug != nil && e.plug.Family != "" {
		return e.plug.Family
	}
	return e.name
}

func waysOf(e plugEnd) int {
	if e.plug == nil {
		return 0
	}
	return e.plug.Ways
}

// pitchWord is the pitch that a family's name ends with, "" when it does not.
func pitchWord(family string) string {
	tail := family[strings.LastIndex(family, "-")+1:]
	if tail == family || strings.Trim(tail, "0123456789.") != "" {
		return ""
	}
	return tail
}
