package main

import (
	"github.com/spf13/cobra"

	"dryfit/render/report"
)

func newCheck(e *env) *cobra.Command {
	var all, asJSON, strict bool
	cmd := &cobra.Command{
		Use:   "check [BUILD.yaml]",
		Short: "Judge a build: what does not fit, by how much, how sure, what to do",
		Long: `Judges a build by every rule and prints first what fails, then what is tight (holds as
drawn, but tolerances can eat it), then what is unknown (a dimension is missing), each
with where, what to do and the number of its mark on the drawings, then the rules that
hold, each with its least room at worst case.

Without a file the built-in example is judged; - is standard input.

Exit codes: 0 nothing fails, 1 something fails (with --strict also tight or unknown),
2 unusable input, 3 a fault of ours.`,
		Example: `  dryfit check shore.yaml
  dryfit check shore.yaml --all        every finding with its figures
  dryfit check shore.yaml --json       for programs
  dryfit check shore.yaml --strict     tight and unknown count as failing`,
		Args:              oneFile,
		ValidArgsFunction: buildFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			asm, err := assemble(e, args)
			if err != nil {
				return err
			}
			outs := judge(asm)
			if asJSON {
				data, err := report.JSON(asm, outs)
				if err != nil {
					return fault("%v", err)
				}
				if err := e.print(data); err != nil {
					return err
				}
			} else if err := report.Text(e.out, asm, outs, report.Options{All: all}); err != nil {
				return err
			}
			c := report.Count(outs)
			switch {
			case c.Crashed > 0:
				return &quit{code: exitFault}
			case c.Fail > 0 || strict && c.Tight+c.Unknown > 0:
				return &quit{code: exitFails}
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "tell everything: every finding, every figure")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the report as JSON")
	cmd.Flags().BoolVar(&strict, "strict", false, "exit 1 on tight and unknown too")
	return cmd
}
