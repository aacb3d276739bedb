package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
)

// element is an SVG element with its attributes; text is kept for style sheets only.
type element struct {
	name  string
	attrs []xml.Attr
	kids  []*element
	text  string
	line  int
}

func (e *element) attr(name string) string {
	for i := range e.attrs {
		if e.attrs[i].Name.Local == name {
			return strings.TrimSpace(e.attrs[i].Value)
		}
	}
	return ""
}

var entityDecl = regexp.MustCompile(`<!ENTITY\s+([A-Za-z_][\w.-]*)\s+(?:"([^"<&%]{0,128})"|'([^'<&%]{0,128})')\s*>`)

// parseXML reads the tree of an SVG file. Entities that a file declares are taken as short
// plain text and never expanded further; nothing outside the file is read.
func parseXML(name string, data []byte) (*element, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = charset
	lines := lineCounter{data: data}
	most := maxPieces(len(data))
	var root *element
	var open []*element
	count := 0
	for {
		at := int(d.InputOffset())
		t, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, xmlFault(name, data, d, err)
		}
		switch t := t.(type) {
		case xml.Directive:
			found := entityDecl.FindAllSubmatch(t, 33)
			if len(found) > 32 {
				return nil, fault(name, lines.at(at), "the file declares more than 32 entities", "a plain SVG file", "")
			}
			for _, m := range found {
				if d.Entity == nil {
					d.Entity = map[string]string{}
				}
				d.Entity[string(m[1])] = string(m[2]) + string(m[3])
			}
		case xml.StartElement:
			if count++; count > most {
				return nil, fault(name, lines.at(at), fmt.Sprintf("the file has more than %d elements", most), "the outline of a plate, which has some hundreds", "")
			}
			if len(open) == MaxElementDepth {
				return nil, fault(name, lines.at(at), fmt.Sprintf("elements lie within elements more than %d deep", MaxElementDepth), "a drawing of one plate", "ungroup the drawing before exporting")
			}
			e := &element{name: t.Name.Local, attrs: t.Attr, line: lines.at(at)}
			if n := len(open); n > 0 {
				open[n-1].kids = append(open[n-1].kids, e)
			} else if root == nil {
				root = e
			}
			open = append(open, e)
		case xml.EndElement:
			if n := len(open); n > 0 {
				open = open[:n-1]
			}
		case xml.CharData:
			if n := len(open); n > 0 && open[n-1].name == "style" {
				open[n-1].text += string(t)
			}
		}
	}
	if root == nil || root.name != "svg" {
		return nil, fault(name, 1, "this XML file holds no SVG drawing", "a file whose outermost element is svg", "export the outline as SVG or DXF")
	}
	return root, nil
}

func xmlFault(name string, data []byte, d *xml.Decoder, err error) error {
	line, _ := d.InputPos()
	var syntax *xml.SyntaxError
	message := err.Error()
	if errors.As(err, &syntax) {
		line, message = syntax.Line, syntax.Msg
	}
	switch {
	case strings.Contains(message, "opening charset"):
		return fault(name, 1, "the file is written in an encoding that cannot be read", "UTF-8, or a code page close to Latin-1", "save the file as UTF-8")
	case strings.Contains(message, "unexpected EOF"):
		return fault(name, line, "the file breaks off before the drawing ends", "a whole SVG file, with </svg> at its end",
			"fetch or export it again: a part of it is missing")
	case strings.Contains(message, "invalid character entity"):
		return fault(name, line, "an entity is used that is not declared as short plain text", "a plain SVG file", "export it again as plain SVG")
	}
	return fault(name, line, "this is not valid XML: "+clip(message), "an SVG file", "export the outline again, or as DXF")
}

// charset reads the code pages that SVG files are written in besides UTF-8: those that
// agree with Latin-1 in all that matters to a drawing.
func charset(label string, in io.Reader) (io.Reader, error) {
	l := strings.ToLower(label)
	if strings.HasPrefix(l, "iso-8859") || strings.HasPrefix(l, "windows-125") || l == "latin1" || l == "ascii" || l == "us-ascii" {
		return &latin1{in: in}, nil
	}
	return nil, fmt.Errorf("the encoding %q is not known", clip(label))
}

// latin1 turns each byte into its character.
type latin1 struct {
	in   io.Reader
	rest []byte
	buf  [512]byte
}

func (l *latin1) Read(p []byte) (int, error) {
	if len(l.rest) == 0 {
		n, err := l.in.Read(l.buf[:])
		if n == 0 {
			return 0, err
		}
		l.rest = []byte(utf8Latin(l.buf[:n]))
	}
	n := copy(p, l.rest)
	l.rest = l.rest[n:]
	return n, nil
}

func utf8Latin(b []byte) string {
	var s strings.Builder
	for _, c := range b {
		s.WriteRune(rune(c))
	}
	return s.String()
}

// lineCounter gives line numbers of offsets that come in ascending order.
type lineCounter struct {
	data    []byte
	upTo, n int
}

func (l *lineCounter) at(offset int) int {
	// Offsets count decoded bytes; in other code pages than UTF-8 they may run ahead.
	offset = min(offset, len(l.data))
	for offset < len(l.data) && (l.data[offset] == '\n' || l.data[offset] == '\r' || l.data[offset] == ' ' || l.data[offset] == '\t') {
		offset++ // blanks before the element
	}
	if offset > l.upTo {
		l.n += bytes.Count(l.data[l.upTo:offset], []byte{'\n'})
		l.upTo = offset
	}
	return l.n + 1
}
