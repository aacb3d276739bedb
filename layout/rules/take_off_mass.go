package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

// undecidedShare is how near to a mass line a sum of parts can no longer tell on which
// side the craft will be: lists of parts run 4 to 8 % low when wire, solder and ties are
// left out, and class masses scatter by as much, so 3 % of the line stays open.
const undecidedShare = 0.03

var takeOffMass = &Rule{
	Name:     "take-off-mass",
	Group:    "mass",
	Question: "does all that leaves the ground stay under the mass named",
	Why:      "Lists of parts run 4 to 8 % low: wire, solder, ties and printed parts are what nobody counted. Many places draw lines in law by take-off mass; local codes decide what a line means.",
	Need:     "The build's own mass.limit less 3 %: a sum that comes nearer than that to the line is reported as tight, because a list of parts cannot tell on which side the scales will stop.",
	How:      "Sum in grams over every plate (volume times density), part, post, spacer and pack, plus mass.allowance for wire, solder and ties (assumed 6 ± 2 % of the rest when the build names none).",
	Fix:      "Trim leads, take a thinner roof plate or a smaller pack.",
	Run:      runTakeOffMass,
}

func runTakeOffMass(p *Pass) {
	if len(p.Asm.Components) == 0 {
		p.Nothing("the build has nothing that weighs")
		return
	}
	sum, allowance := p.Asm.TakeOffMass()
	if p.Asm.MassLimit == nil {
		if m := sum.Missing(); len(m) > 0 {
			p.Nothing("the build names no mass limit; the sum lacks %s", m[0].Name)
			return
		}
		lo, hi := sum.Worst()
		p.Nothing("the build names no mass limit; its parts and %s g for wire and ties add up to %s g (%s to %s)",
			grams(allowance.Value), grams(sum.Nominal()), grams(lo), grams(hi))
		return
	}
	limit := layout.Of(p.Asm.MassLimit)
	f := layout.Finding{
		Unit: shapes.Gram, AtMost: true, Pos: p.Asm.MassLimit.Pos,
		Subjects: heaviest(p.Asm), Near: "the whole craft",
	}.Judge(sum, limit)
	room, open := limit.Nominal()-sum.Nominal(), undecidedShare*limit.Nominal()
	f.Message = fmt.Sprintf("parts, plates and %s g for wire and ties add up to %s g, and the build names %s g",
		grams(allowance.Value), grams(sum.Nominal()), num(limit.Nominal()))
	switch {
	case f.Verdict == layout.Unknown && room < 0:
		f.Verdict = layout.Fail // what is missing can only add to it
		f.Message += fmt.Sprintf(", even without %s", dimNames(f.Missing))
	case f.Verdict == layout.Unknown:
		f.Message += fmt.Sprintf(", without %s", dimNames(f.Missing))
	case f.Verdict == layout.OK && room < open-touch:
		f.Verdict = layout.Tight
		f.Message += "; a list of parts does not tell what is nearer than 3 %"
	}
	sure := math.Ceil(math.Max(-f.Worst, open-room) - touch)
	switch f.Verdict {
	case layout.Fail:
		f.Fix = fmt.Sprintf("take %s g off, %s g to be sure; the heaviest is %s", num(math.Ceil(-room-touch)), num(sure), p.call(f.Subjects[0]))
	case layout.Tight:
		f.Fix = fmt.Sprintf("weigh the parts in hand, or take %s g off to be sure", num(sure))
	case layout.Unknown:
		f.Fix = "weigh what the list lacks and give its `mass:`"
	}
	p.Report(f)
}

// grams writes a mass to a tenth of a gram.
func grams(v float64) string { return num(math.Round(10*v) / 10) }

// heaviest returns the ID of the component with the greatest nominal mass, or none for an
// assembly without components.
func heaviest(asm *layout.Assembly) []string {
	var id string
	most := -1.0
	for _, c := range asm.Components {
		if g := c.Mass.Grams.Nominal(); g > most {
			most, id = g, c.ID
		}
	}
	if id == "" {
		return nil
	}
	return []string{id}
}
