// Package shapes holds the things that have dimensions: quantities, hole patterns,
// outlines, fasteners, connectors, motors, props, boards, and the catalogue of
// generic classes.
//
// A part's own frame has x along its length (forward for boards: the arrow), y to the
// left and z up. Its origin is the centre of its hole pattern or outline in plan, and
// the underside of the bare board (for boards) or of the block (for blocks) in height.
package shapes

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes/read"
)

// Kind says what a part is.
type Kind string

// The kinds of part. Each has the blocks of figures named behind it.
const (
	Controller   Kind = "controller"        // Body (board), Square, Ports, Pads
	EscFour      Kind = "esc-four-in-one"   // Body (board), Square, Ports, Pads
	AllInOne     Kind = "all-in-one"        // Body (board), Square, Ports, Pads
	PowerBoard   Kind = "power-board"       // Body (board), Square, Ports, Pads
	EscSingle    Kind = "esc"               // Body (block), Leads
	Regulator    Kind = "regulator"         // Body (block)
	Receiver     Kind = "receiver"          // Body (block)
	VideoTx      Kind = "video-transmitter" // Body (block or board), Square optional
	CameraKind   Kind = "camera"            // Camera
	AntennaKind  Kind = "antenna"           // Antenna
	GPS          Kind = "gps"               // Body (block or can)
	Buzzer       Kind = "buzzer"            // Body
	Capacitor    Kind = "capacitor"         // Body (can)
	Light        Kind = "light"             // Body (block)
	Payload      Kind = "payload"           // Body (block)
	Block        Kind = "block"             // Body: anything else with a size
	Battery      Kind = "battery"           // Body (block), Pack
	MotorKind    Kind = "motor"             // Motor
	PropKind     Kind = "prop"              // Prop
	Connector    Kind = "connector"         // Plug
	ThreadKind   Kind = "thread"            // Thread: heads, nuts, washers, holes of one size
	StandoffKind Kind = "standoff"          // Standoff
	GrommetKind  Kind = "grommet"           // Grommet
	StrapKind    Kind = "strap"             // Strap
	TieKind      Kind = "tie"               // Tie
	PadKind      Kind = "pad"               // Pad: foam, tape, hook-and-loop under a part
	SleeveKind   Kind = "sleeve"            // Sleeve: heat-shrink
	MaterialKind Kind = "material"          // Material: plate stock
	WireKind     Kind = "wire"              // Wire: by gauge
)

// Part is one part or class of part. Blocks that its kind does not use are nil.
type Part struct {
	Name   string
	Kind   Kind
	Title  string // one line for lists
	Like   string // the part it started from, "" if none
	Note   string
	Source Source // Given when defined in a build, Catalogue otherwise
	Pos    read.Pos

	Mass   *Dim   // g
	NoMass string // why the part has no mass of its own, "" when it has one
	Volts  *Span  // input range in V
	Amps   *Dim   // rated or drawn current in A, as the kind means it
	Draw   *Dim   // A that the part itself takes from its supply at most; nil: not said
	Clamp  *Dim   // V at which devices that shield the input begin to conduct; nil: none, or not said
	Rails  []Rail // regulated supplies that it makes, by voltage

	Capacitance *Dim // µF, of capacitors; nil: not said
	Compass     bool // a compass is in it
	Quiet       *Dim // mm that its signal and video leads must stay from leads with motor or pack current; nil: no need is stated

	Body     *Body
	Square   *SquarePattern
	Ports    []Port
	Pads     []Pad
	Motor    *Motor
	Prop     *Prop
	Camera   *Camera
	Antenna  *Antenna
	Pack     *Pack
	Plug     *Plug
	Thread   *Thread
	Standoff *Standoff
	Grommet  *Grommet
	Strap    *Strap
	Tie      *Tie
	Cushion  *Cushion
	Sleeve   *Sleeve
	Material *Material
	Wire     *Wire
}

// Span is a closed range of a quantity, such as an input voltage.
type Span struct{ Lo, Hi float64 }

// Face is a side of a plate, board or block. The zero value is Top.
type Face uint8

// Faces.
const (
	Top Face = iota
	Bottom
)

// BodyShape says how a body's figures are to be read.
type BodyShape uint8

