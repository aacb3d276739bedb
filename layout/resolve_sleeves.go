package layout

import "dryfit/shapes"

// stockSleeves lists the sleeves that the library knows, for builds in which a wire has one.
func (r *resolver) stockSleeves() {
	if r.b.Parts == nil {
		return
	}
	for _, w := range r.b.Wires {
		if w.Sleeve != nil {
			r.asm.Sleeves = r.b.Parts.ByKind(shapes.SleeveKind)
			return
		}
	}
}
