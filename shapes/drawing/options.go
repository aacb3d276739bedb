package drawing

import (
	"fmt"
	"math"
	"strings"
)

// Options say what the builder knows about a file. The zero value is what to use for a
// file that one knows nothing about.
type Options struct {
	// Unit is that of the file's coordinates: mm, cm, m, in, ft, mil, pt or px. Empty: a DXF
	// file's header decides, or mm without one; an SVG file's size and the resolution decide.
	// For SVG it is the unit of the outermost coordinates, those of the viewBox.
	Unit string

	// Scale is a factor on top of the unit: 2 for a file drawn at half size. 0 counts as 1.
	Scale float64

	// DPI is the number of px in an inch for SVG files whose size has no unit: 96 by CSS, 90 or
	// 72 by older programs. 0 counts as 96.
	DPI float64

	// Layers names the layers to read (DXF: layers, SVG: the label or id of a group). Empty: all
	// that are visible, save one called "engraving". Upper and lower case count alike.
	Layers []string

	// EndTolerance is the distance up to which two ends are one, 0 for 0.001 mm. Larger values
	// close gaps but swallow details of that size. At most 1.
	EndTolerance float64

	// CurveTolerance is how far an arc may lie from the spline or ellipse that it replaces, 0
	// for 0.005 mm. From 1e-4 to 1.
	CurveTolerance float64
}

// The defaults and limits of a reading.
const (
	DefaultEndTolerance   = 1e-3 // mm
	DefaultCurveTolerance = 5e-3 // mm
	CircleTolerance       = 5e-3 // mm: a loop this near to a circle is one
	CrumbLength           = 0.05 // mm: lone pieces shorter than this are dropped
	ConcentricTolerance   = 0.05 // mm: circles whose centres are no further apart are concentric
	PatternTolerance      = 0.1  // mm: how far a hole may lie from its place in a named pattern
	MaxBytes              = 16 << 20
	MaxInsertDepth        = 16 // of blocks within blocks, of uses within uses
	MaxElementDepth       = 64 // of SVG elements within elements
)

// maxPieces bounds the lines, arcs and curves that a file of n bytes may expand to: an
// honest file needs five to a hundred bytes for each piece, save where it repeats blocks.
func maxPieces(n int) int { return 20_000 + n/4 }

// units gives the size in mm of each unit that a builder may name; px depends on the
// resolution.
func unitSize(unit string, dpi float64) (float64, bool) {
	switch strings.ToLower(strings.TrimSpace(unit)) {
	case "mm":
		return 1, true
	case "cm":
		return 10, true
	case "m":
		return 1000, true
	case "in", "inch", `"`:
		return 25.4, true
	case "ft":
		return 304.8, true
	case "mil", "thou":
		return 0.0254, true
	case "pt":
		return 25.4 / 72, true
	case "px":
		return 25.4 / dpi, true
	}
	return 0, false
}

// filled returns the options with defaults put in, or what is wrong with them.
func (o Options) filled() (Options, error) {
	set := func(v *float64, what string, def, lo, hi float64) error {
		if *v == 0 {
			*v = def
		}
		if !(*v >= lo && *v <= hi) { // also NaN
			return fault("", 0, fmt.Sprintf("%s of %g cannot be used", what, *v), fmt.Sprintf("a number from %g to %g", lo, hi), "")
		}
		return nil
	}
	if err := set(&o.Scale, "a scale", 1, 1e-6, 1e6); err != nil {
		return o, err
	}
	if err := set(&o.DPI, "a resolution", 96, 1, 1e5); err != nil {
		return o, err
	}
	if err := set(&o.EndTolerance, "an end tolerance", DefaultEndTolerance, 1e-6, 1); err != nil {
		return o, err
	}
	if err := set(&o.CurveTolerance, "a curve tolerance", DefaultCurveTolerance, 1e-4, 1); err != nil {
		return o, err
	}
	if o.Unit != "" {
		if _, ok := unitSize(o.Unit, o.DPI); !ok {
			return o, fault("", 0, fmt.Sprintf("%q is not a unit", o.Unit), "mm, cm, m, in, ft, mil, pt or px", "")
		}
	}
	return o, nil
}

// wants reports whether things on the layer are read.
func (o *Options) wants(layer string) bool {
	if len(o.Layers) == 0 {
		return !strings.EqualFold(layer, "engraving")
	}
	for _, l := range o.Layers {
		if strings.EqualFold(strings.TrimSpace(l), layer) {
			return true
		}
	}
	return false
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
