// Package report writes findings as text for people and as JSON for programs. It
// measures nothing: every number comes from the findings.
package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"dryfit/layout"
	"dryfit/layout/rules"
	"dryfit/shapes"
)

// Counts is how many findings ended with each verdict, and how many rules had nothing
// to judge or broke.
type Counts struct {
	Rules, OK, Tight, Fail, Unknown, Nothing, Crashed, Excused int
}

// Count adds up outcomes. An excused finding counts as excused and not by its verdict.
func Count(outs []layout.Outcome) Counts {
	c := Counts{Rules: len(outs)}
	for _, o := range outs {
		switch o.Status {
		case layout.Nothing:
			c.Nothing++
		case layout.Crashed, layout.NotRun:
			c.Crashed++
		}
		for _, f := range o.Findings {
			if f.Excuse != nil {
				c.Excused++
				continue
			}
			switch f.Verdict {
			case layout.OK:
				c.OK++
			case layout.Tight:
				c.Tight++
			case layout.Fail:
				c.Fail++
			case layout.Unknown:
				c.Unknown++
			}
		}
	}
	return c
}

// Options says how much to write.
type Options struct {
	All bool // every finding in full, not only those that need attention
}

// Text writes the report that a person reads at the bench: what fails, then what is
// tight, then what is unknown, each with where and what to do, then one line a rule
// for what holds.
func Text(w io.Writer, asm *layout.Assembly, outs []layout.Outcome, opt Options) error {
	b := &strings.Builder{}
	c := Count(outs)
	fmt.Fprintf(b, "%s: %s\n", asm.Name, summary(c))
	if asm.About != "" && opt.All {
		fmt.Fprintf(b, "%s\n", asm.About)
	}
	for _, v := range []layout.Verdict{layout.Fail, layout.Tight, layout.Unknown} {
		writeVerdict(b, outs, v)
	}
	writeExcused(b, outs)
	writeHolding(b, outs, opt)
	writeNothing(b, outs, opt)
	writeCrashed(b, outs)
	if opt.All && len(asm.Notes) > 0 {
		b.WriteString("\nplaced with these assumptions\n")
		for _, n := range asm.Notes {
			fmt.Fprintf(b, "  %s\n", n)
		}
	}
	if c.Fail+c.Tight+c.Unknown > 0 {
		b.WriteString("\nworst = with every tolerance against you; chance = root-sum-square, tolerances as three standard deviations\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func summary(c Counts) string {
	var parts []string
	add := func(n int, word string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, word))
		}
	}
	add(c.Fail, "fail")
	add(c.Tight, "tight")
	add(c.Unknown, "unknown")
	add(c.OK, "ok")
	add(c.Excused, "excused")
	if len(parts) == 0 {
		parts = append(parts, "nothing judged")
	}
	head := "everything fits"
	switch {
	case c.Crashed > 0:
		head = "not fully checked"
	case c.Fail > 0:
		head = "does not fit"
	case c.Unknown > 0:
		head = "cannot be told yet"
	case c.Tight > 0:
		head = "fits as drawn, but tight"
	}
	return fmt.Sprintf("%s (%s; %d rules)", head, strings.Join(parts, ", "), c.Rules)
}

// writeVerdict tells the findings of one verdict. Findings of one rule with the same
// figures and the same mending (the four arms of a cross) are told once, with the
// places of the others.
func writeVerdict(b *strings.Builder, outs []layout.Outcome, v layout.Verdict) {
	for _, o := range outs {
		told := make([]bool, len(o.Findings))
		for i := range o.Findings {
			f := &o.Findings[i]
			if f.Verdict != v || f.Excuse != nil || told[i] {
				continue
			}
			var also []string
			for j := i + 1; j < len(o.Findings); j++ {
				if g := &o.Findings[j]; !told[j] && alike(f, g) {
					told[j] = true
					also = append(also, place(g))
				}
			}
			writeFinding(b, f, also)
		}
	}
}

// alike reports whether two findings say the same of different things.
func alike(f, g *layout.Finding) bool {
	return f.Verdict == g.Verdict && g.Excuse == nil && f.Fix == g.Fix && f.HasMeasure == g.HasMeasure &&
		f.HasMeasure && trim(f.Measured) == trim(g.Measured) && trim(f.Needed) == trim(g.Needed) && trim(f.Worst) == trim(g.Worst)
}

// place names where a finding is in a few words.
func place(f *layout.Finding) string {
	if f.Near != "" {
		return f.Near
	}
	return subjects(f)
}

func writeFinding(b *strings.Builder, f *layout.Finding, also []string) {
	fmt.Fprintf(b, "\n%-7s %s: %s\n", strings.ToUpper(f.Verdict.String()), f.Rule, f.Message)
	if f.HasMeasure && f.Verdict != layout.Unknown {
		fmt.Fprintf(b, "        %s\n", Numbers(f))
	}
	if len(f.Eaters) > 0 && f.Verdict == layout.Tight {
		var e []string
		for _, s := range f.Eaters {
			e = append(e, fmt.Sprintf("%s %s", s.Dim.Name, Num(s.MM, f.Unit)))
		}
		fmt.Fprintf(b, "        eaten by: %s\n", strings.Join(e, ", "))
	}
	if len(f.Missing) > 0 {
		var m []string
		for _, d := range f.Missing {
			m = append(m, d.Name)
		}
		fmt.Fprintf(b, "        measure: %s\n", strings.Join(m, ", "))
	}
	if r := restsOn(f); r != "" && f.Verdict != layout.Unknown {
		fmt.Fprintf(b, "        rests on: %s\n", r)
	}
	where := f.Near
	if !f.Pos.IsZero() {
		if where != "" {
			where += "; "
		}
		where += f.Pos.String()
	}
	if where != "" {
		fmt.Fprintf(b, "        where: %s\n", where)
	}
	if len(also) > 0 {
		fmt.Fprintf(b, "        the same: %s\n", strings.Join(also, "; "))
	}
	if f.Fix != "" {
		fmt.Fprintf(b, "        do: %s\n", f.Fix)
	}
}

