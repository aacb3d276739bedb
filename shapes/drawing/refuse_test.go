package drawing

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"
	"time"
)

// What is no outline gets one sentence that says what it is, what was expected and what
// to do.
func TestRefusals(t *testing.T) {
	stl := make([]byte, 84+50*2)
	copy(stl, "a mesh")
	stl[80] = 2
	wire := "" // the edges of a box of 60 x 40 x 3, as lines in space
	at := func(k int) (x, y, z float64) { return 60 * float64(k&1), 40 * float64(k>>1&1), 3 * float64(k>>2&1) }
	for i := range 8 {
		for _, bit := range []int{1, 2, 4} {
			if i&bit == 0 {
				x0, y0, z0 := at(i)
				x1, y1, z1 := at(i | bit)
				wire += tg(0, "LINE", 8, "0", 10, x0, 20, y0, 30, z0, 11, x1, 21, y1, 31, z1)
			}
		}
	}
	tracks, strokes := "", ""
	for i := range 20 {
		tracks += strings.Replace(lw(0, 0, float64(i), 0, 50, float64(i), 0, 60, float64(i)+3, 0), "70\n0\n", "70\n0\n43\n0.3\n", 1)
	}
	for i := range 250 {
		strokes += fmt.Sprintf(`<path d="M%d 0l5 3" fill="none" stroke="black"/>`, i*10)
	}
	// A plate seen askew: 30 lines across it in both directions.
	view := box60()
	for i := range 29 {
		view += line(float64(2*i+2), 0, float64(2*i+2), 40)
	}
	hatch := ""
	for i := range 300 {
		hatch += line(0, float64(i), 300, float64(i)+0.5) + line(float64(i), 0, float64(i)+0.5, 300)
	}
	whole := dxf(box60(), circle(20, 20, 4))
	face := tg(0, "3DFACE", 8, "0", 10, 0, 20, 0, 30, 0, 11, 1, 21, 0, 31, 0)
	for name, c := range map[string]struct {
		file, text, want string
	}{
		"empty":                   {"a.dxf", " \r\n", "the file is empty"},
		"a web page":              {"plate.dxf", "<!DOCTYPE html>\n<html><body>404 <svg></svg></body></html>", "this is a web page, not a drawing"},
		"a web page without type": {"plate.svg", "\n<html lang=en><head>", "this is a web page"},
		"XML":                     {"a.svg", "<?xml version='1.0'?><kml></kml>", "holds no SVG drawing"},
		"XML that mentions svg":   {"a.svg", "<?xml version='1.0'?><!-- <svg --><kml></kml>", "holds no SVG drawing"},
		"an STL in text":          {"a.dxf", "solid x\n facet normal 0 0 1\n  outer loop\n", "a 3D mesh (STL)"},
		"an STL in binary":        {"a.dxf", string(stl), "a 3D mesh (STL)"},
		"an OBJ":                  {"a.dxf", "# made by hand\no plate\nv 0 0 0\nv 1 0 0\nf 1 2 3\n", "a 3D mesh (OBJ)"},
		"a STEP file":             {"a.dxf", "ISO-10303-21;\nHEADER;", "a 3D model"},
		"a mesh in DXF":           {"a.dxf", dxf(face, face, face), "this is a 3D mesh"},
		"a polygon mesh in DXF":   {"a.dxf", dxf(old(64, 0, 0, 0, 1, 0, 0, 1, 1, 0), old(16, 0, 0, 0, 1, 0, 0, 1, 1, 0)), "this is a 3D mesh"},
		"a solid in DXF":          {"a.dxf", dxf(tg(0, "3DSOLID", 1, "x")), "a 3D solid and no lines"},
		"a view in space":         {"a.dxf", dxf(wire), "a view in three dimensions: 4 of its 12 lines leave the plane"},
		"a tilted circle":         {"a.dxf", dxf(circle(0, 0, 5) + tg(210, 0.7, 220, 0, 230, 0.7)), "a view in three dimensions"},
		"an oblique view":         {"a.dxf", dxf(view), "looks like a view or artwork: its outline is crossed by lines that part it into 30 fields"},
		"circuit artwork":         {"a.dxf", dxf(tracks), "circuit artwork: 20 of its 20 lines are strokes with a width"},
		"loose strokes":           {"a.svg", svgOf(strokes), "250 loose strokes that close to nothing"},
		"a hatched drawing":       {"a.dxf", dxf(hatch), "cross each other nearly everywhere"},
		"binary DXF":              {"a.dxf", "XxxxXXX Binary DXF\r\n\x1a\x00\x00\x00SECTION\x00", "a DXF file in binary form"},
		"a packed archive":        {"a.dxf", "PK\x03\x04rest", "a packed archive"},
		"a page":                  {"a.svg", "%PDF-1.7\n", "a page description"},
		"a picture":               {"a.svg", "\x89PNG\r\n\x1a\n", "a picture made of dots"},
		"UTF-16":                  {"a.svg", "\xff\xfe<\x00s\x00", "written in UTF-16"},
		"words":                   {"a.dxf", "Dear customer,\n", "its name ends in .dxf, but this is no DXF file"},
		"words by another name":   {"a.txt", "Dear customer,\n", "neither a DXF nor an SVG"},
		"numbers":                 {"a.dxf", "12\n13\n14\n15\n", "does not begin with a section"},
		"words between":           {"a.dxf", strings.Replace(whole, "CIRCLE\n", "CIRCLE\nround\n", 1), `line 70 ` + `x`},
		"breaks off in a line":    {"a.dxf", whole[:len(whole)-40], "the file ends within its ENTITIES section"},
		"breaks off after a code": {"a.dxf", section("ENTITIES", box60()) + "0\n", "the file breaks off after a group code"},
		"breaks off at once":      {"a.dxf", "0\nSECTION\n", "a section without a name"},
		"an early end mark":       {"a.dxf", strings.Replace(whole, "ENDSEC", "EOF", 1), "the file ends within its ENTITIES section"},
		"an SVG that breaks off":  {"a.svg", strings.TrimSuffix(svgOf(svg60), "</svg>") + "<path d=\"M0", "the file breaks off before the drawing ends"},
		"an SVG without its end":  {"a.svg", strings.TrimSuffix(svgOf(svg60), "</svg>"), "the file breaks off before the drawing ends"},
		"broken XML":              {"a.svg", "<svg><rect width=5/></svg>", "not valid XML"},
		"not a number":            {"a.dxf", dxf(line(0, 0, 60, 0), strings.Replace(line(1, 2, 3, 4), "20\n2\n", "20\ntwo\n", 1)), `"two" is not a number`},
		"a decimal comma":         {"a.dxf", dxf(strings.Replace(line(1, 2, 3, 4), "20\n2\n", "20\n2,5\n", 1)), "a decimal point, not a comma"},
		"not finite":              {"a.dxf", dxf(strings.Replace(line(1, 2, 3, 4), "20\n2\n", "20\nNaN\n", 1)), `"NaN" is not a number`},
		"infinite":                {"a.dxf", dxf(strings.Replace(line(1, 2, 3, 4), "20\n2\n", "20\n1e999\n", 1)), `"1e999" is not a number`},
		"beyond all":              {"a.dxf", dxf(circle(1e300, 0, 4)), "the file draws no lines"},
		"nothing drawn":           {"a.dxf", dxf(tg(0, "TEXT", 1, "x")), "the file draws no lines, only texts"},
		"nothing drawn in SVG":    {"a.svg", svgOf("<text>x</text>"), "the file draws no lines, only texts"},
		"all hidden":              {"a.svg", svgOf(`<g display="none">` + svg60 + `</g>`), "all that the file draws is hidden"},
		"all hidden at once":      {"a.svg", `<svg display="none">` + svg60 + `</svg>`, "the whole drawing is hidden"},
		"a block within itself":   {"a.dxf", section("BLOCKS", block("a", 0, 0, line(0, 0, 1, 0), insert("a", 1, 1))) + dxf(insert("a", 0, 0)), "blocks lie within blocks more than 16 deep"},
		"a use within itself":     {"a.svg", svgOf(`<g id="a"><rect width="5" height="5"/><use href="#a" x="1"/></g>`), "uses lie within uses more than 16 deep"},
		"path without M":          {"a.svg", svgOf(`<path d="L5 5"/>`), "a path begins with the command M, at character 2"},
		"path that breaks off":    {"a.svg", svgOf(`<path d="M0 0L5"/>`), "L takes 2 numbers, and number 2 is missing"},
		"path with a word":        {"a.svg", svgOf("\n\n" + `<path d="M0 0x5"/>`), `a.svg:3:1: "x" is no path command`},
		"path with a bad flag":    {"a.svg", svgOf(`<path d="M0 0a5 5 0 2 1 3 3"/>`), "a takes 7 numbers, and number 4 is missing"},
		"a transform of no kind":  {"a.svg", svgOf(`<g transform="wobble(5)">` + svg60 + `</g>`), "the transform wobble(5) cannot be read"},
		"a transform to infinity": {"a.svg", svgOf(`<g transform="scale(1e200)"><g transform="scale(1e200)">` + svg60 + `</g></g>`), "blow up beyond all numbers"},
		"points that are odd":     {"a.svg", svgOf(`<polygon points="0,0 5,5 7"/>`), "the points of this polygon cannot be read"},
		"an entity from outside":  {"a.svg", `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>` + svgOf("<title>&x;</title>"), "an entity is used that is not declared as short plain text"},
		"an unknown encoding":     {"a.svg", `<?xml version="1.0" encoding="EBCDIC"?>` + svgOf(svg60), "written in an encoding that cannot be read"},
	} {
		t.Run(name, func(t *testing.T) {
			if name == "words between" {
				// 4 lines of the section and 64 of the outline come before the circle, whose
				// 0 is line 69; line 71 should be a code.
				c.want = `a.dxf:71:1: this is not a DXF file, or it is damaged here: "round" is no group code`
			}
			d, r, err := Read(c.file, []byte(c.text), Options{})
			if err == nil {
				t.Fatalf("it was read: %v", d.Parts)
			}
			var f *Fault
			if !errors.As(err, &f) || f.Message == "" || f.Pos.File != c.file || strings.Contains(f.Message, "\n") {
				t.Errorf("%#v is no fault with its file", err)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("%q, want %q", err, c.want)
			}
			if f.Want == "" && f.Hint == "" {
				t.Errorf("%q says nothing of what to do", err)
			}
			if r == nil {
				t.Error("no report")
			}
		})
	}
}

