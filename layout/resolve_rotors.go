package layout

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// rotorPlan is a rotor in plan, before any height is known.
type rotorPlan struct {
	spec  *RotorSpec
	at    r2.Point
	dir   r2.Point // unit, outwards along the arm
	place *shapes.Dim
	motor *shapes.Part
	prop  *shapes.Part
	first bool // the first on its axis; the lower one of a pair is not
}

// maxRotors bounds what one craft may have.
const maxRotors = 64

// planRotors finds where every rotor axis stands.
//
// On a circle of diameter W the axis at bearing b is (W/2)(cos b, sin b); the corners of
// a stretched layout are (±length/2, ±width/2).
func (r *resolver) planRotors() {
	set := r.b.Rotors
	if set == nil {
		return
	}
	r.asm.RotorLayout, r.asm.Wheelbase = set.Layout, set.Wheelbase
	if set.Layout == LayoutStretched && set.Length != nil && set.Width != nil {
		// The diagonal stands in for the wheelbase that a stretched layout has not.
		d := *set.Length
		d.Name, d.Value = "wheelbase", math.Hypot(set.Length.Value, set.Width.Value)
		r.asm.Wheelbase = &d
	}
	if len(set.Rotors) > maxRotors {
		r.fail(set.Pos, "rotors", fmt.Sprintf("%d rotors are more than this tool places", len(set.Rotors)), fmt.Sprintf("at most %d", maxRotors), "")
		return
	}
	for _, s := range set.Rotors {
		p := &rotorPlan{spec: s, motor: r.fill.part(s.Motor), prop: r.fill.part(s.Prop)}
		u := bearing(s.Bearing)
		tol := tolMotor
		switch {
		case s.At != nil:
			p.at = s.At.P
		case set.Layout == LayoutStretched:
			p.at = r2.Point{X: math.Copysign(value(set.Length)/2, u.X), Y: math.Copysign(value(set.Width)/2, u.Y)}
			tol += max(halfTol(set.Length), halfTol(set.Width))
		default:
			p.at = u.Mul(value(set.Wheelbase) / 2)
			tol += halfTol(set.Wheelbase)
		}
		p.dir = r2.Point{X: 1}
		if n := p.at.Norm(); n > 1e-9 {
			p.dir = p.at.Mul(1 / n)
			if s.At == nil && set.Layout != LayoutStretched {
				p.dir = u
			}
		}
		p.first = true
		for _, q := range r.rotors {
			if q.at.Sub(p.at).Norm() < 1e-9 {
				p.first, p.place = false, q.place // one arm carries both
			}
		}
		if p.place == nil {
			p.place = assumed(s.Name+" motor position", 0, tol)
		}
		r.rotors = append(r.rotors, p)
	}
}

// halfTol is how far an end of a length may move: half its tolerance.
func halfTol(d *shapes.Dim) float64 {
	if d == nil {
		return 0
	}
	return max(d.Plus, d.Minus) / 2
}

// rotorNamed returns the plan of a rotor, nil if there is none of that name.
func (r *resolver) rotorNamed(name string) *rotorPlan {
	for _, p := range r.rotors {
		if p.spec.Name == name {
			return p
		}
	}
	return nil
}

// armFrame is the frame with x outwards along the arm and its origin on the motor axis.
func (p *rotorPlan) armFrame() geom.Pose2 { return frame(p.at, p.dir) }

// motorPose is the motor's frame: its x axis points to the first mounting hole.
func (p *rotorPlan) motorPose() geom.Pose2 {
	return geom.Pose2{Turn: p.armFrame().Turn + degrees(p.spec.Clocking), Mirror: p.spec.Below, Shift: p.at}
}

// placeRotors puts motors on their arms and props on the motors.
func (r *resolver) placeRotors() {
	var bare []*rotorPlan
	for _, p := range r.rotors {
		arm := r.armOf(p)
		if arm == nil && p.spec.Height == nil {
			bare = append(bare, p)
			continue
		}
		r.placeRotor(p, arm)
	}
	r.failBare(bare)
	r.sortRotors()
}

// failBare reports rotors that no plate reaches, those of one place in the file together.
func (r *resolver) failBare(bare []*rotorPlan) {
	for len(bare) > 0 {
		pos := bare[0].spec.Pos
		var names []string
		var rest []*rotorPlan
		for _, p := range bare {
			if p.spec.Pos != pos {
				rest = append(rest, p)
				continue
			}
			names = append(names, fmt.Sprintf("%s (%s, %s)", p.spec.Name, mm(p.at.X), mm(p.at.Y)))
		}
		r.fail(pos, "rotors", "no plate reaches the motor axis of "+strings.Join(names, ", "), "a plate under every motor",
			"draw an arm to it (`arms:` in the outline draws one to each), name the plate with `rotors: {on: ...}`, or say the height of the mounting face")
		bare = rest
	}
}

