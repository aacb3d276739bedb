package render

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
)

// facing says from where a view is seen.
type facing uint8

const (
	fromAbove facing = iota // x to the right, y up: the nose points right
	fromRight               // x to the right, z up: seen from the craft's right side
)

// flat projects a point of the body frame into the view's plane, mm, second axis up.
func (f facing) flat(p r3.Vector) r2.Point {
	if f == fromAbove {
		return r2.Point{X: p.X, Y: p.Y}
	}
	return r2.Point{X: p.X, Y: p.Z}
}

// shadow is what one body is in a view.
type shadow struct {
	body      *layout.Body
	id        string // component
	loops     []geom.Loop
	sides     []geom.Edge
	fronts    []geom.Edge // outlines in plan, for views from the side
	box       geom.Rect
	near, far float64 // depth towards the viewer, mm; near is the greater
	inner     *inner  // see samples
	shown     Layer
	hidden    bool // draw it dashed where something hides it
	hides     bool // it hides what is behind
}

// inner holds points inside a shadow once somebody asked for them; sheets in the making ask
// at the same time.
type inner struct {
	once   sync.Once
	points []r2.Point
	rim    []r2.Point // nearer to the edges than points
}

// scene is all bodies in one view, the nearest first.
type scene struct {
	view    facing
	shadows []shadow
	box     geom.Rect // of everything drawn
}

// looks says how the bodies of a kind are drawn: the layer of visible edges, and whether
// hidden edges are worth a dashed line.
func looks(k layout.Kind, f facing) (l Layer, dashed, hides bool) {
	switch k {
	case layout.PlateBody, layout.PostBody, layout.PcbBody, layout.MotorBody, layout.PartBody,
		layout.PackBody, layout.CameraBody, layout.AntennaBody:
		return Outline, true, true
	case layout.SpacerBody:
		return Detail, f == fromRight, true
	case layout.LeadBody:
		return Sweep, false, false
	}
	return Detail, false, true
}

// newScene projects the bodies of an assembly.
func newScene(asm *layout.Assembly, f facing) *scene {
	sc := &scene{view: f, box: geom.EmptyRect()}
	for _, b := range drawnBodies(asm) {
		s := shadow{body: b, id: b.Of, inner: &inner{}}
		s.shown, s.hidden, s.hides = looks(b.Kind, f)
		if b.Swept {
			s.shown, s.hidden, s.hides = Sweep, false, false
		}
		lo, hi := b.Bottom.Nominal(), b.Top.Nominal()
		plan := geom.EmptyRect()
		for _, r := range b.Plan {
			plan = plan.Union(r.Bound())
		}
		switch {
		case b.Tilted != nil && !b.Tilted.IsEmpty():
			box := b.Tilted.Bound()
			lo, hi = box.Lo.Z, box.Hi.Z
			plan = geom.Rect{Lo: r2.Point{X: box.Lo.X, Y: box.Lo.Y}, Hi: r2.Point{X: box.Hi.X, Y: box.Hi.Y}}
			s.loops = []geom.Loop{silhouette(*b.Tilted, f)}
		case f == fromAbove:
			for _, r := range b.Plan {
				for l := range r.Loops() {
					s.loops = append(s.loops, l)
				}
			}
		default:
			s.loops = slabs(b.Plan, lo, hi)
		}
		s.near, s.far = hi, lo
		if f == fromRight {
			s.near, s.far = -plan.Lo.Y, -plan.Hi.Y
			if b.Tilted == nil {
				for _, r := range b.Plan {
					for _, seg := range r.Outer.Segs() {
						s.fronts = append(s.fronts, geom.EdgeOf(seg))
					}
				}
			}
		}
		s.box = geom.EmptyRect()
		for _, l := range s.loops {
			s.box = s.box.Union(l.Bound())
			for _, seg := range l.Segs() {
				s.sides = append(s.sides, geom.EdgeOf(seg))
			}
		}
		if s.box.IsEmpty() {
			continue
		}
		sc.box = sc.box.Union(s.box)
		sc.shadows = append(sc.shadows, s)
	}
	slices.SortStableFunc(sc.shadows, func(a, b shadow) int { return cmp.Compare(b.near, a.near) })
	return sc
}

// slabs returns the rectangles that upright regions are from the side. Regions whose
// stretches along x meet make one rectangle.
func slabs(plan []geom.Region, lo, hi float64) []geom.Loop {
	type stretch struct{ a, b float64 }
	var all []stretch
	for _, r := range plan {
		if box := r.Bound(); !box.IsEmpty() {
			all = append(all, stretch{box.Lo.X, box.Hi.X})
		}
	}
	slices.SortFunc(all, func(p, q stretch) int { return cmp.Compare(p.a, q.a) })
	var out []geom.Loop
	for i := 0; i < len(all); {
		a, b := all[i].a, all[i].b
		for i++; i < len(all) && all[i].a <= b; i++ {
			b = math.Max(b, all[i].b)
		}
		out = append(out, geom.RectLoop(geom.Rect{Lo: r2.Point{X: a, Y: lo}, Hi: r2.Point{X: b, Y: hi}}))
	}
	return out
}

