package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"dryfit/layout"
	"dryfit/layout/rules"
	"dryfit/render/report"
)

func newRules(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "rules [RULE]",
		Short: "List what is checked, or explain one rule",
		Long: `Lists the rules with the question that each one asks of a build, or explains one: why it
matters, what it needs and by what authority, how it measures, and what mends it.`,
		Example: `  dryfit rules
  dryfit rules prop-tip-gap`,
		ValidArgsFunction: firstWord(ruleWords),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return unusable("dryfit: rules takes one rule name, not %d", len(args))
			}
			if len(args) == 0 {
				group := ""
				for _, r := range rules.All {
					if r.Group != group {
						if group != "" {
							fmt.Fprintln(e.out)
						}
						group = r.Group
						fmt.Fprintln(e.out, group)
					}
					fmt.Fprintf(e.out, "  %-22s %s\n", r.Name, r.Question)
				}
				return nil
			}
			for _, r := range rules.All {
				if r.Name == args[0] {
					fmt.Fprintf(e.out, "%s (%s)\n%s?\n", r.Name, r.Group, strings.ToUpper(r.Question[:1])+r.Question[1:])
					for _, p := range [][2]string{{"why", r.Why}, {"needs", r.Need}, {"measured", r.How}, {"mended by", r.Fix}} {
						fmt.Fprintf(e.out, "\n%s\n%s\n", p[0], wrap(p[1], 2, 92))
					}
					if slices.Contains(layout.NeedNames(), r.Name) {
						fmt.Fprintf(e.out, "\nA build may ask for another need:\n  needs: {%s: ...}\n", r.Name)
					}
					return nil
				}
			}
			return unusable("dryfit: %q is not a rule%s\nsee them all: dryfit rules", args[0], guess(args[0], ruleNames()))
		},
	}
}

func ruleNames() []string {
	var out []string
	for _, r := range rules.All {
		out = append(out, r.Name)
	}
	return out
}

// wrap breaks text into lines of at most width characters, indented.
func wrap(text string, indent, width int) string {
	pad := strings.Repeat(" ", indent)
	return report.Wrap(pad, pad, text, width)
}

// wrapUnder breaks text into lines of at most width characters that hang under its label.
func wrapUnder(label, text string, width int) string {
	return report.Wrap(label, strings.Repeat(" ", utf8.RuneCountInString(label)), text, width)
}
