package layout

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// Kind says what a body is, so that rules can choose the ones they are about.
type Kind string

// Kinds of bodies.
const (
	PlateBody   Kind = "plate"
	PostBody    Kind = "post"     // between plates
	SpacerBody  Kind = "spacer"   // between boards of a stack
	FastenBody  Kind = "fastener" // head, nut or washer
	GrommetBody Kind = "grommet"
	PcbBody     Kind = "pcb"  // bare board
	ZoneBody    Kind = "zone" // what stands on (or hangs under) a board's face
	MotorBody   Kind = "motor"
	HubBody     Kind = "hub"     // prop hub, nut and stub
	PartBody    Kind = "part"    // mounted blocks and cans
	CushionBody Kind = "cushion" // foam, tape, tie or sleeve with its part
	PackBody    Kind = "pack"
	StrapBody   Kind = "strap"
	CameraBody  Kind = "camera"
	AntennaBody Kind = "antenna"
	LeadBody    Kind = "lead" // lead room at the end of a pack or single ESC
)

// Body is one solid thing in the body frame.
type Body struct {
	ID   string // unique: "stacks.main.flight-board.pcb"
	Of   string // the component it belongs to: "stacks.main.flight-board"
	Kind Kind
	Part *shapes.Part // nil for plates and drawn bodies

	// Upright bodies: a plan region and a height interval.
	Plan        []geom.Region
	Bottom, Top Form

	// Tilted bodies: the nominal convex solid; Plan, Bottom and Top then enclose it.
	Tilted *geom.Convex

	// Blur is what moves or widens the body in plan: each term's Dim is 0 ± radius (or a
	// size whose half enters with coefficient 0.5). Terms that two bodies share (the float
	// of the stack that both sit on) cancel when both ride on it.
	Blur Form
	// Rides lists the Dims of Blur that move the body as a whole; only these cancel.
	Rides []*shapes.Dim

	Soft     bool // gives way: wires, straps, foam, whips
	Conducts bool
	Hot      bool
	Live     bool        // at pack potential
	Face     shapes.Face // zones: which face of the board
	Swept    bool        // covers a range of motion (slide of a pack, tilt of a camera)
	Pos      read.Pos
}

// Component is what the file names: a plate, a board, a mounted part.
type Component struct {
	ID     string // "plates.base", "stacks.main.flight-board", "mounts.receiver"
	Label  string // short: "flight-board"
	Kind   string // "plate", "post", "board", "spacer", "motor", "prop", "part", "battery", "camera", "antenna", ...
	Part   *shapes.Part
	Pos    read.Pos
	Bodies []*Body
	Mass   Mass
	On     string // ID of the component that carries it, "" for the lowest plate
	OnFace shapes.Face
	Pose   geom.Pose2 // part frame to body frame in plan
	Flip   bool       // upside down: its top face looks down
	Base   Form       // height of the part's z = 0 plane (its top side when flipped)
	Count  int        // how many pieces stand behind it (posts of a set), at least 1
}

// Mass is a mass with its centre.
type Mass struct {
	Grams   Form    // of Dims in g
	X, Y, Z float64 // mm, nominal centre
	Guess   bool    // computed from volume and density, or a default
}

// Plate is a cut sheet.
type Plate struct {
	*Component
	Name                      string
	Material                  *shapes.Part
	Thickness                 *shapes.Dim
	Outline                   []geom.Region // finished outline with all holes, body frame
	Solid                     []geom.Region // outline without holes
	Holes                     []Hole
	Bottom, Top               Form
	ArmOf                     string // rotor name, for an arm plate placed at one rotor
	Grain                     Grain
	CutTol, HoleTol, PlaceTol *shapes.Dim
}

