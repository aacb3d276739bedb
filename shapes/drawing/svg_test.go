package drawing

import (
	"math"
	"strings"
	"testing"
)

// svgOf wraps shapes into a drawing of 100 x 100 mm whose user unit is 1 mm.
func svgOf(shapes string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100">` + shapes + "</svg>"
}

// svg60 is the box of 60 x 40 with its upper left corner at the origin of the page, so that
// it reaches from y = -40 to 0 when y points up.
const svg60 = `<rect width="60" height="40"/>`

func down60(holes ...holeWant) want {
	w := square60(holes...)
	w.box = [4]float64{0, -40, 60, 0}
	return w
}

func TestSVGShapes(t *testing.T) {
	plain := down60()
	hole := down60(holeWant{20, -20, 4, 0})
	rounded := want{box: plain.box, area: round60Area}
	other := func(area, within float64) want {
		return want{box: plain.box, area: 2400 - area, within: within, other: 1}
	}
	for name, c := range map[string]struct {
		text string
		want want
	}{
		"rectangle":           {svg60, plain},
		"rounded rectangle":   {`<rect width="60" height="40" rx="5"/>`, rounded},
		"rounded by ry alone": {`<rect width="60" height="40" ry="5"/>`, rounded},
		// rx is cut to 10, ry stays 2: an ellipse of 20 x 4.
		"radius more than half":             {svg60 + `<rect x="10" y="10" width="20" height="4" rx="50" ry="2"/>`, other(20*math.Pi, 0.005)},
		"circle":                            {svg60 + `<circle cx="20" cy="20" r="2"/>`, hole},
		"ellipse":                           {svg60 + `<ellipse cx="30" cy="20" rx="5" ry="3"/>`, other(15*math.Pi, 0.005)},
		"ellipse that is a circle":          {svg60 + `<ellipse cx="20" cy="20" rx="2" ry="2"/>`, hole},
		"polygon":                           {`<polygon points="0,0 60,0 60,40 0,40"/>`, plain},
		"polygon, glued numbers":            {`<polygon points="0-0,60-0 60 40-0+40"/>`, plain},
		"polyline closed by its last point": {`<polyline fill="none" stroke="red" points="0,0 60,0 60,40 0,40 0,0"/>`, plain},
		"lines":                             {`<g stroke="black"><line x2="60"/><line x1="60" x2="60" y2="40"/><line x1="60" y1="40" y2="40"/><line y2="40"/></g>`, plain},
		"path, absolute":                    {`<path d="M0,0 L60,0 L60,40 L0,40 Z"/>`, plain},
		"path, relative":                    {`<path d="m0 0l60 0l0 40l-60 0z"/>`, plain},
		"path, lines without a letter":      {`<path d="M0 0 60 0 60 40 0 40z"/>`, plain},
		"path, relative without a letter":   {`<path d="m0 0 60 0 0 40-60 0z"/>`, plain},
		"path, H and V":                     {`<path d="M0 0H60V40H0V0"/>`, plain},
		"path, h and v, glued":              {`<path d="M0,0h60v40h-60z"/>`, plain},
		"path, several runs":                {`<path d="M0 0h60v40h-60zM20 18a2 2 0 0 1 0 4a2 2 0 0 1 0-4z"/>`, hole},
		"path, going on after z":            {`<path d="M0 0h60v40h-60z m20 18a2 2 0 0 1 0 4 2 2 0 0 1 0-4z"/>`, hole},
		// After z the pen stands at (0, 0): the second run is the triangle of 10 x 10.
		"path, a run from the start after z": {`<path d="M5 5h50v30h-50z l0 0"/><rect width="60" height="40"/>`, want{box: plain.box, area: 2400 - 1500, other: 1}},
		"path, closed without Z":             {`<path fill="none" stroke="#000" d="M0 0h60v40h-60v-40M20 18a2 2 0 0 1 0 4a2 2 0 0 1 0-4"/>`, hole},
		"path, filled and left open":         {`<path d="M0 0h60v40h-60"/>`, plain},
		"arcs, flags glued":                  {`<path d="M0 5a5 5 0 015-5h50a5,5 0 015,5v30a5 5 0 01-5 5h-50a5 5 0 01-5-5z"/>`, rounded},
		"arcs, flags and numbers glued":      {`<path d="M0 5A5 5 0 015 0H55A5 5 0 0160 5V35A5 5 0 0155 40H5A5 5 0 010 35Z"/>`, rounded},
		"arcs, all of it glued":              {svg60 + `<path d="M20 18a2 2 0 110 4 2 2 0 110-4z"/>`, hole},
		"arcs, large ones":                   {svg60 + `<path d="M22 20A2 2 0 1 0 20 22A2 2 0 0 0 22 20Z"/>`, hole},
		"arcs, against the clock":            {svg60 + `<path d="M18 20A2 2 0 0 0 22 20A2 2 0 0 0 18 20Z"/>`, hole},
		"arcs, radius too small":             {svg60 + `<path d="M18 20A1 1 0 0 0 22 20A1 1 0 0 0 18 20Z"/>`, hole},
		"arcs, no radius":                    {`<path d="M0 0A0 5 0 0 1 60 0V40H0Z"/>`, plain},
		"arcs of an ellipse":                 {svg60 + `<path d="M25 20A5 3 0 0 0 35 20A5 3 0 0 0 25 20Z"/>`, other(15*math.Pi, 0.005)},
		"arcs of a turned ellipse":           {svg60 + `<path d="M30 15A5 3 90 0 0 30 25A5 3 90 0 0 30 15Z"/>`, other(15*math.Pi, 0.005)},
		// A cubic arch over w with both control points h above its ends: y = 3hu(1-u) and dx =
		// 6wu(1-u)du give the area 18hw/30 = 0.6·10·20 = 120. The mirrored arch takes the same
		// from the rectangle of 40 x 15 below. With the first control point at the end itself,
		// y = 3hu²(1-u), it is 18hw·3!2!/6! = 0.3hw = 60.
		"C and S":              {svg60 + `<path d="M10 20C10 10 30 10 30 20S50 30 50 20V35H10Z"/>`, other(600, 0.005)},
		"c and s":              {svg60 + `<path d="m10 20c0-10 20-10 20 0s20 10 20 0v15h-40z"/>`, other(600, 0.005)},
		"S without a C before": {svg60 + `<path d="M10 20S30 10 30 20Z"/>`, other(60, 0.005)},
		// A parabola over 20 with its control point 10 high: 2/3·(20·10/2) = 66.667, once more
		// and once less.
		"Q and T":                   {svg60 + `<path d="M10 20Q20 10 30 20T50 20V35H10Z"/>`, other(600, 0.005)},
		"q and t":                   {svg60 + `<path d="m10 20q10-10 20 0t20 0v15h-40z"/>`, other(600, 0.005)},
		"Q alone":                   {svg60 + `<path d="M10 20Q20 10 30 20Z"/>`, other(200.0/3, 0.005)},
		"C alone":                   {svg60 + `<path d="M10 20C10 10 30 10 30 20Z"/>`, other(120, 0.005)},
		"T without a Q before":      {svg60 + `<path d="M10 20T30 20V30H10Z"/>`, other(200, 0)},
		"strokes repeated as fills": {svg60 + `<rect width="60" height="40" fill="none" stroke="black"/>` + `<path d="M60 40H0V0H60Z" stroke="red" fill="none"/>`, plain},
		"a closed cubic circle":     {svg60 + `<path d="M22 20c0 1.1046-.8954 2-2 2s-2-.8954-2-2 .8954-2 2-2 2 .8954 2 2z"/>`, want{box: plain.box, area: hole.area, within: 0.002, round: hole.round}},
		"a countersink":             {svg60 + `<circle cx="20" cy="20" r="1.6"/><circle cx="20" cy="20" r="3"/>`, down60(holeWant{20, -20, 3.2, 6})},
		"lengths with units":        {svg60 + `<circle cx="20" cy="20" r="2%"/>`, hole},
	} {
		t.Run(name, func(t *testing.T) {
			one(t, name, svgOf(c.text), Options{}, c.want)
		})
	}
}

