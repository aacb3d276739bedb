package drawing

import (
	"math"
	"strings"
	"testing"
)

// Every file here is made for one fact of the format; the outline that it must give is
// written beside it.
func TestDXFEntities(t *testing.T) {
	const q = quarterTurn
	plain := square60()
	rounded := want{box: [4]float64{0, 0, 60, 40}, area: round60Area}
	hole := func(x, y float64) want { return square60(holeWant{x, y, 4, 0}) }
	flip := func(s string) string { return s + tg(210, "0", 220, "0", 230, "-1") }
	mirroredBack := func(v []float64) []float64 { // x and sense of the arcs the other way
		out := append([]float64(nil), v...)
		for i := 0; i < len(out); i += 3 {
			out[i], out[i+2] = -out[i], -out[i+2]
		}
		return out
	}
	// The corners' arcs with angles as programs write them: below 0, above 360, ending before
	// they begin.
	corners := func(a, b, c, d [2]float64) string {
		return line(5, 0, 55, 0) + arc(55, 5, 5, a[0], a[1]) + line(60, 5, 60, 35) + arc(55, 35, 5, b[0], b[1]) +
			line(55, 40, 5, 40) + arc(5, 35, 5, c[0], c[1]) + line(0, 35, 0, 5) + arc(5, 5, 5, d[0], d[1])
	}
	for name, c := range map[string]struct {
		text string
		want want
	}{
		"lines in any order and sense":                  {dxf(line(60, 40, 0, 40), line(0, 0, 60, 0), line(0, 0, 0, 40), line(60, 40, 60, 0)), plain},
		"polyline closed by its flag":                   {dxf(lw(1, 0, 0, 0, 60, 0, 0, 60, 40, 0, 0, 40, 0)), plain},
		"polyline closed by a repeated corner":          {dxf(lw(0, 0, 0, 0, 60, 0, 0, 60, 40, 0, 0, 40, 0, 0, 0, 0)), plain},
		"polyline closed by both":                       {dxf(lw(1, 0, 0, 0, 60, 0, 0, 60, 40, 0, 0, 40, 0, 0, 0, 0)), plain},
		"polyline with a corner written three times":    {dxf(lw(1, 0, 0, 0, 60, 0, 0, 60, 0, 0, 60, 0, 0, 60, 40, 0, 0, 40, 0)), plain},
		"polyline with bulges":                          {dxf(lw(1, round60()...)), rounded},
		"polyline with bulges, generated-linetype flag": {dxf(lw(129, round60()...)), rounded},
		"old polyline with bulges":                      {dxf(old(1, round60()...)), rounded},
		"old polyline closed by a repeated corner":      {dxf(old(0, 0, 0, 0, 60, 0, 0, 60, 40, 0, 0, 40, 0, 0, 0, 0)), plain},
		"arcs from 0 to 360":                            {dxf(corners([2]float64{270, 360}, [2]float64{0, 90}, [2]float64{90, 180}, [2]float64{180, 270})), rounded},
		"arcs below 0 and above 360":                    {dxf(corners([2]float64{-90, 0}, [2]float64{360, 450}, [2]float64{-270, -180}, [2]float64{900, 990})), rounded},
		"arcs that end before they begin":               {dxf(corners([2]float64{270, 0}, [2]float64{720, 90}, [2]float64{450, 180}, [2]float64{180, -90})), rounded},
		"an arc of a full turn":                         {dxf(box60(), arc(20, 20, 2, 30, 390)), hole(20, 20)},
		"an arc of more than half a turn":               {dxf(box60(), arc(20, 20, 2, 10, 300), arc(20, 20, 2, 300, 10)), hole(20, 20)},
		"a circle seen from below":                      {dxf(box60(), flip(circle(-20, 10, 4))), hole(20, 10)},
		"a circle seen from below, -0":                  {dxf(box60(), circle(-20, 10, 4)+tg(210, "-0.0", 220, "-0", 230, "-1.0")), hole(20, 10)},
		// The arc from 0° to 90° about (-55, 35) lies, seen from below, from 90° to 180°
		// about (55, 35): a box without a corner's area of 25 and with the quarter disc of
		// radius 5 that ends at (55, 40) and (50, 35).
		"an arc seen from below": {dxf(line(0, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 55, 40), flip(arc(-55, 35, 5, 0, 90)),
			line(50, 35, 0, 35), line(0, 35, 0, 0)), want{box: [4]float64{0, 0, 60, 40}, area: 2400 - 5*50 - (25 - math.Pi*25/4)}},
		"a polyline seen from below":      {dxf(flip(lw(1, mirroredBack(round60())...))), rounded},
		"an old polyline seen from below": {dxf(strings.Replace(old(1, mirroredBack(round60())...), "66\n1\n", "66\n1\n210\n0\n220\n0\n230\n-1\n", 1)), rounded},
		"a line seen from below":          {dxf(flip(line(0, 0, 60, 0)), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0)), plain},
		"an ellipse":                      {dxf(box60(), tg(0, "ELLIPSE", 8, "0", 10, 30, 20, 20, 11, 5, 21, 0, 40, 0.6, 41, 0, 42, 2*math.Pi)), want{box: plain.box, area: 2400 - math.Pi*15, within: 0.005, other: 1}},
		"an ellipse that is a circle":     {dxf(box60(), tg(0, "ELLIPSE", 8, "0", 10, 30, 20, 20, 11, 0, 21, 2, 40, 1, 41, 0, 42, 2*math.Pi)), hole(30, 20)},
		// Half an ellipse of half axes 10 and 20 on the right side: π·10·20/2 more.
		"an arc of an ellipse": {dxf(line(60, 0, 0, 0), line(0, 0, 0, 40), line(0, 40, 60, 40), tg(0, "ELLIPSE", 8, "0", 10, 60, 20, 20, 11, 0, 21, 20, 40, 0.5, 41, math.Pi, 42, 2*math.Pi)),
			want{box: [4]float64{0, 0, 70, 40}, area: 2400 + 100*math.Pi, within: 0.005}},
		// The same seen from below: the minor axis turns round, and so does the sense.
		"an arc of an ellipse seen from below": {dxf(line(60, 0, 0, 0), line(0, 0, 0, 40), line(0, 40, 60, 40), flip(tg(0, "ELLIPSE", 8, "0", 10, 60, 20, 20, 11, 0, 21, 20, 40, 0.5, 41, 0, 42, math.Pi))),
			want{box: [4]float64{0, 0, 70, 40}, area: 2400 + 100*math.Pi, within: 0.005}},
		"text, dimensions, leaders, viewports, solids, hatches": {dxf(box60(), tg(0, "TEXT", 8, "0", 10, 500, 20, 500, 40, 3, 1, "30.5"), tg(0, "MTEXT", 8, "0", 10, 1, 20, 1, 1, "x"),
			tg(0, "DIMENSION", 8, "0", 2, "*D1", 10, 900, 20, 0, 13, 0, 23, 0), tg(0, "LEADER", 8, "0", 10, 1, 20, 1, 10, 700, 20, 1), tg(0, "VIEWPORT", 8, "0", 10, 0, 20, 0),
			tg(0, "3DSOLID", 8, "0", 1, "xyzzy"), tg(0, "HATCH", 8, "0", 10, 0, 20, 0, 10, 300, 20, 300), tg(0, "ACME_THING", 8, "0", 10, 3), circle(20, 20, 4)), hole(20, 20)},
		"things on the paper":    {dxf(box60(), strings.Replace(circle(500, 0, 9), "8\n0\n", "67\n1\n8\n0\n", 1), circle(20, 20, 4)), hole(20, 20)},
		"invisible things":       {dxf(box60(), strings.Replace(circle(500, 0, 9), "8\n0\n", "60\n1\n8\n0\n", 1), circle(20, 20, 4)), hole(20, 20)},
		"a smoothed polyline":    {dxf(box60(), strings.Replace(old(1, 10, 10, 0, 20, 10, 0, 20, 20, 0, 99, 99, 0), "10\n99\n20\n99\n30\n0\n", "70\n16\n10\n99\n20\n99\n30\n0\n", 1)), want{box: plain.box, area: 2400 - 50, other: 1}},
		"numbers with exponents": {dxf(tg(0, "LINE", 8, "0", 10, "0.0E+00", 20, "0e0", 11, "6.0E+01", 21, "0."), tg(0, "LINE", 8, "0", 10, "+60", 20, ".0", 11, "600e-1", 21, "4.E1"), line(60, 40, 0, 40), line(0, 40, 0, 0)), plain},
		"comments between":       {tg(999, "made by hand") + dxf(line(0, 0, 60, 0), tg(999, "0"), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0)), plain},
		"a bulge of half a turn": {dxf(lw(1, 0, 0, 0, 60, 0, 1, 60, 40, 0, 0, 40, 0)), want{box: [4]float64{0, 0, 80, 40}, area: 2400 + 200*math.Pi}},
		"a slot of two bulges":   {dxf(box60(), lw(1, 20, 18, 0, 30, 18, 1, 30, 22, 0, 20, 22, 1)), want{box: plain.box, area: 2400 - 40 - 4*math.Pi, other: 1}},
		"clockwise":              {dxf(lw(1, 0, 0, 0, 0, 40, 0, 60, 40, 0, 60, 0, 0), lw(1, 20, 20, -1, 24, 20, -1)), hole(22, 20)},
		"elevation and colour":   {dxf(strings.Replace(lw(1, round60()...), "70\n1\n", "70\n1\n38\n2.5\n62\n3\n", 1)), rounded},
		"a quarter disc":         {dxf(lw(1, 0, 0, 0, 30, 0, q, 0, 30, 0)), want{box: [4]float64{0, 0, 30, 30}, area: math.Pi * 225}},
	} {
		t.Run(name, func(t *testing.T) { one(t, name, c.text, Options{}, c.want) })
	}
}

