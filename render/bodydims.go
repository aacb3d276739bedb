package render

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// bodySpans are the dimensions of the detail on the four sides of the view.
type bodySpans struct{ above, below, left, right []span }

// bodyInner and bodyOuter are the distances of the first row of dimensions from the view:
// left of and above it, and right of and under it, mm.
const (
	bodyInner = 6.0
	bodyOuter = 9.0
)

// margins is the room for the dimensions left, right, above and below the view, mm.
func (s *bodySpans) margins() [4]float64 {
	room := func(first float64, n int) float64 {
		if n == 0 {
			return 3
		}
		return first + dimRow*float64(n-1) + 4
	}
	return [4]float64{room(bodyInner, len(s.left)), room(bodyOuter, len(s.right)), room(bodyInner, len(s.above)), room(bodyOuter, len(s.below))}
}

// put adds a distance, or its name to an equal one at the same place.
func put(list []span, s span, name string) []span {
	if !(s.hi-s.lo >= 0.5) {
		return list
	}
	for i := range list {
		if o := &list[i]; math.Abs(o.lo-s.lo) < 0.01 && math.Abs(o.hi-s.hi) < 0.01 {
			o.text += ", " + name
			return list
		}
	}
	s.text = figure(s.hi-s.lo) + " " + name
	return append(list, s)
}

// spans gathers the main dimensions of the body: length and width of its plates, the roof's
// among them, the spacing of posts, the side of hole patterns and where stacks stand.
func (b *bodyPlan) spans() bodySpans {
	var out bodySpans
	for _, p := range b.asm.Plates {
		lid := len(b.lids) > 0 && b.lids[0] == p
		if p.ArmOf != "" || !lid && !b.on[p.ID] {
			continue
		}
		x, y := b.reach(p)
		id := "body.dim." + p.ID
		if lid {
			out.above = put(out.above, x.across(id+".length", true), p.Name)
			out.right = put(out.right, y.up(id+".width", true), p.Name)
		} else {
			out.below = put(out.below, x.across(id+".length", false), p.Name)
			out.left = put(out.left, y.up(id+".width", false), p.Name)
		}
	}
	for _, c := range b.asm.Components {
		set, ok := strings.CutPrefix(c.ID, "posts.")
		if !ok || c.Kind != "post" || !b.on[c.ID] {
			continue
		}
		f := features{box: geom.EmptyRect()}
		for _, q := range b.asm.Posts {
			if q.Set == set {
				f.add(q.At)
			}
		}
		out.below = put(out.below, f.across("body.dim."+c.ID+".x", false), set+" posts")
		out.left = put(out.left, f.up("body.dim."+c.ID+".y", false), set+" posts")
	}
	for _, s := range b.asm.Stacks {
		c := s.Pose.Apply(r2.Point{})
		f := features{box: geom.EmptyRect()}
		for _, q := range s.Screws {
			f.add(q.At)
		}
		if !b.stackShown(s) || f.box.IsEmpty() {
			continue
		}
		id := "body.dim.stacks." + s.Name
		word := "square"
		if q := s.Pattern; q == nil || q.X == nil || q.Y == nil || f.box.Size().Sub(r2.Point{X: q.X.Value, Y: q.X.Value}).Norm() > 0.01 {
			word = "over holes"
		}
		if len(b.asm.Stacks) > 1 {
			word += " " + s.Name
		}
		out.above = put(out.above, f.across(id+".pattern", true), word)
		out.above = put(out.above, span{id: id + ".x", lo: math.Min(0, c.X), hi: math.Max(0, c.X), at0: c.Y, at1: c.Y}, s.Name+" stack")
		out.right = put(out.right, span{id: id + ".y", lo: math.Min(0, c.Y), hi: math.Max(0, c.Y), at0: c.X, at1: c.X}, s.Name+" stack")
	}
	return out
}

func (b *bodyPlan) stackShown(s *layout.Stack) bool {
	return slices.ContainsFunc(s.Levels, func(l layout.Level) bool { return l.Component != nil && b.on[l.Component.ID] })
}

// features are points that a dimension may end at, with their box.
type features struct {
	box geom.Rect
	all []r2.Point
}

func (f *features) add(q r2.Point) {
	f.box = f.box.Add(q)
	f.all = append(f.all, q)
}

// across and up are the distances between the outermost features along x and y. They start
// at the features that lie nearest to a dimension beyond the greater other coordinate, or
// the lesser.
func (f *features) across(id string, greater bool) span {
	s := span{id: id, lo: f.box.Lo.X, hi: f.box.Hi.X}
	s.at0 = f.nearest(greater, func(q r2.Point) (off, other float64) { return q.X - s.lo, q.Y })
	s.at1 = f.nearest(greater, func(q r2.Point) (off, other float64) { return q.X - s.hi, q.Y })
	return s
}

func (f *features) up(id string, greater bool) span {
	s := span{id: id, lo: f.box.Lo.Y, hi: f.box.Hi.Y}
	s.at0 = f.nearest(greater, func(q r2.Point) (off, other float64) { return q.Y - s.lo, q.X })
	s.at1 = f.nearest(greater, func(q r2.Point) (off, other float64) { return q.Y - s.hi, q.X })
	return s
}

func (f *features) nearest(greater bool, of func(r2.Point) (off, other float64)) float64 {
	best, found := 0.0, false
	for _, q := range f.all {
		if off, other := of(q); math.Abs(off) < 1e-3 && (!found || other > best == greater) {
			best, found = other, true
		}
	}
	return best
}

// reach gathers the points of a plate's outline where it turns back along x, and those where
// it does along y. Those of its arms and of the hollows between arms and body are left out:
// the figure is the body's. Where an arm begins before the outline has turned back there is
// none.
func (b *bodyPlan) reach(p *layout.Plate) (x, y features) {
	x.box, y.box = geom.EmptyRect(), geom.EmptyRect()
	v := &view{arms: b.cuts}
	try := func(q, before, after r2.Point) {
		if v.gone(q) {
			return
		}
		for i := range b.cuts {
			c := &b.cuts[i]
			if _, left := c.axis().Coords(q); math.Abs(left) < c.half && q.Dot(c.u) > 0 && slices.Contains(c.plates, p.ID) {
				return
			}
		}
		if turns(q.X, before.X, after.X) {
			x.add(q)
		}
		if turns(q.Y, before.Y, after.Y) {
			y.add(q)
		}
	}
	for _, r := range p.Solid {
		vs := r.Outer.CCW().Vertices()
		n := len(vs)
		for i, w := range vs {
			prev := vs[(i+n-1)%n]
			s := geom.Seg{A: w.P, B: vs[(i+1)%n].P, Bulge: w.Bulge}
			if w.Bulge >= 0 && prev.Bulge >= 0 {
				try(w.P, geom.Seg{A: prev.P, B: w.P, Bulge: prev.Bulge}.At(0.98), s.At(0.02))
			}
			if w.Bulge <= 0 || !curved(s) {
				continue
			}
			o := geom.EdgeOf(s)
			for _, q := range o.Extremes(nil) {
				// The arc bends back on either side, and runs on across.
				e := q.Sub(o.Center)
				in, on := q.Sub(e.Mul(0.01)), r2.Point{X: e.Y, Y: e.X}
				try(q, in.Sub(on), in.Add(on))
			}
		}
	}
	return x, y
}

// turns reports whether a coordinate is extreme between its neighbours on an outline.
func turns(at, before, after float64) bool {
	const level = 1e-6
	return before <= at+level && after <= at+level || before >= at-level && after >= at-level
}
