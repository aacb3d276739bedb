package geom

import (
	"fmt"
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// outline answers "farthest point along d" for a convex loop in about log n: the
// directions round the circle fall into one sector for each corner and each arc.
type outline struct {
	from   []float64 // start of each sector as a quasi-angle, ascending
	at     []spot
	reach  float64
	curved bool
}

// spot is a corner (r = 0) or the centre and radius of an arc.
type spot struct{ x, y, r float64 }

// newOutline reads a convex loop, moved by -mid.
func newOutline(l Loop, mid r2.Point) *outline {
	pieces := l.CCW().d.pieces
	o := &outline{}
	// Outward normals at the start and at the end of a piece.
	normals := func(p *piece) (s, e r2.Point) {
		if p.r == 0 {
			n := r2.Point{X: p.by - p.ay, Y: p.ax - p.bx}
			return n, n
		}
		return p.a().Sub(p.c()), p.b().Sub(p.c())
	}
	add := func(n r2.Point, sp spot) {
		sp.x, sp.y = sp.x-mid.X, sp.y-mid.Y
		o.from, o.at = append(o.from, quasiAngle(n.X, n.Y)), append(o.at, sp)
		o.reach = max(o.reach, math.Hypot(sp.x, sp.y)+sp.r)
	}
	_, before := normals(&pieces[len(pieces)-1])
	for i := range pieces {
		p := &pieces[i]
		s, e := normals(p)
		add(before, spot{p.ax, p.ay, 0})
		if p.r > 0 {
			add(s, spot{p.cx, p.cy, p.r})
			o.curved = true
		}
		before = e
	}
	// The sectors are in order round the circle; start the list at the one that follows
	// the jump from 4 to 0, and level out what rounding put back by a hair.
	cut, drop := 0, 0.0
	n := len(o.from)
	for i := range o.from {
		if d := o.from[(i+n-1)%n] - o.from[i]; d > drop {
			cut, drop = i, d
		}
	}
	o.from = append(o.from[cut:len(o.from):len(o.from)], o.from[:cut]...)
	o.at = append(o.at[cut:len(o.at):len(o.at)], o.at[:cut]...)
	for i := 1; i < n; i++ {
		o.from[i] = max(o.from[i], o.from[i-1])
	}
	return o
}

// quasiAngle grows with the angle of (x, y) from 0 at -y round to 4, without any
// trigonometry.
func quasiAngle(x, y float64) float64 {
	s := math.Abs(x) + math.Abs(y)
	if !(s > 0) {
		return 0
	}
	if x >= 0 {
		return 1 + y/s
	}
	return 3 - y/s
}

// support returns the farthest point along (x, y), any length.
func (o *outline) support(x, y float64) r2.Point {
	q := quasiAngle(x, y)
	// The last sector that starts at or before q; before the first, it is the last.
	lo, hi := 0, len(o.from)
	for lo < hi {
		if m := (lo + hi) / 2; o.from[m] <= q {
			lo = m + 1
		} else {
			hi = m
		}
	}
	if lo == 0 {
		lo = len(o.from)
	}
	s := &o.at[lo-1]
	if s.r > 0 {
		if n := math.Sqrt(x*x + y*y); n > 1e-150 {
			k := s.r / n
			return r2.Point{X: s.x + k*x, Y: s.y + k*y}
		}
		return r2.Point{X: s.x + s.r, Y: s.y}
	}
	return r2.Point{X: s.x, Y: s.y}
}

// NewPrism returns the prism over a convex loop between two heights, all in the frame
// of pose (mm). It fails if the loop is not convex ([Loop.IsConvex]), if z is empty or
// beyond [MaxCoord], or if the pose is not rigid.
func NewPrism(loop Loop, z r1.Interval, pose Pose3) (Convex, error) {
	if !loop.IsConvex() {
		return Convex{}, fmt.Errorf("geom: prism: the %v is not convex", loop)
	}
	if err := checkSizes("prism", pose, math.Abs(z.Lo), math.Abs(z.Hi)); err != nil {
		return Convex{}, err
	}
	if z.IsEmpty() {
		return Convex{}, fmt.Errorf("geom: prism: the height %v to %v is empty", z.Lo, z.Hi)
	}
	c := loop.Bound().Center()
	k := &convex{kind: corePrism, plan: newOutline(loop, c), loop: loop}
	k.half.Z = (z.Hi - z.Lo) / 2
	mid := r3.Vector{X: c.X, Y: c.Y, Z: z.Lo + k.half.Z}
	return k.place(Pose3{R: pose.R, T: pose.Apply(mid)}), nil
}

// ConvexOf returns the upright body as a convex one. It fails if the plan is anything
// but one convex loop.
func ConvexOf(u Upright) (Convex, error) {
	if len(u.Plan) != 1 || len(u.Plan[0].Holes) != 0 {
		return Convex{}, fmt.Errorf("geom: the plan of the upright body is not one convex loop")
	}
	return NewPrism(u.Plan[0].Outer, u.Z, Pose3{})
}
