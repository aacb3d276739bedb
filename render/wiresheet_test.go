package render_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"dryfit/layout"
	"dryfit/render"
	"dryfit/shapes/read"
)

func wiredSheets(t *testing.T, asm *layout.Assembly, outs []layout.Outcome, p render.Paper) map[string]render.Sheet {
	t.Helper()
	sheets, err := render.Sheets(asm, outs, render.Options{Paper: p})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]render.Sheet{}
	for _, s := range sheets {
		out[s.Name] = s
	}
	return out
}

func TestNoWiringSheetsWithoutWires(t *testing.T) {
	for name := range wiredSheets(t, newCraft().asm, nil, render.A4) {
		if strings.HasPrefix(name, "wiring") || name == "schematic" {
			t.Errorf("a craft without wires has the sheet %s", name)
		}
	}
}

// Every circuit is drawn on the sheet of the whole craft as wide as it is, at the sheet's scale, and
// numbered on at least one of the two.
func TestCircuitsAreDrawnInTheirWidth(t *testing.T) {
	asm := newWired().asm
	for _, p := range papers {
		sheets := wiredSheets(t, asm, nil, p)
		scales := map[string]float64{"2:1": 2, "1:1": 1, "1:2": 0.5, "5:1": 5}
		tags := map[string]bool{}
		for _, name := range []string{"wiring", "wiring-body"} {
			s, ok := sheets[name]
			if !ok {
				continue
			}
			k := scales[s.Scale]
			if k == 0 {
				t.Fatalf("scale %q of %s", s.Scale, name)
			}
			widest := map[string]float64{}
			for _, it := range s.List.Items {
				switch v := it.(type) {
				case render.Strand:
					if v.Butt && v.Ink != "#000000" { // ties and sleeves are black
						widest[v.ID] = math.Max(widest[v.ID], v.Width)
					}
				case render.Text:
					if strings.HasPrefix(v.ID, name+".tag-") {
						tags[v.S] = true
					}
				}
			}
			for _, c := range asm.Circuits {
				want := math.Max(c.OD.Value*k, 0.25)
				if c.Spec.Sleeve != nil {
					continue // drawn with a white wall round it
				}
				if got := widest[name+"."+c.ID]; math.Abs(got-want) > 1e-9 {
					t.Errorf("%s on %s: %s is %.3f mm wide, want %.3f", name, p, c.ID, got, want)
				}
			}
		}
		for i := range asm.Circuits {
			if !tags[strconv.Itoa(i+1)] {
				t.Errorf("%s: circuit %d has no number on the wiring sheets", p, i+1)
			}
		}
	}
}

// The pack's lead passes over the receiver's wires: those are left out there, in two places at
// least, and drawn in pieces; the pack's lead is whole but for where it goes down.
func TestBridgesOnTheSheet(t *testing.T) {
	s := wiredSheets(t, newWired().asm, nil, render.A3)["wiring"]
	mid := map[string]int{}
	for _, it := range s.List.Items {
		if v, ok := it.(render.Strand); ok && v.Butt && v.Width < 0.4 {
			mid[v.ID]++ // the middle line is drawn once for each piece
		}
	}
	// The receiver's way has three legs in plan on two levels; the lead crosses over the long one
	// once, which makes one piece more than hidden parts do.
	if got, whole := mid["wiring.wires.receiver"], mid["wiring.wires.motor-front-left"]; got <= whole {
		t.Errorf("the receiver's wires are drawn in %d pieces, a motor's, which nothing crosses, in %d", got, whole)
	}
}

// Ties, sharp edges, drops: two ties each for four motors, one sharp edge with a triangle on
// either side.
func TestSignsOfTheRoute(t *testing.T) {
	s := wiredSheets(t, newWired().asm, nil, render.A3)["wiring"]
	ties, triangles := 0, 0
	for _, it := range s.List.Items {
		switch v := it.(type) {
		case render.Strand:
			if v.Butt && v.Ink == "#000000" && v.Width > 1 && v.Width < 1.2 && strings.HasPrefix(v.ID, "wiring.wires.") {
				ties++
			}
		case render.Path:
			if v.Closed && len(v.V) == 3 && v.Fill == "#000000" && strings.HasPrefix(v.ID, "wiring.wires.") && !v.Bare {
				triangles++
			}
		}
	}
	if ties != 8 || triangles != 2 {
		t.Errorf("%d ties and %d triangles, want 8 and 2", ties, triangles)
	}
}