// skipCounts: what is left out is counted by kind, and never a reason to fail.
func TestDXFSkipsWithACount(t *testing.T) {
	text := dxf(box60(), tg(0, "TEXT", 1, "a"), tg(0, "TEXT", 1, "b"), tg(0, "MTEXT", 1, "c"), tg(0, "DIMENSION"), tg(0, "LEADER"), tg(0, "VIEWPORT"), tg(0, "3DSOLID"), tg(0, "POINT"),
		tg(0, "CIRCLE", 8, "0", 10, 1, 20, 1))
	_, r := one(t, "skip", text, Options{}, square60())
	for what, n := range map[string]int{"texts": 3, "dimensions": 1, "leaders": 1, "viewports": 1, "solids": 1, "points": 1, "broken: circle without a radius": 1} {
		if got := count(r.Skipped, what); got != n {
			t.Errorf("%d %s, want %d", got, what, n)
		}
	}
	if count(r.Read, "line") != 4 {
		t.Errorf("read %v, want 4 lines", r.Read)
	}
	// Lines of text before the circle: 4 of the section, 4 x 16 of the lines (8 tags each),
	// 3 x 4 of the texts, 5 x 2 of the things of one tag: 90.
	if w := strings.Join(r.Warnings, "\n"); !strings.Contains(w, "broken was left out, the first in line 91") {
		t.Errorf("warnings %q", w)
	}
}

