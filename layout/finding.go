package layout

import (
	"github.com/golang/geo/r3"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// Verdict is the answer to one question about the build. The zero value is not a
// verdict.
type Verdict uint8

// The four verdicts.
const (
	OK      Verdict = iota + 1 // holds even at worst case
	Tight                      // holds as drawn, but tolerances can eat it
	Fail                       // does not hold as drawn
	Unknown                    // a dimension that it needs is missing
)

// String returns the word that reports print.
func (v Verdict) String() string {
	switch v {
	case OK:
		return "ok"
	case Tight:
		return "tight"
	case Fail:
		return "fail"
	case Unknown:
		return "unknown"
	}
	return "none"
}

// Finding is one verdict with its grounds.
type Finding struct {
	Rule     string
	Verdict  Verdict
	Subjects []string // component IDs, the first is the one to change
	Unit     shapes.Unit

	// HasMeasure is false for verdicts on kinds rather than numbers (a left-hand thread on
	// the wrong motor); the numbers below then mean nothing.
	HasMeasure bool
	Measured   float64 // nominal
	Needed     float64
	AtMost     bool          // the measure must stay below Needed instead of above it
	Margin     float64       // nominal: measured − needed (needed − measured for AtMost)
	Worst      float64       // margin at worst case
	Chance     float64       // of not holding, 0..1
	Eaters     []Share       // what eats the margin, most first, three at most
	RestsOn    []*shapes.Dim // class-typical and assumed dimensions under it
	Missing    []*shapes.Dim // unknown: what to measure

	HasPlace bool
	A, B     r3.Vector // the two nearest points (or one, twice)
	Near     string    // words: "front left, under the roof"

	Message string // one sentence: what is measured against what
	Fix     string // one sentence: what to do
	Excuse  *Excuse
	Pos     read.Pos
}

// Status says how a rule's run ended. The zero value is NotRun.
type Status uint8

// Ends of a run.
const (
	NotRun  Status = iota
	Judged         // gave findings
	Nothing        // had nothing to judge: Reason says why
	Crashed        // a fault of ours: Reason holds it
)

// Outcome is what one rule said about one build.
type Outcome struct {
	Rule     string
	Group    string // the rule's group, "" if nobody said
	Status   Status
	Reason   string
	Findings []Finding
}
