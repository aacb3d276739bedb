package render

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// discBox is the least box of everything in plan with the prop discs.
func discBox(asm *layout.Assembly, box geom.Rect) geom.Rect {
	for _, r := range asm.Rotors {
		box = box.Union(geom.Rect{Lo: r.At, Hi: r.At}.Expand(r.Radius.Nominal()))
	}
	return box
}

// topGeometry draws everything of the top view that has a fixed place.
func topGeometry(l *List, asm *layout.Assembly, v *view) {
	v.outlines(l, "top.")
	axes(l, "top.axes", v, discBox(asm, v.scene.box))
	for _, r := range asm.Rotors {
		topRotor(l, r, v, partner(asm, r) != nil && r.Below)
	}
	for _, p := range asm.Ports {
		planPort(l, "top.", p, v)
	}
	for _, c := range asm.Cameras {
		topCamera(l, c, v)
	}
	rotorCircle(l, asm, v)
}

// axes draws the two centre lines of the craft.
func axes(l *List, id string, v *view, box geom.Rect) {
	h := Head{Layer: Centre, ID: id, Group: id}
	f := v.frame(box)
	const over = 2.0
	o := v.at(0, 0)
	l.add(Line{Head: h, A: r2.Point{X: f.Lo.X - over, Y: o.Y}, B: r2.Point{X: f.Hi.X + over, Y: o.Y}})
	l.add(Line{Head: h, A: r2.Point{X: o.X, Y: f.Lo.Y - over}, B: r2.Point{X: o.X, Y: f.Hi.Y + over}})
}

// topRotor draws the swept disc, the axis, the motor's bolt circle and the direction of
// turn: the lower rotor of a pair has its arrow further in.
func topRotor(l *List, r *layout.Rotor, v *view, second bool) {
	id := "top.rotors." + r.Name + ".prop"
	rad := r.Radius.Nominal() * v.scale
	c := v.point(r.At)
	sweep := Head{Layer: Sweep, ID: id, Group: id}
	if rad > 0 {
		l.add(Circle{Head: sweep, C: c, R: rad})
	}
	cross := Head{Layer: Centre, ID: id, Group: id}
	bell := 4.0
	if m := motorOf(r); m != nil && m.BellD != nil {
		bell = m.BellD.Value/2*v.scale + 2
		for i, bc := range m.Circles {
			if bc.Diameter == nil || i > 0 {
				continue
			}
			l.add(Circle{Head: cross, C: c, R: bc.Diameter.Value / 2 * v.scale})
		}
	}
	l.add(Line{Head: cross, A: r2.Point{X: c.X - bell, Y: c.Y}, B: r2.Point{X: c.X + bell, Y: c.Y}})
	l.add(Line{Head: cross, A: r2.Point{X: c.X, Y: c.Y - bell}, B: r2.Point{X: c.X, Y: c.Y + bell}})
	at := turnAt
	if second {
		at -= 0.14
	}
	if rad > 6 {
		turnArrow(l, Head{Layer: Arrow, ID: id, Group: id}, c, outward(r), rad*at, r.Clockwise)
	}
}

// turnAt is where the arrow of turn runs, as a share of the disc's radius.
const turnAt = 0.84

func motorOf(r *layout.Rotor) *shapes.Motor {
	if r.Motor == nil || r.Motor.Part == nil {
		return nil
	}
	return r.Motor.Part.Motor
}

// outward is the direction from the middle of the craft to a rotor, on the sheet.
func outward(r *layout.Rotor) r2.Point {
	d := r.At
	if d.Norm() < 1e-6 {
		d = r2.Point{X: 1}
	}
	d = d.Normalize()
	return r2.Point{X: d.X, Y: -d.Y}
}

// turnArrow draws an arc of 60° about c, in the middle along dir, with a head in the
// direction of turn seen from above.
func turnArrow(l *List, h Head, c, dir r2.Point, rad float64, clockwise bool) {
	const half = 30 * math.Pi / 180
	turn := func(a float64) r2.Point {
		sn, cs := math.Sincos(a)
		return r2.Point{X: dir.X*cs - dir.Y*sn, Y: dir.X*sn + dir.Y*cs}
	}
	// On the sheet y points down, so a rising angle turns clockwise as seen.
	from, to := -half, half
	if !clockwise {
		from, to = half, -half
	}
	head := to - math.Copysign(arrowLen*0.8/rad, to)
	l.add(Arc{Head: h, A: c.Add(turn(from).Mul(rad)), B: c.Add(turn(head).Mul(rad)), Bulge: math.Tan((head - from) / 4)})
	tip := c.Add(turn(to).Mul(rad))
	back := c.Add(turn(head).Mul(rad))
	p := arrowhead(h, tip, tip.Sub(back).Normalize())
	l.add(p)
}

