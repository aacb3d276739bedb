package read

import (
	"strconv"
	"strings"
)

// Kind says what a node is.
type Kind uint8

// Kinds of node. An empty value ("key:" with nothing behind it, ~ or null) is Null.
const (
	Null Kind = iota
	Scalar
	List
	Map
)

// String names the kind as messages do.
func (k Kind) String() string {
	switch k {
	case Scalar:
		return "a single value"
	case List:
		return "a list"
	case Map:
		return "a map"
	default:
		return "nothing"
	}
}

// Entry is one key of a map and its value. A key taken over with << keeps the position
// where it is written.
type Entry struct {
	Key    string
	KeyPos Pos
	Value  *Node
}

// Node is one value of a loaded file. Aliases and merge keys are already resolved: each
// use of an anchor is a node of its own, with the position of the anchored text and the
// path of the use. A nil *Node reads as Null without a position.
type Node struct {
	kind    Kind
	text    string
	quoted  bool
	pos     Pos
	src     *source
	parent  *Node
	key     string // in a map
	index   int    // in a list, else -1
	items   []*Node
	entries []Entry
}

// Kind tells what the node is.
func (n *Node) Kind() Kind {
	if n == nil {
		return Null
	}
	return n.kind
}

// Pos is where the node's text begins.
func (n *Node) Pos() Pos {
	if n == nil {
		return Pos{}
	}
	return n.pos
}

// Raw is a scalar's text as written, without quotes; "" for every other kind.
func (n *Node) Raw() string {
	if n == nil {
		return ""
	}
	return n.text
}

// Quoted tells that a scalar is written in quotes or as a block of text.
func (n *Node) Quoted() bool { return n != nil && n.quoted }

// Items are a list's items in order; nil for every other kind.
func (n *Node) Items() []*Node {
	if n == nil {
		return nil
	}
	return n.items
}

// Entries are a map's entries in the order of the file, those taken over with << last;
// nil for every other kind.
func (n *Node) Entries() []Entry {
	if n == nil {
		return nil
	}
	return n.entries
}

// Get returns a map's value by key, nil when there is none.
func (n *Node) Get(key string) *Node {
	if n == nil {
		return nil
	}
	for i := range n.entries {
		if n.entries[i].Key == key {
			return n.entries[i].Value
		}
	}
	return nil
}

// Path names the node from the root down: "stacks.main.items[2]"; "" for the root.
func (n *Node) Path() string {
	if n == nil || n.parent == nil {
		return ""
	}
	var steps []*Node
	for at := n; at.parent != nil; at = at.parent {
		steps = append(steps, at)
	}
	var b strings.Builder
	for i := len(steps) - 1; i >= 0; i-- {
		s := steps[i]
		if s.index >= 0 {
			b.WriteString("[" + strconv.Itoa(s.index) + "]")
			continue
		}
		if b.Len() > 0 {
			b.WriteByte('.')
		}
		b.WriteString(shorten(s.key, 40))
	}
	return b.String()
}

// Describe says what the node holds, for messages: `"flight-bord"`, "a list", "nothing".
func (n *Node) Describe() string {
	if n.Kind() == Scalar {
		return Quote(n.text)
	}
	return n.Kind().String()
}

// Quote returns s in double quotes, shortened to about forty characters and with
// control characters escaped, so that hostile text cannot spoil a report.
func Quote(s string) string { return strconv.Quote(shorten(s, 40)) }

func shorten(s string, most int) string {
	count := 0
	for i := range s {
		if count == most {
			return s[:i] + "…"
		}
		count++
	}
	return s
}
