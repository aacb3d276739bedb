package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/layout"
	"dryfit/shapes"
)

const (
	packSide    = 8.0 // mm between a pack, slid as far as it goes, and a disc
	looseFactor = 2   // loose things need this many times the gap of hard ones
)

// propSweep asks what stands in the room that the blades sweep.
var propSweep = &Rule{
	Name:     "prop-sweep",
	Group:    "rotors",
	Question: "does every blade turn clear of the rest of the craft",
	Why: "A blade that nicks a post, a strap, an antenna or the pack breaks, throws the craft, or cuts a cell that then burns. " +
		"Loose leads are drawn into the disc.",
	Need: "Radial gap in plan to hard parts: 3 mm for props up to 3 inch, 5 mm at 5 inch, 8 mm at 7 inch and over, linear in between " +
		"(arms yaw and props creep in a knock). Twice that to what can move: wires, straps, ties, whips. 8 mm to the pack, slid as far " +
		"as it goes. Inside a duct or guard ring half a millimetre per inch of prop, at least 1 mm (rings go oval). Over the side of a " +
		"disc that is turned away from the motor: 5 mm of height beyond full flex, as between overlapping discs, twice that for what " +
		"is loose, 8 mm for the pack. Usual figures of the trade. A need given in the build takes the place of every sideways figure, " +
		"doubled for what is loose.",
	How: "Distance in mm in plan from the tip circle (half the real diameter) to every body that reaches the height band of the blades, " +
		"at rest and with full flex up and down; a tilted body is measured in space. What lies under a disc on the motor's side is " +
		"judged by prop-underside. Each rotor tells all that does not hold, and the nearest of what holds.",
	Fix: "move the part away from the disc, lower it out of the band, tie it down, or take a smaller prop",
	Run: runPropSweep,
}

func runPropSweep(p *Pass) {
	if len(p.Asm.Rotors) == 0 {
		p.Nothing("the build has no rotors")
		return
	}
	for _, r := range p.Asm.Rotors {
		found := sweepRotor(p, r)
		if len(found.list) == 0 {
			p.Report(layout.Finding{
				Verdict:  layout.OK,
				Subjects: []string{propID(r)},
				Near:     spoken(r.Name),
				Message:  fmt.Sprintf("nothing on the craft reaches the height of the %s blades", spoken(r.Name)),
				Pos:      r.Pos,
			})
			continue
		}
		found.report(p)
	}
}

// sweepRotor judges all bodies against one disc. Those that are surely far enough away
// in plan only count for the nearest of what holds, so they are judged nearest first
// and no further than it takes to find one.
func sweepRotor(p *Pass, r *layout.Rotor) perPart {
	type far struct {
		body   *layout.Body
		margin float64
	}
	var found perPart
	var clear []far
	blur, _ := carried(r)
	own := reachOfBlur(blur) + reachOfBlur(r.Radius)
	for _, b := range inTheWay(p.Asm, r) {
		gap := planDistance(r, b)
		need := sideways(p, r, b, gap > -r.Radius.Nominal()/2 && isRing(r, b)).Nominal()
		sure := gap - need - own - reachOfBlur(b.Blur)
		if b.Tilted == nil && sure > 0 && !math.IsInf(gap, 1) && len(b.Blur.Missing()) == 0 && len(r.Radius.Missing()) == 0 {
			clear = append(clear, far{b, tidy(gap - need)})
			continue
		}
		if f, ok := sweepBody(p, r, b); ok {
			found.add(partOf(b), f)
		}
	}
	// Margins that differ by rounding alone keep the order of the bodies on every machine.
	slices.SortStableFunc(clear, func(a, b far) int { return cmp.Compare(a.margin, b.margin) })
	for _, c := range clear {
		f, ok := sweepBody(p, r, c.body)
		if ok && found.add(partOf(c.body), f) {
			break
		}
	}
	return found
}

// reachOfBlur is the most by which a blur can widen or move an outline, in mm.
func reachOfBlur(f layout.Form) float64 {
	lo, hi := f.Worst()
	mid := f.Nominal()
	return math.Max(hi-mid, mid-lo)
}