// planPort draws the room of the plug, or a small triangle at a button.
func planPort(l *List, prefix string, p *layout.PortPlace, v *view) {
	id := prefix + p.ID
	h := Head{Layer: Sweep, ID: id, Group: id}
	m := v.point(p.Mouth)
	if p.Up != 0 {
		h.Layer = Detail
		l.add(Circle{Head: h, C: m, R: 0.8})
		return
	}
	dir := r2.Point{X: p.Dir.X, Y: -p.Dir.Y}
	if dir.Norm() < 1e-9 {
		return
	}
	side := r2.Point{X: -dir.Y, Y: dir.X}
	long, width := plugRoom(p)
	if long <= 0 {
		h.Layer = Detail
		l.add(Path{Head: h, Closed: true, V: []geom.Vertex{
			{P: m}, {P: m.Add(dir.Mul(2)).Add(side)}, {P: m.Add(dir.Mul(2)).Sub(side)}}})
		return
	}
	long, width = long*v.scale, width*v.scale/2
	l.add(Path{Head: h, Closed: true, V: []geom.Vertex{
		{P: m.Sub(side.Mul(width))}, {P: m.Add(side.Mul(width))},
		{P: m.Add(side.Mul(width)).Add(dir.Mul(long))}, {P: m.Sub(side.Mul(width)).Add(dir.Mul(long))}}})
}

// plugRoom returns length and width of the room that a port's plug takes, mm.
func plugRoom(p *layout.PortPlace) (long, width float64) {
	if p.Plug == nil || p.Plug.Plug == nil {
		return 0, 0
	}
	g := p.Plug.Plug
	d := g.Beyond
	if p.Angled && g.Angled != nil {
		d = g.Angled
	}
	if d == nil || g.Width == nil {
		return 0, 0
	}
	return d.Value, g.Width.Value
}

// topCamera draws the edges of the camera's picture in plan.
func topCamera(l *List, c *layout.CameraPlace, v *view) {
	if c.Cam == nil || c.Cam.Fov == nil || c.Cam.Fov.Value <= 0 || c.Cam.Fov.Value >= 179 {
		return
	}
	h := Head{Layer: Sweep, ID: "top." + c.ID + ".view", Group: "top." + c.ID}
	// The figure is across the diagonal of a 4:3 picture: 5 to 4 of its width.
	half := math.Atan(0.8 * math.Tan(c.Cam.Fov.Value*math.Pi/360))
	yaw := c.Yaw * math.Pi / 180
	reach := c.LensFront.Nominal()
	eye := r2.Point{X: c.Pivot.X + reach*math.Cos(yaw), Y: c.Pivot.Y + reach*math.Sin(yaw)}
	const long = 14.0 // mm on the sheet
	a := v.point(eye)
	for _, s := range [2]float64{-1, 1} {
		sn, cs := math.Sincos(yaw + s*half)
		l.add(Line{Head: h, A: a, B: r2.Point{X: a.X + long*cs, Y: a.Y - long*sn}})
	}
}

// rotorCircle draws the circle that the axes stand on, if they do.
func rotorCircle(l *List, asm *layout.Assembly, v *view) {
	if r, ok := circleRadius(asm); ok {
		h := Head{Layer: Centre, ID: "dim.wheelbase", Group: "top.dimensions"}
		l.add(Circle{Head: h, C: v.at(0, 0), R: r * v.scale})
	}
}

// circleRadius returns the radius of the circle about the origin that all axes stand on.
func circleRadius(asm *layout.Assembly) (float64, bool) {
	if len(asm.Rotors) < 3 {
		return 0, false
	}
	r := asm.Rotors[0].At.Norm()
	for _, q := range asm.Rotors {
		if math.Abs(q.At.Norm()-r) > 0.01 {
			return 0, false
		}
	}
	return r, r > 1
}

// rotorNames writes into each disc whose it is and how it turns; for a pair on one axis,
// how each of the two does.
func rotorNames(p *placer, asm *layout.Assembly, v *view) {
	for _, r := range asm.Rotors {
		other := partner(asm, r)
		if other != nil && r.Below {
			continue
		}
		lines := []string{strings.ReplaceAll(r.Name, "-", " "), turnWord(r)}
		if other != nil {
			lines = []string{lines[0], "above: " + turnWord(r), "below: " + turnWord(other)}
		}
		d := outward(r)
		c := v.point(r.At)
		rad := r.Radius.Nominal() * v.scale
		id := "top.rotors." + r.Name + ".name"
		var targets []r2.Point
		for _, k := range [...]float64{0.5, 0.6, 0.4} {
			for _, a := range [...]float64{0, 0.5, -0.5, 1, -1, 1.5, -1.5, 2, -2, 2.6, -2.6} {
				sn, cs := math.Sincos(a)
				targets = append(targets, c.Add(r2.Point{X: d.X*cs - d.Y*sn, Y: d.X*sn + d.Y*cs}.Mul(rad*k)))
			}
		}
		h := Head{Layer: Dimension, ID: id, Group: "top.rotors." + r.Name + ".prop"}
		if p.note(h, lines, targets, 0, false) {
			continue
		}
		var narrow []string
		for _, s := range lines {
			narrow = append(narrow, strings.SplitAfter(s, "-")...)
		}
		if !p.note(h, narrow, targets, 0, false) {
			var rim []r2.Point
			for _, a := range [...]float64{0, 0.4, -0.4, 0.8, -0.8, 1.2, -1.2, 1.6, -1.6} {
				sn, cs := math.Sincos(a)
				rim = append(rim, c.Add(r2.Point{X: d.X*cs - d.Y*sn, Y: d.X*sn + d.Y*cs}.Mul(rad)))
			}
			p.note(h, lines, rim, 4, true)
		}
	}
}