// Hole is a hole or slot in a plate.
type Hole struct {
	Name     string      // "base.stack[2]"
	For      string      // what it was made for: "stacks.main", "motors", "posts.front", "strap", ""
	Group    string      // holes of one entry share it
	At       r2.Point    // centre
	Diameter *shapes.Dim // round holes; for slots the width
	Length   float64     // slots: overall length, 0 for round holes
	Tab      *shapes.Dim // slots: thickness of the sheet whose tab goes in; nil without one
	TabOf    string      // name of the plate that this sheet is; "" if it is none of the build
	Turn     float64     // slots: degrees of the long axis
	Loop     geom.Loop   // body frame
	Sink     *Sink       // counterbore or countersink, nil: straight
	Press    bool        // a press nut sits in it
	Face     shapes.Face // on which the press nut's flange lies, when HasFace
	HasFace  bool
	Pos      read.Pos

	follows string // "motors", "stacks.main", ...: what its place comes from; "": the build says it
}

// Sink is what takes a screw's head into a plate.
type Sink struct {
	Diameter *shapes.Dim // mm at the face
	Depth    *shapes.Dim // mm, of a counterbore; nil for a countersink
	Angle    float64     // degrees, full angle of a countersink's cone; 0 for a counterbore
	Face     shapes.Face // when HasFace; else the side of the screws' heads
	HasFace  bool
	Assumed  bool // a drawing shows its circle and the build does not say what it is
}

// Rotor is a motor with its prop.
type Rotor struct {
	Name      string // "front-left"
	At        r2.Point
	Below     bool // motor hangs under the arm, prop below
	Clockwise bool // seen from above
	Motor     *Component
	Prop      *Component
	Arm       string   // ID of the plate component that carries it
	ArmDir    r2.Point // unit, from the craft's centre line of the arm outwards
	Clocking  float64  // degrees from the arm direction to the motor's first hole
	MountZ    Form     // height of the mounting face
	Seat      Form     // height of the prop's seating face
	// Disc: the band that the blades can reach, at rest and with flex. For motors above:
	// Lo = seat - below-hub, Hi = seat + hub thickness; mirrored below.
	Lo, Hi           Form // at rest
	SweptLo, SweptHi Form // with flex
	Radius           Form // half the real diameter
	Pos              read.Pos
	Hand             string // "" or what the build says of the prop fitted: "clockwise" / "counter-clockwise"
	Nut              string // "insert", "plain", "left-hand"; "" not said
	Coaxial          string // name of the rotor that shares its axis
	// Place is how far motor and prop may stand off At as a whole, 0 ± mm. Rotors on one
	// axis share it.
	Place *shapes.Dim
}

// Post is one standoff between plates.
type Post struct {
	ID           string // "posts.main[1]"
	Set          string
	At           r2.Point
	Part         *shapes.Part
	Length       *shapes.Dim
	Bottom, Top  Form
	Body         *Body
	Lower, Upper string // IDs of the plates that it joins, "" when free
	Pos          read.Pos
}

// Stack is a column of boards and spacers on one hole pattern.
type Stack struct {
	Name        string
	On          string // plate component ID
	OnFace      shapes.Face
	Down        bool // hangs
	Pose        geom.Pose2
	Pattern     *shapes.SquarePattern
	Screw       string // thread, "M3"
	Levels      []Level
	Bottom, Top Form // lowest face to the highest solid thing
	Float       *shapes.Dim
	Screws      []StackScrew
	Pos         read.Pos
}

// StackScrew is a corner of the pattern in the body frame.
type StackScrew struct{ At r2.Point }

// Level is one item of a stack, from the plate outwards.
type Level struct {
	Component *Component
	Item      *Item // what the build says of it
	Board     bool
	Turn      float64
	Flip      bool
	Grommet   *shapes.Part // soft mount of a board, nil if hard
	From, To  Form         // heights of its lower and upper clamped face
	Width     *shapes.Dim  // spacers and nuts: diameter or across corners
	FaceUp    Form         // boards: the face of the bare board that looks up, whichever that is
	FaceDown  Form         // boards: the face that looks down
}

