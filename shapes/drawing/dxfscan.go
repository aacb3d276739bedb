package drawing

import (
	"bytes"
	"strconv"
	"strings"
)

// A tag is the unit of a DXF file: a group code on one line and its value on the next.
type tag struct {
	code int
	text string
	line int // of the code
}

// tagScanner takes a DXF text apart. Lines end in LF, CRLF or CR; codes may be padded.
type tagScanner struct {
	name string
	rest string
	line int // of the next line
}

func newTagScanner(name string, data []byte) *tagScanner {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if bytes.IndexByte(data, '\n') < 0 {
		data = bytes.ReplaceAll(data, []byte{'\r'}, []byte{'\n'})
	}
	return &tagScanner{name: name, rest: string(data), line: 1}
}

func (s *tagScanner) next() (string, bool) {
	if s.rest == "" {
		return "", false
	}
	var l string
	if i := strings.IndexByte(s.rest, '\n'); i >= 0 {
		l, s.rest = s.rest[:i], s.rest[i+1:]
	} else {
		l, s.rest = s.rest, ""
	}
	s.line++
	return strings.TrimSuffix(l, "\r"), true
}

// tag returns the next tag; ok is false at the end of the text.
func (s *tagScanner) tag() (t tag, ok bool, err error) {
	l, ok := s.next()
	for ok && strings.TrimSpace(l) == "" { // blank lines between tags, or at the end
		l, ok = s.next()
	}
	if !ok {
		return t, false, nil
	}
	t.line = s.line - 1
	code := strings.TrimSpace(l)
	t.code, err = strconv.Atoi(code)
	if err != nil || t.code < -5 || t.code > 1071 {
		if _, more := s.next(); !more && strings.Trim(code, "\x1a\x00") == "" {
			return t, false, nil // an end mark of old systems
		}
		return t, false, fault(s.name, t.line, "this is not a DXF file, or it is damaged here: "+strconv.Quote(clip(l))+" is no group code",
			"a whole number, alone on its line", "export the outline again, as DXF in text form")
	}
	text, ok := s.next()
	if !ok {
		return t, false, truncated(s.name, t.line, "the file breaks off after a group code")
	}
	t.text = text
	return t, true, nil
}

func truncated(name string, line int, what string) *Fault {
	return fault(name, line, what, "a whole DXF file, with ENDSEC and EOF at its end", "fetch or export it again: a part of it is missing")
}

// tags are those of one thing in the file, without the opening 0.
type tags struct {
	kind string
	line int
	list []tag
	err  error // the first number that is none
	name string
}

// real returns the first value of the code as a number, or def.
func (g *tags) real(code int, def float64) float64 {
	for i := range g.list {
		if g.list[i].code == code {
			return g.parse(&g.list[i])
		}
	}
	return def
}

func (g *tags) parse(t *tag) float64 {
	text := strings.TrimSpace(t.text)
	v, err := strconv.ParseFloat(text, 64)
	if (err != nil || !finite(v)) && g.err == nil {
		hint := ""
		if strings.Contains(text, ",") {
			hint = "numbers in DXF have a decimal point, not a comma"
		}
		g.err = fault(g.name, t.line+1, strconv.Quote(clip(text))+" is not a number", "a number such as 12.5", hint)
	}
	return v
}

// whole returns the first value of the code as a whole number, or def.
func (g *tags) whole(code, def int) int {
	v := g.real(code, float64(def))
	if !(v >= -1e9 && v <= 1e9) {
		return def
	}
	return int(v)
}

func (g *tags) text(code int, def string) string {
	for i := range g.list {
		if g.list[i].code == code {
			return strings.TrimSpace(g.list[i].text)
		}
	}
	return def
}
