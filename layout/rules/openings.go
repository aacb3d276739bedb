package rules

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// opening is a hole of a plate, or what its outline leaves open within.
type opening struct {
	hole  *layout.Hole // nil: drawn in the outline
	group string       // holes of one entry share it
	what  string       // "screw hole", "slot", "cut-out", ...
	loop  geom.Loop
	area  geom.Region
	edge  layout.Form // how far its edge may lie beyond the drawn one, nominal 0, mm
}

// fromSheet lists the plates that are cut from sheet; copies of an arm plate are all there.
func (p *Pass) fromSheet() []*layout.Plate {
	var out []*layout.Plate
	for _, pl := range p.Asm.Plates {
		if pl.Material == nil || pl.Material.Material == nil || !pl.Material.Material.Printed {
			out = append(out, pl)
		}
	}
	return out
}

const noSheet = "no plate is cut from sheet"

// plateName is what a sentence calls a plate and its copies: "the base plate", "every arm
// plate".
func (p *Pass) plateName(pl *layout.Plate) string {
	if pl.ArmOf != "" {
		return "every " + spoken(pl.Name) + " plate"
	}
	return p.call(pl.ID)
}

// openings is openingsOf, worked out once a plate in each run of a rule: joints ask again.
func (p *Pass) openings(pl *layout.Plate) []opening {
	out, ok := p.open[pl]
	if !ok {
		out = openingsOf(pl)
		if p.open == nil {
			p.open = map[*layout.Plate][]opening{}
		}
		p.open[pl] = out
	}
	return out
}

// openingsOf lists the holes of a plate, then what its outline leaves open. Each hole's
// edge moves with its place and its diameter, a drawn edge with the cut.
func openingsOf(pl *layout.Plate) []opening {
	var out []opening
	cut := map[*shapes.Dim]*shapes.Dim{}
	for i := range pl.Holes {
		h := &pl.Holes[i]
		o := opening{hole: h, group: h.Group, what: holeWord(h), loop: h.Loop, area: geom.RegionOf(h.Loop.CCW())}
		if cut[h.Diameter] == nil {
			cut[h.Diameter] = drilled(pl, h.Diameter)
		}
		o.edge = deviation(layout.Form{}.Plus(cut[h.Diameter], 0.5)).Add(deviation(layout.Of(placeOf(pl, h))))
		out = append(out, o)
	}
	n := 0
	for _, g := range pl.Solid {
		for _, l := range g.Holes {
			n++
			out = append(out, opening{
				group: fmt.Sprintf("%s cut-out %d", pl.Name, n), what: "cut-out",
				loop: l, area: geom.RegionOf(l.CCW()), edge: deviation(layout.Of(pl.CutTol)),
			})
		}
	}
	return out
}

// drilled is the diameter of a hole as it comes out. What people drill for a thread is a
// class figure with a range; the hole that is cut here has the one figure, with the
// tolerance of the plate's holes.
func drilled(pl *layout.Plate, d *shapes.Dim) *shapes.Dim {
	if d == nil || d.Missing || !d.Range || pl.HoleTol == nil {
		return d
	}
	c := *d
	c.Plus, c.Minus, c.Range = pl.HoleTol.Plus, pl.HoleTol.Minus, false
	c.TolSource = pl.HoleTol.TolSource
	return &c
}

// placeOf is how far one hole may stand off its place. Each hole errs for itself.
func placeOf(pl *layout.Plate, h *layout.Hole) *shapes.Dim {
	if pl.PlaceTol == nil {
		return nil
	}
	d := *pl.PlaceTol
	d.Name = "place of " + h.Name
	return &d
}

// holeWord says what a hole is.
func holeWord(h *layout.Hole) string {
	switch {
	case h.Length > 0:
		return "slot"
	case strings.Contains(h.Name, ".centre["):
		return "centre hole"
	}
	return "hole"
}

// called is what a sentence calls an opening: "the 3.3 mm motor hole", "the 22 by 3 mm strap
// slot", "a cut-out".
func (o *opening) called() string {
	if o.hole == nil {
		return "a cut-out"
	}
	size := mm(o.hole.Diameter.Value)
	if o.hole.Length > 0 {
		size = num(o.hole.Length) + " by " + size
	}
	_, name, _ := strings.Cut(o.hole.Group, ".")
	kind, of, _ := strings.Cut(o.hole.For, ".")
	switch {
	case o.what == "centre hole":
		name = ""
	case kind == "motors":
		name = "motor"
	case kind == "posts", kind == "stacks":
		return fmt.Sprintf("the %s %s for %s %s", size, o.what, map[string]string{"posts": "posts", "stacks": "stack"}[kind], spoken(of))
	case strings.Trim(name, "0123456789") == "":
		name = ""
	}
	if name != "" {
		name = spoken(name) + " "
	}
	return "the " + size + " " + name + o.what
}

