package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// leadReach is how far beyond the end of a speed controller an obstacle is looked for,
// in mm.
const leadReach = 60.0

// escOnArm asks whether single speed controllers lie on real arm and have room for
// their leads.
var escOnArm = &Rule{
	Name:     "esc-on-arm",
	Group:    "arms",
	Question: "does each speed controller lie on its arm and have room for its leads",
	Why: "An edge that stands out beyond the arm is knocked off in the first crash and its sleeve is cut by the carbon. Leads that are " +
		"bent at the joint break there.",
	Need: "The whole footprint, sleeve included, within the plate's outline: no overhang. At both ends straight lead with its bend: 8 mm for " +
		"controllers up to 20 A, 12 mm from 50 A, linear in between, 10 mm if the current is not said (usual figures of the trade: 8 to 12). " +
		"A need given in the build is the least distance of the footprint from the arm's edge.",
	How: "Least distance in mm from the footprint to the edge of the plate as drawn (holes left out), all along; negative where it stands " +
		"out. Then from each end of the controller, in its own direction and over its own width, to the first body at its height: the " +
		"motor on one side, posts, boards or plates on the other.",
	Fix: "a wider arm, a narrower controller, or the controller further in or out",
	Run: runEscOnArm,
}

// escRoom is the lead room in mm for a controller of a given current.
func escRoom(part *shapes.Part) float64 {
	if part == nil || isMissing(part.Amps) {
		return 10
	}
	a := part.Amps.Value
	return 8 + 4*math.Max(0, math.Min(1, (a-20)/30))
}

func runEscOnArm(p *Pass) {
	any := false
	for _, c := range p.Asm.Mounts {
		if c.Part == nil || c.Part.Kind != shapes.EscSingle {
			continue
		}
		plate := p.plate(c.On)
		if plate == nil {
			continue
		}
		any = true
		p.escWidth(c, plate)
		for _, end := range []float64{1, -1} {
			p.escEnd(c, plate, end)
		}
	}
	if !any {
		p.Nothing("no single speed controller lies on a plate")
	}
}

// escBodies lists the bodies that must lie on the arm: the controller and its sleeve.
func escBodies(c *layout.Component) []*layout.Body {
	var out []*layout.Body
	for _, b := range c.Bodies {
		if b.Kind == layout.PartBody || b.Kind == layout.CushionBody && b.Part != nil && b.Part.Kind == shapes.EscSingle {
			out = append(out, b)
		}
	}
	return out
}

// blurOf returns the blur and the motions of a plate's body.
func blurOf(plate *layout.Plate) (layout.Form, []*shapes.Dim) {
	for _, b := range plate.Bodies {
		if b.Kind == layout.PlateBody {
			return b.Blur, b.Rides
		}
	}
	return layout.Form{}, nil
}

// insideAny returns how far a region lies inside the one of the set that holds it best.
func insideAny(outer []geom.Region, inner geom.Region) geom.Gap {
	best := geom.Gap{Dist: math.Inf(-1)}
	for _, o := range outer {
		if g := geom.Inside(o, inner); g.Dist > best.Dist {
			best = g
		}
	}
	return best
}

// escName is "the front left speed controller" for copies on arms, else the mount's own
// name.
func (p *Pass) escName(c *layout.Component) string {
	if r := p.rotorOn(c); r != nil {
		return "the " + spoken(r.Name) + " speed controller"
	}
	return p.call(c.ID)
}

// rotorOn returns the rotor whose arm carries a component: of those on the same plate
// the nearest.
func (p *Pass) rotorOn(c *layout.Component) *layout.Rotor {
	var best *layout.Rotor
	dist := math.Inf(1)
	for _, r := range p.Asm.Rotors {
		if r.Arm != c.On {
			continue
		}
		if d := r.At.Sub(c.Pose.Shift).Norm(); d < dist-1e-9 {
			best, dist = r, d
		}
	}
	return best
}

func (p *Pass) nearArm(c *layout.Component) string {
	if r := p.rotorOn(c); r != nil {
		return spoken(r.Name) + " arm"
	}
	return p.call(c.On)
}

