package starter

import (
	"math"

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
// tilts. A corner at x ahead of the axis and h over it stands x·sin t + h·cos t high at tilt
// t, greatest at tan t = x/h or at an end of the range.
func swing(cam *shapes.Camera, lo, hi float64) (up, down float64) {
	back := figure(cam.PivotBack)
	front, h := figure(cam.Depth)-figure(cam.LensLength)-back, figure(cam.Height)/2
	lens, r := figure(cam.Depth)-back, figure(cam.LensD)/2
	at := func(x, h float64) float64 {
		best := math.Inf(-1)
		for _, t := range []float64{lo, hi, math.Max(lo, math.Min(hi, math.Atan2(x, h)*180/math.Pi))} {
			s, c := math.Sincos(t * math.Pi / 180)
			best = math.Max(best, x*s+h*c)
		}
		return best
	}
	up = math.Max(at(front, h), math.Max(at(lens, r), at(-back, h)))
	down = math.Max(at(back, h), math.Max(at(-front, h), at(-lens, r)))
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
