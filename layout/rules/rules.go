// Package rules judges assemblies: one file a rule, one value a rule, one list of
// them all.
package rules

import (
	"cmp"
	"fmt"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"
	"sync/atomic"

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
	open     map[*layout.Plate][]opening
	group    map[string]map[string]bool // see against
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
// one rule is reported as Crashed and does not hide the others. Rules only read the
// assembly, so as many are asked at once as there are processors.
func Run(asm *layout.Assembly, list []*Rule) []layout.Outcome {
	out := make([]layout.Outcome, len(list))
	var next atomic.Int64
	work := func() {
		for {
			i := int(next.Add(1)) - 1
			if i >= len(list) {
				return
			}
			out[i] = runOne(asm, list[i])
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(list)) - 1 {
		others.Go(work)
	}
	work()
	others.Wait()
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
	slices.SortStableFunc(p.findings, inOrder)
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

// inOrder is the total order of one rule's findings: worst verdict first, then the least
// margin, then names and words.
func inOrder(a, b layout.Finding) int {
	if c := cmp.Compare(rank(a.Verdict), rank(b.Verdict)); c != 0 {
		return c
	}
	if a.HasMeasure && b.HasMeasure {
		if c := cmp.Compare(tidy(a.Margin), tidy(b.Margin)); c != 0 {
			return c
		}
	}
	for i := 0; i < len(a.Subjects) && i < len(b.Subjects); i++ {
		if c := cmp.Compare(a.Subjects[i], b.Subjects[i]); c != 0 {
			return c
		}
	}
	return cmp.Compare(a.Message, b.Message)
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
