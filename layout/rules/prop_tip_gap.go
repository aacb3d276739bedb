package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes/read"
)

// discStep is the height in mm that overlapping discs keep between their blades at full
// flex: the trade asks for a step of hub thickness + flex up + flex down + 5.
const discStep = 5

// propTipGap asks how far the blade tips of neighbouring rotors stay apart.
var propTipGap = &Rule{
	Name:     "prop-tip-gap",
	Group:    "rotors",
	Question: "do the tips of neighbouring props pass each other",
	Why: "Tips that touch break at full throttle or after a slightly bent arm, and the craft falls. " +
		"Even a near miss costs thrust and makes noise.",
	Need: "3 mm for props up to 3 inch, 5 mm at 4 to 5 inch, 8 mm at 6 to 7 inch, 12 mm at 8 to 10 inch, linear in between: " +
		"arms bend and props run over their label (usual figures of the trade). Discs at different heights may overlap " +
		"with 5 mm of height left between their blades at full flex, that is a step of hub thickness plus both flexes plus 5.",
	How: "Distance of the two motor axes less half of both real prop diameters, in mm; on a square cross of wheelbase W and props of D " +
		"that is W/√2 - D. Judged for neighbours, and for every other pair that does not hold. Pairs whose swept bands are apart in " +
		"height are judged by height if they do not hold sideways, pairs on one axis always.",
	Fix: "smaller props, a larger wheelbase, or one pair of rotors higher than the other",
	Run: runPropTipGap,
}

// tipNeed is the least tip gap in mm for props of d mm.
func tipNeed(d float64) float64 {
	return scaled(d, knot{3, 3}, knot{4, 5}, knot{5, 5}, knot{6, 8}, knot{7, 8}, knot{8, 12})
}

func runPropTipGap(p *Pass) {
	rotors := p.Asm.Rotors
	if len(rotors) < 2 {
		p.Nothing("fewer than two rotors: there is no neighbour to meet")
		return
	}
	for i, a := range rotors {
		for _, b := range rotors[i+1:] {
			f, say := tipPair(p, a, b)
			if say {
				p.Report(f)
			}
		}
	}
}

// tipPair judges two rotors and reports whether there is something to say of them.
func tipPair(p *Pass, a, b *layout.Rotor) (layout.Finding, bool) {
	onAxis := b.At.Sub(a.At).Norm() < 1e-6
	low, high := a, b
	if b.Seat.Nominal() < a.Seat.Nominal() {
		low, high = b, a
	}
	step := high.SweptLo.Sub(low.SweptHi)
	apart := step.Nominal() > touch
	if onAxis {
		return stepFinding(p, low, high, step), true
	}
	tips := tipFinding(p, a, b)
	if !apart {
		hurts := tips.Verdict == layout.Fail || tips.Verdict == layout.Tight
		return tips, hurts || areNeighbours(p.Asm.Rotors, a, b)
	}
	// Apart in height: they pass each other if they hold either way.
	if tips.Verdict == layout.OK {
		return tips, false
	}
	over := stepFinding(p, low, high, step)
	if worse(&over, &tips) {
		return tips, true
	}
	return over, true
}

func tipFinding(p *Pass, a, b *layout.Rotor) layout.Finding {
	between := b.At.Sub(a.At)
	blurA, ridesA := carried(a)
	blurB, ridesB := carried(b)
	gap := narrowed(between.Norm(), closing(blurA, ridesA, blurB, ridesB)).Sub(a.Radius).Sub(b.Radius)
	d := math.Max(labelD(a), labelD(b))
	need := p.Need(tipNeed(d))
	dir := unit(between, r2.Point{X: 1})
	z := (a.Seat.Nominal() + b.Seat.Nominal()) / 2
	f := layout.Finding{
		Subjects: []string{propID(a), propID(b)},
		HasPlace: true,
		A:        lift(a.At.Add(dir.Mul(a.Radius.Nominal())), z),
		B:        lift(b.At.Sub(dir.Mul(b.Radius.Nominal())), z),
		Near:     spoken(a.Name) + " and " + spoken(b.Name),
		Pos:      tipPos(p, a, b),
	}.Judge(gap, need)
	if f.Verdict == layout.Unknown {
		f.Message = fmt.Sprintf("the tip gap between the %s props needs a diameter that is missing", f.Near)
		f.Fix = "measure the prop from tip to tip and say its real diameter"
		return f
	}
	if f.Measured >= 0 {
		f.Message = fmt.Sprintf("the tips of the %s props pass %s apart, %s needed", f.Near, mm(f.Measured), mm(f.Needed))
	} else {
		f.Message = fmt.Sprintf("the discs of the %s props overlap by %s, %s between their tips needed", f.Near, mm(-f.Measured), mm(f.Needed))
	}
	f.Fix = tipFix(p, a, b, &f)
	return f
}