func TestSVGTree(t *testing.T) {
	hole := down60(holeWant{20, -20, 4, 0})
	c := `<circle cx="20" cy="20" r="2"/>`
	for name, s := range map[string]struct {
		text string
		want want
	}{
		"nested transforms":      {svg60 + `<g transform="translate(10,5)"><g transform="scale(2)"><circle cx="5" cy="7.5" r="1"/></g></g>`, hole},
		"a list of transforms":   {svg60 + `<circle r="1" transform="translate(20 20) , rotate(30) scale(2)"/>`, hole},
		"rotation about a point": {svg60 + `<circle cx="40" cy="20" r="2" transform="rotate(180 30,20)"/>`, hole},
		"a mirror":               {svg60 + `<g transform="scale(-1,1)"><circle cx="-20" cy="20" r="2"/></g>`, hole},
		"a matrix":               {svg60 + `<circle cx="1" cy="2" r="1" transform="matrix(0 2 -2 0 24 18)"/>`, hole},
		"a mirrored outline":     {`<g transform="matrix(-1 0 0 1 60 0)"><path d="M0 5a5 5 0 015-5h50a5,5 0 015,5v30a5 5 0 01-5 5h-50a5 5 0 01-5-5z"/></g>`, want{box: [4]float64{0, -40, 60, 0}, area: round60Area}},
		"a squeezed circle":      {svg60 + `<circle cx="10" cy="20" r="2" transform="scale(2,1)"/>`, want{box: hole.box, area: 2400 - 8*math.Pi, within: 0.005, other: 1}},
		// A sheared square keeps its area: 10 x 10.
		"skew":                  {svg60 + `<rect x="10" y="10" width="10" height="10" transform="skewX(20)"/>`, want{box: hole.box, area: 2300, other: 1}},
		"use of a definition":   {`<defs><circle id="h" cx="5" cy="5" r="2"/></defs>` + svg60 + `<use href="#h" x="15" y="15"/>`, hole},
		"use by the old name":   {svg60 + `<use xlink:href="#h" transform="translate(15,15)"/><defs><g id="h"><circle cx="5" cy="5" r="2"/></g></defs>`, hole},
		"use of a symbol":       {svg60 + `<symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="1"/></symbol><use href="#s" x="10" y="10" width="20" height="20"/>`, hole},
		"use of a use":          {svg60 + `<defs><circle id="h" r="2"/><use id="k" href="#h" x="10"/></defs><use href="#k" x="10" y="20"/>`, hole},
		"use of nothing":        {svg60 + c + `<use href="#none"/><use href="other.svg#x"/>`, hole},
		"what is not drawn":     {svg60 + c + `<defs>` + c + `</defs><symbol><rect width="9" height="9" x="70"/></symbol><marker><rect width="9" height="9" x="70"/></marker><clipPath><rect width="90" height="90"/></clipPath><mask><rect width="90" height="90"/></mask><pattern><rect width="90" height="90"/></pattern><linearGradient/><metadata>x</metadata>`, hole},
		"text and pictures":     {svg60 + c + `<text x="1" y="5">M3</text><image href="x.png" width="50" height="50"/><foreignObject/>`, hole},
		"display none":          {svg60 + c + `<rect x="70" width="9" height="9" display="none"/><g style="fill:red;display:none"><rect x="80" width="9" height="9"/></g>`, hole},
		"a hidden layer":        {svg60 + c + `<g id="layer2" style="display:none"><rect x="80" width="9" height="9"/></g>`, hole},
		"visibility":            {`<g visibility="hidden"><rect x="80" width="9" height="9"/><g style="visibility: visible">` + svg60 + c + `</g></g>`, hole},
		"hidden by a class":     {`<style>/* a, b {*/ .off, .gone { display : none } .x{fill:none}</style>` + svg60 + c + `<rect class="x off" x="70" width="9" height="9"/>`, hole},
		"hidden by its name":    {`<style>#frame{display:none} text{fill:red}</style>` + svg60 + c + `<rect id="frame" width="100" height="100"/>`, hole},
		"neither fill nor line": {svg60 + c + `<rect width="100" height="100" fill="none"/><rect width="99" height="99" style="fill:none;stroke:none"/>`, hole},
		"an engraving":          {svg60 + c + `<g id="engraving" stroke="red"><line x1="5" y1="5" x2="55" y2="5"/></g>`, hole},
		"an inner svg":          {svg60 + `<svg x="10" y="10" width="20" height="20" viewBox="0 0 10 10"><circle cx="5" cy="5" r="1"/></svg>`, hole},
		"unknown elements":      {svg60 + c + `<sodium x="1"><rect x="80" width="9" height="9"/></sodium>`, hole},
	} {
		t.Run(name, func(t *testing.T) { one(t, name, svgOf(s.text), Options{}, s.want) })
	}
}

