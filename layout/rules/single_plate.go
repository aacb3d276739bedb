package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
)

// socketShare is how much wider than a nut across its flats the socket or the jaws of the
// spanner are that turn it: 13 for 8.
const socketShare = 13.0 / 8

// whileSingle reports whether a screw is turned while its arm's plate is still without
// those beyond it, and on which plate its head bears: motor screws.
func (p *Pass) whileSingle(j *layout.Joint) (*layout.Plate, bool) {
	if j.Kind != layout.MotorScrew {
		return nil, false
	}
	l := seatLayer(j)
	if l == nil {
		return nil, false
	}
	pl := p.plate(l.Component)
	return pl, pl != nil
}

// singly returns what is there while a plate is single: plates that lie against it, or
// against such a one, and motors. Of plates beyond posts nothing is there yet.
func (p *Pass) singly(j *layout.Joint, pl *layout.Plate) func(*layout.Body) bool {
	group := p.against(pl)
	hard := hardFor(j)
	return func(b *layout.Body) bool {
		return hard(b) && (b.Kind == layout.PlateBody && group[b.Of] || b.Kind == layout.MotorBody)
	}
}

// against lists a plate and those that lie against it, or against such a one. All such groups are worked
// out at once in each run of a rule: every screw asks again.
func (p *Pass) against(pl *layout.Plate) map[string]bool {
	if p.group == nil {
		p.group = map[string]map[string]bool{}
		for _, q := range p.Asm.Plates {
			p.group[q.ID] = map[string]bool{q.ID: true}
		}
		for i, q := range p.Asm.Plates {
			for _, o := range p.Asm.Plates[:i] {
				against := math.Abs(q.Bottom.Sub(o.Top).Nominal()) < touch || math.Abs(o.Bottom.Sub(q.Top).Nominal()) < touch
				if against && !p.group[q.ID][o.ID] && overlapInPlan(q.Solid, o.Solid) {
					p.join(q.ID, o.ID)
				}
			}
		}
	}
	return p.group[pl.ID]
}

// join makes one group of those of two plates.
func (p *Pass) join(a, b string) {
	all := p.group[a]
	for id := range p.group[b] {
		all[id] = true
	}
	for id := range all {
		p.group[id] = all
	}
}

// whenNutTurned says what is there when the nut of a joint is turned or held, for nuts
// that bear on a plate; ok is false for others.
func (p *Pass) whenNutTurned(j *layout.Joint) (there func(*layout.Body) bool, ok bool) {
	if j.Nut == nil || j.Nut.Kind == "press" || j.Nut.Item != "" || j.Kind == layout.PropNut || j.Level || len(j.Layers) == 0 {
		return nil, false
	}
	pl := p.plate(j.Layers[len(j.Layers)-1].Component)
	if pl == nil {
		return nil, false
	}
	hard := hardFor(j)
	switch j.Kind {
	case layout.PostNut:
		return func(b *layout.Body) bool { return hard(b) && b.Kind == layout.MotorBody }, true // its plate is single
	case layout.StackBolt:
		s := p.stackOf(j)
		on := p.plate(pl.ID)
		if s == nil {
			return nil, false
		}
		frame := p.frameTo(on, s.Down)
		return func(b *layout.Body) bool { return hard(b) && frame(b) }, true
	case layout.PlateBolt:
		return func(b *layout.Body) bool {
			return hard(b) && (b.Kind == layout.PlateBody || b.Kind == layout.PostBody || b.Kind == layout.MotorBody)
		}, true
	}
	return nil, false
}

// reachNut judges whether a socket in line with a nut, or a spanner from any side, gets at
// it.
func (p *Pass) reachNut(j *layout.Joint, there func(*layout.Body) bool) layout.Finding {
	out := 1.0
	if !j.Up {
		out = -1
	}
	bear := j.Seat.Add(j.Grip.Scale(out))
	at := lift(j.At, bear.Nominal())
	base := layout.Finding{
		Subjects: []string{j.Owner.ID}, Pos: j.Fastening.Pos, HasPlace: true, A: at, B: at, Near: p.nearJoints(j.Fastening),
	}
	flats := acrossFlats(j)
	if isMissing(flats) {
		base.Verdict = layout.OK // screw-reach asks for the nut
		return base
	}
	wide := socketShare * flats.Value
	tool := func(plan geom.Loop, from, to layout.Form) *layout.Body {
		if out < 0 {
			from, to = to, from
		}
		return &layout.Body{ID: j.ID + ".spanner", Of: j.Owner.ID, Kind: layout.FastenBody, Plan: []geom.Region{geom.RegionOf(plan)}, Bottom: from, Top: to}
	}
	// The bearing face itself is not in the way, nor what it lies on.
	foot := bear.Shift(out * 2 * touch)
	best, near := p.toolFree(base, j, tool(geom.Circle(j.At, wide/2), foot, bear.Shift(out*driverLength)), foot, there)
	if best.Verdict == layout.OK {
		return best
	}
	top := bear.Add(j.Nut.Height.Scale(out))
	for i := range 24 {
		jaws := geom.Rectangle(r2.Point{X: (driverLength - wide/2) / 2}, driverLength+wide/2, wide).
			Transform(geom.Pose2{Turn: s1.Angle(float64(i) * math.Pi / 12), Shift: j.At})
		if f, _ := p.toolFree(base, j, tool(jaws, foot, top), foot, there); f.Verdict == layout.OK {
			return f
		}
	}
	f := best
	f.Subjects = append(f.Subjects, near.Of)
	what := p.callBody(near)
	who := fmt.Sprintf("a socket of %s for the nut of %s", mm(wide), j.Label())
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s passes %s hangs on a dimension that is missing", who, what)
		f.Fix = unknownFix(&f)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s is stopped by %s, and no spanner gets at it from any side", who, what)
		f.Fix = fmt.Sprintf("take a press nut, turn the screw round, or move %s %s aside", what, mm(up(-f.Worst, 0.1)))
	default:
		f.Message = fmt.Sprintf("%s passes %s at %s, which tolerances may take, and no spanner gets at it from any side", who, what, mm(f.Measured))
		f.Fix = fmt.Sprintf("take a press nut, turn the screw round, or move %s %s aside", what, mm(up(-f.Worst, 0.1)))
	}
	return f
}

// toolFree judges the room of a tool against all that is there beyond the height foot; near
// is what comes nearest, nil if nothing does.
func (p *Pass) toolFree(base layout.Finding, j *layout.Joint, tool *layout.Body, foot layout.Form, there func(*layout.Body) bool) (f layout.Finding, near *layout.Body) {
	return p.roomOf(base, tool, func(b *layout.Body) bool {
		if !j.Up {
			return there(b) && b.Bottom.Nominal() < foot.Nominal()
		}
		return there(b) && b.Top.Nominal() > foot.Nominal()
	})
}
