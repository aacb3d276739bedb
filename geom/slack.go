package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// Slack is a line that is held at two places and longer than they are apart: a lead between
// two ties. All that it can reach lies within an ellipsoid of revolution about the two
// places, since the distances of each of its points from both add up to its length at
// most. The zero value is a line without length that reaches its place alone.
type Slack struct {
	A, B   r3.Vector
	Length float64 // mm; less than the distance of A and B counts as that distance
	// Bend is the least radius of its middle, mm, if it leaves both places along the line
	// between them and bends nowhere more tightly; 0 where it may fold.
	Bend float64
}

// SlackReach returns how far to the side a line of length mm can reach between two places
// apart mm from each other: the height of a triangle whose other two sides are the length.
// 0 for what is no longer than that.
func SlackReach(length, apart float64) float64 {
	return math.Sqrt(max(0, float64((length-apart)*(length+apart)))) / 2
}

// BendReach returns how far to the side a line of length mm can reach at most between two places that hold it
// along the line between them, when it bends nowhere more tightly than with that radius in its
// middle. A quarter of the length turns away from the line, the next turns back
// along it: each reaches R·(1 − cos(l/R)), for a quarter l up to a quarter turn, and goes
// straight beyond that. A radius that is not positive gives 0 only for no length, and half the length else.
func BendReach(length, radius float64) float64 {
	l := max(0, length) / 4
	radius = max(0, radius)
	if turn := radius * math.Pi / 2; l > turn {
		return 2 * (radius + l - turn)
	}
	if radius <= 0 {
		return 0
	}
	return 2 * radius * (1 - math.Cos(l/radius))
}

// Reach returns how far from the straight line between its places the line can reach, mm,
// anywhere between the shares t0 <= t1 of that line.
func (s Slack) Reach(t0, t1 float64) float64 {
	d := s.B.Sub(s.A).Norm()
	length := max(s.Length, d)
	most := s.ellipse(d, length, t0, t1)
	if s.Bend <= 0 {
		return most
	}
	stiff := BendReach(length, s.Bend)
	// Too short to turn back anywhere, it leaves its ends no faster than a circle does.
	t := max(t0, min(t1, 0.5))
	if u := min(t, 1-t) * d; length <= math.Pi*s.Bend && u < s.Bend {
		stiff = min(stiff, s.Bend-math.Sqrt(s.Bend*s.Bend-u*u))
	}
	return min(most, stiff)
}

// ellipse is the greatest radius of the ellipsoid between two shares.
func (s Slack) ellipse(d, length, t0, t1 float64) float64 {
	if length <= 0 {
		return 0
	}
	at := func(t float64) float64 {
		u := (2*t - 1) * d / length
		return SlackReach(length, d) * math.Sqrt(max(0, 1-u*u))
	}
	if t0 < 0.5 && 0.5 < t1 {
		return SlackReach(length, d)
	}
	return max(at(t0), at(t1))
}

// RoundEdge returns how far beyond an edge, in the direction across it, a thing that can move by reach mm
// from its place gets round the edge, which is away mm off: √(reach² − away²), 0 for one
// that it does not get to.
func RoundEdge(reach, away float64) float64 {
	return math.Sqrt(max(0, float64((reach-away)*(reach+away))))
}
