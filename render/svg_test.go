package render_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/render"
)

var papers = []render.Paper{render.Auto, render.A4, render.A3}

// eachSheet draws every case on every paper.
func eachSheet(t *testing.T, check func(t *testing.T, c drawn, s render.Sheet, svg []byte)) {
	t.Helper()
	for _, c := range cases(t) {
		for _, p := range papers {
			sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{Paper: p})
			if err != nil {
				t.Fatalf("%s on %s: %v", c.name, p, err)
			}
			for _, s := range sheets {
				t.Run(fmt.Sprintf("%s/%s/%s", c.name, p, s.Name), func(t *testing.T) {
					svg, err := s.SVG()
					if err != nil {
						t.Fatal(err)
					}
					check(t, c, s, svg)
				})
			}
		}
	}
}

// element is a start tag with its attributes and the text right inside it.
type element struct {
	name string
	attr map[string]string
	text string
}

func parse(t *testing.T, svg []byte) []element {
	t.Helper()
	var out []element
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch v := tok.(type) {
		case xml.StartElement:
			e := element{name: v.Name.Local, attr: map[string]string{}}
			for _, a := range v.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			out = append(out, e)
		case xml.CharData:
			if n := len(out); n > 0 {
				out[n-1].text += string(v)
			}
		}
	}
}

