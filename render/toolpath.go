package render

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// ToolPath is where the middle of a cutter, or of a jet, runs so that a profile is left
// standing. Openings are cut before the outline, while the sheet still holds the piece.
type ToolPath struct {
	Width    float64     // mm, of the cut
	Drill    []Opening   // round holes too small to run round in: drilled at their centres
	Inner    []geom.Loop // clockwise, one or more for each opening
	Outer    geom.Loop   // counter-clockwise
	Reliefs  []r2.Point  // corners that were cut free
	Unopened []string    // labels of openings that are narrower than the cut and no round holes
	Left     float64     // mm² that the finished piece has more than the profile: corners that the cutter does not reach
}

// reliefAir is how much larger than the cutter's radius the relief of a corner is, in mm:
// the least that lets the cutter turn in it (trade: inner radius = cutter / 2 + 0.05).
const reliefAir = 0.05

// ToolPath offsets the profile by half the width of the cut, outwards for the outline and
// inwards for openings. With relief each sharp inside corner is first cut free by a circle
// that just takes in its tip, so that the corner of a tab, plate or board goes right into
// it. Corners that turn by less than 30° need none.
//
// It fails if the width is not positive and finite, if the outline cannot be followed in
// one piece (a bay narrower than the cut may close), or if geometry fails.
func (p *Profile) ToolPath(width float64, relief bool) (ToolPath, error) {
	t := ToolPath{Width: width}
	if !(width > 0 && width < 100) {
		return t, fmt.Errorf("a cut %v mm wide is none", width)
	}
	r := width / 2
	routed := geom.RegionOf(p.Outer)
	for _, o := range p.Openings {
		if o.D > 0 && o.D < width*drillBelow {
			t.Drill = append(t.Drill, o)
			continue
		}
		routed.Holes = append(routed.Holes, o.Loop.CCW().Reverse())
	}
	set := []geom.Region{routed}
	if relief {
		var discs []geom.Region
		for l := range routed.Loops() {
			for _, c := range sharpInside(l) {
				discs = append(discs, geom.RegionOf(geom.Circle(c.tip.Add(c.out.Mul(r+reliefAir)), r+reliefAir)))
				t.Reliefs = append(t.Reliefs, c.tip)
			}
		}
		if len(discs) > 0 {
			var err error
			if set, err = geom.Difference(set, discs); err != nil {
				return t, fmt.Errorf("the corners of %s cannot be cut free: %w", p.Name, err)
			}
		}
	}
	path, err := geom.Offset(set, r)
	if err != nil {
		return t, fmt.Errorf("%s cannot be offset by %s mm: %w", p.Name, figure(r), err)
	}
	if len(path) != 1 {
		return t, fmt.Errorf("a cut %s mm wide cannot go round %s in one piece", figure(width), p.Name)
	}
	t.Outer, t.Inner = path[0].Outer, path[0].Holes
	for _, o := range p.Openings {
		if o.D == 0 && !entered(o.Loop, t.Inner) {
			t.Unopened = append(t.Unopened, o.Label)
		}
	}
	left, err := geom.Offset(path, -r)
	if err != nil {
		return t, fmt.Errorf("%s cannot be offset back: %w", p.Name, err)
	}
	for _, q := range left {
		t.Left += q.Area()
	}
	for _, q := range set {
		t.Left -= q.Area()
	}
	t.Left = math.Max(t.Left, 0)
	return t, nil
}

// entered reports whether a path runs within an opening.
func entered(opening geom.Loop, paths []geom.Loop) bool {
	for _, l := range paths {
		if opening.Contains(l.Vertex(0).P) {
			return true
		}
	}
	return false
}

// corner is a sharp inside corner: its tip, and the unit direction out of the material
// that halves it.
type corner struct{ tip, out r2.Point }

// sharpInside returns the corners at which a loop with the material on its left turns
// right by 30° or more.
func sharpInside(l geom.Loop) []corner {
	var out []corner
	for i, s := range l.Segs() {
		a, b := s.Tangent(1), l.Seg((i+1)%l.Len()).Tangent(0)
		if l.Turn(i+1) > -math.Pi/6 {
			continue
		}
		d := b.Sub(a) // points to the right of the run: away from the material
		if n := d.Norm(); n > 1e-9 {
			out = append(out, corner{s.B, d.Mul(1 / n)})
		}
	}
	return out
}
