package layout

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// ground is a face that something can stand on.
type ground struct {
	id   string      // component that carries
	face shapes.Face // its own face, as it calls it
	pose geom.Pose2  // frame in which places on it are given, to the body frame
	up   float64     // +1: things stand on it; -1: they hang from it
	far  Form        // plates: height of the other face, for what goes round the plate
	flat Form        // height of the bare face
	// on are the bodies that stand on the face already and carry what is put over them;
	// nil for plates.
	on []*Body
}

// groundOf finds the face that t names; rotor says which copy of what exists once per
// rotor. path is the way of carriers so far.
func (r *resolver) groundOf(t *Target, rotor string, at r2.Point, path []string) (ground, bool) {
	g := ground{face: t.Face, up: 1}
	if t.Face == shapes.Bottom {
		g.up = -1
	}
	if t.Rotor != "" {
		rotor = t.Rotor
	}
	switch t.Kind {
	case TargetPlate:
		l := r.plates[t.Name]
		g.id = r.plateCopy(t, at)
		g.flat, g.far = l.top, l.bottom
	case TargetArms:
		rot := r.asm.rotor(rotor)
		p := r.rotorNamed(rotor)
		if rot == nil || p == nil || r.comps[rot.Arm] == nil {
			return g, false
		}
		pl := r.asm.plate(rot.Arm)
		g.id, g.pose = rot.Arm, p.armFrame()
		g.flat, g.far = pl.Top, pl.Bottom
	case TargetBoard, TargetMount, TargetBattery:
		id := t.ID()
		if t.Kind == TargetMount && t.Rotor == "" && rotor != "" && r.mounts.perRotor[t.Name] {
			id += "." + rotor
		}
		if !r.mounts.ready(r, t, path) {
			return g, false
		}
		c := r.comps[id]
		if c == nil {
			return g, false
		}
		g.id, g.pose = id, c.Pose
		if c.Flip {
			g.up = -g.up
		}
		g.flat, g.on = faceOf(c, t.Face)
		return g, true
	default:
		return g, false
	}
	if g.up < 0 {
		g.flat, g.far = g.far, g.flat
	}
	return g, true
}

// faceOf returns the height of a part's own face and the bodies on that side of it.
func faceOf(c *Component, f shapes.Face) (flat Form, on []*Body) {
	up := (f == shapes.Top) != c.Flip
	first := true
	for _, b := range c.Bodies {
		switch b.Kind {
		case PcbBody, PartBody, PackBody:
		case ZoneBody:
			if b.Face == f {
				on = append(on, b)
			}
			continue
		case CushionBody, StrapBody:
			on = append(on, b)
			continue
		default:
			continue
		}
		h := b.Bottom
		if up {
			h = b.Top
		}
		switch {
		case first:
			flat, first = h, false
		case up:
			flat = higher(flat, h)
		default:
			flat = lower(flat, h)
		}
	}
	return flat, on
}

// rest returns the height at which something with this footprint comes to lie: on the
// tallest thing under it.
func (g *ground) rest(plan []geom.Region) Form {
	h := g.flat
	box := boundOf(plan)
	for _, b := range g.on {
		top := b.Top
		if g.up < 0 {
			top = b.Bottom
		}
		if g.up*(top.Nominal()-h.Nominal()) <= 1e-9 || !boundOf(b.Plan).Intersects(box) || !overlap(plan, b.Plan) {
			continue
		}
		h = top
	}
	return h
}

// overlap reports whether the insides of two plans share a point: touching does not
// count.
func overlap(a, b []geom.Region) bool {
	return geom.DistanceSets(a, b).Dist < -1e-6
}

// poseOn turns a place on a carrier into the pose of the part in the body frame. A part
// on a face that looks down hangs with its top down; its plan is then mirrored.
func (g *ground) poseOn(at r2.Point, turn float64) geom.Pose2 {
	flip := (g.up < 0) != g.pose.Mirror
	return geom.Pose2{Turn: degrees(turn), Mirror: flip, Shift: at}.Then(g.pose)
}

// plateCopy is the component ID of the plate that t names; of an arm plate without a
// named copy, the one nearest to p.
func (r *resolver) plateCopy(t *Target, at r2.Point) string {
	s := r.plates[t.Name]
	if s == nil || !s.spec.EachRotor || t.Rotor != "" {
		return t.ID()
	}
	return r.plateAt([]string{t.Name}, at)
}

// plate returns the plate with this component ID, nil if there is none.
func (a *Assembly) plate(id string) *Plate {
	for _, p := range a.Plates {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// rotor returns the rotor of this name, nil if there is none.
func (a *Assembly) rotor(name string) *Rotor {
	for _, p := range a.Rotors {
		if p.Name == name {
			return p
		}
	}
	return nil
}
