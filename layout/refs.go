package layout

import (
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// TargetKind says what a reference points at.
type TargetKind uint8

// What references point at. The fields of [Target] that each uses stand behind it.
const (
	NoTarget      TargetKind = iota
	TargetPlate              // Name; Rotor when it means one copy of an arm plate
	TargetPosts              // Name of the set
	TargetStack              // Name
	TargetBoard              // Name of the stack, Item in it
	TargetMount              // Name; Rotor when it means one copy
	TargetBattery            // Name, "" for the single one
	TargetCamera             // Name
	TargetAntenna            // Name
	TargetRotor              // Rotor; Item "motor" or "prop", or "" for both
	TargetArms               // the arm at every rotor, whichever plate that is
	TargetMotors             // every motor
	TargetHole               // Name of the plate, Item the name of the hole entry
	TargetStrap              // holes: made for a strap
	TargetWires              // holes: made for wires
)

// Target is a reference, found: what it points at exists in the build.
type Target struct {
	Kind    TargetKind
	Name    string
	Item    string
	Rotor   string
	HasFace bool
	Face    shapes.Face // when HasFace
	Text    string      // as written
	Pos     read.Pos
}

// ID returns the component ID of what is pointed at ("plates.base",
// "stacks.main.flight-board", "battery"), without its face.
func (t *Target) ID() string {
	join := func(s ...string) string {
		out := s[:0]
		for _, w := range s {
			if w != "" {
				out = append(out, w)
			}
		}
		return strings.Join(out, ".")
	}
	switch t.Kind {
	case TargetPlate:
		return join("plates", t.Name, t.Rotor)
	case TargetHole:
		return join("plates", t.Name, t.Item)
	case TargetPosts:
		return join("posts", t.Name)
	case TargetStack:
		return join("stacks", t.Name)
	case TargetBoard:
		return join("stacks", t.Name, t.Item)
	case TargetMount:
		return join("mounts", t.Name, t.Rotor)
	case TargetBattery:
		if t.Name == "" {
			return "battery"
		}
		return join("batteries", t.Name)
	case TargetCamera:
		return join("cameras", t.Name)
	case TargetAntenna:
		return join("antennas", t.Name)
	case TargetRotor:
		return join("rotors", t.Rotor, t.Item)
	case TargetArms:
		return "arms"
	case TargetMotors:
		return "motors"
	case TargetStrap:
		return "strap"
	case TargetWires:
		return "wires"
	}
	return ""
}
