package rules

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// Trade figures for the way of a screwdriver.
const (
	driverLength = 60.0 // mm
	driverThin   = 4.0  // mm across, up to M2.5
	driverThick  = 5.0  // from M3
	ballEnd      = 20.0 // degrees off the axis
)

var driverAccess = &Rule{
	Name:     "driver-access",
	Group:    "plates",
	Question: "does a driver reach every screw when it is turned",
	Why:      "A plate, a post or a part stands above the head: the screw cannot be tightened when the rest is on, and taking one board out means taking the craft apart.",
	Need:     "A straight way 60 mm long in line with the screw, 4 mm across up to M2.5 and 5 mm from M3; where that is not free, one tilted by 20 degrees, which ball-end drivers for hexagon sockets allow. Trade figures; `needs:` gives the width of the builder's own drivers.",
	How: "From each head outwards, in mm, against what is there when the screw is turned. Screws of plates that close the craft (on posts) and of props: all but packs, straps, props and what is stuck on that plate itself. Bolts of a stack from its plate's side: the frame up to that plate, with nothing hung under it; " +
		"from its open side: all but plates over it and what they carry. Bolts through plates: plates, posts and motors. Camera screws: all but plates over the camera and what they carry. Screws at the foot of posts are turned while their plate is still single, and are not judged. Motor screws: motors, and plates that lie against the arm. Nuts on plates: a socket in line with them, 1.6 times as wide as they are across flats, or a spanner as wide from any side. Motor screws and nuts are told only where something is in the way; " +
		"nuts on boards are held by hand. Soft parts are bent aside. One finding a set of equal screws tells the least.",
	Fix: "An access hole in line with the screw, a ball-end driver, or put the screw in before.",
	Run: runDriverAccess,
}

func runDriverAccess(p *Pass) {
	var found, blocked perPart
	for _, j := range p.Asm.Joints {
		if there, ok := p.whenNutTurned(j); ok {
			if f := p.reachNut(j, there); f.Verdict != layout.OK {
				blocked.add(fmt.Sprintf("nut %p", j.Fastening), f)
			}
		}
		if j.Head == nil || j.Own {
			continue
		}
		if pl, ok := p.whileSingle(j); ok {
			if f := p.reach(j, p.singly(j, pl)); f.Verdict != layout.OK {
				blocked.add(fmt.Sprintf("%p", j.Fastening), f)
			}
			continue
		}
		there, ok := p.thereWhenTurned(j)
		if !ok {
			continue
		}
		found.add(fmt.Sprintf("%p", j.Fastening), p.reach(j, there))
	}
	found.list = append(found.list, blocked.list...)
	if len(found.list) == 0 {
		p.Nothing("no screw is turned when anything else is on")
	}
	for i := range found.list {
		p.Report(found.list[i])
	}
}

// thereWhenTurned says which bodies are there when a screw is turned; ok is false for screws
// that are turned while their plate is single.
func (p *Pass) thereWhenTurned(j *layout.Joint) (there func(*layout.Body) bool, ok bool) {
	hard := hardFor(j)
	over := func(z float64) func(*layout.Body) bool { // not on, or carried by, plates over z
		return func(b *layout.Body) bool {
			for c := p.component(b.Of); c != nil; c = p.component(c.On) {
				if pl := p.plate(c.ID); pl != nil && pl.Bottom.Nominal() > z+touch {
					return false
				}
				if c.On == "" {
					break
				}
			}
			return true
		}
	}
	and := func(f, g func(*layout.Body) bool) func(*layout.Body) bool {
		return func(b *layout.Body) bool { return f(b) && g(b) }
	}
	switch j.Kind {
	case layout.PostScrew:
		return and(hard, func(b *layout.Body) bool { return !p.stuckOn(j, b) }), p.closes(j)
	case layout.PropScrew:
		return hard, true
	case layout.CameraScrew:
		return and(hard, over(j.Seat.Nominal())), true
	case layout.PlateBolt:
		return and(hard, func(b *layout.Body) bool {
			return b.Kind == layout.PlateBody || b.Kind == layout.PostBody || b.Kind == layout.MotorBody
		}), true
	case layout.StackBolt, layout.SpacerScrew:
		s := p.stackOf(j)
		if s == nil {
			return nil, false
		}
		if seatLayer(j) == nil { // from the open side
			if s.Down {
				return hard, true
			}
			return and(hard, over(s.Bottom.Nominal())), true
		}
		on := p.plate(s.On)
		if on == nil {
			return nil, false
		}
		return and(hard, p.frameTo(on, s.Down)), true
	}
	return nil, false
}

// hardFor returns what stops a driver or spanner for a joint: nothing that is soft, comes
// on last or turns, and not its own screws.
func hardFor(j *layout.Joint) func(*layout.Body) bool {
	return func(b *layout.Body) bool {
		switch b.Kind {
		case layout.PackBody, layout.StrapBody, layout.HubBody, layout.LeadBody:
			return false
		}
		return !b.Soft && b.Of != j.Owner.ID
	}
}

