package layout

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// spareThread is how much of a blind thread, or of what a motor's base offers before the
// winding, must stay unused, mm.
const spareThread = 0.5

// motorCircle is the pattern that a motor is fastened by: of those that its class is sold
// with the one whose holes lie nearest to the plate's; the usual one without any.
func motorCircle(m *shapes.Motor, pose geom.Pose2, p *Plate) *shapes.BoltCircle {
	if len(m.Circles) == 0 {
		return nil
	}
	best, least := 0, math.Inf(1)
	for i := range m.Circles {
		off := 0.0
		at := circlePoints(&m.Circles[i], pose)
		for _, q := range at {
			near := math.Inf(1)
			for k := range p.Holes {
				near = math.Min(near, p.Holes[k].At.Sub(q).Norm())
			}
			off += near / float64(len(at))
		}
		if off < least-settle {
			best, least = i, off
		}
	}
	return &m.Circles[best]
}

// circlePoints lists where the threaded holes of a motor stand.
func circlePoints(c *shapes.BoltCircle, pose geom.Pose2) []r2.Point {
	var out []r2.Point
	for i := range c.Count {
		radius := value(c.Diameter) / 2
		if c.Across != nil && i%2 == 1 {
			radius = c.Across.Value / 2
		}
		out = append(out, pose.Apply(bearing(c.Turn+360*float64(i)/float64(c.Count)).Mul(radius)))
	}
	return out
}

// motorScrews finds the screws from under the arm into the motor's base.
func (r *resolver) motorScrews(rot *Rotor) {
	plan := r.rotorNamed(rot.Name)
	m := rot.Motor.Part.Motor
	var arm *Plate
	for _, p := range r.asm.Plates {
		if p.ID == rot.Arm {
			arm = p
		}
	}
	if m == nil || arm == nil || plan == nil {
		return
	}
	c := motorCircle(m, rot.Motor.Pose, arm)
	if c == nil || c.Screw == "" {
		return
	}
	dir := -1.0
	if rot.Below {
		dir = 1
	}
	owner := r.owner("rotors."+rot.Name+".motor-screws", rot.Name+" motor screws", rot.Pos, rot.Arm, rot.Place)
	for _, at := range circlePoints(c, rot.Motor.Pose) {
		f := r.screwOf(MotorScrew, c.Screw, plan.spec.Screw, "motors", rot.Pos)
		plates := reversed(r.column(at, rot.MountZ, dir, f.headSize()))
		face, seat := r.clamp(f, plates, rot.Below)
		least := shapes.MotorEngagement(majorOf(f.Size))
		f.Into = Engagement{
			What: "the motor", Component: rot.Motor.ID, Material: "aluminium", Least: Fixed(least), HasMost: true,
			Most: Of(or(m.ThreadUsable, rot.Motor.Part.Name+" usable thread")).Shift(-spareThread), Aim: least + 0.5,
			LeastWhy: "what a screw must at least have in a motor's base", MostWhy: "the usable thread less 0.5 before the winding",
		}
		if m.Penetration != nil {
			f.Into.Aim = m.Penetration.Value
		}
		r.heads(r.join(owner, r.group(f), at, face, seat, !rot.Below))
	}
	r.weigh(owner)
}

func reversed(list []passed) []passed {
	out := make([]passed, len(list))
	for i := range list {
		out[len(list)-1-i] = list[i]
	}
	return out
}

// Props on T-mounts are held by two M2 screws 5.0 apart, one on each side of the shaft;
// 2 to 2.5 of them reach into the bell, which has 2.5 (2 to 3.5) of thread.
const (
	propScrewSize    = "M2"
	propScrewSpacing = 5.0
	propScrewAim     = 2.0
)

// sharedMount is the way in which a prop goes on a motor: the first of the motor's that
// the prop has as well, "" if there is none.
func sharedMount(m *shapes.Motor, p *shapes.Prop) string {
	for _, a := range m.Mounts {
		for _, b := range p.Mounts {
			if strings.EqualFold(a, b) {
				return strings.ToLower(a)
			}
		}
	}
	return ""
}

