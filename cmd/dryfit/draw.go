package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryfit/render"
)

func newDraw(e *env) *cobra.Command {
	var out, size string
	var plates, workshop bool
	cmd := &cobra.Command{
		Use:   "draw [BUILD.yaml]",
		Short: "Draw the proof: annotated views, wiring and schematic as SVG in true scale",
		Long: `Writes the drawings of a build as SVG sheets in millimetres: top view and side view with
the main dimensions, a parts list, and every finding marked where it is; of a build with
wires also where each runs, every part's pads by name, and a schematic to solder by.
Print them at 100 % and check the scale bar with a ruler before you trust the print.

Files in the output folder are replaced whole or not at all; nothing else is written.`,
		Example: `  dryfit draw shore.yaml               into ./drawings
  dryfit draw shore.yaml --out proof   into ./proof
  dryfit draw shore.yaml --paper A3
  dryfit draw shore.yaml --plates      with a sheet for each plate
  dryfit draw shore.yaml --workshop    with all that dryfit make writes`,
		Args:              oneFile,
		ValidArgsFunction: buildFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			paper, err := render.ParsePaper(size)
			if err != nil {
				return unusable("dryfit: %v", err)
			}
			asm, err := assemble(e, args)
			if err != nil {
				return err
			}
			sheets, err := render.Sheets(asm, judge(asm), render.Options{Paper: paper})
			if err != nil {
				return fault("%v", err)
			}
			if plates && !workshop {
				more, err := render.PlateSheets(asm, render.Options{Paper: paper})
				if err != nil {
					return unusable("dryfit: %v", err)
				}
				sheets = append(sheets, more...)
			}
			var files []file
			for _, s := range sheets {
				svg, err := s.SVG()
				if err != nil {
					return fault("sheet %s: %v", s.Name, err)
				}
				files = append(files, file{fileName(asm.Name, s.Name) + ".svg", svg})
			}
			var cautions []string
			if workshop {
				if len(asm.Plates) == 0 {
					return unusable("dryfit: %s has no plates, so there is nothing to cut", asm.Name)
				}
				more, err := makeFiles(asm, paper, 0, false)
				if err != nil {
					return err
				}
				files = append(files, more...)
				cautions = cuttingCautions(asm)
			}
			if err := namedOnce(files, asm.Name); err != nil {
				return err
			}
			if err := writeAll(out, files); err != nil {
				return unusable("dryfit: %v", err)
			}
			for _, f := range files {
				fmt.Fprintln(e.out, filepath.Join(out, f.name))
			}
			for _, s := range cautions {
				fmt.Fprintln(e.out, s)
			}
			return nil
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "drawings", "folder to write into")
	cmd.Flags().BoolVar(&plates, "plates", false, "also a sheet for each plate, as make writes them")
	cmd.Flags().BoolVar(&workshop, "workshop", false, "also all that make writes: cut files, plate sheets, templates, hardware list")
	cmd.Flags().StringVar(&size, "paper", "auto", "sheet size: A4, A3 or auto")
	takes(cmd, "out", "FOLDER")
	takes(cmd, "paper", "SIZE")
	words(cmd, "paper", "A4", "A3", "auto")
	return cmd
}
