package render

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// window is the stretch along x that a side view shows; discs that reach further are
// broken off there.
type window struct{ lo, hi float64 }

// bandBox is the least box of everything seen from the side with the swept bands.
func bandBox(asm *layout.Assembly, box geom.Rect, full bool) geom.Rect {
	for _, r := range asm.Rotors {
		rad := 0.0
		if full {
			rad = math.Max(r.Radius.Nominal(), 0)
		}
		box = box.Union(geom.Rect{
			Lo: r2.Point{X: r.At.X - rad, Y: r.SweptLo.Nominal()},
			Hi: r2.Point{X: r.At.X + rad, Y: r.SweptHi.Nominal()},
		})
	}
	return box
}

// axesBox is the box from the side with everything beyond the outermost rotor axes broken
// off, if nothing but arms, motors and props lies there.
func axesBox(asm *layout.Assembly, sc *scene, box geom.Rect) geom.Rect {
	if len(asm.Rotors) == 0 {
		return box
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range asm.Rotors {
		lo, hi = math.Min(lo, r.At.X), math.Max(hi, r.At.X)
	}
	const past = 2.0 // mm beyond the axis
	lo, hi = lo-past, hi+past
	for _, s := range sc.shadows {
		switch s.body.Kind {
		case layout.PlateBody, layout.MotorBody, layout.HubBody, layout.FastenBody:
		default:
			lo, hi = math.Min(lo, s.box.Lo.X-past), math.Max(hi, s.box.Hi.X+past)
		}
	}
	box.Lo.X, box.Hi.X = math.Max(box.Lo.X, lo), math.Min(box.Hi.X, hi)
	return box
}

// sideGeometry draws everything of the side view that has a fixed place.
func sideGeometry(l *List, asm *layout.Assembly, v *view, w window) {
	v.cut = &w
	v.outlines(l, "side.")
	seen := newField(l.W, l.H)
	for _, r := range asm.Rotors {
		sideRotor(l, r, v, w, seen)
	}
	for _, p := range asm.Ports {
		sidePort(l, p, v, seen)
	}
	for _, c := range asm.Cameras {
		sideCamera(l, c, v)
	}
}

// sideRotor draws the band that the blades sweep with flex, broken off at the window, and
// the rotor's axis.
func sideRotor(l *List, r *layout.Rotor, v *view, w window, seen *field) {
	id := "side.rotors." + r.Name + ".prop"
	sweep := Head{Layer: Sweep, ID: id, Group: id}
	rad := r.Radius.Nominal()
	lo, hi := r.SweptLo.Nominal(), r.SweptHi.Nominal()
	if rad > 0 && hi > lo {
		x0, x1 := math.Max(r.At.X-rad, w.lo), math.Min(r.At.X+rad, w.hi)
		if x1 > x0 {
			for _, z := range [2]float64{lo, hi} {
				p := Path{Head: sweep, V: []geom.Vertex{{P: v.at(x0, z)}, {P: v.at(x1, z)}}}
				lay(l, v, seen, p)
			}
			for _, e := range [2]struct {
				x     float64
				whole bool
			}{{x0, r.At.X-rad >= w.lo}, {x1, r.At.X+rad <= w.hi}} {
				p := Path{Head: sweep, V: []geom.Vertex{{P: v.at(e.x, lo)}, {P: v.at(e.x, hi)}}}
				if !e.whole {
					p = zigzag(Head{Layer: Dimension, ID: id, Group: id}, v.at(e.x, lo), v.at(e.x, hi))
				}
				lay(l, v, seen, p)
			}
		}
	}
	axis := Head{Layer: Centre, ID: id, Group: id}
	z0, z1 := r.MountZ.Nominal(), hi
	if r.Below {
		z0, z1 = lo, r.MountZ.Nominal()
	}
	a, b := v.at(r.At.X, z0), v.at(r.At.X, z1)
	p := Path{Head: axis, V: []geom.Vertex{{P: r2.Point{X: a.X, Y: a.Y + 3}}, {P: r2.Point{X: b.X, Y: b.Y - 3}}}}
	lay(l, v, seen, p)
}

// lay adds a path unless a line is already drawn all along it: rotors on the far side lie
// behind those on the near one.
func lay(l *List, v *view, seen *field, p Path) {
	if v.drawn(seen, p) {
		return
	}
	l.add(p)
	segsOf(p, seen.stroke)
}

// zigzag is the line at which a view is broken off (ISO 128-2), from a to b and a little
// beyond, with one kink in the middle.
func zigzag(h Head, a, b r2.Point) Path {
	const over, kink = 1.5, 1.0
	if a.Y < b.Y {
		a, b = b, a
	}
	m := (a.Y + b.Y) / 2
	return Path{Head: h, V: []geom.Vertex{
		{P: r2.Point{X: a.X, Y: a.Y + over}}, {P: r2.Point{X: a.X, Y: m + kink/2}},
		{P: r2.Point{X: a.X - kink, Y: m + kink/4}}, {P: r2.Point{X: a.X + kink, Y: m - kink/4}},
		{P: r2.Point{X: a.X, Y: m - kink/2}}, {P: r2.Point{X: a.X, Y: b.Y - over}},
	}}
}

// sidePort draws the room of a plug from the side.
func sidePort(l *List, p *layout.PortPlace, v *view, seen *field) {
	long, width := plugRoom(p)
	if long <= 0 || p.Up != 0 || p.Plug.Plug.Height == nil {
		return
	}
	id := "side." + p.ID
	tall := p.Plug.Plug.Height.Value
	z := p.Axis.Nominal()
	end := r2.Point{X: p.Mouth.X + p.Dir.X*long}
	half := math.Abs(p.Dir.Y) * width / 2
	x0, x1 := math.Min(p.Mouth.X, end.X)-half, math.Max(p.Mouth.X, end.X)+half
	lay(l, v, seen, v.loop(Head{Layer: Sweep, ID: id, Group: id},
		geom.RectLoop(geom.Rect{Lo: r2.Point{X: x0, Y: z - tall/2}, Hi: r2.Point{X: x1, Y: z + tall/2}})))
}

// sideCamera draws the two ends of the lens axis's range.
func sideCamera(l *List, c *layout.CameraPlace, v *view) {
	h := Head{Layer: Centre, ID: "side." + c.ID + ".axis", Group: "side." + c.ID}
	p := v.at(c.Pivot.X, c.PivotZ.Nominal())
	reach := math.Max(c.LensFront.Nominal(), 5)*v.scale + 8
	yaw := math.Cos(c.Yaw * math.Pi / 180)
	for i, t := range [2]float64{c.TiltLo, c.TiltHi} {
		if i == 1 && c.TiltHi == c.TiltLo {
			break
		}
		sn, cs := math.Sincos(t * math.Pi / 180)
		l.add(Line{Head: h, A: p, B: r2.Point{X: p.X + reach*cs*yaw, Y: p.Y - reach*sn}})
	}
}

// overallHeight dimensions the view from its lowest to its highest point, at x on the
// sheet right of it.
func overallHeight(l *List, asm *layout.Assembly, v *view, x float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	var atLo, atHi float64
	for _, s := range v.scene.shadows {
		if s.shown == Sweep || v.cut != nil && (s.box.Lo.X > v.cut.hi || s.box.Hi.X < v.cut.lo) {
			continue
		}
		if s.box.Lo.Y < lo-1e-6 || s.box.Lo.Y < lo+1e-6 && s.box.Hi.X > atLo {
			lo, atLo = s.box.Lo.Y, s.box.Hi.X
		}
		if s.box.Hi.Y > hi+1e-6 || s.box.Hi.Y > hi-1e-6 && s.box.Hi.X > atHi {
			hi, atHi = s.box.Hi.Y, s.box.Hi.X
		}
	}
	if hi <= lo {
		return
	}
	if v.cut != nil {
		atLo, atHi = math.Min(atLo, v.cut.hi), math.Min(atHi, v.cut.hi)
	}
	text := figure(hi-lo) + " overall"
	if TextWidth(text, small)+4 > (hi-lo)*v.scale {
		text = figure(hi - lo) // a text beside a short dimension would leave the view
	}
	// Leaning things touch their box at a corner that is not known here: start past it.
	v.spansUp(l, "side.dimensions", []span{{"dim.height", text, lo, hi, atLo, atHi}}, x, dimRow)
}