// propScrews finds what holds the prop: two screws into the bell, a nut, or nothing on
// press fits.
func (r *resolver) propScrews(rot *Rotor) {
	plan := r.rotorNamed(rot.Name)
	m, p := rot.Motor.Part.Motor, rot.Prop.Part.Prop
	if m == nil || p == nil || plan == nil {
		return
	}
	mount := sharedMount(m, p)
	switch {
	case strings.HasPrefix(mount, "t-"):
		owner := r.owner("rotors."+rot.Name+".prop-screws", rot.Name+" prop screws", rot.Pos, rot.Prop.ID, rot.Place)
		for _, side := range []float64{1, -1} {
			f := r.screwOf(PropScrew, propScrewSize, plan.spec.PropScrew, "props", rot.Pos)
			hub := or(p.HubT, rot.Prop.Part.Name+" hub thickness")
			f.Layers = append(f.Layers, Layer{Name: "prop hub", Kind: "hub", Thickness: Of(hub), Component: rot.Prop.ID})
			f.sum()
			f.Into = Engagement{
				What: "the bell", Component: rot.Motor.ID, Material: "aluminium", Least: Fixed(shapes.MotorEngagement(2)), HasMost: true,
				Most: Of(r.bellThread(m)), Aim: propScrewAim,
				LeastWhy: "what an M2 screw must at least have in a bell", MostWhy: "the thread of the bell, over the winding",
			}
			at := rot.Motor.Pose.Apply(r2.Point{X: side * propScrewSpacing / 2})
			seat := rot.Seat.Plus(hub, 1)
			if rot.Below {
				seat = rot.Seat.Plus(hub, -1)
			}
			j := r.join(owner, r.group(f), at, seat, seat, rot.Below)
			if side < 0 {
				r.spunHeads(owner, j, rot.At)
			}
		}
		r.weigh(owner)
	case mount == "m5" || mount == "m6":
		owner := r.owner("rotors."+rot.Name+".prop-nut", rot.Name+" prop nut", rot.Pos, rot.Prop.ID, rot.Place)
		f := &Fastening{Kind: PropNut, Size: strings.ToUpper(mount), Step: "props", Pos: rot.Pos}
		kind := "insert"
		if rot.Nut == "plain" || rot.Nut == "left-hand" {
			kind = rot.Nut
		}
		_, high := nutOf([]string{mount})
		f.Nut = &NutUse{Kind: kind, Material: "steel", Height: Fixed(high)}
		f.Into = Engagement{What: "the motor's stub", Component: rot.Motor.ID, Material: "aluminium"}
		for _, g := range r.asm.Fastenings {
			if g.Kind == PropNut && g.Size == f.Size && g.Nut.Kind == kind {
				f = g
			}
		}
		if len(f.Members) == 0 {
			f.Found = true
			r.asm.Fastenings = append(r.asm.Fastenings, f)
		}
		r.join(owner, f, rot.At, rot.Seat, rot.Seat, rot.Below)
		r.weigh(owner)
	}
}

// spunHeads makes a body of the heads of a prop's two screws, which turn with it: the disc
// that they sweep round the axis. It counts as part of the hub, as nuts do.
func (r *resolver) spunHeads(owner *Component, j *Joint, axis r2.Point) {
	if j.Head == nil {
		return
	}
	up := 1.0
	if j.Up {
		up = -1
	}
	wide := assumed(j.Size+" heads over both", propScrewSpacing+j.Head.D, 0)
	top := j.Seat.Plus(assumed(j.Size+" head height", j.Head.H, 0), up)
	r.metal(r.between(owner, "heads", HubBody, disc(axis, wide), j.Seat, top, sizeBlur(wide)), j.Material)
}

// bellThread is the depth of thread in the bell of a T-mount, the same Dim for all motors
// of the craft that do not say it.
func (r *resolver) bellThread(m *shapes.Motor) *shapes.Dim {
	if m.BellThread != nil {
		return m.BellThread
	}
	if r.bell == nil {
		r.bell = &shapes.Dim{
			Name: "usable thread in the bell", Value: 2.5, Plus: 1, Minus: 0.5, Unit: shapes.MM, HasTol: true, Range: true,
			Source: shapes.Catalogue, TolSource: shapes.Catalogue, Conf: "K", Kind: "trade",
		}
	}
	return r.bell
}
