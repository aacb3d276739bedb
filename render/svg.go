package render

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	svgo "github.com/ajstarks/svgo/float"
	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// families is the list of faces for all lettering. Whatever face the viewer picks, each
// text carries the length that the layout counted with.
const families = "Go, DejaVu Sans, sans-serif"

// printer prints a display list as SVG 1.1. The library that writes the elements neither
// escapes attributes, nor trims numbers, nor minds NaN: that is done here, and everything
// goes to memory first.
type printer struct {
	out *svgo.SVG
	buf bytes.Buffer
	err error
	d   []byte // scratch for path data and attributes
}

// Write receives what the library prints, one call for each tag, and cuts the trailing
// zeros off the coordinates that it printed.
func (p *printer) Write(b []byte) (int, error) {
	switch {
	case bytes.HasPrefix(b, []byte("<line ")), bytes.HasPrefix(b, []byte("<circle ")), bytes.HasPrefix(b, []byte("<text ")):
		p.buf.Write(tidy(b))
	default:
		p.buf.Write(b)
	}
	return len(b), nil
}

// tidy rewrites the leading coordinate attributes of a tag without trailing zeros.
func tidy(tag []byte) []byte {
	out := make([]byte, 0, len(tag))
	i := bytes.IndexByte(tag, ' ') + 1
	out = append(out, tag[:i]...)
	for {
		eq := bytes.IndexByte(tag[i:], '=')
		if eq < 0 || !coordinate(string(tag[i:i+eq])) {
			return append(out, tag[i:]...)
		}
		out = append(out, tag[i:i+eq+2]...) // name="
		i += eq + 2
		end := bytes.IndexByte(tag[i:], '"')
		at := len(out)
		out = append(out, tag[i:i+end]...)
		out = trimNum(out, at)
		i += end
		if i+2 > len(tag) {
			return append(out, tag[i:]...)
		}
		out = append(out, tag[i:i+2]...) // quote and blank
		i += 2
	}
}

func coordinate(name string) bool {
	switch name {
	case "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r":
		return true
	}
	return false
}

// SVG prints the sheet. It fails if a number is not finite or if the drawing would not be
// well-formed; then a caller writes nothing.
func (s Sheet) SVG() ([]byte, error) {
	p := &printer{}
	p.out = svgo.New(p)
	p.out.Decimals = 3
	l := &s.List
	p.finite(l.W, l.H)
	p.out.Startraw(
		`version="1.1"`,
		fmt.Sprintf(`width="%smm"`, num(l.W)), fmt.Sprintf(`height="%smm"`, num(l.H)),
		fmt.Sprintf(`viewBox="0 0 %s %s"`, num(l.W), num(l.H)),
		fmt.Sprintf(`font-family="%s"`, families),
		`fill="none" stroke-linecap="round" stroke-linejoin="round"`,
	)
	p.out.Title(clean(s.Title))
	p.out.Desc(clean(s.Desc))
	p.out.Path(fmt.Sprintf("M0 0H%sV%sH0Z", num(l.W), num(l.H)), `fill="`+string(Paperwhite)+`"`)
	for _, g := range groups(l.Items) {
		p.out.Gid(g.name)
		for _, it := range g.items {
			expand(it, p.item)
		}
		p.out.Gend()
	}
	p.out.End()
	if p.err != nil {
		return nil, fmt.Errorf("drawing %q: %w", s.Name, p.err)
	}
	return p.buf.Bytes(), nil
}

type group struct {
	name  string
	items []Item
}

// groups gathers the items by group, in the order in which the groups first appear.
func groups(items []Item) []group {
	var out []group
	at := map[string]int{}
	for _, it := range items {
		name := it.head().Group
		if name == "" {
			name = "sheet"
		}
		name = idName(name)
		i, ok := at[name]
		if !ok {
			i = len(out)
			at[name] = i
			out = append(out, group{name: name})
		}
		out[i].items = append(out[i].items, it)
	}
	return out
}

func (p *printer) finite(vs ...float64) {
	for _, v := range vs {
		if (math.IsNaN(v) || math.Abs(v) > 1e6) && p.err == nil {
			p.err = fmt.Errorf("coordinate %v is not on any sheet", v)
		}
	}
}

func (p *printer) stroke(l Layer) string {
	s := StrokeOf(l)
	dash := ""
	if s.Dash != "" {
		dash = ` stroke-dasharray="` + s.Dash + `" stroke-linecap="butt"`
	}
	return `stroke="` + string(s.Colour) + `" stroke-width="` + num(s.Width) + `"` + dash
}

func (p *printer) area(l Layer, fill Fill, bare bool) string {
	switch {
	case bare:
		return `fill="` + string(fill) + `"`
	case fill != "":
		return `fill="` + string(fill) + `" ` + p.stroke(l)
	}
	return p.stroke(l)
}

