package render_test

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/render"
)

// bodySheet returns the detail of the body, nil if there is none.
func bodySheet(t *testing.T, c drawn, p render.Paper) *render.Sheet {
	t.Helper()
	sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{Paper: p})
	if err != nil {
		t.Fatal(err)
	}
	for i := range sheets {
		if sheets[i].Name == "body" {
			return &sheets[i]
		}
	}
	return nil
}

// The hand-made craft on A4: the plan is 1:2, so there is a detail, full size. Its base is a
// cross of bars from a hub of corners at 18 mm along the diagonals, its roof and the posts are
// those of the fixture; the pattern is 30.5 square, so its side is 30.5 mm of paper.
func TestBodyOfTheBenchCraft(t *testing.T) {
	c := drawn{name: "bench-five", asm: newCraft().asm, outcomes: faults()}
	s := bodySheet(t, c, render.A4)
	if s == nil {
		t.Fatal("no detail of the body although the plan is at 1:2")
	}
	if s.Scale != "1:1" {
		t.Errorf("scale is %s, want 1:1", s.Scale)
	}
	if !strings.Contains(s.Title, "taken off") {
		t.Errorf("the title %q does not say what is taken off", s.Title)
	}
	marks := map[int]layout.Verdict{}
	for _, it := range s.List.Items {
		switch v := it.(type) {
		case render.Mark:
			marks[v.No] = v.Verdict
		case render.Circle:
			if strings.Contains(v.ID, "rotors.") {
				t.Errorf("%s of a rotor is drawn in the detail", v.ID)
			}
		case render.Dim:
			if strings.HasSuffix(v.ID, ".pattern") && math.Abs(v.Q.Sub(v.P).Norm()-30.5) > 0.01 {
				t.Errorf("%s is %.2f mm long on paper, want 30.5", v.ID, v.Q.Sub(v.P).Norm())
			}
		}
	}
	// Findings 1 (under the roof) and 3 (at the flight board's socket) lie in the body;
	// finding 2 lies between the front discs.
	if marks[1] != layout.Fail || marks[3] != layout.Unknown || marks[2] != 0 {
		t.Errorf("marks %v, want 1 fail and 3 unknown and no 2", marks)
	}
}

// Nothing of a plate is drawn beyond the lines at which arms are broken off, and every
// example with arms longer than its body has as many such lines as arms.
func TestArmsAreBrokenOff(t *testing.T) {
	want := map[string]int{"riverbank": 4, "orchard": 6, "shoreline": 4}
	for _, c := range cases(t) {
		n, ok := want[c.name]
		if !ok {
			continue
		}
		s := bodySheet(t, c, render.Auto)
		if s == nil {
			t.Errorf("%s has no detail of its body", c.name)
			continue
		}
		lines := 0
		for _, it := range s.List.Items {
			if p, ok := it.(render.Path); ok && p.ID == "body.breaks" {
				lines++
			}
		}
		if lines != n {
			t.Errorf("%s: %d lines of break, want %d", c.name, lines, n)
		}
		if s.Scale != "1:1" {
			t.Errorf("%s: scale %s, want 1:1", c.name, s.Scale)
		}
	}
}

// Figures of the build files: riverbank's base is a rectangle of 144 x 44 with arms, its roof
// 140 x 40, posts at ±58, ±15; orchard's hub and deck are circles of 128, its posts stand at
// ±50, ±12 and its legs at ±28, ±48. Both have boards of 30.5.
func TestBodyDimensions(t *testing.T) {
	want := map[string][]string{
		"riverbank": {"144 base", "44 base", "140 roof", "40 roof", "116 main posts", "30 main posts", "30.5 square"},
		// The corners of the base run into the hollows before its arms: it has no width there.
		"shoreline": {"100 base", "96 roof", "34 roof", "88 main posts", "24 main posts", "20 square"},
		"orchard":   {"128 hub, deck", "100 main posts", "24 main posts", "56 legs posts", "96 legs posts", "30.5 square"},
	}
	for _, c := range cases(t) {
		words, ok := want[c.name]
		if !ok {
			continue
		}
		text := ""
		if s := bodySheet(t, c, render.Auto); s != nil {
			text = "\n" + allText([]render.Sheet{*s})["body"]
		}
		for _, w := range words {
			if !strings.Contains(text, "\n"+w+"\n") {
				t.Errorf("%s: the detail lacks %q", c.name, w)
			}
		}
		if c.name == "shoreline" && strings.Contains(text, "\n22 ") {
			t.Error("shoreline: the straight part of the base's end is given as its width")
		}
	}
}

// Every part that the detail lists has one balloon there, and every balloon is listed.
func TestBodyBalloonsMatchItsList(t *testing.T) {
	for _, c := range cases(t) {
		for _, p := range papers {
			s := bodySheet(t, c, p)
			if s == nil {
				continue
			}
			listed, seen := map[string]int{}, map[string]int{}
			for _, it := range s.List.Items {
				switch v := it.(type) {
				case render.Balloon:
					seen[strings.TrimPrefix(v.ID, "body.balloon-")]++
				case render.Text:
					if strings.HasPrefix(v.ID, "body.list") && v.Align == render.Middle && v.S != "No." {
						listed[v.S]++
					}
				}
			}
			if len(listed) == 0 {
				t.Errorf("%s on %s: nothing is listed", c.name, p)
			}
			for no, n := range seen {
				if n != 1 || listed[no] != 1 {
					t.Errorf("%s on %s: number %s has %d balloons and stands %d times in the list", c.name, p, no, n, listed[no])
				}
			}
			if len(seen) != len(listed) {
				t.Errorf("%s on %s: %d balloons for %d rows", c.name, p, len(seen), len(listed))
			}
		}
	}
}

// A craft whose plan is full size needs no detail.
func TestNoBodySheetForASmallCraft(t *testing.T) {
	c := newCraft()
	c.asm.Rotors = nil
	var bodies []*layout.Body
	for _, b := range c.asm.Bodies {
		box := geom.EmptyRect()
		for _, r := range b.Plan {
			box = box.Union(r.Bound())
		}
		if box.Expand(1).Contains(r2.Point{}) && box.Size().X < 60 {
			bodies = append(bodies, b)
		}
	}
	c.asm.Bodies = bodies
	if s := bodySheet(t, drawn{asm: c.asm}, render.A4); s != nil {
		t.Error("a detail although the plan is not small")
	}
}
