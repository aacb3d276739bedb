package render

import (
	"math"

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
	cut    *window  // stretch that is drawn, nil for all
	arms   []armCut // where arms are broken off, none for whole arms
	pane   *pane    // what is shown of the plan, nil for all
}

// pane is a rectangle of the plan, mm, that is shown alone.
type pane struct {
	box geom.Rect
	rim [4]geom.Edge
}

func newPane(box geom.Rect) *pane {
	p := &pane{box: box}
	for i, s := range geom.RectLoop(box).Segs() {
		p.rim[i] = geom.EdgeOf(s)
	}
	return p
}

// at returns the sheet point of a point of the view's plane.
func (v *view) at(x, y float64) r2.Point {
	return r2.Point{X: v.origin.X + x*v.scale, Y: v.origin.Y - y*v.scale}
}

func (v *view) point(p r2.Point) r2.Point { return v.at(p.X, p.Y) }

// space returns the sheet point of a point of the body frame.
func (v *view) space(p r3.Vector) r2.Point { return v.point(v.facing.flat(p)) }

// plan returns the point of the view's plane at a point of the sheet.
func (v *view) plan(p r2.Point) r2.Point {
	return r2.Point{X: (p.X - v.origin.X) / v.scale, Y: (v.origin.Y - p.Y) / v.scale}
}

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
	seen := newField(l.W, l.H)
	edges := v.scene.edges()
	for _, hidden := range [2]bool{false, true} {
		for _, e := range edges {
			s := &v.scene.shadows[e.shadow]
			if e.hidden != hidden || hidden && !s.hidden {
				continue
			}
			h := Head{Layer: s.shown, ID: prefix + s.id, Group: prefix + s.id}
			if hidden {
				h.Layer = Hidden
			}
			for _, r := range v.left(s, e.v, e.closed) {
				p := Path{Head: h, V: v.run(r.v), Closed: r.closed}
				if h.Layer == Hidden || h.Layer == Sweep {
					if v.drawn(seen, p) {
						continue
					}
				}
				l.add(p)
				segsOf(p, seen.stroke)
			}
		}
	}
	v.breaks(l)
}

// clip returns what lies within the stretch that the view shows. Only straight pieces are
// cut: views that are cut have no others.
func (v *view) clip(vs []geom.Vertex, closed bool) []edge {
	whole := edge{v: vs, closed: closed}
	if v.cut == nil {
		return []edge{whole}
	}
	lo, hi := v.cut.lo, v.cut.hi
	inside := true
	for _, w := range vs {
		inside = inside && w.P.X >= lo && w.P.X <= hi
	}
	if inside {
		return []edge{whole}
	}
	n := len(vs)
	last := n - 1
	if closed {
		last = n
	}
	var out []edge
	var run []geom.Vertex
	flush := func() {
		if len(run) > 1 {
			out = append(out, edge{v: run})
		}
		run = nil
	}
	for i := range last {
		a, b := vs[i].P, vs[(i+1)%n].P
		t0, t1 := 0.0, 1.0
		if d := b.X - a.X; d > 0 {
			t0, t1 = math.Max(t0, (lo-a.X)/d), math.Min(t1, (hi-a.X)/d)
		} else if d < 0 {
			t0, t1 = math.Max(t0, (hi-a.X)/d), math.Min(t1, (lo-a.X)/d)
		} else if a.X < lo || a.X > hi {
			t1 = -1
		}
		if t1 <= t0 {
			flush()
			continue
		}
		d := b.Sub(a)
		if len(run) == 0 || t0 > 0 {
			flush()
			run = append(run, geom.Vertex{P: a.Add(d.Mul(t0))})
		}
		run = append(run, geom.Vertex{P: a.Add(d.Mul(t1))})
		if t1 < 1 {
			flush()
		}
	}
	flush()
	return out
}

// breaks draws the lines at which bodies are broken off.
func (v *view) breaks(l *List) {
	if v.cut == nil {
		return
	}
	for i, x := range [2]float64{v.cut.lo, v.cut.hi} {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, s := range v.scene.shadows {
			if s.shown != Sweep && s.box.Lo.X < x && s.box.Hi.X > x {
				lo, hi = math.Min(lo, s.box.Lo.Y), math.Max(hi, s.box.Hi.Y)
			}
		}
		if lo < hi {
			id := [2]string{"side.break.rear", "side.break.front"}[i]
			l.add(zigzag(Head{Layer: Dimension, ID: id, Group: "side.breaks"}, v.at(x, lo), v.at(x, hi)))
		}
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
