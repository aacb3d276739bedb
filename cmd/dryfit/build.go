package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/examples"
	"dryfit/layout"
	"dryfit/layout/rules"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// oneFile lets a verb take no argument or one build file.
func oneFile(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return unusable("dryfit: %s takes one build file, not %d\nsee: %s --help", cmd.Name(), len(args), cmd.CommandPath())
	}
	return nil
}

// library returns the built-in catalogue; it can only break by a fault of ours.
func library() (*shapes.Library, error) {
	lib, err := shapes.Builtin()
	if err != nil {
		return nil, fault("the catalogue does not load: %v", err)
	}
	return lib, nil
}

// assemble loads and places the build that the arguments name: the built-in example
// when they name none. Warnings go to standard error.
func assemble(e *env, args []string) (*layout.Assembly, error) {
	lib, err := library()
	if err != nil {
		return nil, err
	}
	var b *layout.Build
	var diags *read.Diags
	builtin := len(args) == 0
	if builtin {
		data, err := examples.Files.ReadFile(examples.Default)
		if err != nil {
			return nil, fault("the built-in example is missing: %v", err)
		}
		b, diags = layout.LoadBytes(examples.Default, data, nil, lib)
	} else {
		b, diags = layout.Load(args[0], lib)
	}
	if diags.HasErrors() {
		return nil, refuse(diags)
	}
	asm, placed := layout.Resolve(b)
	if placed.HasErrors() {
		placed.Merge(diags)
		return nil, refuse(placed)
	}
	placed.Merge(diags)
	if placed.Len() > 0 {
		fmt.Fprintln(e.err, strings.TrimRight(placed.String(), "\n"))
	}
	if builtin {
		asm.Builtin = true
		fmt.Fprintf(e.err, "no file named, so this is the built-in example (%s); for your own craft: dryfit new > mine.yaml, then name the file\n", examples.Default)
	}
	return asm, nil
}

func refuse(d *read.Diags) error {
	n := d.Count()
	word := "mistakes"
	if n == 1 {
		word = "mistake"
	}
	return unusable("%s\n\n%d %s; nothing was checked", strings.TrimRight(d.String(), "\n"), n, word)
}

// judge asks every rule.
func judge(asm *layout.Assembly) []layout.Outcome { return rules.Run(asm, rules.All) }

// guess returns ", did you mean ...?" or nothing.
func guess(word string, among []string) string {
	if n := read.Nearest(word, among); n != "" {
		return fmt.Sprintf("; did you mean %s?", n)
	}
	return ""
}
