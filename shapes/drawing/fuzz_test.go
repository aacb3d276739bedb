package drawing

import (
	"bytes"
	"math"
	"runtime"
	"testing"
)

// fuzzRead reads anything: it must end with a drawing whose numbers are finite or with a
// fault, within the memory that Read states.
func fuzzRead(t *testing.T, name string, data []byte) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	d, r, err := Read(name, data, Options{})
	runtime.ReadMemStats(&after)
	if most := uint64(64<<20 + 500*len(data)); after.TotalAlloc-before.TotalAlloc > most {
		t.Errorf("%d bytes were allocated for %d", after.TotalAlloc-before.TotalAlloc, len(data))
	}
	if r == nil || (err == nil) != (d != nil) {
		t.Fatalf("drawing %v, report %v, error %v", d != nil, r != nil, err)
	}
	r.Lines()
	if err != nil {
		if err.Error() == "" {
			t.Error("an empty message")
		}
		return
	}
	if len(d.Parts) == 0 {
		t.Fatal("no error and no part")
	}
	for i := range d.Parts {
		p := &d.Parts[i]
		b := p.Box()
		for _, v := range []float64{p.Area(), b.Lo.X, b.Lo.Y, b.Hi.X, b.Hi.Y} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s: %v", p.Name, v)
			}
		}
		if !p.Closed() && len(p.Open) == 0 {
			t.Errorf("%s is not closed and has no open end", p.Name)
		}
		if p.Closed() && p.Outline.Area() <= 0 {
			t.Errorf("%s has an outline of area %v", p.Name, p.Outline.Area())
		}
		for _, h := range p.Holes {
			if h.Loop.IsEmpty() || math.IsNaN(h.Center.X+h.Center.Y+h.Diameter) {
				t.Errorf("%s: %v", p.Name, h)
			}
		}
	}
}

func FuzzDXF(f *testing.F) {
	for _, s := range []string{
		dxf(box60(), circle(20, 20, 4)),
		dxf(lw(1, round60()...), old(1, round60()...), arc(20, 20, 5, -40, 700)),
		dxf(circleSpline(20, 20, 5, -3), tg(0, "ELLIPSE", 10, 1, 20, 2, 11, 5, 21, 1, 40, 0.3, 41, 0, 42, 4)),
		section("BLOCKS", block("a", 1, 2, circle(1, 1, 3))) + dxf(insert("a", 5, 5, 41, 2, 42, -1, 50, 30, 70, 2, 71, 3, 44, 9, 45, 9)),
		dxfIn(1, line(0, 0, 2, 0), line(2, 0, 2, 1), line(2, 1, 0, 1.01), line(0, 1, 0, 0)),
		section("TABLES", tg(0, "LAYER", 2, "x", 62, -1, 70, 1)) + dxf(onLayer("x", circle(0, 0, 1)), box60()),
		dxf(tg(0, "SPLINE", 70, 1, 11, 0, 21, 0, 11, 9, 21, 4, 11, 3, 21, 8)),
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if !bytes.HasPrefix(data, []byte("0\nSECTION")) { // past the look at what the file is
			data = append([]byte("0\nSECTION\n2\nENTITIES\n"), data...)
		}
		fuzzRead(t, "fuzz.dxf", data)
	})
}

func FuzzSVG(f *testing.F) {
	for _, s := range []string{
		svg60 + `<circle cx="20" cy="20" r="2"/>`,
		`<path d="M0 5a5 3 30 015-5h50a5,5 0 015,5v30C1 2 3 4 5 6S1 1 2 2Q1 2 3 4T9 9z"/>`,
		`<g transform="rotate(30 1 2) skewX(10) matrix(1 2 -2 1 0 0)"><ellipse rx="5" ry="3"/><rect width="9" height="8" rx="2"/></g>`,
		`<defs><symbol id="s" viewBox="0 0 5 5"><polygon points="0,0 5,0 5,5"/></symbol></defs><use href="#s" x="1" width="10" height="10"/>`,
		`<style>.a{display:none}</style><polyline class="a" points="0 0 5 5"/><line x2="5%"/><svg viewBox="0 0 1 1"><circle r="1"/></svg>`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) { fuzzRead(t, "fuzz.svg", []byte(svgOf(string(data)))) })
}
