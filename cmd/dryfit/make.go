package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/layout"
	"dryfit/render"
	"dryfit/render/cut"
	"dryfit/render/report"
	"dryfit/shapes"
)

func newMake(e *env) *cobra.Command {
	var out, size, cutter, kerf string
	var relief bool
	var sheet sheetFlags
	cmd := &cobra.Command{
		Use:   "make [BUILD.yaml]",
		Short: "Write what the workshop needs: cut files, plate drawings, templates, lists",
		Long: `Writes for each plate of a build:
  a cut file as DXF and as SVG, millimetres, finished size, one layer a purpose;
  with --cutter or --kerf also the path of the middle of the cutter;
  a drawing with sizes, positions, least web and edge;
  a paper template at true size for drilling by hand;
with --sheet the plates laid out on sheets of that size, a DXF and an SVG each;
and for the whole the hardware to buy, the wires to cut, and a text that says how often to
cut what.

Caution: clamp the sheet, wear eye protection, keep hands off a turning cutter. Carbon dust
harms lungs and skin and conducts: cut it wet or with fine extraction, mask and gloves on.
Check what fails before you cut: dryfit check.`,
		Example: `  dryfit make shore.yaml                        into ./make
  dryfit make shore.yaml --cutter 2 --relief    with tool paths, inside corners cut free
  dryfit make shore.yaml --kerf 0.9 --out cut   for a jet 0.9 mm wide
  dryfit make shore.yaml --sheet 400x300 --sets 2 --gap 4   plates of two craft on sheets`,
		Args:              oneFile,
		ValidArgsFunction: buildFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			paper, err := render.ParsePaper(size)
			if err != nil {
				return unusable("dryfit: %v", err)
			}
			width, err := cutWidth(cutter, kerf)
			if err != nil {
				return err
			}
			if relief && width == 0 {
				return unusable("dryfit: --relief cuts inside corners free for a cutter: name it with --cutter or --kerf")
			}
			onto, err := sheet.read(cmd.Flags().Changed)
			if err != nil {
				return err
			}
			asm, err := assemble(e, args)
			if err != nil {
				return err
			}
			if len(asm.Plates) == 0 {
				return unusable("dryfit: %s has no plates, so there is nothing to cut", asm.Name)
			}
			if width > 0 {
				own := &shapes.Dim{Name: "cutter diameter", Value: width, Unit: shapes.MM}
				asm.Cutting = layout.Cutting{Cutter: own, Kerf: own, Given: true}
			}
			files, err := makeFiles(asm, paper, width, relief)
			if err != nil {
				return err
			}
			laid, err := layOut(asm, onto)
			if err != nil {
				return err
			}
			files = append(files, laid.files...)
			if err := namedOnce(files, asm.Name); err != nil {
				return err
			}
			if err := writeAll(out, files); err != nil {
				return unusable("dryfit: %v", err)
			}
			var b bytes.Buffer
			for _, f := range files {
				fmt.Fprintln(&b, filepath.Join(out, f.name))
			}
			b.WriteString(laid.text)
			for _, s := range cuttingCautions(asm) {
				fmt.Fprintln(&b, s)
			}
			if n := report.Count(judge(asm)).Fail; n > 0 {
				fmt.Fprintf(e.err, "%d findings of this build fail; look at them before you cut: dryfit check\n", n)
			}
			if err := e.print(b.Bytes()); err != nil {
				return err
			}
			if laid.left != "" {
				return &quit{exitFails, laid.left}
			}
			return nil
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "make", "folder to write into")
	cmd.Flags().StringVar(&cutter, "cutter", "", "diameter of the cutter in mm: also write its path")
	cmd.Flags().StringVar(&kerf, "kerf", "", "width of the cut of a jet or beam in mm: also write its path")
	cmd.Flags().BoolVar(&relief, "relief", false, "cut sharp inside corners free, for tabs and boards that go into them")
	cmd.Flags().StringVar(&size, "paper", "auto", "sheet size: A4, A3 or auto")
	takes(cmd, "out", "FOLDER")
	takes(cmd, "cutter", "MM")
	takes(cmd, "kerf", "MM")
	takes(cmd, "paper", "SIZE")
	words(cmd, "paper", "A4", "A3", "auto")
	sheet.register(cmd)
	return cmd
}

// cuttingCautions are those of the materials that the plates are cut from.
func cuttingCautions(asm *layout.Assembly) []string {
	carbon := false
	for _, p := range asm.Plates {
		carbon = carbon || p.Material != nil && p.Material.Material != nil && p.Material.Material.Conducts
	}
	return render.CuttingCautions(carbon)
}

