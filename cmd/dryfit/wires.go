package main

import (
	"bytes"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryfit/layout"
	"dryfit/render/report"
)

func newWires(e *env) *cobra.Command {
	var asCSV, asJSON bool
	var out string
	cmd := &cobra.Command{
		Use:   "wires [BUILD.yaml]",
		Short: "List every wire to cut: from, to, gauge, colour, length, strip, with totals",
		Long: `Lists the wires of a build as they are routed: each with where it begins and ends, its
gauge, its colour, the length to cut from bared end to bared end, what to strip, its mass,
and what is spare of leads that come with a part; then the totals by gauge and sleeve.
Lengths are rounded up to whole millimetres. A wire without a way says so: ` + "`dryfit check`" + `
tells what stands in it, and ` + "`dryfit draw`" + ` draws where all the others run.

Caution: check polarity with a meter before the first connection, limit the current at the
first power-up, propellers off; solder no lead that is joined to a pack.

Without a file the built-in example is listed; - is standard input.`,
		Example: `  dryfit wires shore.yaml
  dryfit wires shore.yaml --csv > shore.csv    for a spreadsheet
  dryfit wires shore.yaml --json               for programs
  dryfit wires shore.yaml --out make           all three into ./make`,
		Args:              oneFile,
		ValidArgsFunction: buildFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			if asCSV && asJSON {
				return unusable("dryfit: wires are printed as --csv or as --json, not both")
			}
			if out != "" && (asCSV || asJSON) {
				return unusable("dryfit: --out writes the list in all forms; leave out --csv and --json")
			}
			asm, err := assemble(e, args)
			if err != nil {
				return err
			}
			if out != "" {
				files, err := wireFiles(asm)
				if err != nil {
					return err
				}
				if err := writeAll(out, files); err != nil {
					return unusable("dryfit: %v", err)
				}
				for _, f := range files {
					fmt.Fprintln(e.out, filepath.Join(out, f.name))
				}
				return nil
			}
			form := "txt"
			switch {
			case asJSON:
				form = "json"
			case asCSV:
				form = "csv"
			}
			data, err := wireList(asm, form)
			if err != nil {
				return err
			}
			return e.print(data)
		},
	}
	cmd.Flags().BoolVar(&asCSV, "csv", false, "print the list as comma-separated values")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the list as JSON, with the totals")
	cmd.Flags().StringVarP(&out, "out", "o", "", "folder to write the list into, as text, CSV and JSON")
	takes(cmd, "out", "FOLDER")
	return cmd
}

// wireList prints the cut list in one form: txt, csv or json.
func wireList(asm *layout.Assembly, form string) ([]byte, error) {
	var b bytes.Buffer
	var err error
	switch form {
	case "json":
		var data []byte
		data, err = report.WiresJSON(asm)
		b.Write(data)
	case "csv":
		err = report.WiresCSV(&b, asm)
	default:
		err = report.WiresText(&b, asm)
	}
	if err != nil {
		return nil, fault("list of wires: %v", err)
	}
	return b.Bytes(), nil
}

// wireFiles makes the cut list in all its forms.
func wireFiles(asm *layout.Assembly) ([]file, error) {
	var files []file
	for _, form := range [...]string{"csv", "json", "txt"} {
		data, err := wireList(asm, form)
		if err != nil {
			return nil, err
		}
		files = append(files, file{fileName(asm.Name, "wires") + "." + form, data})
	}
	return files, nil
}
