package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"dryfit/render/report"
)

func newHardware(e *env) *cobra.Command {
	var asCSV, asJSON bool
	cmd := &cobra.Command{
		Use:   "hardware [BUILD.yaml]",
		Short: "List the screws, nuts, posts, spacers and grommets to buy, and where each goes",
		Long: `Lists what holds a build together: screws by thread, length, head and material, nuts,
washers, posts, spacers and grommets, with spares, mass, key, the most torque that the
weaker material bears, and what keeps each from turning. The screws are those of the
joints that ` + "`dryfit check`" + ` judges: their lengths follow from what they clamp unless the
build says them. An exclamation mark stands at lengths that are not sure to be right.

Without a file the built-in example is listed; - is standard input.`,
		Example: `  dryfit hardware shore.yaml
  dryfit hardware shore.yaml --csv > shore.csv    for a spreadsheet
  dryfit hardware shore.yaml --json               for programs`,
		Args:              oneFile,
		ValidArgsFunction: buildFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			if asCSV && asJSON {
				return unusable("dryfit: hardware is printed as --csv or as --json, not both")
			}
			asm, err := assemble(e, args)
			if err != nil {
				return err
			}
			var b bytes.Buffer
			switch {
			case asJSON:
				data, err := report.HardwareJSON(asm)
				if err != nil {
					return fault("%v", err)
				}
				return e.print(data)
			case asCSV:
				err = report.HardwareCSV(&b, asm)
			default:
				err = report.HardwareText(&b, asm)
			}
			if err != nil {
				return fault("%v", err)
			}
			return e.print(b.Bytes())
		},
	}
	cmd.Flags().BoolVar(&asCSV, "csv", false, "print the list as comma-separated values")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the list as JSON, with the screw of every joint")
	return cmd
}
