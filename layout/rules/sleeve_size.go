package rules

import (
	"cmp"
	"fmt"
	"slices"

	"dryfit/layout"
	"dryfit/shapes"
)

// sleeveAir is the play in mm that a sleeve needs to slide over what it goes on to.
const sleeveAir = 0.2

var sleeveSize = &Rule{
	Name:     "sleeve-size",
	Group:    "wires",
	Question: "does the heat-shrink slide on and grip when it is shrunk",
	Why:      "A sleeve that does not go over the joint is cut open and taped; one that stays loose slides off a live joint in the first crash.",
	Need:     "As supplied 0.2 mm wider inside than the bundle and the solder joints that it slides over; shrunk no wider than the bundle.",
	How:      "Least inside as supplied, and most inside when shrunk free, against the diameter round the bundle with its spread; a solder joint on a wire is as thick as the wire and 1 mm. In mm.",
	Fix:      "Another size from stock: the message names the one that does both.",
	Run:      runSleeveSize,
}

// joint is how much thicker than its wire a solder joint is that a sleeve slides over, mm.
const joint = 1.0

func runSleeveSize(p *Pass) {
	sleeved := 0
	for _, c := range p.Asm.Circuits {
		if c.Spec == nil || c.Spec.Sleeve == nil || c.Spec.Sleeve.Sleeve == nil || c.OD == nil {
			continue
		}
		sleeved++
		p.sleeve(c, c.Spec.Sleeve)
	}
	switch {
	case len(p.Asm.Circuits) == 0:
		p.Nothing("the build has no `wires:`")
	case sleeved == 0:
		p.Nothing("no wire has a `sleeve:`")
	}
}

// overJoint reports whether the sleeve slides over a soldered joint: it does unless both ends are in
// plugs, when it is put on before the plugs are.
func overJoint(c *layout.Circuit) bool { return c.FromPlug == nil || c.ToPlug == nil }

func (p *Pass) sleeve(c *layout.Circuit, s *shapes.Part) {
	base := wireFinding(c)
	if routed(c) {
		line := c.Route.Line()
		base.HasPlace, base.A, base.B = true, line[len(line)/2], line[len(line)/2]
	}
	round := layout.Of(c.OD)
	over := round
	what := "the bundle"
	if overJoint(c) && len(c.Wires) == 1 {
		over, what = round.Shift(joint), "its solder joint"
	}
	f := base.Judge(layout.Of(known(s.Sleeve.Supplied, s.Name+" inside as supplied")).Sub(over), layout.Fixed(sleeveAir))
	f.Message = fmt.Sprintf("%s is %s wide inside and slides over %s of %s with %s to spare, %s needed", s.Name, mm(inside(s)), what, mm(over.Nominal()), mm(f.Measured), mm(f.Needed))
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s is %s wide inside and does not go over %s of %s", s.Name, mm(inside(s)), what, mm(over.Nominal()))
	}
	p.Report(p.otherSleeve(f, over, round))
	f = base.Judge(round.Sub(layout.Of(known(s.Sleeve.Recovered, s.Name+" inside shrunk"))), layout.Fixed(0))
	f.Message = fmt.Sprintf("%s shrinks to %s and grips the bundle of %s with %s to spare", s.Name, mm(recovered(s)), mm(round.Nominal()), mm(f.Measured))
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s shrinks to %s only and stays loose on the bundle of %s", s.Name, mm(recovered(s)), mm(round.Nominal()))
	}
	p.Report(p.otherSleeve(f, over, round))
}

func inside(s *shapes.Part) float64    { return known(s.Sleeve.Supplied, "").Value }
func recovered(s *shapes.Part) float64 { return known(s.Sleeve.Recovered, "").Value }

// otherSleeve says what to do about a sleeve that does not fit: the narrowest of the stock
// that slides over and grips, at worst case.
func (p *Pass) otherSleeve(f layout.Finding, over, round layout.Form) layout.Finding {
	if !mustMend(&f) {
		f.Fix = unknownFix(&f)
		return f
	}
	_, most := over.Worst()
	least, _ := round.Worst()
	var fits []*shapes.Part
	for _, s := range p.Asm.Sleeves {
		if s.Sleeve != nil && inside(s) >= most+sleeveAir && recovered(s) <= least && recovered(s) > 0 {
			fits = append(fits, s)
		}
	}
	slices.SortFunc(fits, func(a, b *shapes.Part) int {
		return cmp.Or(cmp.Compare(inside(a), inside(b)), cmp.Compare(a.Name, b.Name))
	})
	if len(fits) == 0 {
		f.Fix = fmt.Sprintf("no sleeve of the stock goes over %s and grips %s: sleeve each wire by itself, or use tape", mm(most), mm(least))
		return f
	}
	f.Fix = "take " + fits[0].Name
	return f
}
