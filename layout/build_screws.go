package layout

import (
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// ScrewSpec is what a build says of the screws of a joint. All that it leaves out follows
// from what they clamp and go into.
type ScrewSpec struct {
	Length   *shapes.Dim // mm as sold; nil: the tool picks it
	Head     string      // "socket", "button", "countersunk", "pan"; "": the usual one
	Material string      // "steel", "titanium", "aluminium", "nylon"; "": steel
	Washer   bool        // under the head
	Pos      read.Pos
}

// BoltSpec is a set of screws through the plates at the holes of one entry.
type BoltSpec struct {
	Name    string
	Through *Target // TargetHole
	Thread  string  // "M3"; "": the largest that goes through the holes
	Screw   *ScrewSpec
	Above   bool   // the heads are on top
	Nut     string // "insert", "plain", "nylon", "press"
	Pos     read.Pos
}
