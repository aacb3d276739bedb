package layout

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// terminal puts an outlet of a placed part in the body frame.
func (r *resolver) terminal(c *Component, o *outlet) *Terminal {
	t := &Terminal{ID: c.ID + "." + o.full(), Owner: c, Name: o.of, Way: o.way, Role: o.role, Pad: o.pad, Pin: o.pin, Pos: c.Pos}
	switch {
	case o.pad != nil:
		t.Electric, t.Size = o.pad.Electric, value(o.pad.Size)
		if c.Part.Source == shapes.Given {
			t.Pos = o.pad.Pos
		}
		r.padTerminal(t, o)
	case o.port != nil:
		if o.pin != nil {
			t.Electric = o.pin.Electric
		}
		r.pinTerminal(t, o)
	case c.Part.Kind == shapes.MotorKind:
		r.motorTerminal(t, o)
	case c.Part.Kind == shapes.Battery:
		r.packTerminal(t, o)
	default:
		r.antennaTerminal(t)
	}
	if t.Takes == nil && (o.role == shapes.PackRole || o.role == shapes.FeedRole) {
		t.Takes = c.Part.Volts
	}
	if t.Draws == nil && o.role == shapes.FeedRole {
		t.Draws = c.Part.Draw
	}
	return t
}

// padTerminal places a pad on its face. A wire leaves it over the nearest edge of the part,
// where the part does not say another way.
func (r *resolver) padTerminal(t *Terminal, o *outlet) {
	c, pad := t.Owner, o.pad
	own := r2.Point{}
	if pad.HasFacing {
		own = bearing(pad.Facing)
	} else {
		own = nearestEdge(c.Part, o.at)
	}
	outUp := (pad.Face == shapes.Top) != c.Flip
	t.Up = -1
	if outUp {
		t.Up = 1
	}
	t.At, t.Z = c.Pose.Apply(o.at), portFace(c, outUp, true)
	t.Dir = clean(c.Pose.Direction(own))
	b := c.Part.Body
	switch {
	case c.Kind == "camera":
		r.cameraTerminal(t, o, own)
	case b != nil && r.mounts.upright[c.ID]:
		// It stands with its x axis up: what lay on its top face looks back in plan.
		along := Form{}.Plus(heightOf(c.Part, true), 0.5).Shift(o.at.X)
		side := value(b.Height) / 2
		if pad.Face == shapes.Top {
			side = -side
		}
		if b.Shape == shapes.CanBody {
			side = 0
		}
		t.At = c.Pose.Apply(r2.Point{X: side, Y: o.at.Y})
		t.Z = c.Base.Add(along)
		t.Up = 0
		if own.X > 0 || own.X < 0 { // off its end; else sideways, as it lies
			t.Dir, t.Up = r2.Point{}, int(sign(own.X))
		}
		if c.Flip {
			t.Z, t.Up = c.Base.Sub(along), -t.Up
		}
	case b != nil && b.Shape == shapes.CanBody:
		// Legs leave the end of a lying can on its axis.
		half := Form{}.Plus(b.Diameter, 0.5)
		t.Z, t.Up = c.Base.Add(half), 0
		if c.Flip {
			t.Z = c.Base.Sub(half)
		}
	}
}

// cameraTerminal places a pad at a camera's back, at the middle of its range of tilt: a nose
// tilted up by t takes a point x ahead of the side screws to x·cos t, x·sin t higher.
func (r *resolver) cameraTerminal(t *Terminal, o *outlet, own r2.Point) {
	for _, p := range r.asm.Cameras {
		if p.Component != t.Owner {
			continue
		}
		lo, hi := p.TiltLo*math.Pi/180, p.TiltHi*math.Pi/180
		s, c := math.Sincos((lo + hi) / 2)
		t.At = t.Owner.Pose.Apply(r2.Point{X: o.at.X * c, Y: o.at.Y})
		swing := assumed(p.ID+" back over its tilt", 0, abs(o.at.X)*(math.Sin(hi)-math.Sin(lo))/2)
		t.Z, t.Up = p.PivotZ.Shift(o.at.X*s).Plus(swing, 1), 0
		t.Dir = clean(t.Owner.Pose.Direction(own))
	}
}

// nearestEdge is the direction, in the part's frame, of the edge of its box that is nearest
// to a place on it: front, left, back or right, the first of equally near ones.
func nearestEdge(p *shapes.Part, at r2.Point) r2.Point {
	box := partBox(p)
	best, dir := math.Inf(1), r2.Point{X: 1}
	for _, e := range []struct {
		d   float64
		dir r2.Point
	}{{box.Hi.X - at.X, r2.Point{X: 1}}, {box.Hi.Y - at.Y, r2.Point{Y: 1}}, {at.X - box.Lo.X, r2.Point{X: -1}}, {at.Y - box.Lo.Y, r2.Point{Y: -1}}} {
		if e.d < best-1e-9 {
			best, dir = e.d, e.dir
		}
	}
	return dir
}