// frameTo returns what belongs to the frame on the far side of a stack's plate: plates,
// posts and motors, and parts that stand on them; nothing that hangs under a plate.
func (p *Pass) frameTo(on *layout.Plate, down bool) func(*layout.Body) bool {
	return func(b *layout.Body) bool {
		if !down && b.Top.Nominal() > on.Bottom.Nominal()+touch || down && b.Bottom.Nominal() < on.Top.Nominal()-touch {
			return false
		}
		switch b.Kind {
		case layout.PlateBody, layout.PostBody, layout.MotorBody, layout.FastenBody:
			return true
		}
		c := p.component(b.Of)
		return c != nil && (c.OnFace == shapes.Bottom) == down
	}
}

// closes reports whether the screw holds a plate that lies on posts, and not a post on its
// plate.
func (p *Pass) closes(j *layout.Joint) bool {
	set := strings.Join(strings.Split(j.Owner.ID, ".")[:2], ".")
	for i := range j.Layers {
		if pl := p.plate(j.Layers[i].Component); pl != nil && pl.On == set {
			return true
		}
	}
	return false
}

// stuckOn reports whether a body belongs to a part that sits on the plate which a screw
// holds, on the face of the screw's head: it comes on when the plate is screwed down.
func (p *Pass) stuckOn(j *layout.Joint, b *layout.Body) bool {
	seat := seatLayer(j)
	face := shapes.Top
	if j.Up {
		face = shapes.Bottom
	}
	for c := p.component(b.Of); c != nil && seat != nil; c = p.component(c.On) {
		if c.Kind != "part" && c.Kind != "antenna" && c.Kind != "camera" {
			return false
		}
		if c.On == seat.Component {
			return c.OnFace == face
		}
		if c.On == "" {
			break
		}
	}
	return false
}

// stackOf returns the stack that a joint belongs to, nil for none.
func (p *Pass) stackOf(j *layout.Joint) *layout.Stack {
	for _, s := range p.Asm.Stacks {
		if strings.HasPrefix(j.Owner.ID, "stacks."+s.Name+".") {
			return s
		}
	}
	return nil
}

// headOut is where the driver enters a screw's head and the way out from there.
func (p *Pass) headOut(j *layout.Joint) (at r3.Vector, out r3.Vector) {
	switch {
	case j.Level:
		out = r3.Vector{X: j.At.X, Y: j.At.Y}
		for _, c := range p.Asm.Cameras {
			if strings.HasPrefix(j.Owner.ID, c.ID+".") {
				out = r3.Vector{X: j.At.X - c.Pivot.X, Y: j.At.Y - c.Pivot.Y}
			}
		}
		if out.Norm() < 1e-9 {
			out = r3.Vector{Y: 1}
		}
		out = out.Normalize()
	case j.Up:
		out = r3.Vector{Z: -1}
	default:
		out = r3.Vector{Z: 1}
	}
	return lift(j.At, j.Face.Nominal()), out
}

// driverWay is the room of a driver from a head outwards. Straight ways along the z axis
// are upright bodies, whose gaps keep their terms; others are round at both ends, which
// stay within the way's length.
func driverWay(j *layout.Joint, at, out r3.Vector, wide float64) *layout.Body {
	b := &layout.Body{ID: j.ID + ".driver", Of: j.Owner.ID, Kind: layout.FastenBody}
	if math.Abs(out.Z) > 1-1e-9 {
		b.Plan = []geom.Region{geom.RegionOf(geom.Circle(r2.Point{X: at.X, Y: at.Y}, wide/2))}
		b.Bottom, b.Top = j.Face, j.Face.Shift(driverLength)
		if out.Z < 0 {
			b.Bottom, b.Top = j.Face.Shift(-driverLength), j.Face
		}
		return b
	}
	solid, err := geom.NewCapsule(at.Add(out.Mul(wide/2)), at.Add(out.Mul(driverLength-wide/2)), wide/2)
	if err != nil {
		return nil
	}
	box := solid.Bound()
	b.Tilted = &solid
	b.Plan = []geom.Region{geom.RegionOf(geom.RectLoop(geom.Rect{Lo: r2.Point{X: box.Lo.X, Y: box.Lo.Y}, Hi: r2.Point{X: box.Hi.X, Y: box.Hi.Y}}))}
	b.Bottom, b.Top = layout.Fixed(box.Lo.Z), layout.Fixed(box.Hi.Z)
	return b
}

// wayFree judges one way of the driver against all that is there. near is what comes
// nearest, nil if nothing is within a driver's length.
func (p *Pass) wayFree(base layout.Finding, j *layout.Joint, way *layout.Body, there func(*layout.Body) bool) (f layout.Finding, near *layout.Body) {
	return p.roomOf(base, way, func(b *layout.Body) bool { return there(b) && !clamps(j, b.Of) && !behind(j, b) })
}

