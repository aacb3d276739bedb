package report

import (
	"fmt"
	"strings"

	"dryfit/layout"
)

// Numbered is what a report and the drawings tell under one number: a finding, with those
// of the same rule, verdict, figures and mending at other places (a cross has most of its
// findings four times).
type Numbered struct {
	No   int // from 1
	Rule string
	All  []*layout.Finding // at least one; they point into the outcomes
}

// Number gives numbers to all findings that do not hold: fail first, then tight, then
// unknown, each in the order of the outcomes. Excused ones have none: they are told with
// their reasons. Reports and drawings of one build both take their numbers from here.
func Number(outs []layout.Outcome) []Numbered {
	var list []Numbered
	at := map[string]int{}
	for _, v := range [...]layout.Verdict{layout.Fail, layout.Tight, layout.Unknown} {
		for i := range outs {
			o := &outs[i]
			for j := range o.Findings {
				f := &o.Findings[j]
				if f.Verdict != v || f.Excuse != nil {
					continue
				}
				key := o.Rule + "|" + alike(f)
				k, ok := at[key]
				if !ok {
					k = len(list)
					at[key] = k
					list = append(list, Numbered{No: k + 1, Rule: o.Rule})
				}
				list[k].All = append(list[k].All, f)
			}
		}
	}
	return list
}

// alike is equal for findings of one rule that say the same of different places: one
// verdict, the same figures as printed, the same mending and the same kind of first
// subject. Findings without figures are alike if their words are.
func alike(f *layout.Finding) string {
	if !f.HasMeasure {
		return fmt.Sprintf("%d|%s|%s", f.Verdict, f.Message, f.Fix)
	}
	kind := ""
	if len(f.Subjects) > 0 {
		kind, _, _ = strings.Cut(f.Subjects[0], ".")
	}
	return fmt.Sprintf("%d|%s|%s|%s|%v|%s|%s|%s", f.Verdict, trim(f.Measured), trim(f.Needed), trim(f.Worst), f.AtMost, f.Unit, kind, f.Fix)
}
