package render

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// armCut is where an arm is broken off: across its axis at p, half wide to either side.
// What lies beyond belongs to the arm as far as lines at 45° from the ends of the cut.
type armCut struct {
	p, u   r2.Point // where the axis is cut, and outwards along it (unit)
	half   float64
	plates []string // components that are cut
	rim    [3]geom.Edge
}

func newArmCut(p, u r2.Point, half float64, plates []string) armCut {
	n := r2.Point{X: -u.Y, Y: u.X}
	a, b := p.Sub(n.Mul(half)), p.Add(n.Mul(half))
	const far = 1e4
	return armCut{p: p, u: u, half: half, plates: plates, rim: [3]geom.Edge{
		geom.EdgeOf(geom.Seg{A: a, B: b}),
		geom.EdgeOf(geom.Seg{A: a, B: a.Add(u.Sub(n).Mul(far))}),
		geom.EdgeOf(geom.Seg{A: b, B: b.Add(u.Add(n).Mul(far))}),
	}}
}

// axis is the arm's, from the cut outwards.
func (c *armCut) axis() geom.Axis { return geom.Axis{P: c.p, U: c.u} }

// gone reports whether q lies on the part that is broken off.
func (c *armCut) gone(q r2.Point) bool {
	along, left := c.axis().Coords(q)
	return along > 0 && math.Abs(left) < c.half+along
}

// Lengths of arms in mm: steps in which their width is measured, and how much of an arm is
// drawn beyond the body and beyond things that stand on it.
const (
	armStep   = 2.0
	armStub   = 5.0
	armBeyond = 3.0
)

// armCuts finds where the arms leave the body: where the plates, along the line to a rotor,
// have become hardly wider than the arm is for the most part. An arm that other things of
// the body lie on up to the motor is not broken off.
func armCuts(asm *layout.Assembly, sc *scene) []armCut {
	var out []armCut
	sheets := bodyPlates(sc)
	for _, r := range asm.Rotors {
		if slices.ContainsFunc(out, func(c armCut) bool {
			along, left := c.axis().Coords(r.At)
			return along > 0 && math.Abs(left) < 0.1
		}) {
			continue // the other rotor of a pair
		}
		u := r.ArmDir
		if u.Norm() < 0.5 {
			u = r.At
		}
		if u.Norm() < 1e-6 {
			continue
		}
		u = u.Normalize()
		root := r.At.Sub(u.Mul(r.At.Dot(u)))
		last := r.At.Dot(u) - 8
		if m := motorOf(r); m != nil && m.BellD != nil {
			last = r.At.Dot(u) - m.BellD.Value/2 - 3
		}
		var widths []float64
		for a := 0.0; a < last; a += armStep {
			lo, hi, _ := chord(sheets, root.Add(u.Mul(a)), u)
			widths = append(widths, hi-lo)
		}
		if len(widths) < 6 {
			continue
		}
		most := slices.Clone(widths[len(widths)*2/5:])
		slices.Sort(most)
		limit := most[len(most)/2]*1.15 + 0.5
		k := slices.IndexFunc(widths, func(w float64) bool { return w > 0 && w <= limit })
		if k < 0 {
			continue
		}
		at := math.Max(float64(k)*armStep+armStub, standsTo(sc, root, u, widths[k]/2+2)+armBeyond)
		if at > last {
			continue
		}
		p := root.Add(u.Mul(at))
		if lo, hi, plates := chord(sheets, p, u); hi > lo {
			out = append(out, newArmCut(p, u, math.Max(-lo, hi)+cutOver, plates))
		}
	}
	return out
}

// cutOver is how far a cut reaches beyond the edges of the arm, mm.
const cutOver = 0.5

// standsTo returns how far out along an arm, half wide to either side of its axis, other
// things than plates and their screws are drawn.
func standsTo(sc *scene, root, u r2.Point, half float64) float64 {
	most := 0.0
	axis := geom.Axis{P: root, U: u}
	for i := range sc.shadows {
		s := &sc.shadows[i]
		if s.body.Kind == layout.PlateBody && s.shown != Sweep || s.body.Kind == layout.FastenBody {
			continue
		}
		for _, o := range s.sides {
			for _, t := range [4]float64{0, 0.25, 0.5, 0.75} {
				if along, left := axis.Coords(o.Seg.At(t)); math.Abs(left) < half {
					most = math.Max(most, along)
				}
			}
		}
	}
	return most
}

// outlined is a plate of the body without its holes.
type outlined struct {
	id    string
	box   geom.Rect
	loops []geom.Loop
	sides []geom.Edge
}

