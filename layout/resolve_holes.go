package layout

import (
	"fmt"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// driller collects the holes of one plate.
type driller struct {
	r    *resolver
	lvl  *plateLevel
	arm  *rotorPlan // the rotor of an arm plate's copy
	spec *HoleSpec
	dims map[*shapes.Dim]*shapes.Dim
	out  []Hole
	n    int // holes of the entry so far
}

// holesOf makes the holes of a plate in the body frame. Places in a plate that is
// shifted shift with it; those of an arm plate are in the frame of its rotor.
func (r *resolver) holesOf(lvl *plateLevel, arm *rotorPlan) []Hole {
	d := &driller{r: r, lvl: lvl, arm: arm, dims: map[*shapes.Dim]*shapes.Dim{}}
	for _, s := range lvl.spec.Holes {
		d.spec, d.n = s, 0
		if r.tooMany(len(s.At.Points), s.Pos, "plates."+lvl.spec.Name, "places") || r.tooMany(len(d.out), s.Pos, "plates."+lvl.spec.Name, "holes") {
			break
		}
		switch s.Form {
		case HoleOf:
			d.holesFor(s.For)
		default:
			d.drawnHoles()
		}
	}
	d.fileHoles()
	return d.out
}

// maxPlaces bounds the holes of a plate, the copies of a shape and the posts of a set.
const maxPlaces = 2000

// tooMany reports a count that is beyond any craft.
func (r *resolver) tooMany(n int, pos read.Pos, path, what string) bool {
	if n <= maxPlaces {
		return false
	}
	r.fail(pos, path, fmt.Sprintf("%d %s are more than this tool places", n, what), fmt.Sprintf("at most %d", maxPlaces), "")
	return true
}

// drawnHoles makes the holes of an entry that says its own places.
func (d *driller) drawnHoles() {
	s := d.spec
	for _, p := range d.poses() {
		switch s.Form {
		case HoleRound:
			d.round(p.Shift, s.Hole, "")
		case HoleSlot:
			d.slot(p)
		case HoleSquare:
			for _, c := range corners(value(s.SideX), value(s.SideY)) {
				d.round(p.Apply(c), s.Hole, "")
			}
		case HoleCircle:
			for i := range s.Count {
				d.round(p.Apply(bearing(360*float64(i)/float64(s.Count)).Mul(value(s.Circle)/2)), s.Hole, "")
			}
		}
		if s.Centre != nil {
			d.round(p.Shift, s.Centre, ".centre")
		}
	}
}

// poses lists the places of the entry as motions into the body frame.
func (d *driller) poses() []geom.Pose2 {
	s := d.spec
	if s.At.Rotors {
		var out []geom.Pose2
		for _, rot := range d.r.rotors {
			if rot.first {
				out = append(out, geom.Pose2{Turn: degrees(s.Turn)}.Then(rot.armFrame()))
			}
		}
		return out
	}
	out := s.At.Poses(s.Turn)
	for i := range out {
		out[i].Shift = out[i].Shift.Add(d.lvl.spec.Shift.P)
		if d.arm != nil {
			out[i] = out[i].Then(d.arm.armFrame())
		}
	}
	return out
}

// holesFor makes the holes that motors, posts or a stack need, where these are.
func (d *driller) holesFor(t *Target) {
	r := d.r
	switch t.Kind {
	case TargetMotors:
		for _, rot := range r.rotors {
			if d.arm == nil || rot.at.Sub(d.arm.at).Norm() < 1e-9 {
				d.motorHoles(rot)
			}
		}
	case TargetPosts:
		p := r.posts[t.Name]
		hole := d.threadHole(threadOf(p.part))
		for _, s := range p.spots {
			if d.mine(s.at) {
				d.round(s.at, hole, "")
			}
		}
	case TargetStack:
		p := r.stackNamed(t.Name)
		hole := d.threadHole(p.spec.Screw)
		for _, s := range p.screws {
			if d.mine(s.At) {
				d.round(s.At, hole, "")
			}
		}
	}
}

// mine reports whether a hole at p belongs to this copy of an arm plate: each copy takes
// what is nearest to its own axis.
func (d *driller) mine(p r2.Point) bool {
	if d.arm == nil {
		return true
	}
	for _, rot := range d.r.rotors {
		if rot.first && rot != d.arm && rot.at.Sub(p).Norm() < d.arm.at.Sub(p).Norm()-1e-9 {
			return false
		}
	}
	return true
}

// motorHoles drills the usual pattern of a motor at its clocking: count holes on its
// circle; on mixed patterns every other pair stands on the second circle.
func (d *driller) motorHoles(rot *rotorPlan) {
	m := rot.motor.Motor
	if m == nil || len(m.Circles) == 0 {
		return
	}
	c := &m.Circles[0]
	hole := d.threadHole(c.Screw)
	pose := rot.motorPose()
	for i := range c.Count {
		radius := value(c.Diameter) / 2
		if c.Across != nil && i%2 == 1 {
			radius = c.Across.Value / 2
		}
		d.round(pose.Apply(bearing(c.Turn+360*float64(i)/float64(c.Count)).Mul(radius)), hole, "")
	}
	if d.spec.Centre != nil {
		d.round(rot.at, d.spec.Centre, ".centre")
	}
}

// threadHole is the diameter that the entry says, else the practice for the thread.
func (d *driller) threadHole(size string) *shapes.Dim {
	if d.spec.Hole != nil {
		return d.spec.Hole
	}
	if t := d.r.thread(size); t != nil && t.Thread.PlateHole != nil {
		return t.Thread.PlateHole
	}
	if m := majorOf(size); m > 0 {
		return d.r.plainHole(size, m)
	}
	return missing(d.lvl.spec.Name + " hole for " + size)
}

// plainHole is a hole for a thread that the catalogue lacks: screw plus 0.1, as carbon
// plates are drilled.
func (r *resolver) plainHole(size string, major float64) *shapes.Dim {
	if p := r.holes[size]; p != nil {
		return p
	}
	d := assumed(size+" hole", major+0.1, tolHole)
	if r.holes == nil {
		r.holes = map[string]*shapes.Dim{}
	}
	r.holes[size] = d
	return d
}

// dim is the plate's own copy of a diameter, with the tolerance of its holes.
func (d *driller) dim(of *shapes.Dim) *shapes.Dim {
	if of == nil {
		return nil
	}
	if own := d.dims[of]; own != nil {
		return own
	}
	c := *of
	tol := tolHole
	if m := d.lvl.material.Material; m != nil && m.HoleTol != nil {
		tol = max(m.HoleTol.Plus, m.HoleTol.Minus)
	}
	fillTol(&c, tol)
	d.dims[of] = &c
	return &c
}

// next names the next hole of the entry.
func (d *driller) next(sub string) Hole {
	s := d.spec
	d.n++
	plate := d.lvl.spec.Name
	group := plate + "." + s.Name
	name := group
	if d.arm != nil {
		name = plate + "." + d.arm.spec.Name + "." + s.Name
	}
	h := Hole{Name: fmt.Sprintf("%s%s[%d]", name, sub, d.n), Group: group, Pos: s.Pos}
	if s.For != nil {
		h.For = s.For.ID()
	}
	switch {
	case s.At.Rotors:
		h.follows = "motors"
	case s.Form == HoleOf:
		h.follows = h.For
	}
	if sub == "" { // a centre hole takes no screw
		h.Sink, h.Press, h.Face, h.HasFace = d.r.sinkOf(s), s.Press, s.Face, s.HasFace
	}
	return h
}

// round adds a round hole; one that is there already in the entry is left out.
func (d *driller) round(at r2.Point, diameter *shapes.Dim, sub string) {
	own := d.dim(diameter)
	for i := range d.out {
		h := &d.out[i]
		if h.Group == d.lvl.spec.Name+"."+d.spec.Name && h.Length <= 0 && h.At.Sub(at).Norm() < 1e-9 && h.Diameter == own {
			return
		}
	}
	if value(own) <= 0 {
		return
	}
	h := d.next(sub)
	h.At, h.Diameter = at, own
	h.Loop = geom.Circle(at, own.Value/2)
	d.out = append(d.out, h)
}

// slot adds a slot along x of the pose, its ends round.
func (d *driller) slot(p geom.Pose2) {
	s := d.spec
	width, length := d.dim(s.Width), value(s.Length)
	half := max(0, (length-value(width))/2)
	h := d.next("")
	h.At, h.Diameter, h.Length = p.Shift, width, length
	h.Turn = inDegrees(p.Turn)
	h.Loop = geom.Capsule(p.Apply(r2.Point{X: -half}), p.Apply(r2.Point{X: half}), value(width))
	h.Tab, h.TabOf = d.r.tabIn(s)
	d.out = append(d.out, h)
}
