package starter_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/rules"
	"dryfit/layout/starter"
)

// every lists all options that may be asked for.
func every() []starter.Options {
	var out []starter.Options
	for _, prop := range starter.Props() {
		for _, rotors := range starter.Rotors() {
			for _, esc := range []starter.ESC{starter.FourInOne, starter.OnArms} {
				for _, cells := range starter.Cells(prop) {
					for _, camera := range []bool{false, true} {
						out = append(out, starter.Options{Prop: prop, Rotors: rotors, ESC: esc, Cells: cells, Camera: camera})
					}
				}
			}
		}
	}
	return out
}

// asked lists the rules that have something to judge on a starter build: all but those
// that need what was not asked for.
func asked(o starter.Options) map[string]bool {
	return map[string]bool{
		"prop-tip-gap": true, "prop-sweep": true, "prop-underside": true, "prop-mount": true, "rotor-hands": true,
		"motor-on-arm": true, "hole-match": true, "stack-height": true, "board-gap": true, "standoff-against-parts": true,
		"part-support": true, "strap-and-slot": true, "connector-exit": true, "exit-to-prop": true, "button-reach": true, "balance": true,
		"esc-on-arm": o.ESC == starter.OnArms, "inside-guard": o.Camera, "camera-tilt": o.Camera,
	}
}

// TestEveryOneChecksClean: whatever is asked for, nothing fails, is tight or is unknown, no
// figure is complained of, and the rules that such a craft can be asked are answered. In
// short mode one build in eleven is taken, which still meets every size.
func TestEveryOneChecksClean(t *testing.T) {
	list := every()
	if len(list) < 500 {
		t.Fatalf("only %d builds can be asked for", len(list))
	}
	step := 1
	if testing.Short() {
		step = 11
	}
	const workers = 4
	for w := range workers {
		t.Run(fmt.Sprint(w), func(t *testing.T) {
			t.Parallel()
			for i := w * step; i < len(list); i += workers * step {
				checksClean(t, list[i])
			}
		})
	}
}

func checksClean(t *testing.T, o starter.Options) {
	name := fmt.Sprintf("%s-inch, %d rotors, %s, %d cells, camera %v", o.Prop, o.Rotors, o.ESC, o.Cells, o.Camera)
	data, err := starter.Write(o)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	if n := bytes.Count(data, []byte("\n")); n > 114 {
		t.Errorf("%s: %d lines, want at most 114", name, n)
	}
	b, diags := layout.LoadBytes("start.yaml", data, nil, nil)
	if diags.Len() > 0 {
		t.Errorf("%s does not load:\n%v\n%s", name, diags, data)
		return
	}
	asm, placed := layout.Resolve(b)
	if placed.Len() > 0 {
		t.Errorf("%s cannot be placed:\n%v\n%s", name, placed, data)
		return
	}
	if got := len(asm.Rotors); got != o.Rotors {
		t.Errorf("%s: %d rotors are placed", name, got)
	}
	must := asked(o)
	for _, out := range rules.Run(asm, rules.All) {
		if out.Status != layout.Judged && (must[out.Rule] || out.Status != layout.Nothing) {
			t.Errorf("%s: %s is not judged: %s", name, out.Rule, out.Reason)
		}
		for _, f := range out.Findings {
			if f.Verdict != layout.OK {
				t.Errorf("%s: %s %s %.2f (worst %.2f): %s", name, f.Verdict, out.Rule, f.Margin, f.Worst, f.Message)
			}
		}
	}
}

// TestSameBytes: the same options give the same file.
func TestSameBytes(t *testing.T) {
	o := starter.Options{Prop: "5", Rotors: 6, ESC: starter.FourInOne, Camera: true}
	a, err := starter.Write(o)
	if err != nil {
		t.Fatal(err)
	}
	b, err := starter.Write(o)
	if err != nil || !bytes.Equal(a, b) {
		t.Errorf("two files differ (%v)", err)
	}
}

// TestCautions: each starter says what can hurt.
func TestCautions(t *testing.T) {
	data, err := starter.Write(starter.Options{Prop: "2", Rotors: 4, ESC: starter.OnArms})
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"propellers off", "Lithium packs", "Carbon dust", "sharp edges", "Local codes", "MEASURE"} {
		if !strings.Contains(string(data), word) {
			t.Errorf("the file does not say %q", word)
		}
	}
}

// TestName: any name that a person may type comes back as typed.
func TestName(t *testing.T) {
	for _, name := range []string{"heron", `a "b" \ c: d # e`, "Möwe №5", "yes", "010"} {
		data, err := starter.Write(starter.Options{Prop: "3", Rotors: 4, ESC: starter.FourInOne, Name: name})
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		b, diags := layout.LoadBytes("start.yaml", data, nil, nil)
		if diags.Len() > 0 || b.Name != name {
			t.Errorf("%q comes back as %v (%v)", name, b, diags)
		}
	}
}

// TestMistakes: what no craft can be made from is refused by the option's name, with what
// may be given.
func TestMistakes(t *testing.T) {
	good := starter.Options{Prop: "5", Rotors: 4, ESC: starter.FourInOne}
	with := func(f func(*starter.Options)) starter.Options { o := good; f(&o); return o }
	for _, c := range []struct {
		o            starter.Options
		option, text string
	}{
		{with(func(o *starter.Options) { o.Prop = "11" }), "prop", "sizes in inch: 2, 2.5, 3, 3.5, 4, 5, 5.1, 6, 7, 8, 9, 10"},
		{with(func(o *starter.Options) { o.Prop = "127" }), "prop", "127 mm is 5 inch"},
		{with(func(o *starter.Options) { o.Prop = "" }), "prop", `""`},
		{with(func(o *starter.Options) { o.Prop = "NaN" }), "prop", "NaN"},
		{with(func(o *starter.Options) { o.Rotors = 5 }), "rotors", "3, 4, 6 or 8 rotors, not 5"},
		{with(func(o *starter.Options) { o.Rotors = -4 }), "rotors", "not -4"},
		{with(func(o *starter.Options) { o.ESC = "tail" }), "escs", "four-in-one (boards in the stack) or arms (one on each arm)"},
		{with(func(o *starter.Options) { o.Cells = 1 }), "cells", "cells: 3, 4, 5, 6"},
		{with(func(o *starter.Options) { o.Cells = 99 }), "cells", "not made for a pack of 99 cells"},
		{with(func(o *starter.Options) { o.Name = "two\nlines" }), "name", "one line"},
		{with(func(o *starter.Options) { o.Name = "  " }), "name", "one line"},
		{with(func(o *starter.Options) { o.Name = strings.Repeat("x", 61) }), "name", "60"},
	} {
		_, err := starter.Write(c.o)
		var m *starter.Mistake
		if !errors.As(err, &m) || m.Option != c.option || !strings.Contains(m.Text, c.text) {
			t.Errorf("Write(%+v): %v, want a mistake in %s that says %q", c.o, err, c.option, c.text)
		}
	}
}

// TestCells: the cells on offer are those of the motor classes: 2306 takes 4 to 6 and 2205
// takes 3 to 4, so 5 inch takes 3 to 6.
func TestCells(t *testing.T) {
	if got := fmt.Sprint(starter.Cells("5")); got != "[3 4 5 6]" {
		t.Errorf("cells for 5 inch: %s", got)
	}
	if got := starter.UsualCells("5"); got != 6 {
		t.Errorf("usual cells for 5 inch: %d, want 6", got)
	}
	if starter.Cells("4.2") != nil || starter.UsualCells("4.2") != 0 {
		t.Error("cells for a prop that is not on offer")
	}
}