func TestOptionsAreChecked(t *testing.T) {
	for _, o := range []Options{{Unit: "furlong"}, {Scale: -1}, {Scale: math.NaN()}, {Scale: math.Inf(1)}, {DPI: 1e9}, {EndTolerance: 5}, {CurveTolerance: 1e-9}} {
		if _, _, err := Read("a.dxf", []byte(dxf(box60())), o); err == nil {
			t.Errorf("%+v was taken", o)
		}
	}
}

// Hostile files are stopped by limits, quickly and in bounded memory.
func TestLimits(t *testing.T) {
	bomb := ""
	for i := range 12 { // 10^12 lines
		inner := fmt.Sprintf("b%d", i-1)
		things := line(0, 0, 1, 0)
		if i > 0 {
			things = strings.Repeat(insert(inner, 1, 1), 10)
		}
		bomb += block(fmt.Sprintf("b%d", i), 0, 0, things)
	}
	hollow := strings.Replace(bomb, line(0, 0, 1, 0), "", 1) // 10^11 visits that draw nothing
	uses := `<defs><g id="u0"><path d="M0 0h1"/></g>`
	for i := 1; i < 12; i++ {
		uses += fmt.Sprintf(`<g id="u%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use href="#u%d"/>`, i-1), 10))
	}
	uses += `</defs><use href="#u11"/>`
	rows := section("BLOCKS", block("h", 0, 0, circle(0, 0, 1))) + dxf(insert("h", 0, 0, 70, 32000, 71, 32000, 44, 2, 45, 2))
	long := "" // many upright lines one over another: pairs that all overlap
	for i := range 15_000 {
		long += fmt.Sprintf("M%d.%d 0v100", i/1000, i%1000)
	}
	deep := strings.Repeat("<g>", 200) + strings.Repeat("</g>", 200)
	entities := "<!DOCTYPE svg ["
	for i := range 40 {
		entities += fmt.Sprintf(`<!ENTITY e%d "x">`, i)
	}
	entities += "]>" + svgOf(svg60)
	lol := `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;">]>` + svgOf("<title>&b;</title>"+svg60)
	wild := make([]float64, 3000)
	for i := range wild {
		wild[i] = 100 * math.Sin(float64(i*i))
	}
	knots := []float64{0, 0, 0}
	for i := range 1497 { // 1500 control points of degree 2 need 1503 knots
		knots = append(knots, float64(i+1))
	}
	knots = append(knots, 1498, 1498, 1498)
	for name, c := range map[string]struct {
		text, want string
	}{
		"blocks of blocks":      {section("BLOCKS", bomb) + dxf(insert("b11", 0, 0)), "expands to more than"},
		"blocks of nothing":     {section("BLOCKS", hollow) + dxf(insert("b11", 0, 0)), "expands to more than"},
		"uses of uses":          {svgOf(uses), "expands to more than"},
		"rows and columns":      {rows, "expands to more than"},
		"elements in elements":  {svgOf(deep + svg60), "elements lie within elements more than 64 deep"},
		"many entities":         {entities, "declares more than 32 entities"},
		"entities in entities":  {lol, "an entity is used that is not declared"},
		"long lines":            {svgOf(`<path fill="none" stroke="red" d="` + long + `"/>`), "artwork"},
		"a wild spline":         {dxf(spline(2, 8, knots, wild)), "expands to more than"},
		"more than 16 MiB":      {dxf(box60()) + strings.Repeat("\n", MaxBytes), "over the limit of 16777216 (16 MiB)"},
		"a line of 8 MB":        {"0\nSECTION\n2\nENTITIES\n0\n" + strings.Repeat("X", 8<<20) + "\n", "the file ends within"},
		"8 MB of nothing":       {"0\nSECTION\n2\nENTITIES\n" + strings.Repeat("0\n\n", 8<<20/3), "the file ends within"},
		"a style sheet of 4 MB": {svgOf("<style>" + strings.Repeat("/*", 1<<20) + strings.Repeat(".a{", 1<<20/3) + "</style>"), "the file draws no lines"},
		"a transform of 4 MB":   {svgOf(`<g transform="` + strings.Repeat("scale(1)", 1<<19) + `">` + svg60 + "</g>"), "cannot be read"},
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			_, _, err := Read("hostile", []byte(c.text), Options{})
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
			if err != nil && len(err.Error()) > 600 {
				t.Errorf("a message of %d bytes", len(err.Error()))
			}
			if most := uint64(64<<20 + 500*len(c.text)); after.TotalAlloc-before.TotalAlloc > most {
				t.Errorf("%d bytes were allocated for a file of %d", after.TotalAlloc-before.TotalAlloc, len(c.text))
			}
			if took > 5*time.Second { // a hundred times what it takes on an idle machine
				t.Errorf("it took %v", took)
			}
		})
	}
}
