package rules

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// headSeat is the width of plate in mm that a screw head needs all round.
const headSeat = 0.8

// motorOnArm asks whether each motor sits on its arm.
var motorOnArm = &Rule{
	Name:     "motor-on-arm",
	Group:    "arms",
	Question: "does each motor sit on its arm, screws, base and shaft end",
	Why: "A pattern read as a square does not fit the motor's bolt circle. Heads without a seat pull through. A base that overhangs its pad " +
		"works loose, a shaft end without a hole under it lifts the bell and binds the bearings, and the spinning bell cuts what lies under it.",
	Need: "Every motor hole over a plate hole whose play, half of hole less screw, takes up the offset between the two and half of the position error of the plate's holes, since the rest moves the whole motor. 0.8 mm of plate under " +
		"the screw head all round, as far as the next cut-out. The whole base disc on the plate. A centre hole of the motor's figure, drawn " +
		"size against figure, since the figure is what builders cut. Things under the bell lower than its gap to the arm. Usual figures of the trade.",
	How: "The patterns that the motor may have, at its clocking, against holes and slots of the plate, hole by hole, in mm; if they do not meet, the motor is " +
		"tried at every angle at which its first hole meets a plate hole. Heads are taken at the size of the standard or the trade (M2 3.8, M3 5.7 mm); " +
		"screws under M2 have no such figure, and their seat is not judged.",
	Fix: "drill for the bolt circle, take slots or washers, widen the pad, open the centre hole, move ties out from under the bell",
	Run: runMotorOnArm,
}

func runMotorOnArm(p *Pass) {
	told := len(p.findings)
	for _, r := range p.Asm.Rotors {
		plate := p.plate(r.Arm)
		motor := motorOf(r)
		if plate == nil || motor == nil {
			continue
		}
		p.motorHoles(r, motor, plate)
		p.motorBase(r, motor, plate)
		p.motorCentre(r, motor, plate)
		p.underBell(r, motor)
	}
	if len(p.findings) == told {
		p.Nothing("no motor stands on a plate")
	}
}

// motorFinding starts a finding on a motor and its plate.
func motorFinding(r *layout.Rotor, plate *layout.Plate) layout.Finding {
	at := lift(r.At, r.MountZ.Nominal())
	return layout.Finding{
		Subjects: []string{plate.ID, motorID(r)},
		HasPlace: true, A: at, B: at,
		Near: spoken(r.Name) + " arm",
		Pos:  plate.Pos,
	}
}

