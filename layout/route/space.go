// Package route finds the ways of wires through a craft: along the faces of plates, over and
// under boards, round plate edges and through openings, by the true shortest paths of geom.
//
// It knows no parts: a [Space] holds sheets (plates), solids (everything that stands between
// them) and forbidden bands (what props sweep). Lengths are in mm, heights along z.
package route

import (
	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// Sheet is a plate: wires lie on its faces, go round its edge and through its openings.
type Sheet struct {
	ID     string
	Plan   []geom.Region // with all holes
	Lo, Hi float64
	Holes  []Opening // those that a wire may go through
}

// Opening is a hole of a sheet that a wire may pass.
type Opening struct {
	Name  string
	Loop  geom.Loop // its rim
	Taken float64   // mm² that something else fills, such as a screw: then no wire passes
}

// Solid is an upright obstacle. Tilted bodies come as the upright body that encloses them.
type Solid struct {
	ID, Owner string // body and component
	Plan      []geom.Region
	Lo, Hi    float64
	Keep      float64 // mm that the outside of a wire stays away, in plan and in height
	Level     bool    // its top is a surface that wires may lie on (boards)
	Bare      bool    // a board as such, without its parts: no wire goes through it, not even from its own pads
	Forbidden bool    // swept by a prop: nothing may be in it, waypoints and ends included
}

// Space is what wires run through.
type Space struct {
	Sheets []Sheet // lowest first
	Solids []Solid
	Edge   float64 // mm that the outside of a wire stays within the edge of the sheet it lies on
}

// End is one end of a bundle.
type End struct {
	At    r2.Point
	Z     float64
	Dir   r2.Point // unit, in which it leaves; zero: upright
	Owner string   // component whose solids it may pass in leaving
	// Thick is how high the bundle is where it leaves, in mm: its wires lie side by side on their
	// pads. 0: as high as wide.
	Thick float64
}

// Stop is a place to pass.
type Stop struct {
	At      r2.Point
	Opening string // "SHEET.NAME" of an opening; "": At
}

// Bundle is what is to be routed as one body.
type Bundle struct {
	ID       string
	OD       float64 // mm
	Bend     float64 // mm, least inside radius
	Limit    float64 // mm; a way that is longer is not looked for: Blocked is then Enclosed, and tells nothing. 0: none
	From, To End
	Via      []Stop
}

// Kind says how a leg runs.
type Kind uint8

// Kinds of legs.
const (
	Leave Kind = iota // straight out of a pad or plug until free of its owner
	Along             // on a level
	Drop              // upright from level to level
	Edge              // round the edge of a sheet
	Hole              // through an opening
)

// Leg is a piece of a way. Legs follow each other without gaps.
type Leg struct {
	Kind    Kind
	Level   string    // of Along: "SHEET.top", "SHEET.bottom", "over OWNER"
	Path    geom.Path // in plan; empty for upright legs
	At      r2.Point  // upright legs
	Z0, Z1  float64   // heights of the middle of the bundle
	Length  float64
	Sheet   string  // Edge, Hole
	Opening string  // Hole
	Lane    float64 // mm to the left of the shortest way, beside others
	Tight   bool    // bends more tightly than asked, for want of room
	Stacked float64 // mm of it that lie on or under other bundles for want of room, plain crossings aside
}

// Way is a bundle's way. Blocked is nil when there is one.
type Way struct {
	Legs    []Leg
	Length  float64
	Blocked *Blocked
}

// Blocked says what stands in the way: the narrowest gap that would have to open.
type Blocked struct {
	At        [2]r2.Point
	Z         float64
	Gap, Need float64
	Of        [2]string // IDs of solids or sheets
	Level     string
	// Enclosed says that there is no gap to widen: one thing lies all round an end, or holds it.
	Enclosed bool
}
