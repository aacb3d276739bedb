package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
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
		return unusable("dryfit: %s takes one build file, not %d (%s)\nsee: %s --help", cmd.Name(), len(args), strings.Join(args, ", "), cmd.CommandPath())
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
	switch {
	case builtin:
		data, err := examples.Files.ReadFile(examples.Default)
		if err != nil {
			return nil, fault("the built-in example is missing: %v", err)
		}
		dir, err := fs.Sub(examples.Files, path.Dir(examples.Default))
		if err != nil {
			return nil, fault("the built-in example has no folder: %v", err)
		}
		b, diags = layout.LoadBytes(examples.Default, data, dir, lib)
	case args[0] == "-":
		if b, diags, err = fromInput(e.in, lib); err != nil {
			return nil, unusable("dryfit: standard input cannot be read: %v", plain(err))
		}
	default:
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

// fromInput loads a build from standard input. Its part files are looked for in the
// current folder and nowhere else.
func fromInput(in io.Reader, lib *shapes.Library) (*layout.Build, *read.Diags, error) {
	data, err := io.ReadAll(io.LimitReader(in, read.MaxBytes+1))
	if err != nil {
		return nil, nil, err
	}
	here, err := os.OpenRoot(".")
	if err != nil {
		b, diags := layout.LoadBytes("standard input", data, nil, lib)
		return b, diags, nil
	}
	defer here.Close() // only read from
	b, diags := layout.LoadBytes("standard input", data, here.FS(), lib)
	return b, diags, nil
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

// guess returns "; did you mean ...?" or nothing. It offers the word that is spelt nearest,
// else up to four that hold what was typed.
func guess(word string, among []string) string {
	if n := read.Nearest(word, among); n != "" {
		return fmt.Sprintf("; did you mean %s?", n)
	}
	var holds []string
	for _, a := range among {
		if word != "" && strings.Contains(a, strings.ToLower(word)) {
			holds = append(holds, a)
		}
	}
	if n := len(holds); n == 0 || n > 4 {
		return ""
	}
	return fmt.Sprintf("; did you mean %s?", strings.Join(holds, " or "))
}
