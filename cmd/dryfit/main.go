// Command dryfit tells a builder of small multirotors whether everything fits before
// a plate is cut or a part is ordered, and draws the proof.
package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/spf13/cobra"
)

// Exit codes, the same for every verb.
const (
	exitFits  = 0 // nothing fails
	exitFails = 1 // something fails (with --strict also: is tight or unknown)
	exitInput = 2 // unusable input or usage
	exitFault = 3 // a fault of ours
)

// gcPercent lets the heap grow to three times what is in use before it is collected. A run lives for a tenth of a second and takes
// about 40 MB: collecting at twice that costs a tenth of its time.
const gcPercent = 200

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// quit ends a verb with an exit code. The message, if any, goes to standard error.
type quit struct {
	code int
	msg  string
}

func (q *quit) Error() string { return q.msg }

// unusable is the end of a verb that was given something it cannot use.
func unusable(format string, args ...any) error {
	return &quit{exitInput, strings.TrimRight(fmt.Sprintf(format, args...), "\n")}
}

// fault is the end of a verb that broke through no fault of its user.
func fault(format string, args ...any) error {
	return &quit{exitFault, "a fault of ours: " + fmt.Sprintf(format, args...)}
}

// env is what verbs read from and write to.
type env struct {
	in  io.Reader
	out *outlet
	err io.Writer
}

// outlet is standard output that remembers the first write that failed, so that no verb
// can lose output without the exit code telling.
type outlet struct {
	w   io.Writer
	err error
}

func (o *outlet) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(p)
	o.err = err
	return n, err
}

// run is the whole program: arguments and streams in, exit code out.
func run(args []string, in io.Reader, out, errs io.Writer) (code int) {
	defer func() {
		if e := recover(); e != nil {
			fmt.Fprintf(errs, "dryfit: a fault of ours: %v\nplease report it with the build file that caused it\n", e)
			code = exitFault
		}
	}()
	e := &env{in, &outlet{w: out}, errs}
	root := newRoot(e)
	root.SetArgs(args)
	err := root.Execute()
	if werr := e.out.err; werr != nil {
		if !errors.Is(werr, syscall.EPIPE) { // the reader has gone: nobody to tell
			fmt.Fprintf(errs, "dryfit: the output could not be written: %v\n", plain(werr))
		}
		return exitInput
	}
	var q *quit
	switch {
	case err == nil:
		return exitFits
	case errors.As(err, &q):
		if q.msg != "" {
			fmt.Fprintln(errs, q.msg)
		}
		return q.code
	default:
		fmt.Fprintf(errs, "dryfit: %s\n", strings.TrimSpace(err.Error()))
		return exitInput
	}
}

// plain drops the name of the system call and of the file from an error of the system.
func plain(err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		return pe.Err
	case errors.As(err, &le):
		return le.Err
	}
	return err
}

func newRoot(e *env) *cobra.Command {
	root := &cobra.Command{
		Use:   "dryfit",
		Short: "Tells whether a small multirotor fits together before anything is cut, and draws the proof",
		Long: `dryfit reads one YAML file that describes a small multirotor (plates, boards, hole
patterns, motors, props, parts) and tells before anything is cut or ordered whether
it all fits: by how much, how sure that is given tolerances, and what would mend it.

A first session:
  dryfit check                      judge the built-in example
  dryfit new --prop 5 > mine.yaml   write a commented starter build
  dryfit check mine.yaml            what does not fit, by how much, what to do
  dryfit draw mine.yaml             top and side view as SVG, true to scale
  dryfit hardware mine.yaml         screws to buy, with spares, and where each goes
  dryfit wires mine.yaml            wires to cut: length, gauge, colour, both ends
  dryfit make mine.yaml             cut files, plate drawings, templates
  dryfit parts search esc           what the catalogue knows
  dryfit rules prop-tip-gap         what a rule asks, why, and how it measures

Exit codes: 0 nothing fails, 1 something fails, 2 unusable input, 3 a fault of ours.

The verdicts are sums over the figures in the file. Measure the parts in your hand
before you cut. Take propellers off for every powered bench test. Local rules decide
about flight, radio and batteries.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return notVerb(cmd, args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetIn(e.in)
	root.SetOut(e.out)
	root.SetErr(e.err)
	root.SetFlagErrorFunc(flagMistake)
	root.SetHelpFunc(help)
	root.AddCommand(newCheck(e), newDraw(e), newPlace(e), newHardware(e), newWires(e), newMake(e), newOutline(e), newNew(e), newParts(e), newRules(e), newSchema(e), newCompletion(e))
	root.SetHelpCommand(newHelp())
	return root
}