// planDistance is the nominal radial gap from the tips of a rotor to a body.
func planDistance(r *layout.Rotor, b *layout.Body) float64 {
	_, dist, inside := edgeOf(b.Plan, r.At)
	if inside {
		dist = -dist
	}
	return dist - r.Radius.Nominal()
}

// perPart keeps the worst finding of each part.
type perPart struct {
	list  []layout.Finding
	parts []string
}

// add reports whether the part now stands with a finding that holds.
func (k *perPart) add(part string, f layout.Finding) bool {
	for i, name := range k.parts {
		if name == part {
			if worse(&f, &k.list[i]) {
				k.list[i] = f
			}
			return k.list[i].Verdict == layout.OK
		}
	}
	k.parts = append(k.parts, part)
	k.list = append(k.list, f)
	return f.Verdict == layout.OK
}

// report tells all that does not hold and, of what holds, the one with the least
// margin.
func (k *perPart) report(p *Pass) {
	best := -1
	for i := range k.list {
		switch f := &k.list[i]; {
		case f.Verdict != layout.OK:
			p.Report(*f)
		case best < 0 || tidy(f.Margin) < tidy(k.list[best].Margin):
			best = i
		}
	}
	if best >= 0 {
		p.Report(k.list[best])
	}
}

// partOf says which bodies are told as one: those of one component, but each post by
// itself.
func partOf(b *layout.Body) string {
	if b.Kind == layout.PostBody {
		return b.ID
	}
	return b.Of
}

// isLoose reports whether a body can move into a disc. Foam and sleeves give way but
// stay where their part is; the tail of a tie does not.
func isLoose(b *layout.Body) bool {
	if b.Kind == layout.CushionBody {
		return isTie(b)
	}
	return b.Soft
}

// isTie reports whether a body is the band or head of a cable tie.
func isTie(b *layout.Body) bool {
	return b.Kind == layout.CushionBody && b.Part != nil && b.Part.Kind == shapes.TieKind
}

// sideways is the radial gap that a body needs from a disc.
func sideways(p *Pass, r *layout.Rotor, b *layout.Body, around bool) layout.Form {
	d := labelD(r)
	switch {
	case b.Kind == layout.PackBody:
		return p.Need(packSide)
	case isLoose(b):
		return p.Need(sweepNeed(d)).Scale(looseFactor)
	case around:
		return p.Need(guardNeed(d))
	}
	return p.Need(sweepNeed(d))
}

// overDisc is the height that a body needs over the free side of a disc.
func overDisc(b *layout.Body) layout.Form {
	switch {
	case b.Kind == layout.PackBody:
		return layout.Fixed(packSide)
	case isLoose(b):
		return layout.Fixed(looseFactor * discStep)
	}
	return layout.Fixed(discStep)
}

