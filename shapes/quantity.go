package shapes

import "dryfit/shapes/read"

// Source says where a number comes from. The zero value is Given.
type Source uint8

// The three sources, from the most to the least trusted.
const (
	Given     Source = iota // written in the build
	Catalogue               // class-typical figure of the catalogue
	Assumed                 // the tool's own default
)

// String returns the word that reports print.
func (s Source) String() string {
	switch s {
	case Given:
		return "given"
	case Catalogue:
		return "catalogue"
	default:
		return "assumed"
	}
}

// Unit is the base unit of a quantity.
type Unit string

// Base units. A bare number in a file is in the base unit of its field.
const (
	MM     Unit = "mm"
	Gram   Unit = "g"
	Volt   Unit = "V"
	Amp    Unit = "A"
	MAh    Unit = "mAh"
	Deg    Unit = "deg"
	AWG    Unit = "AWG"
	MM2    Unit = "mm²"
	Ratio  Unit = "%"  // a share, 0..100 in files and messages
	Newton Unit = "N"  // force
	Gf     Unit = "gf" // thrust, gram-force as the trade quotes it

	GramPerCM3 Unit = "g/cm³" // density of plate stock
	MicroFarad Unit = "µF"    // capacitance
	Microtesla Unit = "µT"    // magnetic flux density
)

// Dim is one dimension: a number, its tolerance and its story. Its identity is its
// address: two heights that both rest on one Dim move together, so it cancels in
// their difference.
type Dim struct {
	Name        string  // what a report calls it: "flight-board above"
	Value       float64 // nominal, in Unit
	Plus, Minus float64 // both >= 0: the extremes are Value+Plus and Value-Minus
	Unit        Unit
	Source      Source // of the value
	TolSource   Source // of the tolerance
	HasTol      bool   // the file states a tolerance or range; else Plus and Minus are filled from defaults
	Range       bool   // the tolerance is what a buyer meets across makers, not one part's
	Conf        string // catalogue figures: S, C, K or K- (how well the figure is known)
	Kind        string // catalogue figures: kind of source ("open_hw", "tutorial", ...)
	Missing     bool   // nobody gave it: verdicts that need it are unknown
	Pos         read.Pos
}
