package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A length as SVG writes it: a number and one of the units of CSS.
type length struct {
	v    float64
	unit string // "", "px", "mm", "cm", "in", "pt", "pc", "q", "%"
}

func parseLength(s string) (length, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	n, ok := numberLength(s)
	if !ok {
		return length{}, false
	}
	v, err := strconv.ParseFloat(s[:n], 64)
	unit := strings.TrimSpace(s[n:])
	switch unit {
	case "", "px", "mm", "cm", "in", "pt", "pc", "q", "%", "em", "ex", "rem":
	default:
		return length{}, false
	}
	return length{v, unit}, err == nil && finite(v)
}

// mm returns the length in mm; absolute is false for px and lengths relative to something.
func (l length) mm(dpi float64) (mm float64, absolute bool) {
	switch l.unit {
	case "mm":
		return l.v, true
	case "cm":
		return l.v * 10, true
	case "in":
		return l.v * 25.4, true
	case "pt":
		return l.v * 25.4 / 72, true
	case "pc":
		return l.v * 25.4 / 6, true
	case "q":
		return l.v / 4, true
	}
	return l.v * 25.4 / dpi, false
}

// user returns the length in user units: px for absolute units by CSS, a share of whole for
// percentages, 16 px for the em.
func (l length) user(whole, dpi float64) float64 {
	switch l.unit {
	case "%":
		return l.v / 100 * whole
	case "em", "rem":
		return l.v * 16
	case "ex":
		return l.v * 8
	}
	if mm, absolute := l.mm(dpi); absolute {
		return mm * dpi / 25.4
	}
	return l.v
}

// box is a viewBox.
type box struct{ x, y, w, h float64 }

func parseBox(s string) (box, bool) {
	sc := numberScanner{s: s}
	var v [4]float64
	for i := range v {
		var ok bool
		if v[i], ok = sc.number(); !ok {
			return box{}, false
		}
	}
	return box{v[0], v[1], v[2], v[3]}, v[2] > 0 && v[3] > 0
}

// setSVGUnit decides how many mm one outermost user unit is, by the builder's word, by the
// drawing's size against its viewBox, or by the resolution. It returns the size of the
// outermost box in user units, to which percentages refer, and how much longer a unit is down
// the page than across: not 1 only for a drawing that asks to be stretched over its size
// (preserveAspectRatio="none").
func (c *collector) setSVGUnit(root *element) (w, h, tall float64) {
	dpi := c.opt.DPI
	vb, boxed := parseBox(root.attr("viewBox"))
	width, okW := parseLength(root.attr("width"))
	height, okH := parseLength(root.attr("height"))
	w, h = vb.w, vb.h
	if !boxed {
		w, h = 300, 150 // what CSS gives a drawing without a size
		if okW {
			w = width.user(w, dpi)
		}
		if okH {
			h = height.user(h, dpi)
		}
	}
	mmW, absW := width.mm(dpi)
	mmH, absH := height.mm(dpi)
	absW, absH = absW && okW && mmW > 0, absH && okH && mmH > 0
	fit := fitOf(root.attr("preserveAspectRatio"))
	tall = 1
	px := func(l length, ok bool) bool { return ok && (l.unit == "" || l.unit == "px") && l.v > 0 }
	c.mmPerOne = 25.4 / dpi
	c.unit, c.unitFrom = fmt.Sprintf("px at %g dpi", dpi), "by CSS"
	if dpi != 96 {
		c.unitFrom = "as given"
	}
	switch {
	case c.opt.Unit != "":
		c.mmPerOne, _ = unitSize(c.opt.Unit, dpi)
		c.unit, c.unitFrom = c.opt.Unit, "as given"
	case boxed && (absW || absH):
		c.mmPerOne, tall = fit.scale(mmW/vb.w, absW, mmH/vb.h, absH)
		c.unit, c.unitFrom = "units of the viewBox", "by the drawing's size"
	case boxed && (px(width, okW) || px(height, okH)):
		var k float64
		k, tall = fit.scale(width.v/vb.w, px(width, okW), height.v/vb.h, px(height, okH))
		c.mmPerOne *= k
		c.guessDPI(width.v, height.v, okW && okH)
	case absW || absH:
		// A size but no viewBox: user units are px, whatever the size says.
		c.guessDPI(width.user(0, dpi), height.user(0, dpi), absW && absH)
	default:
		c.unitFrom = "assumed: the drawing has no size of its own"
		if !boxed {
			c.unitFrom = "by CSS"
		}
		c.guessDPI(w, h, true)
	}
	if !(c.mmPerOne > 0) || !finite(c.mmPerOne) {
		c.mmPerOne = 25.4 / dpi
	}
	if !(tall > 0) || !finite(tall) {
		tall = 1
	}
	return w, h, tall
}

// aspect says how a viewBox is fitted into a size of another form (preserveAspectRatio).
type aspect uint8

const (
	meet    aspect = iota // wholly inside, as by default
	slice                 // covering it
	stretch               // filling it, circles becoming ellipses
)

func fitOf(attr string) aspect {
	words := strings.Fields(attr)
	if len(words) > 0 && words[0] == "defer" {
		words = words[1:]
	}
	switch {
	case len(words) > 0 && words[0] == "none":
		return stretch
	case len(words) > 1 && words[1] == "slice":
		return slice
	}
	return meet
}

// scale returns the size of a unit across, and how much longer one is down the page, from
// what width and height ask for; one of them alone decides for both.
func (a aspect) scale(kx float64, okX bool, ky float64, okY bool) (k, tall float64) {
	switch {
	case !okY:
		return kx, 1
	case !okX:
		return ky, 1
	case a == stretch:
		return kx, ky / kx
	case a == slice:
		return max(kx, ky), 1
	}
	return min(kx, ky), 1
}

// guessDPI compares the page with the sheets that people draw on: at the resolution by
// which an older program wrote it, the page is a standard sheet.
func (c *collector) guessDPI(w, h float64, known bool) {
	if !known {
		return
	}
	lo, hi := min(w, h), max(w, h)
	sheets := []struct {
		name string
		a, b float64 // mm
	}{{"A4", 210, 297}, {"A3", 297, 420}, {"A5", 148, 210}, {"letter", 215.9, 279.4}}
	for _, dpi := range []float64{96, 90, 72} {
		for _, s := range sheets {
			if math.Abs(lo*25.4/dpi-s.a) < 0.3 && math.Abs(hi*25.4/dpi-s.b) < 0.3 {
				if dpi != c.opt.DPI {
					c.dpiHint = fmt.Sprintf("the page is an %s sheet at %g dpi, but the drawing is read at %g dpi; if its size comes out wrong by %.4g, give the resolution %g dpi",
						s.name, dpi, c.opt.DPI, c.opt.DPI/dpi, dpi)
				}
				return
			}
		}
	}
}
