package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// Profile is what a cutter needs to know of one plate, or of several that are cut alike:
// its finished outline and openings in a frame of its own. The frame of a plate in one
// piece is the body frame; that of an arm plate has its origin at the motor's axis and x
// outwards along the arm.
type Profile struct {
	Name     string          // of the plate in the build file; with the rotor if its arm plates differ
	Plates   []*layout.Plate // the plates cut to it, at least one
	Frame    geom.Pose2      // from the profile's frame to the body frame of the first plate
	Outer    geom.Loop       // counter-clockwise
	Openings []Opening       // sizes from the largest count down, within one by place
}

// Opening is one hole, slot or cut-out of a profile.
type Opening struct {
	Label  string    // "A1": a letter for each size, a number for each place
	Size   string    // "Ø3.3", "slot 23 × 3.5", "cut-out"
	Loop   geom.Loop // counter-clockwise
	At     r2.Point  // centre of a hole or slot, centre of area of a cut-out
	D      float64   // mm, diameter of a round hole; 0 for other forms
	SinkD  float64   // mm, diameter of a countersink or counterbore at its face; 0 without
	Sink   string    // "countersunk Ø6 × 90°", "counterbored Ø6 × 2", "press nut"; "" without
	Under  bool      // the sink is in the bottom face
	Of     string    // what it is for, as in the build file; "" if not said
	letter string
}

// Region returns the finished plate.
func (p *Profile) Region() geom.Region {
	holes := make([]geom.Loop, len(p.Openings))
	for i, o := range p.Openings {
		holes[i] = o.Loop
	}
	return geom.RegionOf(p.Outer, holes...)
}

// Count is how many pieces are to be cut.
func (p *Profile) Count() int { return len(p.Plates) }

// Profiles returns the profiles of all plates, in the assembly's order. Arm plates of one
// entry make one profile where they are alike within 1e-6 mm.
func Profiles(asm *layout.Assembly) []Profile {
	var out []Profile
	names := map[string]bool{}
	for _, pl := range asm.Plates {
		if len(pl.Outline) != 1 {
			continue // nothing to cut: the loader lets no such plate pass
		}
		p := profileOf(asm, pl)
		same := slices.IndexFunc(out, func(q Profile) bool { return pl.ArmOf != "" && q.Plates[0].Name == pl.Name && alikeProfiles(&q, &p) })
		if same >= 0 {
			out[same].Plates = append(out[same].Plates, pl)
			continue
		}
		if names[p.Name] {
			p.Name += "-" + pl.ArmOf
		}
		names[p.Name] = true
		out = append(out, p)
	}
	return out
}

func profileOf(asm *layout.Assembly, pl *layout.Plate) Profile {
	p := Profile{Name: pl.Name, Plates: []*layout.Plate{pl}}
	if pl.ArmOf != "" {
		p.Frame = pl.Pose
	}
	back := p.Frame.Inverse()
	region := pl.Outline[0].Transform(back)
	p.Outer = region.Outer.CCW()
	for _, l := range region.Holes {
		if l.IsEmpty() {
			continue
		}
		p.Openings = append(p.Openings, openingOf(asm, pl, l.CCW(), back))
	}
	letterOpenings(p.Openings)
	return p
}

// openingOf names an opening by the hole of the build that it is; one that came out of
// several holes, or of the outline's own cuts, is a cut-out.
func openingOf(asm *layout.Assembly, pl *layout.Plate, l geom.Loop, back geom.Pose2) Opening {
	o := Opening{Loop: l, At: l.Centroid(), Size: "cut-out"}
	for i := range pl.Holes {
		h := &pl.Holes[i]
		at := back.Apply(h.At)
		if at.Sub(o.At).Norm() > 1e-4 || math.Abs(math.Abs(h.Loop.Area())-l.Area()) > 1e-4 {
			continue
		}
		o.At, o.Of = at, h.For
		switch {
		case h.Length > 0 && h.Diameter != nil:
			if h.TabOf != "" && h.For == "" {
				o.Of = "tab of " + h.TabOf
			} else if h.Tab != nil && h.For == "" {
				o.Of = "tab " + figure(h.Tab.Value) + " thick"
			}
			o.Size = "slot " + figure(h.Length) + " × " + figure(h.Diameter.Value)
		case h.Diameter != nil:
			o.D = h.Diameter.Value
			o.Size = "Ø" + figure(o.D)
		}
		o.sink(asm, pl, h)
		return o
	}
	if d, ok := roundness(l); ok {
		o.D, o.Size = d, "Ø"+figure(d)
	} else if length, width, ok := slotForm(l); ok {
		o.Size = "slot " + figure(length) + " × " + figure(width)
	}
	return o
}

