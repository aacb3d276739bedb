package shapes

import (
	"fmt"
	"strings"
	"testing"

	"dryfit/shapes/read"
)

// own reads the parts of a build over the catalogue.
func own(t testing.TB, text string) (*Library, *read.Diags) {
	t.Helper()
	root, ds := read.Load("b.yaml", []byte(text))
	if root == nil {
		t.Fatal(ds)
	}
	return builtin(t).With(ds, PartEntries(ds, root)), ds
}

const head = "dryfit: 1\nparts:\n"

// TestDecodeMistakes: each text holds one mistake, found once, at the place and with the
// words given.
func TestDecodeMistakes(t *testing.T) {
	cases := []struct {
		name, part string // the part's lines begin on line 3, four blanks in
		line, col  int
		say, hint  string
	}{
		{"no kind", "  x:\n    mass: 3\n", 4, 5, "needs `kind:` or `like:`", "like"},
		{"unknown kind", "  x:\n    kind: motr\n", 4, 11, `"motr" is not one of the choices`, "did you mean motor?"},
		{"not a map", "  x: 12\n", 3, 6, "a map of keys and values", ""},
		{"unknown like", "  x: {like: motor-2208}\n", 3, 13, `"motor-2208" is not a part`, "did you mean motor-2"},
		{"kind against like", "  x: {like: motor-2207, kind: prop}\n", 3, 31, "which is a motor, not a prop", "delete"},
		{"like in a circle", "  x: {like: y}\n  y: {like: x}\n", 4, 13, "runs in a circle: x is like y is like x", ""},
		{"bad name", "  My_Board: {like: controller-20}\n", 3, 3, `"My_Board" is not a name`, "write my-board"},
		{"unknown key", "  x: {like: controller-20, abve: 3}\n", 3, 28, `"abve" is not a key of a controller`, "did you mean above?"},
		{"key of another kind", "  x: {like: controller-20, bell: 3}\n", 3, 28, `"bell" is not a key of a controller`, ""},
		{"unit of another kind", "  x: {like: controller-20, above: 3 V}\n", 3, 35, "is a voltage (V); a length is wanted here", "mm, cm, m or in"},
		{"negative size", "  x: {like: controller-20, above: -3}\n", 3, 35, "out of range", "without the minus"},
		{"nan", "  x: {like: controller-20, mass: .nan}\n", 3, 34, "not a finite number", "unknown"},
		{"leading zero", "  x: {like: controller-20, mass: 010}\n", 3, 34, "leading zero", "write 10"},
		{"tolerance over value", "  x: {like: controller-20, above: 3 ±5}\n", 3, 35, "runs from -2 to 8", "check the tolerance"},
		{"empty value", "  x: {like: controller-20, above: }\n", 3, 35, "not nothing", ""},
		{"list for a length", "  x: {like: controller-20, above: [3]}\n", 3, 35, "not a list", ""},
		{"too large", "  x: {like: esc-20a, length: 3 m}\n", 3, 30, "out of range", ""},
		{"size as a cross", "  x: {kind: controller, size: 37x37, square: 30.5}\n", 3, 31, `"37x37" is not a size`, "write [37, 37]"},
		{"size too short", "  x: {kind: block, size: [10, 4]}\n", 3, 26, "list of 3 lengths", ""},
		{"no size", "  x: {kind: controller, square: 30.5}\n", 3, 6, "needs a size", "measure"},
		{"corner too round", "  x: {kind: controller, size: [30, 20], corner: 11}\n", 3, 49, "does not fit", ""},
		{"height of a board", "  x: {like: controller-20, height: 7}\n", 3, 28, "a board has no `height:`", "above"},
		{"board with a circle", "  x: {like: controller-20, circle: 16}\n", 3, 28, "holes in a square", "circle: 16"},
		{"motor with a square", "  x: {like: motor-2207, square: 16}\n", 3, 25, "on a circle, not in a square", "circle: 16"},
		{"cross on a board", "  x: {like: controller-20, square: 20x20}\n", 3, 36, "can mean two patterns", "write square: 20"},
		{"uneven cross on a board", "  x: {like: controller-20, square: 30.5x20}\n", 3, 36, "can mean two patterns", "sides: [30.5, 20]"},
		{"cross on a motor", "  x: {like: motor-2207, circle: 16x16}\n", 3, 33, "can mean two patterns", "write circle: 16"},
		{"uneven cross on a motor", "  x: {like: motor-2207, circle: 16x19 mm}\n", 3, 33, "can mean two patterns", "across: 19"},
		{"pattern on a motor", "  x: {like: motor-2207, pattern: 16x16}\n", 3, 25, "on a circle", ""},
		{"motor without circle", "  x: {kind: motor, bell: 28, body-height: 18}\n", 3, 6, "needs `circle:`", ""},
		{"motor without bell", "  x: {kind: motor, circle: 16, body-height: 18}\n", 3, 6, "needs `bell:`", "unknown"},
		{"bad thread", "  x: {like: motor-2207, circle: {diameter: 16, screw: m3}}\n", 3, 55, "not a thread size", "write M3"},
		{"bad mount", "  x: {like: motor-2207, mounts: [m4]}\n", 3, 34, "not one of the choices", "did you mean m"},
		{"bad cells", "  x: {like: motor-2207, cells: 6..4}\n", 3, 32, "not a number of cells", ""},
		{"spelling", "  x: {like: motor-2207, center-hole: 6}\n", 3, 25, "spelt `centre-hole:`", ""},
		{"unknown plug", "  x: {like: controller-20, ports: {usb: {plug: usb-d}}}\n", 3, 48, "not a connector", "did you mean usb-c?"},
		{"port nowhere", "  x: {like: esc-20a, ports: {lead: {plug: xt30}}}\n", 3, 36, "needs `edge:` or `at:`", ""},
		{"port on edge and point", "  x: {like: esc-20a, ports: {lead: {plug: xt30, edge: back, at: [0, 0]}}}\n", 3, 65, "not both", ""},
		{"port edge", "  x: {like: esc-20a, ports: {lead: {plug: xt30, edge: rear}}}\n", 3, 55, `"rear" is not one of the choices`, ""},
		{"dropping no port", "  x: {like: esc-20a, ports: {lead: none}}\n", 3, 36, "no port lead", ""},
		{"yes", "  x: {like: controller-20, ports: {usb: {reach: yes}}}\n", 3, 49, "neither true nor false", "write true"},
		{"zone without height", "  x: {like: controller-20, zones: [{at: [0, 0], size: [3, 3]}]}\n", 3, 36, "needs `height:`", ""},
		{"zone twice", "  x: {like: controller-20, zones: [{name: a, size: [3, 3], height: 1}, {name: a, size: [3, 3], height: 1}]}\n", 3, 72, "stands twice", ""},
		{"zone face", "  x: {like: controller-20, zones: [{face: side, size: [3, 3], height: 1}]}\n", 3, 43, "not one of the choices", ""},
		{"pad without place", "  x: {like: controller-20, pads: {m9: {role: motor}}}\n", 3, 39, "needs `at:`", ""},
		{"can with height", "  x: {kind: buzzer, diameter: 9, length: 6, height: 6}\n", 3, 45, "a can has no `height:`", "length"},
		{"battery without cells", "  x: {kind: battery, size: [70, 35, 30], capacity: 1300}\n", 3, 6, "needs `cells:`", ""},
		{"prop without diameter", "  x: {kind: prop, hub-thickness: 5}\n", 3, 6, "needs `diameter:`", ""},
		{"bores with tolerance", "  x: {like: prop-5, bores: [5 ±0.1]}\n", 3, 29, "not one plain number", ""},
		{"range and tol", "  x: {like: esc-20a, mass: {typ: 3, range: [2, 4], tol: 1}}\n", 3, 57, "not both", ""},
		{"typ out of range", "  x: {like: esc-20a, mass: {typ: 5, range: [2, 4]}}\n", 3, 44, "outside its range", ""},
		{"range of three", "  x: {like: esc-20a, mass: {typ: 5, range: [2, 4, 6]}}\n", 3, 44, "two ends, not 3", ""},
		{"unknown key of a dimension", "  x: {like: esc-20a, mass: {typ: 5, tolerance: 1}}\n", 3, 37, "not a key of a dimension", ""},
		{"outline crossing itself", "  x: {kind: controller, outline: {polygon: [[0, 0], [20, 20], [20, 0], [0, 20]]}}\n", 3, 44, "cannot be used", ""},
		{"outline with a hole", "  x: {kind: controller, outline: {ring: [10, 20]}}\n", 3, 34, "not one closed outline", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, ds := own(t, head+c.part)
			got := ds.Sorted()
			if len(got) != 1 {
				t.Fatalf("%d diagnostics, want 1:\n%s", len(got), ds)
			}
			d := got[0]
			if d.Pos.Line != c.line || d.Pos.Col != c.col || d.Pos.File != "b.yaml" {
				t.Errorf("at %s, want %d:%d", d.Pos, c.line, c.col)
			}
			if !strings.Contains(d.Message, c.say) || !strings.Contains(d.Hint, c.hint) {
				t.Errorf("says %q / %q, want %q / %q", d.Message, d.Hint, c.say, c.hint)
			}
		})
	}
}

