package render

import "dryfit/geom"

// Strand is a wire or bundle in a drawing: a run of lines and arcs as wide as the thing
// itself, in a colour of its own.
type Strand struct {
	Head
	V     []geom.Vertex
	Width float64 // mm on paper
	Ink   Colour
	Dash  string // on and off lengths in mm, "" for a solid line
	Butt  bool   // the ends are cut square; else they are round
}

// path is the strand's middle line.
func (s Strand) path() Path { return Path{Head: s.Head, V: s.V} }

// strandPaint is how SVG strokes a strand.
func strandPaint(s Strand) string {
	out := `stroke="` + string(s.Ink) + `" stroke-width="` + num(s.Width) + `"`
	if s.Dash != "" {
		out += ` stroke-dasharray="` + s.Dash + `"`
	}
	if s.Dash != "" || s.Butt {
		out += ` stroke-linecap="butt"`
	}
	return out
}