func (o *Opening) sink(asm *layout.Assembly, pl *layout.Plate, h *layout.Hole) {
	switch s := h.Sink; {
	case s != nil && s.Diameter != nil:
		o.SinkD = s.Diameter.Value
		if s.Depth != nil {
			o.Sink = "counterbored Ø" + figure(o.SinkD) + " × " + figure(s.Depth.Value)
		} else {
			o.Sink = "countersunk Ø" + figure(o.SinkD) + " × " + figure(s.Angle) + "°"
		}
		if s.Assumed {
			o.Sink += " (assumed)"
		}
		o.Under = asm.SinkFace(pl, h) == shapes.Bottom
	case h.Press:
		o.Sink = "press nut"
		o.Under = h.HasFace && h.Face == shapes.Bottom
	}
	if o.Sink != "" {
		face := "top"
		if o.Under {
			face = "bottom"
		}
		o.Sink += ", " + face + " face"
	}
}

// roundness returns the diameter of a loop that is one circle.
func roundness(l geom.Loop) (float64, bool) {
	c := l.Centroid()
	d := 2 * math.Sqrt(math.Abs(l.Area())/math.Pi)
	for _, s := range l.Segs() {
		if !s.IsArc() || math.Abs(2*s.Radius()-d) > 1e-6 || s.Center().Sub(c).Norm() > 1e-6 {
			return 0, false
		}
	}
	return d, true
}

// slotForm returns the overall length and the width of a loop that is a slot with round
// ends.
func slotForm(l geom.Loop) (length, width float64, ok bool) {
	const near = 1e-4
	var middles []r2.Point
	for _, s := range l.Segs() {
		if !s.IsArc() {
			continue
		}
		if math.Abs(s.Bulge-1) > near || width > 0 && math.Abs(2*s.Radius()-width) > near {
			return 0, 0, false
		}
		middles, width = append(middles, s.Center()), 2*s.Radius()
	}
	if len(middles) != 2 {
		return 0, 0, false
	}
	length = middles[0].Sub(middles[1]).Norm() + width
	return length, width, math.Abs(l.Area()-width*(length-width)-math.Pi*width*width/4) < near*length
}

// letterOpenings gives each size a letter, those with most openings first, and each opening of a
// size a number, from the front backwards and from the left to the right.
func letterOpenings(os []Opening) {
	count := map[string]int{}
	key := func(o *Opening) string { return o.Size + "|" + o.Sink }
	for i := range os {
		count[key(&os[i])]++
	}
	slices.SortStableFunc(os, func(a, b Opening) int {
		if c := cmp.Compare(count[key(&b)], count[key(&a)]); c != 0 {
			return c
		}
		if c := cmp.Compare(key(&a), key(&b)); c != 0 {
			return c
		}
		if c := cmp.Compare(a.Of, b.Of); c != 0 {
			return c
		}
		if math.Abs(a.At.X-b.At.X) > 1e-6 {
			return cmp.Compare(b.At.X, a.At.X)
		}
		return cmp.Compare(b.At.Y, a.At.Y)
	})
	letters, n := 0, 0
	for i := range os {
		if i == 0 || key(&os[i]) != key(&os[i-1]) {
			letters++
			n = 0
		}
		n++
		os[i].letter = letterOf(letters)
		os[i].Label = fmt.Sprintf("%s%d", os[i].letter, n)
	}
}

// letterOf counts A, B, ... Z, AA, AB, ... without I and O, which read as figures (ISO 3098
// lettering leaves them out of such marks).
func letterOf(n int) string {
	const abc = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	s := ""
	for ; n > 0; n = (n - 1) / len(abc) {
		s = string(abc[(n-1)%len(abc)]) + s
	}
	return s
}

// alikeProfiles reports whether two profiles are the same within 1e-6 mm.
func alikeProfiles(a, b *Profile) bool {
	const near = 1e-6
	if !sameLoop(a.Outer, b.Outer, near) || len(a.Openings) != len(b.Openings) || a.Plates[0].Material != b.Plates[0].Material {
		return false
	}
	for i := range a.Openings {
		x, y := &a.Openings[i], &b.Openings[i]
		// Circles are compared by their centres: where their loops begin depends on the arm.
		if x.Size != y.Size || x.Sink != y.Sink || x.At.Sub(y.At).Norm() > near || x.D == 0 && !sameLoop(x.Loop, y.Loop, near) {
			return false
		}
	}
	return math.Abs(a.Plates[0].Thickness.Value-b.Plates[0].Thickness.Value) < near
}

// sameLoop reports whether two loops have the same vertices in order, wherever they start.
func sameLoop(a, b geom.Loop, near float64) bool {
	n := a.Len()
	if n != b.Len() {
		return false
	}
	for start := range n {
		same := true
		for i := 0; i < n && same; i++ {
			v, w := a.Vertex(i), b.Vertex(start+i)
			same = v.P.Sub(w.P).Norm() <= near && math.Abs(v.Bulge-w.Bulge) <= near
		}
		if same {
			return true
		}
	}
	return n == 0
}
