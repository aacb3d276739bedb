package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

var plugCurrent = &Rule{
	Name:     "plug-current",
	Group:    "supply",
	Question: "does each plug bear the current through it",
	Why:      "Contacts that carry too much get hot, lose their spring and melt out of the housing.",
	Need:     "At most the plug's steady rating while hovering, and its peak rating at full throttle: 15 and 30 A for XT30, 30 and 60 for XT60, 45 and 90 for XT90, the cautious figures of their makers; one contact of the small signal plugs bears 1 A.",
	How:      "Current through one contact in A, from what hangs beyond it on its net: hovering by mass and thrust, at full throttle 80 % of the sum of the motors' peaks.",
	Fix:      "A larger plug, the supply over pads in place of a signal plug, or a smaller prop.",
	Run:      runPlugCurrent,
}

func runPlugCurrent(p *Pass) {
	if p.noWires() {
		return
	}
	s := p.Asm.Supply()
	plugs := 0
	for _, c := range p.Asm.Circuits {
		for _, plug := range plugsOf(c) {
			plugs++
			p.through(s, c, plug)
		}
	}
	switch {
	case len(p.findings) > 0:
	case plugs > 0:
		p.Nothing("no plug carries a supply")
	default:
		p.Nothing("everything is soldered")
	}
}

// plugsOf lists the kinds of plugs in a circuit, each once.
func plugsOf(c *layout.Circuit) []*shapes.Part {
	var out []*shapes.Part
	add := func(q *shapes.Part) {
		if q == nil || q.Plug == nil {
			return
		}
		for _, o := range out {
			if o.Name == q.Name {
				return
			}
		}
		out = append(out, q)
	}
	add(c.Mate)
	for _, e := range []*layout.PortPlace{c.FromPlug, c.ToPlug} {
		if e != nil {
			add(e.Plug)
		}
	}
	return out
}

// through judges one plug by the contact that carries most.
func (p *Pass) through(s *layout.Supply, c *layout.Circuit, plug *shapes.Part) {
	var hover, full layout.Form
	way := ""
	for _, u := range s.LeadsOf(c) {
		if way == "" || u.Full.Nominal() > full.Nominal() {
			hover, full, way = u.Hover, u.Full, u.Wire.Way
		}
	}
	if c.Kind == layout.MotorCircuit {
		for _, m := range []*layout.Component{c.From, c.To} {
			if h, f, ok := s.MotorAmps(m); ok {
				hover, full, way = h, f, "a phase"
			}
		}
	}
	if way == "" {
		return
	}
	var worst worstOf
	for _, k := range []struct {
		amps  layout.Form
		rated float64
		when  string
		sort  string
	}{{hover, plug.Plug.Rated, "hovering", "rated"}, {full, plug.Plug.Peak, "at full throttle", "peak"}} {
		var need *shapes.Dim
		if k.rated > 0 {
			need = &shapes.Dim{Name: plug.Name + " " + k.sort, Value: k.rated, Unit: shapes.Amp, Source: plug.Source, TolSource: plug.Source}
		}
		limit := layout.Of(figure(need, plug.Name+" "+k.sort, shapes.Amp))
		f := p.circuitAt(c, shapes.Amp)
		f.AtMost = true
		f = f.Judge(k.amps, limit)
		f.Message = fmt.Sprintf("%s between %s and %s carries %s %s on one contact, and bears %s", spoken(plug.Name), p.call(c.From.ID), p.call(c.To.ID), ampere(k.amps.Nominal()), k.when, ampere(k.rated))
		switch {
		case f.Verdict == layout.Unknown:
			f.Message = fmt.Sprintf("whether %s between %s and %s bears what it carries cannot be told", spoken(plug.Name), p.call(c.From.ID), p.call(c.To.ID))
			f.Fix = fmt.Sprintf("look up %s and write it down", dimNames(f.Missing))
		case mustMend(&f):
			f.Fix = fmt.Sprintf("a plug that bears %s or more %s, or less current through it", ampere(up(k.amps.Nominal(), 1)), k.when)
		}
		worst.add(f)
	}
	p.Report(worst.f)
}
