package rules

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// corridor returns the room that something needs in front of a port, as a body: wide
// across (mm), high along the axis' normal, long from the mouth outwards, and starting
// set mm in front of the mouth. It rides on the port's board and is as uncertain as the
// plug's own width.
func corridor(port *layout.PortPlace, wide, high *shapes.Dim, from, long float64) *layout.Body {
	w, h := wide.Value, high.Value
	b := &layout.Body{
		ID: port.ID + ".room", Of: port.Owner.ID, Kind: layout.LeadBody, Pos: port.Pos, Swept: true,
	}
	if port.Up != 0 {
		d := port.Owner.Pose.Direction(r2.Point{X: 1})
		b.Plan = []geom.Region{geom.RegionOf(geom.Bar(
			port.Mouth.Sub(d.Mul(w/2)), port.Mouth.Add(d.Mul(w/2)), h, h))}
		near, far := port.Axis.Shift(from*float64(port.Up)), port.Axis.Shift((from+long)*float64(port.Up))
		b.Bottom, b.Top = near, far
		if port.Up < 0 {
			b.Bottom, b.Top = far, near
		}
	} else {
		a := port.Mouth.Add(port.Dir.Mul(from))
		b.Plan = []geom.Region{geom.RegionOf(geom.Bar(a, a.Add(port.Dir.Mul(long)), w, w))}
		b.Bottom = port.Axis.Plus(high, -0.5)
		b.Top = port.Axis.Plus(high, 0.5)
	}
	b.Blur = layout.Form{Const: -w / 2}.Plus(wide, 0.5)
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

// blocked returns the body that leaves the corridor the least room, over all bodies but
// those of the port's own part and those that skip refuses. ok is false when nothing
// comes nearer than told mm.
func blocked(asm *layout.Assembly, room *layout.Body, told float64, skip func(*layout.Body) bool) (best apart, body *layout.Body, ok bool) {
	for _, b := range asm.Bodies {
		if b.Of == room.Of || skip != nil && skip(b) {
			continue
		}
		if boundsApart(room, b) > told {
			continue
		}
		m := separation(room, b)
		if m.form.Nominal() > told || math.IsInf(m.worst, 1) {
			continue
		}
		if !ok || m.worst < best.worst-1e-9 {
			best, body, ok = m, b, true
		}
	}
	return best, body, ok
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
