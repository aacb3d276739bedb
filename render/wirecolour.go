package render

import (
	"math"
	"strconv"

	"dryfit/layout"
	"dryfit/shapes"
)

// core is how a colour of insulation is drawn: the word and the letters of IEC 60757, which
// stand beside the line for those who print in grey or see colours otherwise.
type core struct {
	word, code string
	ink        Colour
}

// cores are the colours of IEC 60757 in the order of the standard, darkened where they can
// be without another colour coming out of it.
var cores = [...]core{
	{"black", "BK", "#000000"},
	{"brown", "BN", "#7a4a1e"},
	{"red", "RD", "#c3141b"},
	{"orange", "OG", "#e07b00"},
	{"yellow", "YE", "#f5d100"},
	{"green", "GN", "#1d7f32"},
	{"blue", "BU", "#1750a8"},
	{"violet", "VT", "#7a3c9c"},
	{"grey", "GY", "#6f6f6f"},
	{"white", "WH", "#ffffff"},
	{"pink", "PK", "#ee9fb8"},
	{"turquoise", "TQ", "#35b5b0"},
}

// coreOf returns how a colour of insulation is drawn. A word that the standard does not
// have is drawn grey under its first letters.
func coreOf(word string) core {
	for _, c := range cores {
		if c.word == word {
			return c
		}
	}
	code := "–"
	if r := []rune(word); len(r) > 0 {
		code = string(r[:min(3, len(r))])
	}
	return core{word, code, "#6f6f6f"}
}

// pale reports whether a colour has less than 4.5:1 on white paper (WCAG 2.1), so that its
// line needs an edge.
func pale(c Colour) bool { return 1.05/(luminance(c)+0.05) < 4.5 }

// luminance is the relative luminance of an sRGB colour (WCAG 2.1).
func luminance(c Colour) float64 {
	if len(c) != 7 {
		return 0
	}
	sum := 0.0
	for i, weight := range [3]float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(string(c[1+2*i:3+2*i]), 16, 8)
		if err != nil {
			return 0
		}
		v := float64(n) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}

// runStyle is how a circuit is drawn in plan: a tint between two dark edges, with a middle
// line whose kind tells the use where colours do not.
type runStyle struct {
	word string
	ink  Colour // of the middle line
	tint Colour // of the body
	dash string // of the middle line
}

// runStyles are the looks by kind of circuit, in the order of the legend.
var runStyles = [...]struct {
	kind  layout.CircuitKind
	style runStyle
}{
	{layout.PackCircuit, runStyle{"pack", "#b01116", "#f3c4bd", ""}},
	{layout.SupplyCircuit, runStyle{"supply", "#a65300", "#ffe0b0", "3 0.8"}},
	{layout.MotorCircuit, runStyle{"motor", "#1750a8", "#cfe0f7", "6 0.8 0.6 0.8"}},
	{layout.SignalCircuit, runStyle{"signal", "#1d7f32", "#d3edd2", "1.2 0.8"}},
	{layout.HarnessKind, runStyle{"harness", "#6b2f8d", "#e9d8f3", "4 0.7 0.6 0.7 0.6 0.7"}},
	{layout.CoaxCircuit, runStyle{"coaxial", "#3c3c3c", "#e4e4e4", "0.3 0.7"}},
}

func runStyleOf(k layout.CircuitKind) runStyle {
	for _, s := range runStyles {
		if s.kind == k {
			return s.style
		}
	}
	return runStyle{string(k), "#3c3c3c", "#e4e4e4", ""}
}

// load is how a wire is drawn in the schematic by what it carries: width and line kind.
type load struct {
	width float64
	dash  string
}

// loadOf tells pack from ground from supply from signal without colours.
func loadOf(r shapes.Role) load {
	switch r {
	case shapes.PackRole:
		return load{0.9, ""}
	case shapes.GroundRole:
		return load{0.7, "5 0.9"}
	case shapes.MotorRole:
		return load{0.6, ""}
	case shapes.VideoRole:
		return load{0.35, "3 0.7 0.5 0.7"}
	case shapes.AntennaRole:
		return load{0.6, "0.6 0.6"}
	case shapes.SignalRole, "":
		return load{0.35, ""}
	}
	return load{0.6, "8 0.7 1 0.7"} // supplies and what they feed
}
