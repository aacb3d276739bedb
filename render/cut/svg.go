package cut

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"dryfit/geom"
)

// svgAir is the margin round the drawing in mm.
const svgAir = 5.0

// SVG prints the drawing as SVG 1.1 in millimetres at true size: one group a layer, with
// the layer's name as id, nothing filled, lines a tenth of a millimetre wide. The middle of
// each line is the edge meant. Coordinates are those of the drawing but for y, which points
// down.
//
// It fails as [Drawing.DXF] does.
func (d *Drawing) SVG() ([]byte, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	box := d.Box().Expand(svgAir)
	size := box.Size()
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="%s %s %s %s">
<title>%s</title>
<desc>%s</desc>
`, num(size.X), num(size.Y), num(box.Lo.X), num(-box.Hi.Y), num(size.X), num(size.Y), escape(d.Title), escape(strings.Join(d.Notes, "\n")))
	for _, i := range d.used() {
		c := colours[i]
		fmt.Fprintf(&b, `<g id="%s" fill="none" stroke="%s" stroke-width="0.1">`+"\n", c.layer, c.rgb)
		for _, s := range d.Shapes {
			switch {
			case s.Layer != c.layer:
			case s.R > 0:
				fmt.Fprintf(&b, `<circle cx="%s" cy="%s" r="%s"/>`+"\n", num(s.C.X), num(-s.C.Y), num(s.R))
			default:
				fmt.Fprintf(&b, `<path d="%s"/>`+"\n", pathOf(s.Loop))
			}
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes(), nil
}

// pathOf is the path data of a loop. An arc of more than a third of a turn is written in
// parts: where the ends of a wide arc come near each other its circle would be lost.
func pathOf(l geom.Loop) string {
	var b strings.Builder
	for i, s := range l.Segs() {
		if i == 0 {
			b.WriteString("M" + num(s.A.X) + " " + num(-s.A.Y))
		}
		if !s.IsArc() {
			b.WriteString("L" + num(s.B.X) + " " + num(-s.B.Y))
			continue
		}
		r := num(s.Radius())
		sweep := "0" // counter-clockwise in the drawing is so on the page too: y is mirrored, and the flag with it
		if s.Bulge < 0 {
			sweep = "1"
		}
		parts := 1 + int(math.Abs(float64(s.Sweep()))/(2*math.Pi/3))
		for k := 1; k <= parts; k++ {
			p := s.At(float64(k) / float64(parts))
			b.WriteString("A" + r + " " + r + " 0 0 " + sweep + " " + num(p.X) + " " + num(-p.Y))
		}
	}
	b.WriteString("Z")
	return b.String()
}

func escape(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return "" // a buffer takes everything
	}
	return b.String()
}
