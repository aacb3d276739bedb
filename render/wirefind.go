package render

import (
	"math"
	"slices"
	"strings"

	"dryfit/layout"
)

// wireGroups are the groups of rules whose findings the schematic shows.
var wireGroups = [...]string{"wires", "supply"}

// onSchematic are the findings of rules about wires and supply, and all that name wires.
func (d *drawing) onSchematic() []numbered {
	var out []numbered
	for _, n := range d.found {
		if slices.Contains(wireGroups[:], d.groupOf(n.first().Rule)) || len(circuitsOf(d.asm, n.first())) > 0 {
			out = append(out, n)
		}
	}
	return out
}

// onRoutes are the findings about places on the ways of wires; what is about supply stands on
// the schematic.
func (d *drawing) onRoutes() []numbered {
	var out []numbered
	for _, n := range d.found {
		if f := n.first(); d.groupOf(f.Rule) != "supply" && atOnePlace(f) && len(circuitsOf(d.asm, f)) > 0 {
			out = append(out, n)
		}
	}
	return out
}

// offWires are the findings that views without wires show: what is about a circuit stands on the plan
// of wires and on the schematic.
func (d *drawing) offWires() []numbered {
	var out []numbered
	for _, n := range d.found {
		if slices.ContainsFunc(n.all, func(f layout.Finding) bool { return len(circuitsOf(d.asm, &f)) == 0 }) {
			out = append(out, n)
		}
	}
	return out
}

// groupOf is the group of a rule, from its outcome.
func (d *drawing) groupOf(rule string) string {
	for i := range d.outcomes {
		if d.outcomes[i].Rule == rule {
			return d.outcomes[i].Group
		}
	}
	return ""
}

// circuitsOf returns the circuits that a finding is about, in order: those that it names, or
// whose wires or pads it names; else those of the entry of the build that it points at of which
// it names both ends, or one.
func circuitsOf(asm *layout.Assembly, f *layout.Finding) []int {
	var out []int
	for i, c := range asm.Circuits {
		if slices.ContainsFunc(f.Subjects, func(id string) bool { return id == c.ID || strings.HasPrefix(id, c.ID+".") }) ||
			slices.ContainsFunc(c.Wires, func(w *layout.Wire) bool { return namesPad(f, w) }) {
			out = append(out, i)
		}
	}
	if len(out) > 0 || f.Pos.IsZero() {
		return out
	}
	names := func(k *layout.Component) bool { return k != nil && slices.Contains(f.Subjects, k.ID) }
	for _, fits := range [...]func(c *layout.Circuit) bool{
		func(c *layout.Circuit) bool { return names(c.From) && names(c.To) },
		func(c *layout.Circuit) bool { return names(c.From) },
		func(c *layout.Circuit) bool { return names(c.To) },
	} {
		for i, c := range asm.Circuits {
			if c.Pos == f.Pos && fits(c) {
				out = append(out, i)
			}
		}
		if len(out) > 0 {
			break
		}
	}
	return out
}

// atOnePlace reports whether a finding is about a place of a circuit's way rather than about the
// whole of it: its points lie near each other in plan.
func atOnePlace(f *layout.Finding) bool {
	const near = 20.0 // mm
	return math.Hypot(f.A.X-f.B.X, f.A.Y-f.B.Y) <= near
}

// namesPad reports whether a finding names the pad at either end of a wire.
func namesPad(f *layout.Finding, w *layout.Wire) bool {
	return slices.ContainsFunc(f.Subjects, func(id string) bool {
		return w.From != nil && id == w.From.ID || w.To != nil && id == w.To.ID
	})
}

// namesWire reports whether a finding names single wires of a circuit, and this is one of them.
func namesWire(f *layout.Finding, c *layout.Circuit, w *layout.Wire) (any, this bool) {
	for _, o := range c.Wires {
		if slices.Contains(f.Subjects, o.ID) || namesPad(f, o) {
			any = true
			this = this || o == w
		}
	}
	return any, this
}