// cutWidth reads the width of the cut from the flags, 0 if neither is given.
func cutWidth(cutter, kerf string) (float64, error) {
	if cutter != "" && kerf != "" {
		return 0, unusable("dryfit: a path is made for one width: --cutter for a router, --kerf for a jet or beam")
	}
	flag, text := "cutter", cutter
	if kerf != "" {
		flag, text = "kerf", kerf
	}
	if text == "" {
		return 0, nil
	}
	q, qerr := shapes.ParseQuantity(text, shapes.MM)
	if qerr != nil || q.Value < 0.05 || q.Value > 12 {
		return 0, unusable("dryfit: --%s is %q; a width from 0.05 to 12 mm is wanted there, such as 2", flag, text)
	}
	return q.Value, nil
}

// makeFiles makes everything that the verb writes.
func makeFiles(asm *layout.Assembly, paper render.Paper, width float64, relief bool) ([]file, error) {
	var files []file
	var list strings.Builder
	fmt.Fprintf(&list, "What to cut for %s\n", asm.Name)
	profiles := render.Profiles(asm)
	for i := range profiles {
		p := &profiles[i]
		finished := p.Finished(asm)
		if err := addCut(&files, fileName(asm.Name, "cut", p.Name), &finished); err != nil {
			return nil, err
		}
		fmt.Fprintf(&list, "\n%s: cut %d times\n", p.Name, p.Count())
		for _, n := range finished.Notes {
			fmt.Fprintf(&list, "  %s\n", n)
		}
		fmt.Fprintf(&list, "  Area %.0f mm2 a piece", p.Region().Area())
		if g := p.Plates[0].Mass.Grams.Nominal(); g > 0 {
			fmt.Fprintf(&list, ", mass about %.1f g", g)
		}
		list.WriteString(".\n")
		if width == 0 {
			continue
		}
		path, err := p.ToolPath(width, relief)
		if err != nil {
			return nil, unusable("dryfit: %v; take a narrower cutter", err)
		}
		drawn := path.Drawing(p, asm)
		if err := addCut(&files, fileName(asm.Name, "path", p.Name), &drawn); err != nil {
			return nil, err
		}
		fmt.Fprintf(&list, "  %s\n", drawn.Notes[0])
		if len(path.Drill) > 0 {
			fmt.Fprintf(&list, "  Holes too small to run round in, to be drilled: %s.\n", labels(path.Drill))
		}
		if len(path.Unopened) > 0 {
			fmt.Fprintf(&list, "  NOT CUT, narrower than the cut: %s. Take a narrower cutter for these.\n", strings.Join(path.Unopened, ", "))
		}
		if path.Left > 0.01 {
			fmt.Fprintf(&list, "  Corners that the cutter does not reach leave %.2f mm2 standing: file them, or use --relief.\n", path.Left)
		}
	}
	for _, make := range [...]func(*layout.Assembly, render.Options) ([]render.Sheet, error){render.PlateSheets, render.TemplateSheets} {
		sheets, err := make(asm, render.Options{Paper: paper})
		if err != nil {
			return nil, unusable("dryfit: %v", err)
		}
		for _, s := range sheets {
			svg, err := s.SVG()
			if err != nil {
				return nil, fault("sheet %s: %v", s.Name, err)
			}
			files = append(files, file{fileName(asm.Name, s.Name) + ".svg", svg})
		}
	}
	for _, h := range [...]struct {
		end   string
		print func(*bytes.Buffer) error
	}{
		{".csv", func(b *bytes.Buffer) error { return report.HardwareCSV(b, asm) }},
		{".txt", func(b *bytes.Buffer) error { return report.HardwareText(b, asm) }},
	} {
		var b bytes.Buffer
		if err := h.print(&b); err != nil {
			return nil, fault("hardware list: %v", err)
		}
		files = append(files, file{fileName(asm.Name, "hardware") + h.end, b.Bytes()})
	}
	if len(asm.Circuits) > 0 {
		lists, err := wireFiles(asm)
		if err != nil {
			return nil, err
		}
		files = append(files, lists...)
	}
	files = append(files, file{fileName(asm.Name, "cutting") + ".txt", []byte(list.String())})
	return files, nil
}

// namedOnce refuses files that would overwrite each other.
func namedOnce(files []file, build string) error {
	names := map[string]bool{}
	for _, f := range files {
		if names[f.name] {
			return unusable("dryfit: two files would be named %s; give the plates of %s names that differ more", f.name, build)
		}
		names[f.name] = true
	}
	return nil
}

// addCut prints a drawing for the cutter in both forms.
func addCut(files *[]file, name string, d *cut.Drawing) error {
	for _, f := range [...]struct {
		end   string
		print func() ([]byte, error)
	}{{".dxf", d.DXF}, {".svg", d.SVG}} {
		data, err := f.print()
		if err != nil {
			return fault("cut file %s: %v", name, err)
		}
		*files = append(*files, file{name + f.end, data})
	}
	return nil
}

// labels lists the marks of openings.
func labels(os []render.Opening) string {
	var out []string
	for _, o := range os {
		out = append(out, o.Label)
	}
	return strings.Join(out, ", ")
}
