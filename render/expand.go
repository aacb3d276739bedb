package render

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Sizes of drawn signs in mm.
const (
	arrowLen   = 2.5  // ISO 129-1 arrowhead, closed and filled
	arrowHalf  = 0.42 // half its width: about 20° between the sides
	extGap     = 1.0  // between a feature and its extension line
	extOver    = 2.0  // extension line beyond the dimension line: 8 line widths
	textLift   = 0.8  // text above the dimension line
	stub       = 4.5  // dimension line outside the extension lines when arrows point inwards
	balloonR   = 3.6  // ISO 6433 item reference in a circle
	leaderDot  = 0.55 // a leader that ends on an area ends in a dot (ISO 128-2)
	markHalf   = 2.5  // half height of a finding's mark
	markBeside = 0.9  // beside the number in a mark
)

// expand breaks an item down to lines, arcs, paths, circles and texts and hands each to
// emit. The pieces keep the item's ID and group.
func expand(it Item, emit func(Item)) {
	switch v := it.(type) {
	case Dim:
		expandDim(v, emit)
	case Hatch:
		expandHatch(v, emit)
	case Mark:
		expandMark(v, emit)
	case Balloon:
		expandBalloon(v, emit)
	default:
		emit(it)
	}
}

// arrowhead returns the filled head whose tip is at tip, pointing along dir (unit).
func arrowhead(h Head, tip, dir r2.Point) Path {
	base := tip.Sub(dir.Mul(arrowLen))
	half := arrowHalf
	if w := StrokeOf(h.Layer).Width; w > narrow {
		half = arrowHalf + w*0.6 // it must stand out from its line
	}
	side := r2.Point{X: -dir.Y, Y: dir.X}.Mul(half)
	return Path{Head: h, Closed: true, Bare: true, Fill: StrokeOf(h.Layer).Colour,
		V: []geom.Vertex{{P: tip}, {P: base.Add(side)}, {P: base.Sub(side)}}}
}

func expandDim(d Dim, emit func(Item)) {
	if !d.Bare {
		for _, e := range [2][2]r2.Point{{d.A, d.P}, {d.B, d.Q}} {
			run := e[1].Sub(e[0])
			if n := run.Norm(); n > extGap {
				u := run.Mul(1 / n)
				emit(Line{Head: d.Head, A: e[0].Add(u.Mul(extGap)), B: e[1].Add(u.Mul(extOver))})
			}
		}
	}
	run := d.Q.Sub(d.P)
	n := run.Norm()
	u := r2.Point{X: 1}
	if n > 1e-9 {
		u = run.Mul(1 / n)
	}
	if d.Outside {
		emit(Line{Head: d.Head, A: d.P.Sub(u.Mul(stub)), B: d.Q.Add(u.Mul(max(stub, d.Tail)))})
		emit(arrowhead(d.Head, d.P, u))
		emit(arrowhead(d.Head, d.Q, u.Mul(-1)))
	} else {
		inset := 0.0
		if n > 2*arrowLen {
			inset = arrowLen * 0.7 // the tip is sharper than the line
		}
		over := -inset
		if d.Tail > 0 {
			over = d.Tail
		}
		emit(Line{Head: d.Head, A: d.P.Add(u.Mul(inset)), B: d.Q.Add(u.Mul(over))})
		emit(arrowhead(d.Head, d.P, u.Mul(-1)))
		emit(arrowhead(d.Head, d.Q, u))
	}
	if d.S != "" {
		emit(d.text())
	}
}

// text returns the dimension's figure where it stands.
func (d Dim) text() Text {
	at := d.P.Add(d.Q).Mul(0.5)
	if d.Moved {
		at = d.TextAt
	} else if d.Quarter {
		at.X -= textLift
	} else {
		at.Y -= textLift
	}
	return Text{Head: d.Head, At: at, Size: small, S: d.S, Align: Middle, Quarter: d.Quarter, Ink: StrokeOf(d.Layer).Colour}
}

// size returns half the width and half the height of a mark.
func (m Mark) size() (w, h float64) {
	w = TextWidth(m.label(), small)/2 + markBeside
	if StyleOf(m.Verdict).Shape == Diamond {
		w += markHalf * 0.45
	}
	return max(w, markHalf), markHalf
}

func (m Mark) label() string {
	s := strconv.Itoa(m.No)
	if m.Verdict == layout.Unknown {
		s += "?"
	}
	return s
}

