package rules

import (
	"cmp"
	"fmt"
	"math"
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
	Why:      "A sleeve that does not go over the bundle is cut open and taped; one that stays loose slides off the edge that it guards.",
	Need:     "As supplied 0.2 mm wider inside than what it slides over: the bundle, or the smaller plug of a harness that is bought with both plugs on; shrunk no wider than the bundle.",
	How:      "Inside as supplied, and inside when shrunk free, against a tight belt round the wires, taken as the diameter of a circle of the same length: 1.64 wires for two, 1.95 for three, 2.27 for four. A soft sleeve lies round them so, not as the circle that holds them. In mm.",
	Fix:      "Another size from stock: the message names the one that does both.",
	Run:      runSleeveSize,
}

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

// belted is the share of the smallest circle round n equal wires that a tight belt round
// them has in length. A belt round circles of diameter 1 is π longer than the convex hull of
// their centres: a segment back and forth for two, a triangle for three, a square for four,
// a pentagon for five; the hexagon of six and seven.
func belted(n int) float64 {
	hull := []float64{0, 0, 2, 3, 4, 5, 6, 6}
	circle := []float64{1, 1, 2, 1 + 2/math.Sqrt(3), 1 + math.Sqrt2, 2.7013, 3, 3}
	n = min(max(n, 1), len(hull)-1)
	return (1 + hull[n]/math.Pi) / circle[n]
}

// belt is how thick a bundle is for the sleeve over it, mm, without that sleeve.
func belt(c *layout.Circuit, s *shapes.Part) layout.Form {
	wall := 0.0
	if w := s.Sleeve.Wall; w != nil {
		wall = w.Value // the bundle is as wide as its wires and twice the nominal wall
	}
	return layout.Of(c.OD).Shift(-2 * wall).Scale(belted(len(c.Wires)))
}

// overPlug is how thick a plug is that a sleeve must pass, mm: of a harness that is bought
// with both plugs on, the one that is smaller round.
func overPlug(c *layout.Circuit) (layout.Form, *shapes.Part) {
	if c.FromPlug == nil || c.ToPlug == nil || c.Spec.Length == nil {
		return layout.Form{}, nil
	}
	var best layout.Form
	var plug *shapes.Part
	for _, end := range []*layout.PortPlace{c.FromPlug, c.ToPlug} {
		if end.Plug == nil || end.Plug.Plug == nil {
			continue
		}
		q := end.Plug.Plug
		round := layout.Of(known(q.Width, end.Plug.Name+" width")).Plus(known(q.Height, end.Plug.Name+" height"), 1).Scale(2 / math.Pi)
		if plug == nil || round.Nominal() < best.Nominal() {
			best, plug = round, end.Plug
		}
	}
	return best, plug
}

func (p *Pass) sleeve(c *layout.Circuit, s *shapes.Part) {
	base := wireFinding(c)
	if routed(c) {
		line := c.Route.Line()
		base.HasPlace, base.A, base.B = true, line[len(line)/2], line[len(line)/2]
	}
	round := belt(c, s)
	over, what := round, "the bundle"
	if o, plug := overPlug(c); plug != nil {
		over, what = o, "the plug "+plug.Name
	}
	f := base.Judge(layout.Of(known(s.Sleeve.Supplied, s.Name+" inside as supplied")).Sub(over), layout.Fixed(sleeveAir))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s slides over %s of %s hangs on a dimension that is missing", s.Name, what, c.Label)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s is %s wide inside and does not go over %s of %s, %s round", s.Name, mm(s.Sleeve.Supplied.Value), what, c.Label, mm(over.Nominal()))
	default:
		f.Message = fmt.Sprintf("%s is %s wide inside and slides over %s of %s, %s round, with %s to spare, %s needed",
			s.Name, mm(s.Sleeve.Supplied.Value), what, c.Label, mm(over.Nominal()), mm(f.Measured), mm(f.Needed))
	}
	p.Report(p.otherSleeve(f, over, round))
	f = base.Judge(round.Sub(layout.Of(known(s.Sleeve.Recovered, s.Name+" inside shrunk"))), layout.Fixed(0))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s grips the bundle of %s hangs on a dimension that is missing", s.Name, c.Label)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s shrinks to %s only and stays loose on the bundle of %s, %s round", s.Name, mm(s.Sleeve.Recovered.Value), c.Label, mm(round.Nominal()))
	default:
		f.Message = fmt.Sprintf("%s shrinks to %s and grips the bundle of %s, %s round", s.Name, mm(s.Sleeve.Recovered.Value), c.Label, mm(round.Nominal()))
	}
	p.Report(p.otherSleeve(f, over, round))
}

// otherSleeve says what to do about a sleeve that does not fit: the narrowest of the stock
// that slides over and grips, at worst case.
func (p *Pass) otherSleeve(f layout.Finding, over, round layout.Form) layout.Finding {
	if !mustMend(&f) {
		f.Fix = unknownFix(&f)
		return f
	}
	if s := p.rightSleeve(over, round); s != nil {
		f.Fix = "take " + s.Name
		return f
	}
	_, most := over.Worst()
	least, _ := round.Worst()
	f.Fix = fmt.Sprintf("no sleeve of the stock goes over %s and grips %s: sleeve each wire by itself, or use tape", mm(most), mm(least))
	return f
}

// rightSleeve is the narrowest sleeve of the stock that slides over and grips even at worst
// case, nil if none does.
func (p *Pass) rightSleeve(over, round layout.Form) *shapes.Part {
	_, most := over.Worst()
	least, _ := round.Worst()
	var fits []*shapes.Part
	for _, s := range p.Asm.Sleeves {
		if s.Sleeve == nil || isMissing(s.Sleeve.Supplied) || isMissing(s.Sleeve.Recovered) {
			continue
		}
		in, out := s.Sleeve.Supplied, s.Sleeve.Recovered
		if in.Value-in.Minus >= most+sleeveAir-touch && out.Value+out.Plus <= least+touch {
			fits = append(fits, s)
		}
	}
	if len(fits) == 0 {
		return nil
	}
	return slices.MinFunc(fits, func(a, b *shapes.Part) int {
		return cmp.Or(cmp.Compare(tidy(a.Sleeve.Supplied.Value), tidy(b.Sleeve.Supplied.Value)), cmp.Compare(a.Name, b.Name))
	})
}