// at is where to point to the opening.
func (o *opening) at() r2.Point {
	if o.hole != nil {
		return o.hole.At
	}
	return o.loop.Bound().Center()
}

// gapOf is the signed distance between two openings: what of plate is left between them,
// negative by the depth of their overlap.
func gapOf(a, b *opening) geom.Gap { return geom.Distance(a.area, b.area) }

// width is the narrower measure of an opening across its box.
func (o *opening) width() float64 {
	if o.hole != nil && o.hole.Diameter != nil {
		return o.hole.Diameter.Value
	}
	s := o.loop.Bound().Size()
	return math.Min(s.X, s.Y)
}

// motorAt returns the rotor whose motor is screwed to the plate through this opening, or
// whose axis passes it (axis is true then); nil for none. Whatever lies within the motor's
// bolt circle counts, so that holes at a wrong angle do too.
func (p *Pass) motorAt(pl *layout.Plate, o *opening) (r *layout.Rotor, axis bool) {
	for _, r := range p.Asm.Rotors {
		if r.Arm != pl.ID {
			continue
		}
		if o.loop.Contains(r.At) {
			return r, true
		}
		if o.hole != nil && o.hole.At.Sub(r.At).Norm() <= boltReach(r) {
			return r, false
		}
	}
	return nil, false
}

// boltReach is how far from a motor's axis the holes for its screws may lie, mm: the
// radius of its largest bolt circle, taken for a square as well (the commonest mistake),
// and 0.5 for those that miss it; 0 when it is not known.
func boltReach(r *layout.Rotor) float64 {
	m := motorOf(r)
	if m == nil {
		return 0
	}
	out := 0.0
	for _, c := range m.Circles {
		for _, d := range []*shapes.Dim{c.Diameter, c.Across} {
			if !isMissing(d) {
				out = max(out, d.Value/math.Sqrt2+0.5)
			}
		}
	}
	return out
}

// fastens reports whether an opening is made for screws: by the build's words, or because
// one goes through it.
func (p *Pass) fastens(pl *layout.Plate, o *opening) bool {
	if o.hole == nil || o.what == "centre hole" {
		return false
	}
	switch kind, _, _ := strings.Cut(o.hole.For, "."); kind {
	case "motors", "posts", "stacks":
		return true
	}
	return p.jointIn(pl, o.hole) != nil
}

// jointIn returns a joint whose screw goes through a hole of a plate, nil for none.
func (p *Pass) jointIn(pl *layout.Plate, h *layout.Hole) *layout.Joint {
	for _, j := range p.Asm.Joints {
		if j.Level || !h.Loop.Contains(j.At) {
			continue
		}
		for i := range j.Layers {
			if j.Layers[i].Component == pl.ID {
				return j
			}
		}
	}
	return nil
}

// screwIn is the diameter of the screw that goes through a hole: that of a joint there,
// else of the largest usual thread that a round hole lets through; 0 for none.
func (p *Pass) screwIn(pl *layout.Plate, h *layout.Hole) float64 {
	if j := p.jointIn(pl, h); j != nil {
		return screwSize(j.Size)
	}
	if h.Length > 0 || h.Diameter == nil || holeWord(h) == "centre hole" {
		return 0
	}
	best := 0.0
	for _, d := range []float64{1.4, 1.6, 2, 2.5, 3, 4, 5} {
		// Holes are cut from 0.05 to a quarter wider than the screw; a wider one takes none.
		if h.Diameter.Value >= d && h.Diameter.Value <= 1.25*d {
			best = d
		}
	}
	return best
}

// platePlace puts words to a point on a plate.
func (p *Pass) platePlace(pl *layout.Plate, at r2.Point) string {
	if pl.ArmOf != "" {
		return fmt.Sprintf("%s arm", spoken(pl.ArmOf))
	}
	return fmt.Sprintf("%s at (%s, %s)", strings.TrimPrefix(p.call(pl.ID), "the "), num(at.X), num(at.Y))
}
