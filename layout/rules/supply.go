package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"dryfit/layout"
	"dryfit/shapes"
)

// noWires tells that a build lists none, and reports whether that is so.
func (p *Pass) noWires() bool {
	if len(p.Asm.Circuits) > 0 {
		return false
	}
	p.Nothing("the build lists no wires")
	return true
}

// figure returns d itself, or a missing dimension of that name and unit, so that a verdict
// which needs it becomes unknown and says which.
func figure(d *shapes.Dim, name string, u shapes.Unit) *shapes.Dim {
	if d != nil {
		return d
	}
	return &shapes.Dim{Name: name, Unit: u, Missing: true}
}

// limitOf is a limit with a range of its own: good on one side of it, least on the other.
func limitOf(name string, value, plus, minus float64, u shapes.Unit) layout.Form {
	return layout.Of(&shapes.Dim{
		Name: name, Value: value, Plus: plus, Minus: minus, Unit: u, HasTol: true, Range: true,
		Source: shapes.Assumed, TolSource: shapes.Assumed, Conf: "K", Kind: "trade",
	})
}

// at puts a finding at a terminal, its other point at another one.
func at(f layout.Finding, a, b *layout.Terminal) layout.Finding {
	f.HasPlace = true
	f.A, f.B = spot(a), spot(b)
	return f
}

func spot(t *layout.Terminal) r3.Vector { return lift(t.At, t.Z.Nominal()) }

// volts and ampere write figures for a sentence.
func volts(v float64) string  { return num(v) + " V" }
func ampere(v float64) string { return num(v) + " A" }

// wireAt is a wire of the net that ends at a place, the first in the file.
func wireAt(pl *layout.NetPlace) *layout.NetWire {
	for _, w := range pl.Net.Wires {
		if w.A == pl || w.B == pl {
			return w
		}
	}
	return nil
}

// across is the terminal at the other end of a place's first wire.
func across(pl *layout.NetPlace) *layout.Terminal {
	w := wireAt(pl)
	if w == nil {
		return pl.Terminals[0]
	}
	if w.A == pl {
		return w.Wire.To
	}
	return w.Wire.From
}

// giver is the component that drives a net: a pack, or what has the regulator; "" for none.
func giver(n *layout.Net) string {
	switch {
	case len(n.Packs) > 0:
		return n.Packs[0].ID
	case len(n.Gives) > 0:
		return n.Gives[0].Owner.ID
	}
	return ""
}

// supplyAt starts a finding about what a place takes.
func (p *Pass) supplyAt(pl *layout.NetPlace, u shapes.Unit) layout.Finding {
	f := layout.Finding{Unit: u, Subjects: []string{pl.Owner.ID}, Pos: pl.Owner.Pos, Near: "at " + p.call(pl.Owner.ID)}
	if g := giver(pl.Net); g != "" && g != pl.Owner.ID {
		f.Subjects = append(f.Subjects, g)
	}
	if w := wireAt(pl); w != nil {
		f.Pos = w.Circuit.Pos
	}
	return at(f, pl.Terminals[0], across(pl))
}

// overAnyway reports whether a verdict that lacks figures fails even without them: what is
// missing can only add to the measure.
func overAnyway(f *layout.Finding, measure, need layout.Form) bool {
	return f.Verdict == layout.Unknown && f.AtMost && len(need.Missing()) == 0 && f.Margin < 0 && !missingFactor(measure)
}

// missingFactor reports whether a missing figure has any weight in a form's nominal value:
// then that value means nothing.
func missingFactor(f layout.Form) bool {
	for _, t := range f.Terms {
		if t.Dim.Missing && math.Abs(t.Coef*t.Dim.Value) > 1e-9 {
			return true
		}
	}
	return false
}

// millivolts writes a small voltage: in mV under 0.1 V.
func millivolts(v float64) string {
	if math.Abs(v) < 0.1 {
		return num(math.Round(10000*v)/10) + " mV"
	}
	return volts(v)
}

// net says what a net is in a sentence: "the battery", "the 5 V rail of the flight board".
func (p *Pass) net(n *layout.Net) string {
	switch n.Kind {
	case layout.PackNet:
		return p.call(n.Packs[0].ID)
	case layout.RailNet:
		return fmt.Sprintf("the %s rail of %s", volts(n.Rated()), p.call(n.Gives[0].Owner.ID))
	}
	return n.String()
}

// bundle says in a sentence which wires are meant.
func (p *Pass) bundle(c *layout.Circuit) string {
	return "the wires from " + p.call(c.From.ID) + " to " + p.call(c.To.ID)
}

// circuitAt starts a finding about a circuit: the first thing to change is the end that is
// not the pack or a motor.
func (p *Pass) circuitAt(c *layout.Circuit, u shapes.Unit) layout.Finding {
	f := layout.Finding{Unit: u, Subjects: []string{c.From.ID, c.To.ID}, Pos: c.Pos, Near: "from " + p.call(c.From.ID) + " to " + p.call(c.To.ID)}
	if c.From.Part != nil && (c.From.Part.Kind == shapes.Battery || c.From.Part.Kind == shapes.MotorKind) {
		f.Subjects = []string{c.To.ID, c.From.ID}
	}
	if c.From == c.To {
		f.Subjects = f.Subjects[:1]
	}
	if len(c.Wires) == 0 {
		return f
	}
	return at(f, c.Wires[0].From, c.Wires[0].To)
}
