package layout

import (
	"cmp"
	"math"
	"slices"

	"dryfit/shapes"
)

// CutLine is one wire of the cut list.
type CutLine struct {
	No      int // of its circuit: from 1, in the order of Assembly.Circuits
	Circuit *Circuit
	Wire    *Wire
	Routed  bool    // false: no way was found, so the lengths and the mass mean nothing
	Length  float64 // mm, nominal, with slack and what is stripped
	Plus    float64 // mm that it may come out longer, at worst case
	Minus   float64 // and shorter
	// Cut is what to cut: Length rounded up to whole mm, since a wire is easily shortened.
	Cut   float64
	Grams float64
	// Lead is the part that the wire comes with; nil: it is cut from stock. A motor's lead is cut
	// back; an antenna's cable stays as long as it comes, so Cut is what it must at least have.
	Lead   *Component
	Bought float64 // mm of such a lead as it comes, 0: not known
	Spare  float64 // mm left over after cutting it, negative: so much too short; 0 if Bought is not known
}

// GaugeTotal sums the wires of one gauge: those cut from stock, or with Lead those that come
// with parts.
type GaugeTotal struct {
	Gauge *shapes.Part
	Lead  bool
	Wires int     // routed ones
	MM    float64 // sum of CutLine.Cut
	Grams float64
}

// SleeveTotal sums the sleeves of one size, one piece over each circuit that has one.
type SleeveTotal struct {
	Sleeve *shapes.Part
	Pieces int
	MM     float64 // each piece as long as its route, rounded up to whole mm
}

// CutList says what to cut of which wire.
type CutList struct {
	Lines   []CutLine    // in the order of the circuits and their wires
	Gauges  []GaugeTotal // thickest first, coaxial cable last; leads that come with parts after all that is cut
	Sleeves []SleeveTotal
}

// CutList lists the wires of all circuits with their lengths, and the totals by gauge and
// sleeve. Totals are sums over the lines: lengths of what is cut, in whole mm. It is empty
// for a craft without circuits.
func (a *Assembly) CutList() CutList {
	var out CutList
	for i, c := range a.Circuits {
		routed := c.Route != nil && c.Route.Blocked == nil
		for _, w := range c.Wires {
			l := CutLine{No: i + 1, Circuit: c, Wire: w, Routed: routed, Lead: c.leadOf()}
			if l.Lead != nil && c.Hung != nil && !c.Hung.Missing {
				l.Bought = c.Hung.Value
			}
			if routed {
				l.measure(w)
			}
			out.Lines = append(out.Lines, l)
			out.addGauge(&l)
		}
		if routed && c.Spec != nil && c.Spec.Sleeve != nil {
			out.addSleeve(c.Spec.Sleeve, WholeMM(c.Route.Length))
		}
	}
	slices.SortStableFunc(out.Gauges, func(x, y GaugeTotal) int {
		return cmp.Or(compareBool(x.Lead, y.Lead), compareBool(isCoax(x.Gauge), isCoax(y.Gauge)), cmp.Compare(gaugeOf(x.Gauge), gaugeOf(y.Gauge)), cmp.Compare(x.Gauge.Name, y.Gauge.Name))
	})
	slices.SortStableFunc(out.Sleeves, func(x, y SleeveTotal) int {
		return cmp.Or(cmp.Compare(suppliedOf(x.Sleeve), suppliedOf(y.Sleeve)), cmp.Compare(x.Sleeve.Name, y.Sleeve.Name))
	})
	return out
}

// leadOf is the part that a circuit's wires come with: nil where they are cut from stock, as
// they are up to the plug of a pack.
func (c *Circuit) leadOf() *Component {
	switch {
	case c.Kind == CoaxCircuit && c.To != nil && c.To.Part != nil && c.To.Part.Kind == shapes.AntennaKind:
		return c.To
	case c.Kind == CoaxCircuit:
		return c.From
	case c.Hung == nil || c.Mate != nil:
		return nil
	}
	return c.From
}

func (l *CutLine) measure(w *Wire) {
	l.Length = w.Cut.Nominal()
	lo, hi := w.Cut.Worst()
	l.Plus, l.Minus = hi-l.Length, l.Length-lo
	l.Cut = WholeMM(l.Length)
	l.Grams = w.Grams.Nominal()
	if l.Bought > 0 {
		l.Spare = l.Bought - l.Cut
	}
}

// WholeMM rounds a length in mm up to whole millimetres; a millionth over a whole one does
// not count.
func WholeMM(v float64) float64 { return math.Ceil(v - 1e-6) }

func (c *CutList) addGauge(l *CutLine) {
	if !l.Routed || l.Wire.Gauge == nil {
		return
	}
	i := slices.IndexFunc(c.Gauges, func(t GaugeTotal) bool { return t.Lead == (l.Lead != nil) && t.Gauge.Name == l.Wire.Gauge.Name })
	if i < 0 {
		i = len(c.Gauges)
		c.Gauges = append(c.Gauges, GaugeTotal{Gauge: l.Wire.Gauge, Lead: l.Lead != nil})
	}
	t := &c.Gauges[i]
	t.Wires++
	t.MM += l.Cut
	t.Grams += l.Grams
}

func (c *CutList) addSleeve(s *shapes.Part, mm float64) {
	i := slices.IndexFunc(c.Sleeves, func(t SleeveTotal) bool { return t.Sleeve.Name == s.Name })
	if i < 0 {
		i = len(c.Sleeves)
		c.Sleeves = append(c.Sleeves, SleeveTotal{Sleeve: s})
	}
	c.Sleeves[i].Pieces++
	c.Sleeves[i].MM += mm
}

// Total sums what is cut from stock, or with lead what is used of leads that come with
// parts: wires, mm and g.
func (c *CutList) Total(lead bool) (wires int, length, grams float64) {
	for _, t := range c.Gauges {
		if t.Lead == lead {
			wires += t.Wires
			length += t.MM
			grams += t.Grams
		}
	}
	return wires, length, grams
}

func isCoax(p *shapes.Part) bool { return p.Wire != nil && p.Wire.Coax }

func gaugeOf(p *shapes.Part) float64 {
	if p.Wire == nil {
		return 0
	}
	return p.Wire.Gauge
}

func suppliedOf(p *shapes.Part) float64 {
	if p.Sleeve == nil || p.Sleeve.Supplied == nil {
		return 0
	}
	return p.Sleeve.Supplied.Value
}

// compareBool puts false first.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// GaugeText names a wire's gauge: "20 AWG", or "coax" with its class.
func GaugeText(p *shapes.Part) string {
	switch {
	case p == nil:
		return ""
	case p.Wire == nil || p.Wire.Coax || p.Wire.Gauge <= 0:
		return p.Name
	}
	return mm(p.Wire.Gauge) + " AWG"
}

// FullLabel names a terminal within its part with the plug or row that it is in: "esc
// telemetry", "m1.2", "ground".
func (t *Terminal) FullLabel() string {
	if t.Pin != nil && t.Way != "" && t.Name != "" && t.Name != t.Way {
		return t.Name + " " + t.Way
	}
	return t.Label()
}
