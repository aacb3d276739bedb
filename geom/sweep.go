package geom

import (
	"fmt"
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// SweepSlide returns bodies that together are all places that b passes through on the
// straight way along (mm).
//
// A convex body gives one convex body and an upright one that slides level, straight up or
// straight down one upright body, all exact. An upright body with a concave plan that slides
// on a slope gives convex parts that cover the sweep and reach no farther than tol mm
// beyond it; tol must be at least 1e-6 then and is not looked at otherwise.
//
// It fails if along is not finite or longer than [MaxCoord], or if a part would be. An
// empty body gives none.
func SweepSlide(b Body, along r3.Vector, tol float64) ([]Body, error) {
	if err := checkSizes("slide", Pose3{T: along}); err != nil {
		return nil, err
	}
	if b == nil || b.IsEmpty() {
		return nil, nil
	}
	c, tilted := b.(Convex)
	if !tilted {
		u := b.(Upright)
		flat := r2.Point{X: along.X, Y: along.Y}
		switch {
		case flat == r2.Point{}:
			u.Z = r1.Interval{Lo: u.Z.Lo + min(0, along.Z), Hi: u.Z.Hi + max(0, along.Z)}
			return []Body{u}, nil
		case along.Z == 0:
			plan, err := slidePlan(u.Plan, flat)
			return []Body{Upright{Plan: plan, Z: u.Z}}, err
		case u.convexPlan() == nil:
			return slideParts(u, along, tol)
		}
		var err error
		if c, err = ConvexOf(u); err != nil {
			return nil, err
		}
	}
	s, err := c.slide(along)
	return []Body{s}, err
}

// slide returns the sum of the body and the segment from 0 to along.
func (c Convex) slide(along r3.Vector) (Convex, error) {
	k := *c.c
	if k.kind == corePoint && len(k.slides) == 0 {
		return NewCapsule(k.at, k.at.Add(along), k.radius)
	}
	l := mulRows(k.rot, along)
	off := 1e-13 * l.Norm()
	// Along an axis in which the core is straight it only grows longer.
	grow := func(half *float64, d float64) (Convex, error) {
		*half += math.Abs(d) / 2
		pose := Pose3{R: k.rot, T: k.at.Add(along.Mul(0.5))}
		return k.place(pose), checkSizes("slide", pose)
	}
	x, y, z := math.Abs(l.X) <= off, math.Abs(l.Y) <= off, math.Abs(l.Z) <= off
	switch {
	case x && y && k.kind != coreHull:
		return grow(&k.half.Z, l.Z)
	case k.kind == coreBox && y && z:
		return grow(&k.half.X, l.X)
	case k.kind == coreBox && z && x:
		return grow(&k.half.Y, l.Y)
	}
	k.slides = append(k.slides[:len(k.slides):len(k.slides)], l)
	pose := Pose3{R: k.rot, T: k.at}
	return k.place(pose), checkSizes("slide", pose)
}

// SweepTilt returns convex bodies that cover all places that c passes through as it turns
// about the line through point along dir (right-handed) from one angle to another. The
// cover reaches no farther than tol mm beyond the sweep.
//
// The turn is cut into equal steps of an angle a, and each is covered by the body in the
// middle of the step, grown by g = 2ρ·sin(a/4), where ρ is the greatest distance of c from
// the axis. A point of c at any angle of the step is turned by at most a/2 from the middle
// one, so that it lies within the chord 2ρ·sin(a/4) of its place there: the grown body
// holds it. And every point of the grown body lies within g of c in the middle of the
// step, which is part of the sweep. The number of steps is the least with g <= tol.
//
// It fails if tol is not positive, if dir is zero, if a number is not finite, or if more
// than 4096 steps were needed. An empty body gives none.
func SweepTilt(c Convex, point, dir r3.Vector, from, to s1.Angle, tol float64) ([]Convex, error) {
	if c.c == nil {
		return nil, nil
	}
	axis, ok := unit(dir)
	if !ok || !finite3(point) {
		return nil, fmt.Errorf("geom: tilt: no axis through %v along %v", point, dir)
	}
	if !(tol > 0 && tol <= MaxCoord) {
		return nil, fmt.Errorf("geom: tilt: tolerance %g mm is not positive", tol)
	}
	turn := math.Abs(float64(to - from))
	if !(turn <= math.MaxFloat64) || !(math.Abs(float64(from)) <= math.MaxFloat64) {
		return nil, fmt.Errorf("geom: tilt: angles %v to %v are not finite", from, to)
	}
	if full := 2 * math.Pi; turn > full {
		to, turn = from+s1.Angle(math.Copysign(full, float64(to-from))), full
	}
	rho := c.c.at.Sub(point).Cross(axis).Norm() + c.c.reach + c.c.radius
	// 4·asin(tol/2ρ) is the widest step.
	steps := 1.0
	if rho > 0 && turn > 0 {
		steps = max(1, math.Ceil(turn/(4*math.Asin(min(1, tol/(2*rho))))))
	}
	if steps > maxTiltSteps {
		return nil, fmt.Errorf("geom: tilt: %g steps for a tolerance of %g mm, more than %d", steps, tol, maxTiltSteps)
	}
	grow := 2 * rho * math.Sin(turn/steps/4)
	out := make([]Convex, 0, int(steps))
	for i := 0.5; i < steps; i++ {
		p := Rotation3(point, axis, from+s1.Angle(float64(to-from)*i/steps))
		m, err := c.Transform(p)
		if err != nil {
			return nil, err
		}
		if m, err = m.Grow(grow); err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// TiltHulls returns convex bodies that together hold all places that the convex hull of
// the points passes through as it turns about the line through point along dir
// (right-handed) from one angle to another. It takes far fewer bodies than [SweepTilt],
// √(ρ/(2·tol)) times or so, and reaches farther: each body stays within tol mm of the
// convex hull of what it covers, which may bridge the hollow between the ends of a step by as
// much as a quarter of the step's angle times the width of the hull.
//
// The turn is cut into equal steps. A point at the distance ρ from the axis moves on an
// arc that lies within ρ(1 - cos(step/2)) of its chord, so that the hull of the points at
// both ends of a step, grown by that much for the farthest point, holds the whole step. The
// steps are as few as keep that growth within tol.
//
// It fails as SweepTilt does; no points give no bodies.
func TiltHulls(points []r3.Vector, point, dir r3.Vector, from, to s1.Angle, tol float64) ([]Convex, error) {
	axis, ok := unit(dir)
	if !ok || !finite3(point) {
		return nil, fmt.Errorf("geom: tilt: no axis through %v along %v", point, dir)
	}
	if !(tol > 0 && tol <= MaxCoord) {
		return nil, fmt.Errorf("geom: tilt: tolerance %g mm is not positive", tol)
	}
	turn := math.Abs(float64(to - from))
	if !(turn <= 2*math.Pi) || !(math.Abs(float64(from)) <= math.MaxFloat64) {
		return nil, fmt.Errorf("geom: tilt: from %v to %v is not finite or more than a full turn", from, to)
	}
	if len(points) == 0 {
		return nil, nil
	}
	rho := 0.0
	for _, p := range points {
		rho = max(rho, p.Sub(point).Cross(axis).Norm())
	}
	steps := 1.0
	if turn > 0 && rho > tol {
		steps = math.Ceil(turn / (2 * math.Acos(1-tol/rho)))
	} else if turn > math.Pi/2 {
		steps = math.Ceil(turn / (math.Pi / 2)) // a chord of half a turn and more says nothing
	}
	if !(steps <= maxTiltSteps) {
		return nil, fmt.Errorf("geom: tilt: %g steps for a tolerance of %g mm, more than %d", steps, tol, maxTiltSteps)
	}
	grow := rho * (1 - math.Cos(turn/steps/2))
	add := func(to []r3.Vector, angle s1.Angle) []r3.Vector {
		pose := Rotation3(point, axis, angle)
		for _, p := range points {
			to = append(to, pose.Apply(p))
		}
		return to
	}
	out := make([]Convex, 0, int(steps))
	for i := 0.0; i < steps; i++ {
		both := add(nil, from+s1.Angle(float64(to-from)*i/steps))
		if turn > 0 {
			both = add(both, from+s1.Angle(float64(to-from)*(i+1)/steps))
		}
		c, err := NewHull(both)
		if err == nil && grow > 0 {
			c, err = c.Grow(grow)
		}
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

const maxTiltSteps = 4096
