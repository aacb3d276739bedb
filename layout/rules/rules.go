// Package rules judges assemblies: one file a rule, one value a rule, one list of
// them all.
package rules

import (
	"fmt"
	"runtime/debug"
	"sort"

	"dryfit/layout"
	"dryfit/shapes"
)

// Rule is one question that is asked of every build.
type Rule struct {
	Name     string // kebab-case, never renamed
	Group    string // "rotors", "arms", "stack", "parts", "ports", "mass", ...
	Question string // one line, lower case, no full stop
	Why      string // what goes wrong otherwise
	Need     string // the default need, its reason and its source, in words
	How      string // how it is measured, with units
	Fix      string // what builders do about it
	Run      func(*Pass)
}

// Pass is one run of a rule over an assembly.
type Pass struct {
	Rule *Rule
	Asm  *layout.Assembly

	findings []layout.Finding
	nothing  string
}

// Report adds a finding; the rule's name is filled in and excuses are applied.
func (p *Pass) Report(f layout.Finding) {
	f.Rule = p.Rule.Name
	if len(f.Subjects) >= 2 && (f.Verdict == layout.Fail || f.Verdict == layout.Tight) {
		for _, e := range p.Asm.Excuses {
			if e.Covers(f.Subjects[0], f.Subjects[1]) {
				f.Excuse = e
			}
		}
	}
	if f.HasMeasure && f.Unit == "" {
		f.Unit = shapes.MM // nearly every measure is a length
	}
	p.findings = append(p.findings, f)
}

// Nothing says why the rule has nothing to judge in this build.
func (p *Pass) Nothing(format string, args ...any) {
	p.nothing = fmt.Sprintf(format, args...)
}

// Need returns the build's own need for this rule, or the default.
func (p *Pass) Need(defaultMM float64) layout.Form {
	if n, ok := p.Asm.Needs[p.Rule.Name]; ok {
		return layout.Of(n.MM)
	}
	return layout.Fixed(defaultMM)
}

// Run asks every rule of the list and returns the outcomes in its order. A panic in
// one rule is reported as Crashed and does not hide the others.
func Run(asm *layout.Assembly, list []*Rule) []layout.Outcome {
	out := make([]layout.Outcome, 0, len(list))
	for _, r := range list {
		out = append(out, runOne(asm, r))
	}
	return out
}

func runOne(asm *layout.Assembly, r *Rule) (o layout.Outcome) {
	o.Rule, o.Group = r.Name, r.Group
	p := &Pass{Rule: r, Asm: asm}
	defer func() {
		if e := recover(); e != nil {
			o = layout.Outcome{Rule: r.Name, Group: r.Group, Status: layout.Crashed, Reason: fmt.Sprintf("%v\n%s", e, debug.Stack())}
		}
	}()
	r.Run(p)
	sort.SliceStable(p.findings, func(i, j int) bool { return before(&p.findings[i], &p.findings[j]) })
	o.Findings = p.findings
	switch {
	case len(p.findings) > 0:
		o.Status = layout.Judged
	case p.nothing != "":
		o.Status, o.Reason = layout.Nothing, p.nothing
	default:
		o.Status, o.Reason = layout.Crashed, "the rule ended without a finding and without saying why"
	}
	return o
}

// before is the total order of one rule's findings: worst verdict first, then the least
// margin, then names and words.
func before(a, b *layout.Finding) bool {
	if ra, rb := rank(a.Verdict), rank(b.Verdict); ra != rb {
		return ra < rb
	}
	if ma, mb := tidy(a.Margin), tidy(b.Margin); a.HasMeasure && b.HasMeasure && ma != mb {
		return ma < mb
	}
	for i := 0; i < len(a.Subjects) && i < len(b.Subjects); i++ {
		if a.Subjects[i] != b.Subjects[i] {
			return a.Subjects[i] < b.Subjects[i]
		}
	}
	return a.Message < b.Message
}

func rank(v layout.Verdict) int {
	switch v {
	case layout.Fail:
		return 0
	case layout.Tight:
		return 1
	case layout.Unknown:
		return 2
	}
	return 3
}
