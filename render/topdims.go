package render

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// dimRow is the distance between rows of dimensions, and of the first from the view, mm
// on the sheet.
const dimRow = 7.0

// span is a distance along one axis of the view, to be dimensioned outside it. at0 and at1
// say where across the axis its two ends are.
type span struct {
	id, text string
	lo, hi   float64 // view plane, mm
	at0, at1 float64
}

// topSpans are the main dimensions of the plan: along x above and below the view, along y
// left of it.
func topSpans(asm *layout.Assembly) (above, below, left []span) {
	if len(asm.Rotors) > 0 {
		r := asm.Rotors[0]
		for _, q := range asm.Rotors {
			if q.At.Y-q.At.X > r.At.Y-r.At.X {
				r = q // the one furthest to the upper left of the sheet
			}
		}
		if d := r.Radius.Nominal(); d > 0 {
			above = append(above, span{"dim.prop", "Ø" + figure(2*d) + " prop", r.At.X - d, r.At.X + d, r.At.Y, r.At.Y})
		}
		if lo, hi := ends(asm.Rotors, func(q *layout.Rotor) float64 { return q.At.X }, func(q *layout.Rotor) float64 { return -q.At.Y }); hi.At.X-lo.At.X > 1 {
			below = append(below, span{"dim.spacing-x", figure(hi.At.X-lo.At.X) + " rotor spacing", lo.At.X, hi.At.X, lo.At.Y, hi.At.Y})
		}
		if lo, hi := ends(asm.Rotors, func(q *layout.Rotor) float64 { return q.At.Y }, func(q *layout.Rotor) float64 { return -q.At.X }); hi.At.Y-lo.At.Y > 1 {
			left = append(left, span{"dim.spacing-y", figure(hi.At.Y-lo.At.Y) + " rotor spacing", lo.At.Y, hi.At.Y, lo.At.X, hi.At.X})
		}
	}
	if p := largestPlate(asm); p != nil {
		box := geom.EmptyRect()
		for _, r := range p.Solid {
			box = box.Union(r.Bound())
		}
		c := box.Center()
		below = append(below, span{"dim.plate-length", figure(box.Size().X) + " " + p.Name, box.Lo.X, box.Hi.X, edgeAt(p, box.Lo.X, true, c.Y), edgeAt(p, box.Hi.X, true, c.Y)})
		left = append(left, span{"dim.plate-width", figure(box.Size().Y) + " " + p.Name, box.Lo.Y, box.Hi.Y, edgeAt(p, box.Lo.Y, false, c.X), edgeAt(p, box.Hi.Y, false, c.X)})
	}
	return above, below, left
}

// edgeAt returns where along an extreme edge of a plate its outline touches the box: the
// touching point with the least other coordinate, which is nearest to the dimension.
func edgeAt(p *layout.Plate, at float64, alongX bool, otherwise float64) float64 {
	best, found := otherwise, false
	try := func(q r2.Point) {
		a, b := q.X, q.Y
		if !alongX {
			a, b = q.Y, q.X
		}
		if math.Abs(a-at) < 1e-3 && (!found || b < best) {
			best, found = b, true
		}
	}
	for _, r := range p.Solid {
		for _, s := range r.Outer.Segs() {
			try(s.A)
			if !curved(s) {
				continue
			}
			o := geom.EdgeOf(s)
			for _, e := range o.Extremes(nil) {
				try(e)
			}
		}
	}
	return best
}

// ends returns the rotors with the least and the greatest key; among equals the one with
// the greatest second key, which lies nearest to the dimension.
func ends(rs []*layout.Rotor, key, then func(*layout.Rotor) float64) (lo, hi *layout.Rotor) {
	lo, hi = rs[0], rs[0]
	for _, r := range rs[1:] {
		if d := key(r) - key(lo); d < -1e-6 || d < 1e-6 && then(r) > then(lo) {
			lo = r
		}
		if d := key(r) - key(hi); d > 1e-6 || d > -1e-6 && then(r) > then(hi) {
			hi = r
		}
	}
	return lo, hi
}

// largestPlate is the plate of the greatest extent in plan.
func largestPlate(asm *layout.Assembly) *layout.Plate {
	var best *layout.Plate
	most := 0.0
	for _, p := range asm.Plates {
		if p.ArmOf != "" {
			continue
		}
		box := geom.EmptyRect()
		for _, r := range p.Solid {
			box = box.Union(r.Bound())
		}
		if box.IsEmpty() {
			continue
		}
		if s := box.Size(); s.X*s.Y > most+1e-9 {
			best, most = p, s.X*s.Y
		}
	}
	return best
}

// rowsOf orders spans from the innermost row outwards: the shorter stands nearer.
func rowsOf(s []span) []span {
	slices.SortStableFunc(s, func(a, b span) int { return cmp.Compare(a.hi-a.lo, b.hi-b.lo) })
	return s
}

// spansAcross draws spans along x, in rows from y outwards (step mm a row, negative
// upwards on the sheet).
func (v *view) spansAcross(l *List, grp string, spans []span, y, step float64) {
	for i, s := range rowsOf(spans) {
		row := y + step*float64(i)
		a, b := v.at(s.lo, s.at0), v.at(s.hi, s.at1)
		d := Dim{Head: Head{Layer: Dimension, ID: s.id, Group: grp}, A: a, B: b,
			P: r2.Point{X: a.X, Y: row}, Q: r2.Point{X: b.X, Y: row}, S: s.text}
		d.fitText(TextWidth(s.text, small))
		l.add(d)
	}
}

// spansUp draws spans along the view's second axis in columns from x outwards.
func (v *view) spansUp(l *List, grp string, spans []span, x, step float64) {
	for i, s := range rowsOf(spans) {
		col := x + step*float64(i)
		a, b := v.at(s.at0, s.lo), v.at(s.at1, s.hi)
		d := Dim{Head: Head{Layer: Dimension, ID: s.id, Group: grp}, A: a, B: b, Quarter: true,
			P: r2.Point{X: col, Y: a.Y}, Q: r2.Point{X: col, Y: b.Y}, S: s.text}
		d.fitText(TextWidth(s.text, small))
		l.add(d)
	}
}

// fitText turns the arrowheads in and moves the text beyond the second end where the room
// between the ends is too small for them.
func (d *Dim) fitText(width float64) {
	run := d.Q.Sub(d.P)
	room := run.Norm()
	if room >= max(width+1, 2*arrowLen+1) {
		return
	}
	d.Outside = room < 2*arrowLen+1
	if room >= width+1 || room < 1e-9 {
		return
	}
	u := run.Mul(1 / room)
	d.Moved = true
	d.Tail = width + 2
	mid := d.Q.Add(u.Mul(stub/2 + 1 + width/2))
	if d.Quarter {
		d.TextAt = r2.Point{X: mid.X - textLift, Y: mid.Y}
	} else {
		d.TextAt = r2.Point{X: mid.X, Y: mid.Y - textLift}
	}
}
