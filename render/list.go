package render

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Head is what every item of a display list has. Items with one ID belong together: a
// label never counts as covering lines of its own ID.
type Head struct {
	Layer Layer
	ID    string // "dim.wheelbase", "plates.base"
	Group string // part or block that it is drawn with: one SVG group each
}

func (h Head) head() Head { return h }

// Item is one entry of a display list: one of the types of this file.
type Item interface{ head() Head }

// Fill is what an area is filled with, "" for nothing.
type Fill = Colour

// Line is a straight line.
type Line struct {
	Head
	A, B r2.Point
}

// Arc is a circular arc; Bulge as in [geom.Seg], in sheet coordinates.
type Arc struct {
	Head
	A, B  r2.Point
	Bulge float64
}

// Path is a chain of lines and arcs; Bulge of a vertex belongs to the piece after it.
type Path struct {
	Head
	V      []geom.Vertex
	Closed bool
	Fill   Fill
	Bare   bool // no line round the fill
}

// Circle is a full circle.
type Circle struct {
	Head
	C    r2.Point
	R    float64
	Fill Fill
}

// Align says which point of a text At is.
type Align uint8

// Alignments along the base line.
const (
	Left Align = iota
	Middle
	Right
)

// Text is one line of lettering. At is on the base line. Upright text reads from the
// right-hand side of the sheet (turned a quarter counter-clockwise).
type Text struct {
	Head
	At      r2.Point
	Size    float64 // height of capitals, mm
	S       string
	Align   Align
	Quarter bool
	Ink     Colour // "" is black
}

// Dim is a dimension: extension lines from the points A and B to the dimension line P-Q,
// arrowheads at its ends and the text above its middle, or at TextAt when that is given.
type Dim struct {
	Head
	A, B    r2.Point
	P, Q    r2.Point
	S       string
	Outside bool     // arrowheads point inwards from outside: the room between is too small
	TextAt  r2.Point // middle of the text's base line, with Moved
	Moved   bool
	Quarter bool
	Bare    bool    // no extension lines
	Tail    float64 // mm that the dimension line runs on beyond Q, under a moved text
}

// Hatch fills loops with parallel thin lines, even-odd.
type Hatch struct {
	Head
	Loops [][]geom.Vertex
	Angle float64 // degrees, in sheet coordinates
	Pitch float64 // mm
}

// Mark is the number of a finding in the shape of its verdict.
type Mark struct {
	Head
	At      r2.Point // centre
	No      int
	Verdict layout.Verdict
}

// Balloon is the number of a row of the parts list in a circle, with a leader to a dot
// on the part. Without leader Dot equals At.
type Balloon struct {
	Head
	At, Dot r2.Point
	No      int
}

// List is a drawing: plain values in sheet millimetres, y down.
type List struct {
	W, H  float64 // paper
	Items []Item
}

func (l *List) add(items ...Item) { l.Items = append(l.Items, items...) }

// Dump prints the list, one line an item, for tests and for people who look for an error.
func (l *List) Dump() string {
	var b strings.Builder
	fmt.Fprintf(&b, "sheet %s x %s\n", num(l.W), num(l.H))
	for _, it := range l.Items {
		h := it.head()
		fmt.Fprintf(&b, "%s %s ", StrokeOf(h.Layer).Name, orDash(h.ID))
		switch v := it.(type) {
		case Line:
			fmt.Fprintf(&b, "line %s %s", pt(v.A), pt(v.B))
		case Arc:
			fmt.Fprintf(&b, "arc %s %s %s", pt(v.A), pt(v.B), num(v.Bulge))
		case Path:
			b.WriteString("path")
			for _, w := range v.V {
				b.WriteString(" " + pt(w.P))
				if w.Bulge != 0 {
					b.WriteString("~" + num(w.Bulge))
				}
			}
			if v.Closed {
				b.WriteString(" closed")
			}
		case Strand:
			b.WriteString("strand")
			for _, w := range v.V {
				b.WriteString(" " + pt(w.P))
				if w.Bulge != 0 {
					b.WriteString("~" + num(w.Bulge))
				}
			}
			fmt.Fprintf(&b, " wide %s %s", num(v.Width), v.Ink)
		case Circle:
			fmt.Fprintf(&b, "circle %s r %s", pt(v.C), num(v.R))
		case Text:
			fmt.Fprintf(&b, "text %s %s %q", pt(v.At), num(v.Size), v.S)
		case Dim:
			fmt.Fprintf(&b, "dim %s %s %q", pt(v.P), pt(v.Q), v.S)
		case Hatch:
			fmt.Fprintf(&b, "hatch %d loops at %s", len(v.Loops), num(v.Angle))
		case Mark:
			fmt.Fprintf(&b, "mark %s %d %s", pt(v.At), v.No, v.Verdict)
		case Balloon:
			fmt.Fprintf(&b, "balloon %s %d on %s", pt(v.At), v.No, pt(v.Dot))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

func pt(p r2.Point) string { return num(p.X) + "," + num(p.Y) }

// num prints a number with at most three decimals, without trailing zeros and without
// a negative zero.
func num(v float64) string { return string(appendNum(nil, v)) }

func appendNum(b []byte, v float64) []byte {
	at := len(b)
	b = strconv.AppendFloat(b, v, 'f', 3, 64)
	return trimNum(b, at)
}

// trimNum cuts trailing zeros off the decimal number that starts at b[at:].
func trimNum(b []byte, at int) []byte {
	dot := -1
	for i := at; i < len(b); i++ {
		if b[i] == '.' {
			dot = i
		}
	}
	if dot >= 0 {
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
		if b[len(b)-1] == '.' {
			b = b[:len(b)-1]
		}
	}
	if string(b[at:]) == "-0" {
		b = append(b[:at], '0')
	}
	return b
}
