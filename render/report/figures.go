package report

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/layout"
	"dryfit/shapes"
)

// Numbers says a finding's figures in one line: its margin as drawn and at worst case, the
// chance that it does not hold if that is neither sure nor out of the question, and from
// what the margin comes.
func Numbers(f *layout.Finding) string {
	word := "needs"
	if f.AtMost {
		word = "at most"
	}
	s := fmt.Sprintf("margin %s, worst %s", signed(f.Margin, f.Unit), signed(f.Worst, f.Unit))
	if f.Verdict == layout.Tight || f.Verdict == layout.Fail && f.Chance >= 0.5 && f.Chance < 0.9995 {
		s += ", chance of not holding " + chance(f.Chance)
	}
	return s + fmt.Sprintf(" (has %s, %s %s)", Num(f.Measured, f.Unit), word, Num(f.Needed, f.Unit))
}

// Num prints a figure with at most two decimals, without trailing zeros, and its unit.
func Num(v float64, u shapes.Unit) string {
	s := trim(v)
	if u == "" {
		return s
	}
	return s + " " + string(u)
}

// trim prints v with at most two decimals, no trailing zeros and no minus before zero.
func trim(v float64) string {
	s := strings.TrimRight(fixed(v), "0")
	return strings.TrimSuffix(s, ".")
}

// fixed prints v with two decimals, for columns.
func fixed(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	if s == "-0.00" {
		s = "0.00"
	}
	return s
}

// signed is Num with its sign, plus too.
func signed(v float64, u shapes.Unit) string { return sign(trim(v)) + Num(v, u) }

func sign(s string) string {
	if strings.HasPrefix(s, "-") {
		return ""
	}
	return "+"
}

// chance prints a probability; sums of estimates deserve no more than one decimal.
func chance(p float64) string {
	switch {
	case p < 0.001:
		return "under 0.1 %"
	case p > 0.999:
		return "over 99.9 %"
	case p >= 0.1:
		return strconv.FormatFloat(p*100, 'f', 0, 64) + " %"
	}
	return strconv.FormatFloat(p*100, 'f', 1, 64) + " %"
}

// restsOn names the figures under a verdict that nobody measured. It is told where a
// measured one could turn the verdict.
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
