// Package report writes findings as text for people and as JSON for programs. It
// measures nothing: every number comes from the findings.
package report

import (
	"fmt"
	"io"
	"strings"

	"dryfit/layout"
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

// hang is where the lines under a finding's first one start.
const hang = "           "

// Text writes the report that a person reads at the bench: what fails, then what is
// tight, then what is unknown, each with where, what to do and the number of its mark on
// the drawings, then what holds, by group. Lines are at most [Width] characters long, but
// for words that are longer. The report of a build where all holds fits a screen of 24
// lines, with 60 rules too; with All it is as long as it must be.
func Text(w io.Writer, asm *layout.Assembly, outs []layout.Outcome, opt Options) error {
	b := &strings.Builder{}
	c := Count(outs)
	b.WriteString(Wrap("", "  ", asm.Name+": "+summary(c), Width) + "\n")
	if asm.About != "" && opt.All {
		b.WriteString(Wrap("", "", asm.About, Width) + "\n")
	}
	writeCrashed(b, outs)
	writeNumbered(b, Number(outs))
	writeExcused(b, outs)
	if opt.All {
		writeHoldingAll(b, outs)
	} else {
		writeHolding(b, outs)
	}
	writeNothing(b, outs, opt)
	if opt.All {
		writeSupply(b, asm)
	}
	if opt.All && len(asm.Notes) > 0 {
		b.WriteString("\nplaced with these assumptions\n")
		for _, n := range asm.Notes {
			b.WriteString(Wrap("  ", "    ", n, Width) + "\n")
		}
	}
	writeTerms(b, c)
	_, err := io.WriteString(w, b.String())
	return err
}

// writeTerms says what the numbers are and what the words about margins mean.
func writeTerms(b *strings.Builder, c Counts) {
	if c.Fail+c.Tight+c.Unknown == 0 {
		return
	}
	text := "numbers: as on the sheets of `dryfit draw`"
	if c.Fail+c.Tight > 0 {
		text += "; margin: as drawn; worst: with every tolerance against you; chance: tolerances added as root-sum-square, each taken as three standard deviations"
	}
	b.WriteString("\n" + Wrap("", "", text, Width) + "\n")
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
	case c.OK+c.Excused == 0:
		head = "nothing to check"
	}
	return fmt.Sprintf("%s (%s; %d rules)", head, strings.Join(parts, ", "), c.Rules)
}

// writeNumbered tells the findings that do not hold, each with the number that its mark has
// on the drawings. Findings of one number (the four arms of a cross) are told once, with
// the places of the others.
func writeNumbered(b *strings.Builder, list []Numbered) {
	for _, n := range list {
		var also []string
		for _, g := range n.All[1:] {
			also = append(also, place(g))
		}
		writeFinding(b, n, also)
	}
}

// place names where a finding is in a few words.
func place(f *layout.Finding) string {
	if f.Near != "" {
		return f.Near
	}
	return subjects(f)
}

func writeFinding(b *strings.Builder, n Numbered, also []string) {
	f := n.All[0]
	head := fmt.Sprintf("%s %d ", strings.ToUpper(f.Verdict.String()), n.No)
	b.WriteString("\n" + Wrap(fmt.Sprintf("%-*s", len(hang), head), hang, n.Rule+": "+f.Message, Width) + "\n")
	line := func(label, text string) {
		if text != "" {
			b.WriteString(Wrap(hang+label, hang+"  ", text, Width) + "\n")
		}
	}
	if f.HasMeasure && f.Verdict != layout.Unknown {
		line("", Numbers(f))
	}
	turns := f.Verdict == layout.Tight || f.Verdict == layout.Fail && f.Chance < 0.9995
	if turns && f.HasMeasure {
		var eaten []string
		for _, s := range f.Eaters {
			eaten = append(eaten, s.Dim.Name+" "+Num(s.MM, f.Unit))
		}
		line("eaten by: ", strings.Join(eaten, ", "))
		line("rests on: ", restsOn(f))
	}
	var missing []string
	for _, d := range f.Missing {
		missing = append(missing, d.Name)
	}
	if !strings.HasPrefix(f.Fix, "measure ") { // which names them
		line("measure: ", strings.Join(missing, ", "))
	}
	where := f.Near
	if !f.Pos.IsZero() {
		if where != "" {
			where += "; "
		}
		where += f.Pos.String()
	}
	line("where: ", where)
	line("the same: ", strings.Join(also, "; "))
	line("do: ", f.Fix)
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
			b.WriteString(Wrap("  ", "    ", fmt.Sprintf("%s (%s): %s", o.Rule, f.Verdict, f.Message), Width) + "\n")
			b.WriteString(Wrap("    because: ", "      ", f.Excuse.Why, Width) + "\n")
		}
	}
}

func writeCrashed(b *strings.Builder, outs []layout.Outcome) {
	for _, o := range outs {
		if o.Status == layout.Crashed || o.Status == layout.NotRun {
			first, _, _ := strings.Cut(o.Reason, "\n")
			if first == "" {
				first = "it was not run"
			}
			b.WriteString("\n" + Wrap(fmt.Sprintf("%-*s", len(hang), "OURS"), hang, o.Rule+" could not be judged through a fault of ours: "+first, Width) + "\n")
			b.WriteString(hang + "do: the other rules stand; please report this with the build file\n")
		}
	}
}