// Shapes of bodies.
const (
	BoardBody BodyShape = iota // Length x Width (or Outline), Pcb, Above, Below, Zones
	BlockBody                  // Length x Width (or Outline) x Height
	CanBody                    // Diameter x Length, its axis along x when lying, z when standing
)

// Body is the room that a part takes.
type Body struct {
	Shape    BodyShape
	Length   *Dim       // along x, mm
	Width    *Dim       // along y, mm
	Diameter *Dim       // cans
	Height   *Dim       // blocks
	Corner   float64    // corner radius in plan, mm, 0 = sharp
	Outline  *geom.Loop // drawn outline in the part frame, in place of Length x Width
	Edge     *Dim       // how far the real edge may lie from the drawn one: 0 ± tol
	Pcb      *Dim       // boards: thickness of the bare board
	Above    *Dim       // boards: tallest thing over the top face, outside the zones
	Below    *Dim       // boards: deepest thing under the bottom face, outside the zones
	Zones    []Zone
}

// Zone is a part of a board's face with a height of its own. It replaces Above or
// Below there, be it higher or lower.
type Zone struct {
	Name   string
	Face   Face
	Area   geom.Loop // in the part frame
	Height *Dim      // from the board's face outwards
	Hot    bool      // needs air: the larger gap applies
	Live   bool      // pads at pack potential
	Pos    read.Pos
}

// SquarePattern is a board's mounting holes: centre distances along the SIDES of a
// rectangle. Files write it `square:`; a motor's pattern is a [BoltCircle].
type SquarePattern struct {
	X, Y  *Dim    // sides, mm; equal for a true square
	Hole  *Dim    // diameter in the board
	Place *Dim    // hole position: 0 ± tol
	Screw string  // thread, "M3"
	Clear *Dim    // diameter free of parts round each hole
	Turn  float64 // degrees, of the pattern against the outline
	Count int     // 4, or 3 where one corner is left out
	// Ring says what the copper round the holes is joined to: "isolated" nothing, "ground" the
	// pack's negative side, "pack" its positive side; "" nobody looked.
	Ring string
}

// BoltCircle is a motor's mounting holes: count holes on a CIRCLE of this diameter.
// Files write it `circle:`; a board's pattern is a [SquarePattern].
type BoltCircle struct {
	Diameter *Dim
	Across   *Dim // mixed patterns (16 x 19): diameter of the pair at right angles; nil: the same
	Count    int
	Turn     float64 // degrees from x to the first hole
	Screw    string
}

// Port is a socket, slot, button or switch that something must reach.
type Port struct {
	Name     string
	Plug     string   // name of the connector part that mates, "" for a button
	Button   bool     // pressed with a stick, not plugged
	Card     bool     // a memory card is pulled out
	Edge     string   // "front" (+x), "left" (+y), "back", "right"; "" when placed by At
	Along    float64  // edge ports: from the middle of the edge, towards +x (left, right) or +y (front, back)
	At       r2.Point // part frame: on the edge (edge ports: the mouth lies Overhang further out), else the mouth
	Facing   float64  // degrees in plan, direction in which a plug is pulled off (edge ports)
	Pins     []Pin    // the ways of the plug in order from the one marked 1; nil: nobody looked
	Upward   bool     // opens away from the face instead of over an edge
	Face     Face     // face of the board that it sits on
	Axis     *Dim     // boards: height of the plug's axis over that face; blocks and cans: over the underside, mm
	Overhang *Dim     // mouth beyond the board's edge; negative = set back
	Reach    bool     // must be reachable on the assembled craft
	Pos      read.Pos
}

// Pad is a place to solder to, or a row of equal ones: the three of a motor.
type Pad struct {
	Name  string
	At    r2.Point // middle of the row, part frame
	Face  Face
	Role  Role
	Ways  int     // pads in the row, at least 1
	Pitch float64 // mm from one pad of the row to the next
	Row   float64 // degrees in plan along which the row lies, first pad first
	// Facing is where a wire leaves it, degrees in plan; without HasFacing it leaves over the
	// nearest edge of the part.
	Facing    float64
	HasFacing bool
	Size      *Dim // mm across, of one pad; nil: nobody looked
	Electric
	Pos read.Pos
}