// silhouette returns the outline of a convex body in a view, round parts within 0.1 %.
func silhouette(c geom.Convex, f facing) geom.Loop {
	up := r3.Vector{Y: 1}
	if f == fromRight {
		up = r3.Vector{Z: 1}
	}
	return c.Silhouette(r3.Vector{X: 1}, up, 72)
}

// covers reports whether the shadow holds p: inside an odd number of its loops.
func (s *shadow) covers(p r2.Point) bool {
	in := false
	for _, l := range s.loops {
		if l.Contains(p) {
			in = !in
		}
	}
	return in
}

// depthAt returns how near the body comes to the viewer at p.
func (s *shadow) depthAt(p r2.Point, f facing) float64 {
	if f == fromAbove || s.body.Tilted != nil || s.near-s.far < 0.01 {
		return s.near
	}
	best := math.Inf(-1)
	for i := range s.fronts {
		if o := &s.fronts[i]; p.X >= o.Box.Lo.X && p.X <= o.Box.Hi.X {
			if y, ok := o.LowestAt(p.X); ok {
				best = math.Max(best, -y)
			}
		}
	}
	if math.IsInf(best, -1) {
		return s.near
	}
	return best
}

// same is how much nearer a body must be to hide another, mm.
const same = 0.02

// hiddenAt reports whether something nearer covers the edge point p of shadow i. in is p
// moved a little into the body, where its depth is asked.
func (sc *scene) hiddenAt(i int, p, in r2.Point, over []int) bool {
	s := &sc.shadows[i]
	own, known := 0.0, false
	for _, j := range over {
		o := &sc.shadows[j]
		if !o.box.Contains(p) {
			continue
		}
		if sc.view == fromAbove || o.far >= s.near-same {
			if o.covers(p) {
				return true
			}
			continue
		}
		if !o.covers(p) {
			continue
		}
		if !known {
			own, known = s.depthAt(in, sc.view), true
		}
		if o.depthAt(p, sc.view) > own+same {
			return true
		}
	}
	return false
}

// edge is a run of pieces of one body that are all visible or all hidden.
type edge struct {
	shadow int
	hidden bool
	v      []geom.Vertex // view plane, mm
	closed bool
}

// edges returns the outlines of all bodies cut at the places where something begins or
// ends to hide them.
func (sc *scene) edges() []edge {
	var out []edge
	var over []int
	var cuts []float64
	for i := range sc.shadows {
		s := &sc.shadows[i]
		over = over[:0]
		for j := range sc.shadows {
			o := &sc.shadows[j]
			if j == i || !o.hides || !o.box.Intersects(s.box) {
				continue
			}
			if sc.view == fromAbove && o.near <= s.near+same || o.near <= s.far+same {
				continue
			}
			over = append(over, j)
		}
		at := 0
		for _, l := range s.loops {
			mid := l.Bound().Center()
			first := at
			at += l.Len()
			run := edge{shadow: i}
			var runs []edge
			whole := true
			for k := range l.Len() {
				own := &s.sides[first+k]
				box := own.Box
				cuts = cuts[:0]
				for _, j := range over {
					o := &sc.shadows[j]
					if !o.box.Intersects(box) {
						continue
					}
					for k := range o.sides {
						if os := &o.sides[k]; os.Box.Intersects(box) {
							cuts = own.Cuts(os, cuts)
						}
					}
				}
				for p, piece := range own.Pieces(cuts) {
					in := p
					if d := mid.Sub(p); d.Norm() > 1e-9 {
						in = p.Add(d.Mul(math.Min(0.01, d.Norm()) / d.Norm()))
					}
					hid := len(over) > 0 && sc.hiddenAt(i, p, in, over)
					if len(run.v) > 0 && run.hidden != hid {
						runs = append(runs, run)
						run = edge{shadow: i}
						whole = false
					}
					run.hidden = hid
					if len(run.v) == 0 {
						run.v = append(run.v, geom.Vertex{P: piece.A})
					}
					run.v[len(run.v)-1].Bulge = piece.Bulge
					run.v = append(run.v, geom.Vertex{P: piece.B})
				}
			}
			if len(run.v) == 0 {
				continue
			}
			if whole {
				run.v = run.v[:len(run.v)-1]
				run.closed = true
				runs = append(runs, run)
			} else if first := &runs[0]; first.hidden == run.hidden {
				run.v = append(run.v[:len(run.v)-1:len(run.v)-1], first.v...)
				// The joint keeps the bulge of the piece before it.
				runs[0] = run
			} else {
				runs = append(runs, run)
			}
			out = append(out, runs...)
		}
	}
	return out
}
