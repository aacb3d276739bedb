package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/shapes/drawing"
)

func newOutline(e *env) *cobra.Command {
	var opt drawing.Options
	var scale, dpi string
	cmd := &cobra.Command{
		Use:   "outline FILE",
		Short: "Look at a DXF or SVG file before using it: size in mm, parts, holes, what was dropped",
		Long: `Reads an outline file as a build would and says what is in it: the unit and where it is
known from, the size in mm, the parts with their holes, the hole patterns recognised, and
everything that was closed, dropped or guessed on the way. Nothing is written.

Compare the size with a ruler first: units in such files are often missing and sometimes wrong.
Exit code 1 means that a part has no closed outline or touches itself.`,
		Example: `  dryfit outline hull.dxf
  dryfit outline hull.dxf --unit in         the file does not say inch, or says it wrongly
  dryfit outline hull.svg --dpi 72          from an older drawing program
  dryfit outline hull.dxf --layer cut       one layer only`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return unusable("dryfit: outline takes one DXF or SVG file, not %d\nsee: %s --help", len(args), cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return []string{"dxf", "svg"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(_ *cobra.Command, args []string) error {
			for _, f := range [...]struct {
				name, text string
				to         *float64
			}{{"scale", scale, &opt.Scale}, {"dpi", dpi, &opt.DPI}} {
				if f.text == "" {
					continue
				}
				v, err := strconv.ParseFloat(f.text, 64)
				if err != nil || !(v > 0 && v < 1e6) {
					return unusable("dryfit: --%s is %q; a number over 0 is wanted there", f.name, f.text)
				}
				*f.to = v
			}
			data, err := readSome(args[0], drawing.MaxBytes)
			if err != nil {
				return err
			}
			d, report, err := drawing.Read(filepath.Base(args[0]), data, opt)
			var bad *drawing.Fault
			if errors.As(err, &bad) {
				return unusable("%v", bad)
			}
			if err != nil {
				return unusable("dryfit: %v", err)
			}
			var b bytes.Buffer
			ok := printDrawing(&b, d, report)
			if err := e.print(b.Bytes()); err != nil {
				return err
			}
			if !ok {
				return &quit{exitFails, ""}
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&opt.Unit, "unit", "", "unit of the file: mm, cm, m, in, ft, mil, pt or px")
	cmd.Flags().StringVar(&scale, "scale", "", "factor on top of the unit, 2 for a file drawn at half size")
	cmd.Flags().StringVar(&dpi, "dpi", "", "px in an inch of SVG files without a unit: 96, 90 or 72")
	cmd.Flags().StringSliceVar(&opt.Layers, "layer", nil, "read only this layer; may be given again")
	takes(cmd, "unit", "UNIT")
	takes(cmd, "scale", "FACTOR")
	takes(cmd, "dpi", "NUMBER")
	takes(cmd, "layer", "NAME")
	words(cmd, "unit", "mm", "cm", "m", "in", "ft", "mil", "pt", "px")
	words(cmd, "dpi", "96", "90", "72")
	return cmd
}

// readSome reads a file of at most most bytes.
func readSome(name string, most int) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, unusable("dryfit: %s cannot be read: %v", name, plain(err))
	}
	defer f.Close() // only read from
	data, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	if err != nil {
		return nil, unusable("dryfit: %s cannot be read: %v", name, plain(err))
	}
	if len(data) > most {
		return nil, unusable("dryfit: %s is over %d MiB; export the outline alone, without views, text and pictures", name, most>>20)
	}
	return data, nil
}

// printDrawing prints what a file holds; it returns whether every part can be cut.
func printDrawing(b *bytes.Buffer, d *drawing.Drawing, report *drawing.Report) bool {
	for _, l := range report.Lines() {
		fmt.Fprintln(b, l)
	}
	ok := len(d.Parts) > 0
	for _, p := range d.Parts {
		fmt.Fprintf(b, "\n%s\n", p)
		for _, h := range p.Holes {
			fmt.Fprintf(b, "  %s\n", h)
		}
		for _, q := range p.Patterns {
			fmt.Fprintf(b, "  pattern: %s about (%.2f, %.2f), turned %.2f°: %s\n", q.Name, q.Center.X, q.Center.Y, q.Turn.Degrees(), strings.Join(q.Holes, ", "))
		}
		for _, o := range p.Open {
			fmt.Fprintf(b, "  open: %s\n", o)
		}
		if p.Fault != "" {
			fmt.Fprintf(b, "  no use for cutting: %s\n", p.Fault)
		}
		ok = ok && p.Closed() && p.Fault == ""
	}
	return ok
}