// escWidth judges the footprint on the plate.
func (p *Pass) escWidth(c *layout.Component, plate *layout.Plate) {
	edge, rides := blurOf(plate)
	var worst layout.Finding
	var wide, slack float64
	side := true
	found := false
	for _, b := range escBodies(c) {
		for _, g := range b.Plan {
			in := insideAny(plate.Solid, g)
			if math.IsInf(in.Dist, 0) {
				continue
			}
			z := b.Bottom.Nominal()
			if c.Flip {
				z = b.Top.Nominal()
			}
			f := layout.Finding{
				Subjects: []string{c.ID, plate.ID},
				HasPlace: true,
				A:        lift(in.B, z), B: lift(in.A, z),
				Near: p.nearArm(c),
				Pos:  c.Pos,
			}.Judge(narrowed(in.Dist, closing(edge, rides, b.Blur, b.Rides)), p.Need(0))
			if found && !worse(&f, &worst) {
				continue
			}
			worst, found = f, true
			own := g.Transform(c.Pose.Inverse()).Bound()
			wide, slack = own.Size().Y, f.Margin-f.Worst
			way := c.Pose.Inverse().Direction(in.Push)
			side = math.Abs(way.Y) >= math.Abs(way.X)
		}
	}
	name := p.escName(c)
	switch {
	case !found:
		missing := missingSizes(c)
		p.Report(layout.Finding{
			Verdict: layout.Unknown, Missing: missing,
			Subjects: []string{c.ID, plate.ID}, Near: p.nearArm(c), Pos: c.Pos,
			Message: fmt.Sprintf("whether %s lies on its arm hangs on its size, which is missing", name),
			Fix:     "measure " + dimNames(missing),
		})
		return
	case worst.Verdict == layout.Unknown:
		worst.Message = fmt.Sprintf("whether %s lies on its arm hangs on a dimension that is missing", name)
		worst.Fix = "measure " + dimNames(worst.Missing)
	case worst.Measured < 0:
		worst.Message = fmt.Sprintf("%s, %s wide with its sleeve, stands out %s beyond the edge of %s", name, mm(wide), mm(-worst.Measured), p.call(plate.ID))
	default:
		worst.Message = fmt.Sprintf("%s, %s wide with its sleeve, lies %s inside the edge of %s", name, mm(wide), mm(worst.Measured), p.call(plate.ID))
		if worst.Needed > 0 {
			worst.Message += ", " + mm(worst.Needed) + " needed"
		}
	}
	if worst.Verdict == layout.Fail || worst.Verdict == layout.Tight {
		if side {
			worst.Fix = fmt.Sprintf("make the arm %s wide or more under it, or take a controller that is %s narrower",
				mm(up(wide+2*(slack+worst.Needed), 0.1)), mm(up(-2*worst.Worst, 0.1)))
		} else {
			worst.Fix = fmt.Sprintf("move it %s along the arm, or lengthen the plate there", mm(up(-worst.Worst, 0.1)))
		}
	}
	p.Report(worst)
}

// missingSizes lists the missing dimensions of a component's bodies.
func missingSizes(c *layout.Component) []*shapes.Dim {
	var out []*shapes.Dim
	for _, b := range c.Bodies {
		for _, d := range b.Blur.Missing() {
			if !holds(out, d) {
				out = append(out, d)
			}
		}
	}
	if len(out) == 0 {
		name := c.ID
		if c.Part != nil {
			name = c.Part.Name
		}
		out = append(out, known(nil, name+" length"), known(nil, name+" width"))
	}
	return out
}

