package render

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/render/cut"
	"dryfit/render/nest"
)

// NestOptions say what the plates are cut from.
type NestOptions struct {
	Sheet  nest.Sheet // size, margin and gap in mm
	Sets   int        // copies of the whole craft, from 1
	GrainY bool       // the sheet's grain runs along its y, not its x
}

// StockSheet is one sheet with plates laid out on it.
type StockSheet struct {
	Stock   string // "carbon, 3 mm ±0.1"
	Name    string // "carbon-3mm-1", for files
	Number  int    // from 1 within the stock
	Of      int
	Pieces  int
	Use     float64 // share of the sheet that becomes plates, 0 to 1
	Drawing cut.Drawing
}

// Unplaced are plates that no empty sheet takes.
type Unplaced struct {
	Name  string
	Count int
	Size  r2.Point // of the plate's box as drawn, mm
}

// StockSheets lays all plates that are cut from sheet out on sheets of one size, those of one
// material and thickness together; printed plates are left out. A plate with a grain turns by
// half turns only. Plates are never turned over.
//
// It fails for options that [nest.Pack] refuses, and for an assembly without such plates.
func StockSheets(asm *layout.Assembly, opt NestOptions) ([]StockSheet, []Unplaced, error) {
	type stock struct {
		name     string
		label    string
		profiles []Profile
	}
	var stocks []stock
	for _, p := range Profiles(asm) {
		pl := p.Plates[0]
		if pl.Material != nil && pl.Material.Material != nil && pl.Material.Material.Printed {
			continue
		}
		s := stock{name: "plate", label: "material not said"}
		if pl.Material != nil {
			s.name, s.label = pl.Material.Name, pl.Material.Name
		}
		if pl.Thickness != nil {
			s.name += "-" + figure(pl.Thickness.Value) + "mm"
			s.label += ", " + pl.Thickness.Describe()
		}
		k := 0
		for k < len(stocks) && stocks[k].name != s.name {
			k++
		}
		if k == len(stocks) {
			stocks = append(stocks, s)
		}
		stocks[k].profiles = append(stocks[k].profiles, p)
	}
	if len(stocks) == 0 {
		return nil, nil, fmt.Errorf("no plate of %s is cut from sheet", asm.Name)
	}
	var sheets []StockSheet
	var left []Unplaced
	for _, s := range stocks {
		pieces := make([]nest.Piece, len(s.profiles))
		for i := range s.profiles {
			p := &s.profiles[i]
			pieces[i] = nest.Piece{Name: p.Name, Shape: p.Region(), Count: max(opt.Sets, 1) * p.Count(), Turns: turnsFor(p.Plates[0].Grain, opt.GrainY)}
		}
		got, err := nest.Pack(pieces, opt.Sheet)
		if err != nil {
			return nil, nil, err
		}
		for i, n := range got.Left {
			if n > 0 {
				left = append(left, Unplaced{Name: s.profiles[i].Name, Count: n, Size: s.profiles[i].Outer.Bound().Size()})
			}
		}
		for k := range got.Sheets {
			one := StockSheet{Stock: s.label, Name: fmt.Sprintf("%s-%d", s.name, k+1), Number: k + 1, Of: got.Sheets}
			one.lay(asm, s.profiles, got.Placed, k, opt)
			sheets = append(sheets, one)
		}
	}
	return sheets, left, nil
}

// turnsFor lists the turns that a plate may lie in: any for one without a grain, else those
// that bring its axis along the sheet's grain.
func turnsFor(g layout.Grain, alongY bool) []int {
	switch {
	case g == layout.GrainAny:
		return nil
	case (g == layout.GrainY) == alongY:
		return []int{0, 180}
	}
	return []int{90, 270}
}

// lay draws sheet k: its edge, then all copies with what is cut and scratched into them.
func (s *StockSheet) lay(asm *layout.Assembly, profiles []Profile, placed []nest.Placed, k int, opt NestOptions) {
	size := opt.Sheet
	grain := "x"
	if opt.GrainY {
		grain = "y"
	}
	area := 0.0
	var notes []string
	shapes := []cut.Shape{{Layer: cut.Stock, Loop: geom.RectLoop(geom.Rect{Hi: r2.Point{X: size.Width, Y: size.Height}})}}
	for _, p := range placed {
		if p.Sheet != k {
			continue
		}
		s.Pieces++
		pr := &profiles[p.Piece]
		area += pr.Region().Area()
		at := p.Pose.Apply(r2.Point{})
		notes = append(notes, fmt.Sprintf("%s %d: origin at %s, %s, turned by %d°.", pr.Name, p.Copy, fixed2(at.X), fixed2(at.Y), p.Turn))
		for _, sh := range pr.Finished(asm).Shapes {
			shapes = append(shapes, sh.Moved(p.Pose))
		}
	}
	s.Use = area / (size.Width * size.Height)
	s.Drawing = cut.Drawing{Title: fmt.Sprintf("%s sheet %s", asm.Name, s.Name), Shapes: shapes}
	s.Drawing.Notes = append([]string{
		fmt.Sprintf("Finished size, not offset for the cutter. Sheet %d of %d of %s.", s.Number, s.Of, s.Stock),
		fmt.Sprintf("Sheet %s x %s mm, at least %s mm between pieces and %s mm to its edge, grain along %s. Units are millimetres, scale 1:1, seen on the top faces.",
			figure(size.Width), figure(size.Height), figure(size.Gap), figure(size.Margin), grain),
		fmt.Sprintf("%s, %s of the sheet.", pieces(s.Pieces), s.Percent()),
	}, notes...)
	s.Drawing.Notes = append(s.Drawing.Notes, CuttingCautions(conducts(profiles[0].Plates[0]))...)
}

// Percent is the use of the sheet as text, "54.2 %".
func (s *StockSheet) Percent() string { return fmt.Sprintf("%.1f %%", math.Round(s.Use*1000)/10) }