func (r *resolver) placeRotor(p *rotorPlan, arm *Plate) {
	s := p.spec
	up := 1.0
	if s.Below {
		up = -1
	}
	var mount Form
	carrier := ""
	switch {
	case s.Height != nil:
		height := *s.Height
		fillTol(&height, tolMeasured)
		mount = Of(&height)
	case s.Below:
		mount = arm.Bottom
	default:
		mount = arm.Top
	}
	if arm != nil {
		carrier = arm.ID
	}
	base := "rotors." + s.Name
	rot := &Rotor{
		Name: s.Name, At: p.at, Below: s.Below, Clockwise: s.Clockwise, Arm: carrier,
		ArmDir: p.dir, Clocking: s.Clocking, MountZ: mount, Pos: s.Pos,
		Hand: s.Hand, Nut: s.Nut, Coaxial: s.Coaxial, Place: p.place,
	}
	face := shapes.Top
	if s.Below {
		face = shapes.Bottom
	}

	m := p.motor
	rot.Motor = &Component{
		ID: base + ".motor", Label: s.Name + " motor", Kind: "motor", Part: m, Pos: s.Pos,
		On: carrier, OnFace: face, Pose: p.motorPose(), Flip: s.Below, Base: mount,
	}
	r.add(rot.Motor, "", p.place)
	seat := mount
	if mo := m.Motor; mo != nil {
		body := or(mo.BodyH, m.Name+" body height")
		seat = mount.Plus(body, up)
		bellLow := mount
		if mo.BaseD != nil && mo.BellGap != nil && mo.BellGap.Value > 0 && mo.BellGap.Value < body.Value {
			bellLow = mount.Plus(mo.BellGap, up)
			r.between(rot.Motor, "base", MotorBody, disc(p.at, mo.BaseD), mount, bellLow, sizeBlur(mo.BaseD))
		}
		bell := or(mo.BellD, m.Name+" bell diameter")
		r.between(rot.Motor, "bell", MotorBody, disc(p.at, bell), bellLow, seat, sizeBlur(bell))
	}
	rot.Seat = seat
	rot.Motor.Mass = partMass(rot.Motor)

	q := p.prop
	rot.Prop = &Component{
		ID: base + ".prop", Label: s.Name + " prop", Kind: "prop", Part: q, Pos: s.Pos,
		On: rot.Motor.ID, OnFace: face, Pose: geom.Pose2{Mirror: s.Below, Shift: p.at}, Flip: s.Below, Base: seat,
	}
	r.add(rot.Prop, rot.Motor.ID)
	if pr := q.Prop; pr != nil {
		hub := or(pr.HubT, q.Name+" hub thickness")
		far := seat.Plus(hub, up)
		near := seat.Plus(or(pr.BelowHub, q.Name+" below hub"), -up)
		rot.Lo, rot.Hi = near, far
		if s.Below {
			rot.Lo, rot.Hi = far, near
		}
		rot.SweptLo = rot.Lo.Plus(or(pr.FlexDown, q.Name+" flex down"), -1)
		rot.SweptHi = rot.Hi.Plus(or(pr.FlexUp, q.Name+" flex up"), 1)
		rot.Radius = Form{}.Plus(or(pr.RealD, q.Name+" real diameter"), 0.5)
		hubD := or(pr.HubD, q.Name+" hub diameter")
		r.between(rot.Prop, "hub", HubBody, disc(p.at, hubD), seat, far, sizeBlur(hubD))
		r.stub(rot, p, m.Motor, far, up)
	}
	rot.Prop.Mass = Mass{Grams: massOf(q), X: p.at.X, Y: p.at.Y, Z: (rot.Lo.Nominal() + rot.Hi.Nominal()) / 2}
	r.asm.Rotors = append(r.asm.Rotors, rot)
}

// stub adds what stands beyond the hub: the end of the shaft, with its nut on
// nut-mounted motors.
func (r *resolver) stub(rot *Rotor, p *rotorPlan, m *shapes.Motor, far Form, up float64) {
	if m == nil {
		return
	}
	end, wide := far, value(m.Shaft)
	switch {
	case m.OverallH != nil:
		end = rot.MountZ.Plus(m.OverallH, up)
	case m.Stub != nil:
		end = rot.Seat.Plus(m.Stub, up)
	}
	if m.Stub != nil {
		d, h := nutOf(m.Mounts)
		wide = max(wide, d)
		if nutTop := far.Shift(up * h); up*nutTop.Nominal() > up*end.Nominal() {
			end = nutTop
		}
	}
	if wide <= 0 || up*end.Nominal() <= up*far.Nominal()+1e-9 {
		return
	}
	r.between(rot.Prop, "stub", HubBody, geom.Circle(p.at, wide/2), far, end, Form{})
}

