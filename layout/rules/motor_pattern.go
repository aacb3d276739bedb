package rules

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// pattern is one way to fasten a motor.
type pattern struct {
	holes []motorHole
	name  string // "the 12 mm bolt circle"
	// circle is the diameter of its one circle, 0 if its holes stand on two.
	circle float64
}

// motorHole is a threaded hole in the motor's frame.
type motorHole struct {
	at     r2.Point
	circle *shapes.Dim
	screw  string
}

// patterns lists the ways to fasten a motor: the patterns that its class is sold with.
// On a mixed pattern (16 across one way, 19 across the other) every other hole stands on
// the second circle.
func patterns(m *shapes.Motor) []pattern {
	var out []pattern
	for _, c := range m.Circles {
		if isMissing(c.Diameter) || c.Count < 1 {
			continue
		}
		pt := pattern{name: "the " + mm(c.Diameter.Value) + " bolt circle", circle: c.Diameter.Value}
		if c.Across != nil {
			pt.name = "the bolt circles of " + mm(c.Diameter.Value) + " and " + mm(c.Across.Value)
			pt.circle = 0
		}
		for k := range c.Count {
			d := c.Diameter
			if c.Across != nil && k%2 == 1 {
				d = c.Across
			}
			a := (c.Turn + 360*float64(k)/float64(c.Count)) * math.Pi / 180
			sin, cos := geom.SinCos(s1.Angle(a))
			pt.holes = append(pt.holes, motorHole{r2.Point{X: cos, Y: sin}.Mul(d.Value / 2), d, c.Screw})
		}
		out = append(out, pt)
	}
	return out
}

// screwSize is the outer diameter in mm of a screw written "M3", 0 if it is not so
// written.
func screwSize(s string) float64 {
	v, err := strconv.ParseFloat(strings.TrimPrefix(strings.ToUpper(s), "M"), 64)
	if err != nil || !(v > 0) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// headOf is the head diameter of a screw: socket heads of ISO 4762 for M2, button heads
// above it (ISO 7380-1 from M3), down to the socket heads of the same size. nil for
// sizes below, of which the trade gives no seat.
func headOf(size float64) *shapes.Dim {
	row := func(d, minus float64) *shapes.Dim {
		return &shapes.Dim{
			Name: "M" + num(size) + " screw head", Value: d, Minus: minus, Unit: shapes.MM,
			Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true, Range: true,
		}
	}
	switch math.Round(size * 10) {
	case 20:
		return row(3.8, 0)
	case 25:
		return row(4.6, 0.1)
	case 30:
		return row(5.7, 0.2)
	case 40:
		return row(7.6, 0.6)
	}
	return nil
}

// meetingOf is a motor hole with the plate hole that it meets best.
type meetingOf struct {
	hole   *layout.Hole
	at     r2.Point // the motor hole in the body frame
	on     r2.Point // the nearest place of the screw's axis that the plate hole is drawn for
	offset float64
	margin float64
	motor  motorHole
}

// meet finds for every hole of a pattern the plate hole that takes its screw best, and
// returns them with the least of their margins.
func meet(pt *pattern, pose geom.Pose2, plate *layout.Plate) (list []meetingOf, least float64) {
	least = math.Inf(1)
	for _, h := range pt.holes {
		m := meetingOf{at: pose.Apply(h.at), motor: h, margin: math.Inf(-1)}
		for i := range plate.Holes {
			q := &plate.Holes[i]
			if q.Diameter == nil {
				continue
			}
			on := axisOf(q, m.at)
			offset := on.Sub(m.at).Norm()
			margin := (q.Diameter.Value-screwSize(h.screw))/2 - offset
			if margin > m.margin+1e-9 && offset < h.circle.Value/2 {
				m.hole, m.on, m.offset, m.margin = q, on, offset, margin
			}
		}
		least = math.Min(least, m.margin)
		list = append(list, m)
	}
	return list, least
}

// axisOf is where the axis of a screw lies in a hole, as near to p as it is drawn for:
// the centre, or a point of the middle line of a slot.
func axisOf(h *layout.Hole, p r2.Point) r2.Point {
	half := (h.Length - h.Diameter.Value) / 2
	if half <= 0 {
		return h.At
	}
	sin, cos := geom.SinCos(s1.Angle(h.Turn * math.Pi / 180))
	dir := r2.Point{X: cos, Y: sin}
	q, _, _ := geom.Seg{A: h.At.Sub(dir.Mul(half)), B: h.At.Add(dir.Mul(half))}.Nearest(p)
	return q
}

// bestPattern tries every pattern at the motor's clocking and, if none fits, at the
// angles at which its first hole meets a plate hole. turned is that angle in degrees.
func bestPattern(m *shapes.Motor, pose geom.Pose2, plate *layout.Plate) (pt *pattern, list []meetingOf, turned float64) {
	least := math.Inf(-1)
	all := patterns(m)
	try := func(turn float64) {
		t := geom.Pose2{Turn: s1.Angle(turn * math.Pi / 180)}.Then(pose)
		for i := range all {
			got, margin := meet(&all[i], t, plate)
			// Of angles that fit alike the least is told.
			alike := pt != nil && math.Abs(margin-least) <= 1e-6 && math.Abs(turn) < math.Abs(turned)-1e-6
			if pt == nil || margin > least+1e-6 || alike {
				pt, list, least, turned = &all[i], got, margin, turn
			}
		}
	}
	try(0)
	if pt == nil || least >= 0 {
		return pt, list, turned
	}
	home := pose.Inverse()
	for i := range all {
		first := all[i].holes[0].at
		for k := range plate.Holes {
			q := home.Apply(axisOf(&plate.Holes[k], pose.Apply(first)))
			if n := q.Norm(); math.Abs(n-first.Norm()) > first.Norm()/2 || n < 1e-9 {
				continue
			}
			try(math.Round(geom.Turn(first, q).Radians()*1e9) / 1e9 * 180 / math.Pi)
		}
	}
	return pt, list, turned
}
