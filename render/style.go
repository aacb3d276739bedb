package render

import "dryfit/layout"

// Layer says what a line means; it fixes the line kind.
type Layer uint8

// Layers, from the paper upwards.
const (
	Frame       Layer = iota // border of the sheet, outlines of the title block
	Ghost                    // what is drawn thin and grey for other things to stand out from
	Grid                     // lines inside tables
	Outline                  // visible edges
	Detail                   // visible edges of small things: parts on a board, screws, holes
	Hidden                   // edges behind something
	Centre                   // axes, pitch circles
	Sweep                    // extreme positions: swept discs, plug room, slide, camera view
	Section                  // hatching
	Dimension                // dimension and extension lines
	Leader                   // from a balloon or label to its thing
	Arrow                    // direction of turn, nose
	FailLine                 // findings
	TightLine                //
	UnknownLine              //
	TightMark                // solid outline of a mark
	layers
)

// Stroke is how the lines of a layer are drawn. Dash holds on and off lengths in mm.
type Stroke struct {
	Name   string
	Width  float64 // mm
	Dash   string
	Colour Colour
	Strong bool // no label may lie on it
}

// Colour is an sRGB colour as #rrggbb.
type Colour string

// The palette. The three verdict colours are darkened until each has more than 4.5:1 on
// white (WCAG 2.1 contrast); they differ in hue for people who see all colours, along the
// blue-yellow axis and in lightness for those who do not, and never carry a meaning
// alone: mark shape and line kind say the same.
const (
	Ink        Colour = "#000000"
	Soft       Colour = "#404040" // thin construction lines
	Faint      Colour = "#747474" // outlines that only show where things are
	Paperwhite Colour = "#ffffff"
	FailInk    Colour = "#a83200" // burnt red, dark
	TightInk   Colour = "#0067a8" // mid blue
	UnknownInk Colour = "#5b3a78" // dark violet
)

// Line widths of ISO 128 line group 0.5.
const (
	wide   = 0.5
	narrow = 0.25
)

// strokes is indexed by Layer. Dashes: ISO 128-2 gives 12 d for a dash, 3 d for a gap,
// 24 d for a long dash and 0.5 d for a dot, d being the line width. With d = 0.25 that is
// 3/0.75 and 6/0.75/0.125/0.75; the dot is lengthened to 0.5 so that it prints.
var strokes = [layers]Stroke{
	Frame:       {"frame", 0.7, "", Ink, true},
	Ghost:       {"ghost", narrow, "", Faint, false},
	Grid:        {"grid", narrow, "", Ink, true},
	Outline:     {"outline", wide, "", Ink, true},
	Detail:      {"detail", narrow, "", Ink, true},
	Hidden:      {"hidden", narrow, "2.4 0.75", Soft, false},
	Centre:      {"centre", narrow, "6 0.75 0.5 0.75", Soft, false},
	Sweep:       {"sweep", narrow, "6 0.75 0.5 0.75 0.5 0.75", Ink, false},
	Section:     {"section", narrow, "", Soft, false},
	Dimension:   {"dimension", narrow, "", Ink, true},
	Leader:      {"leader", narrow, "", Ink, true},
	Arrow:       {"arrow", 0.35, "", Ink, true},
	FailLine:    {"fail", wide, "", FailInk, true},
	TightLine:   {"tight", wide, "2.5 0.8", TightInk, true},
	UnknownLine: {"unknown", wide, "0.5 0.9", UnknownInk, true},
	TightMark:   {"tight mark", 0.35, "", TightInk, true},
}

// StrokeOf returns the line kind of a layer.
func StrokeOf(l Layer) Stroke {
	if l >= layers {
		return Stroke{}
	}
	return strokes[l]
}

// Lettering heights (of capitals) of ISO 3098 in mm.
const (
	small  = 2.5
	medium = 3.5
	large  = 5.0
)

// MarkShape is the outline of a finding's number.
type MarkShape uint8

// Shapes of marks. Balloons of the parts list are circles, so no mark is one.
const (
	Block   MarkShape = iota + 1 // filled square, number in white: fail
	Diamond                      // pointed to the left and right, solid line: tight
	Dotted                       // square with a dotted line, number with a question mark: unknown
)

// VerdictStyle is how findings of one verdict look.
type VerdictStyle struct {
	Shape MarkShape
	Layer Layer
	Ink   Colour
	Word  string
}

// StyleOf returns the look of a verdict; ok findings have none.
func StyleOf(v layout.Verdict) VerdictStyle {
	switch v {
	case layout.Fail:
		return VerdictStyle{Block, FailLine, FailInk, "fail"}
	case layout.Tight:
		return VerdictStyle{Diamond, TightLine, TightInk, "tight"}
	case layout.Unknown:
		return VerdictStyle{Dotted, UnknownLine, UnknownInk, "unknown"}
	}
	return VerdictStyle{Word: v.String()}
}
