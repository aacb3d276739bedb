package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

var railVoltage = &Rule{
	Name:     "rail-voltage",
	Group:    "supply",
	Question: "does everything bear the voltage that its wire gives, and get enough",
	Why:      "A part for 5 V on a pack wire is dead at plug-in; a board for three cells burns on four; a board sold for six cells whose shields conduct at 24 V fails near full charge. A regulator without enough above it drops out in the first hard climb.",
	Need:     "Full pack volts, 4.20 or 4.35 a cell, at most what the part is rated for and what its clamps stand; rails within what their parts take, taken as 3 % off either way; and 3.3 V a cell under load still within it, for regulators their own voltage and what they need above it. Cell figures are the trade's; the 3.3 is where builders land.",
	How:      "In V. What wires join is one net; inside a part all pack pads are one, all grounds one, and each rail one. Each part's range is held against what drives its net. Capacitors are judged by lead-length.",
	Fix:      "Another pad, a regulator, a part for the pack, or a pack with fewer cells.",
	Run:      runRailVoltage,
}

func runRailVoltage(p *Pass) {
	if p.noWires() {
		return
	}
	s := p.Asm.Supply()
	for _, n := range s.Nets {
		p.drivers(n)
		for _, pl := range n.Places {
			if !pl.Takes() || pl.Owner.Part == nil || pl.Owner.Part.Kind == shapes.Capacitor {
				continue
			}
			switch n.Kind {
			case layout.PackNet:
				u := s.PackOf(n)
				p.bearsVolts(s, pl, layout.Fixed(u.Full), layout.Fixed(u.Sag))
			case layout.RailNet:
				v := layout.RailVolts(n)
				p.bearsVolts(s, pl, v, v)
			case layout.UnfedNet:
				if pl != n.Places[0] {
					continue
				}
				f := p.supplyAt(pl, "")
				f.Verdict = layout.Fail
				f.Message = fmt.Sprintf("nothing gives %s a supply: its wires reach neither a pack nor a regulator", p.call(pl.Owner.ID))
				f.Fix = "wire it to the pack or to a rail that suits it"
				p.Report(f)
			}
		}
	}
	for _, r := range s.Rails {
		p.startsUp(s, r)
	}
	if len(p.findings) == 0 {
		p.Nothing("no wire of the build carries a supply")
	}
}

// drivers tells of nets that more than one thing drives.
func (p *Pass) drivers(n *layout.Net) {
	if n.Kind != layout.PackNet && n.Kind != layout.RailNet {
		return
	}
	first := n.Places[0]
	report := func(pl *layout.NetPlace, v layout.Verdict, message, fix string) {
		f := p.supplyAt(pl, "")
		f.Verdict, f.Message, f.Fix = v, message, fix
		p.Report(f)
	}
	for _, pl := range n.Places {
		if pl.Role == shapes.GroundRole {
			report(pl, layout.Fail, fmt.Sprintf("%s and ground of %s are joined: the pack is shorted at plug-in", p.net(n), p.call(pl.Owner.ID)), "take the wire between them off before anything is plugged in")
		}
	}
	for i, g := range n.Gives {
		switch {
		case n.Kind == layout.PackNet:
			report(g, layout.Fail, fmt.Sprintf("%s of %s is joined to %s", volts(g.Role.Gives()), p.call(g.Owner.ID), p.net(n)), "join the rail to what it is to feed, and the pack to pack pads alone")
		case i > 0 && math.Abs(g.Role.Gives()-n.Rated()) > 0.05:
			report(g, layout.Fail, fmt.Sprintf("%s of %s is joined to %s", volts(g.Role.Gives()), p.call(g.Owner.ID), p.net(n)), "let each rail feed its own parts")
		case i > 0 && g.Owner != n.Gives[0].Owner:
			report(g, layout.Tight, fmt.Sprintf("two regulators drive one rail of %s: %s and %s; the one that is set a little higher carries all of it", volts(n.Rated()), p.call(n.Gives[0].Owner.ID), p.call(g.Owner.ID)), "leave out the wire of one of the two")
		}
	}
	if len(n.Packs) > 1 {
		a, b := n.Packs[0].Part.Pack, n.Packs[1].Part.Pack
		if a.Cells != b.Cells || math.Abs(a.CellFull-b.CellFull) > 0.01 {
			report(first, layout.Fail, fmt.Sprintf("%s and %s are joined and have not the same voltage", p.call(n.Packs[0].ID), p.call(n.Packs[1].ID)), "join packs of the same cells and charge only")
		}
	}
}

