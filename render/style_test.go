package render_test

import (
	"math"
	"strconv"
	"testing"

	"dryfit/layout"
	"dryfit/render"
)

// linear returns the linear-light channels of a colour (sRGB, IEC 61966-2-1).
func linear(t *testing.T, c render.Colour) [3]float64 {
	t.Helper()
	var out [3]float64
	for i := range out {
		v, err := strconv.ParseUint(string(c[1+2*i:3+2*i]), 16, 8)
		if err != nil {
			t.Fatalf("colour %q: %v", c, err)
		}
		f := float64(v) / 255
		if f <= 0.04045 {
			out[i] = f / 12.92
		} else {
			out[i] = math.Pow((f+0.055)/1.055, 2.4)
		}
	}
	return out
}

// luminance is the relative luminance of WCAG 2.1.
func luminance(c [3]float64) float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

func contrast(a, b float64) float64 {
	return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05)
}

var drawnVerdicts = []layout.Verdict{layout.Fail, layout.Tight, layout.Unknown}

func TestContrast(t *testing.T) {
	white := luminance(linear(t, render.Paperwhite))
	colours := []render.Colour{render.Ink, render.Soft}
	for _, v := range drawnVerdicts {
		colours = append(colours, render.StyleOf(v).Ink)
	}
	for _, c := range colours {
		if k := contrast(luminance(linear(t, c)), white); k < 4.5 {
			t.Errorf("%s on white has %.2f:1, want at least 4.5:1", c, k)
		}
	}
}

// Verdicts differ without colour: each has a mark shape and a line kind of its own.
func TestVerdictsDifferWithoutColour(t *testing.T) {
	for i, a := range drawnVerdicts {
		for _, b := range drawnVerdicts[i+1:] {
			sa, sb := render.StyleOf(a), render.StyleOf(b)
			if sa.Shape == sb.Shape {
				t.Errorf("%s and %s share a mark shape", a, b)
			}
			if render.StrokeOf(sa.Layer).Dash == render.StrokeOf(sb.Layer).Dash {
				t.Errorf("%s and %s share a line kind", a, b)
			}
		}
	}
}

// The verdict colours stay apart for dichromats. The simulation is that of Viénot, Brettel
// and Mollon (1999) in linear RGB for protanopes and deuteranopes, and a projection on
// luminance and red-green for tritanopes (blue replaced by green). Apart means a distance
// of 12 in CIE L*a*b* (2.3 is just noticeable).
func TestColoursForColourBlindReaders(t *testing.T) {
	views := map[string]func([3]float64) [3]float64{
		"normal": func(c [3]float64) [3]float64 { return c },
		"protan": func(c [3]float64) [3]float64 {
			y := 0.11238*c[0] + 0.88762*c[1]
			return [3]float64{y, y, 0.00401*c[0] - 0.00401*c[1] + c[2]}
		},
		"deutan": func(c [3]float64) [3]float64 {
			y := 0.29275*c[0] + 0.70725*c[1]
			return [3]float64{y, y, -0.02234*c[0] + 0.02234*c[1] + c[2]}
		},
		"tritan": func(c [3]float64) [3]float64 { return [3]float64{c[0], c[1], c[1]} },
	}
	for name, see := range views {
		for i, a := range drawnVerdicts {
			for _, b := range drawnVerdicts[i+1:] {
				la, lb := lab(see(linear(t, render.StyleOf(a).Ink))), lab(see(linear(t, render.StyleOf(b).Ink)))
				d := math.Sqrt((la[0]-lb[0])*(la[0]-lb[0]) + (la[1]-lb[1])*(la[1]-lb[1]) + (la[2]-lb[2])*(la[2]-lb[2]))
				if d < 12 {
					t.Errorf("%s sight: %s and %s are %.1f apart, want 12", name, a, b, d)
				}
			}
		}
	}
}

// lab converts linear sRGB to CIE L*a*b* under D65.
func lab(c [3]float64) [3]float64 {
	x := (0.4124*c[0] + 0.3576*c[1] + 0.1805*c[2]) / 0.9505
	y := 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	z := (0.0193*c[0] + 0.1192*c[1] + 0.9505*c[2]) / 1.089
	f := func(t float64) float64 {
		if t > 0.008856 {
			return math.Cbrt(t)
		}
		return 7.787*t + 16.0/116
	}
	return [3]float64{116*f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))}
}

// Thin lines print in grey: at least 0.25 mm wide and dark.
func TestLinesPrintInGrey(t *testing.T) {
	for l := render.Frame; l <= render.TightMark; l++ {
		s := render.StrokeOf(l)
		if s.Name == "" || s.Width < 0.25 {
			t.Errorf("layer %d: %+v", l, s)
			continue
		}
		if y := luminance(linear(t, s.Colour)); y > 0.18 {
			t.Errorf("%s lines have luminance %.2f, too light to print in grey", s.Name, y)
		}
	}
}