// Pin is one way of a plug.
type Pin struct {
	Name string // "ground", "telemetry", "m1"; what the same way of the other plug must be called
	Role Role
	Electric
}

// Role says what a pad or pin carries.
type Role string

// The roles of pads and pins. A supply gives what a feed takes.
const (
	PackRole    Role = "pack"       // at the pack's voltage
	GroundRole  Role = "ground"     // the return of everything
	MotorRole   Role = "motor"      // a phase of a motor
	SignalRole  Role = "signal"     // logic, either way
	VideoRole   Role = "video"      // analogue or digital picture
	AntennaRole Role = "antenna"    // coaxial
	FeedRole    Role = "feed"       // takes a supply within Electric.Takes
	Supply3Role Role = "supply-3.3" // gives 3.3 V
	Supply5Role Role = "supply-5"
	Supply9Role Role = "supply-9"
	Supply12    Role = "supply-12"
)

// Gives returns the voltage that a regulated rail of this role gives, 0 for all other roles.
func (r Role) Gives() float64 {
	switch r {
	case Supply3Role:
		return 3.3
	case Supply5Role:
		return 5
	case Supply9Role:
		return 9
	case Supply12:
		return 12
	}
	return 0
}

// Electric is what a pad or pin bears.
type Electric struct {
	Takes *Span // V that it bears; nil: the part's Volts for packs and feeds, else not said
	Draws *Dim  // A that the part takes there at most, of feeds; nil: the part's Draw
}

// Rail is a regulated supply that a part makes.
type Rail struct {
	Volts   float64 // V
	Amps    *Dim    // A, steady; never nil
	Dropout *Dim    // V that the input must lie above Volts; nil: it also raises the voltage
	Pos     read.Pos
}

// Motor is an outrunner by stator size. Heights count from the mounting face.
type Motor struct {
	Stator           string
	BellD            *Dim
	BodyH            *Dim         // mounting face to top of the bell: where the prop sits
	OverallH         *Dim         // with shaft or stub
	BellGap          *Dim         // free under the spinning bell
	BaseD            *Dim         // supported base disc
	Circles          []BoltCircle // the patterns that it may have, the usual one first
	ThreadUsable     *Dim         // depth that a screw may enter
	Penetration      *Dim         // depth that builders aim for
	BellThread       *Dim         // depth that a prop screw of a T-mount may enter the bell
	CentreHole       *Dim         // clearance that the arm needs under the shaft end
	Shaft            *Dim
	Mounts           []string // how props go on: "press-1.0", "t-1.5", "m5", ...
	Stub             *Dim     // nut-mounted types: length above the prop seat
	ThreadedPart     *Dim     // of the stub
	Shoulder         *Dim     // how far the bell falls away under the blade roots, below the prop seat; nil: not said
	LeftHand         bool     // the stub's thread is left-handed
	MaxCurrent       *Dim
	MaxThrust        *Dim // gf
	LeadLength       *Dim
	LeadGauge        float64
	CellsLo, CellsHi int
}

// Prop is a propeller class. Heights count from the hub's seating face, up.
type Prop struct {
	NominalD *Dim
	RealD    *Dim // what a calliper finds; tip gaps use this
	HubT     *Dim
	HubD     *Dim
	Bores    []float64 // mm
	Mounts   []string  // as in Motor
	FlexUp   *Dim
	FlexDown *Dim
	BelowHub *Dim // lowest point of the blade root under the seating face
	Blades   int
}

// Camera is a box between two side screws, with a lens in front.
// Its frame: x along the lens axis, origin on the side-screw axis.
type Camera struct {
	Width, Height *Dim
	Depth         *Dim // back of the case to front of the lens
	LensD         *Dim
	LensLength    *Dim // lens in front of the case, part of Depth
	PivotBack     *Dim // side-screw axis in front of the case's back
	Fov           *Dim // diagonal, deg
	SideScrew     string
	ScrewMax      *Dim // how far a side screw may enter
	SideScrews    bool // false: clipped, no slot between cheeks
}

