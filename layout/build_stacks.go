package layout

import (
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// StackSpec is a stack as written.
type StackSpec struct {
	Name  string
	From  *Target // a plate's face: Top and it stands, Bottom and it hangs
	At    Point
	Turn  float64
	SideX *shapes.Dim // mm, sides of the pattern, never nil
	SideY *shapes.Dim // the same Dim as SideX for a square
	Screw string      // thread, "M3", never ""
	Items []*Item     // from the plate outwards, at least one
	// Bolts says what is special about its bolts; nil: nothing. BoltKind is "through",
	// "short" or "" for what suits the items, BoltFrom "below", "above" or "".
	Bolts              *ScrewSpec
	BoltKind, BoltFrom string
	Pos                read.Pos

	doubt bool // an item could not be read: there may be more than Items
}

// ItemKind says what an item of a stack is.
type ItemKind uint8

// Kinds of items.
const (
	ItemBoard ItemKind = iota
	ItemSpacer
	ItemNut
	ItemWasher
	ItemGap // nothing clamped: the next item starts so much further out
)

// Item is one level of a stack.
type Item struct {
	Kind ItemKind
	// Name is unique in the stack. Boards: as written with `as`, else the part's name.
	// Others: the kind's word and a number, "spacer-1", unless written.
	Name     string
	Part     *shapes.Part // the board; for spacers the standoff class, nil if none matches
	Material string       // spacers, nuts, washers: "nylon", "aluminium", "brass", "steel"
	Insert   bool         // nuts: of steel with a nylon insert, written `nut insert`
	Length   *shapes.Dim  // spacers, gaps: never nil; nuts, washers: nil = by the thread's size
	Turn     float64      // boards: degrees, further to the stack's turn
	Flip     bool         // boards: upside down
	Soft     *shapes.Part // boards: the grommet in its holes; nil: hard
	Pos      read.Pos
}

// Item returns the item with this name, nil if there is none.
func (s *StackSpec) Item(name string) *Item {
	for _, it := range s.Items {
		if it.Name == name {
			return it
		}
	}
	return nil
}
