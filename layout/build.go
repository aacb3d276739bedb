package layout

import (
	"bytes"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// Build is a build file as written: every figure with its place in the file, every
// reference found and checked, nothing placed yet. What the file writes as a map of names
// comes sorted by name, so that the order of keys means nothing; what it writes as a list
// keeps its order. [Resolve] reads it and never changes it.
//
// A Dim whose tolerance was not written (HasTol false) has Plus and Minus 0; filling
// in the tool's own defaults is part of placing.
type Build struct {
	File    string // as given to Load
	Name    string
	About   string
	Builtin bool // the built-in example

	Parts *shapes.Library // the catalogue with the build's own parts over it
	Own   []*shapes.Part  // parts of the build and of its part files, by name

	Rotors    *RotorSet // nil: the build has none
	Plates    []*PlateSpec
	Posts     []*PostSpec
	Bolts     []*BoltSpec // screws that nothing else tells of
	Stacks    []*StackSpec
	Mounts    []*MountSpec
	Batteries []*BatterySpec
	Cameras   []*CameraSpec
	Antennas  []*AntennaSpec
	Ports     []*PortSpec
	Wires     []*WireSpec // in file order

	Cutting   *CuttingSpec // nil: the build says nothing of how plates are cut
	MassLimit *shapes.Dim  // g, nil: none named
	Allowance *shapes.Dim  // g for wire, solder and ties; nil: not said
	Guard     []*Target    // plates whose hull guards lenses and soft parts; nil: all plates
	Needs     []Need       // by the name of the rule
	Touching  []*Touching
	Pos       read.Pos

	text []byte // of File, for the lines that messages show; nil: no lines are shown
}

// line returns the text of the line that a place is on, "" when it is not in the build
// file.
func (b *Build) line(pos read.Pos) string {
	if pos.IsZero() || pos.File != b.File {
		return ""
	}
	rest := b.text
	for n := 1; ; n++ {
		l, more, found := bytes.Cut(rest, []byte("\n"))
		if n == pos.Line {
			return strings.TrimSuffix(string(l), "\r")
		}
		if !found {
			return ""
		}
		rest = more
	}
}

// CuttingSpec is what plates are cut with.
type CuttingSpec struct {
	Cutter *shapes.Dim // mm, diameter; nil: not said
	Kerf   *shapes.Dim // mm, width of the cut; nil: that of the cutter
	Pos    read.Pos
}

// Point is a place in plan, mm, in the frame that its owner names.
type Point struct {
	P   r2.Point
	Pos read.Pos
}

// Touching excuses a pair that may touch.
type Touching struct {
	A, B *Target
	Why  string
	Pos  read.Pos
}

// PostSpec is a set of equal posts.
type PostSpec struct {
	Name   string
	Part   *shapes.Part // of kind standoff
	Length *shapes.Dim  // mm, never nil
	From   *Target      // a plate's face: Top and the posts stand, Bottom and they hang
	At     Places       // in the frame of the plate's body (x forward, y left)
	Turn   float64      // degrees, of hexagons
	// Bottom and Top say what is special about the screws of either end; nil: nothing.
	Bottom, Top *ScrewSpec
	Pos         read.Pos
}

// MountSpec is a part that sits on a face.
type MountSpec struct {
	Name string
	Part *shapes.Part
	// On is the face that carries it: a plate's or board's, another mount's, a battery's,
	// or the arms (TargetArms): then one copy sits at each rotor and the mount's
	// component IDs end with the rotor's name.
	On *Target

	// At is the part's centre: in the body frame on plates, in the carrier's own frame
	// (origin at its centre, x along its length, turned with it) on boards, mounts and
	// batteries. Zero when not written.
	At   Point
	Turn float64 // degrees, in the same frame
	// FromMotor, on arms: from the motor's axis to the near end of the part, mm, inwards.
	// Nil elsewhere, never nil there.
	FromMotor *shapes.Dim

	Upright bool        // a can or block standing on its end (x up)
	Hold    *Hold       // nil: straight on the face
	Sleeve  *shapes.Dim // wall of the heat-shrink round it, mm; nil: none
	Tie     *shapes.Part
	Pos     read.Pos
}

// Hold is what lies between a part and the face under it.
type Hold struct {
	Word      string       // "foam", "tape", "gel", "pad", "hook-and-loop", "glue", or the part's name
	Part      *shapes.Part // of kind pad; nil when only a word was written
	Thickness *shapes.Dim  // mm as mounted, never nil
	Pos       read.Pos
}

// BatterySpec is a pack in place.
type BatterySpec struct {
	Name  string // "" for the single one written as battery:
	Part  *shapes.Part
	On    *Target // a plate's or mount's face; Bottom: it hangs
	At    Point
	Turn  float64
	Hold  *Hold
	Slide *shapes.Dim // mm it may creep each way along its length; nil: not said
	Lead  string      // "front", "rear", "left", "right" of the craft; "": not said
	Strap *StrapSpec
	Pos   read.Pos
	// Limit is the current in A to which the firmware holds what the pack gives; nil: none.
	Limit *shapes.Dim
}

// ID returns the component ID: "battery" or "batteries.NAME".
func (b *BatterySpec) ID() string {
	if b.Name == "" {
		return "battery"
	}
	return "batteries." + b.Name
}

// StrapSpec is the strap round a pack.
type StrapSpec struct {
	Part    *shapes.Part
	Through *Target // TargetHole: the slots of one entry; nil: not said
	Count   int     // at least 1
	Pos     read.Pos
}

// CameraSpec is a camera on its side screws.
type CameraSpec struct {
	Name           string
	Part           *shapes.Part
	At             Point       // side-screw axis in plan, body frame
	From           *Target     // a plate's face
	By             *shapes.Dim // mm from that face to the side-screw axis, away from the plate
	TiltLo, TiltHi float64     // degrees, up positive, TiltLo <= TiltHi
	Yaw            float64     // degrees
	Slot           *shapes.Dim // mm between the cheeks; nil: not said
	Screw          *ScrewSpec  // its side screws; nil: nothing said
	Cheek          *shapes.Dim // mm, what they go through; nil: not said
	Pos            read.Pos
}

// AntennaSpec is an antenna on its base.
type AntennaSpec struct {
	Name    string
	Part    *shapes.Part
	On      *Target
	At      Point   // as for mounts
	Lean    float64 // degrees away from the face's outward normal, 0..120
	Towards float64 // degrees in plan, body frame, in which it leans
	Pos     read.Pos
}

// PortSpec says how a port is used, over what its part says.
type PortSpec struct {
	Owner  *Target // TargetBoard or TargetMount
	Port   string
	Used   *bool // a plug sits in it in flight; nil: not said
	Angled *bool // with an angled plug
	Reach  *bool // must be reachable on the assembled craft
	Pos    read.Pos
}
