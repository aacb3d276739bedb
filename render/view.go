package render

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
)

// view puts a view's plane on the sheet. Only here is the second axis flipped.
type view struct {
	facing facing
	scale  float64  // sheet mm per mm
	origin r2.Point // where the body frame's origin lies on the sheet
	scene  *scene
}

// at returns the sheet point of a point of the view's plane.
func (v *view) at(x, y float64) r2.Point {
	return r2.Point{X: v.origin.X + x*v.scale, Y: v.origin.Y - y*v.scale}
}

func (v *view) point(p r2.Point) r2.Point { return v.at(p.X, p.Y) }

// space returns the sheet point of a point of the body frame.
func (v *view) space(p r3.Vector) r2.Point { return v.point(v.facing.flat(p)) }

// run returns vertices on the sheet. The flip turns arcs the other way.
func (v *view) run(vs []geom.Vertex) []geom.Vertex {
	out := make([]geom.Vertex, len(vs))
	for i, w := range vs {
		out[i] = geom.Vertex{P: v.point(w.P), Bulge: -w.Bulge}
	}
	return out
}

// loop returns a closed path of a loop given in the view's plane.
func (v *view) loop(h Head, l geom.Loop) Path {
	return Path{Head: h, V: v.run(l.Vertices()), Closed: true}
}

// frame returns the sheet rectangle of a box of the view's plane.
func (v *view) frame(b geom.Rect) geom.Rect {
	lo, hi := v.point(b.Lo), v.point(b.Hi)
	return geom.Rect{Lo: r2.Point{X: lo.X, Y: hi.Y}, Hi: r2.Point{X: hi.X, Y: lo.Y}}
}

// outlines draws all bodies: visible edges first, then those hidden ones that would not
// print on top of a line that is already there (a visible edge takes precedence over a
// hidden one, and the nearer of two hidden ones over the other).
func (v *view) outlines(l *List, prefix string) {
	edges := v.scene.edges()
	seen := newField(l.W, l.H)
	for _, e := range edges {
		s := &v.scene.shadows[e.shadow]
		if e.hidden {
			continue
		}
		p := Path{Head: Head{Layer: s.shown, ID: prefix + s.id, Group: prefix + s.id}, V: v.run(e.v), Closed: e.closed}
		if s.shown != Sweep || !v.drawn(seen, p) {
			l.add(p)
		}
		segsOf(p, seen.stroke)
	}
	for _, e := range edges {
		s := &v.scene.shadows[e.shadow]
		if !e.hidden || !s.hidden {
			continue
		}
		p := Path{Head: Head{Layer: Hidden, ID: prefix + s.id, Group: prefix + s.id}, V: v.run(e.v), Closed: e.closed}
		if v.drawn(seen, p) {
			continue
		}
		l.add(p)
		segsOf(p, seen.stroke)
	}
}

// drawn reports whether a path runs within half a millimetre of drawn lines all along.
func (v *view) drawn(seen *field, p Path) bool {
	all, any := true, false
	segsOf(p, func(s geom.Seg) {
		if !all {
			return
		}
		n := 1 + int(s.Length()/0.5)
		for i := range n + 1 {
			any = true
			if !seen.near(s.At(float64(i) / float64(n))) {
				all = false
				return
			}
		}
	})
	return all && any
}

// isoScales are the scales of ISO 5455, largest first, as drawing : thing.
var isoScales = [...]struct {
	k    float64
	text string
}{
	{10, "10:1"}, {5, "5:1"}, {2, "2:1"}, {1, "1:1"}, {0.5, "1:2"}, {0.2, "1:5"}, {0.1, "1:10"}, {0.05, "1:20"}, {0.02, "1:50"}, {0.01, "1:100"},
}

// pickScale returns the largest standard scale at which w × h mm fit into roomW × roomH
// mm of paper, and the last of the list if none does.
func pickScale(w, h, roomW, roomH float64) (float64, string) {
	for _, s := range isoScales {
		if w*s.k <= roomW && h*s.k <= roomH {
			return s.k, s.text
		}
	}
	last := isoScales[len(isoScales)-1]
	return last.k, last.text
}