// motorHoles judges the screws of a motor.
func (p *Pass) motorHoles(r *layout.Rotor, m *shapes.Motor, plate *layout.Plate) {
	f := motorFinding(r, plate)
	who := "the " + spoken(r.Name) + " motor"
	pt, list, turned := bestPattern(m, r.Motor.Pose, plate)
	if pt == nil {
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{known(nil, r.Motor.Part.Name+" bolt circle")}
		f.Message = fmt.Sprintf("whether %s goes on %s hangs on its bolt circle, which is missing", who, p.call(plate.ID))
		f.Fix = "measure from hole to hole across the motor's middle and say `circle:`"
		p.Report(f)
		return
	}
	worst := 0
	for i := range list {
		if list[i].margin < list[worst].margin-1e-9 {
			worst = i
		}
		if screwSize(list[i].motor.screw) <= 0 {
			f.Verdict = layout.Unknown
			f.Missing = []*shapes.Dim{known(nil, r.Motor.Part.Name+" screw size")}
			f.Message = fmt.Sprintf("whether the holes of %s suit %s hangs on its screw size, which is missing", p.call(plate.ID), who)
			f.Fix = "say the screw of the motor's circle, such as M2 or M3"
			p.Report(f)
			return
		}
	}
	w := &list[worst]
	if w.hole == nil {
		f.Verdict = layout.Fail
		f.A, f.B = lift(w.at, r.MountZ.Nominal()), lift(w.at, r.MountZ.Nominal())
		f.Message = fmt.Sprintf("%s has no hole for %s on %s", p.call(plate.ID), who, pt.name)
		f.Fix = fmt.Sprintf("cut %d holes of %s on %s, such as with `for: motors`", len(pt.holes), mm(screwSize(w.motor.screw)+0.1), pt.name)
		p.Report(f)
		return
	}
	play := layout.Form{}.Plus(drilled(plate, w.hole.Diameter), 0.5).Shift(-screwSize(w.motor.screw) / 2)
	offset := layout.Fixed(w.offset).Plus(plate.PlaceTol, patternShare).Add(deviation(layout.Form{}.Plus(w.motor.circle, 0.5)))
	if plate.PlaceTol != nil {
		offset = offset.Shift(-patternShare * plate.PlaceTol.Value)
	}
	f.A, f.B = lift(w.on, r.MountZ.Nominal()), lift(w.at, r.MountZ.Nominal())
	f.Pos = w.hole.Pos
	f = f.Judge(play, offset)
	f.Message = fmt.Sprintf("the screws of %s meet holes of %s with %s of play for an offset of %s on %s",
		who, mm(w.hole.Diameter.Value), mm(f.Measured), mm(f.Needed), pt.name)
	if math.Abs(turned) > 0.01 && f.Margin >= 0 {
		f.Message += fmt.Sprintf(", with the motor turned %s deg from its clocking", num(turned))
	}
	switch f.Verdict {
	case layout.Unknown:
		f.Fix = "measure " + dimNames(f.Missing)
	case layout.Fail:
		f.Message = fmt.Sprintf("%s does not drop onto %s: on %s a hole lies %s off and its play is %s",
			who, p.call(plate.ID), pt.name, mm(f.Needed), mm(f.Measured))
		f.Fix = holesFix(pt, plate, r, w, &f)
	case layout.Tight:
		f.Fix = fmt.Sprintf("make the holes %s, or slots across the circle", mm(up(w.hole.Diameter.Value-2*f.Worst, 0.1)))
	}
	p.Report(f)
	if f.Verdict != layout.Fail {
		p.motorHeads(r, plate, list)
	}
}

// holesFix names the change for holes that miss the motor's circle, and says so if they
// were drawn on the sides of a square in place of its circle.
func holesFix(pt *pattern, plate *layout.Plate, r *layout.Rotor, w *meetingOf, f *layout.Finding) string {
	if pt.circle > 0 {
		drawn := 2 * w.on.Sub(r.At).Norm()
		if math.Abs(drawn-pt.circle*math.Sqrt2) < 0.5 {
			return fmt.Sprintf("the holes stand at the corners of a square of %s; draw them on a circle of %s, which is a square of %s",
				mm(drawn/math.Sqrt2), mm(pt.circle), mm(pt.circle/math.Sqrt2))
		}
		if w.offset > w.hole.Diameter.Value/2 {
			return fmt.Sprintf("draw the holes on a circle of %s round the motor, such as with `for: motors`", mm(pt.circle))
		}
	}
	return fmt.Sprintf("move the hole by %s onto the motor's, or make it %s", mm(w.offset), mm(up(w.hole.Diameter.Value-2*f.Margin, 0.1)))
}

