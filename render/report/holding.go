package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"dryfit/layout"
)

// writeHolding tells what holds, one line a rule: how many verdicts, and the one with the
// least room at worst case.
func writeHolding(b *strings.Builder, outs []layout.Outcome) {
	head := false
	for _, o := range outs {
		n := 0
		var least *layout.Finding
		for i := range o.Findings {
			f := &o.Findings[i]
			if f.Verdict != layout.OK || f.Excuse != nil {
				continue
			}
			n++
			if f.HasMeasure && (least == nil || f.Worst < least.Worst) {
				least = f
			}
		}
		if n == 0 {
			continue
		}
		if !head {
			fmt.Fprintf(b, "%-24s %4s  %12s  %8s  %s\n", "holds", "ok", "least margin", "at worst", "at")
			head = true
		}
		if least == nil {
			fmt.Fprintf(b, "  %-22s %4d\n", o.Rule, n)
			continue
		}
		line := fmt.Sprintf("  %-22s %4d  %9s %-2s  %8s  ", o.Rule, n, sign(fixed(least.Margin))+fixed(least.Margin), least.Unit, sign(fixed(least.Worst))+fixed(least.Worst))
		b.WriteString(Wrap(line, strings.Repeat(" ", utf8.RuneCountInString(line)), subjects(least), Width) + "\n")
	}
}

// writeHoldingAll tells every verdict that holds, with its figures.
func writeHoldingAll(b *strings.Builder, outs []layout.Outcome) {
	head := false
	for _, o := range outs {
		for i := range o.Findings {
			f := &o.Findings[i]
			if f.Verdict != layout.OK || f.Excuse != nil {
				continue
			}
			if !head {
				b.WriteString("\nholds\n")
				head = true
			}
			const pad = "                         "
			b.WriteString(Wrap(fmt.Sprintf("  %-22s ", o.Rule), pad, f.Message, Width) + "\n")
			if f.HasMeasure {
				b.WriteString(Wrap(pad, pad, Numbers(f), Width) + "\n")
			}
		}
	}
}

// subjects names the first two things that a finding is about, without the sections of
// the file that they stand in.
func subjects(f *layout.Finding) string {
	var short []string
	for _, s := range f.Subjects {
		for _, p := range []string{"stacks.", "plates.", "mounts.", "rotors.", "cameras.", "antennas.", "posts."} {
			s = strings.TrimPrefix(s, p)
		}
		short = append(short, s)
	}
	if len(short) > 2 {
		short = short[:2]
	}
	return strings.Join(short, " / ")
}

func writeNothing(b *strings.Builder, outs []layout.Outcome, opt Options) {
	var names []string
	for _, o := range outs {
		if o.Status != layout.Nothing {
			continue
		}
		names = append(names, o.Rule)
		if opt.All {
			if len(names) == 1 {
				b.WriteString("\nnothing to judge\n")
			}
			b.WriteString(Wrap(fmt.Sprintf("  %-22s ", o.Rule), "                         ", o.Reason, Width) + "\n")
		}
	}
	if len(names) > 0 && !opt.All {
		b.WriteString(Wrap("", "  ", fmt.Sprintf("nothing to judge for %s (--all says why)", strings.Join(names, ", ")), Width) + "\n")
	}
}