// partBox is the box of a part in plan, in its own frame; cans lie.
func partBox(p *shapes.Part) geom.Rect {
	switch {
	case p.Body != nil:
		return footprint(p.Body, false).Bound()
	case p.Camera != nil:
		f := figuresOf(p.Camera)
		return geom.Rect{Lo: r2.Point{X: f.back, Y: -f.width / 2}, Hi: r2.Point{X: f.caseFront, Y: f.width / 2}}
	}
	return geom.Rect{}
}

// pinTerminal places one way of a plug at the port's mouth. The ways lie side by side at the
// pitch of the plug's family, the first one on the left of who looks out of the socket with
// its face up.
func (r *resolver) pinTerminal(t *Terminal, o *outlet) {
	for _, p := range r.asm.Ports {
		if p.ID == t.Owner.ID+"."+o.port.Name {
			t.Port = p
		}
	}
	if t.Port == nil {
		return
	}
	t.At, t.Z, t.Dir, t.Up = t.Port.Mouth, t.Port.Axis, t.Port.Dir, t.Port.Up
	n := len(o.port.Pins)
	if n < 2 {
		return
	}
	out := bearing(o.port.Facing)
	right := t.Owner.Pose.Direction(r2.Point{X: out.Y, Y: -out.X})
	t.At = t.At.Add(right.Mul((float64(o.num) - float64(n-1)/2) * plugPitch(t.Port.Plug)))
}

// plugPitch is the distance of a plug's ways in mm, which the name of its family ends with
// ("sh-1.0"); 0 when it does not say.
func plugPitch(p *shapes.Part) float64 {
	if p == nil || p.Plug == nil {
		return 0
	}
	cut := strings.LastIndex(p.Plug.Family, "-")
	v, err := strconv.ParseFloat(p.Plug.Family[cut+1:], 64)
	if err != nil || v < 0.2 || v > 20 {
		return 0
	}
	return v
}

// motorTerminal: the leads leave a motor side by side at the foot of its base, on the side
// towards the craft's middle.
func (r *resolver) motorTerminal(t *Terminal, o *outlet) {
	for _, rot := range r.asm.Rotors {
		if rot.Motor != t.Owner {
			continue
		}
		m := t.Owner.Part.Motor
		reach := 0.0
		od := 2.0
		if m != nil {
			reach = value(m.BellD) / 2
			if m.BaseD != nil && !m.BaseD.Missing {
				reach = m.BaseD.Value / 2
			}
			if w := stockedGauge(r.b.Parts, m.LeadGauge, 40); w != nil {
				od = value(w.Wire.OD)
			}
		}
		across := r2.Point{X: -rot.ArmDir.Y, Y: rot.ArmDir.X}
		t.At = rot.At.Sub(rot.ArmDir.Mul(reach)).Add(across.Mul((float64(o.num) - 1) * od))
		up := 1.0
		if rot.Below {
			up = -1
		}
		t.Z, t.bed, t.bedUp = rot.MountZ.Shift(up*od/2), rot.MountZ, up
		t.Dir = clean(rot.ArmDir.Mul(-1))
	}
}

// packTerminal: a pack's two leads leave the middle of its lead end, or of its rear end when
// the build does not say which that is.
func (r *resolver) packTerminal(t *Terminal, o *outlet) {
	for _, p := range r.asm.Packs {
		if p.Component != t.Owner {
			continue
		}
		own := r2.Point{X: -1}
		if p.LeadEnd != zero2 {
			own = p.Pose.Inverse().Direction(p.LeadEnd)
			if abs(own.X) >= abs(own.Y) {
				own = r2.Point{X: sign(own.X)}
			} else {
				own = r2.Point{Y: sign(own.Y)}
			}
		}
		size := footprint(p.Part.Body, false).Bound().Size()
		od := 3.0
		if w := stockedGauge(r.b.Parts, p.Part.Pack.LeadGauge, 40); w != nil {
			od = value(w.Wire.OD)
		}
		at := r2.Point{X: own.X * size.X / 2, Y: own.Y * size.Y / 2}
		at = at.Add(r2.Point{X: -own.Y, Y: own.X}.Mul((float64(o.num) - 0.5) * od))
		t.At, t.Dir = p.Pose.Apply(at), clean(p.Pose.Direction(own))
		t.Z = p.Body.Bottom.Scale(0.5).Add(p.Body.Top.Scale(0.5))
	}
}

// antennaTerminal: the cable leaves an antenna at its base, away from where it leans, or
// towards the craft's middle.
func (r *resolver) antennaTerminal(t *Terminal) {
	t.At, t.Z = t.Owner.Pose.Shift, t.Owner.Base
	for _, a := range r.asm.Antennas {
		if a.Component != t.Owner {
			continue
		}
		lean := r2.Point{X: a.Tip[0] - a.Base[0], Y: a.Tip[1] - a.Base[1]}
		dir := lean.Mul(-1)
		if lean.Norm() < 1e-6 {
			dir = t.At.Mul(-1)
		}
		if n := dir.Norm(); n > 1e-6 {
			t.Dir = clean(dir.Mul(1 / n))
		} else {
			t.Dir = r2.Point{X: -1}
		}
	}
	t.bed, t.bedUp = t.Owner.Base, 1
	if t.Owner.Flip {
		t.bedUp = -1
	}
	t.Z = t.bed.Shift(t.bedUp * value(t.Owner.Part.Antenna.RodD) / 2)
}
