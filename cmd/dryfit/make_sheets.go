package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/layout"
	"dryfit/render"
	"dryfit/render/nest"
	"dryfit/shapes"
)

// sheetFlags say what the plates are laid out on.
type sheetFlags struct {
	size, gap, margin, grain string
	sets                     int
}

func (s *sheetFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&s.size, "sheet", "", "size of the stock in mm, such as 400x300: also lay the plates out on it")
	f.StringVar(&s.gap, "gap", "", "least room between plates on the sheet in mm (without it: 2, or twice the cut)")
	f.StringVar(&s.margin, "margin", "5", "least room between plates and the edge of the sheet in mm")
	f.IntVar(&s.sets, "sets", 1, "for how many craft to lay out")
	f.StringVar(&s.grain, "grain", "x", "way of the sheet's grain: x, along the first number of its size, or y")
	takes(cmd, "sheet", "WxH")
	takes(cmd, "gap", "MM")
	takes(cmd, "margin", "MM")
	takes(cmd, "sets", "N")
	takes(cmd, "grain", "AXIS")
	words(cmd, "grain", "x", "y")
}

// read checks the flags; nil without --sheet. Without --gap the gap stays 0: it depends on the
// cut, which the build may say.
func (s *sheetFlags) read(given func(string) bool) (*render.NestOptions, error) {
	if s.size == "" {
		for _, name := range []string{"gap", "margin", "sets", "grain"} {
			if given(name) {
				return nil, unusable("dryfit: --%s is about plates laid out on a sheet: give its size with --sheet", name)
			}
		}
		return nil, nil
	}
	number := func(flag, text string, lo, hi float64, example string) (float64, error) {
		q, err := shapes.ParseQuantity(strings.TrimSpace(text), shapes.MM)
		if err != nil || !(q.Value >= lo && q.Value <= hi) {
			return 0, unusable("dryfit: --%s is %q; %s is wanted there", flag, text, example)
		}
		return q.Value, nil
	}
	var opt render.NestOptions
	const sizes = "a size from 20x20 to 3000x3000 mm, such as 400x300,"
	w, h, two := strings.Cut(strings.NewReplacer("×", "x", "X", "x").Replace(s.size), "x")
	if !two {
		return nil, unusable("dryfit: --sheet is %q; %s is wanted there", s.size, sizes)
	}
	var err [5]error
	opt.Sheet.Width, err[0] = number("sheet", w, 20, 3000, sizes)
	opt.Sheet.Height, err[1] = number("sheet", h, 20, 3000, sizes)
	opt.Sheet.Margin, err[2] = number("margin", s.margin, 0, 200, "a length from 0 to 200 mm")
	if s.gap != "" {
		opt.Sheet.Gap, err[3] = number("gap", s.gap, 0.1, 100, "a length from 0.1 to 100 mm")
	}
	switch s.grain {
	case "x":
	case "y":
		opt.GrainY = true
	default:
		err[4] = unusable("dryfit: --grain is %q; x or y is wanted there", s.grain)
	}
	for _, e := range err {
		if e != nil {
			return nil, e
		}
	}
	if opt.Sets = s.sets; s.sets < 1 || s.sets > nest.MaxCopies {
		return nil, unusable("dryfit: --sets is %d; a number from 1 to %d is wanted there", s.sets, nest.MaxCopies)
	}
	return &opt, nil
}

// laidOut is what came of laying plates out.
type laidOut struct {
	files []file
	text  string // how each sheet is used
	left  string // what fits on no sheet, "" for nothing
}

func layOut(asm *layout.Assembly, opt *render.NestOptions) (laidOut, error) {
	var out laidOut
	if opt == nil {
		return out, nil
	}
	cutWidth := 0.0 // not said
	if asm.Cutting.Given && asm.Cutting.Kerf != nil {
		cutWidth = asm.Cutting.Kerf.Value
	}
	switch gap := &opt.Sheet.Gap; {
	case *gap == 0:
		*gap = max(2, 2*cutWidth)
	case *gap < cutWidth:
		return out, unusable("dryfit: a gap of %g is narrower than the cut of %g mm: the cutter would run into the next plate", *gap, cutWidth)
	}
	sheets, left, err := render.StockSheets(asm, *opt)
	if err != nil {
		return out, unusable("dryfit: %v", err)
	}
	var b, list strings.Builder
	fmt.Fprintf(&list, "What lies on the sheets for %s\n", asm.Name)
	for i := range sheets {
		s := &sheets[i]
		fmt.Fprintf(&list, "\n%s\n", s.Name)
		for _, n := range s.Drawing.Notes {
			fmt.Fprintf(&list, "  %s\n", n)
		}
		if err := addCut(&out.files, fileName(asm.Name, "sheet", s.Name), &s.Drawing); err != nil {
			return out, err
		}
		fmt.Fprintf(&b, "sheet %d of %d of %s: plates %d, used %s\n", s.Number, s.Of, s.Stock, s.Pieces, s.Percent())
	}
	out.text = b.String()
	out.files = append(out.files, file{fileName(asm.Name, "sheets") + ".txt", []byte(list.String())})
	var lost []error
	for _, u := range left {
		lost = append(lost, fmt.Errorf("%s: %d of %.1f x %.1f mm fit on no sheet of %g x %g mm with a margin of %g; take a larger sheet or a smaller margin",
			u.Name, u.Count, u.Size.X, u.Size.Y, opt.Sheet.Width, opt.Sheet.Height, opt.Sheet.Margin))
	}
	if len(lost) > 0 {
		out.left = errors.Join(lost...).Error()
	}
	return out, nil
}
