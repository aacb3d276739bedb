package render

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
)

// Sizes of the pad panels in mm on paper.
const (
	padPitch = 4.4 // from label to label
	padOut   = 7.0 // from the part's edge to the labels
	padFan   = 2.0 // between lines that leave over one edge
	padTitle = 7.5 // over the labels
	padOver  = 4.0 // from an edge to the first label over or under it
	padApart = 2.5 // between pads, if it can be had
	padClose = 1.9 // where that saves a page
	padLeast = 1.5 // and never less, if it can be had
	// A part is drawn at least and at most so large.
	panelLeast, panelMost = 18.0, 84.0
)

// padLabel is the place of a pad's label with the line that joins them.
type padLabel struct {
	pad   int
	right bool         // in the column right of the part
	path  [4]r2.Point  // from the pad to the label; points may coincide
	words []labelPiece // from left to right
	width float64
}

// labelPiece is a text or, with a frame, the number of a circuit.
type labelPiece struct {
	s     string
	frame bool
}

// panelLayout is a panel at a scale, its origin in the middle of the part.
type panelLayout struct {
	panel  *padPanel
	k      float64
	turn   geom.Pose2 // body frame to the panel: parts on slanting arms stand straight
	loops  []panelLoop
	board  geom.Rect // the part, sheet mm
	box    geom.Rect // with labels and title
	origin r2.Point  // of the body frame's origin, turned
	labels []padLabel
	far    bool // labels tell where wires go
}

// panelLoop is an outline with its look.
type panelLoop struct {
	loop  geom.Loop
	layer Layer
}

// straighten is the turn that sets a part square to the sheet.
func straighten(c *layout.Component) geom.Pose2 {
	deg := c.Pose.Turn.Degrees()
	off := deg - 90*math.Round(deg/90)
	if math.Abs(off) < 1e-6 {
		return geom.Pose2{}
	}
	return geom.Pose2{Turn: -s1.Angle(off) * s1.Degree}
}

// lay places the labels of a panel at scale k: pads near the left and right edge beside the part,
// those near the front and back edge over and under it, so that no line crosses another. With far
// the labels tell where each wire goes.
func (p *padPanel) lay(top *scene, k float64, far bool) *panelLayout {
	c := p.parts[0]
	o := &panelLayout{panel: p, k: k, turn: straighten(c), far: far}
	plan := geom.EmptyRect()
	for i := range top.shadows {
		s := &top.shadows[i]
		if s.id != c.ID || s.body.Swept {
			continue
		}
		layer := Outline
		switch s.body.Kind {
		case layout.LeadBody, layout.CushionBody, layout.StrapBody, layout.FastenBody, layout.HubBody:
			continue
		case layout.ZoneBody, layout.SpacerBody:
			layer = Ghost
		}
		for _, l := range s.loops {
			l = l.Transform(o.turn)
			o.loops = append(o.loops, panelLoop{l, layer})
			plan = plan.Union(l.Bound())
		}
	}
	for i := range p.pads {
		plan = plan.Add(o.turn.Apply(p.pads[i].term.At))
	}
	m := plan.Center()
	o.origin = r2.Point{X: -m.X * k, Y: m.Y * k}
	half := plan.Size().Mul(k / 2)
	o.board = geom.Rect{Lo: half.Mul(-1), Hi: half}
	o.place()
	o.box = o.board.Expand(1)
	for i := range o.labels {
		l := &o.labels[i]
		end := l.path[3]
		w := l.width + 1
		if !l.right {
			w = -w
		}
		o.box = o.box.Add(end.Add(r2.Point{X: w, Y: -padPitch / 2})).Add(end.Add(r2.Point{Y: padPitch / 2}))
	}
	o.box.Lo.Y -= padTitle
	o.box.Hi.X = math.Max(o.box.Hi.X, o.box.Lo.X+TextWidth(o.heading(), medium)+20)
	return o
}

