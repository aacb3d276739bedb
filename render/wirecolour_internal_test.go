package render

import (
	"testing"

	"dryfit/layout"
	"dryfit/shapes"
)

// Letters of IEC 60757, and which colours need a dark edge on white paper. By WCAG the contrast
// of white on white is 1, of black 21; #f5d100 has a luminance of about 0.66, 1.05/0.71 = 1.5.
func TestCoresByTheStandard(t *testing.T) {
	edge := map[string]bool{"yellow": true, "white": true, "pink": true, "turquoise": true, "orange": true}
	want := map[string]string{"black": "BK", "brown": "BN", "red": "RD", "orange": "OG", "yellow": "YE", "green": "GN", "blue": "BU", "violet": "VT", "grey": "GY", "white": "WH", "pink": "PK", "turquoise": "TQ"}
	if len(cores) != len(want) {
		t.Errorf("%d colours, the standard has %d that are drawn here", len(cores), len(want))
	}
	seen := map[Colour]string{}
	for word, code := range want {
		c := coreOf(word)
		if c.code != code {
			t.Errorf("%s has the letters %s, want %s", word, c.code, code)
		}
		if pale(c.ink) != edge[word] {
			t.Errorf("%s (%s) needs an edge: %v, want %v", word, c.ink, pale(c.ink), edge[word])
		}
		if other := seen[c.ink]; other != "" {
			t.Errorf("%s and %s are drawn alike", word, other)
		}
		seen[c.ink] = word
	}
	if c := coreOf("mauve"); c.code != "mau" {
		t.Errorf("a colour that the standard lacks has the letters %q", c.code)
	}
	if c := coreOf(""); c.code != "–" {
		t.Errorf("no colour has the letters %q", c.code)
	}
}

// Kinds of circuits differ in the kind of their middle line, what wires carry in width or kind
// of line: nothing is told by colour alone.
func TestNothingIsToldByColourAlone(t *testing.T) {
	dashes := map[string]string{}
	for _, s := range runStyles {
		if other := dashes[s.style.dash]; other != "" {
			t.Errorf("%s and %s have one kind of middle line", s.style.word, other)
		}
		dashes[s.style.dash] = s.style.word
	}
	loads := map[load]string{}
	for _, k := range loadWords {
		for _, r := range k.like {
			l := loadOf(r)
			if other, ok := loads[l]; ok && other != k.word {
				t.Errorf("%s (%s) and %s have one line", k.word, r, other)
			}
			loads[l] = k.word
		}
	}
	if loadOf(shapes.Supply5Role) != loadOf(shapes.Supply12) {
		t.Error("supplies of two voltages have two kinds of line")
	}
}

// Circuits that lack what resolved ones have are drawn as far as they go, and never stop the
// sheet: no wires, no way, no spec, ends without a name.
func TestIncompleteCircuitsAreDrawn(t *testing.T) {
	b := &bench{&layout.Assembly{}}
	esc, fc := b.part("esc", shapes.EscFour), b.part("fc", shapes.Controller)
	b.asm.Circuits = append(b.asm.Circuits, &layout.Circuit{ID: "wires.none", From: esc, To: fc})
	whole := b.join(esc, fc, [2]string{"a", "b"}, [2]string{"", ""})
	whole.Route = &layout.Route{Legs: []layout.Leg{{Kind: layout.LegDrop, Z1: 5}}}
	b.join(esc, esc, [2]string{"a", "b"})
	s := newSchematic(b.asm)
	s.order()
	if len(s.wires) != 2 {
		t.Errorf("%d wires in the schematic, want 2: none of a circuit from a part to itself", len(s.wires))
	}
	if got := stretches(b.asm.Circuits, &scene{}, 10); len(got) != 0 {
		t.Errorf("%d stretches of ways that only go up", len(got))
	}
	for i, c := range b.asm.Circuits {
		endOf(c, true)
		bundleText(c)
		padWords(c, false)
		if i == 1 {
			if p, ok := endOf(c, false); !ok || p.Norm() > 0 {
				t.Errorf("the end of a way that only goes up: %v, %v", p, ok)
			}
		}
	}
	if row := circuitTable(b.asm).rows[0]; row.cells[5][0] != "no way" {
		t.Errorf("a circuit without a way is listed with %q", row.cells[5][0])
	}
}