func block(name string, x, y float64, things ...string) string {
	return tg(0, "BLOCK", 8, "0", 2, name, 70, 0, 10, x, 20, y) + strings.Join(things, "") + tg(0, "ENDBLK", 8, "0")
}

func insert(name string, x, y float64, more ...any) string {
	return tg(0, "INSERT", 8, "0", 2, name, 10, x, 20, y) + tg(more...)
}

func TestDXFBlocks(t *testing.T) {
	with := func(blocks, things string) string { return section("BLOCKS", blocks) + dxf(things) }
	// The block "h" is a hole of 2 mm at (7, 3), its base point at (5, 3): the hole stands 2 to
	// the right of the point of insertion.
	h := block("h", 5, 3, circle(7, 3, 2))
	hole := func(x, y, d float64) want { return square60(holeWant{x, y, d, 0}) }
	for name, c := range map[string]struct {
		text string
		want want
	}{
		"base point":                  {with(h, box60()+insert("h", 20, 20)), hole(22, 20, 2)},
		"name in other letters":       {with(h, box60()+insert("H", 20, 20)), hole(22, 20, 2)},
		"scale":                       {with(h, box60()+insert("h", 20, 20, 41, 2, 42, 2)), hole(24, 20, 4)},
		"turn":                        {with(h, box60()+insert("h", 20, 20, 50, 90)), hole(20, 22, 2)},
		"scale and turn":              {with(h, box60()+insert("h", 20, 20, 41, 3, 42, 3, 50, 180)), hole(14, 20, 6)},
		"mirrored by a negative size": {with(h, box60()+insert("h", 20, 20, 41, -1, 42, 1)), hole(18, 20, 2)},
		// From below: x of all that is inserted runs the other way, turn and place too.
		"mirrored by its direction": {with(h, box60()+insert("h", -20, 20, 210, 0, 220, 0, 230, -1)), hole(18, 20, 2)},
		"in rows and columns": {with(h, box60()+insert("h", 10, 10, 70, 3, 71, 2, 44, 15, 45, 20)),
			square60(holeWant{12, 10, 2, 0}, holeWant{27, 10, 2, 0}, holeWant{42, 10, 2, 0}, holeWant{12, 30, 2, 0}, holeWant{27, 30, 2, 0}, holeWant{42, 30, 2, 0})},
		// "g" holds "h" turned by 90° at (1, 0): its hole at (1, 2). Doubled and put at (30, 10).
		"nested": {with(h+block("g", 0, 0, insert("h", 1, 0, 50, 90)), box60()+insert("g", 30, 10, 41, 2, 42, 2)), hole(32, 14, 4)},
		"the whole plate": {with(block("plate", 100, 100, line(100, 100, 160, 100), line(160, 100, 160, 140), line(160, 140, 100, 140), line(100, 140, 100, 100), circle(120, 120, 5)), insert("plate", 0, 0)),
			hole(20, 20, 5)},
		"a squeezed arc is an ellipse": {with(h, box60()+insert("h", 20, 20, 41, 4, 42, 2)), want{box: [4]float64{0, 0, 60, 40}, area: 2400 - math.Pi*8, within: 0.005, other: 1}},
		"a block that is missing":      {dxf(box60(), insert("nothing", 1, 1)), square60()},
		"with words":                   {with(h, box60()+insert("h", 20, 20, 66, 1)+tg(0, "ATTRIB", 1, "R1")+tg(0, "SEQEND")), hole(22, 20, 2)},
		"polyline in a block":          {with(block("p", 0, 0, old(1, 0, 0, 0, 60, 0, 0, 60, 40, 0, 0, 40, 0)), insert("p", 0, 0)), square60()},
	} {
		t.Run(name, func(t *testing.T) { one(t, name, c.text, Options{}, c.want) })
	}
}