// motorHeads judges the seat of the screw heads on the far face of the plate: all round
// the hole, and as far as the next cut-out or edge.
func (p *Pass) motorHeads(r *layout.Rotor, plate *layout.Plate, list []meetingOf) {
	for _, j := range p.Asm.Joints {
		if j.Kind == layout.MotorScrew && j.Owner.ID == "rotors."+r.Name+".motor-screws" && saidOfHead(j) {
			return // head-seat knows more of these
		}
	}
	var worst layout.Finding
	found := false
	for i := range list {
		w := &list[i]
		if w.hole == nil {
			continue
		}
		head := headOf(screwSize(w.motor.screw))
		if head == nil {
			continue
		}
		z := plate.Bottom.Nominal()
		if r.Below {
			z = plate.Top.Nominal()
		}
		base := motorFinding(r, plate)
		base.Pos = w.hole.Pos
		rim := unit(w.on.Sub(r.At), r2.Point{X: 1})
		base.A = lift(w.on.Add(rim.Mul(w.hole.Diameter.Value/2)), z)
		base.B = lift(w.on.Add(rim.Mul(head.Value/2)), z)
		what := fmt.Sprintf("under the head of the %s screw at the %s motor", strings.ToUpper(w.motor.screw), spoken(r.Name))

		// A washer is the way out of a hole that is too wide.
		f := base.Judge(layout.Form{}.Plus(head, 0.5).Plus(drilled(plate, w.hole.Diameter), -0.5), layout.Fixed(headSeat))
		f.Message = fmt.Sprintf("%s %s of plate is left round a hole of %s, %s needed", what, mm(f.Measured), mm(w.hole.Diameter.Value), mm(f.Needed))
		if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
			f.Fix = fmt.Sprintf("put a washer of %s or more under the head", mm(up(head.Value-2*f.Worst, 0.5)))
			if snug := screwSize(w.motor.screw) + 0.1; snug < w.hole.Diameter.Value-touch {
				f.Fix += ", or cut holes of " + mm(snug)
			}
		}
		if at, web, ok := nextEdge(plate, w.hole, w.on); ok && web < head.Value/2+headSeat {
			g := base
			g.A, g.B = lift(w.on, z), lift(at, z)
			seat := layout.Fixed(web).Plus(drilled(plate, w.hole.Diameter), -0.5)
			if plate.CutTol != nil {
				seat = seat.Plus(plate.CutTol, -1).Shift(plate.CutTol.Value)
			}
			g = g.Judge(seat, layout.Fixed(headSeat))
			g.Message = fmt.Sprintf("%s %s of plate is left between its hole and the next cut-out or edge, %s needed", what, mm(g.Measured), mm(g.Needed))
			if g.Verdict == layout.Fail || g.Verdict == layout.Tight {
				g.Fix = fmt.Sprintf("move that cut-out or edge %s away from the screw", mm(up(-g.Worst, 0.1)))
			}
			if worse(&g, &f) {
				f = g
			}
		}
		if !found || worse(&f, &worst) {
			worst, found = f, true
		}
	}
	if found {
		p.Report(worst)
	}
}

// nextEdge returns the nearest point to p on any edge of the plate but the hole's own,
// and its distance.
func nextEdge(plate *layout.Plate, own *layout.Hole, p r2.Point) (at r2.Point, dist float64, ok bool) {
	dist = math.Inf(1)
	for _, g := range plate.Solid {
		for l := range g.Loops() {
			if q, d := l.Nearest(p); d < dist {
				at, dist, ok = q, d, true
			}
		}
	}
	for i := range plate.Holes {
		h := &plate.Holes[i]
		if h == own {
			continue
		}
		if q, d := h.Loop.Nearest(p); d < dist {
			at, dist, ok = q, d, true
		}
	}
	return at, dist, ok
}

// motorBase judges whether the whole base disc lies on the plate, holes left out.
func (p *Pass) motorBase(r *layout.Rotor, m *shapes.Motor, plate *layout.Plate) {
	base := known(m.BaseD, r.Motor.Part.Name+" base diameter")
	who := "the base of the " + spoken(r.Name) + " motor"
	disc := geom.Circle(r.At, base.Value/2)
	f := motorFinding(r, plate)
	in := geom.Gap{}
	if !disc.IsEmpty() {
		in = insideAny(plate.Solid, geom.RegionOf(disc))
		f.A, f.B = lift(in.B, r.MountZ.Nominal()), lift(in.A, r.MountZ.Nominal())
	}
	edge, edgeRides := blurOf(plate)
	blur, rides := carried(r)
	size := deviation(layout.Form{}.Plus(base, 0.5))
	f = f.Judge(narrowed(in.Dist, closing(edge, edgeRides, blur, rides)).Sub(size), layout.Form{})
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s lies wholly on %s hangs on its diameter, which is missing", who, p.call(plate.ID))
		f.Fix = "measure " + dimNames(f.Missing)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s, %s across, overhangs %s by %s", who, mm(base.Value), p.call(plate.ID), mm(-f.Measured))
	default:
		f.Message = fmt.Sprintf("%s, %s across, lies %s inside the edge of %s", who, mm(base.Value), mm(f.Measured), p.call(plate.ID))
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = fmt.Sprintf("make the pad %s wide or more round the motor axis", mm(up(base.Value+2*(f.Margin-f.Worst), 0.1)))
	}
	p.Report(f)
}

