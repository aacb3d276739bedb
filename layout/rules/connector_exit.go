package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

const (
	// plugAir is what a plug needs round its housing, mm: a corridor 13.0 wide for a
	// housing that may be 12.35.
	plugAir = 0.3
	// exitTold is how near something must come to a plug's way to be told of.
	exitTold = 10.0
)

var connectorExit = &Rule{
	Name:     "connector-exit",
	Group:    "ports",
	Question: "can every plug go in, and its lead turn away, with nothing to take off",
	Why:      "The bench cable will not go in, stops before it latches or goes in askew and tears the socket off; a lead bent over its own housing breaks at the crimp.",
	Need:     "0.3 mm all round the plug's housing over its length from the socket's mouth (a corridor of 13.0 mm for a housing of 12.35), and the lead's bend behind it for plugs that stay in.",
	How:      "A box of the plug's greatest section along the port's axis, from the mouth outwards by the length of plug and bend, against every other body; distances in mm. Judged for ports that must be reachable on the assembled craft and for those that are used in flight.",
	Fix:      "Turn the board by a quarter, cut a relief, move the post, or use an angled plug.",
	Run:      runConnectorExit,
}

func runConnectorExit(p *Pass) {
	judged := 0
	for _, port := range p.Asm.Ports {
		if port.Port.Button || port.Port.Card || !(port.Port.Reach || port.Used) {
			continue
		}
		p.plugWay(port)
		judged++
	}
	if judged == 0 {
		p.Nothing("no part has a port that is used or must be reachable")
	}
}

func (p *Pass) plugWay(port *layout.PortPlace) {
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{port.Owner.ID}, Pos: port.Owner.Pos,
		Near: fmt.Sprintf("port %s of %s, %s", port.Port.Name, port.Owner.Label, facingWords(port)),
	}
	if port.Plug == nil || port.Plug.Plug == nil {
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{{Name: port.ID + " plug", Unit: shapes.MM, Missing: true, Source: shapes.Assumed}}
		f.Message = fmt.Sprintf("nobody said which plug goes into %s of %s", port.Port.Name, port.Owner.Label)
		f.Fix = fmt.Sprintf("name it: plug: (see dryfit parts list connector) in the ports of %s", port.Owner.Label)
		p.Report(f)
		return
	}
	plug := port.Plug.Plug
	long, how := plug.Beyond, "straight"
	if port.Angled && plug.Angled != nil {
		long, how = plug.Angled, "angled"
	}
	wide, high := known(plug.Width, port.Plug.Name+" width"), known(plug.Height, port.Plug.Name+" height")
	long = known(long, port.Plug.Name+" length")
	reach := long.Value
	if port.Used && plug.Bend != nil {
		reach += plug.Bend.Value
	}
	room := corridor(port, wide, high, 0, reach)
	m, body, ok := blocked(p.Asm, room, exitTold, func(b *layout.Body) bool { return b.Soft || carries(p.Asm, port.Owner, b) })
	if !ok {
		if d := append(append(missingOf(wide), missingOf(high)...), missingOf(long)...); len(d) > 0 {
			f.Verdict, f.Missing = layout.Unknown, d
			f.Message = fmt.Sprintf("the size of the plug in %s of %s is not known", port.Port.Name, port.Owner.Label)
			f.Fix = unknownFix(&f)
		} else {
			f.Verdict = layout.OK
			f.Message = fmt.Sprintf("the %s plug of %s (%s) goes straight out %.0f mm with nothing within %.0f mm of it",
				how, port.Port.Name, port.Plug.Name, reach, exitTold)
		}
		p.Report(f)
		return
	}
	f.HasPlace, f.A, f.B = true, m.a, m.b
	f.Subjects = append(f.Subjects, body.Of)
	f = f.Judge(m.form, p.Need(plugAir))
	f.Message = fmt.Sprintf("the %s plug of %s (%s, %.4g by %.4g, %.0f out) passes %s at %.2f mm",
		how, port.Port.Name, port.Plug.Name, wide.Value, high.Value, reach, bodyName(body), f.Measured)
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("the %s plug of %s (%s, %.4g by %.4g, %.0f out) runs %.2f mm into %s",
			how, port.Port.Name, port.Plug.Name, wide.Value, high.Value, reach, -f.Measured, bodyName(body))
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = p.exitFix(port, body)
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
}

// exitFix proposes an angled plug if that alone mends it, else a turn or a move.
func (p *Pass) exitFix(port *layout.PortPlace, body *layout.Body) string {
	plug := port.Plug.Plug
	if !port.Angled && plug.Angled != nil {
		long := plug.Angled.Value
		if port.Used && plug.Bend != nil {
			long += plug.Bend.Value
		}
		room := corridor(port, plug.Width, plug.Height, 0, long)
		m, _, ok := blocked(p.Asm, room, exitTold, func(b *layout.Body) bool { return b.Soft || carries(p.Asm, port.Owner, b) })
		if !ok || m.worst >= plugAir {
			return fmt.Sprintf("use an angled plug (%.0f mm out), turn %s by a quarter, or move %s", plug.Angled.Value, port.Owner.Label, short(body.Of))
		}
	}
	return fmt.Sprintf("turn %s by a quarter, move %s, or cut a relief for the plug", port.Owner.Label, short(body.Of))
}

// carries tells bodies that lie against the port's board by design: the spacers and nuts
// at its own holes are part of what the plug passes, the board under it is not.
func carries(asm *layout.Assembly, owner *layout.Component, b *layout.Body) bool {
	return b.Of == owner.On && b.Kind == layout.PcbBody || b.Kind == layout.CushionBody
}

func missingOf(d *shapes.Dim) []*shapes.Dim {
	if isMissing(d) {
		return []*shapes.Dim{d}
	}
	return nil
}

func facingWords(port *layout.PortPlace) string {
	switch {
	case port.Up > 0:
		return "facing up"
	case port.Up < 0:
		return "facing down"
	}
	return "facing " + direction(port.Dir.X, port.Dir.Y)
}