func bodyPlates(sc *scene) []outlined {
	var out []outlined
	for i := range sc.shadows {
		s := &sc.shadows[i]
		if s.body.Kind == layout.PlateBody && s.shown != Sweep {
			loops := outer(s.loops)
			out = append(out, outlined{s.id, s.box, loops, sidesOf(loops)})
		}
	}
	return out
}

// chord returns how far plates reach to either side of p across u, and which they are;
// lo = hi where there is none.
func chord(sheets []outlined, p, u r2.Point) (lo, hi float64, plates []string) {
	across := geom.Axis{P: p, U: geom.Axis{U: u}.Left()}
	for i := range sheets {
		s := &sheets[i]
		if !s.box.Contains(p) || !slices.ContainsFunc(s.loops, func(l geom.Loop) bool { return l.Contains(p) }) {
			continue
		}
		a, c := across.Span(s.sides)
		if math.IsInf(a, 0) || math.IsInf(c, 0) {
			continue
		}
		lo, hi = math.Min(lo, a), math.Max(hi, c)
		plates = append(plates, s.id)
	}
	return lo, hi, plates
}

// breaksOff reports whether a body is drawn broken off: at the arms plates and the screws
// in them, in a pane everything.
func (v *view) breaksOff(s *shadow) bool {
	if v.pane != nil {
		return true
	}
	return len(v.arms) > 0 && s.shown != Sweep && (s.body.Kind == layout.PlateBody || s.body.Kind == layout.FastenBody)
}

// left returns what of a body's outline the view shows.
func (v *view) left(s *shadow, vs []geom.Vertex, closed bool) []edge {
	if v.breaksOff(s) {
		return v.clipArms(vs, closed)
	}
	return v.clip(vs, closed)
}

// clipArms returns what of an outline is left when the arms are broken off, within the pane.
func (v *view) clipArms(vs []geom.Vertex, closed bool) []edge {
	n := len(vs)
	last := n - 1
	if closed {
		last = n
	}
	var out []edge
	var run []geom.Vertex
	flush := func() {
		if len(run) > 1 {
			out = append(out, edge{v: run})
		}
		run = nil
	}
	cut := false
	var at []float64
	for i := range last {
		own := geom.EdgeOf(geom.Seg{A: vs[i].P, B: vs[(i+1)%n].P, Bulge: vs[i].Bulge})
		at = at[:0]
		for k := range v.arms {
			for j := range v.arms[k].rim {
				if rim := &v.arms[k].rim[j]; rim.Box.Intersects(own.Box) {
					at = own.Cuts(rim, at)
				}
			}
		}
		if v.pane != nil {
			for j := range v.pane.rim {
				at = own.Cuts(&v.pane.rim[j], at)
			}
		}
		for mid, piece := range own.Pieces(at) {
			if v.gone(mid) {
				cut = true
				flush()
				continue
			}
			if len(run) == 0 {
				run = append(run, geom.Vertex{P: piece.A})
			}
			run[len(run)-1].Bulge = piece.Bulge
			run = append(run, geom.Vertex{P: piece.B})
		}
	}
	if !cut {
		return []edge{{v: vs, closed: closed}}
	}
	flush()
	return out
}

// gone reports whether a point of the plan lies on an arm beyond where that is broken off, or
// outside the pane.
func (v *view) gone(q r2.Point) bool {
	if v.pane != nil && !v.pane.box.Contains(q) {
		return true
	}
	for i := range v.arms {
		if v.arms[i].gone(q) {
			return true
		}
	}
	return false
}

// armBreaks draws the lines at which the arms are broken off.
func (v *view) armBreaks(l *List) {
	for _, c := range v.arms {
		n := r2.Point{X: -c.u.Y, Y: c.u.X}.Mul(c.half - cutOver)
		h := Head{Layer: Dimension, ID: "body.breaks", Group: "body.breaks"}
		l.add(breakLine(h, v.point(c.p.Sub(n)), v.point(c.p.Add(n))))
	}
}

// breakLine is a line at which a view is broken off (ISO 128-2) in any direction, from a to
// b and a little beyond, with one kink in the middle.
func breakLine(h Head, a, b r2.Point) Path {
	const over, kink = 2.0, 1.2
	u := b.Sub(a)
	if u.Norm() < 1e-9 {
		u = r2.Point{Y: 1}
	}
	u = u.Normalize()
	n := r2.Point{X: -u.Y, Y: u.X}
	m := a.Add(b).Mul(0.5)
	p := func(along, across float64) geom.Vertex {
		return geom.Vertex{P: m.Add(u.Mul(along)).Add(n.Mul(across))}
	}
	return Path{Head: h, V: []geom.Vertex{
		{P: a.Sub(u.Mul(over))}, p(-kink/2, 0), p(-kink/4, -kink), p(kink/4, kink), p(kink/2, 0), {P: b.Add(u.Mul(over))}}}
}
