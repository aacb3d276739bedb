package main

import (
	"github.com/spf13/cobra"

	"dryfit/layout"
)

func newPlace(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "place [BUILD.yaml]",
		Short: "Print where everything is, as JSON, so that anyone can check it",
		Long: `Prints the placed build as JSON: every body as loops of lines and arcs with its height
interval, nominal and at worst case; plates with holes, motors, props with the band that
their blades can reach, ports with the room that their plugs take.

Millimetres, body frame: x forward, y left, z up from the underside of the lowest plate,
origin at the centre of the rotor circle. A vertex's bulge is the tangent of a quarter of
the arc's angle to the next vertex, positive counter-clockwise, 0 for a straight line.`,
		Args:              oneFile,
		ValidArgsFunction: buildFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			asm, err := assemble(e, args)
			if err != nil {
				return err
			}
			return e.print(asm.JSON())
		},
	}
}

func newSchema(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of build files, for editors",
		Args:  noArgs,
		RunE: func(*cobra.Command, []string) error {
			return e.print(layout.Schema())
		},
	}
}
