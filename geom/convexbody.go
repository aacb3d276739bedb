package geom

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Convex is a convex body under any rotation: the sum of a core (point, segment, box,
// cylinder, prism or hull of points), a ball and any number of slides. The zero value
// is the empty body, at distance +Inf from everything. A Convex is immutable and may be
// shared and copied freely.
type Convex struct{ c *convex }

type coreKind uint8

const (
	corePoint coreKind = iota
	coreSegment
	coreBox
	coreCylinder
	corePrism
	coreHull
	coreWall    // over a line or arc, with the slice between arc and chord
	coreUpright // the hull of an upright body
)

// convex holds the core in its own frame, centred near the origin so that support
// points keep full precision far out.
type convex struct {
	kind   coreKind
	half   r3.Vector // box: half extents; cylinder: X radius, Z half height; segment, prism: Z
	radius float64   // of the ball added to the core
	plan   *loopData // prism: the convex loop under it, mid of which is the frame's origin
	mid    r2.Point
	points []r3.Vector  // hull
	wall   wall         // about mid
	plans  []Region     // of the upright body, about mid
	slides []r3.Vector  // full slide vectors, in the core's frame
	rot    [3]r3.Vector // columns: the frame's axes in space
	at     r3.Vector    // the frame's origin in space
	reach  float64      // no point of core and slides is farther than this from at
	box    Box

	upright *Upright // the same set, if it is a box, cylinder or prism that stands upright
}

// NewBox returns the box with the given full extents in mm, centred on the origin of
// pose. Extents of 0 give a plate, a stick or a point. The error names a size or place
// that is negative, not finite or beyond [MaxCoord], or a pose that is not rigid.
func NewBox(size r3.Vector, pose Pose3) (Convex, error) {
	if err := checkSizes("box", pose, size.X, size.Y, size.Z); err != nil {
		return Convex{}, err
	}
	return (&convex{kind: coreBox, half: size.Mul(0.5)}).place(pose), nil
}

// NewCylinder returns the cylinder of radius r and height h (mm), its axis along z of
// pose and its middle at the origin of pose. Zero sizes give a disc, a stick or a
// point. Errors as [NewBox].
func NewCylinder(r, h float64, pose Pose3) (Convex, error) {
	if err := checkSizes("cylinder", pose, r, h); err != nil {
		return Convex{}, err
	}
	k := &convex{kind: coreCylinder, half: r3.Vector{X: r, Z: h / 2}}
	if r == 0 {
		k.kind = coreSegment
	}
	return k.place(pose), nil
}

// NewCapsule returns all points within r of the segment from a to b (mm). a = b gives a
// sphere, r = 0 a bare segment. Errors as [NewBox].
func NewCapsule(a, b r3.Vector, r float64) (Convex, error) {
	if err := checkSizes("capsule", Pose3{T: a}, r); err != nil {
		return Convex{}, err
	}
	if err := checkSizes("capsule", Pose3{T: b}); err != nil {
		return Convex{}, err
	}
	mid := r3.Vector{X: a.X + (b.X-a.X)/2, Y: a.Y + (b.Y-a.Y)/2, Z: a.Z + (b.Z-a.Z)/2}
	k := &convex{kind: coreSegment, half: r3.Vector{Z: b.Sub(a).Norm() / 2}, radius: r}
	axis, ok := unit(b.Sub(a))
	if !ok || k.half.Z == 0 {
		k.kind = corePoint
		return k.place(Pose3{T: mid}), nil
	}
	return k.place(Pose3{R: frameOf(axis), T: mid}), nil
}

// NewSphere returns the ball of radius r (mm) about c. Errors as [NewBox].
func NewSphere(c r3.Vector, r float64) (Convex, error) { return NewCapsule(c, c, r) }

// NewHull returns the convex hull of the points (mm), as a body without a list of
// faces: a support query costs one pass over the points. No points, or one that is
// not finite or beyond [MaxCoord], is an error.
func NewHull(points []r3.Vector) (Convex, error) {
	if len(points) == 0 {
		return Convex{}, fmt.Errorf("geom: hull: no points")
	}
	bound := EmptyBox()
	for i, p := range points {
		if err := checkSizes("hull", Pose3{T: p}); err != nil {
			return Convex{}, fmt.Errorf("point %d: %w", i, err)
		}
		bound = bound.Add(p)
	}
	k := &convex{kind: coreHull, points: make([]r3.Vector, len(points))}
	c := bound.Center()
	for i, p := range points {
		k.points[i] = p.Sub(c)
	}
	return k.place(Pose3{T: c}), nil
}

// IsEmpty reports whether the body holds no point.
func (c Convex) IsEmpty() bool { return c.c == nil }

// Bound returns the least axis-parallel box that holds the body.
func (c Convex) Bound() Box {
	if c.c == nil {
		return EmptyBox()
	}
	return c.c.box
}

// Support returns a point of the body farthest along dir. Any dir will do, a zero or
// non-finite one too. For the empty body it returns the origin.
func (c Convex) Support(dir r3.Vector) r3.Vector {
	k := c.c
	if k == nil {
		return r3.Vector{}
	}
	u, ok := unit(dir)
	if !ok {
		u = r3.Vector{Z: 1}
	}
	return mulCols(k.rot, k.support(mulRows(k.rot, u))).Add(u.Mul(k.radius)).Add(k.at)
}

// Transform returns the body moved by p. A p that is not rigid, or that carries the
// body beyond [MaxCoord], is an error.
func (c Convex) Transform(p Pose3) (Convex, error) {
	if c.c == nil {
		return c, nil
	}
	if err := checkSizes("body", p); err != nil {
		return Convex{}, err
	}
	at := Pose3{R: c.c.rot, T: c.c.at}.Then(p)
	if err := checkSizes("body", at); err != nil {
		return Convex{}, err
	}
	k := *c.c
	return k.place(at), nil
}

// Grow returns the body with all points within d mm of it. d must be a size.
func (c Convex) Grow(d float64) (Convex, error) {
	if c.c == nil {
		return c, nil
	}
	if err := checkSizes("growth", Pose3{}, d); err != nil {
		return Convex{}, err
	}
	k := *c.c
	k.radius += d
	return k.place(Pose3{R: k.rot, T: k.at}), nil
}

func (c Convex) sealed() {}

// place fixes the frame and what follows from it.
func (k *convex) place(pose Pose3) Convex {
	k.rot, k.at = squared(pose.columns()), pose.T
	switch k.kind {
	case corePoint:
		k.reach = 0
	case corePrism:
		b := &k.plan.box
		k.reach = math.Hypot(math.Hypot(b.hx-b.lx, b.hy-b.ly)/2, k.half.Z)
	case coreHull:
		k.reach = 0
		for _, p := range k.points {
			k.reach = max(k.reach, p.Norm())
		}
	default:
		k.reach = k.half.Norm()
	}
	for _, s := range k.slides {
		k.reach += s.Norm()
	}
	extent := func(d r3.Vector) float64 {
		d = mulRows(k.rot, d)
		return k.support(d).Dot(d)
	}
	k.box = Box{
		Lo: r3.Vector{X: -extent(r3.Vector{X: -1}), Y: -extent(r3.Vector{Y: -1}), Z: -extent(r3.Vector{Z: -1})},
		Hi: r3.Vector{X: extent(r3.Vector{X: 1}), Y: extent(r3.Vector{Y: 1}), Z: extent(r3.Vector{Z: 1})},
	}.Expand(k.radius)
	k.box.Lo, k.box.Hi = k.box.Lo.Add(k.at), k.box.Hi.Add(k.at)
	k.upright = k.standing()
	return Convex{k}
}

// support returns the core's farthest point along d, both in the core's frame. d need
// not be a unit vector.
func (k *convex) support(d r3.Vector) r3.Vector {
	var p r3.Vector
	switch k.kind {
	case coreBox:
		p = r3.Vector{X: math.Copysign(k.half.X, d.X), Y: math.Copysign(k.half.Y, d.Y), Z: math.Copysign(k.half.Z, d.Z)}
	case coreCylinder:
		p.Z = math.Copysign(k.half.Z, d.Z)
		if s := math.Sqrt(d.X*d.X + d.Y*d.Y); s > 1e-150 {
			s = k.half.X / s
			p.X, p.Y = d.X*s, d.Y*s
		} else {
			p.X = k.half.X
		}
	case coreSegment:
		p.Z = math.Copysign(k.half.Z, d.Z)
	case corePrism:
		p.X, p.Y = farthestCorner(k.plan.corners(), d.X, d.Y)
		p.X, p.Y, p.Z = p.X-k.mid.X, p.Y-k.mid.Y, math.Copysign(k.half.Z, d.Z)
	case coreHull:
		p = k.points[farthest(k.points, d, 0)]
	case coreWall:
		p.X, p.Y = k.wall.support(d.X, d.Y)
		p.X, p.Y, p.Z = p.X-k.mid.X, p.Y-k.mid.Y, math.Copysign(k.half.Z, d.Z)
	case coreUpright:
		p.X, p.Y = farthestInPlan(k.plans, d.X, d.Y)
		p.X, p.Y, p.Z = p.X-k.mid.X, p.Y-k.mid.Y, math.Copysign(k.half.Z, d.Z)
	}
	for _, s := range k.slides {
		if s.Dot(d) > 0 {
			p = p.Add(s)
		}
	}
	return p
}

// farthest returns the index of the point farthest along d. It begins with point first:
// with a good guess the running maximum seldom changes and the branch is foreseen.
func farthest(points []r3.Vector, d r3.Vector, first int) int {
	p := &points[first]
	at, best := first, p.X*d.X+p.Y*d.Y+p.Z*d.Z
	for i := range points {
		p := &points[i]
		if h := p.X*d.X + p.Y*d.Y + p.Z*d.Z; h > best {
			at, best = i, h
		}
	}
	return at
}

// frameOf returns a right-handed orthonormal frame whose z column is the unit vector z.
func frameOf(z r3.Vector) [3]r3.Vector {
	o := r3.Vector{X: 1}
	if math.Abs(z.X) > math.Abs(z.Y) {
		o = r3.Vector{Y: 1}
	}
	x, _ := unit(o.Cross(z))
	return [3]r3.Vector{x, z.Cross(x), z}
}

// squared returns the orthonormal frame nearest to one that is so within rounding, by
// Gram and Schmidt; quarter turns come out as they went in.
func squared(r [3]r3.Vector) [3]r3.Vector {
	x, ok := unit(r[0])
	y, ok2 := unit(r[1].Sub(x.Mul(x.Dot(r[1]))))
	if !ok || !ok2 {
		return Pose3{}.columns()
	}
	z := x.Cross(y)
	if z.Dot(r[2]) < 0 {
		z = z.Mul(-1)
	}
	return [3]r3.Vector{x, y, z}
}

// checkSizes refuses what no solid may have.
func checkSizes(what string, pose Pose3, sizes ...float64) error {
	for _, s := range sizes {
		if !(s >= 0 && s <= MaxCoord) {
			return fmt.Errorf("geom: %s: size %g mm is not in 0..%g", what, s, MaxCoord)
		}
	}
	if !pose.isRigid() {
		return fmt.Errorf("geom: %s: the pose is not a rigid motion", what)
	}
	if t := pose.T.Abs(); max(t.X, t.Y, t.Z) > MaxCoord {
		return fmt.Errorf("geom: %s: place %v is beyond %g mm", what, pose.T, MaxCoord)
	}
	return nil
}