func expandMark(m Mark, emit func(Item)) {
	st := StyleOf(m.Verdict)
	w, h := m.size()
	ink := st.Ink
	box := func(w, h float64) []geom.Vertex {
		return []geom.Vertex{
			{P: r2.Point{X: m.At.X - w, Y: m.At.Y - h}}, {P: r2.Point{X: m.At.X + w, Y: m.At.Y - h}},
			{P: r2.Point{X: m.At.X + w, Y: m.At.Y + h}}, {P: r2.Point{X: m.At.X - w, Y: m.At.Y + h}},
		}
	}
	head := m.Head
	head.Layer = st.Layer
	switch st.Shape {
	case Block:
		emit(Path{Head: head, V: box(w, h), Closed: true, Fill: st.Ink, Bare: true})
		ink = Paperwhite
	case Diamond:
		in := w - h*0.75
		head.Layer = TightMark
		emit(Path{Head: head, Closed: true, Fill: Paperwhite, V: []geom.Vertex{
			{P: r2.Point{X: m.At.X - w, Y: m.At.Y}}, {P: r2.Point{X: m.At.X - in, Y: m.At.Y - h}},
			{P: r2.Point{X: m.At.X + in, Y: m.At.Y - h}}, {P: r2.Point{X: m.At.X + w, Y: m.At.Y}},
			{P: r2.Point{X: m.At.X + in, Y: m.At.Y + h}}, {P: r2.Point{X: m.At.X - in, Y: m.At.Y + h}},
		}})
	default:
		emit(Path{Head: head, V: box(w, h), Closed: true, Fill: Paperwhite})
	}
	emit(Text{Head: head, At: r2.Point{X: m.At.X, Y: m.At.Y + small/2}, Size: small, S: m.label(), Align: Middle, Ink: ink})
}

func expandBalloon(b Balloon, emit func(Item)) {
	run := b.Dot.Sub(b.At)
	if n := run.Norm(); n > balloonR {
		emit(Line{Head: b.Head, A: b.At.Add(run.Mul(balloonR / n)), B: b.Dot})
		emit(Circle{Head: b.Head, C: b.Dot, R: leaderDot, Fill: Ink})
	}
	emit(Circle{Head: b.Head, C: b.At, R: balloonR, Fill: Paperwhite})
	emit(Text{Head: b.Head, At: r2.Point{X: b.At.X, Y: b.At.Y + medium/2}, Size: medium, S: strconv.Itoa(b.No), Align: Middle})
}

// expandHatch cuts parallel lines with the loops (arcs as chords, 0.05 mm) and emits
// every second stretch between crossings.
func expandHatch(h Hatch, emit func(Item)) {
	if !(h.Pitch > 0.2) {
		return
	}
	sn, cs := geom.SinCos(deg(h.Angle))
	// Turn the loops so that the hatching is level.
	var pts [][]r2.Point
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, vs := range h.Loops {
		var ring []r2.Point
		for i, v := range vs {
			s := geom.Seg{A: v.P, B: vs[(i+1)%len(vs)].P, Bulge: v.Bulge}
			steps := 1
			if curved(s) {
				steps = 2 + int(s.Length()/0.5)
			}
			for k := range steps {
				p := s.At(float64(k) / float64(steps))
				q := r2.Point{X: cs*p.X + sn*p.Y, Y: cs*p.Y - sn*p.X}
				lo, hi = math.Min(lo, q.Y), math.Max(hi, q.Y)
				ring = append(ring, q)
			}
		}
		pts = append(pts, ring)
	}
	head := h.Head
	head.Layer = Section
	var cuts []float64
	for y := (math.Floor(lo/h.Pitch) + 0.5) * h.Pitch; y < hi; y += h.Pitch {
		cuts = cuts[:0]
		for _, ring := range pts {
			for i, a := range ring {
				b := ring[(i+1)%len(ring)]
				if (a.Y > y) != (b.Y > y) {
					cuts = append(cuts, a.X+(y-a.Y)*(b.X-a.X)/(b.Y-a.Y))
				}
			}
		}
		sortFloats(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] < 0.1 {
				continue
			}
			emit(Line{Head: head,
				A: r2.Point{X: cs*cuts[i] - sn*y, Y: sn*cuts[i] + cs*y},
				B: r2.Point{X: cs*cuts[i+1] - sn*y, Y: sn*cuts[i+1] + cs*y}})
		}
	}
}

// box returns the rectangle that the ink of a text may reach.
func (t Text) box() geom.Rect {
	w := TextWidth(t.S, t.Size)
	off := 0.0
	switch t.Align {
	case Middle:
		off = -w / 2
	case Right:
		off = -w
	}
	if t.Quarter {
		return geom.Rect{
			Lo: r2.Point{X: t.At.X - ascent*t.Size, Y: t.At.Y - off - w},
			Hi: r2.Point{X: t.At.X + descent*t.Size, Y: t.At.Y - off},
		}
	}
	return geom.Rect{
		Lo: r2.Point{X: t.At.X + off, Y: t.At.Y - ascent*t.Size},
		Hi: r2.Point{X: t.At.X + off + w, Y: t.At.Y + descent*t.Size},
	}
}
