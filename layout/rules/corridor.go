package rules

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// exitTold is how near something must come to the way of a plug, a stick or a lead to be
// told of, mm.
const exitTold = 10.0

// wayOut is the straight room in front of a port that something needs: a box wide across
// and high along the normal of the face, or a round bar of that width, and long from the
// mouth outwards. Sizes in mm.
type wayOut struct {
	port       *layout.PortPlace
	wide, high *shapes.Dim
	long       layout.Form
	round      bool
}

// lacks lists the sizes of the room that nobody gave.
func (w *wayOut) lacks() []*shapes.Dim {
	return append(lacking(w.wide, w.high), append(w.long.Missing(), w.port.Axis.Missing()...)...)
}

// room returns the way as a body of that length. It rides on the port's board and is as
// uncertain as the plug's own width.
func (w *wayOut) room(long float64) *layout.Body {
	port, wide, high := w.port, w.wide.Value, w.high.Value
	b := &layout.Body{ID: port.ID + ".room", Of: port.Owner.ID, Kind: layout.LeadBody, Pos: port.Pos, Swept: true}
	if port.Up != 0 {
		d := port.Owner.Pose.Direction(r2.Point{X: 1})
		plan := geom.Bar(port.Mouth.Sub(d.Mul(wide/2)), port.Mouth.Add(d.Mul(wide/2)), high, high)
		if w.round {
			plan = geom.Circle(port.Mouth, wide/2)
		}
		b.Plan = []geom.Region{geom.RegionOf(plan)}
		b.Bottom, b.Top = port.Axis, port.Axis.Shift(long*float64(port.Up))
		if port.Up < 0 {
			b.Bottom, b.Top = b.Top, b.Bottom
		}
	} else {
		b.Plan = []geom.Region{geom.RegionOf(geom.Bar(port.Mouth, port.Mouth.Add(port.Dir.Mul(long)), wide, wide))}
		b.Bottom, b.Top = port.Axis.Plus(w.high, -0.5), port.Axis.Plus(w.high, 0.5)
	}
	b.Blur = layout.Form{Const: -wide / 2}.Plus(w.wide, 0.5)
	for _, own := range port.Owner.Bodies {
		if own.Kind != layout.PcbBody && own.Kind != layout.PartBody {
			continue
		}
		for _, d := range own.Rides {
			b.Blur = b.Blur.Plus(d, coefOf(own.Blur, d))
			b.Rides = append(b.Rides, d)
		}
		break
	}
	return b
}

// stick is a made dimension of the tool's own, without tolerance: a driver, a finger.
func stick(name string, mm float64) *shapes.Dim {
	return &shapes.Dim{Name: name, Value: mm, Unit: shapes.MM, Source: shapes.Assumed, HasTol: true}
}

// obstructs tells the bodies that block a way: all that is hard, and for what goes in and
// out on the ready craft straps as well, which are tight then.
func obstructs(b *layout.Body, port *layout.PortPlace) bool {
	return !b.Soft || b.Kind == layout.StrapBody && port.Port.Reach
}

// blocked judges the way against every body but those of the port's own part, and returns
// the worst finding with the body that it is about; body is nil when nothing comes nearer
// than [exitTold]. The room is measured at its nominal and at its greatest length, and the
// difference is charged to what the length rests on.
func (p *Pass) blocked(w *wayOut, base layout.Finding, need layout.Form) (f layout.Finding, m apart, body *layout.Body) {
	nominal := w.long.Nominal()
	_, most := w.long.Worst()
	room := w.room(nominal)
	longest := room
	if most > nominal+1e-9 {
		longest = w.room(most)
	}
	var worst worstOf
	for _, b := range p.Asm.Bodies {
		if b.Of == room.Of || !obstructs(b, w.port) || boundsApart(longest, b) > exitTold {
			continue
		}
		all := separations(room, b)
		if longest != room {
			for i, long := range separations(longest, b) {
				all[i] = charge(all[i], long, w.long, most-nominal)
			}
		}
		near := math.Inf(-1)
		for _, s := range all {
			near = math.Max(near, s.form.Nominal())
		}
		if near > exitTold {
			continue
		}
		g := base
		g.Subjects = append(append([]string(nil), base.Subjects...), b.Of)
		g, gap := judged(g, all, func(bool) layout.Form { return need })
		if worst.add(g) {
			body, m = b, gap
		}
	}
	return worst.f, m, body
}

// charge returns the separation from a room of nominal length with what it loses to one
// that is more mm longer charged to the length.
func charge(nominal, longest apart, long layout.Form, more float64) apart {
	lost := nominal.form.Nominal() - longest.form.Nominal()
	if !(lost > 1e-9) || math.IsInf(lost, 0) {
		return nominal
	}
	nominal.form = longest.form.Shift(lost).Add(deviation(long).Scale(-lost / more))
	nominal.worst, _ = nominal.form.Worst()
	return nominal
}

// quarters are the words for turning a board, by quarter turns counter-clockwise.
var quarters = [...]string{1: "a quarter counter-clockwise", 2: "a half", 3: "a quarter clockwise"}

// turnThatClears returns the words for the least turn of the port's part after which its
// way is free at worst case, "" if there is none or the port does not look sideways. The
// part turns about its own centre, in quarters; one on unequal sides of holes in halves.
func (p *Pass) turnThatClears(w *wayOut, need layout.Form) string {
	own := w.port.Owner
	if w.port.Up != 0 {
		return ""
	}
	sq := own.Part.Square
	for _, q := range []int{1, 3, 2} {
		if own.Kind == "board" && sq != nil && sq.X != nil && sq.Y != nil && math.Abs(sq.X.Value-sq.Y.Value) > 1e-6 && q != 2 {
			continue
		}
		turn := geom.Pose2{Turn: s1.Angle(q) * 90 * s1.Degree}
		port := *w.port
		port.Dir = turn.Direction(port.Dir)
		port.Mouth = own.Pose.Shift.Add(turn.Direction(port.Mouth.Sub(own.Pose.Shift)))
		turned := *w
		turned.port = &port
		if f, _, body := p.blocked(&turned, layout.Finding{}, need); body == nil || f.Verdict == layout.OK {
			return quarters[q]
		}
	}
	return ""
}

// boundsApart is a quick lower bound of what separation says of two upright bodies: the
// distance of their boxes in plan, or of their heights.
func boundsApart(a, b *layout.Body) float64 {
	if a.Tilted != nil || b.Tilted != nil {
		return 0
	}
	ra, rb := geom.EmptyRect(), geom.EmptyRect()
	for _, r := range a.Plan {
		ra = ra.Union(r.Bound())
	}
	for _, r := range b.Plan {
		rb = rb.Union(r.Bound())
	}
	ha, hb := heights(a), heights(b)
	return math.Max(ra.Distance(rb), math.Max(hb.Lo-ha.Hi, ha.Lo-hb.Hi))
}
