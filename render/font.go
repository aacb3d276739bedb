package render

import (
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"dryfit/render/report"
)

// metrics are the widths of the embedded face in units of the height of its capitals, so
// that a text of lettering height h is h × the sum wide.
type metrics struct {
	plain [0x180]float64 // the runes that nearly every text is made of
	face  *sfnt.Font
	cap   float64 // capital height in em
}

var loadMetrics = sync.OnceValue(func() *metrics {
	face, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		// The font is embedded and a test parses it: this cannot happen.
		panic("render: embedded font: " + err.Error())
	}
	m := &metrics{face: face, cap: 0.72}
	var buf sfnt.Buffer
	if fm, err := face.Metrics(&buf, fixed.I(1000), font.HintingNone); err == nil && fm.CapHeight > 0 {
		m.cap = float64(fm.CapHeight) / 64 / 1000
	}
	for r := range m.plain {
		m.plain[r] = m.lookUp(rune(r), &buf)
	}
	return m
})

// lookUp returns the advance of a rune in capital heights. A rune that the face lacks
// counts as one em, the widest that other faces draw it.
func (m *metrics) lookUp(r rune, buf *sfnt.Buffer) float64 {
	i, err := m.face.GlyphIndex(buf, r)
	if err != nil || i == 0 {
		return 1 / m.cap
	}
	adv, err := m.face.GlyphAdvance(buf, i, fixed.I(1000), font.HintingNone)
	if err != nil {
		return 1 / m.cap
	}
	return float64(adv) / 64 / 1000 / m.cap
}

// TextWidth returns the width in mm of a line of text whose capitals are height mm tall.
// The SVG names this width with each text, so what is measured is what is drawn, in
// whatever face the viewer has.
func TextWidth(s string, height float64) float64 {
	m := loadMetrics()
	var w float64
	var buf *sfnt.Buffer
	for _, r := range s {
		if r >= 0 && int(r) < len(m.plain) {
			w += m.plain[r]
			continue
		}
		if buf == nil {
			buf = new(sfnt.Buffer)
		}
		w += m.lookUp(r, buf)
	}
	return w * height
}

// emSize returns the font size whose capitals are height mm tall.
func emSize(height float64) float64 { return height / loadMetrics().cap }

// Fractions of the lettering height that ink reaches above the capitals (brackets,
// accents) and below the base line (descenders).
const (
	ascent  = 1.12
	descent = 0.32
)

// fit cuts s so that it is at most width mm wide, with … where it was cut.
func fit(s string, height, width float64) string {
	if TextWidth(s, height) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 {
		r = r[:len(r)-1]
		for len(r) > 0 && r[len(r)-1] == ' ' {
			r = r[:len(r)-1]
		}
		if t := string(r) + "…"; TextWidth(t, height) <= width {
			return t
		}
	}
	return ""
}

// wrap breaks s into lines of at most width mm, at most most lines; the last is cut if the
// text is longer. It breaks at blanks, but not between a number and its unit, and after the
// hyphens of a word that is wider than a line; one without hyphens is cut.
func wrap(s string, height, width float64, most int) []string {
	var out []string
	line := ""
	flush := func() {
		out = append(out, fit(line, height, width))
		line = ""
	}
	for _, word := range report.Words(s) {
		gap := " "
		for _, part := range atHyphens(word, height, width) {
			next := part
			if line != "" {
				next = line + gap + part
			}
			gap = ""
			if line != "" && TextWidth(next, height) > width {
				if len(out) == most-1 {
					line = next
					continue // the rest goes into the last line, which is cut
				}
				flush()
				next = part
			}
			line = next
		}
	}
	if line != "" {
		flush()
	}
	return out
}

// atHyphens splits a word that is wider than width after its hyphens.
func atHyphens(word string, height, width float64) []string {
	if TextWidth(word, height) <= width {
		return []string{word}
	}
	return strings.SplitAfter(word, "-")
}