func TestSVGLayers(t *testing.T) {
	text := svgOf(`<g id="g1" label="Cut"><g id="inner">` + svg60 + `</g></g><g label="Holes"><circle cx="20" cy="20" r="2"/></g><g label="Notes"><rect x="70" width="9" height="9"/></g>`)
	one(t, "layers", text, Options{Layers: []string{"inner", "HOLES"}}, down60(holeWant{20, -20, 4, 0}))
	_, _, err := Read("layers", []byte(text), Options{Layers: []string{"nothing"}})
	if err == nil || !strings.Contains(err.Error(), "nothing is drawn on the layers asked for") {
		t.Errorf("%v", err)
	}
}

// The same plate of 60 x 40 mm in all the ways to give a size.
func TestSVGUnits(t *testing.T) {
	// k is how many user units are a mm; box and hole are drawn in them.
	body := func(k float64) string {
		f := func(v float64) string { return num(v * k) }
		return `<rect width="` + f(60) + `" height="` + f(40) + `"/><circle cx="` + f(20) + `" cy="` + f(20) + `" r="` + f(2) + `"/>`
	}
	doc := func(attrs string, k float64) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" ` + attrs + `>` + body(k) + `</svg>`
	}
	want := down60(holeWant{20, -20, 4, 0})
	for name, c := range map[string]struct {
		text string
		opt  Options
	}{
		"mm":                             {doc(`width="80mm" height="60mm" viewBox="0 0 80 60"`, 1), Options{}},
		"mm, viewBox in tenths":          {doc(`width="80mm" height="60mm" viewBox="0,0,800,600"`, 10), Options{}},
		"cm":                             {doc(`width="8cm" height="6cm" viewBox="0 0 80 60"`, 1), Options{}},
		"in":                             {doc(`width="4in" height="3in" viewBox="0 0 4 3"`, 1/25.4), Options{}},
		"pt, viewBox of the same number": {doc(`width="288pt" height="216pt" viewBox="0 0 288 216"`, 72/25.4), Options{}},
		"px":                             {doc(`width="384px" height="288px"`, 96/25.4), Options{}},
		"px and viewBox":                 {doc(`width="768px" height="576px" viewBox="0 0 384 288"`, 48/25.4), Options{}},
		"unitless":                       {doc(`width="384" height="288"`, 96/25.4), Options{}},
		"percent and viewBox":            {doc(`width="100%" height="100%" viewBox="0 0 384 288"`, 96/25.4), Options{}},
		"no size, viewBox":               {doc(`viewBox="0 0 384 288"`, 96/25.4), Options{}},
		"no size at all":                 {doc(``, 96/25.4), Options{}},
		"mm without viewBox: px":         {doc(`width="80mm" height="60mm"`, 96/25.4), Options{}},
		"width alone":                    {doc(`width="80mm" viewBox="0 0 80 60"`, 1), Options{}},
		"height alone":                   {doc(`height="60mm" viewBox="0 0 80 60"`, 1), Options{}},
		"90 dpi":                         {doc(`width="400" height="300"`, 90/25.4), Options{DPI: 90}},
		"72 dpi":                         {doc(`viewBox="0 0 400 300"`, 72/25.4), Options{DPI: 72}},
		"90 dpi does not touch mm":       {doc(`width="80mm" height="60mm" viewBox="0 0 80 60"`, 1), Options{DPI: 90}},
		"the builder's unit":             {doc(`width="400" height="300" viewBox="0 0 400 300"`, 1), Options{Unit: "mm"}},
		"the builder's unit and scale":   {doc(`width="80mm" height="60mm" viewBox="0 0 8 6"`, 0.05), Options{Unit: "cm", Scale: 2}},
		"a viewBox off the origin":       {doc(`width="80mm" height="60mm" viewBox="-10 -10 80 60"`, 1), Options{}},
	} {
		t.Run(name, func(t *testing.T) {
			_, r := one(t, name, c.text, c.opt, want)
			if math.Abs(r.Size.X-60) > 1e-6 || r.Unit == "" || r.UnitFrom == "" {
				t.Errorf("report %q", r.Lines())
			}
		})
	}
}

