package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"dryfit/layout"
	"dryfit/shapes"
)

// held is what an outcome says that holds.
type held struct {
	n     int             // verdicts that hold
	least *layout.Finding // the one with the least room at worst case; nil if none has figures
	part  bool            // something else of the same rule does not hold
}

func holding(o *layout.Outcome) held {
	var h held
	for i := range o.Findings {
		f := &o.Findings[i]
		switch {
		case f.Excuse != nil:
		case f.Verdict != layout.OK:
			h.part = true
		default:
			h.n++
			if f.HasMeasure && (h.least == nil || f.Worst < h.least.Worst) {
				h.least = f
			}
		}
	}
	return h
}

// inPart labels the rules that hold at some places and not at others.
const inPart = "in part"

// writeHolding tells the rules that hold, those of a group in one run, each with its least
// room at worst case, and after them those that hold only in part.
func writeHolding(b *strings.Builder, outs []layout.Outcome) {
	var labels []string // in the rules' order
	items := map[string][]string{}
	for i := range outs {
		h := holding(&outs[i])
		if h.n == 0 {
			continue
		}
		label := outs[i].Group
		switch {
		case h.part:
			label = inPart
		case label == "":
			label = "other"
		}
		if items[label] == nil && label != inPart {
			labels = append(labels, label)
		}
		item := outs[i].Rule
		if h.least != nil {
			item += " " + room(h.least.Worst, h.least.Unit)
		}
		items[label] = append(items[label], item)
	}
	if items[inPart] != nil {
		labels = append(labels, inPart)
	}
	if len(labels) == 0 {
		return
	}
	wide := 0
	for _, l := range labels {
		wide = max(wide, utf8.RuneCountInString(l))
	}
	b.WriteString("\nholds, with the least room at worst case (mm where no unit stands; --all says where)\n")
	for _, l := range labels {
		first := "  " + l + strings.Repeat(" ", wide-utf8.RuneCountInString(l)+2)
		b.WriteString(run(first, items[l]) + "\n")
	}
}

// run sets items into lines of at most [Width] characters with commas between; no item is
// broken.
func run(first string, items []string) string {
	const bound = "\u00a0" // inside an item
	whole := make([]string, len(items))
	for i, s := range items {
		whole[i] = strings.ReplaceAll(s, " ", bound)
	}
	rest := strings.Repeat(" ", utf8.RuneCountInString(first))
	return strings.ReplaceAll(Wrap(first, rest, strings.Join(whole, ", "), Width), bound, " ")
}

// room prints what is left at worst case: two decimals under ten, whole ones rounded down
// from there on; millimetres without their unit.
func room(v float64, u shapes.Unit) string {
	s := trim(v)
	if v >= 10 {
		s = strconv.FormatFloat(math.Floor(v), 'f', 0, 64)
	}
	if u == shapes.MM || u == "" {
		return s
	}
	return s + " " + string(u)
}

// writeHoldingAll tells what holds in full: one line a rule with how many verdicts and the
// one with the least room at worst case, then every verdict with its figures.
func writeHoldingAll(b *strings.Builder, outs []layout.Outcome) {
	head := false
	for i := range outs {
		o := &outs[i]
		h := holding(o)
		if h.n == 0 {
			continue
		}
		if !head {
			fmt.Fprintf(b, "\n%-24s %4s  %12s  %8s  %s\n", "holds", "ok", "least margin", "at worst", "at")
			head = true
		}
		if h.least == nil {
			fmt.Fprintf(b, "  %-22s %4d\n", o.Rule, h.n)
			continue
		}
		line := fmt.Sprintf("  %-22s %4d  %9s %-2s  %8s  ", o.Rule, h.n, sign(fixed(h.least.Margin))+fixed(h.least.Margin), h.least.Unit, sign(fixed(h.least.Worst))+fixed(h.least.Worst))
		b.WriteString(Wrap(line, strings.Repeat(" ", utf8.RuneCountInString(line)), subjects(h.least), Width) + "\n")
	}
	if !head {
		return
	}
	b.WriteString("\nholds, one by one\n")
	for _, o := range outs {
		for i := range o.Findings {
			f := &o.Findings[i]
			if f.Verdict != layout.OK || f.Excuse != nil {
				continue
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
		b.WriteString(Wrap("", "  ", "nothing to judge for "+strings.Join(names, ", ")+" (--all says why)", Width) + "\n")
	}
}