// bearsVolts judges what one part gets: the most against its rating and its clamps, the least
// against what it needs. The worst of them is told.
func (p *Pass) bearsVolts(s *layout.Supply, pl *layout.NetPlace, most, least layout.Form) {
	part := pl.Owner.Part
	span := takenBy(pl)
	who := p.call(pl.Owner.ID)
	if span == nil {
		f := p.supplyAt(pl, shapes.Volt)
		f.AtMost = true
		f = f.Judge(most, layout.Of(figure(nil, pl.Owner.Label+" volts", shapes.Volt)))
		f.Message = fmt.Sprintf("%s gets up to %s from %s, and what it bears is not said", who, volts(most.Nominal()), p.net(pl.Net))
		f.Fix = fmt.Sprintf("look up the voltage range of %s and give it as `volts:`", who)
		p.Report(f)
		return
	}
	var worst worstOf
	up := p.supplyAt(pl, shapes.Volt)
	up.AtMost = true
	up = up.Judge(most, layout.Fixed(span.Hi))
	up.Message = fmt.Sprintf("%s gets up to %s from %s and is for %s to %s", who, volts(most.Nominal()), p.net(pl.Net), num(span.Lo), volts(span.Hi))
	if mustMend(&up) {
		up.Fix = p.lowerVolts(s, pl, span)
	}
	worst.add(up)
	if part.Clamp != nil && pl.Net.Kind == layout.PackNet {
		c := p.supplyAt(pl, shapes.Volt)
		c.AtMost = true
		c = c.Judge(most, layout.Of(part.Clamp))
		c.Message = fmt.Sprintf("%s gets up to %s from %s, and the devices that shield its input begin to conduct at %s", who, volts(most.Nominal()), p.net(pl.Net), volts(part.Clamp.Value))
		c.Fix = unknownFix(&c)
		if mustMend(&c) {
			c.Fix = p.lowerVolts(s, pl, &shapes.Span{Lo: span.Lo, Hi: part.Clamp.Value - part.Clamp.Minus})
		}
		worst.add(c)
	}
	low := p.supplyAt(pl, shapes.Volt).Judge(least, layout.Fixed(span.Lo))
	low.Message = fmt.Sprintf("%s gets %s from %s under load and is for %s to %s", who, volts(least.Nominal()), p.net(pl.Net), num(span.Lo), volts(span.Hi))
	if mustMend(&low) {
		low.Fix = "a part that works from less, a rail that gives more, or a pack with more cells"
	}
	worst.add(low)
	p.Report(worst.f)
}

// takenBy is the range that all wired pads of a place bear; nil if none says it.
func takenBy(pl *layout.NetPlace) *shapes.Span {
	var out *shapes.Span
	for _, t := range pl.Terminals {
		span := t.Takes
		if span == nil && (t.Role == shapes.PackRole || t.Role == shapes.FeedRole) && pl.Owner.Part != nil {
			span = pl.Owner.Part.Volts
		}
		switch {
		case span == nil:
		case out == nil:
			q := *span
			out = &q
		default:
			out.Lo, out.Hi = max(out.Lo, span.Lo), min(out.Hi, span.Hi)
		}
	}
	return out
}

// lowerVolts says how a part gets less: a rail of the build that suits it, a pack of fewer
// cells, or a regulator.
func (p *Pass) lowerVolts(s *layout.Supply, pl *layout.NetPlace, span *shapes.Span) string {
	who := p.call(pl.Owner.ID)
	for _, c := range p.Asm.Components {
		if c.Part == nil || c == pl.Owner {
			continue
		}
		for _, r := range c.Part.Rails {
			if r.Volts > span.Lo && r.Volts < span.Hi {
				return fmt.Sprintf("feed %s from the %s of %s, or take a part for the pack", who, volts(r.Volts), p.call(c.ID))
			}
		}
	}
	if pl.Net.Kind != layout.PackNet {
		return fmt.Sprintf("feed %s from a rail of %s to %s", who, num(span.Lo), volts(span.Hi))
	}
	cell := pl.Net.Packs[0].Part.Pack.CellFull
	if cells := int(math.Floor(span.Hi/cell + 1e-9)); cells > 0 && pl.Owner.Part.Kind != shapes.Receiver && float64(cells)*layout.SagPerCell > span.Lo {
		return fmt.Sprintf("take a part rated for %s or more, or a pack of at most %d cells", volts(s.PackOf(pl.Net).Full), cells)
	}
	return fmt.Sprintf("put a regulator of %s to %s before %s", num(span.Lo), volts(span.Hi), who)
}

// startsUp judges whether a regulator has enough above its own voltage when its supply sags.
// One that also raises the voltage has no such need.
func (p *Pass) startsUp(s *layout.Supply, r *layout.RailUse) {
	at := r.Net.Gives[0]
	if r.Input == nil || r.Input.Net.Kind == layout.UnfedNet {
		if hasInput(r.Owner.Part) {
			f := p.supplyAt(at, "")
			f.Verdict = layout.Fail
			f.Message = fmt.Sprintf("nothing feeds %s, whose %s is used: no wire brings it the pack or another supply", p.call(r.Owner.ID), volts(r.Volts))
			f.Fix = fmt.Sprintf("wire %s to the pack or to what feeds it", p.call(r.Owner.ID))
			p.Report(f)
		}
		return
	}
	if r.Rail == nil || r.Rail.Dropout == nil {
		return
	}
	var least layout.Form
	from := r.Input.Net
	switch from.Kind {
	case layout.PackNet:
		least = layout.Fixed(s.PackOf(from).Sag)
	case layout.RailNet:
		least = layout.RailVolts(from)
	default:
		return
	}
	f := p.supplyAt(r.Input, shapes.Volt).Judge(least, layout.Of(r.Rail.Dropout).Shift(r.Volts))
	f.Message = fmt.Sprintf("%s falls to %s under load, and the regulator for %s in %s wants %s above that", p.net(from), volts(least.Nominal()), volts(r.Volts), p.call(r.Owner.ID), volts(r.Rail.Dropout.Value))
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("a pack with more cells, parts that run from less than %s, or a regulator that also raises the voltage", volts(r.Volts))
	}
	p.Report(f)
}

// hasInput reports whether a part has a pad or pin to be fed by.
func hasInput(part *shapes.Part) bool {
	takes := func(r shapes.Role) bool { return r == shapes.PackRole || r == shapes.FeedRole }
	for i := range part.Pads {
		if takes(part.Pads[i].Role) {
			return true
		}
	}
	for i := range part.Ports {
		for _, pin := range part.Ports[i].Pins {
			if takes(pin.Role) {
				return true
			}
		}
	}
	return false
}