// How a viewBox is fitted into a size of another form. Stretched, 80 x 60 units on 60 x 80 mm are 3/4 mm across and 4/3 mm
// down; an ellipse then is a circle.
func TestSVGAspect(t *testing.T) {
	whole := `<rect width="60" height="40"/><circle cx="20" cy="20" r="2"/>`
	squeezed := `<rect width="80" height="30"/><ellipse cx="26.666666667" cy="15" rx="2.666666667" ry="1.5"/>`
	for name, text := range map[string]string{
		"stretched":           `<svg width="60mm" height="80mm" viewBox="0 0 80 60" preserveAspectRatio="none">` + squeezed + `</svg>`,
		"stretched, in px":    `<svg width="226.7716535" height="302.3622047" viewBox="0 0 80 60" preserveAspectRatio="defer none">` + squeezed + `</svg>`,
		"inside":              `<svg width="80mm" height="200mm" viewBox="0 0 80 60" preserveAspectRatio="xMinYMin meet">` + whole + `</svg>`,
		"covering":            `<svg width="80mm" height="40mm" viewBox="0 0 80 60" preserveAspectRatio="xMidYMid slice">` + whole + `</svg>`,
		"the word alone":      `<svg width="80mm" preserveAspectRatio="none" viewBox="0 0 80 60">` + whole + `</svg>`,
		"an inner one":        svgOf(`<svg width="60" height="80" viewBox="0 0 80 60" preserveAspectRatio="none">` + squeezed + `</svg>`),
		"an inner one, slice": svgOf(`<svg width="80" height="60" viewBox="0 0 80 60" preserveAspectRatio="xMidYMid slice">` + whole + `</svg>`),
	} {
		t.Run(name, func(t *testing.T) { one(t, name, text, Options{}, down60(holeWant{20, -20, 4, 0})) })
	}
}