// A circuit that found no way is drawn as a red line and listed as such.
func TestNoWayIsShown(t *testing.T) {
	c := newWired()
	c.asm.Circuits[6].Route = &layout.Route{Blocked: &layout.Blocked{Gap: 1, Need: 2}}
	s := wiredSheets(t, c.asm, nil, render.A3)["wiring"]
	red := false
	for _, it := range s.List.Items {
		if v, ok := it.(render.Strand); ok && v.ID == "wiring.wires.receiver" && v.Ink == render.FailInk && v.Dash != "" {
			red = true
		}
	}
	if text := allText([]render.Sheet{s})["wiring"]; !red || !strings.Contains(text, "no way\n") {
		t.Errorf("a circuit without a way: red line %v", red)
	}
}

// Findings about wires: red under the lead on the plan, a mark on plan and schematic.
func TestWireFindingsAreMarked(t *testing.T) {
	sheets := wiredSheets(t, newWired().asm, wireFaults(), render.A3)
	for _, name := range []string{"wiring", "schematic"} {
		red, marks := map[string]bool{}, map[int]bool{}
		for _, it := range sheets[name].List.Items {
			switch v := it.(type) {
			case render.Strand:
				if v.Ink == render.FailInk {
					red[v.Group] = true
				}
			case render.Mark:
				marks[v.No] = true
			}
		}
		if !red[name+".wires.motor-front-left"] || red[name+".wires.motor-rear-left"] {
			t.Errorf("%s: red under %v", name, red)
		}
		if !marks[1] || !marks[2] {
			t.Errorf("%s: marks %v, want 1 and 2", name, marks)
		}
	}
}

// Every wire stands in the schematic with the letters of its colour at both ends, and every
// pad that is wired.
func TestSchematicNamesEveryWire(t *testing.T) {
	asm := newWired().asm
	s := wiredSheets(t, asm, nil, render.A4)["schematic"]
	codes, text := map[string]int{}, allText([]render.Sheet{s})["schematic"]
	two := map[string]string{"black": "BK", "red": "RD", "blue": "BU", "violet": "VT", "brown": "BN", "white": "WH", "grey": "GY", "green": "GN", "yellow": "YE", "orange": "OG"}
	for _, it := range s.List.Items {
		if v, ok := it.(render.Text); ok && len(v.S) == 2 {
			codes[v.ID+" "+v.S]++
		}
	}
	for _, c := range asm.Circuits {
		for _, w := range c.Wires {
			if n := codes["schematic."+w.ID+" "+two[w.Colour]]; n != 2 {
				t.Errorf("%s has the letters of %s %d times, want 2", w.ID, w.Colour, n)
			}
		}
	}
	for _, pad := range []string{"m1.1", "m4.3", "pack", "ground", "supply", "signal", "xt60 plug", "receiver", "flight-board"} {
		if !strings.Contains(text, pad+"\n") {
			t.Errorf("the schematic lacks %q", pad)
		}
	}
}

// The cautions that go with soldering and the first power-up stand on every sheet of wires and under
// the cut list.
func TestWiringCautions(t *testing.T) {
	for _, p := range papers {
		sheets, err := render.Sheets(newWired().asm, nil, render.Options{Paper: p})
		if err != nil {
			t.Fatal(err)
		}
		checked := 0
		for name, s := range allText(sheets) {
			if strings.HasPrefix(name, "wiring") || name == "schematic" {
				checked++
				warns(t, name, s)
			}
		}
		under := ""
		for _, s := range sheets {
			for _, it := range s.List.Items {
				if v, ok := it.(render.Text); ok && v.ID == "notes" {
					under += v.S + " "
				}
			}
		}
		warns(t, "what stands under the lists", under)
		if checked < 3 {
			t.Errorf("%s: %d sheets of wires, want the plan, the pads and the schematic at least", p, checked)
		}
	}
}

func warns(t *testing.T, name, s string) {
	t.Helper()
	s = strings.ReplaceAll(s, "\n", " ")
	for _, want := range []string{"check polarity", "current limit", "propellers off", "Packs burn", "joined to one", "hot iron"} {
		if !strings.Contains(s, want) {
			t.Errorf("%s lacks the caution %q", name, want)
		}
	}
}