// TestDecodeAllMistakesAtOnce: three mistakes in two parts, in the order of the file; a
// part like a broken one adds none.
func TestDecodeAllMistakesAtOnce(t *testing.T) {
	_, ds := own(t, head+"  a: {like: controller-20, above: x, blow: 3}\n  b: {kind: nothing}\n  c: {like: b}\n")
	var at []string
	for _, d := range ds.Sorted() {
		at = append(at, fmt.Sprintf("%d:%d", d.Pos.Line, d.Pos.Col))
	}
	if got := strings.Join(at, " "); got != "3:35 3:38 4:13" {
		t.Errorf("at %s\n%s", got, ds)
	}
}

func TestLikeChangesFieldByField(t *testing.T) {
	lib, ds := own(t, head+`  board:
    like: controller-30.5
    above: 2.1 mm ±0.2
    ports:
      usb: {edge: right}
      gps: none
      lead: {plug: xt30, edge: front, along: 3, axis: 2, overhang: 0}
    zones:
      - {name: usb-socket, at: [0, -15], size: [9, 7], height: 3.2}
    pads: {m9: {at: [1, 2], face: bottom, role: motor}}
`)
	if err := ds.Err(); err != nil {
		t.Fatal(err)
	}
	p, ok := lib.Find("board")
	base, _ := lib.Find("controller-30.5")
	if !ok || p.Like != "controller-30.5" || p.Kind != Controller || p.Source != Given {
		t.Fatalf("%+v", p)
	}
	above := p.Body.Above
	if above.Name != "board above" || above.Source != Given || !near(above.Value, 2.1) || !near(above.Plus, 0.2) || above.TolSource != Given {
		t.Errorf("above: %+v", above)
	}
	below := p.Body.Below
	if below.Name != "board below" || below.Source != Catalogue || !near(below.Value, 2.2) || below == base.Body.Below {
		t.Errorf("below: %+v", below)
	}
	if p.Square.X != p.Square.Y {
		t.Error("the sides of a square are two figures")
	}
	if !near(base.Body.Above.Value, 3.3) || base.Port("usb").Edge != "left" || len(base.Ports) != 7 || base.Pad("m9") != nil {
		t.Error("the catalogue part has changed")
	}
	var names []string
	for i := range p.Ports {
		names = append(names, p.Ports[i].Name)
	}
	if got := strings.Join(names, " "); got != "boot camera esc lead receiver usb video" {
		t.Errorf("ports %s", got)
	}
	// 37 wide: the right edge lies at y = -18.5 and a plug there is pulled off towards 270°.
	usb := p.Port("usb")
	if usb.Plug != "usb-c" || !near(usb.At.X, 0) || !near(usb.At.Y, -18.5) || !near(usb.Facing, 270) || !usb.Reach {
		t.Errorf("usb: %+v", usb)
	}
	lead := p.Port("lead")
	if !near(lead.At.X, 18.5) || !near(lead.At.Y, 3) || !near(lead.Facing, 0) {
		t.Errorf("lead: %+v", lead)
	}
	if len(p.Body.Zones) != 1 || !near(p.Body.Zones[0].Area.Bound().Hi.Y, -11.5) || len(p.Pads) != len(base.Pads)+1 || p.Pad("m9") == nil || p.Pad("m9").Face != Bottom {
		t.Errorf("zones %+v pads %+v", p.Body.Zones, p.Pads)
	}
}

