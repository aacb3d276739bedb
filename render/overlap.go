package render

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// Clash is a label that covers something it should not.
type Clash struct {
	Label string   // ID and text of the label
	Other string   // ID (and text) of what it lies on
	Layer Layer    // line kind covered; meaningless with Both
	Both  bool     // two labels lie on each other
	At    r2.Point // where, sheet mm
}

// String names the two things that overlap, and where.
func (c Clash) String() string {
	what := "lies on a " + StrokeOf(c.Layer).Name + " line of"
	if c.Both {
		what = "lies on"
	}
	return fmt.Sprintf("%s %s %s at %s", c.Label, what, c.Other, pt(c.At))
}

// label is a box on the sheet with what it belongs to.
type label struct {
	id, text string
	box      geom.Rect
}

// Overlaps measures the drawing: every pair of labels that lie on each other, and every
// label that lies on a line which does not belong to it. Labels are texts, with the box
// that their ink can reach, the circles of balloons and the shapes of marks; lines are
// counted without their width, wires with theirs. What shares an ID belongs together. It reads what would be
// printed and knows nothing of how labels were placed.
func Overlaps(l List) []Clash {
	var labels []label
	var lines []struct {
		head Head
		seg  geom.Seg
		box  geom.Rect
		half float64
	}
	for _, it := range l.Items {
		h := it.head()
		switch v := it.(type) {
		case Balloon:
			labels = append(labels, label{h.ID, fmt.Sprint(v.No), geom.Rect{Lo: v.At, Hi: v.At}.Expand(balloonR * math.Sqrt2 / 2)})
		case Mark:
			w, ht := v.size()
			labels = append(labels, label{h.ID, v.label(), geom.Rect{Lo: v.At.Sub(r2.Point{X: w, Y: ht}), Hi: v.At.Add(r2.Point{X: w, Y: ht})}})
		}
		expand(it, func(p Item) {
			if t, ok := p.(Text); ok {
				switch it.(type) {
				case Balloon, Mark: // counted with their outline
				default:
					labels = append(labels, label{h.ID, t.S, t.box()})
				}
				return
			}
			if path, ok := p.(Path); ok && path.Bare {
				return // a tint, or an arrowhead that sits on its line
			}
			half := 0.0
			if s, ok := p.(Strand); ok {
				half = s.Width / 2
			}
			segsOf(p, func(s geom.Seg) {
				lines = append(lines, struct {
					head Head
					seg  geom.Seg
					box  geom.Rect
					half float64
				}{p.head(), s, s.Bound().Expand(half), half})
			})
		})
	}
	const touch = 0.02 // mm: labels may stand edge to edge
	var out []Clash
	for i, a := range labels {
		box := a.box.Expand(-touch)
		name := fmt.Sprintf("%s %q", a.id, a.text)
		for _, b := range labels[i+1:] {
			if box.Intersects(b.box) {
				out = append(out, Clash{Label: name, Other: fmt.Sprintf("%s %q", b.id, b.text), Both: true, At: a.box.Center()})
			}
		}
		for _, ln := range lines {
			if ln.head.ID != a.id && box.Intersects(ln.box) && segMeets(ln.seg, box.Expand(ln.half)) {
				out = append(out, Clash{Label: name, Other: ln.head.ID, Layer: ln.head.Layer, At: a.box.Center()})
			}
		}
	}
	return out
}

// segMeets reports whether a line or arc meets the inside of a box.
func segMeets(s geom.Seg, b geom.Rect) bool {
	if !curved(s) {
		return clipLine(s.A, s.B, b)
	}
	n := 2 + int(s.Length()/0.2)
	p := s.A
	for i := 1; i <= n; i++ {
		q := s.At(float64(i) / float64(n))
		if clipLine(p, q, b) {
			return true
		}
		p = q
	}
	return false
}

// clipLine reports whether the line from p to q meets the box (Liang and Barsky 1984).
func clipLine(p, q r2.Point, b geom.Rect) bool {
	t0, t1 := 0.0, 1.0
	clip := func(d, room float64) bool {
		switch {
		case d > 0:
			t1 = math.Min(t1, room/d)
		case d < 0:
			t0 = math.Max(t0, room/d)
		default:
			return room >= 0
		}
		return t0 <= t1
	}
	dx, dy := q.X-p.X, q.Y-p.Y
	return clip(-dx, p.X-b.Lo.X) && clip(dx, b.Hi.X-p.X) && clip(-dy, p.Y-b.Lo.Y) && clip(dy, b.Hi.Y-p.Y)
}