// Numbers says a finding's figures in one line: measured, needed, margin, worst case
// and the chance that it does not hold.
func Numbers(f *layout.Finding) string {
	word := "needs"
	if f.AtMost {
		word = "at most"
	}
	s := fmt.Sprintf("%s, %s %s: margin %s, worst %s",
		Num(f.Measured, f.Unit), word, Num(f.Needed, f.Unit), signed(f.Margin), signed(f.Worst))
	if f.Verdict == layout.Tight || f.Verdict == layout.Fail && f.Chance < 0.9995 {
		s += ", chance of not holding " + chance(f.Chance)
	}
	return s
}

func restsOn(f *layout.Finding) string {
	var class, assumed []string
	for _, d := range f.RestsOn {
		switch {
		case d.Source == shapes.Catalogue:
			class = append(class, d.Name)
		case d.Source == shapes.Assumed || d.TolSource == shapes.Assumed:
			assumed = append(assumed, d.Name)
		}
	}
	var parts []string
	if len(class) > 0 {
		parts = append(parts, "class figures for "+list(class, 3))
	}
	if len(assumed) > 0 {
		parts = append(parts, "assumed figures for "+list(assumed, 3))
	}
	return strings.Join(parts, "; ")
}

func list(names []string, most int) string {
	if len(names) > most {
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
	}
	return strings.Join(names, ", ")
}

func writeExcused(b *strings.Builder, outs []layout.Outcome) {
	head := false
	for _, o := range outs {
		for i := range o.Findings {
			f := &o.Findings[i]
			if f.Excuse == nil {
				continue
			}
			if !head {
				b.WriteString("\nexcused in the build\n")
				head = true
			}
			fmt.Fprintf(b, "  %s (%s): %s\n    because: %s\n", f.Rule, f.Verdict, f.Message, f.Excuse.Why)
		}
	}
}

func writeHolding(b *strings.Builder, outs []layout.Outcome, opt Options) {
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
			b.WriteString("\nholds\n")
			head = true
		}
		if opt.All {
			for i := range o.Findings {
				if f := &o.Findings[i]; f.Verdict == layout.OK && f.Excuse == nil {
					fmt.Fprintf(b, "  %-22s %s\n", o.Rule, f.Message)
					if f.HasMeasure {
						fmt.Fprintf(b, "  %-22s   %s\n", "", Numbers(f))
					}
				}
			}
			continue
		}
		line := fmt.Sprintf("  %-22s %3d ok", o.Rule, n)
		if least != nil {
			line += fmt.Sprintf(", least margin %s %s (worst %s): %s", signed(least.Margin), least.Unit, signed(least.Worst), subjects(least))
		}
		b.WriteString(line + "\n")
	}
}

func subjects(f *layout.Finding) string {
	var short []string
	for _, s := range f.Subjects {
		s = strings.TrimPrefix(s, "stacks.")
		for _, p := range []string{"plates.", "mounts.", "rotors.", "cameras.", "antennas.", "posts."} {
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
			fmt.Fprintf(b, "  %-22s %s\n", o.Rule, o.Reason)
		}
	}
	if len(names) > 0 && !opt.All {
		fmt.Fprintf(b, "\nnothing to judge for %s (--all says why)\n", strings.Join(names, ", "))
	}
}

func writeCrashed(b *strings.Builder, outs []layout.Outcome) {
	for _, o := range outs {
		if o.Status == layout.Crashed || o.Status == layout.NotRun {
			first, _, _ := strings.Cut(o.Reason, "\n")
			fmt.Fprintf(b, "\nOUR FAULT %s could not be judged: %s\n        the other rules stand; please report this with the build file\n", o.Rule, first)
		}
	}
}

// Num prints a figure with at most two decimals and its unit.
func Num(v float64, u shapes.Unit) string {
	s := trim(v)
	if u == "" {
		return s
	}
	return s + " " + string(u)
}

func trim(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	if s == "-0.00" {
		s = "0.00"
	}
	return s
}

func signed(v float64) string {
	s := trim(v)
	if v >= 0 && s[0] != '-' {
		s = "+" + s
	}
	return s
}

func chance(p float64) string {
	switch {
	case p < 0.001:
		return "under 0.1 %"
	case p > 0.999:
		return "over 99.9 %"
	}
	return strconv.FormatFloat(p*100, 'f', 1, 64) + " %"
}

// Ranks the list of rules once more so that a report can name what a rule asks.
func question(name string) string {
	for _, r := range rules.All {
		if r.Name == name {
			return r.Question
		}
	}
	return ""
}