func onLayer(layer, s string) string { return strings.Replace(s, "\n8\n0\n", "\n8\n"+layer+"\n", 1) }

func TestDXFLayers(t *testing.T) {
	layer := func(name string, colour, flags int) string { return tg(0, "LAYER", 2, name, 70, flags, 62, colour) }
	tables := section("TABLES", tg(0, "TABLE", 2, "LAYER", 70, 3), layer("Off", -3, 0), layer("cold", 3, 1), layer("on", 3, 0), layer("locked", 3, 4), tg(0, "ENDTAB"))
	far := circle(300, 300, 5)
	for name, c := range map[string]struct {
		text string
		opt  Options
		want want
	}{
		"off":                           {tables + dxf(box60(), onLayer("off", far)), Options{}, square60()},
		"frozen":                        {tables + dxf(box60(), onLayer("COLD", far)), Options{}, square60()},
		"locked layers are shown":       {tables + dxf(box60(), onLayer("locked", circle(20, 20, 4))), Options{}, square60(holeWant{20, 20, 4, 0})},
		"a layer that no table names":   {tables + dxf(box60(), onLayer("new", circle(20, 20, 4))), Options{}, square60(holeWant{20, 20, 4, 0})},
		"layer 0 of a block is its own": {tables + section("BLOCKS", block("b", 0, 0, far)) + dxf(box60(), onLayer("off", insert("b", 0, 0))), Options{}, square60()},
		"a block on a layer that is off shows the rest": {tables + section("BLOCKS", block("b", 0, 0, far, onLayer("on", circle(20, 20, 4)))) + dxf(box60(), onLayer("off", insert("b", 0, 0))),
			Options{}, square60(holeWant{20, 20, 4, 0})},
		"a frozen block shows nothing": {tables + section("BLOCKS", block("b", 0, 0, onLayer("on", far))) + dxf(box60(), onLayer("cold", insert("b", 0, 0))), Options{}, square60()},
		"only what was asked for":      {dxf(box60(), onLayer("notes", far), onLayer("Holes", circle(20, 20, 4))), Options{Layers: []string{"0", "holes"}}, square60(holeWant{20, 20, 4, 0})},
		"engraving is not cut":         {dxf(box60(), onLayer("Engraving", line(10, 10, 50, 10))), Options{}, square60()},
		"bytes of any code page":       {dxf(box60(), onLayer("L\xf6cher \xb5", circle(20, 20, 4)), tg(0, "TEXT", 1, "\xd8 5 \xff\xfe")), Options{}, square60(holeWant{20, 20, 4, 0})},
	} {
		t.Run(name, func(t *testing.T) {
			_, r := one(t, name, c.text, c.opt, c.want)
			if name == "bytes of any code page" && count(r.Layers, "Löcher µ") != 2 {
				t.Errorf("layers %v, want two half circles on Löcher µ", r.Layers)
			}
		})
	}
}

