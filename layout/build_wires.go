package layout

import (
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// WireSpec is one entry of `wires:`: wires that leave one part together and go to another.
//
// An entry of one word (`motor leads`) stands for one at each motor.
type WireSpec struct {
	Name   string   // "": the tool makes one of the ends
	Motors bool     // the leads of every motor, to the pads that drive it
	From   *EndSpec // nil with Motors
	To     *EndSpec // with Motors: the part that drives them, nil: the only one there is
	// Order says which pad drives which rotor, of motors or of parts on the arms; for rotors that it does
	// not name it is the nearest, all taken together.
	Order  []DrivenBy
	Ways   []string     // names or roles of what is joined; nil: all that both ends have
	Gauge  *shapes.Part // of kind wire; nil: by use
	Colour []ColourSpec // by way; nil: by function
	Via    []*ViaSpec   // passed in this order
	Ties   []Point      // where it is tied down, body frame; nil: the tool proposes
	Sleeve *shapes.Part // of kind sleeve, over its whole length; nil: none
	Length *shapes.Dim  // mm of the lead as it is bought; nil: cut to fit
	Slack  *shapes.Dim  // mm added to what is routed; nil: by use
	Loose  bool         // the leads of a pair are not twisted or tied together
	Edge   string       // what guards it at plate edges: "sleeve", "tape", "chamfer", "": nothing said
	Pos    read.Pos
}

// EndSpec is one end of an entry.
type EndSpec struct {
	On   *Target // TargetBoard, TargetMount (on the arms without a rotor: each of its copies), TargetBattery, TargetCamera, TargetAntenna or TargetRotor
	At   string  // name of a port, a pad or a set of pads of it, "" where only one can be meant
	Text string  // as written
	Pos  read.Pos
}

// DrivenBy says which pad drives a rotor.
type DrivenBy struct {
	Rotor string
	Pad   string
	Pos   read.Pos
}

// ColourSpec gives a way its colour.
type ColourSpec struct {
	Way    string
	Colour string
	Pos    read.Pos
}

// ViaSpec is a place that a wire passes: a point in plan, or an opening of a plate.
type ViaSpec struct {
	At    Point
	HasAt bool
	Hole  *Target // TargetHole; nil when HasAt
	Pos   read.Pos
}