func turnWord(r *layout.Rotor) string {
	if r.Clockwise {
		return "clockwise"
	}
	return "counter-clockwise"
}

// partner returns the rotor that shares a rotor's axis, nil if none does.
func partner(asm *layout.Assembly, r *layout.Rotor) *layout.Rotor {
	for _, q := range asm.Rotors {
		if q != r && (q.Name == r.Coaxial || q.Coaxial == r.Name) {
			return q
		}
	}
	return nil
}

// topLabels places the plan's figures that have to find a free place.
func topLabels(p *placer, asm *layout.Assembly, v *view) {
	if r, ok := circleRadius(asm); ok {
		var targets []r2.Point
		for i := range 24 {
			sn, cs := math.Sincos(float64(i)*math.Pi/12 + math.Pi/24)
			q := r2.Point{X: r * cs, Y: r * sn}
			clear := true
			for _, t := range asm.Rotors {
				clear = clear && q.Sub(t.At).Norm() > r/4
			}
			if clear {
				targets = append(targets, v.point(q))
			}
		}
		p.note(Head{Layer: Dimension, ID: "dim.wheelbase", Group: "top.dimensions"},
			[]string{"Ø" + figure(2*r) + circleWord(asm)}, targets, 8, true)
	}
	for _, c := range asm.Cameras {
		if c.TiltLo != 0 || c.TiltHi != 0 {
			s := "tilt " + figure(c.TiltLo) + "°"
			if c.TiltHi != c.TiltLo {
				s += " to " + figure(c.TiltHi) + "°"
			}
			p.note(Head{Layer: Dimension, ID: "top." + c.ID + ".tilt", Group: "top." + c.ID}, []string{s}, []r2.Point{v.point(c.Pivot)}, 6, true)
		}
	}
}

// nose draws the arrow that points forward, on the middle line at the first place, from the
// front backwards, where its word is free of lines.
func nose(p *placer, v *view, box geom.Rect, inside bool) {
	y := v.at(0, 0).Y
	h := Head{Layer: Arrow, ID: "top.nose", Group: "top.nose"}
	x := v.frame(box).Hi.X + 2.5
	if inside {
		x -= 11
		for d := range 12 {
			w := geom.Rect{Lo: r2.Point{X: x - 3*float64(d) - 1, Y: y - 4.5}, Hi: r2.Point{X: x - 3*float64(d) + 10, Y: y - 0.5}}
			if p.lines.free(w) && p.labels.free(w) {
				x -= 3 * float64(d)
				break
			}
		}
	}
	p.add(Line{Head: h, A: r2.Point{X: x, Y: y}, B: r2.Point{X: x + 8, Y: y}})
	p.add(arrowhead(h, r2.Point{X: x + 9.5, Y: y}, r2.Point{X: 1}))
	p.add(Text{Head: h, At: r2.Point{X: x + 4, Y: y - 1.2}, Size: small, S: "nose", Align: Middle})
}

// circleWord names the circle of the rotor axes: a wheelbase only if the build says one.
func circleWord(asm *layout.Assembly) string {
	if asm.Wheelbase == nil {
		return " rotor circle"
	}
	return " wheelbase"
}

// tipGap draws the least distance between two discs that do not share an axis, and
// returns its figure and where that may be led to; "" if there is none.
func tipGap(l *List, asm *layout.Assembly, v *view) (string, []r2.Point) {
	best := math.Inf(1)
	var a, b *layout.Rotor
	for i, r := range asm.Rotors {
		for _, q := range asm.Rotors[i+1:] {
			if q.Coaxial == r.Name || r.Coaxial == q.Name {
				continue
			}
			gap := r.At.Sub(q.At).Norm() - r.Radius.Nominal() - q.Radius.Nominal()
			if gap < best-1e-9 {
				best, a, b = gap, r, q
			}
		}
	}
	if a == nil || best <= 0.01 || a.Radius.Nominal() <= 0 {
		return "", nil
	}
	u := b.At.Sub(a.At).Normalize()
	pa, pb := v.point(a.At.Add(u.Mul(a.Radius.Nominal()))), v.point(b.At.Sub(u.Mul(b.Radius.Nominal())))
	h := Head{Layer: Dimension, ID: "dim.tip-gap", Group: "top.dimensions"}
	l.add(Dim{Head: h, A: pa, B: pb, P: pa, Q: pb, Bare: true, Outside: pb.Sub(pa).Norm() < 2*arrowLen+1})
	return figure(best) + " tip gap", []r2.Point{pa.Add(pb).Mul(0.5)}
}

// figure prints a length with at most two decimals, without trailing zeros.
func figure(v float64) string {
	s := fmt.Sprintf("%.2f", v)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		s = "0"
	}
	return strings.Replace(s, "-", "−", 1)
}
