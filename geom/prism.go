package geom

import (
	"fmt"
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

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
	k := new(convex)
	*k = prismOver(loop.d, z)
	pose.T = pose.Apply(k.at)
	if err := checkSizes("prism", pose); err != nil {
		return Convex{}, err
	}
	return k.place(pose), nil
}

// ConvexOf returns the upright body as a convex one. It fails if the plan is anything
// but one convex loop.
func ConvexOf(u Upright) (Convex, error) {
	if l := u.convexPlan(); l != nil {
		return NewPrism(Loop{l}, u.Z, Pose3{})
	}
	return Convex{}, fmt.Errorf("geom: the plan of the upright body is not one convex loop")
}

// convexPlan returns the loop of a plan that is one convex loop, else nil.
func (u *Upright) convexPlan() *loopData {
	if len(u.Plan) != 1 || len(u.Plan[0].Holes) != 0 || !u.Plan[0].Outer.IsConvex() {
		return nil
	}
	return u.Plan[0].Outer.d
}

// prismOver returns the upright prism over a convex loop, without its box.
func prismOver(l *loopData, z r1.Interval) convex {
	b := &l.box
	k := convex{kind: corePrism, plan: l, mid: r2.Point{X: b.lx + (b.hx-b.lx)/2, Y: b.ly + (b.hy-b.ly)/2}}
	k.half.Z = (z.Hi - z.Lo) / 2
	k.rot = Pose3{}.columns()
	k.at = r3.Vector{X: k.mid.X, Y: k.mid.Y, Z: z.Lo + k.half.Z}
	k.reach = math.Sqrt((b.hx-b.lx)*(b.hx-b.lx)+(b.hy-b.ly)*(b.hy-b.ly)+(z.Hi-z.Lo)*(z.Hi-z.Lo)) / 2
	return k
}

// standing returns the same set as an upright body, if it is one.
func (k *convex) standing() *Upright {
	if k.kind == coreBox {
		k.setUpright()
	}
	if k.rot[2].X != 0 || k.rot[2].Y != 0 || k.radius != 0 || len(k.slides) > 0 {
		return nil
	}
	x, y := k.rot[0], k.rot[1]
	turn := Pose2{
		Turn:   s1.Angle(math.Atan2(x.Y, x.X)),
		Mirror: x.X*y.Y-x.Y*y.X < 0,
		Shift:  r2.Point{X: k.at.X, Y: k.at.Y},
	}
	l := k.planLoop().Transform(turn)
	if l.IsEmpty() {
		return nil
	}
	return &Upright{
		Plan: []Region{{Outer: l.CCW()}},
		Z:    r1.Interval{Lo: k.at.Z - k.half.Z, Hi: k.at.Z + k.half.Z},
	}
}

// setUpright names the axes of a box anew, so that one that is upright is the third.
func (k *convex) setUpright() {
	for range 2 {
		if k.rot[2].X == 0 && k.rot[2].Y == 0 || len(k.slides) > 0 {
			return
		}
		k.rot = [3]r3.Vector{k.rot[1], k.rot[2], k.rot[0]}
		k.half = r3.Vector{X: k.half.Y, Y: k.half.Z, Z: k.half.X}
	}
}

// planLoop returns the loop under a box, cylinder or prism, in its own frame; the empty
// loop for other bodies and where the plan has no area.
func (k *convex) planLoop() Loop {
	switch k.kind {
	case coreBox:
		return Rectangle(r2.Point{}, 2*k.half.X, 2*k.half.Y)
	case coreCylinder:
		return Circle(r2.Point{}, k.half.X)
	case corePrism:
		return Loop{k.plan}.Transform(Pose2{Shift: k.mid.Mul(-1)})
	}
	return Loop{}
}

// farthestCorner returns the point of a convex loop farthest along (x, y), any length,
// in about log n: the normals in turn split the directions into one range a corner.
func farthestCorner(fan []corner, x, y float64) (px, py float64) {
	// Whether (x, y), and then a corner's normal, is less than half a turn after the first.
	// The latter goes by the angle that was counted up, since the last normal may be a full
	// turn on, on the first again.
	turn := fan[0].nx*y - fan[0].ny*x
	uFirst := turn > 0 || turn == 0 && fan[0].nx*x+fan[0].ny*y >= 0
	lo, hi := 1, len(fan) // the last corner whose range begins at or before (x, y)
	for lo < hi {
		m := int(uint(lo+hi) / 2)
		c := &fan[m]
		cross, dot, past := c.nx*y-c.ny*x, c.nx*x+c.ny*y, c.angle-fan[0].angle
		before := cross >= 0
		if f := past < math.Pi; f != uFirst {
			before = f
		} else if dot < 0 && math.Abs(cross) <= -1e-9*dot {
			// Opposite, at the two ends of one half: the sign of cross is noise.
			before = past < math.Pi/2 || past >= math.Pi && past < 1.5*math.Pi
		}
		if before {
			lo = m + 1
		} else {
			hi = m
		}
	}
	c := &fan[lo-1]
	if c.r == 0 {
		return c.cx, c.cy
	}
	n := math.Sqrt(x*x + y*y)
	if !(n > 1e-150) {
		return c.cx + c.r*c.nx, c.cy + c.r*c.ny
	}
	return c.cx + c.r/n*x, c.cy + c.r/n*y
}