// sweepBody judges one body against one disc and reports whether there is something to
// say.
func sweepBody(p *Pass, r *layout.Rotor, b *layout.Body) (layout.Finding, bool) {
	m := reachOf(r, b)
	if m.radial.Empty {
		// No outline: of a size that nobody gave, or of none at all.
		f := p.sweepFinding(r, b, &m).Judge(b.Blur, layout.Form{})
		return p.sweepWords(f, r, b, &m), f.Verdict == layout.Unknown
	}
	need := sideways(p, r, b, m.around)
	flat := p.sweepFinding(r, b, &m).Judge(m.radial.Form, need)
	if missing := m.lacksHeight(); len(missing) > 0 {
		if flat.Verdict == layout.OK {
			return p.sweepWords(flat, r, b, &m), true
		}
		if m.ofUnderside(r) {
			return flat, false
		}
		flat.Verdict = layout.Unknown
		flat.Missing = append(flat.Missing, missing...)
		return p.sweepWords(flat, r, b, &m), true
	}
	if flat.Verdict == layout.Unknown {
		return p.sweepWords(flat, r, b, &m), m.mayMeet()
	}
	if b.Tilted != nil {
		if m.ofUnderside(r) {
			return flat, false
		}
		return sweepTilted(p, r, b, &m, need)
	}
	switch {
	case m.within() && m.over.Nominal() > touch:
		f := p.sweepFinding(r, b, &m).Judge(m.over, overDisc(b))
		f.A, f.B = overPlace(r, b, &m)
		return p.sweepWords(f, r, b, &m), true
	case m.ofUnderside(r):
		return flat, false
	case m.meets():
		return p.sweepWords(flat, r, b, &m), true
	case !m.mayMeet():
		return flat, false
	case flat.Verdict == layout.OK:
		return p.sweepWords(flat, r, b, &m), true
	}
	// Beside the disc, too near, and clear of its band as drawn: what counts is whether
	// it stays clear.
	height := m.over
	if m.flexed.Nominal() > m.over.Nominal() {
		height = m.flexed
	}
	f := p.sweepFinding(r, b, &m).Judge(height, layout.Form{})
	what, disc := p.callBody(b), "the "+spoken(r.Name)+" disc"
	f.Message = fmt.Sprintf("%s stands %s beside %s, where %s is needed, but its height keeps it %s clear of the blades at full flex",
		what, mm(flat.Measured), disc, mm(flat.Needed), mm(f.Measured))
	if f.Verdict != layout.OK {
		way := "lower"
		if r.Below != (m.over.Nominal() > m.flexed.Nominal()) {
			way = "raise"
		}
		f.Fix = fmt.Sprintf("%s it by %s, or move it %s %s", way, mm(up(-f.Worst, 0.1)), mm(up(-flat.Worst, 0.1)), heading(m.radial.Push))
	}
	if f.Verdict != layout.OK && flat.Verdict == layout.Tight && flat.Chance <= f.Chance {
		return p.sweepWords(flat, r, b, &m), true // sideways is the surer of the two
	}
	return f, true
}

// sweepTilted judges a tilted body by its distance in space from the swept band.
func sweepTilted(p *Pass, r *layout.Rotor, b *layout.Body, m *reach, need layout.Form) (layout.Finding, bool) {
	gap, g := tiltedGap(r, b)
	f := p.sweepFinding(r, b, m).Judge(gap, need)
	f.A, f.B = g.A, g.B
	if !m.mayMeet() && f.Verdict == layout.OK {
		return f, false
	}
	if d := g.Push; math.Hypot(d.X, d.Y) > 1e-9 {
		m.radial.Push = unit(r2.Point{X: d.X, Y: d.Y}, m.radial.Push)
	}
	return p.sweepWords(f, r, b, m), true
}

// overPlace returns the two points, one over the other, at which a body over a disc is
// measured.
func overPlace(r *layout.Rotor, b *layout.Body, m *reach) (onDisc, onBody r3.Vector) {
	at := spotUnder(r, b)
	if r.Below {
		return lift(at, r.SweptLo.Nominal()), lift(at, b.Top.Nominal())
	}
	return lift(at, r.SweptHi.Nominal()), lift(at, b.Bottom.Nominal())
}

// sweepFinding starts a finding on a body and a disc.
func (p *Pass) sweepFinding(r *layout.Rotor, b *layout.Body, m *reach) layout.Finding {
	f := layout.Finding{
		Subjects: []string{b.Of, propID(r)},
		Near:     spoken(r.Name) + " disc",
		Pos:      b.Pos,
	}
	if !m.radial.Empty {
		z := between(heights(b), sweptBand(r))
		f.HasPlace, f.A, f.B = true, lift(m.radial.A, z), lift(m.radial.B, z)
	}
	return f
}

