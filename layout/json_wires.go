package layout

import (
	"slices"
	"strings"

	"dryfit/geom"
)

// terminals lists what wires end at, each once, by ID.
func (a *Assembly) terminals() []*Terminal {
	var out []*Terminal
	for _, c := range a.Circuits {
		for _, w := range c.Wires {
			out = append(out, w.From, w.To)
		}
	}
	slices.SortStableFunc(out, func(a, b *Terminal) int { return strings.Compare(a.ID, b.ID) })
	return slices.CompactFunc(out, func(a, b *Terminal) bool { return a.ID == b.ID })
}

func jsonTerminal(t *Terminal) jobj {
	o := jobj{
		{"id", t.ID}, {"owner", t.Owner.ID}, {"name", t.Name}, {"way", t.Way}, {"role", string(t.Role)}, {"at", jpoint(t.At)}, {"height", jform(t.Z)},
		{"direction", jpoint(t.Dir)}, {"up", t.Up},
	}
	if t.Port != nil {
		o = append(o, jfield{"port", t.Port.ID})
	} else {
		o = append(o, jfield{"soldered", t.Pad != nil}, jfield{"size", jnum(t.Size)})
	}
	if t.Takes != nil {
		o = append(o, jfield{"takes", []jnum{jnum(t.Takes.Lo), jnum(t.Takes.Hi)}})
	}
	if t.Draws != nil {
		o = append(o, jfield{"draws", jform(Of(t.Draws))})
	}
	return o
}

func jsonCircuit(c *Circuit) jobj {
	wires := make([]jobj, len(c.Wires))
	for i, w := range c.Wires {
		wires[i] = jobj{
			{"id", w.ID}, {"way", w.Way}, {"from", w.From.ID}, {"to", w.To.ID}, {"role", string(w.Role)}, {"gauge", partName(w.Gauge)}, {"colour", w.Colour},
			{"cut", jform(w.Cut)}, {"strips", []jnum{jnum(w.StripA), jnum(w.StripB)}}, {"grams", jform(w.Grams)}, {"chosen", w.Chosen}, {"added", w.Return},
		}
	}
	o := jobj{
		{"id", c.ID}, {"kind", string(c.Kind)}, {"from", c.From.ID}, {"to", c.To.ID}, {"diameter", jform(Of(c.OD))}, {"bend", jnum(c.Bend)},
		{"slack", jform(Of(c.Slack))}, {"from-plug", portID(c.FromPlug)}, {"to-plug", portID(c.ToPlug)}, {"mate", partName(c.Mate)},
	}
	if c.Hung != nil {
		o = append(o, jfield{"lead", jform(Of(c.Hung))})
	}
	if c.Spec != nil && c.Spec.Sleeve != nil {
		o = append(o, jfield{"sleeve", partName(c.Spec.Sleeve)})
	}
	o = append(o, jfield{"wires", wires})
	switch {
	case c.Route == nil:
	case c.Route.Blocked != nil:
		b := c.Route.Blocked
		o = append(o, jfield{"blocked", jobj{
			{"at", []any{jpoint(b.At[0]), jpoint(b.At[1])}}, {"height", jnum(b.Z)}, {"gap", jnum(b.Gap)}, {"need", jnum(b.Need)},
			{"between", b.Of[:]}, {"level", b.Level}, {"enclosed", b.Enclosed},
		}})
	default:
		o = append(o, jfield{"route", jsonRoute(c.Route)})
	}
	return o
}

func portID(p *PortPlace) string {
	if p == nil {
		return ""
	}
	return p.ID
}

func jsonRoute(r *Route) jobj {
	legs := make([]jobj, len(r.Legs))
	for i, l := range r.Legs {
		o := jobj{{"kind", string(l.Kind)}, {"level", l.Level}, {"length", jnum(l.Length)}, {"from", jnum(l.Z0)}, {"to", jnum(l.Z1)}}
		if len(l.Path.Segs) > 0 {
			o = append(o, jfield{"path", jpath(l.Path)})
		} else {
			o = append(o, jfield{"at", jpoint(l.At)})
		}
		if l.Through != "" {
			o = append(o, jfield{"through", l.Through})
		}
		if l.Lane > 0 || l.Lane < 0 {
			o = append(o, jfield{"lane", jnum(l.Lane)})
		}
		legs[i] = o
	}
	ties := make([]jobj, len(r.Ties))
	for i, t := range r.Ties {
		ties[i] = jobj{{"at", jpoint(t.At)}, {"height", jnum(t.Z)}, {"to", t.To}, {"along", jnum(t.Along)}, {"asked", t.Asked}, {"opens", t.Opens}}
	}
	edges := make([]jobj, len(r.Edges))
	for i, e := range r.Edges {
		edges[i] = jobj{{"plate", e.Plate}, {"hole", e.Hole}, {"at", jpoint(e.At)}, {"sharp", e.Sharp}, {"along", jnum(e.Along)}}
	}
	return jobj{{"length", jnum(r.Length)}, {"legs", legs}, {"ties", ties}, {"edges", edges}}
}

// jpath writes a path as its places [x, y, bulge] in order: a bulge is the tangent of a quarter
// of the sweep of the arc to the next, 0 for a line. The last has none.
func jpath(p geom.Path) [][3]jnum {
	var out [][3]jnum
	for _, s := range p.Segs {
		out = append(out, [3]jnum{jnum(s.A.X), jnum(s.A.Y), jnum(s.Bulge)})
	}
	last := p.Segs[len(p.Segs)-1].B
	return append(out, [3]jnum{jnum(last.X), jnum(last.Y), 0})
}