func TestDXFText(t *testing.T) {
	text := dxf(box60(), circle(20, 20, 4))
	padded := func(s string) string {
		lines := strings.Split(strings.TrimSuffix(s, "\n"), "\n")
		for i := 0; i < len(lines); i += 2 {
			lines[i] = strings.Repeat(" ", 6-len(lines[i])) + lines[i]
			lines[i+1] = "  " + lines[i+1] + " \t"
		}
		return strings.Join(lines, "\n") + "\n"
	}
	for name, s := range map[string]string{
		"LF":                   text,
		"CR LF":                strings.ReplaceAll(text, "\n", "\r\n"),
		"CR":                   strings.ReplaceAll(text, "\n", "\r"),
		"padded codes":         padded(text),
		"a byte order mark":    "\xef\xbb\xbf" + text,
		"no last line end":     strings.TrimSuffix(text, "\n"),
		"blank lines at end":   text + "\n\n  \n",
		"an old end mark":      text + "\x1a",
		"small letters":        strings.NewReplacer("SECTION", "section", "ENTITIES", "entities", "CIRCLE", "Circle", "EOF", "eof").Replace(text),
		"a header in between":  section("HEADER", tg(9, "$ACADVER", 1, "AC1009", 9, "$EXTMIN", 10, 1e20, 20, 1e20, 30, 1e20, 9, "$EXTMAX", 10, -1e20, 20, -1e20, 30, -1e20)) + text,
		"classes and objects":  section("CLASSES", tg(0, "CLASS", 1, "X")) + section("ENTITIES", box60(), circle(20, 20, 4)) + section("OBJECTS", tg(0, "DICTIONARY", 5, "C", 3, "X")) + tg(0, "EOF"),
		"no end mark":          section("ENTITIES", box60(), circle(20, 20, 4)),
		"text after the end":   text + "hello",
		"two entities section": section("ENTITIES", box60()) + section("ENTITIES", circle(20, 20, 4)) + tg(0, "EOF"),
	} {
		t.Run(name, func(t *testing.T) { one(t, name, s, Options{}, square60(holeWant{20, 20, 4, 0})) })
	}
}

