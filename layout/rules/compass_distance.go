package rules

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

const (
	compassPower    = 50.0  // mm to pack leads, speed controllers, power boards
	compassGoodAway = 100.0 // mm that are good
	compassSteel    = 30.0
	compassMotor    = 50.0
	compassField    = 16.0 // µT: a tied pair, 5 mm apart, at 40 A and 50 mm
	compassGood     = 4.0  // µT: the same at 100 mm
	looseSpacing    = 10.0 // mm between leads that nobody tied
	earthLeast      = 25.0 // µT, the earth's field by place
	earthMost       = 65.0
)

var compassDistance = &Rule{
	Name:     "compass-distance",
	Group:    "wires",
	Question: "is each compass far from power leads, motors and steel",
	Why:      "A compass that sees the motors' currents points elsewhere whenever the throttle moves: the craft circles wider and wider, or flies home the wrong way. Calibration takes out what is steady, not what comes with the current.",
	Need:     "50 mm at least to pack leads, speed controllers and power boards, better 100; 30 to steel screws and 50 to motors, as builders keep it. The field of all supply leads while hovering under 4 µT is good and 16 the most: what a tied pair makes at 40 A at those two distances, against 25 to 65 µT of the earth. Full throttle lasts seconds, through which the gyros hold the heading; its field is told beside.",
	How:      "mm from the middle of the part with the compass to the nearest point of each. The field in µT by the law of Biot and Savart over the routed leads, both of each pair with their spacing: tied ones their own diameter apart, loose ones 10 mm; the pairs' strengths added, since which lead lies on which side is chance. Motor phases alternate too fast to turn a compass.",
	Fix:      "Raise it on a mast, twist supply and return together, turn the pack's lead away, nylon or titanium screws.",
	Run:      runCompassDistance,
}

func runCompassDistance(p *Pass) {
	for _, c := range p.Asm.Components {
		if c.Part == nil || !c.Part.Compass {
			continue
		}
		at := r3.Vector{X: c.Mass.X, Y: c.Mass.Y, Z: c.Mass.Z}
		p.compassToPower(c, at)
		p.compassToMotors(c, at)
		p.compassToSteel(c, at)
		p.compassField(c, at)
	}
	if len(p.findings) == 0 {
		p.Nothing("no part is said to hold a compass (`compass: true`)")
	}
}

// closest is what lies nearest to a compass.
type closest struct {
	id   string
	name string
	dist layout.Form
	at   r3.Vector
	ok   bool
}

func (n *closest) add(id, name string, dist layout.Form, at r3.Vector) {
	if !n.ok || dist.Nominal() < n.dist.Nominal()-1e-9 {
		*n = closest{id, name, dist, at, true}
	}
}

// toBody is the distance in mm from a point to a body, less what may close it, and the
// nearest point.
func toBody(at r3.Vector, b *layout.Body) (layout.Form, r3.Vector) {
	q, d, inside := edgeOf(b.Plan, pointOf(at))
	if inside {
		q, d = pointOf(at), 0
	}
	h := heights(b)
	z := math.Max(h.Lo, math.Min(h.Hi, at.Z))
	foot := lift(q, z)
	return layout.Fixed(math.Hypot(d, at.Z-z)).Sub(deviation(b.Blur)), foot
}

// toLine is the nearest point of a chain.
func toLine(at r3.Vector, line []r3.Vector) (r3.Vector, float64) {
	best, dist := r3.Vector{}, math.Inf(1)
	for i := 1; i < len(line); i++ {
		if q, _, d := (geom.Line3{A: line[i-1], B: line[i]}).Nearest(at); d < dist {
			best, dist = q, d
		}
	}
	return best, dist
}

func (p *Pass) compassFinding(c *layout.Component, n *closest, at r3.Vector, need layout.Form) layout.Finding {
	f := layout.Finding{Subjects: []string{c.ID}, Pos: c.Pos, Near: "at " + p.call(c.ID)}
	if n.id != c.ID {
		f.Subjects = append(f.Subjects, n.id)
	}
	f = f.Judge(n.dist, need)
	f.HasPlace, f.A, f.B = true, at, n.at
	f.Message = fmt.Sprintf("the compass of %s is %s from %s", p.call(c.ID), mm(n.dist.Nominal()), n.name)
	f.Fix = unknownFix(&f)
	return f
}

// isPower reports whether a part carries the motors' current.
func isPower(c *layout.Component) bool {
	switch c.Part.Kind {
	case shapes.EscSingle, shapes.EscFour, shapes.AllInOne, shapes.PowerBoard:
		return true
	}
	return false
}

func (p *Pass) compassToPower(c *layout.Component, at r3.Vector) {
	var n closest
	for _, o := range p.Asm.Components {
		if o == c || o.Part == nil || !isPower(o) {
			continue
		}
		for _, b := range o.Bodies {
			if b.Kind != layout.CushionBody && b.Kind != layout.StrapBody {
				d, foot := toBody(at, b)
				n.add(o.ID, p.call(o.ID), d, foot)
			}
		}
	}
	for _, w := range p.Asm.Circuits {
		if w.Kind != layout.PackCircuit {
			continue
		}
		if foot, d := toLine(at, w.Route.Line()); !math.IsInf(d, 1) {
			n.add(w.From.ID, p.bundle(w), layout.Fixed(d).Sub(layout.Of(w.OD).Scale(0.5)), foot)
		}
	}
	if !n.ok {
		return
	}
	f := p.compassFinding(c, &n, at, layout.Fixed(compassPower))
	if f.Verdict == layout.OK && f.Measured < compassGoodAway {
		f.Message += fmt.Sprintf("; %s would be good", mm(compassGoodAway))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("raise %s on a mast or move it %s away; nearer than %s only with proof in flight", p.call(c.ID), mm(up(-f.Worst, 5)), mm(compassPower))
	}
	p.Report(f)
}