// Antenna is a rod with an optional head, standing on its base.
type Antenna struct {
	Rod    *Dim // length of stem, without head
	RodD   *Dim
	Head   *Dim // length of the head, 0 for none
	HeadD  *Dim
	Active *Dim   // radiating length at the tip
	Span   *Dim   // T types: tip to tip, across the stem
	Soft   bool   // bends aside when touched
	Plug   string // the connector that it is plugged into, "" for a soldered one
}

// Pack is what a battery has beside its body.
type Pack struct {
	Cells      int
	Capacity   *Dim    // mAh
	CellFull   float64 // V
	Discharge  float64 // label C, 0 unknown
	Plug       string
	LeadRoom   *Dim // length to add at the lead end
	LeadLength *Dim
	Swell      *Dim // height to keep for swelling
	LeadGauge  float64
}

// Plug is the room that a mated connector takes beyond the socket's face.
type Plug struct {
	Family      string
	Ways        int
	Width       *Dim    // across, in the board's plane
	Height      *Dim    // across, along the board's normal
	Beyond      *Dim    // straight out from the socket's face, strain relief included
	Angled      *Dim    // the same with an angled plug; nil if none is sold
	Bend        *Dim    // soft lead beyond the housing until it has turned
	Hand        *Dim    // free beside the pair for fingers; nil for none
	Rated, Peak float64 // A
	MassPair    *Dim
}

// Thread is one screw size with its heads, nuts and washers (maxima of the standard).
type Thread struct {
	Size                        string
	Major, Pitch, TapDrill      float64
	Heads                       []Head
	NutAF, NutCorner, NutH      float64
	LockNutH                    *Dim
	WasherID, WasherOD, WasherT float64
	HoleFine, HoleMedium        float64
	PlateHole                   *Dim      // carbon-frame practice
	Lengths                     []float64 // sold
	KitLengths                  []float64 // that come with motors and props only
}

// Head is one head form of a thread size.
type Head struct {
	Form     string // "socket", "button", "countersunk", "pan"
	D, H     float64
	Key      string
	Standard string
	Conf     string // S, C, K or K-
}

// Standoff is a post or spacer class.
type Standoff struct {
	Thread      string
	Material    string // "aluminium", "brass", "nylon", "steel"
	OD          *Dim   // round: diameter; hex: across flats
	Hex         bool
	Corner      *Dim // hex: across corners
	Lengths     []float64
	LengthTol   *Dim // 0 ± tol
	Stud        *Dim // male end, nil for female both ends
	ThreadDepth *Dim
	Through     float64 // posts up to this length are tapped right through, 0: none
	MassPerMM   float64
	Conducts    bool
}

// Grommet is a soft mount that sits in a board's hole.
type Grommet struct {
	BoardHole, Groove, OD, Bore *Dim
	Free, Tight                 *Dim // height before and after tightening
	Below, Above                *Dim // stepped types: share on each face; nil: (Tight - pcb)/2 each
}

// Strap holds a pack.
type Strap struct {
	Width, Thickness *Dim
	BuckleT, BuckleW *Dim
	Lengths          []float64
}

// Tie is a cable tie.
type Tie struct {
	Width, Thickness    *Dim
	HeadL, HeadW, HeadH *Dim
	Lengths             []float64
}

// Cushion is foam, tape or hook-and-loop under a part.
type Cushion struct {
	Free  *Dim // thickness as sold
	Tight *Dim // under a mounted part
}

// Sleeve is heat-shrink tubing.
type Sleeve struct{ Supplied, Recovered, Wall *Dim }

// Material is plate stock.
type Material struct {
	Density                   *Dim // g/cm³
	Conducts                  bool
	Printed                   bool      // made layer by layer: no sheet, no cutter
	Thicknesses               []float64 // mm, sold as sheet
	CutTol, HoleTol, PlaceTol *Dim      // of routed edges, hole diameters, hole positions: 0 ± tol
}

// Wire is stranded silicone wire by gauge, or coaxial cable.
type Wire struct {
	Gauge    float64 // AWG, 0 for coax
	OD       *Dim
	MassPerM *Dim
	OhmPerKm float64
	Amps     *Dim // in free air, steady
	Burst    *Dim // for a few seconds on short leads
	MinBend  *Dim
	Coax     bool
}