// roomOf judges the room of a tool against the bodies that may be in its way; near is what
// comes nearest, nil if nothing is within a driver's length.
func (p *Pass) roomOf(base layout.Finding, tool *layout.Body, may func(*layout.Body) bool) (f layout.Finding, near *layout.Body) {
	var worst worstOf
	box := boxOf(tool.Plan)
	for _, b := range p.Asm.Bodies {
		if box.Distance(boxOf(b.Plan)) > driverLength || !may(b) {
			continue
		}
		m := separation(tool, b)
		if m.form.Nominal() > driverLength {
			continue
		}
		g := base
		g.HasPlace, g.A, g.B = true, m.a, m.b
		if worst.add(g.Judge(m.form, layout.Form{})) {
			near = b
		}
	}
	if near == nil {
		base.Verdict = layout.OK
		return base, nil
	}
	return worst.f, near
}

// boxOf is the box of a plan.
func boxOf(plan []geom.Region) geom.Rect {
	box := geom.EmptyRect()
	for i := range plan {
		box = box.Union(plan[i].Bound())
	}
	return box
}

// behind reports whether a body lies wholly on the other side of the face that the driver
// starts from.
func behind(j *layout.Joint, b *layout.Body) bool {
	switch {
	case j.Level:
		return false
	case j.Up:
		return b.Bottom.Nominal() > j.Face.Nominal()-touch
	}
	return b.Top.Nominal() < j.Face.Nominal()+touch
}

// clamps reports whether a joint clamps a component.
func clamps(j *layout.Joint, id string) bool {
	for i := range j.Layers {
		if j.Layers[i].Component == id {
			return true
		}
	}
	return j.Into.Component == id
}

// reach judges whether a driver reaches one screw.
func (p *Pass) reach(j *layout.Joint, there func(*layout.Body) bool) layout.Finding {
	at, out := p.headOut(j)
	wide := driverThin
	if screwSize(j.Size) >= 3 {
		wide = driverThick
	}
	wide = p.Need(wide).Nominal()
	base := layout.Finding{
		Subjects: []string{j.Owner.ID}, Pos: j.Fastening.Pos, HasPlace: true, A: at, B: at.Add(out.Mul(driverLength)), Near: p.nearJoints(j.Fastening),
	}
	who := fmt.Sprintf("a driver of %s for %s", mm(wide), j.Label())
	f, near := p.wayFree(base, j, driverWay(j, at, out, wide), there)
	if near == nil {
		f.Message = who + " has a free way"
		return f
	}
	f.Subjects = append(f.Subjects, near.Of)
	what := p.callBody(near)
	if f.Verdict == layout.OK {
		f.Message = fmt.Sprintf("%s passes %s at %s", who, what, mm(f.Measured))
		return f
	}
	if j.Head != nil && strings.HasPrefix(j.Head.Key, "hex ") {
		if g, side, ok := p.tilted(base, j, at, out, wide, there); ok {
			g.Message = fmt.Sprintf("%s is stopped by %s in line with the screw, and reaches it with a ball end, tilted %s", who, what, side)
			return g
		}
	}
	if f.Verdict == layout.Unknown {
		f.Message = fmt.Sprintf("whether %s passes %s hangs on a dimension that is missing", who, what)
		f.Fix = unknownFix(&f)
		return f
	}
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s is stopped by %s, which stands %s in its way", who, what, mm(-f.Measured))
	} else {
		f.Message = fmt.Sprintf("%s passes %s at %s, which tolerances may take", who, what, mm(f.Measured))
	}
	f.Fix = fmt.Sprintf("move %s %s aside, or turn the screw before it is on", what, mm(up(-f.Worst, 0.1)))
	if near.Kind == layout.MotorBody && j.Kind == layout.MotorScrew {
		f.Fix = fmt.Sprintf("give %s a plate of its own, away from the heads of these screws", what)
	}
	if near.Kind == layout.PlateBody && !j.Level {
		f.Fix = fmt.Sprintf("cut a hole of %s in %s in line with the screw, or put the screw in before that plate is on", mm(wide+1), what)
	}
	return f
}

// tilted looks for a way off the axis, all round in steps of 15 degrees, and returns the one
// that keeps farthest from everything, if that holds.
func (p *Pass) tilted(base layout.Finding, j *layout.Joint, at, out r3.Vector, wide float64, there func(*layout.Body) bool) (best layout.Finding, side string, ok bool) {
	// Two directions across the axis.
	frame := geom.Upend(out, r3.Vector{})
	u, v := frame.Direction(r3.Vector{X: 1}), frame.Direction(r3.Vector{Y: 1})
	sin, cos := math.Sincos(ballEnd * math.Pi / 180)
	for i := range 24 {
		sa, ca := math.Sincos(float64(i) * math.Pi / 12)
		across := u.Mul(ca).Add(v.Mul(sa))
		dir := out.Mul(cos).Add(across.Mul(sin))
		way := driverWay(j, at, dir, wide)
		if way == nil {
			continue
		}
		f, near := p.wayFree(base, j, way, there)
		if f.Verdict != layout.OK || ok && (near != nil && f.Worst <= best.Worst+1e-9) {
			continue
		}
		best, ok = f, true
		side = heading(r2.Point{X: across.X, Y: across.Y})
		if math.Abs(across.Z) > 0.7 {
			side = "up"
			if across.Z < 0 {
				side = "down"
			}
		}
		if near == nil {
			break
		}
		best.Subjects = append(append([]string{}, base.Subjects...), near.Of)
	}
	return best, side, ok
}