func (p *Pass) compassToMotors(c *layout.Component, at r3.Vector) {
	var n closest
	for _, r := range p.Asm.Rotors {
		if r.Motor == nil {
			continue
		}
		for _, b := range r.Motor.Bodies {
			d, foot := toBody(at, b)
			n.add(r.Motor.ID, p.call(r.Motor.ID), d, foot)
		}
	}
	if !n.ok {
		return
	}
	f := p.compassFinding(c, &n, at, layout.Fixed(compassMotor))
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move %s away from the motors: their magnets turn under it", p.call(c.ID))
	}
	p.Report(f)
}

// compassToSteel looks at the screws, nuts and posts of steel.
func (p *Pass) compassToSteel(c *layout.Component, at r3.Vector) {
	var n closest
	for _, j := range p.Asm.Joints {
		steel := j.Material == "steel" || j.Nut != nil && j.Nut.Material == "steel"
		if !steel || j.Owner == nil {
			continue
		}
		z := j.Seat.Nominal()
		lo, hi := z, z
		switch {
		case j.Level || j.Length == nil:
		case j.Up:
			hi += j.Length.Value
		default:
			lo -= j.Length.Value
		}
		foot := lift(j.At, math.Max(lo, math.Min(hi, at.Z)))
		n.add(j.Owner.ID, fmt.Sprintf("a steel screw of %s", strings.TrimPrefix(p.call(j.Owner.ID), "the ")), layout.Fixed(foot.Sub(at).Norm()), foot)
	}
	for _, post := range p.Asm.Posts {
		if post.Part == nil || post.Part.Standoff == nil || post.Part.Standoff.Material != "steel" || post.Body == nil {
			continue
		}
		d, foot := toBody(at, post.Body)
		n.add(post.Body.Of, "a steel post", d, foot)
	}
	if !n.ok {
		return
	}
	f := p.compassFinding(c, &n, at, layout.Fixed(compassSteel))
	if mustMend(&f) {
		f.Fix = "take nylon or titanium screws there (`material:`)"
	}
	p.Report(f)
}

// spacingOf is the distance in mm between the middles of the two leads of a pair: tied they
// lie against each other.
func spacingOf(c *layout.Circuit, w *layout.Wire) float64 {
	od := 0.0
	if w.Gauge != nil && w.Gauge.Wire != nil && w.Gauge.Wire.OD != nil {
		od = w.Gauge.Wire.OD.Value
	}
	if c.Spec != nil && c.Spec.Loose {
		return math.Max(looseSpacing, 2*od)
	}
	return od
}

// compassField adds up what the supply leads make while hovering.
func (p *Pass) compassField(c *layout.Component, at r3.Vector) {
	s := p.Asm.Supply()
	var full, hover layout.Form
	var most float64
	var from *layout.Circuit
	circuits := 0
	for _, w := range p.Asm.Circuits {
		var lead *layout.LeadUse
		returns := false
		for _, u := range s.LeadsOf(w) {
			switch {
			case u.Wire.Role == shapes.GroundRole:
				returns = true
			case lead == nil || u.Full.Nominal() > lead.Full.Nominal():
				lead = u
			}
		}
		if lead == nil {
			continue
		}
		circuits++
		line := w.Route.Line()
		if len(line) < 2 {
			lost := layout.Of(figure(nil, "route of "+w.Label, shapes.MM))
			full, hover = full.Add(lost), hover.Add(lost)
			continue
		}
		perAmp := layout.FieldOfLead(line, 1, at).Norm()
		if returns {
			perAmp = layout.FieldOfPair(line, spacingOf(w, lead.Wire), 1, at).Norm()
		}
		full, hover = full.Add(lead.Full.Scale(perAmp)), hover.Add(lead.Hover.Scale(perAmp))
		if b := lead.Hover.Nominal() * perAmp; b > most {
			most, from = b, w
		}
	}
	if circuits == 0 {
		return
	}
	f := layout.Finding{Unit: shapes.Microtesla, AtMost: true, Subjects: []string{c.ID}, Pos: c.Pos, Near: "at " + p.call(c.ID)}
	f = f.Judge(hover, limitOf("field at a compass that still points", compassField, 0, compassField-compassGood, shapes.Microtesla))
	f.HasPlace, f.A, f.B = true, at, at
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("the field of the supply leads at the compass of %s cannot be told", p.call(c.ID))
		f.Fix = unknownFix(&f)
	default:
		f.Message = fmt.Sprintf("at the compass of %s the supply leads make %s µT hovering and %s at full throttle; the earth's field is %s to %s µT", p.call(c.ID), num(f.Measured), num(full.Nominal()), num(earthLeast), num(earthMost))
		if from != nil {
			foot, _ := toLine(at, from.Route.Line())
			f.B = foot
			f.Subjects = append(f.Subjects, from.To.ID)
			f.Message += fmt.Sprintf(", most of it from %s", p.bundle(from))
		}
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("raise %s, lead the pack's leads another way, and twist supply and return together", p.call(c.ID))
	}
	p.Report(f)
}