// at is where a pad lies, its middle of the part being the origin.
func (o *panelLayout) at(pad int) r2.Point {
	q := o.turn.Apply(o.panel.pads[pad].term.At)
	return r2.Point{X: o.origin.X + q.X*o.k, Y: o.origin.Y - q.Y*o.k}
}

// apart is the least distance between two pads of one face; those of a class that does not say where
// each is lie on each other and do not count.
func (o *panelLayout) apart() float64 {
	d := math.Inf(1)
	for i := range o.panel.pads {
		for j := range i {
			if o.panel.pads[i].term.Up != o.panel.pads[j].term.Up {
				continue
			}
			if n := o.at(i).Sub(o.at(j)).Norm(); n > 0.01 {
				d = math.Min(d, n)
			}
		}
	}
	return d
}

// place gives every pad its label.
func (o *panelLayout) place() {
	var mid [2][]int  // left and right of the part
	var over [2][]int // over and under it
	b := o.board
	for i := range o.panel.pads {
		q := o.at(i)
		side, d := 0, math.Inf(1)
		for k, v := range [4]float64{q.X - b.Lo.X, b.Hi.X - q.X, q.Y - b.Lo.Y, b.Hi.Y - q.Y} {
			if v < d-1e-6 {
				side, d = k, v
			}
		}
		if side < 2 {
			mid[side] = append(mid[side], i)
		} else {
			over[side-2] = append(over[side-2], i)
		}
	}
	top, bottom := [2]float64{b.Lo.Y, b.Lo.Y}, [2]float64{b.Hi.Y, b.Hi.Y}
	for k, list := range mid {
		lo, hi := o.beside(list, k == 1)
		top[k], bottom[k] = math.Min(top[k], lo), math.Max(bottom[k], hi)
	}
	o.overEdge(over[0], top, -1)
	o.overEdge(over[1], bottom, 1)
	for i := range o.labels {
		l := &o.labels[i]
		l.words, l.width = o.panel.pads[l.pad].label(o.far)
	}
}

// beside labels pads near the left or right edge, each as near as may be to its height, and returns
// the heights between which the labels stand.
func (o *panelLayout) beside(list []int, right bool) (lo, hi float64) {
	edge, out := o.board.Lo.X, -1.0
	if right {
		edge, out = o.board.Hi.X, 1
	}
	slices.SortStableFunc(list, func(a, b int) int {
		p, q := o.at(a), o.at(b)
		return cmp.Or(cmp.Compare(math.Round(p.Y*100), math.Round(q.Y*100)), cmp.Compare(-out*p.X, -out*q.X))
	})
	want := make([]float64, len(list))
	for i, pad := range list {
		want[i] = o.at(pad).Y
	}
	ys := fanOut(want, padPitch)
	first := len(o.labels)
	for i, pad := range list {
		p := o.at(pad)
		o.labels = append(o.labels, padLabel{pad: pad, right: right,
			path: [4]r2.Point{p, p, {X: edge + out*2.5, Y: ys[i]}, {X: edge + out*padOut, Y: ys[i]}}})
	}
	uncross(o.labels[first:], 2)
	if len(ys) == 0 {
		return math.Inf(1), math.Inf(-1)
	}
	return ys[0] - padPitch/2, ys[len(ys)-1] + padPitch/2
}

// uncross exchanges the places of labels whose lines cross on the way to their point k, where all
// lines end on one line. Each exchange shortens the two together, so that it comes to an end.
func uncross(list []padLabel, k int) {
	for range len(list) * len(list) {
		done := true
		for i := range list {
			for j := range i {
				a, b := &list[i], &list[j]
				if !crosses(geom.Seg{A: a.path[k-1], B: a.path[k]}, geom.Seg{A: b.path[k-1], B: b.path[k]}) {
					continue
				}
				for n := k; n < len(a.path); n++ {
					a.path[n], b.path[n] = b.path[n], a.path[n]
				}
				a.right, b.right = b.right, a.right
				done = false
			}
		}
		if done {
			return
		}
	}
}

