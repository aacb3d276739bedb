package rules

import (
	"fmt"

	"dryfit/layout"
)

// resolder is what builders keep of a motor lead so that a joint can be made again, mm.
const resolder = 25.0

var wireLength = &Rule{
	Name:     "wire-length",
	Group:    "wires",
	Question: "does the lead as bought reach, with slack and strips",
	Why:      "A lead that stops short of its pad is spliced, or stretched until a joint breaks; trimmed to one order of the motors it no longer reaches in the other.",
	Need:     "The routed way with the slack of its kind (10 mm soldered, 20 in a plug) and what is bared at both ends; 25 mm more leaves a re-solder, and the message says when it is not there.",
	How:      "Length of the lead that hangs on the part or that the build gives, against the way from pad to pad; tolerances of the lead and spread of slack and strips count. For motors also the way to the farthest other pads of the same board, as long as the pads are apart. In mm.",
	Fix:      "Splice, turn or move the board, give the motors another order, or buy longer leads.",
	Run:      runWireLength,
}

func runWireLength(p *Pass) {
	judged := 0
	for _, c := range p.Asm.Circuits {
		if routed(c) && p.reachesEnd(c) {
			judged++
		}
	}
	switch {
	case len(p.Asm.Circuits) == 0:
		p.Nothing("the build has no `wires:`")
	case judged == 0:
		p.Nothing("no lead comes with a part or with a `length:`; what is cut to fit is on the cut list")
	}
}

// reachesEnd judges the lead of one circuit, if it has a length of its own.
func (p *Pass) reachesEnd(c *layout.Circuit) bool {
	have := c.Hung
	if c.Spec != nil && c.Spec.Length != nil {
		have = c.Spec.Length
	}
	// What hangs on a pack ends in a plug: the rest is cut to fit.
	if have == nil || c.Mate != nil && (c.Spec == nil || c.Spec.Length == nil) || len(c.Wires) == 0 {
		return false
	}
	longest := c.Wires[0]
	for _, w := range c.Wires[1:] {
		if w.Cut.Nominal() > longest.Cut.Nominal() {
			longest = w
		}
	}
	f := wireFinding(c)
	if line := c.Route.Line(); len(line) > 0 {
		f.HasPlace, f.A, f.B = true, line[0], line[len(line)-1]
	}
	f = f.Judge(layout.Of(have), longest.Cut)
	f.Message = fmt.Sprintf("%s %s %s long and %s %s with slack and strips", wiresOf(c), isOrAre(c), mm(have.Value), does(c, "take"), mm(f.Needed))
	other := p.otherPads(c)
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s %s hangs on a dimension that is missing", wiresOf(c), reaches(c))
		f.Fix = unknownFix(&f)
	case mustMend(&f):
		f.Fix = fmt.Sprintf("get leads of %s, splice, or move what they go to nearer", mm(up(have.Value-f.Worst, 5)))
	case f.Margin < resolder:
		f.Message += fmt.Sprintf(", with %s over: too little to solder anew if a joint breaks", mm(f.Margin))
	case c.Kind == layout.MotorCircuit && other > 0 && f.Worst < other:
		f.Message += fmt.Sprintf("; pads %s farther on, in another order of the motors, are out of reach at worst", mm(other))
	}
	p.Report(f)
	return true
}

func isOrAre(c *layout.Circuit) string {
	if len(c.Wires) == 1 {
		return "is"
	}
	return "are"
}

func reaches(c *layout.Circuit) string {
	if len(c.Wires) == 1 {
		return "reaches"
	}
	return "reach"
}

// otherPads is how much farther than its own the farthest pads for another motor on the
// same part can be, in mm: as far as the pads are apart.
func (p *Pass) otherPads(c *layout.Circuit) float64 {
	if c.Kind != layout.MotorCircuit || len(c.Wires) == 0 || c.Wires[0].To == nil {
		return 0
	}
	own, most := c.Wires[0].To.At, 0.0
	for _, o := range p.Asm.Circuits {
		if o != c && o.Kind == layout.MotorCircuit && o.To == c.To && len(o.Wires) > 0 && o.Wires[0].To != nil {
			most = max(most, o.Wires[0].To.At.Sub(own).Norm())
		}
	}
	return most
}
