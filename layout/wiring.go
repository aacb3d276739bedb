package layout

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// CircuitKind says what a circuit is for.
type CircuitKind string

// Kinds of circuits.
const (
	MotorCircuit  CircuitKind = "motor"   // the phases of one motor
	PackCircuit   CircuitKind = "pack"    // pack and ground at pack voltage, to the battery or a lead from it
	SupplyCircuit CircuitKind = "supply"  // a regulated rail and ground, nothing else
	HarnessKind   CircuitKind = "harness" // plugs at both ends
	SignalCircuit CircuitKind = "signal"  // any other set of soldered or plugged wires
	CoaxCircuit   CircuitKind = "coax"    // to an antenna
)

// Circuit is a set of wires that run together from one part to another: the phases of a
// motor, a supply pair, a harness.
type Circuit struct {
	ID    string // "wires.motor-front-left"
	Label string // short: "motor-front-left"
	Kind  CircuitKind
	From  *Component
	To    *Component
	Wires []*Wire // in the order of the pads at From
	Spec  *WireSpec

	// Mate is the pair of plugs within the run, between a lead that hangs on From and what is cut
	// for it: the pack's. Nil: none.
	Mate *shapes.Part
	// FromPlug and ToPlug are what the ends are plugged into; nil: soldered.
	FromPlug, ToPlug *PortPlace
	// Hung is the length of lead, in mm, that comes with From (the pack's own, a motor's leads as they are bought);
	// nil: none.
	Hung *shapes.Dim

	OD    *shapes.Dim // mm, round the whole bundle, never nil
	Bend  float64     // mm, least radius inside a bend
	Slack *shapes.Dim // mm, never nil
	Route *Route      // nil: it has not been routed; rules then say so
	Pos   read.Pos
}

// Wire is one conductor of a circuit.
type Wire struct {
	ID       string // of the circuit with the way: "wires.motor-front-left.1"
	Way      string // "phase 1", "ground", "telemetry"
	From, To *Terminal
	Role     shapes.Role  // what it carries: the role that gives rather than that which takes
	Gauge    *shapes.Part // of kind wire, never nil
	Chosen   bool         // the tool chose the gauge
	Return   bool         // the tool added it: the ground that goes with a supply
	Colour   string
	// Cut is the length to cut, in mm, strips at both ends and slack included; of a lead that comes with a part, what is
	// used of it. Valid when the circuit has a route.
	Cut            Form
	StripA, StripB float64 // mm bared at From and To, 0 in a plug
	Grams          Form
}

// Terminal is a pad, or one way of a plug, in the body frame.
type Terminal struct {
	ID              string // "stacks.main.esc-board.m1.2"
	Owner           *Component
	Name            string // of the pad or port: "m1"
	Way             string // within the row or plug: "2", "telemetry"; "" of a single pad
	Role            shapes.Role
	At              r2.Point // where the conductor ends
	Z               Form
	Dir             r2.Point // unit in plan, in which the wire leaves; zero: straight up or down
	Up              int      // +1 on a face that looks up, -1 on one that looks down, 0 sideways
	Pad             *shapes.Pad
	Pin             *shapes.Pin
	Port            *PortPlace // nil: soldered
	Size            float64    // mm across the pad, 0: not known
	shapes.Electric            // with the part's figures where the pad has none
	Pos             read.Pos

	// bed is the face that a lead lies on where it leaves its part, seen from side bedUp; 0: none.
	bed   Form
	bedUp float64
}

// Route is where a circuit runs.
type Route struct {
	Legs   []Leg
	Length float64 // mm along the middle of the bundle, from pad to pad
	Ties   []TiePlace
	Edges  []EdgePlace // plate edges and openings that it goes over or through
	// Blocked says why there is no way; Legs and Length are then empty.
	Blocked *Blocked
}

// LegKind says how a leg runs.
type LegKind string

// Kinds of legs.
const (
	LegLeave LegKind = "leave" // from a pad or plug until free of its part
	LegAlong LegKind = "along" // on a level surface
	LegDrop  LegKind = "drop"  // from one level to another, upright
	LegEdge  LegKind = "edge"  // round the edge of a plate
	LegHole  LegKind = "hole"  // through an opening of a plate
)

// Leg is a piece of a route. Legs follow each other without gaps.
type Leg struct {
	Kind    LegKind
	Level   string    // where it lies: "plates.base.top", "over stacks.main.esc-board", "plates.roof.bottom"
	Path    geom.Path // in plan; empty for upright legs
	At      r2.Point  // upright legs: where
	Z0, Z1  float64   // mm, heights of the middle of the bundle at its ends
	Length  float64   // mm
	Through string    // edges and holes: ID of the plate, name of the hole
	Lane    float64   // mm that it is drawn and lies to the left of the shortest way, beside others
	Flat    float64   // mm, how high the bundle is where its wires lie side by side, off their pads; 0: as thick as it is
}

// TiePlace is where a circuit is tied down.
type TiePlace struct {
	At    r2.Point
	Z     float64
	To    string  // what it is tied to: component ID
	Along float64 // mm from the start of the route
	Asked bool    // the build says so
	Opens bool    // of hook and loop: it holds a pack's own lead, which comes off with the pack
}

// EdgePlace is an edge that a circuit lies over.
type EdgePlace struct {
	Plate string // component ID
	Hole  string // name of the opening, "" for the outer edge
	At    r2.Point
	Sharp bool // carbon or glass, nothing said of a chamfer, sleeve or tape
	Along float64
}

// Blocked says why a circuit has no way.
type Blocked struct {
	At       [2]r2.Point // both sides of the gap
	Z        float64
	Gap      float64   // mm wide
	Need     float64   // mm
	Of       [2]string // IDs of what stands on either side, the same twice when one thing encloses an end
	Level    string
	Enclosed bool // one thing goes all the way round an end
}