// The lengths and strips of the cut list on the sheets are never cut short; a lead of the
// fixture has the L that tells it.
func TestCutListOnTheSheets(t *testing.T) {
	asm := newWired().asm
	sheets, err := render.Sheets(asm, nil, render.Options{Paper: render.A4})
	if err != nil {
		t.Fatal(err)
	}
	rows, leads := 0, 0
	for _, s := range sheets {
		for _, it := range s.List.Items {
			v, ok := it.(render.Text)
			if !ok || v.ID != "wires" || v.Align == render.Left {
				continue
			}
			if strings.HasSuffix(v.S, "…") {
				t.Errorf("%s: %q is cut short", s.Name, v.S)
			}
			if v.S == "3/3" {
				rows++
			}
			if strings.HasSuffix(v.S, " ±2 L") {
				leads++
			}
		}
	}
	// 4 × 3 motor leads, 2 of the pack, 6 in the harness, 3 to the receiver.
	if rows != 23 || leads != 12 {
		t.Errorf("%d rows with strips, %d leads; want 23 and 12", rows, leads)
	}
}

// A finding that names parts and points at an entry of the build is shown at the circuit between
// the two, or at the one that begins at the part; one of a rule about supply, or about a whole
// lead, stays off the plan.
func TestFindingsAreTracedToCircuits(t *testing.T) {
	pos := read.Pos{File: "craft.yaml", Line: 7, Col: 5}
	place := r3.Vector{X: -24, Y: -10, Z: 8}
	for _, c := range []struct {
		name, group string
		subjects    []string
		b           r3.Vector
		circuit     string
		onPlan      bool
	}{
		{"both ends", "wires", []string{"mounts.receiver", "stacks.main.flight-board"}, place, "receiver", true},
		{"where it begins", "wires", []string{"stacks.main.flight-board", "plates.base"}, place, "receiver", true},
		{"supply", "supply", []string{"mounts.receiver", "stacks.main.flight-board"}, place, "receiver", false},
		{"from end to end", "wires", []string{"wires.receiver"}, r3.Vector{X: 24, Y: -10, Z: 8}, "receiver", false},
		{"another entry", "wires", []string{"wires.pack"}, place, "pack", true},
	} {
		asm := newWired().asm
		asm.Circuits[6].Pos = pos
		f := layout.Finding{Rule: "some-rule", Verdict: layout.Fail, Subjects: c.subjects, Pos: pos, HasPlace: true, A: place, B: c.b, Message: "It does not hold."}
		sheets := wiredSheets(t, asm, []layout.Outcome{{Rule: "some-rule", Group: c.group, Status: layout.Judged, Findings: []layout.Finding{f}}}, render.A3)
		red := map[string]bool{}
		for _, it := range sheets["schematic"].List.Items {
			if v, ok := it.(render.Strand); ok && v.Ink == render.FailInk && v.Group != "key" {
				red[v.Group] = true
			}
		}
		if len(red) != 1 || !red["schematic.wires."+c.circuit] {
			t.Errorf("%s: red on the schematic: %v, want %s", c.name, red, c.circuit)
		}
		marked := false
		for _, it := range sheets["wiring"].List.Items {
			_, ok := it.(render.Mark)
			marked = marked || ok
		}
		if marked != c.onPlan {
			t.Errorf("%s: marked on the plan: %v, want %v", c.name, marked, c.onPlan)
		}
	}
}

// Two phases of a motor that are exchanged are seen on the schematic: their wires cross there, so that one
// of them is drawn in one piece more than when each goes to its own pad.
func TestExchangedPhasesAreSeen(t *testing.T) {
	pieces := func(swap bool) int {
		asm := newWired().asm
		k := asm.Circuits[0]
		if swap {
			k.Wires[0].To, k.Wires[1].To = k.Wires[1].To, k.Wires[0].To
		}
		n := 0
		for _, it := range wiredSheets(t, asm, nil, render.A3)["schematic"].List.Items {
			if v, ok := it.(render.Strand); ok && strings.HasPrefix(v.ID, "schematic."+k.ID+".") && v.Ink != "#ffffff" {
				n++
			}
		}
		return n
	}
	if straight, swapped := pieces(false), pieces(true); straight != 3 || swapped != 4 {
		t.Errorf("three wires are drawn in %d pieces, with two phases exchanged in %d; want 3 and 4", straight, swapped)
	}
}