// Units: a header's word is a hint, the builder's word wins, and the size found is told.
func TestDXFUnits(t *testing.T) {
	inches := func(u int) string {
		k := 1 / 25.4
		return dxfIn(u, line(0, 0, 60*k, 0), line(60*k, 0, 60*k, 40*k), line(60*k, 40*k, 0, 40*k), line(0, 40*k, 0, 0), circle(20*k, 20*k, 4*k))
	}
	mm := func(u int) string { return dxfIn(u, box60(), circle(20, 20, 4)) }
	half := dxfIn(1, lw(1, 0, 0, 0, 30/25.4, 0, 0, 30/25.4, 20/25.4, 0, 0, 20/25.4, 0), circle(10/25.4, 10/25.4, 2/25.4))
	want := square60(holeWant{20, 20, 4, 0})
	for name, c := range map[string]struct {
		text string
		opt  Options
		unit string
	}{
		"inches by the header":                  {inches(1), Options{}, "in"},
		"inches by the builder":                 {inches(4), Options{Unit: "in"}, "in"},
		"inches by a scale":                     {inches(0), Options{Scale: 25.4}, "mm"},
		"no word of a unit":                     {mm(0), Options{}, "mm"},
		"says inch, holds mm":                   {mm(1), Options{Unit: "mm"}, "mm"},
		"says inch and drawn at half size":      {half, Options{Scale: 2}, "in"},
		"centimetres":                           {dxfIn(5, lw(1, 0, 0, 0, 6, 0, 0, 6, 4, 0, 0, 4, 0), circle(2, 2, 0.4)), Options{}, "cm"},
		"a unit that no plate is drawn in":      {mm(13), Options{}, "mm"},
		"metres by the builder, header in feet": {dxfIn(2, lw(1, 0, 0, 0, .06, 0, 0, .06, .04, 0, 0, .04, 0), circle(.02, .02, .004)), Options{Unit: "m"}, "m"},
	} {
		t.Run(name, func(t *testing.T) {
			_, r := one(t, name, c.text, c.opt, want)
			if r.Unit != c.unit || math.Abs(r.Size.X-60) > 1e-6 || math.Abs(r.Size.Y-40) > 1e-6 {
				t.Errorf("unit %s, size %v, want %s and 60 x 40", r.Unit, r.Size, c.unit)
			}
		})
	}
	t.Run("wrong by 25.4 is warned of", func(t *testing.T) {
		// 60 in are 1524 mm; as mm the plate is 60 mm long.
		_, r := mustRead(t, "big", mm(1), Options{})
		if w := strings.Join(r.Warnings, "\n"); !strings.Contains(w, "1524 x 1016 mm, over 1 m") || !strings.Contains(w, "in mm it would be 60 mm long") {
			t.Errorf("warnings %q", w)
		}
	})
	t.Run("too small is warned of", func(t *testing.T) {
		// 60/25.4 = 2.362 mm.
		_, r := mustRead(t, "small", inches(4), Options{})
		w := strings.Join(r.Warnings, "\n")
		if !strings.Contains(w, "2.362 x 1.575 mm, under 10 mm") || !strings.Contains(w, "in inch it would be 60 mm long") || !strings.Contains(w, "1 round hole under 1 mm, the first of 0.157 mm") {
			t.Errorf("warnings %q", w)
		}
	})
}
