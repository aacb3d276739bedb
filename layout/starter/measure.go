package starter

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/shapes"
)

// figure is the nominal value of a dimension, 0 for one that the class does not give.
func figure(d *shapes.Dim) float64 {
	if d == nil || d.Missing {
		return 0
	}
	return d.Value
}

// most is the greatest value that a dimension may have.
func most(d *shapes.Dim) float64 {
	if d == nil || d.Missing {
		return 0
	}
	return d.Value + d.Plus
}

// atLeast returns the first of the lengths sold that is not under need, the last if all
// are. The lengths ascend.
func atLeast(sold []float64, need float64) float64 {
	for _, l := range sold {
		if l >= need {
			return l
		}
	}
	return sold[len(sold)-1]
}

// nearest returns the one of the sizes sold that is nearest to want, the thinner of two.
func nearest(sold []float64, want float64) float64 {
	best := sold[0]
	for _, l := range sold {
		if math.Abs(l-want) < math.Abs(best-want) {
			best = l
		}
	}
	return best
}

// tallest is the highest thing on a board's top face, with the spread of what a person
// measures there.
func tallest(b *shapes.Part) float64 {
	top := figure(b.Body.Above) + measured
	for _, z := range b.Body.Zones {
		if z.Face == shapes.Top {
			top = math.Max(top, figure(z.Height)+solderTop)
		}
	}
	return top
}

// boardHalves returns half the length and width over all boards of the stack, with the
// outline's spread.
func boardHalves(o Options, c choice) (long, wide float64) {
	list := []*shapes.Part{c.controller}
	if o.ESC == FourInOne {
		list = append(list, c.esc)
	} else {
		list = append(list, powerBoard(c))
	}
	for _, b := range list {
		long = math.Max(long, figure(b.Body.Length)/2+measured)
		wide = math.Max(wide, figure(b.Body.Width)/2+measured)
	}
	return long, wide
}

// powerBoard returns the class of the power board, or the figures of the small one that
// the sheet writes out, since the catalogue has none on 20 holes: a bare sharing board of
// the size of its controller.
func powerBoard(c choice) *shapes.Part {
	if c.power != nil {
		return c.power
	}
	mm := func(v float64) *shapes.Dim { return &shapes.Dim{Value: v, Unit: shapes.MM} }
	return &shapes.Part{Body: &shapes.Body{
		Length: c.controller.Body.Length, Width: c.controller.Body.Width,
		Pcb: mm(1), Above: mm(1.5), Below: mm(0.3),
		Zones: []shapes.Zone{{Name: "pack-pads", Face: shapes.Top, Height: mm(3)}},
	}}
}

// nutHeight of the stack's nuts by ISO 4032: M2 1.6, M3 2.4.
func nutHeight(c choice) float64 {
	if c.small {
		return 1.6
	}
	return 2.4
}

// swing returns how far a camera reaches over and under its side-screw axis while it
// tilts.
func swing(cam *shapes.Camera, lo, hi float64) (up, down float64) {
	back := figure(cam.PivotBack)
	front, h := figure(cam.Depth)-figure(cam.LensLength)-back, figure(cam.Height)/2
	lens, r := figure(cam.Depth)-back, figure(cam.LensD)/2
	// A tilt up turns what lies ahead (x) towards over the axis (y).
	reach := func(x, h, way float64) float64 {
		v, _ := geom.Swing(r2.Point{X: x, Y: h}, r2.Point{Y: way}, s1.Angle(lo*math.Pi/180), s1.Angle(hi*math.Pi/180))
		return v
	}
	up = max(reach(front, h, 1), reach(lens, r, 1), reach(-back, h, 1))
	down = max(reach(front, -h, -1), reach(lens, -r, -1), reach(-back, -h, -1))
	return up + 2*measured, down + 2*measured
}

// lensAhead is how far the lens can reach ahead of the side-screw axis: at the angle that
// brings the rim of its front furthest.
func lensAhead(cam *shapes.Camera) float64 {
	return math.Hypot(figure(cam.Depth)-figure(cam.PivotBack), figure(cam.LensD)/2) + 2*measured
}

// behind is how far the case can reach behind the side-screw axis.
func behind(cam *shapes.Camera) float64 {
	return math.Hypot(figure(cam.PivotBack), figure(cam.Height)/2) + 2*measured
}
