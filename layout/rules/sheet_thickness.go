package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

// Sheets commonly lie 3 to 7 % under their label, some on it: trade figures.
const (
	usuallyUnder = 0.03
	mostUnder    = 0.07
)

var sheetThickness = &Rule{
	Name:     "sheet-thickness",
	Group:    "plates",
	Question: "is each sheet sold so thick, known so well, and right for its slots",
	Why:      "Sheets are thinner than their label. Tabs then sit loose, an arm's stack comes out 0.3 mm lower, and motor screws reach 0.3 mm deeper than the sums say.",
	Need:     "A thickness that the material is sold in, or up to 7 % less, as sheets measure; and a tolerance in the build from measuring. A bare label figure must be covered by the tolerance that is taken for it: 3 % under the label is usual, 7 % is met. A slot that takes a tab (`tab:`) is as wide as the tab's sheet is thick, and 0.3 mm wider at most: 0.1 to 0.2 over the measured sheet is aimed for, and cutters are off by 0.1. Trade figures.",
	How:      "The build's figure against the list of thicknesses sold. Without a tolerance in the build: what the sums allow under the figure, ±0.1 up to 2.5 mm, ±0.15 up to 4 and ±0.2 above, against 3 % (0 to 7 %) of it, in mm. Width of each slot with a tab less the thickness of what goes in, in mm. Printed parts are not judged.",
	Fix:      "Measure the sheet before cutting, and write what was found.",
	Run:      runSheetThickness,
}

func runSheetThickness(p *Pass) {
	var done []string
	for _, pl := range p.fromSheet() {
		if !hasWord(done, pl.Name) {
			done = append(done, pl.Name)
			p.Report(p.thickness(pl))
			p.tabs(pl)
		}
	}
	if len(done) == 0 {
		p.Nothing(noSheet)
	}
}

// soldAs returns the thickness that a sheet of t mm is sold as: the nearest of those that
// it may be, being thinner by up to 7 % or thicker by up to over. ok is false if none fits; near
// are then the next ones sold on either side.
func soldAs(sold []float64, t float64) (label float64, near []float64, ok bool) {
	const over = 0.1 // mm, the tolerance of thin stock
	below, above := math.Inf(-1), math.Inf(1)
	best := math.Inf(1)
	for _, s := range sold {
		if t >= s*(1-mostUnder)-1e-9 && t <= s+over+1e-9 && math.Abs(t-s) < best-1e-9 {
			label, best, ok = s, math.Abs(t-s), true
		}
		if s <= t {
			below = max(below, s)
		} else {
			above = min(above, s)
		}
	}
	for _, v := range []float64{below, above} {
		if !math.IsInf(v, 0) {
			near = append(near, v)
		}
	}
	return label, near, ok
}

// thickness judges one plate.
func (p *Pass) thickness(pl *layout.Plate) layout.Finding {
	t := known(pl.Thickness, pl.Name+" thickness")
	name := p.plateName(pl)
	f := layout.Finding{Subjects: []string{pl.ID}, Pos: pl.Pos, Near: name}
	var sold []float64
	stock := "the sheet"
	if pl.Material != nil {
		stock = pl.Material.Name
		if pl.Material.Material != nil {
			sold = pl.Material.Material.Thicknesses
		}
	}
	if isMissing(t) {
		f.Verdict, f.Missing = layout.Unknown, []*shapes.Dim{t}
		f.Message = fmt.Sprintf("the thickness of %s is missing, and every height rests on it", name)
		f.Fix = unknownFix(&f)
		return f
	}
	label, near, ok := soldAs(sold, t.Value)
	if len(sold) > 0 && !ok {
		var words []string
		off := math.Inf(1)
		for _, s := range near {
			words = append(words, num(s))
			off = min(off, math.Abs(s-t.Value))
		}
		f.AtMost = true
		f = f.Judge(layout.Fixed(off), layout.Form{})
		f.Message = fmt.Sprintf("%s is %s thick, and %s is sold in %s mm: the nearest is %s off", name, mm(t.Value), spoken(stock), speak(words), mm(off))
		f.Fix = fmt.Sprintf("take %s mm, or write what the sheet in hand measures", speakOr(words))
		return f
	}
	if t.HasTol && t.TolSource == shapes.Given {
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("%s is %s ±%s thick by the build", name, mm(t.Value), num(max(t.Plus, t.Minus)))
		if ok {
			f.Message += fmt.Sprintf(", sold as %s", mm(label))
		}
		return f
	}
	under := &shapes.Dim{
		Name: "how far sheets lie under their label", Value: usuallyUnder * t.Value, Plus: (mostUnder - usuallyUnder) * t.Value, Minus: usuallyUnder * t.Value,
		Unit: shapes.MM, HasTol: true, Source: shapes.Assumed, TolSource: shapes.Assumed,
	}
	f = f.Judge(layout.Fixed(t.Minus), layout.Of(under))
	f.Message = fmt.Sprintf("%s is given as %s without a tolerance: the sums allow %s under it, and sheets lie up to %s under their label", name, mm(t.Value), mm(t.Minus), mm(mostUnder*t.Value))
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("measure the sheet and write it so: `thickness: %s ±0.05`", num(t.Value))
	}
	return f
}

// speakOr joins figures as alternatives: "2.5 or 3".
func speakOr(words []string) string {
	if len(words) == 2 {
		return words[0] + " or " + words[1]
	}
	return speak(words)
}
