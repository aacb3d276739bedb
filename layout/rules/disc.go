package rules

import (
	"math"
	"strings"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// knot is a need at one prop diameter.
type knot struct{ inch, mm float64 }

// scaled returns the need at a prop diameter of d mm: linear between the knots, level
// outside them. The knots ascend.
func scaled(d float64, knots ...knot) float64 {
	in := d / 25.4
	last := knots[0]
	if in <= last.inch {
		return last.mm
	}
	for _, k := range knots[1:] {
		if in <= k.inch {
			return last.mm + (k.mm-last.mm)*(in-last.inch)/(k.inch-last.inch)
		}
		last = k
	}
	return last.mm
}

// propOf returns the prop class of a rotor, nil if the build names none.
func propOf(r *layout.Rotor) *shapes.Prop {
	if r.Prop == nil || r.Prop.Part == nil {
		return nil
	}
	return r.Prop.Part.Prop
}

// motorOf returns the motor class of a rotor, nil if the build names none.
func motorOf(r *layout.Rotor) *shapes.Motor {
	if r.Motor == nil || r.Motor.Part == nil {
		return nil
	}
	return r.Motor.Part.Motor
}

// labelD is the diameter in mm by which needs are scaled: the label of the prop, or its
// real diameter if the label is not known.
func labelD(r *layout.Rotor) float64 {
	return r.LabelD()
}

func motorID(r *layout.Rotor) string {
	if r.Motor == nil {
		return "rotors." + r.Name
	}
	return r.Motor.ID
}

func propID(r *layout.Rotor) string {
	if r.Prop == nil {
		return "rotors." + r.Name
	}
	return r.Prop.ID
}

// ownedBy reports whether a body is the rotor's own motor, prop or hub.
func ownedBy(r *layout.Rotor, b *layout.Body) bool {
	return b.Of == motorID(r) || b.Of == propID(r) || strings.HasPrefix(b.ID, "rotors."+r.Name+".")
}

// carried returns what moves the rotor's axis in plan: the place of its motor, with all
// that the motor rides on.
func carried(r *layout.Rotor) (blur layout.Form, rides []*shapes.Dim) {
	if r.Motor != nil {
		for _, b := range r.Motor.Bodies {
			for _, d := range b.Rides {
				if k := coefOf(b.Blur, d); k != 0 && coefOf(blur, d) == 0 {
					blur = blur.Plus(d, k)
					rides = append(rides, d)
				}
			}
		}
	}
	if r.Place != nil && !holds(rides, r.Place) {
		blur = blur.Plus(r.Place, 1)
		rides = append(rides, r.Place)
	}
	return blur, rides
}

// sweptBand is the nominal height interval that the blades take with flex.
func sweptBand(r *layout.Rotor) r1.Interval {
	return r1.Interval{Lo: r.SweptLo.Nominal(), Hi: r.SweptHi.Nominal()}
}

// reach is how a body lies to a rotor's disc.
type reach struct {
	radial clearance // in plan, from the tip circle (A) to the body (B)
	around bool      // the body surrounds the disc: a duct or guard ring
	tilted bool      // its heights and outline only enclose it

	// Heights, positive when apart. The motor's side of a disc is below it for motors
	// above their arm, and above it for motors below.
	rest   layout.Form // motor's side: body to the nearest blade point at rest
	flexed layout.Form // motor's side: body to the blades at full flex
	over   layout.Form // other side: blades at full flex to the body
}

// reachOf measures a body against the disc of a rotor.
//
// The radial gap is the distance from the axis to the body less the tip radius. If the
// axis passes through the body the gap is minus the tip radius and minus the least way
// out of the body.
func reachOf(r *layout.Rotor, b *layout.Body) reach {
	var out reach
	at, dist, inside := edgeOf(b.Plan, r.At)
	if math.IsInf(dist, 1) {
		out.radial.Empty = true
		return out
	}
	outward := unit(at.Sub(r.At), r.ArmDir.Mul(-1))
	radius := r.Radius.Nominal()
	if inside {
		dist, outward = -dist, outward.Mul(-1)
	}
	blur, rides := carried(r)
	gap := narrowed(dist, closing(blur, rides, b.Blur, b.Rides)).Sub(r.Radius)
	out.radial = clearance{Form: gap, A: r.At.Add(outward.Mul(radius)), B: at, Push: outward}
	// The hole for a shaft end is no ring.
	out.around = !inside && dist > radius/2 && isRing(r, b)
	out.tilted = b.Tilted != nil
	if r.Below {
		out.rest = b.Bottom.Sub(r.Hi)
		out.flexed = b.Bottom.Sub(r.SweptHi)
		out.over = r.SweptLo.Sub(b.Top)
	} else {
		out.rest = r.Lo.Sub(b.Top)
		out.flexed = r.SweptLo.Sub(b.Top)
		out.over = b.Bottom.Sub(r.SweptHi)
	}
	return out
}

// isRing reports whether the outline of a body goes round the axis of a rotor. A ring with slits
// for leads is one as well, as long as nine of ten ways out of it are barred.
func isRing(r *layout.Rotor, b *layout.Body) bool {
	radius := r.Radius.Nominal()
	for _, g := range b.Plan {
		if len(g.Holes) > 0 && g.Outer.Contains(r.At) {
			return true
		}
		box := g.Bound()
		if !(box.Lo.X < r.At.X-radius && box.Lo.Y < r.At.Y-radius && r.At.X+radius < box.Hi.X && r.At.Y+radius < box.Hi.Y) || g.Contains(r.At) {
			continue
		}
		const ways = 72 // 5 degrees: 2.8 mm at the tip of a prop of 2.5 inch
		barred := 0
		for k := 0.0; k < ways; k++ {
			sin, cos := math.Sincos(2 * math.Pi * k / ways)
			way := geom.Capsule(r.At, r.At.Add(r2.Point{X: cos, Y: sin}.Mul(ringReach*radius)), 1e-3)
			if geom.Distance(geom.RegionOf(way), g).Dist <= 0 {
				barred++
			}
		}
		if 10*barred >= 9*ways {
			return true
		}
	}
	return false
}

// ringReach is how far out, in radii of the prop, what bars a way still belongs to its ring.
const ringReach = 1.3

// touch is the least height difference in mm that counts as apart.
const touch = 1e-6

// meets reports whether the body's height interval meets the swept band as drawn.
func (m *reach) meets() bool {
	return m.flexed.Nominal() <= touch && m.over.Nominal() <= touch
}

// mayMeet reports whether it meets the band at worst case.
func (m *reach) mayMeet() bool {
	lo, _ := m.flexed.Worst()
	lo2, _ := m.over.Worst()
	return lo <= touch && lo2 <= touch
}

// within reports whether the body reaches under or over the disc as drawn.
func (m *reach) within() bool { return m.radial.Form.Nominal() < -touch }

// lacksHeight lists the missing dimensions without which nobody can tell whether the
// body stands as high as the blades.
func (m *reach) lacksHeight() []*shapes.Dim {
	return append(m.flexed.Missing(), m.over.Missing()...)
}

// ofUnderside reports whether prop-underside judges this body, else prop-sweep does. It
// is for what lies under the disc on the motor's side: all of it that stays out of the
// swept band, and of what enters the band that which is nearer to coming free in height
// than sideways (a tie head that is 1 mm too tall rather than a post that goes through
// the disc near its rim).
func (m *reach) ofUnderside(r *layout.Rotor) bool {
	if m.radial.Empty || !m.within() {
		return false
	}
	if len(m.lacksHeight()) > 0 {
		return len(m.over.Missing()) == 0 && m.over.Nominal() < 0
	}
	if !m.meets() {
		return m.flexed.Nominal() > touch
	}
	if m.tilted {
		return false // it may enter the band elsewhere than under the disc: measured in space
	}
	d := labelD(r)
	height := undersideNeed(d) - m.rest.Nominal()
	sideways := sweepNeed(d) - m.radial.Form.Nominal()
	return height < sideways
}

// sweepNeed is the least radial gap in mm from the tips of a prop of d mm to hard parts.
func sweepNeed(d float64) float64 {
	return layout.SweepNeed(d)
}

// undersideNeed is the least height in mm under the blades at rest of a prop of d mm.
func undersideNeed(d float64) float64 {
	return scaled(d, knot{3, 3}, knot{5, 5}, knot{7, 8}, knot{10, 10})
}

// guardNeed is the least radial gap in mm inside a duct or guard ring: half a
// millimetre per inch of prop, at least 1.
func guardNeed(d float64) float64 { return math.Max(1, 0.5*d/25.4) }

// inTheWay returns the bodies that a disc must keep clear of: all but the rotor's own,
// with each pack over the whole length that it may slide.
func inTheWay(asm *layout.Assembly, r *layout.Rotor) []*layout.Body {
	out := make([]*layout.Body, 0, len(asm.Bodies))
	for _, b := range asm.Bodies {
		if b.Kind == layout.PackBody || ownedBy(r, b) {
			continue
		}
		out = append(out, b)
	}
	for _, k := range asm.Packs {
		switch {
		case k.SweptBody != nil:
			out = append(out, k.SweptBody)
		case k.Body != nil:
			out = append(out, k.Body)
		}
	}
	return out
}

// band returns the room that the blades take, as a body.
func band(r *layout.Rotor) geom.Upright {
	disc := geom.RegionOf(geom.Circle(r.At, r.Radius.Nominal()))
	return geom.Upright{Plan: []geom.Region{disc}, Z: sweptBand(r)}
}

// tiltedGap measures a tilted body against the swept band in space. The tolerances enter
// by the direction of the gap: those in plan with its horizontal share, those in height
// with its vertical one.
func tiltedGap(r *layout.Rotor, b *layout.Body) (f layout.Form, g geom.Gap3) {
	g = geom.DistanceBodies(band(r), *b.Tilted)
	n := g.Push
	if d := g.B.Sub(g.A); g.Dist > touch && d.Norm() > 0 {
		n = d.Normalize()
	}
	blur, rides := carried(r)
	flat := narrowed(0, closing(blur, rides, b.Blur, b.Rides)).Sub(deviation(r.Radius))
	f = layout.Fixed(g.Dist).Add(flat.Scale(math.Hypot(n.X, n.Y)))
	if n.Z > 0 {
		f = f.Add(deviation(b.Bottom.Sub(r.SweptHi)).Scale(n.Z))
	} else if n.Z < 0 {
		f = f.Add(deviation(r.SweptLo.Sub(b.Top)).Scale(-n.Z))
	}
	return f, g
}