// PortPlace is a port in the body frame.
type PortPlace struct {
	ID     string // "stacks.main.flight-board.usb"
	Owner  *Component
	Port   *shapes.Port
	Plug   *shapes.Part // what mates; nil for buttons, or when unknown
	Mouth  r2.Point
	Dir    r2.Point // unit in plan; zero for upward or downward ports
	Up     int      // +1 opens upward, -1 downward, 0 sideways
	Axis   Form     // height of the plug's axis (edge ports) or of the mouth
	Used   bool     // a plug sits in it in flight; else only on the bench
	Angled bool     // an angled plug is used
	Pos    read.Pos
}

// Pack is the battery in place.
type Pack struct {
	*Component
	Slide      float64     // mm it may creep each way along its length
	Limit      *shapes.Dim // A to which the firmware holds what it gives, nil: none
	Strap      *shapes.Part
	SlotHoles  []Hole // slots that the strap goes through
	StrapCount int
	Below      bool
	Body       *Body
	SweptBody  *Body    // over the slide
	LeadEnd    r2.Point // unit direction of the lead end, zero if not said
	Cushion    *shapes.Dim
}

// CameraPlace is a camera in place.
type CameraPlace struct {
	*Component
	Pivot          r2.Point
	PivotZ         Form
	Yaw            float64     // degrees
	TiltLo, TiltHi float64     // degrees, up positive
	Slot           *shapes.Dim // width between the cheeks, nil if not said
	Cam            *shapes.Camera
	Solids         []*geom.Convex // cover of the case and lens over the tilt range
	LensFront      Form           // x-reach of the lens front beyond the pivot over the tilt range, plan distance along Yaw
}

// AntennaPlace is an antenna in place.
type AntennaPlace struct {
	*Component
	Base, Tip [3]float64
	Ant       *shapes.Antenna
}

// Excuse is a pair that may touch, with its reason.
type Excuse struct {
	A, B string // component IDs or names
	Why  string
	Pos  read.Pos
	Used bool
}

// Cutting is what plates are cut with: a round cutter that goes round the outline, or a jet
// or beam as wide as the cut.
type Cutting struct {
	Cutter *shapes.Dim // mm, diameter of the cutter, never nil
	Kerf   *shapes.Dim // mm, width of the cut, never nil; the cutter itself when nothing else is said
	Given  bool        // the build says at least one of them
}

// Need is a clearance that the build asks for in place of a rule's default.
type Need struct {
	Rule string
	MM   *shapes.Dim
	Pos  read.Pos
}

// Assembly is a resolved build. Rules and drawings read it and never change it.
type Assembly struct {
	Name, About string
	File        string
	Builtin     bool         // the built-in example
	Bodies      []*Body      // sorted by ID
	Components  []*Component // in file order: plates, posts, stacks, rotors, mounts, ...
	Plates      []*Plate     // lowest first
	Rotors      []*Rotor
	RotorLayout string
	Wheelbase   *shapes.Dim
	Posts       []*Post
	Stacks      []*Stack
	Ports       []*PortPlace
	Packs       []*Pack
	Cameras     []*CameraPlace
	Antennas    []*AntennaPlace
	Mounts      []*Component
	Joints      []*Joint       // every screw: rotors, posts, stacks, further sets, cameras
	Fastenings  []*Fastening   // what equal joints share, in the order of the first joint of each
	Circuits    []*Circuit     // what is wired, in file order
	Sleeves     []*shapes.Part // heat-shrink of the library by name; nil when no wire has any
	Cutting     Cutting        // what plates are cut with
	MassLimit   *shapes.Dim    // g, nil if the build names none
	Extra       *shapes.Dim    // allowance for wire, solder, ties: g
	WireMass    Form           // g that the circuits add, those of their components
	Guard       []string       // component IDs whose hull nothing soft may leave
	GuardAll    bool
	Needs       map[string]Need
	Excuses     []*Excuse
	Notes       []string // what was assumed in placing, one line each

	supply func() *Supply // see Supply; nil: worked out each time
}
