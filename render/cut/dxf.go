package cut

import (
	"bytes"
	"fmt"
	"strings"
)

// DXF prints the drawing as a text DXF of release 12: closed POLYLINEs with bulges, and
// CIRCLEs, on named layers. The header says millimetres twice, by the variables that newer
// readers ask. Lines end with CR LF, as the format's own programs write them. Text other
// than ASCII is written as \U+XXXX.
//
// It fails if the drawing is empty, or holds something that is not finite.
func (d *Drawing) DXF() ([]byte, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	put := func(code int, value string) { fmt.Fprintf(&b, "%3d\r\n%s\r\n", code, value) }
	put(999, ascii(d.Title))
	for _, n := range d.Notes {
		put(999, ascii(n))
	}
	box := d.Box()
	put(0, "SECTION")
	put(2, "HEADER")
	put(9, "$ACADVER")
	put(1, "AC1009")
	put(9, "$INSUNITS")
	put(70, "4") // millimetres
	put(9, "$MEASUREMENT")
	put(70, "1") // metric
	for _, e := range [2]struct {
		name string
		x, y float64
	}{{"$EXTMIN", box.Lo.X, box.Lo.Y}, {"$EXTMAX", box.Hi.X, box.Hi.Y}} {
		put(9, e.name)
		put(10, num(e.x))
		put(20, num(e.y))
		put(30, "0")
	}
	put(0, "ENDSEC")
	put(0, "SECTION")
	put(2, "TABLES")
	put(0, "TABLE")
	put(2, "LTYPE")
	put(70, "1")
	put(0, "LTYPE")
	put(2, "CONTINUOUS")
	put(70, "0")
	put(3, "Solid line")
	put(72, "65")
	put(73, "0")
	put(40, "0")
	put(0, "ENDTAB")
	used := d.used()
	put(0, "TABLE")
	put(2, "LAYER")
	put(70, fmt.Sprint(len(used)))
	for _, i := range used {
		put(0, "LAYER")
		put(2, colours[i].layer)
		put(70, "0")
		put(62, fmt.Sprint(colours[i].index))
		put(6, "CONTINUOUS")
	}
	put(0, "ENDTAB")
	put(0, "ENDSEC")
	put(0, "SECTION")
	put(2, "ENTITIES")
	for _, s := range d.Shapes {
		if s.R > 0 {
			put(0, "CIRCLE")
			put(8, s.Layer)
			put(10, num(s.C.X))
			put(20, num(s.C.Y))
			put(30, "0")
			put(40, num(s.R))
			continue
		}
		put(0, "POLYLINE")
		put(8, s.Layer)
		put(66, "1") // vertices follow
		put(10, "0")
		put(20, "0")
		put(30, "0")
		put(70, "1") // closed
		for _, v := range s.Loop.Vertices() {
			put(0, "VERTEX")
			put(8, s.Layer)
			put(10, num(v.P.X))
			put(20, num(v.P.Y))
			put(30, "0")
			if v.Bulge != 0 {
				put(42, bulge(v.Bulge))
			}
		}
		put(0, "SEQEND")
		put(8, s.Layer)
	}
	put(0, "ENDSEC")
	put(0, "EOF")
	return b.Bytes(), nil
}

// bulge prints a bulge with 15 decimals: on a flat arc an error of 1e-9 in the bulge would
// move its middle by half a chord times that.
func bulge(v float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.15f", v), "0"), ".")
}

// ascii writes what is not ASCII, and line breaks, so that any reader takes it.
func ascii(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < 0x20 || r == 0x7f:
			b.WriteByte(' ')
		case r < 0x7f:
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}
