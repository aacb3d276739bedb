package read

import (
	"fmt"
	"sort"
	"strings"
)

// Severity says how bad a diagnostic is. The zero value is Error.
type Severity uint8

// Severities: an Error makes the input unusable, a Warning does not.
const (
	Error Severity = iota
	Warning
)

// Related is a second place that a diagnostic speaks of.
type Related struct {
	Pos  Pos
	Text string
}

// Diag is one mistake in a file.
type Diag struct {
	Severity Severity
	Pos      Pos
	Path     string // "stacks.main.items[2]", "" when the file as a whole is meant
	Message  string // what is wrong
	Want     string // what was expected there
	Hint     string // what to do
	Line     string // text of the line that Pos is on
	Related  []Related
}

// String prints the diagnostic as people read it:
//
//	shore.yaml:12:14: stacks.main.items[2]: "flight-bord" is not a part
//	    12 |   items: [flight-bord]
//	       |           ^
//	  expected: the name of a board, from `parts:` here or from the catalogue
//	  did you mean flight-board?
func (d Diag) String() string {
	var b strings.Builder
	if at := d.Pos.String(); at != "" {
		b.WriteString(at + ": ")
	}
	if d.Severity == Warning {
		b.WriteString("warning: ")
	}
	if d.Path != "" {
		b.WriteString(d.Path + ": ")
	}
	b.WriteString(d.Message)
	if d.Line != "" && !d.Pos.IsZero() {
		text, caret := window(d.Line, d.Pos.Col)
		number := fmt.Sprintf("%6d", d.Pos.Line)
		fmt.Fprintf(&b, "\n%s | %s", number, text)
		fmt.Fprintf(&b, "\n%s | %s^", strings.Repeat(" ", len(number)), strings.Repeat(" ", caret))
	}
	if d.Want != "" {
		b.WriteString("\n  expected: " + d.Want)
	}
	if d.Hint != "" {
		b.WriteString("\n  " + d.Hint)
	}
	for _, r := range d.Related {
		b.WriteString("\n  " + r.Pos.String() + ": " + r.Text)
	}
	return b.String()
}

// window cuts a long line down to about a hundred characters round column col and
// returns the cut with the caret's offset in it. Tabs and control characters become
// blanks so that the caret stays under its character.
func window(line string, col int) (string, int) {
	const most, before = 100, 60
	r := []rune(line)
	for i, c := range r {
		if c < ' ' || c == 0x7f {
			r[i] = ' '
		}
	}
	at := max(col-1, 0)
	at = min(at, len(r))
	from := 0
	if len(r) > most && at > before {
		from = at - before
	}
	to := min(len(r), from+most)
	text := string(r[from:to])
	caret := at - from
	if from > 0 {
		text = "…" + text
		caret++
	}
	if to < len(r) {
		text += "…"
	}
	return strings.TrimRight(text, " "), caret
}

// maxDiags bounds what one run collects; the rest is only counted.
const maxDiags = 500

// Diags collects mistakes. The zero value is ready for use. The same mistake at the same
// place is kept once.
type Diags struct {
	list    []Diag
	seen    map[string]bool
	dropped int
	errors  int
}

// Add keeps d unless it is already there.
func (ds *Diags) Add(d Diag) {
	if d.Severity == Error {
		ds.errors++ // also when it is kept already: a step that meets it again has failed
	}
	id := fmt.Sprintf("%s|%d|%s", d.Pos, d.Severity, d.Message)
	if ds.seen[id] {
		return
	}
	if ds.seen == nil {
		ds.seen = map[string]bool{}
	}
	if len(ds.list) >= maxDiags {
		ds.dropped++
		return
	}
	ds.seen[id] = true
	ds.list = append(ds.list, d)
}

// At adds an error at a node: the message, what was expected and what to do (either may
// be "").
func (ds *Diags) At(n *Node, message, want, hint string) {
	ds.Add(diagAt(n, Error, message, want, hint))
}

// Errorf adds an error at a node with a formatted message.
func (ds *Diags) Errorf(n *Node, format string, args ...any) {
	ds.At(n, fmt.Sprintf(format, args...), "", "")
}

// WarnAt adds a warning at a node.
func (ds *Diags) WarnAt(n *Node, message, want, hint string) {
	ds.Add(diagAt(n, Warning, message, want, hint))
}

// AtKey adds an error at the key of one of a map's entries.
func (ds *Diags) AtKey(n *Node, e Entry, message, want, hint string) {
	d := diagAt(n, Error, message, want, hint)
	d.Pos = e.KeyPos
	if e.Value != nil {
		d.Path = e.Value.Path()
		d.Line = e.Value.src.line(e.KeyPos.Line)
	}
	ds.Add(d)
}

// AtRelated adds an error at a node that also points at other places.
func (ds *Diags) AtRelated(n *Node, message, want, hint string, related ...Related) {
	d := diagAt(n, Error, message, want, hint)
	d.Related = related
	ds.Add(d)
}

func diagAt(n *Node, s Severity, message, want, hint string) Diag {
	d := Diag{Severity: s, Pos: n.Pos(), Path: n.Path(), Message: message, Want: want, Hint: hint}
	if n != nil {
		d.Line = n.src.line(n.pos.Line)
	}
	return d
}

// Len is the number of diagnostics kept.
func (ds *Diags) Len() int {
	if ds == nil {
		return 0
	}
	return len(ds.list)
}

// HasErrors tells whether at least one error was added.
func (ds *Diags) HasErrors() bool { return ds != nil && ds.errors > 0 }

// Count is the number of errors added so far, those met twice (through an alias) included;
// it tells whether a step added any.
func (ds *Diags) Count() int {
	if ds == nil {
		return 0
	}
	return ds.errors
}

// Sorted returns the diagnostics by file, line, column and message.
func (ds *Diags) Sorted() []Diag {
	if ds == nil {
		return nil
	}
	out := append([]Diag(nil), ds.list...)
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		switch {
		case a.Pos.File != b.Pos.File:
			return a.Pos.File < b.Pos.File
		case a.Pos.Line != b.Pos.Line:
			return a.Pos.Line < b.Pos.Line
		case a.Pos.Col != b.Pos.Col:
			return a.Pos.Col < b.Pos.Col
		default:
			return a.Message < b.Message
		}
	})
	return out
}

// Merge takes over the diagnostics of another collection.
func (ds *Diags) Merge(other *Diags) {
	if other == nil {
		return
	}
	for _, d := range other.list {
		ds.Add(d)
	}
	ds.dropped += other.dropped
}

// String prints all diagnostics in order, one after the other.
func (ds *Diags) String() string {
	var b strings.Builder
	for i, d := range ds.Sorted() {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(d.String())
	}
	if ds != nil && ds.dropped > 0 {
		fmt.Fprintf(&b, "\nand %d more", ds.dropped)
	}
	return b.String()
}

// Err returns nil when there is no error (warnings do not count), else an error that is
// a *Problems.
func (ds *Diags) Err() error {
	if !ds.HasErrors() {
		return nil
	}
	return &Problems{ds}
}

// Problems is the error form of a collection.
type Problems struct{ Diags *Diags }

// Error prints every diagnostic.
func (p *Problems) Error() string { return p.Diags.String() }