// overEdge labels pads near the edge that lies towards side (-1 up, 1 down): their lines leave over
// the edge, fanned out, and turn to the nearer column, the outermost first, so that they nest. limit
// is the height from which on the columns are free.
func (o *panelLayout) overEdge(list []int, limit [2]float64, side float64) {
	if len(list) == 0 {
		return
	}
	edge := o.board.Lo.Y
	if side > 0 {
		edge = o.board.Hi.Y
	}
	slices.SortStableFunc(list, func(a, b int) int {
		p, q := o.at(a), o.at(b)
		return cmp.Or(cmp.Compare(math.Round(p.X*100), math.Round(q.X*100)), cmp.Compare(side*q.Y, side*p.Y))
	})
	want := make([]float64, len(list))
	for i, pad := range list {
		want[i] = o.at(pad).X
	}
	n, wide := float64(len(list)), o.board.Size().X
	fan := math.Min(padFan, wide/n)
	xs := fanOut(want, fan)
	for i := range xs { // within the part's width: beside it are the lines of its left and right edge
		xs[i] = math.Min(math.Max(xs[i], o.board.Lo.X+(float64(i)+0.5)*fan), o.board.Hi.X-(n-float64(i)-0.5)*fan)
	}
	first, left := len(o.labels), 0
	for left < len(list) && want[left] < -1e-6 {
		left++
	}
	add := func(i, nth int, right bool) {
		column := b2i(right)
		y := side * math.Max(side*edge+padOver, side*limit[column]+padPitch/2)
		y += side * padPitch * float64(nth)
		x := o.board.Lo.X - padOut
		if right {
			x = o.board.Hi.X + padOut
		}
		p := o.at(list[i])
		o.labels = append(o.labels, padLabel{pad: list[i], right: right,
			path: [4]r2.Point{p, {X: xs[i], Y: edge + side*1.6}, {X: xs[i], Y: y}, {X: x, Y: y}}})
	}
	for i := range left {
		add(i, i, false)
	}
	for i := len(list) - 1; i >= left; i-- {
		add(i, len(list)-1-i, true)
	}
	uncross(o.labels[first:], 1)
}

// fanOut moves sorted places apart until neighbours are pitch apart, with the least sum of squares
// of what they move by (pool-adjacent-violators, Ayer et al. 1955).
func fanOut(want []float64, pitch float64) []float64 {
	type pool struct {
		sum float64
		n   int
	}
	var pools []pool
	for i, w := range want {
		pools = append(pools, pool{w - float64(i)*pitch, 1})
		for n := len(pools); n > 1 && pools[n-2].sum*float64(pools[n-1].n) >= pools[n-1].sum*float64(pools[n-2].n); n = len(pools) {
			pools[n-2] = pool{pools[n-2].sum + pools[n-1].sum, pools[n-2].n + pools[n-1].n}
			pools = pools[:n-1]
		}
	}
	var out []float64
	for _, p := range pools {
		for range p.n {
			out = append(out, p.sum/float64(p.n)+float64(len(out))*pitch)
		}
	}
	return out
}

// label is what stands beside a pad: its name, and of each wire on it the letters of its colour,
// the number of its circuit and, with far, where it goes.
func (p *panelPad) label(far bool) (words []labelPiece, width float64) {
	add := func(s string, frame bool) {
		if s == "" {
			return
		}
		words = append(words, labelPiece{s, frame})
		width += TextWidth(s, small) + 1
		if frame {
			width += 2*tagPad - 0.2
		}
	}
	add(p.term.FullLabel(), false)
	for i, w := range p.wires {
		add(w.core.code, false)
		add(numbers(w.nos), true)
		next := ""
		if i+1 < len(p.wires) {
			next = ","
		}
		if far {
			next = shared(w.far) + next
		}
		add(next, false)
	}
	return words, width - 1
}