func (p *printer) item(it Item) {
	switch v := it.(type) {
	case Line:
		p.finite(v.A.X, v.A.Y, v.B.X, v.B.Y)
		p.out.Line(v.A.X, v.A.Y, v.B.X, v.B.Y, p.stroke(v.Layer))
	case Circle:
		p.finite(v.C.X, v.C.Y, v.R)
		p.out.Circle(v.C.X, v.C.Y, v.R, p.area(v.Layer, v.Fill, false))
	case Arc:
		p.path(Path{Head: v.Head, V: []geom.Vertex{{P: v.A, Bulge: v.Bulge}, {P: v.B}}})
	case Path:
		p.path(v)
	case Strand:
		p.finite(v.Width)
		p.draw(v.V, false, strandPaint(v))
	case Text:
		p.text(v)
	default:
		if p.err == nil {
			p.err = fmt.Errorf("item of type %T cannot be printed", it)
		}
	}
}

func (p *printer) path(v Path) { p.draw(v.V, v.Closed, p.area(v.Layer, v.Fill, v.Bare)) }

// draw prints a chain of lines and arcs with the given paint.
func (p *printer) draw(vs []geom.Vertex, closed bool, paint string) {
	if len(vs) < 2 {
		return
	}
	b := append(p.d[:0], 'M')
	point := func(q r2.Point) {
		p.finite(q.X, q.Y)
		b = appendNum(b, q.X)
		b = append(b, ' ')
		b = appendNum(b, q.Y)
	}
	point(vs[0].P)
	n := len(vs)
	last := n - 1
	if closed {
		last = n
	}
	for i := range last {
		s := geom.Seg{A: vs[i].P, B: vs[(i+1)%n].P, Bulge: vs[i].Bulge}
		if !curved(s) {
			if i == n-1 {
				break // Z draws it
			}
			b = append(b, 'L')
			point(s.B)
			continue
		}
		// An arc of nearly a full turn is drawn in two halves: its ends round to one point.
		parts := 1
		if math.Abs(s.Bulge) > 2 {
			parts = 2
		}
		r := s.Radius()
		p.finite(r)
		for k := 1; k <= parts; k++ {
			b = append(b, 'A')
			b = appendNum(b, r)
			b = append(b, ' ')
			b = appendNum(b, r)
			b = append(b, " 0 "...)
			if math.Abs(s.Bulge) > 1 && parts == 1 {
				b = append(b, '1')
			} else {
				b = append(b, '0')
			}
			if s.Bulge > 0 {
				b = append(b, " 1 "...)
			} else {
				b = append(b, " 0 "...)
			}
			point(s.At(float64(k) / float64(parts)))
		}
	}
	if closed {
		b = append(b, 'Z')
	}
	p.d = b
	p.out.Path(string(b), paint)
}

func (p *printer) text(t Text) {
	s := clean(t.S)
	if s == "" {
		return
	}
	p.finite(t.At.X, t.At.Y, t.Size)
	ink := t.Ink
	if ink == "" {
		ink = Ink
	}
	b := append(p.d[:0], `fill="`...)
	b = append(b, ink...)
	b = append(b, `" font-size="`...)
	b = appendNum(b, emSize(t.Size))
	b = append(b, `" textLength="`...)
	b = appendNum(b, TextWidth(s, t.Size))
	b = append(b, `" lengthAdjust="spacingAndGlyphs"`...)
	switch t.Align {
	case Middle:
		b = append(b, ` text-anchor="middle"`...)
	case Right:
		b = append(b, ` text-anchor="end"`...)
	}
	if t.Quarter {
		b = append(b, ` transform="rotate(-90 `...)
		b = appendNum(b, t.At.X)
		b = append(b, ' ')
		b = appendNum(b, t.At.Y)
		b = append(b, `)"`...)
	}
	p.d = b
	p.out.Text(t.At.X, t.At.Y, s, string(b))
}

// clean replaces what XML cannot hold, and line breaks, by blanks.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < 0x20, r == 0x7f, r >= 0xd800 && r <= 0xdfff, r == 0xfffe, r == 0xffff:
			return ' '
		}
		return r
	}, s)
}

// idName turns a component's ID into a name that XML takes for an id: letters, digits,
// points, hyphens and underscores, a letter first. "posts.main[1]" becomes "posts.main.1".
func idName(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r == '_':
			b.WriteRune(r)
		case r >= '0' && r <= '9', r == '.', r == '-':
			if b.Len() == 0 {
				b.WriteByte('_')
			}
			b.WriteRune(r)
		case r == '[':
			b.WriteByte('.')
		case r == ']':
		default:
			fmt.Fprintf(&b, "_%x", r)
		}
	}
	return b.String()
}