// nutOf returns the flange diameter and the height of the prop nut of a motor: M5
// flange nuts with insert are up to 11.8 across and 6.3 high, M6 ones 10 across flats
// (11.5 across corners) and about 8 high.
func nutOf(mounts []string) (d, h float64) {
	for _, m := range mounts {
		switch strings.ToLower(m) {
		case "m5":
			return 11.8, 6.3
		case "m6":
			return 11.8, 8
		}
	}
	return 0, 0
}

// between adds an upright body between two heights given in either order.
func (r *resolver) between(c *Component, name string, k Kind, plan geom.Loop, a, b Form, blur Form) *Body {
	return r.slab(c, name, k, one(plan), a, b, blur)
}

// disc is a circle of this diameter. One that nobody gave is drawn 1 mm wide, so that
// there is something to measure from; the figure is missing in the body's blur.
func disc(at r2.Point, d *shapes.Dim) geom.Loop { return geom.Circle(at, drawn(d)/2) }

// drawn is a size to draw with: 1 mm where nobody gave it.
func drawn(d *shapes.Dim) float64 {
	if v := value(d); v > 0 {
		return v
	}
	return 1
}

// slab is [resolver.between] for a plan of several regions.
func (r *resolver) slab(c *Component, name string, k Kind, plan []geom.Region, a, b Form, blur Form) *Body {
	if under(b, a) {
		a, b = b, a
	}
	id := c.ID
	if name != "" {
		id += "." + name
	}
	return r.body(c, &Body{ID: id, Kind: k, Part: c.Part, Plan: plan, Bottom: a, Top: b}, blur)
}

// under reports whether height a lies under height b. Where they are equal because what
// lies between was never given, the sign of that decides.
func under(a, b Form) bool {
	gap := b.Sub(a)
	if v := gap.Nominal(); v > 1e-12 || v < -1e-12 {
		return v > 0
	}
	for _, t := range gap.Terms {
		if t.Dim.Missing {
			return t.Coef > 0
		}
	}
	return false
}

// armOf finds the plate that carries a rotor: the one that the build names, else its own
// arm plate, else one with holes for motors there, else one whose outline reaches there.
// Of several, a motor above stands on the highest and a motor below hangs from the
// lowest.
func (r *resolver) armOf(p *rotorPlan) *Plate {
	better := func(a, b *Plate) *Plate {
		switch {
		case a == nil:
			return b
		case p.spec.Below && b.Bottom.Nominal() < a.Bottom.Nominal()-1e-9:
			return b
		case !p.spec.Below && b.Top.Nominal() > a.Top.Nominal()+1e-9:
			return b
		}
		return a
	}
	if on := r.b.Rotors.On; on != nil {
		for _, pl := range r.asm.Plates {
			if pl.Name == on.Name && (pl.ArmOf == "" || r.sameAxis(pl.ArmOf, p)) {
				return pl
			}
		}
		return nil
	}
	var own, ownDrilled, drilled, under *Plate
	for _, pl := range r.asm.Plates {
		holes := pl.hasMotorHoles(p.at)
		switch {
		case pl.ArmOf != "" && r.sameAxis(pl.ArmOf, p):
			own = better(own, pl)
			if holes {
				ownDrilled = better(ownDrilled, pl)
			}
		case pl.ArmOf != "":
		case holes:
			drilled = better(drilled, pl)
		case covers(pl.Solid, p.at):
			under = better(under, pl)
		}
	}
	for _, c := range []*Plate{ownDrilled, own, drilled, under} {
		if c != nil {
			return c
		}
	}
	return nil
}

func (r *resolver) sameAxis(name string, p *rotorPlan) bool {
	q := r.rotorNamed(name)
	return q != nil && q.at.Sub(p.at).Norm() < 1e-9
}

// hasMotorHoles reports whether the plate has holes made for a motor near p.
func (p *Plate) hasMotorHoles(at r2.Point) bool {
	for i := range p.Holes {
		if p.Holes[i].For == "motors" && p.Holes[i].At.Sub(at).Norm() < 20 {
			return true
		}
	}
	return false
}

func covers(plan []geom.Region, p r2.Point) bool {
	for i := range plan {
		if plan[i].Contains(p) {
			return true
		}
	}
	return false
}

// sortRotors keeps rotors written by hand in the order of their names, so that the
// order of the file's keys means nothing; other layouts go round the circle.
func (r *resolver) sortRotors() {
	if r.b.Rotors == nil || r.b.Rotors.Layout != LayoutByHand {
		return
	}
	sortBy(r.asm.Rotors, func(p *Rotor) string { return p.Name })
}
