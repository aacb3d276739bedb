package rules

import (
	"fmt"

	"dryfit/layout"
)

// How much a grommet must be squeezed, as shares of its free height: less than a tenth is
// loose, more than 30 % acts as a hard mount. 10 to 20 % are good.
const (
	squeezeLeast = 0.10
	squeezeMost  = 0.30
)

var softMount = &Rule{
	Name:     "soft-mount",
	Group:    "stack",
	Question: "are grommets squeezed to hold and stay soft, and do nuts stay on",
	Why:      "Flattened grommets pass on vibration as a hard mount does; loose ones let the board knock. Rubber does not hold a nut by tension as hard parts do: a plain one is lost in the field, and the board hangs loose.",
	Need:     "Tightened to between 90 and 70 % of the free height: 10 to 20 % of squeeze is good, over 30 % acts as a hard mount. On bolts that squeeze rubber, nuts that grip the thread: with an insert, of nylon, or a second one against the first.",
	How:      "Free height of the grommet against its tightened height, in mm, at worst case. The nut of each bolt that goes through grommets: its kind, its material, and whether another nut lies under it. The room that the board needs for its travel is asked for by body-gap and board-gap. Boards with equal grommets are told each, bolts of one stack once.",
	Fix:      "A sleeve or shoulder that limits the squeeze, or an insert nut run to contact; measure the grommets. No threadlocker on or beside plastics, which it cracks; a mark of paint shows a nut that turns.",
	Run:      runSoftMount,
}

func runSoftMount(p *Pass) {
	told := 0
	for _, s := range p.Asm.Stacks {
		for i := range s.Levels {
			l := &s.Levels[i]
			if !l.Board || l.Grommet == nil || l.Grommet.Grommet == nil {
				continue
			}
			told++
			p.squeeze(s, l)
		}
	}
	for _, f := range p.fastenings(layout.StackBolt, layout.StackNut) {
		if f.Nut != nil && squeezes(f) {
			p.keepsNut(f)
		}
	}
	if told == 0 {
		p.Nothing("no board sits in grommets")
	}
}

// squeezes reports whether a bolt goes through grommets.
func squeezes(f *layout.Fastening) bool {
	for i := range f.Layers {
		if f.Layers[i].Kind == "grommet" {
			return true
		}
	}
	return false
}

// keepsNut judges whether the nut over a soft mount stays on.
func (p *Pass) keepsNut(f *layout.Fastening) {
	g := p.jointFinding(f)
	g.Verdict = layout.OK
	what := fmt.Sprintf("%s that squeezes grommets", f.Label())
	second := p.secondNut(f)
	if c := p.component(f.Nut.Item); c != nil {
		g.Subjects, g.Pos = append(g.Subjects, c.ID), c.Pos
	}
	switch {
	case f.Nut.Kind == "insert":
		g.Message = fmt.Sprintf("the insert of the nut on the %s keeps it from turning", what)
	case f.Nut.Material == "nylon":
		g.Message = fmt.Sprintf("the nut on the %s is of nylon, which grips the thread", what)
	case second:
		g.Message = fmt.Sprintf("two nuts on the %s hold each other", what)
	default:
		g.Verdict = layout.Fail
		g.Message = fmt.Sprintf("the nut on the %s is a plain one of %s: rubber gives, and nothing keeps it from turning", what, f.Nut.Material)
		g.Fix = "take nuts with an insert (`nut insert`) and two turns of thread past it, or lock each with a second nut (`nut steel` once more); no threadlocker, which cracks the plastics beside it"
	}
	p.Report(g)
}

// secondNut reports whether another nut lies under that of a bolt.
func (p *Pass) secondNut(f *layout.Fastening) bool {
	if len(f.Layers) == 0 || f.Nut.Item == "" {
		return false
	}
	id := f.Layers[len(f.Layers)-1].Component
	for _, s := range p.Asm.Stacks {
		for i := range s.Levels {
			if l := &s.Levels[i]; l.Component.ID == id && l.Item != nil && l.Item.Kind == layout.ItemNut {
				return true
			}
		}
	}
	return false
}

func (p *Pass) squeeze(s *layout.Stack, l *layout.Level) {
	g := l.Grommet.Grommet
	free := known(g.Free, l.Grommet.Name+" free height")
	// The clamped length: for stepped grommets their shares with the board between.
	clamped := l.To.Sub(l.From)
	start := func() layout.Finding {
		return layout.Finding{
			Subjects: []string{l.Component.ID}, Pos: l.Component.Pos, HasPlace: true,
			A: lift(s.Screws[0].At, l.From.Nominal()), B: lift(s.Screws[0].At, l.To.Nominal()), Near: "stack " + spoken(s.Name),
		}
	}
	what := fmt.Sprintf("the grommets of %s", p.call(l.Component.ID))
	say := func(f *layout.Finding, limit string) {
		f.Message = fmt.Sprintf("%s are tightened from %s to %s, %s", what, mm(free.Value), mm(clamped.Nominal()), limit)
		if f.Verdict == layout.Unknown {
			f.Message = fmt.Sprintf("how far %s are squeezed hangs on a dimension that is missing", what)
		}
		f.Fix = unknownFix(f)
	}
	f := start()
	f.AtMost = true
	f = f.Judge(clamped, layout.Form{}.Plus(free, 1-squeezeLeast))
	say(&f, fmt.Sprintf("at most %s to hold", mm(f.Needed)))
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("tighten them to %s, or measure them free and tightened", mm((1-0.15)*free.Value))
	}
	p.Report(f)
	f = start().Judge(clamped, layout.Form{}.Plus(free, 1-squeezeMost))
	say(&f, fmt.Sprintf("at least %s to stay soft", mm(f.Needed)))
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("put a sleeve in that holds them at %s, or measure them free and tightened", mm((1-0.15)*free.Value))
	}
	p.Report(f)
}
