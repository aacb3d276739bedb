package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"dryfit/shapes/read"
)

// help prints what a verb does, how it is called and what may be said to it.
func help(cmd *cobra.Command, _ []string) {
	b := &strings.Builder{}
	text := cmd.Long
	if text == "" {
		text = cmd.Short
	}
	fmt.Fprintf(b, "%s\n", strings.TrimSpace(text))
	if cmd.HasParent() {
		fmt.Fprintf(b, "\nusage\n  %s\n", cmd.UseLine())
	}
	if cmd.Example != "" {
		fmt.Fprintf(b, "\nexamples\n%s\n", strings.TrimRight(cmd.Example, "\n"))
	}
	if subs := shown(cmd); len(subs) > 0 {
		fmt.Fprint(b, "\nverbs\n")
		for _, c := range subs {
			fmt.Fprintf(b, "  %-12s %s\n", c.Name(), c.Short)
		}
		fmt.Fprintf(b, "\nMore on one: %s VERB --help\n", cmd.CommandPath())
	}
	var flags []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden && f.Name != "help" {
			flags = append(flags, flagLine(f))
		}
	})
	if len(flags) > 0 {
		fmt.Fprintf(b, "\nflags\n%s\n", strings.Join(flags, "\n"))
	}
	fmt.Fprint(cmd.OutOrStdout(), b.String())
}

// flagLine is "  -o, --out FOLDER     folder to write into (drawings)".
func flagLine(f *pflag.Flag) string {
	name := "    --" + f.Name
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", --" + f.Name
	}
	about := f.Usage
	if f.Value.Type() != "bool" {
		name += " " + strings.Join(f.Annotations[takesKey], "")
		if f.DefValue != "" && f.DefValue != "0" {
			about += " (" + f.DefValue + ")"
		}
	}
	return fmt.Sprintf("  %-22s %s", name, about)
}

const takesKey = "takes"

// takes says in a word what stands after a flag: "-o, --out FOLDER".
func takes(cmd *cobra.Command, flag, word string) {
	if err := cmd.Flags().SetAnnotation(flag, takesKey, []string{word}); err != nil {
		panic(err) // a flag that the verb does not have: a fault of ours
	}
}

func shown(cmd *cobra.Command) []*cobra.Command {
	var out []*cobra.Command
	for _, c := range cmd.Commands() {
		if !c.Hidden && c.Name() != "help" {
			out = append(out, c)
		}
	}
	return out
}

func verbs(cmd *cobra.Command) []string {
	var out []string
	for _, c := range shown(cmd) {
		out = append(out, c.Name())
	}
	return out
}

// notVerb is the mistake of a word that no verb is called.
func notVerb(cmd *cobra.Command, word string) error {
	list := verbs(cmd)
	return unusable("dryfit: %q is not a verb of %s%s\nexpected one of: %s\nsee: %s --help",
		word, cmd.CommandPath(), guess(word, list), strings.Join(list, ", "), cmd.CommandPath())
}

// noArgs refuses words after a verb that takes none.
func noArgs(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case cmd.HasSubCommands():
		return notVerb(cmd, args[0])
	}
	return unusable("dryfit: %s takes no file or word, but %q is given\nsee: %s --help", cmd.Name(), args[0], cmd.CommandPath())
}

// flagMistake says what is wrong with a flag in plain words.
func flagMistake(cmd *cobra.Command, err error) error {
	what := err.Error()
	var none *pflag.NotExistError
	var bad *pflag.InvalidValueError
	var bare *pflag.ValueRequiredError
	switch {
	case errors.As(err, &none):
		name := none.GetSpecifiedName()
		what = fmt.Sprintf("%s has no flag --%s", cmd.Name(), name)
		if len(name) == 1 {
			what = fmt.Sprintf("%s has no flag -%s", cmd.Name(), name)
		}
		var list []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { list = append(list, f.Name) })
		if near := read.Nearest(name, list); near != "" {
			what += "; did you mean --" + near + "?"
		}
	case errors.As(err, &bad):
		f := bad.GetFlag()
		want := f.Value.Type()
		switch want {
		case "int":
			want = "a whole number"
		case "bool":
			want = "true or false, or nothing"
		}
		what = fmt.Sprintf("--%s is %q; %s is wanted there", f.Name, bad.GetValue(), want)
	case errors.As(err, &bare):
		what = fmt.Sprintf("--%s needs a value after it", bare.GetFlag().Name)
	}
	return unusable("dryfit: %s\nsee: %s --help", what, cmd.CommandPath())
}

func newHelp() *cobra.Command {
	return &cobra.Command{
		Use: "help [VERB]", Short: "Explain a verb", Hidden: true,
		RunE: func(cmd *cobra.Command, args []string) error {
			of, rest, err := cmd.Root().Find(args)
			if err != nil || of == nil {
				return notVerb(cmd.Root(), args[0])
			}
			if len(rest) > 0 {
				return notVerb(of, rest[0])
			}
			return of.Help()
		},
	}
}