// motorCentre judges the hole under the shaft end: twice the distance from the axis to
// the nearest plate, against the diameter that the motor asks for.
func (p *Pass) motorCentre(r *layout.Rotor, m *shapes.Motor, plate *layout.Plate) {
	need := known(m.CentreHole, r.Motor.Part.Name+" centre hole")
	at, dist, inside := edgeOf(plate.Outline, r.At)
	if math.IsInf(dist, 1) || inside {
		at, dist = r.At, 0
	}
	f := motorFinding(r, plate)
	f.A, f.B = lift(r.At, r.MountZ.Nominal()), lift(at, r.MountZ.Nominal())
	for i := range plate.Holes {
		if h := &plate.Holes[i]; h.Loop.Contains(r.At) {
			f.Pos = h.Pos
		}
	}
	f = f.Judge(layout.Fixed(2*dist), layout.Of(need))
	who := "the shaft end of the " + spoken(r.Name) + " motor"
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("what hole %s needs is missing", who)
		f.Fix = "measure the shaft end, clip or bell screw under the motor, add 2 mm, and say it as `centre-hole:`"
	case dist <= touch:
		f.Message = fmt.Sprintf("there is no hole under %s, one of %s needed", who, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("under %s the plate is open %s across, %s needed", who, mm(f.Measured), mm(f.Needed))
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = fmt.Sprintf("cut a centre hole of %s", mm(up(f.Measured-f.Worst, 0.1)))
	}
	p.Report(f)
}

// underBell judges what lies on the arm within the radius of the spinning bell. Room kept for
// leads does not count: they lie flat.
func (p *Pass) underBell(r *layout.Rotor, m *shapes.Motor) {
	bell := known(m.BellD, r.Motor.Part.Name+" bell diameter")
	gap := known(m.BellGap, r.Motor.Part.Name+" gap under the bell")
	var found perPart
	for _, b := range p.Asm.Bodies {
		if ownedBy(r, b) || b.Of == r.Arm || b.Kind == layout.LeadBody || b.Kind == layout.HubBody {
			continue
		}
		at, dist, inside := edgeOf(b.Plan, r.At)
		if inside {
			at, dist = r.At, 0
		}
		if dist >= bell.Value/2-touch {
			continue
		}
		room := r.MountZ.Plus(gap, 1).Sub(b.Top)
		over, under := b.Top.Sub(r.MountZ).Nominal(), b.Bottom.Sub(r.Seat).Nominal()
		z := b.Top.Nominal()
		if r.Below {
			room = b.Bottom.Sub(r.MountZ.Plus(gap, -1))
			over, under = r.MountZ.Sub(b.Bottom).Nominal(), r.Seat.Sub(b.Top).Nominal()
			z = b.Bottom.Nominal()
		}
		if over <= touch || under >= -touch {
			continue // not above the mounting face, or beyond the motor
		}
		what := p.callBody(b)
		f := layout.Finding{
			Subjects: []string{b.Of, motorID(r)},
			HasPlace: true,
			A:        lift(at, z), B: lift(at, z+room.Nominal()),
			Near: spoken(r.Name) + " motor",
			Pos:  b.Pos,
		}.Judge(room, layout.Form{})
		switch {
		case f.Verdict == layout.Unknown:
			f.Message = fmt.Sprintf("whether the bell of the %s motor spins clear of %s hangs on a dimension that is missing", spoken(r.Name), what)
			f.Fix = "measure " + dimNames(f.Missing)
		case f.Measured < 0:
			f.Message = fmt.Sprintf("%s lies within the bell of the %s motor and stands %s higher than the gap under it", what, spoken(r.Name), mm(-f.Measured))
		default:
			f.Message = fmt.Sprintf("%s lies under the bell of the %s motor with %s to spare", what, spoken(r.Name), mm(f.Measured))
		}
		if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
			f.Fix = fmt.Sprintf("move %s %s out from under the bell, or make it %s lower", what, mm(up(bell.Value/2-dist, 0.1)), mm(up(-f.Worst, 0.1)))
		}
		found.add(partOf(b), f)
	}
	found.report(p)
}
