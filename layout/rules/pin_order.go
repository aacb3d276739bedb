package rules

import (
	"fmt"
	"strings"

	"dryfit/layout"
	"dryfit/shapes"
)

var pinOrder = &Rule{
	Name:     "pin-order",
	Group:    "wires",
	Question: "does a straight lead between two plugs join like with like",
	Why:      "Plugs of the same shape are wired differently by different makers: a straight lead then puts pack volts on a signal pin at the first plug-in, and the part behind it is gone.",
	Need:     "The n-th way of one plug must be called as the n-th of the other, or be the other end of its serial line. A lead that the build lists way by way under `ways:` is made to that order, and told as such.",
	How:      "Way by way from the one marked 1, by name; what carries nothing meets anything. Both orders are told where they differ, and the worst of what would land where.",
	Fix:      "Re-pin the lead before any power, or have one made, and check it with a meter.",
	Run:      runPinOrder,
}

func runPinOrder(p *Pass) {
	if p.noWires() {
		return
	}
	for _, c := range p.Asm.Circuits {
		if c.FromPlug == nil || c.ToPlug == nil || len(c.FromPlug.Port.Pins) == 0 || len(c.ToPlug.Port.Pins) == 0 {
			continue
		}
		p.order(c)
	}
	if len(p.findings) == 0 {
		p.Nothing("no lead has plugs at both ends whose ways are listed")
	}
}

func (p *Pass) order(c *layout.Circuit) {
	a, b := c.FromPlug.Port.Pins, c.ToPlug.Port.Pins
	who, whom := p.call(c.From.ID), p.call(c.To.ID)
	var wrong []string
	grave := ""
	for i := range min(len(a), len(b)) {
		if meets(a[i], b[i]) {
			continue
		}
		s := landing(a[i], b[i], whom)
		if grave == "" && (carriesPower(a[i].Role) || carriesPower(b[i].Role)) {
			grave = s
		}
		wrong = append(wrong, s)
	}
	f := p.circuitAt(c, "")
	f.Subjects = []string{c.To.ID, c.From.ID}
	f.Verdict = layout.OK
	made := c.Spec != nil && len(c.Spec.Ways) > 0
	switch {
	case len(wrong) == 0:
		f.Message = fmt.Sprintf("the plugs of %s and %s are in the same order: a straight lead joins like with like", who, whom)
	case made:
		f.Message = fmt.Sprintf("the plugs of %s and %s differ in order, and the lead is made to the ways that the build lists: %s has %s, %s has %s", who, whom, who, pinList(a), whom, pinList(b))
	default:
		f.Verdict = layout.Fail
		if grave == "" {
			grave = wrong[0]
		}
		f.Message = fmt.Sprintf("a straight lead puts %s; %s has %s, %s has %s", grave, who, pinList(a), whom, pinList(b))
		f.Fix = fmt.Sprintf("re-pin the lead so that each way meets its like, list them under `ways:`, and check it with a meter before any power; %d of %d ways land wrong", len(wrong), min(len(a), len(b)))
		if reversed(a, b) {
			f.Fix = "take a lead that is crimped the other way round, way 1 to the last, list its ways under `ways:`, and check it with a meter before any power"
		}
	}
	p.Report(f)
}

// meets reports whether two ways may be joined: called alike, two grounds, the two ends of a
// serial line, or one of them carries nothing.
func meets(a, b shapes.Pin) bool {
	switch {
	case a.Name == shapes.UnusedPin || b.Name == shapes.UnusedPin:
		return true
	case a.Role == shapes.GroundRole && b.Role == shapes.GroundRole:
		return true
	case a.Role == shapes.FeedRole && b.Role.Gives() > 0, b.Role == shapes.FeedRole && a.Role.Gives() > 0:
		return true
	case a.Role == shapes.FeedRole && b.Role == shapes.PackRole, b.Role == shapes.FeedRole && a.Role == shapes.PackRole:
		return true
	}
	swap := strings.NewReplacer("tx", "rx", "rx", "tx")
	if other := swap.Replace(a.Name); other != a.Name {
		return other == b.Name
	}
	return a.Name == b.Name
}

func carriesPower(r shapes.Role) bool {
	return r == shapes.PackRole || r == shapes.FeedRole || r.Gives() > 0
}

// landing says what of the first plug lands where in the second: "pack volts on telemetry of
// the esc board".
func landing(a, b shapes.Pin, whom string) string {
	if !carriesPower(a.Role) && carriesPower(b.Role) {
		return fmt.Sprintf("%s of %s on %s", brought(b), whom, a.Name)
	}
	return fmt.Sprintf("%s on %s of %s", brought(a), b.Name, whom)
}

func brought(q shapes.Pin) string {
	switch {
	case q.Role == shapes.PackRole:
		return "pack volts"
	case q.Role.Gives() > 0:
		return volts(q.Role.Gives())
	}
	return q.Name
}

// pinList writes the order of a plug: "1 pack, 2 ground, 3 current".
func pinList(pins []shapes.Pin) string {
	var out []string
	for i, q := range pins {
		out = append(out, fmt.Sprintf("%d %s", i+1, q.Name))
	}
	return strings.Join(out, ", ")
}

// reversed reports whether the two orders match when one is turned round.
func reversed(a, b []shapes.Pin) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !meets(a[i], b[len(b)-1-i]) {
			return false
		}
	}
	return true
}
