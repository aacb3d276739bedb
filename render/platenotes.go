package render

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

// plateCautions are the cautions that belong to cutting this plate.
func (d *drawing) plateCautions(p *Profile) []string {
	out := CuttingCautions(conducts(p.Plates[0]))
	return out
}

func conducts(p *layout.Plate) bool {
	return p.Material != nil && p.Material.Material != nil && p.Material.Material.Conducts
}

// CuttingCautions are the cautions that stand wherever cutting is meant; those on carbon
// only where it is cut.
func CuttingCautions(carbon bool) []string {
	out := []string{"Caution: clamp the sheet, wear eye protection, keep hands off a turning cutter; cut edges are sharp."}
	if carbon {
		out = append(out, "Caution: carbon dust harms lungs and skin and conducts: cut it wet or with fine extraction, mask and gloves on, away from electronics.")
	}
	return append(out, "Follow the machine's instructions and the local codes of the workshop.")
}

// plateNotes are the notes under the tables.
func (d *drawing) plateNotes(p *Profile) []string {
	pl := p.Plates[0]
	cut := d.asm.Cutting
	out := []string{
		"All sizes are of the finished plate, in mm. Outline and openings are not offset for the cutter.",
		fmt.Sprintf("Seen from above: the top face is drawn. %s.", faceWords(p)),
	}
	if cut.Cutter != nil {
		s := "Cutter " + cut.Cutter.Describe() + " in diameter"
		if cut.Cutter.Source != shapes.Given {
			s += " (assumed; the build does not say)"
		}
		s += fmt.Sprintf(". Holes under Ø%s are drilled.", figure(cut.Cutter.Value*drillBelow))
		if r, _, ok := leastInside(p); ok && r < cut.Cutter.Value/2-1e-9 {
			s += fmt.Sprintf(" Inside corners under R%s stay round after it: file them, or ask for relief where something must reach into them.", figure(cut.Cutter.Value/2))
		}
		out = append(out, s)
	}
	s := fmt.Sprintf("Area %s mm² a piece.", figure(math.Round(p.Region().Area())))
	if g := pl.Mass.Grams.Nominal(); g > 0 {
		s += fmt.Sprintf(" Mass about %.1f g a piece, by volume and density.", g)
	}
	out = append(out, s)
	if pl.CutTol != nil && pl.HoleTol != nil && !pl.CutTol.Missing && !pl.HoleTol.Missing {
		out = append(out, fmt.Sprintf("Tolerances that the fit counts with: edges ±%s, holes ±%s.", figure(radius(pl.CutTol)), figure(radius(pl.HoleTol))))
	}
	return append(out, "Break all edges; 0.5 × 45° where straps and wires run over them.")
}

// radius is how far a dimension of value 0 ± t may be off.
func radius(d *shapes.Dim) float64 { return math.Max(d.Value, math.Max(d.Plus, d.Minus)) }

// faceWords says whether it matters which face is up.
func faceWords(p *Profile) string {
	if bothWays(p) {
		return "It is its own mirror image: either face may be up"
	}
	return "It is handed: mark the top face before it leaves the sheet, and never cut it mirrored"
}
