package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"dryfit/shapes"
)

func newParts(e *env) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "parts",
		Short: "List, search and show the generic parts of the catalogue",
		Long: `The catalogue holds generic classes by size, no makes: their figures are what a buyer
typically meets, with the range across makers and how well each is known. A measured
figure from the part in your hand always wins: give it under "parts:" with "like:".

Confidence: S open standard or arithmetic, C confirmed by a public page, K trade
knowledge, K- weak: measure before you trust it.`,
		Example: `  dryfit parts                    every class, by kind
  dryfit parts list motor         one kind
  dryfit parts search 30.5        by words in name and title
  dryfit parts show motor-2207    all figures with ranges and sources`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return listParts(e, "") },
	}
	cmd.AddCommand(
		&cobra.Command{
			Use: "list [KIND]", Short: "List the catalogue, or one kind of it",
			Example:           "  dryfit parts list\n  dryfit parts list motor",
			ValidArgsFunction: firstWord(kindWords),
			RunE: func(_ *cobra.Command, args []string) error {
				if len(args) > 1 {
					return unusable("dryfit: parts list takes one kind, not %d", len(args))
				}
				return listParts(e, strings.Join(args, ""))
			},
		},
		&cobra.Command{
			Use: "search WORD...", Short: "Find parts whose name, kind or title holds every word",
			Long: `Finds the parts whose name, kind or title holds every word; capitals do not matter. The exit
code is 1 if there is none.`,
			Example:           "  dryfit parts search 30.5 esc\n  dryfit parts search 5-inch",
			ValidArgsFunction: cobra.NoFileCompletions,
			RunE: func(_ *cobra.Command, args []string) error {
				if len(args) == 0 {
					return unusable("dryfit: parts search needs at least one word, such as: dryfit parts search motor 22")
				}
				return searchParts(e, args)
			},
		},
		&cobra.Command{
			Use: "show PART", Short: "Show one part with every figure, its range and its source",
			Example:           "  dryfit parts show motor-2207",
			ValidArgsFunction: firstWord(partWords),
			RunE: func(_ *cobra.Command, args []string) error {
				if len(args) != 1 {
					return unusable("dryfit: parts show takes one part name, such as: dryfit parts show motor-2207")
				}
				return showPart(e, args[0])
			},
		},
	)
	return cmd
}

func listParts(e *env, kind string) error {
	lib, err := library()
	if err != nil {
		return err
	}
	byKind := map[shapes.Kind][]shapes.Listed{}
	for _, l := range lib.List() {
		byKind[l.Kind] = append(byKind[l.Kind], l)
	}
	list := kinds(lib.List())
	if kind != "" {
		if byKind[shapes.Kind(kind)] == nil {
			return unusable("dryfit: %q is not a kind of part%s\n%s", kind, guess(kind, list), wrapUnder("kinds: ", strings.Join(list, ", "), 100))
		}
		list = []string{kind}
	}
	for i, k := range list {
		if i > 0 {
			fmt.Fprintln(e.out)
		}
		fmt.Fprintln(e.out, k)
		if err := table(e, byKind[shapes.Kind(k)]); err != nil {
			return err
		}
	}
	return nil
}

// kinds lists the kinds of some parts, sorted, each once.
func kinds(list []shapes.Listed) []string {
	var out []string
	for _, l := range list {
		if !slices.Contains(out, string(l.Kind)) {
			out = append(out, string(l.Kind))
		}
	}
	slices.Sort(out)
	return out
}

func searchParts(e *env, words []string) error {
	lib, err := library()
	if err != nil {
		return err
	}
	found := lib.Search(words...)
	if len(found) == 0 {
		fmt.Fprintf(e.err, "no part has all of: %s\n", strings.Join(words, " "))
		return &quit{code: exitFails}
	}
	return table(e, found)
}

func table(e *env, parts []shapes.Listed) error {
	w := tabwriter.NewWriter(e.out, 0, 4, 2, ' ', 0)
	for _, p := range parts {
		fmt.Fprintf(w, "  %s\t%s\n", p.Name, p.Title)
	}
	if err := w.Flush(); err != nil {
		return unusable("dryfit: %v", err)
	}
	return nil
}

func showPart(e *env, name string) error {
	lib, err := library()
	if err != nil {
		return err
	}
	p, ok := lib.Find(name)
	if !ok {
		hint := ""
		if s := lib.Suggest(name); s != "" {
			hint = "; did you mean " + s + "?"
		}
		return unusable("dryfit: the catalogue has no part %q%s\nlook for one: dryfit parts search WORD", name, hint)
	}
	fmt.Fprintf(e.out, "%s: %s (%s)\n", p.Name, p.Title, p.Kind)
	if p.Note != "" {
		fmt.Fprintln(e.out, wrap(p.Note, 2, 92))
	}
	w := tabwriter.NewWriter(e.out, 0, 4, 2, ' ', 0)
	for _, f := range p.Figures() {
		value := f.Text
		if f.Dim != nil {
			value = f.Dim.Describe()
		}
		fmt.Fprintf(w, "  %s\t%s\t%s\n", f.Label, value, f.Dim.Origin())
	}
	if err := w.Flush(); err != nil {
		return unusable("dryfit: %v", err)
	}
	fmt.Fprintf(e.out, "\nuse it as it is by name, or start your own from it:\n  parts: {my-part: {like: %s, ...}}\n", p.Name)
	return nil
}
