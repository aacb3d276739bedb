package layout

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// PlateSpec is a plate as written.
type PlateSpec struct {
	Name      string
	Material  *shapes.Part // of kind material, never nil
	Thickness *shapes.Dim  // mm, never nil
	Outline   *shapes.Outline
	Drawn     *DrawnOutline // in place of what Outline draws: from a file; nil without one
	Holes     []*HoleSpec
	// On is the plate or set of posts that it lies on, Under the one that it hangs under.
	// Both nil: the lowest plate, or (with EachRotor) plates that On or Under must place.
	On, Under *Target
	EachRotor bool // one copy at each rotor, drawn with x outwards along the arm and the origin at the motor
	Shift     Point
	Grain     Grain
	Pos       read.Pos
}

// Grain says how a plate lies on its sheet: with which of its axes along the sheet's grain,
// the way of its outer plies.
type Grain uint8

// Grains.
const (
	GrainAny Grain = iota // not said: any way
	GrainX                // the plate's x along the grain
	GrainY
)

// HoleForm says what the figures of a hole entry mean.
type HoleForm uint8

// Forms of hole entries.
const (
	HoleRound  HoleForm = iota // one hole of diameter Hole at each place
	HoleSquare                 // four holes at the corners of SideX x SideY
	HoleCircle                 // Count holes on a circle of diameter Circle
	HoleSlot                   // a slot of overall Length and Width
	HoleOf                     // wherever For needs them
)

// HoleSpec is one entry of a plate's holes.
type HoleSpec struct {
	Name   string // as written, or its number in the list from 1
	Form   HoleForm
	SideX  *shapes.Dim
	SideY  *shapes.Dim
	Circle *shapes.Dim
	Count  int
	Hole   *shapes.Dim // diameter; nil only for HoleOf: taken from the thread
	Length *shapes.Dim // slots, overall, along x at Turn 0
	Width  *shapes.Dim // slots
	Tab    *shapes.Dim // slots: thickness of the sheet whose tab goes in; nil: none, or that of TabOf
	TabOf  *Target     // slots: the plate whose tab goes in; nil without one
	Centre *shapes.Dim // a further hole in the middle of the pattern; nil: none
	At     Places      // HoleOf: unused
	Turn   float64     // degrees: of the pattern, or of the slot's long axis; at rotors from the arm's direction
	For    *Target     // TargetMotors, TargetPosts, TargetStack, TargetStrap, TargetWires or nil
	Sink   *SinkSpec   // counterbore or countersink; nil: straight holes
	Press  bool        // a press nut sits in each hole
	// Face is the face of the sink, or on which the press nut's flange lies, when HasFace;
	// else the one that fits the screws.
	Face    shapes.Face
	HasFace bool
	Pos     read.Pos
}

// SinkSpec is what takes a screw's head into a plate.
type SinkSpec struct {
	Diameter *shapes.Dim // mm at the face, never nil
	Depth    *shapes.Dim // mm, of a counterbore; nil for a countersink
	Angle    float64     // degrees, full angle of a countersink's cone; 0 for a counterbore
	Pos      read.Pos
}

// Mirror says which copies of a thing are meant beside the one written.
type Mirror uint8

// Mirrors. Left-right is across the x axis, front-back across the y axis.
const (
	MirrorNone Mirror = iota
	MirrorLeftRight
	MirrorFrontBack
	MirrorBoth // left-right and front-back: four copies
)

// Places is where copies of a thing stand: at listed points, or at each rotor.
type Places struct {
	Points []Point
	Rotors bool // one at each rotor, in a frame with x outwards along the arm
	Mirror Mirror
	Pos    read.Pos
}

// Poses returns the motions that take a thing drawn at the origin with this turn (in
// degrees) to each of its places: every point in order, and after each its mirrored
// copies (left-right, front-back, both). A copy that lands on an earlier place is
// left out. Rotors gives none: their places are not known here.
func (p Places) Poses(turn float64) []geom.Pose2 {
	var out []geom.Pose2
	for _, pt := range p.Points {
		out = append(out, mirrored(out, pt.P, turn, p.Mirror)...)
	}
	return out
}

func mirrored(have []geom.Pose2, at r2.Point, turn float64, m Mirror) []geom.Pose2 {
	deg := func(d float64) s1.Angle { return s1.Angle(d * math.Pi / 180) }
	cand := []geom.Pose2{{Turn: deg(turn), Shift: at}}
	if m == MirrorLeftRight || m == MirrorBoth {
		cand = append(cand, geom.Pose2{Turn: deg(-turn), Mirror: true, Shift: r2.Point{X: at.X, Y: -at.Y}})
	}
	if m == MirrorFrontBack || m == MirrorBoth {
		cand = append(cand, geom.Pose2{Turn: deg(180 - turn), Mirror: true, Shift: r2.Point{X: -at.X, Y: at.Y}})
	}
	if m == MirrorBoth {
		cand = append(cand, geom.Pose2{Turn: deg(180 + turn), Shift: r2.Point{X: -at.X, Y: -at.Y}})
	}
	var out []geom.Pose2
	for _, c := range cand {
		twin := false
		for _, h := range have {
			twin = twin || h.Shift.Sub(c.Shift).Norm() < 1e-9
		}
		for _, h := range out {
			twin = twin || h.Shift.Sub(c.Shift).Norm() < 1e-9
		}
		if !twin {
			out = append(out, c)
		}
	}
	return out
}
