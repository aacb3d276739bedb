package layout

import (
	"unicode"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// tab reads what a slot takes: a plate of the build by its name, or the thickness of a sheet.
func (d *decoder) tab(n *read.Node, h *HoleSpec, form, label string) {
	if n == nil {
		return
	}
	if form != "slot" {
		if form != "" {
			d.diags.At(n, "`tab:` is what a slot takes, and this entry is none", "", "write `slot: [length, width]` for the tab of a plate")
		}
		return
	}
	if n.Kind() == read.Scalar && n.Raw() != "unknown" && len(n.Raw()) > 0 && unicode.IsLetter(rune(n.Raw()[0])) {
		d.ref(n, &h.TabOf, wanting{kinds: []TargetKind{TargetPlate}, whole: true,
			say: "the plate whose tab goes into the slot, or the thickness of its sheet such as 2 ±0.05"})
		return
	}
	h.Tab = d.dim(n, label+" tab", shapes.SizeMM().Between(0.2, 50))
}

// tabIn returns the thickness of the sheet whose tab goes into the slots of an entry, nil
// without one, and the name of the plate if it is one of the build.
func (r *resolver) tabIn(s *HoleSpec) (*shapes.Dim, string) {
	if s.TabOf != nil {
		if p := r.plates[s.TabOf.Name]; p != nil {
			return p.thick, s.TabOf.Name
		}
	}
	if s.Tab == nil {
		return nil, ""
	}
	t := r.tabs[s]
	if t == nil {
		own := *s.Tab
		fillTol(&own, stockTolerance(own.Value))
		t = &own
		if r.tabs == nil {
			r.tabs = map[*HoleSpec]*shapes.Dim{}
		}
		r.tabs[s] = t
	}
	return t, ""
}
