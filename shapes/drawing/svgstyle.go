package drawing

import (
	"strings"
)

// look is what decides whether a shape is drawn; children inherit it.
type look struct {
	fill, stroke string
	invisible    bool
	layer        int32
}

// rules are the declarations of a style sheet by selector: ".class", "#id" or an element's
// name. Other selectors are passed over.
type rules map[string]string

// addSheet reads the simple rules of a CSS style sheet.
func (r rules) addSheet(text string) {
	for {
		i := strings.Index(text, "/*")
		if i < 0 {
			break
		}
		j := strings.Index(text[i+2:], "*/")
		if j < 0 {
			text = text[:i]
			break
		}
		// What stood before a comment is kept apart, so that this stays linear.
		r.addRules(text[:i])
		text = text[i+2+j+2:]
	}
	r.addRules(text)
}

func (r rules) addRules(text string) {
	for {
		i := strings.IndexByte(text, '{')
		if i < 0 {
			return
		}
		j := strings.IndexByte(text[i:], '}')
		if j < 0 {
			return
		}
		body := strings.TrimSpace(text[i+1 : i+j])
		for _, s := range strings.Split(text[:i], ",") {
			s = strings.TrimSpace(s)
			if s != "" && len(r) < 10_000 && len(r[s]) < 2000 && len(body) < 2000 {
				r[s] += ";" + body
			}
		}
		text = text[i+j+1:]
	}
}

// of returns the look of an element whose parent has the look up; hidden means that
// neither it nor anything in it is drawn.
func (r rules) of(e *element, up look) (l look, hidden bool) {
	l = up
	set := func(property, value string) {
		value = strings.ToLower(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(value), "!important")))
		if value == "" || value == "inherit" {
			return
		}
		switch property {
		case "fill":
			l.fill = value
		case "stroke":
			l.stroke = value
		case "visibility":
			l.invisible = value == "hidden" || value == "collapse"
		case "display":
			hidden = value == "none"
		}
	}
	declared := func(text string) {
		for text != "" {
			var one string
			one, text, _ = strings.Cut(text, ";")
			if name, value, ok := strings.Cut(one, ":"); ok {
				set(strings.ToLower(strings.TrimSpace(name)), value)
			}
		}
	}
	for _, property := range []string{"fill", "stroke", "visibility", "display"} {
		set(property, e.attr(property))
	}
	if len(r) > 0 {
		declared(r[e.name])
		for _, class := range strings.Fields(e.attr("class")) {
			declared(r["."+class])
		}
		if id := e.attr("id"); id != "" {
			declared(r["#"+id])
		}
	}
	declared(e.attr("style"))
	return l, hidden
}

func clear(paint string) bool { return paint == "" || paint == "none" || paint == "transparent" }

// parseTransform reads a list of transforms, the last applied first.
func parseTransform(s string) (affine, bool) {
	m := identity()
	for n := 0; ; n++ {
		s = strings.TrimLeft(s, " \t\r\n\f,")
		if s == "" {
			return m, m.finite()
		}
		i := strings.IndexByte(s, '(')
		j := strings.IndexByte(s, ')')
		if i < 0 || j < i || n > 1000 {
			return m, false
		}
		name := strings.TrimSpace(s[:i])
		in := numberScanner{s: s[i+1 : j]}
		s = s[j+1:]
		var v []float64
		for !in.done() {
			x, ok := in.number()
			if !ok || len(v) == 6 {
				return m, false
			}
			v = append(v, x)
		}
		one, ok := oneTransform(name, v)
		if !ok {
			return m, false
		}
		m = m.of(one)
	}
}

func oneTransform(name string, v []float64) (affine, bool) {
	n := len(v)
	switch {
	case name == "matrix" && n == 6:
		return affine{v[0], v[1], v[2], v[3], v[4], v[5]}, true
	case name == "translate" && n == 1:
		return translation(v[0], 0), true
	case name == "translate" && n == 2:
		return translation(v[0], v[1]), true
	case name == "scale" && n == 1:
		return scaling(v[0], v[0]), true
	case name == "scale" && n == 2:
		return scaling(v[0], v[1]), true
	case name == "rotate" && n == 1:
		return rotation(v[0]), true
	case name == "rotate" && n == 3:
		return translation(v[1], v[2]).of(rotation(v[0])).of(translation(-v[1], -v[2])), true
	case (name == "skewX" || name == "skewY") && n == 1:
		sn, cs := sinCosDeg(v[0])
		if cs == 0 {
			return affine{}, false
		}
		if name == "skewX" {
			return affine{a: 1, c: sn / cs, d: 1}, true
		}
		return affine{a: 1, b: sn / cs, d: 1}, true
	}
	return affine{}, false
}