func TestSVGIsPlain(t *testing.T) {
	allowed := map[string]bool{"svg": true, "title": true, "desc": true, "g": true, "path": true, "line": true, "circle": true, "text": true}
	number := regexp.MustCompile(`[-+]?[0-9]*\.?[0-9]+(e[-+]?[0-9]+)?`)
	ncName := regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_.-]*$`)
	canonical := regexp.MustCompile(`^(0|-?[1-9][0-9]*|-?(0|[1-9][0-9]*)\.[0-9]{0,2}[1-9])$`)
	eachSheet(t, func(t *testing.T, _ drawn, _ render.Sheet, svg []byte) {
		if len(svg) >= 300_000 {
			t.Errorf("%d bytes, want less than 300000", len(svg))
		}
		ids := map[string]bool{}
		titles, descs := 0, 0
		for i, e := range parse(t, svg) {
			if !allowed[e.name] {
				t.Errorf("element <%s> is not one of the plain ones", e.name)
			}
			switch e.name {
			case "title":
				titles++
			case "desc":
				descs++
			case "text":
				if strings.TrimSpace(e.text) == "" || e.attr["textLength"] == "" {
					t.Errorf("text %q without words or without its length", e.text)
				}
			}
			if id, ok := e.attr["id"]; ok {
				if ids[id] {
					t.Errorf("id %q stands twice", id)
				}
				ids[id] = true
				if !ncName.MatchString(id) {
					t.Errorf("id %q is not a name in XML", id)
				}
			}
			for k, v := range e.attr {
				if strings.Contains(v, "url(") || strings.HasSuffix(k, "href") || strings.HasPrefix(k, "on") {
					t.Errorf("attribute %s=%q refers elsewhere or runs something", k, v)
				}
				switch k {
				case "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "d", "stroke-width", "font-size", "textLength", "viewBox":
					for _, n := range number.FindAllString(v, -1) {
						if !canonical.MatchString(n) {
							t.Errorf("<%s %s=%q>: %q is not printed in its shortest form", e.name, k, v, n)
						}
					}
				}
			}
			if i == 0 && (e.name != "svg" || e.attr["version"] != "1.1" || !strings.HasSuffix(e.attr["width"], "mm")) {
				t.Errorf("root is %v", e)
			}
		}
		if titles != 1 || descs != 1 {
			t.Errorf("%d titles and %d descriptions, want one each", titles, descs)
		}
		// One element a line: no line holds two tags that start an element.
		for _, line := range bytes.Split(svg, []byte("\n")) {
			if n := bytes.Count(line, []byte("<")) - bytes.Count(line, []byte("</")); n > 1 {
				t.Errorf("%d elements on one line: %.80s", n, line)
			}
		}
	})
}

// pathPoints are the end points of the pieces of a path.
func pathPoints(t *testing.T, d string) []r2.Point {
	t.Helper()
	var out []r2.Point
	for _, cmd := range regexp.MustCompile(`[MLAHVZ][^MLAHVZ]*`).FindAllString(d, -1) {
		var v []float64
		for _, s := range strings.Fields(cmd[1:]) {
			f, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatalf("path %q: %v", d, err)
			}
			v = append(v, f)
		}
		switch cmd[0] {
		case 'M', 'L', 'A':
			out = append(out, r2.Point{X: v[len(v)-2], Y: v[len(v)-1]})
		}
	}
	return out
}

func TestEverythingIsInsideTheFrame(t *testing.T) {
	eachSheet(t, func(t *testing.T, _ drawn, s render.Sheet, svg []byte) {
		w, h := s.List.W, s.List.H
		in := func(what string, x, y, room float64) {
			if x < 20-0.4-room || y < 10-0.4-room || x > w-10+0.4+room || y > h-10+0.4+room {
				t.Errorf("%s at %.2f, %.2f lies outside the border", what, x, y)
			}
		}
		f := func(s string) float64 {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		for i, e := range parse(t, svg) {
			switch e.name {
			case "line":
				in("line", f(e.attr["x1"]), f(e.attr["y1"]), 0)
				in("line", f(e.attr["x2"]), f(e.attr["y2"]), 0)
			case "circle":
				x, y, r := f(e.attr["cx"]), f(e.attr["cy"]), f(e.attr["r"])
				in("circle", x-r, y-r, 0)
				in("circle", x+r, y+r, 0)
			case "path":
				if e.attr["fill"] == "#ffffff" && i < 5 {
					continue // the paper
				}
				for _, p := range pathPoints(t, e.attr["d"]) {
					in("path", p.X, p.Y, 0)
				}
			case "text":
				x, y, long := f(e.attr["x"]), f(e.attr["y"]), f(e.attr["textLength"])
				lo, hi := x, x+long
				switch e.attr["text-anchor"] {
				case "middle":
					lo, hi = x-long/2, x+long/2
				case "end":
					lo, hi = x-long, x
				}
				if e.attr["transform"] != "" {
					lo, hi = y-(hi-x), y-(lo-x)
					in("text "+e.text, x, lo, 0)
					in("text "+e.text, x, hi, 0)
					continue
				}
				in("text "+e.text, lo, y, 0)
				in("text "+e.text, hi, y, 0)
			}
		}
	})
}

func TestSameInputSameBytes(t *testing.T) {
	draw := func() []byte {
		var all []byte
		for _, c := range cases(t) {
			sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range sheets {
				b, err := s.SVG()
				if err != nil {
					t.Fatal(err)
				}
				all = append(all, b...)
			}
		}
		return all
	}
	if a, b := draw(), draw(); !bytes.Equal(a, b) {
		t.Error("two runs gave different bytes")
	}
}

// The rotors of the hand-made craft stand on a circle of 220 mm, so the axes of the front
// pair are 220/√2 = 155.563 mm apart; at 1:2 that is 77.782 mm of paper. The disc of
// 127 mm is 31.75 mm in radius there.
func TestTrueToScale(t *testing.T) {
	sheets, err := render.Sheets(newCraft().asm, nil, render.Options{Paper: render.A4})
	if err != nil {
		t.Fatal(err)
	}
	if sheets[0].Scale != "1:2" {
		t.Fatalf("scale is %s, want 1:2", sheets[0].Scale)
	}
	svg, err := sheets[0].SVG()
	if err != nil {
		t.Fatal(err)
	}
	inside := ""
	at := map[string]r2.Point{}
	for _, e := range parse(t, svg) {
		if e.name == "g" {
			inside = e.attr["id"]
		}
		if e.name == "circle" && e.attr["r"] == "31.75" {
			x, _ := strconv.ParseFloat(e.attr["cx"], 64)
			y, _ := strconv.ParseFloat(e.attr["cy"], 64)
			at[inside] = r2.Point{X: x, Y: y}
		}
	}
	fl, fr := at["top.rotors.front-left.prop"], at["top.rotors.front-right.prop"]
	rl := at["top.rotors.rear-left.prop"]
	if len(at) != 4 {
		t.Fatalf("found %d discs of radius 31.75: %v", len(at), at)
	}
	want := 220 / math.Sqrt2 / 2
	if d := fr.Sub(fl); math.Abs(d.Y-want) > 0.002 || math.Abs(d.X) > 0.002 {
		t.Errorf("front left to front right is %v on paper, want 0, %.3f: left lies above right", d, want)
	}
	if d := fl.Sub(rl); math.Abs(d.X-want) > 0.002 {
		t.Errorf("rear left to front left is %v on paper, want %.3f, 0: the nose points right", d, want)
	}
}

func TestHostileNames(t *testing.T) {
	c := newCraft()
	bad := "a<b>&\"'\x00\x1b\n]]>" + strings.Repeat("long ", 80)
	c.asm.Name = bad
	for _, k := range c.asm.Components {
		k.Label = bad
	}
	out := faults()
	out[0].Findings[0].Message = bad + strings.Repeat("x", 4000)
	out[0].Findings[0].Rule = bad
	sheets, err := render.Sheets(c.asm, out, render.Options{Date: bad})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		svg, err := s.SVG()
		if err != nil {
			t.Fatal(err)
		}
		parse(t, svg)
		if len(svg) > 300_000 {
			t.Errorf("%s: %d bytes", s.Name, len(svg))
		}
	}
}

func TestNotFiniteIsAnError(t *testing.T) {
	for _, it := range []render.Item{
		render.Line{A: r2.Point{X: math.NaN()}},
		render.Circle{R: math.Inf(1)},
		render.Text{S: "x", Size: 2.5, At: r2.Point{Y: math.NaN()}},
		render.Arc{B: r2.Point{X: math.Inf(-1)}, Bulge: 1},
	} {
		s := render.Sheet{Name: "bad", List: render.List{W: 10, H: 10, Items: []render.Item{it}}}
		if b, err := s.SVG(); err == nil {
			t.Errorf("%T with a number that is not finite printed %d bytes", it, len(b))
		}
	}
}

func TestNothingToDraw(t *testing.T) {
	if _, err := render.Sheets(nil, nil, render.Options{}); err == nil {
		t.Error("no assembly: want an error")
	}
	c := newCraft()
	c.asm.Bodies, c.asm.Rotors = nil, nil
	if _, err := render.Sheets(c.asm, nil, render.Options{}); err == nil {
		t.Error("an assembly without bodies and rotors: want an error")
	}
}

func TestParsePaper(t *testing.T) {
	for in, want := range map[string]render.Paper{"": render.Auto, "auto": render.Auto, "a4": render.A4, "A3": render.A3} {
		if got, err := render.ParsePaper(in); err != nil || got != want {
			t.Errorf("ParsePaper(%q) = %v, %v; want %v", in, got, err, want)
		}
	}
	if _, err := render.ParsePaper("letter"); err == nil {
		t.Error(`ParsePaper("letter"): want an error`)
	}
}