func TestOwnPartsWin(t *testing.T) {
	lib, ds := own(t, head+"  prop-5: {like: prop-5, mass: 3.9}\n  mine: {like: prop-5}\n")
	if err := ds.Err(); err != nil {
		t.Fatal(err)
	}
	p, _ := lib.Find("prop-5")
	mine, _ := lib.Find("mine")
	if !near(p.Mass.Value, 3.9) || p.Mass.Source != Given || !near(p.Prop.HubT.Value, 6.5) {
		t.Errorf("%+v", p.Mass)
	}
	if mine.Mass == p.Mass || !near(mine.Mass.Value, 3.9) {
		t.Errorf("%+v", mine.Mass)
	}
	if again, _ := lib.Find("prop-5"); again != p {
		t.Error("another pointer at the second look-up")
	}
	cat := builtin(t)
	if q, _ := cat.Find("prop-5"); !near(q.Mass.Value, 4.2) {
		t.Error("the catalogue has changed")
	}
}

// TestMissingAndAssumed: what a bare part lacks is Missing, what has a sound default is
// Assumed, and nothing that its kind needs is nil.
func TestMissingAndAssumed(t *testing.T) {
	lib, ds := own(t, head+"  b: {kind: controller, size: [36, 36], square: 30.5, above: unknown}\n  p: {kind: prop, diameter: 5.1 in}\n  q: {like: prop-5, diameter: 5.2 in}\n")
	if err := ds.Err(); err != nil {
		t.Fatal(err)
	}
	b, _ := lib.Find("b")
	if !b.Body.Above.Missing || !b.Body.Below.Missing || !b.Mass.Missing || b.Body.Above.Name != "b above" {
		t.Errorf("above %+v below %+v", b.Body.Above, b.Body.Below)
	}
	if pcb := b.Body.Pcb; pcb.Source != Assumed || !near(pcb.Value, 1.6) || !near(pcb.Plus, 0.16) {
		t.Errorf("pcb %+v", pcb)
	}
	if s := b.Square; s.Screw != "M3" || s.Hole.Source != Assumed || !near(s.Hole.Value, 4) || !near(s.Clear.Value, 6.5) || s.X.HasTol {
		t.Errorf("square %+v", s)
	}
	// A label may lie by 1.2 %: 129.54 · 0.012 = 1.55448; 5.2 in = 132.08.
	p, _ := lib.Find("p")
	if r := p.Prop.RealD; !near(r.Value, 129.54) || !near(r.Plus, 1.55448) || r.TolSource != Assumed || !p.Prop.BelowHub.Missing {
		t.Errorf("real diameter %+v", r)
	}
	if q, _ := lib.Find("q"); !near(q.Prop.RealD.Value, 132.08) {
		t.Errorf("an inherited real diameter stays: %+v", q.Prop.RealD)
	}
}

func TestMotorPatterns(t *testing.T) {
	lib, ds := own(t, head+"  a: {like: motor-2207, circle: {diameter: 16, across: 19, turn: 45, screw: M3}}\n  b: {like: motor-2207, circle: 19}\n")
	if err := ds.Err(); err != nil {
		t.Fatal(err)
	}
	a, _ := lib.Find("a")
	c := a.Motor.Circles
	if len(c) != 1 || !near(c[0].Diameter.Value, 16) || !near(c[0].Across.Value, 19) || c[0].Count != 4 || !near(c[0].Turn, 45) || c[0].Screw != "M3" {
		t.Errorf("%+v", c)
	}
	if b, _ := lib.Find("b"); len(b.Motor.Circles) != 1 || !near(b.Motor.Circles[0].Diameter.Value, 19) {
		t.Errorf("%+v", b.Motor.Circles)
	}
}
