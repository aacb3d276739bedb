package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/shapes"
)

// placeAntennas stands the antennas on their bases: a stem that leans away from the
// face's outward normal, a head at its tip, and for T types the cross bar.
func (r *resolver) placeAntennas() {
	for _, s := range r.b.Antennas {
		g, ok := r.groundOf(s.On, "", s.At.P, nil)
		if !ok {
			continue
		}
		part := r.fill.part(s.Part)
		label := s.Name + " antenna"
		pose := g.poseOn(s.At.P, 0)
		c := &Component{
			ID: "antennas." + s.Name, Label: label, Kind: "antenna", Part: part, Pos: s.Pos, On: g.id, OnFace: s.On.Face,
			Pose: geom.Pose2{Shift: pose.Shift}, Flip: g.up < 0,
		}
		r.add(c, g.id, assumed(label+" set by hand", 0, tolByHand))
		c.Base = g.rest(one(geom.Circle(pose.Shift, max(0.5, antennaWidth(part)/2))))
		p := &AntennaPlace{Component: c, Ant: part.Antenna}
		sin, cos := geom.SinCos(degrees(s.Lean))
		u := bearing(s.Towards)
		dir := r3.Vector{X: sin * u.X, Y: sin * u.Y, Z: g.up * cos}
		r.antennaBodies(p, dir, u)
		c.Mass = Mass{Grams: massOf(part)}
		for i := range 3 {
			mid := (p.Base[i] + p.Tip[i]) / 2
			*[]*float64{&c.Mass.X, &c.Mass.Y, &c.Mass.Z}[i] = mid
		}
		r.asm.Antennas = append(r.asm.Antennas, p)
	}
}

func antennaWidth(p *shapes.Part) float64 {
	if p.Antenna == nil {
		return 0
	}
	return value(p.Antenna.RodD)
}

// antennaBodies makes the stem, the head and the cross bar along the unit vector dir
// from the base; u is the direction in plan in which the antenna leans.
func (r *resolver) antennaBodies(p *AntennaPlace, dir r3.Vector, u r2.Point) {
	base := vec(p.Pose.Shift, p.Component.Base.Nominal())
	p.Base = [3]float64{base.X, base.Y, base.Z}
	p.Tip = p.Base
	a := p.Ant
	if a == nil {
		return
	}
	rod, head := value(a.Rod), value(a.Head)
	stem := base.Add(dir.Mul(rod))
	tip := base.Add(dir.Mul(rod + head))
	p.Tip = [3]float64{tip.X, tip.Y, tip.Z}
	d := max(value(a.RodD), 0.5)
	if rod > 0 {
		r.rod(p, "stem", base, stem, d, Form{}, Form{}.Plus(a.Rod, dir.Z), a.RodD)
	}
	if head > 0 && value(a.HeadD) > 0 {
		r.rod(p, "head", stem, tip, a.HeadD.Value, Form{}.Plus(a.Rod, dir.Z), Form{}.Plus(a.Rod, dir.Z).Plus(a.Head, dir.Z), a.HeadD)
	}
	if span := value(a.Span); span > 0 {
		// The bar lies across the lean, level.
		half := r3.Vector{X: -u.Y, Y: u.X}.Mul(span / 2)
		level := Form{}.Plus(a.Rod, dir.Z).Plus(a.Head, dir.Z)
		r.rod(p, "bar", tip.Sub(half), tip.Add(half), d, level, level, a.RodD)
	}
}

// rod adds a round bar from a to b; za and zb are the heights of its ends over the
// base, as forms.
func (r *resolver) rod(p *AntennaPlace, name string, a, b r3.Vector, d float64, za, zb Form, across *shapes.Dim) {
	axis := b.Sub(a)
	l := axis.Norm()
	solid, err := geom.NewCylinder(d/2, l, geom.Upend(axis, a.Add(b).Mul(0.5)))
	if err != nil {
		r.note("%s: its %s could not be made (%v)", p.ID, name, err)
		return
	}
	lo, hi := za, zb
	if lo.Nominal() > hi.Nominal() {
		lo, hi = hi, lo
	}
	// The rim of a leaning cylinder stands r·sin(lean) beyond the end of its axis.
	flat := math.Hypot(axis.X, axis.Y)
	rim := d / 2 * flat / l
	body := &Body{
		ID: fmt.Sprintf("%s.%s", p.ID, name), Kind: AntennaBody, Part: p.Part, Soft: p.Ant.Soft,
		Plan:   one(geom.Capsule(r2.Point{X: a.X, Y: a.Y}, r2.Point{X: b.X, Y: b.Y}, d)),
		Bottom: p.Component.Base.Add(lo).Shift(-rim), Top: p.Component.Base.Add(hi).Shift(rim),
	}
	if flat > 1e-9 {
		body.Tilted = &solid
	}
	r.body(p.Component, body, sizeBlur(across))
}