// A page that is a standard sheet at another resolution is told: A4 is 210 x 297 mm, at 90
// dpi 744.09 x 1052.36 px, at 72 dpi 595.28 x 841.89 px.
func TestSVGResolutionHint(t *testing.T) {
	for _, c := range []struct {
		attrs string
		dpi   float64
		hint  string
	}{
		{`width="744.09448" height="1052.3622"`, 0, "A4 sheet at 90 dpi"},
		{`width="841.89" height="595.28" viewBox="0 0 841.89 595.28"`, 0, "A4 sheet at 72 dpi"},
		{`viewBox="0 0 612 792"`, 0, "letter sheet at 72 dpi"},
		{`width="793.7" height="1122.5"`, 0, ""},
		{`width="744.09448" height="1052.3622"`, 90, ""},
		{`width="500" height="400"`, 0, ""},
	} {
		_, r := mustRead(t, "hint", `<svg `+c.attrs+`><rect width="300" height="200"/></svg>`, Options{DPI: c.dpi})
		w := strings.Join(r.Warnings, "\n")
		if c.hint == "" && strings.Contains(w, "dpi") || !strings.Contains(w, c.hint) {
			t.Errorf("%s at %g dpi: warnings %q, want %q", c.attrs, c.dpi, w, c.hint)
		}
	}
}

func TestSVGText(t *testing.T) {
	hole := down60(holeWant{20, -20, 4, 0})
	body := svg60 + `<circle cx="20" cy="20" r="2"/>`
	for name, s := range map[string]string{
		"with a head":     `<?xml version="1.0" encoding="UTF-8" standalone="no"?><!-- a plate -->` + "\n" + svgOf(body),
		"latin-1":         `<?xml version="1.0" encoding="ISO-8859-1"?>` + svgOf("<title>Tr\xe4ger \xb5</title>"+body),
		"windows-1252":    `<?xml version="1.0" encoding="windows-1252"?>` + svgOf("<title>\x93Tr\xe4ger\x94</title>"+body),
		"a document type": `<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">` + svgOf(body),
		"namespaces as entities": `<!DOCTYPE svg [ <!ENTITY ns "http://www.w3.org/2000/svg"> <!ENTITY st 'fill:none;stroke:red'> ]>` +
			strings.Replace(strings.Replace(svgOf(body), "http://www.w3.org/2000/svg", "&ns;", 1), "<rect", `<rect style="&st;"`, 1),
		"a prefix":          `<s:svg xmlns:s="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><s:rect width="60" height="40"/><s:circle cx="20" cy="20" r="2"/></s:svg>`,
		"CDATA":             svgOf("<style><![CDATA[ .a{fill:red} ]]></style>" + body),
		"CR LF":             strings.ReplaceAll(svgOf("\n"+body+"\n"), "\n", "\r\n"),
		"a byte order mark": "\xef\xbb\xbf" + svgOf(body),
	} {
		t.Run(name, func(t *testing.T) { one(t, name, s, Options{}, hole) })
	}
}
