package starter

import (
	"math"
	"slices"

	"dryfit/shapes"
)

// Screws of a starter. Figures of threads are written as if they were measured: those of
// the class, or, where it is shorter, as much as the screw that is sold needs.

// deepest is how deep a screw of this length may go at worst when it clamps `grip`, good
// to tol; ok is false when at worst it would not hold by least.
func deepest(length, grip, tol, least float64) (deep float64, ok bool) {
	tol += shapes.LengthLimit(length)
	return length - grip + tol, length-grip-tol >= least
}

// shortest is how deep the shortest of the lengths sold goes that is sure to hold.
func shortest(t *shapes.Thread, grip, tol, least float64) float64 {
	sold := append(slices.Clone(t.Lengths), t.KitLengths...)
	slices.Sort(sold)
	deep := math.Inf(1)
	for _, l := range sold {
		if d, ok := deepest(l, grip, tol, least); ok {
			return d
		}
	}
	return deep
}

// tenth rounds up to a tenth.
func tenth(v float64) float64 { return math.Ceil(10*v-1e-6) / 10 }

// MotorWasher reports whether the motor's screws stand on washers: for M2 that is right
// for arms of whole millimetres, and leaves less for the motor to have.
func (s *sheet) MotorWasher() bool { return s.c.small }

// MotorThread is the thread that the motor must have for the shortest screw that holds in
// it: its depth at worst, 0.5 that stay free and 0.1 of measuring; that of the class if it
// is more.
func (s *sheet) MotorThread() string {
	grip, tol := s.base, 0.1
	if s.MotorWasher() {
		grip, tol = grip+s.c.bolt.Thread.WasherT, tol+0.05
	}
	need := shortest(s.c.bolt.Thread, grip, tol, shapes.MotorEngagement(s.c.bolt.Thread.Major)) + 0.5 + 0.1
	return s.Num(tenth(math.Max(need, figure(s.c.motor.Motor.ThreadUsable))))
}

// ByScrews reports whether the prop is held by screws beside the shaft.
func (s *sheet) ByScrews() bool {
	for _, a := range s.c.motor.Motor.Mounts {
		for _, b := range s.c.prop.Prop.Mounts {
			if a == b {
				return a[0] == 't'
			}
		}
	}
	return false
}

// HubTol is how well the hub must be known: a tenth for screws, which end in the bell.
func (s *sheet) HubTol() float64 {
	if s.ByScrews() {
		return 0.1
	}
	return measured
}

// BellThread is the thread that the bell must have for the shortest prop screw (M2) that
// holds, with 0.1 of measuring; 2.8 at least.
func (s *sheet) BellThread() string {
	need := shortest(s.c.bolt.Thread, figure(s.c.prop.Prop.HubT), s.HubTol(), shapes.MotorEngagement(2)) + 0.1
	return s.Num(tenth(math.Max(need, 2.8)))
}

// Cheek is how thick the camera's cheeks are: 1.5 where its screws may go in by 2 only.
func (s *sheet) Cheek() string {
	if figure(s.c.camera.Camera.ScrewMax) < 2.4 {
		return "1.5 ±0.1"
	}
	return "2 ±0.1"
}

// PostThread is the depth of thread in the posts, at least enough for the shortest screw
// through the base that holds in aluminium by a diameter: its depth at worst, 0.5 free and
// 0.5 of spread.
func (s *sheet) PostThread() string {
	t := s.c.bolt.Thread
	need := figure(s.post.Standoff.ThreadDepth)
	if s.post.Standoff.Thread == t.Size {
		need = math.Max(need, shortest(&shapes.Thread{Lengths: t.Lengths}, s.base, 0.1, t.Major)+0.5+0.5)
	}
	return s.Num(half(need))
}