// escEnd judges the room beyond one end of a controller: end is +1 for the end where
// its x axis points, -1 for the other one.
func (p *Pass) escEnd(c *layout.Component, plate *layout.Plate, end float64) {
	var own *layout.Body
	for _, b := range c.Bodies {
		if b.Kind == layout.PartBody {
			own = b
		}
	}
	if own == nil || len(own.Plan) == 0 || len(own.Blur.Missing()) > 0 {
		return // told by escWidth
	}
	// In the controller's own frame the leads run along x, away from the end.
	home := c.Pose.Inverse()
	box := geom.EmptyRect()
	for _, g := range own.Plan {
		box = box.Union(g.Transform(home).Bound())
	}
	tip := box.Hi.X
	if end < 0 {
		tip = box.Lo.X
	}
	strip := geom.RegionOf(geom.Rectangle(
		r2.Point{X: tip + end*leadReach/2, Y: box.Center().Y}, leadReach, box.Size().Y))

	// What lies outside the strip's box is left out before it is turned into that frame.
	reach := strip.Transform(c.Pose).Bound()

	need := layout.Fixed(escRoom(c.Part))
	mid := own.Bottom.Nominal()/2 + own.Top.Nominal()/2
	var nearest layout.Finding
	var what string
	found := false
	for _, b := range p.Asm.Bodies {
		if b.Of == c.ID || b.Of == plate.ID || b.Soft || b.Kind == layout.CushionBody || b.Kind == layout.LeadBody {
			continue
		}
		hi, lo := heights(own), heights(b)
		if math.Min(hi.Hi, lo.Hi)-math.Max(hi.Lo, lo.Lo) <= touch {
			continue
		}
		if !boundsOf(b.Plan).Intersects(reach) {
			continue
		}
		at, room, ok := firstAlong(b, home, strip, tip, end)
		if !ok {
			continue
		}
		f := layout.Finding{
			Subjects: []string{c.ID, b.Of},
			HasPlace: true,
			A:        lift(c.Pose.Apply(r2.Point{X: tip, Y: at.Y}), mid),
			B:        lift(c.Pose.Apply(at), mid),
			Near:     p.nearArm(c),
			Pos:      c.Pos,
		}.Judge(narrowed(room, closing(own.Blur, own.Rides, b.Blur, b.Rides)), need)
		if !found || f.Measured < nearest.Measured-1e-9 {
			nearest, found, what = f, true, p.callBody(b)
		}
	}
	if !found {
		return
	}
	name, which := p.escName(c), "inner"
	if r := p.rotorOn(c); r != nil {
		if c.Pose.Direction(r2.Point{X: end}).Dot(r.At.Sub(c.Pose.Shift)) > 0 {
			which = "motor"
		}
	}
	nearest.Message = fmt.Sprintf("at the %s end of %s the leads have %s up to %s, %s needed", which, name, mm(nearest.Measured), what, mm(nearest.Needed))
	switch nearest.Verdict {
	case layout.Unknown:
		nearest.Message = fmt.Sprintf("the lead room at the %s end of %s hangs on a dimension that is missing", which, name)
		nearest.Fix = "measure " + dimNames(nearest.Missing)
	case layout.Fail, layout.Tight:
		way := "outwards"
		if which == "motor" {
			way = "inwards"
		}
		nearest.Fix = fmt.Sprintf("move the controller %s %s along the arm", mm(up(-nearest.Worst, 0.5)), way)
	}
	p.Report(nearest)
}

// firstAlong returns the first point of a body in a strip that runs from x = tip along
// ±x in the frame that home leads to, and how far it is from there. false: the body
// does not enter the strip.
func firstAlong(b *layout.Body, home geom.Pose2, strip geom.Region, tip, end float64) (at r2.Point, room float64, ok bool) {
	room = math.Inf(1)
	for _, g := range b.Plan {
		own := g.Transform(home)
		if !own.Bound().Intersects(strip.Bound()) {
			continue
		}
		pieces, err := geom.Intersection([]geom.Region{own}, []geom.Region{strip})
		if err != nil {
			pieces = []geom.Region{own} // not to be cut: taken whole, which can only lessen the room
		}
		for _, q := range pieces {
			box := q.Bound()
			x := box.Lo.X
			if end < 0 {
				x = box.Hi.X
			}
			if d := math.Max(0, end*(x-tip)); d < room {
				room, ok = d, true
				at = foremost(q, end)
			}
		}
	}
	return at, room, ok
}

// foremost returns a point of the region with the least x (end > 0) or the greatest:
// the middle of an edge where one faces the end.
func foremost(g geom.Region, end float64) r2.Point {
	const level = 1e-6 // mm, by which an edge may lean
	a, b := g.Outer.Facing(r2.Point{X: -end}, level)
	return a.Add(b).Mul(0.5)
}
