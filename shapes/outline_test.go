package shapes

import (
	"errors"
	"math"
	"strings"
	"testing"

	"dryfit/shapes/read"
)

func readLoad(text string) (*read.Node, *read.Diags) { return read.Load("o.yaml", []byte(text)) }

// TestShapeAreas: areas by hand.
func TestShapeAreas(t *testing.T) {
	cases := []struct {
		text string
		area float64 // of all copies together
		n    int
	}{
		{"{rectangle: [90, 44]}", 3960, 1},
		{"{rectangle: [90, 44], corner: 6}", 3960 - (4-math.Pi)*36, 1}, // each corner loses r² - πr²/4
		{"{circle: 20}", math.Pi * 100, 1},
		{"{circle: 20, at: [[10, 0], [-10, 0]]}", 2 * math.Pi * 100, 2},
		{"{circle: 20, at: [30, 20], mirror: both}", 4 * math.Pi * 100, 4},
		{"{capsule: {from: [0, 0], to: [30, 0], width: 10}}", 300 + math.Pi*25, 1},
		{"{bar: {from: [0, 0], to: [0, 40], width: 12, end-width: 8}}", 400, 1}, // 40 · (12 + 8)/2
		{"{polygon: [[0, 0], [30, 0], [0, 20]]}", 300, 1},
		{"{polygon: [[0, 20], [30, 0], [0, 0]]}", 300, 1}, // clockwise as well
		{"{ring: [20, 30]}", math.Pi * (225 - 100), 1},
		{"{rectangle: [1 in, 10 mm], turn: 90 deg}", 254, 1},
	}
	for _, c := range cases {
		root, ds := readLoad("s: " + c.text)
		s, ok := ParseShape(ds, root.Get("s"))
		if !ok {
			t.Errorf("%s:\n%s", c.text, ds)
			continue
		}
		regions, err := s.Regions()
		if err != nil || len(regions) != c.n {
			t.Errorf("%s: %d regions, %v", c.text, len(regions), err)
			continue
		}
		area := 0.0
		for _, r := range regions {
			area += r.Area()
		}
		if math.Abs(area-c.area) > 1e-6 {
			t.Errorf("%s: area %g, want %g", c.text, area, c.area)
		}
	}
}

// TestShapePlaces: a bar along x turned by 90° and put at (10, 5), mirrored left-right.
func TestShapePlaces(t *testing.T) {
	root, ds := readLoad("s: {bar: {from: [0, 0], to: [20, 0], width: 4}, at: [10, 5], turn: 90, mirror: left-right}")
	s, ok := ParseShape(ds, root.Get("s"))
	if !ok {
		t.Fatal(ds)
	}
	regions, err := s.Regions()
	if err != nil || len(regions) != 2 {
		t.Fatal(err, len(regions))
	}
	// up from (10, 5) to (10, 25), 4 wide; its mirror down from (10, -5) to (10, -25)
	for i, want := range [][4]float64{{8, 5, 12, 25}, {8, -25, 12, -5}} {
		b := regions[i].Bound()
		if !near(b.Lo.X, want[0]) || !near(b.Lo.Y, want[1]) || !near(b.Hi.X, want[2]) || !near(b.Hi.Y, want[3]) {
			t.Errorf("copy %d: %+v, want %v", i, b, want)
		}
	}
}

func TestShapesAtRotors(t *testing.T) {
	root, ds := readLoad("join:\n  - {arms: {width: 12, root-width: 16, pad: 24, from: 10}}\n  - {circle: 30, at: rotors}\ncut: [{circle: 7, at: rotors}]\nfillet: 3\nround: 2\n")
	o, ok := ParseOutline(ds, root)
	if !ok {
		t.Fatal(ds)
	}
	a := o.Join[0]
	if a.Kind != ArmsShape || !near(a.Width, 12) || !near(a.RootWidth, 16) || !near(a.Pad, 24) || !near(a.Start, 10) {
		t.Errorf("%+v", a)
	}
	if !o.Join[1].AtRotors || !o.Cut[0].AtRotors || !near(o.Fillet, 3) || !near(o.Round, 2) {
		t.Errorf("%+v", o)
	}
	for _, s := range []Shape{a, o.Join[1]} {
		if _, err := s.Regions(); !errors.Is(err, ErrNoPlace) {
			t.Errorf("%s: %v", s.Kind, err)
		}
	}
}

func TestOutlineMistakes(t *testing.T) {
	cases := []struct {
		text      string
		line, col int
		say       string
	}{
		{"o: {join: []}", 1, 4, "at least one shape"},
		{"o: {cut: [{circle: 3}]}", 1, 4, "needs `join:`"},
		{"o: {join: [{circel: 3}]}", 1, 13, `"circel" is not a key of a shape`},
		{"o: {join: [{at: [0, 0]}]}", 1, 12, "needs a form"},
		{"o: {join: [{circle: 3, rectangle: [2, 2]}]}", 1, 21, "not both rectangle and circle"},
		{"o: {join: [{circle: 0}]}", 1, 21, "out of range"},
		{"o: {join: [{circle: 3 ±1}]}", 1, 21, "not one plain number"},
		{"o: {join: [{rectangle: 90x44}]}", 1, 24, "is not a size"},
		{"o: {join: [{rectangle: [90]}]}", 1, 24, "two lengths"},
		{"o: {join: [{rectangle: [90, 44], corner: 23}]}", 1, 42, "does not fit"},
		{"o: {join: [{ring: [30, 20]}]}", 1, 19, "not smaller"},
		{"o: {join: [{polygon: [[0, 0], [1, 1]]}]}", 1, 22, "three points, not 2"},
		{"o: {join: [{polygon: [[0, 0], [9, 9], [9, 0], [0, 9]]}]}", 1, 22, "cannot be used"},
		{"o: {join: [{polygon: [[0, 0], [9, 0], 4]}]}", 1, 39, "a point is wanted"},
		{"o: {join: [{capsule: {from: [0, 0], to: [0, 0], width: 3}}]}", 1, 22, "from a point to itself"},
		{"o: {join: [{bar: {from: [0, 0], width: 3}}]}", 1, 18, "needs `to:`"},
		{"o: {join: [{circle: 3, mirror: up}]}", 1, 32, "not one of the choices"},
		{"o: {join: [{circle: 3, at: [0, 0, 0]}]}", 1, 28, "two lengths"},
		{"o: {join: [{arms: {width: 12}, at: rotors}]}", 1, 12, "by themselves"},
		{"o: {join: [{circle: 3}], filet: 3}", 1, 26, `"filet" is not a key of an outline`},
		{"o: 12", 1, 4, "a map of keys"},
	}
	for _, c := range cases {
		root, ds := readLoad(c.text)
		_, ok := ParseOutline(ds, root.Get("o"))
		got := ds.Sorted()
		if ok || len(got) != 1 {
			t.Errorf("%s: ok %v, %d diagnostics\n%s", c.text, ok, len(got), ds)
			continue
		}
		if got[0].Pos.Line != c.line || got[0].Pos.Col != c.col || !strings.Contains(got[0].Message, c.say) {
			t.Errorf("%s: %s", c.text, got[0])
		}
	}
}
