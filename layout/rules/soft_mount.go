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
	Question: "are grommets squeezed enough to hold and little enough to stay soft",
	Why:      "Flattened grommets pass on vibration as a hard mount does; loose ones let the board knock.",
	Need:     "Tightened to between 90 and 70 % of the free height: 10 to 20 % of squeeze is good, over 30 % acts as a hard mount.",
	How:      "Free height of the grommet against its tightened height, in mm, at worst case. The room that the board needs for its travel is asked for by body-gap and board-gap. Boards with equal grommets are told each.",
	Fix:      "A sleeve or shoulder that limits the squeeze, or an insert nut run to contact; measure the grommets.",
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
	if told == 0 {
		p.Nothing("no board sits in grommets")
	}
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