// sweepWords writes message and fix.
func (p *Pass) sweepWords(f layout.Finding, r *layout.Rotor, b *layout.Body, m *reach) layout.Finding {
	what, disc := p.callBody(b), "the "+spoken(r.Name)+" disc"
	if f.Verdict == layout.Unknown {
		f.Message = fmt.Sprintf("whether %s keeps clear of %s hangs on a dimension that is missing", what, disc)
		f.Fix = fmt.Sprintf("measure %s", dimNames(f.Missing))
		return f
	}
	vertical := math.Abs(f.A.Z-f.B.Z) > 1e-9 && math.Hypot(f.A.X-f.B.X, f.A.Y-f.B.Y) < 1e-9
	switch {
	case vertical && f.Measured >= 0:
		f.Message = fmt.Sprintf("%s lies over %s with %s of height to the blades at full flex, %s needed", what, disc, mm(f.Measured), mm(f.Needed))
	case m.within() && f.Measured < 0:
		f.Message = fmt.Sprintf("%s stands %s inside %s, %s outside it needed", what, mm(-f.Measured), disc, mm(f.Needed))
	case m.around:
		f.Message = fmt.Sprintf("the blade tips pass %s inside the ring of %s at %s, %s needed", mm(f.Measured), what, disc, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("the blade tips of %s pass %s from %s, %s needed", disc, mm(f.Measured), what, mm(f.Needed))
	}
	f.Message = strings.Replace(f.Message, ",,", ",", 1) // what is slid ends in a comma of its own
	if isLoose(b) {
		f.Message += ", as it can move"
	}
	if f.Verdict == layout.OK {
		return f
	}
	lack := -f.Worst
	smaller := "take " + propUpTo(2*(r.Radius.Nominal()-lack))
	switch {
	case vertical:
		f.Fix = fmt.Sprintf("raise %s by %s, or move it out from over the disc", what, mm(up(lack, 0.1)))
		if r.Below {
			f.Fix = fmt.Sprintf("lower %s by %s, or move it out from under the disc", what, mm(up(lack, 0.1)))
		}
	case m.around:
		f.Fix = fmt.Sprintf("open the ring by %s in diameter, or %s", mm(up(2*lack, 0.1)), smaller)
	case b.Kind == layout.PackBody:
		f.Fix = fmt.Sprintf("move it %s %s", mm(up(lack, 0.1)), heading(m.radial.Push))
		if k := p.packOf(b.Of); k != nil && k.Slide >= lack {
			f.Fix = fmt.Sprintf("let it slide %s at most (two straps, a rough pad, stop posts), or %s", mm(down(k.Slide-lack, 0.1)), f.Fix)
		}
	case b.Kind == layout.PlateBody:
		f.Fix = fmt.Sprintf("cut the outline back by %s there, or %s", mm(up(lack, 0.1)), smaller)
	default:
		way := heading(m.radial.Push)
		if m.radial.Push.Dot(r.ArmDir) < -0.99 {
			way = "inwards along the arm" // the same words for all arms
		}
		f.Fix = fmt.Sprintf("move it %s %s, or %s", mm(up(lack, 0.1)), way, smaller)
	}
	return f
}

// packOf returns the pack of that component ID, nil if there is none.
func (p *Pass) packOf(id string) *layout.Pack {
	for _, k := range p.Asm.Packs {
		if k.Component != nil && k.ID == id {
			return k
		}
	}
	return nil
}

// callBody is what a sentence calls a body: its component, with the word for what it is
// there.
func (p *Pass) callBody(b *layout.Body) string {
	if b.Kind == layout.PostBody {
		return p.call(b.ID)
	}
	name := p.call(b.Of)
	switch b.Kind {
	case layout.StrapBody:
		if b.Of == "" || b.Part != nil && b.Part.Kind == shapes.StrapKind {
			return "the strap of " + name
		}
	case layout.LeadBody:
		return "the lead of " + name
	case layout.CushionBody:
		if isTie(b) {
			return "the tie of " + name
		}
		if b.Part == nil || b.Part.Kind == shapes.PadKind {
			return "the pad under " + name
		}
	case layout.HubBody:
		if c := p.component(b.Of); c != nil && c.Kind == "screws" {
			return name
		}
		return "the hub of " + name
	}
	if b.Kind == layout.PackBody && b.Swept {
		return name + ", slid as far as it goes,"
	}
	return name
}

// dimNames lists dimensions by name for a sentence.
func dimNames(list []*shapes.Dim) string {
	var words []string
	for _, d := range list {
		if !hasWord(words, d.Name) {
			words = append(words, d.Name)
		}
	}
	return speak(words)
}

func hasWord(list []string, w string) bool {
	for _, e := range list {
		if e == w {
			return true
		}
	}
	return false
}
