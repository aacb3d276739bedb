package rules

import (
	"fmt"
	"strings"

	"dryfit/layout"
)

// fastenings lists what equal joints of these kinds share, in the order of the build.
func (p *Pass) fastenings(kinds ...layout.JointKind) []*layout.Fastening {
	var out []*layout.Fastening
	for _, f := range p.Asm.Fastenings {
		for _, k := range kinds {
			if f.Kind == k {
				out = append(out, f)
			}
		}
	}
	return out
}

// firstOf returns the first joint of a fastening.
func (p *Pass) firstOf(f *layout.Fastening) *layout.Joint {
	for _, j := range p.Asm.Joints {
		if j.Fastening == f {
			return j
		}
	}
	return nil
}

// nearJoints says where the joints of a fastening are.
func (p *Pass) nearJoints(f *layout.Fastening) string {
	var names []string
	for _, j := range p.Asm.Joints {
		if j.Fastening != f {
			continue
		}
		words := strings.Split(j.Owner.ID, ".")
		name := spoken(strings.Join(words[1:], " "))
		switch words[0] {
		case "rotors":
			name = spoken(words[1])
		case "posts":
			name = p.call(j.Owner.ID)
		case "stacks":
			name = "stack " + spoken(words[1])
		case "cameras":
			name = "the " + spoken(words[1]) + " camera"
		}
		if !hasWord(names, name) {
			names = append(names, name)
		}
	}
	if f.Kind == layout.MotorScrew || f.Kind == layout.PropScrew {
		if len(names) > 1 && len(names) == len(p.Asm.Rotors) {
			return fmt.Sprintf("all %d rotors", len(names))
		}
	}
	return speak(names)
}

// jointFinding starts a finding on the joints of a fastening.
func (p *Pass) jointFinding(f *layout.Fastening) layout.Finding {
	j := p.firstOf(f)
	at := lift(j.At, j.Seat.Nominal())
	out := layout.Finding{Subjects: []string{j.Owner.ID}, Pos: f.Pos, HasPlace: true, A: at, B: at, Near: p.nearJoints(f)}
	if c := f.Into.Component; c != "" {
		out.Subjects = append(out.Subjects, c)
	}
	return out
}

// through says what a screw passes: "through 5 mm of base plate and washer".
func through(f *layout.Fastening) string {
	var names []string
	for _, l := range f.Layers {
		if !hasWord(names, l.Name) {
			names = append(names, l.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("through %s of %s ", mm(f.Grip.Nominal()), spoken(speak(names)))
}

// depthText is how deep a screw reaches, with its extremes.
func depthText(f *layout.Fastening) string {
	lo, hi := f.Depth().Worst()
	return fmt.Sprintf("%s (%s to %s)", mm(f.Depth().Nominal()), num(lo), num(hi))
}

// reaches judges the joints of a fastening on both sides: whether the end reaches deep
// enough and, where there is a limit, not too deep.
func (p *Pass) reaches(f *layout.Fastening) {
	what := f.Label()
	if f.Own {
		what = "the stud of " + num(f.Length.Value)
	}
	s := p.jointFinding(f).Judge(f.Depth(), f.Into.Least)
	s.Message = fmt.Sprintf("%s %sreaches %s into %s, at least %s needed: %s", what, through(f), depthText(f), f.Into.What, mm(s.Needed), f.Into.LeastWhy)
	p.mendLength(f, &s, "reaches into "+f.Into.What)
	p.Report(s)
	if !f.Into.HasMost {
		return
	}
	l := p.jointFinding(f)
	if f.Into.Against != "" {
		l.Subjects = []string{l.Subjects[0], f.Into.Against}
	}
	l.AtMost = true
	l = l.Judge(f.Depth(), f.Into.Most)
	l.Message = fmt.Sprintf("%s %sreaches %s into %s, at most %s allowed: %s", what, through(f), depthText(f), f.Into.What, mm(l.Needed), f.Into.MostWhy)
	if f.Into.Against != "" {
		l.Message = fmt.Sprintf("%s %sstands %s beyond what it clamps, and %s leaves %s: %s", what, through(f), depthText(f), p.call(f.Into.Against), mm(l.Needed), f.Into.MostWhy)
	}
	p.mendLength(f, &l, "reaches into "+f.Into.What)
	p.Report(l)
}

// mendLength says what to do about a length that is wrong or may be.
func (p *Pass) mendLength(f *layout.Fastening, g *layout.Finding, what string) {
	switch {
	case g.Verdict == layout.Unknown:
		g.Message = fmt.Sprintf("how deep %s %s hangs on a dimension that is missing", f.Label(), what)
		g.Fix = unknownFix(g)
	case mustMend(g):
		g.Fix = p.otherLength(f, g)
	}
}

// otherLength names the length that is right, or proves that none that is sold is: by how
// much the two nearest miss at worst case, and what would change that.
func (p *Pass) otherLength(f *layout.Fastening, g *layout.Finding) string {
	measure := ""
	if len(g.RestsOn) > 0 {
		measure = ", or measure " + g.RestsOn[0].Name
	}
	if f.Own {
		return "take another post or spacer, or other layers" + measure
	}
	label := func(t layout.Try) string { return layout.ScrewLabel(f.Size, t.Length, f.Head) }
	var best *layout.Try
	for _, t := range f.Sold() {
		if t.Right() && (best == nil || abs(t.Length-f.Grip.Nominal()-f.Into.Aim) < abs(best.Length-f.Grip.Nominal()-f.Into.Aim)) {
			best = &t
		}
	}
	if best != nil {
		return fmt.Sprintf("take %s: it reaches %s into %s", label(*best), mm(best.Length-f.Grip.Nominal()), f.Into.What)
	}
	short, long := f.Misses()
	out := "no length that is sold is sure to be right"
	switch {
	case short != nil && long != nil:
		out += fmt.Sprintf(": at worst %s is %s too short and %s %s too long", label(*short), mm(-short.Short), label(*long), mm(-long.Long))
	case short != nil:
		out += fmt.Sprintf(": the longest, %s, is %s too short at worst", label(*short), mm(-short.Short))
	case long != nil:
		out += fmt.Sprintf(": the shortest, %s, is %s too long at worst", label(*long), mm(-long.Long))
	}
	if long != nil && long.Short >= -long.Long {
		return out + fmt.Sprintf("; with %s to %s more under its head %s is right%s", num(up(-long.Long, 0.01)), mm(down(long.Short, 0.01)), label(*long), measure)
	}
	if measure == "" {
		measure = ", or change what is clamped"
	}
	return out + measure
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}