// tipFix names the largest prop that holds at worst case here and the wheelbase that
// the present one needs.
func tipFix(p *Pass, a, b *layout.Rotor, f *layout.Finding) string {
	if f.Verdict == layout.OK {
		return ""
	}
	lack := -f.Worst // what both remedies must win
	spacing := b.At.Sub(a.At).Norm()
	wider := up(lack, 0.1)
	room := fmt.Sprintf("set the two rotors %s further apart", mm(wider))
	if w := p.Asm.Wheelbase; w != nil {
		room = fmt.Sprintf("a wheelbase of %s or more", mm(up(w.Value*(spacing+lack)/spacing, 1)))
	}
	_, own := p.Asm.Needs[p.Rule.Name]
	present := math.Max(a.Radius.Nominal(), b.Radius.Nominal()) * 2
	for _, s := range propSizes() {
		// A smaller prop needs a smaller gap as well. Its own tolerance is taken to be
		// that of the present ones.
		need := f.Needed
		if !own {
			need = tipNeed(s.mm)
		}
		if s.mm < present && lack-(present-s.mm)-(f.Needed-need) <= 1e-6 {
			return fmt.Sprintf("take props of %s (%s) or less, or %s", mm(s.mm), s.label, room)
		}
	}
	return room
}

// propSize is a size in which props are sold.
type propSize struct {
	label string
	mm    float64
}

// propSizes lists the sizes in which props are sold, largest first.
func propSizes() []propSize {
	return []propSize{
		{"10 inch", 254}, {"9 inch", 228.6}, {"8 inch", 203.2}, {"7 inch", 177.8}, {"6 inch", 152.4},
		{"5.1 inch", 129.5}, {"5 inch", 127}, {"4 inch", 101.6}, {"3.5 inch", 88.9}, {"3 inch", 76.2},
		{"2.5 inch", 63.5}, {"2 inch", 50.8}, {"45 mm class", 45}, {"40 mm class", 40}, {"35 mm class", 35}, {"31 mm class", 31},
	}
}

// propUpTo says which props are no larger than d mm, by the sizes that are sold.
func propUpTo(d float64) string {
	for _, s := range propSizes() {
		if s.mm <= d+1e-6 {
			return fmt.Sprintf("a prop of %s (%s) or less", mm(s.mm), s.label)
		}
	}
	return "a much smaller prop"
}

// stepFinding judges two discs that lie over each other.
func stepFinding(p *Pass, low, high *layout.Rotor, step layout.Form) layout.Finding {
	at := low.At.Add(high.At).Mul(0.5)
	f := layout.Finding{
		Subjects: []string{propID(high), propID(low)},
		HasPlace: true,
		A:        lift(at, high.SweptLo.Nominal()),
		B:        lift(at, low.SweptHi.Nominal()),
		Near:     spoken(low.Name) + " and " + spoken(high.Name),
		Pos:      tipPos(p, low, high),
	}.Judge(step, layout.Fixed(discStep))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("the height between the %s props, one over the other, needs a dimension that is missing", f.Near)
		f.Fix = "measure what is missing and say it in the part"
	case f.Measured >= 0:
		f.Message = fmt.Sprintf("the %s props lie over each other with %s of height between their blades at full flex, %s needed", f.Near, mm(f.Measured), mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("the %s props lie over each other and their blades at full flex overlap by %s in height, %s between them needed", f.Near, mm(-f.Measured), mm(f.Needed))
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = fmt.Sprintf("raise the %s rotor over the %s one by %s, or set them apart sideways", spoken(high.Name), spoken(low.Name), mm(up(-f.Worst, 0.5)))
	}
	return f
}

// tipPos is the line to change: the wheelbase, or the later of two rotors that were
// placed by hand.
func tipPos(p *Pass, a, b *layout.Rotor) read.Pos {
	if w := p.Asm.Wheelbase; w != nil && !w.Pos.IsZero() {
		return w.Pos
	}
	if b.Pos.Line > a.Pos.Line {
		return b.Pos
	}
	return a.Pos
}

// areNeighbours reports whether no third rotor in reach of both stands between two:
// none lies in or on the circle that has their distance as its diameter. On a square
// cross that leaves the four sides, on a ring of six the six sides.
func areNeighbours(all []*layout.Rotor, a, b *layout.Rotor) bool {
	mid := a.At.Add(b.At).Mul(0.5)
	r := b.At.Sub(a.At).Norm() / 2
	for _, c := range all {
		if c == a || c == b || !sameLevel(c, a) || !sameLevel(c, b) {
			continue
		}
		if d := c.At.Sub(mid).Norm(); d <= r+1e-6 && c.At.Sub(a.At).Norm() > 1e-6 && c.At.Sub(b.At).Norm() > 1e-6 {
			return false
		}
	}
	return true
}

// sameLevel reports whether the swept bands of two rotors share a height.
func sameLevel(a, b *layout.Rotor) bool {
	return sweptBand(a).Intersects(sweptBand(b))
}
