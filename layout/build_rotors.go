package layout

import (
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// Layouts of rotors.
const (
	LayoutCross     = "cross"     // four on a circle, at 45° to forward
	LayoutPlus      = "plus"      // four on a circle, one forward
	LayoutStretched = "stretched" // four at the corners of a rectangle Length x Width
	LayoutThree     = "three"     // three on a circle, one to the rear
	LayoutSix       = "six"       // six on a circle
	LayoutEight     = "eight"     // eight on a circle
	LayoutByHand    = "by-hand"   // each at its own place
)

// RotorSet is all the rotors of a build.
type RotorSet struct {
	Layout    string
	Wheelbase *shapes.Dim // mm, diameter of the rotor circle; nil for stretched and by-hand
	Length    *shapes.Dim // mm, front to rear axis distance; stretched only
	Width     *shapes.Dim // mm, left to right axis distance; stretched only
	Coaxial   bool        // a second rotor under each: its name ends in "-below"
	On        *Target     // the plate that carries them, when said; else nil
	// Rotors come counter-clockwise seen from above, from the one nearest forward on the
	// left (or forward itself); by-hand by name. A lower one of a pair follows its
	// upper one. All that the file leaves out for one rotor is filled in from the set.
	Rotors []*RotorSpec
	Pos    read.Pos
}

// RotorSpec is one rotor as written.
type RotorSpec struct {
	Name string
	// Bearing in degrees from forward, counter-clockwise, of rotors on a circle and, by
	// the quadrant (45, 135, 225, 315), of stretched ones. Meaningless when At is set.
	Bearing   float64
	At        *Point      // its own place in the body frame, when written
	Height    *shapes.Dim // mm, of the mounting face over the origin, when written; 0 (Assumed) in a build without plates
	Motor     *shapes.Part
	Prop      *shapes.Part
	Clockwise bool    // seen from above
	Below     bool    // the motor hangs under the arm
	Clocking  float64 // degrees from the arm's direction outwards to the motor's first hole
	Hand      string  // prop fitted: "clockwise", "counter-clockwise", "" not said
	Nut       string  // "insert", "plain", "left-hand", "" not said
	Coaxial   string  // name of the other rotor on its axis, ""
	// Screw and PropScrew say what is special about the motor's and the prop's screws;
	// nil: nothing.
	Screw, PropScrew *ScrewSpec
	Pos              read.Pos
}
