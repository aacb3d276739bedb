package rules

import (
	"testing"

	"github.com/golang/geo/r2"
)

func TestNumbersInSentences(t *testing.T) {
	for v, want := range map[float64]string{5: "5 mm", 0.28: "0.28 mm", 1.005e-9: "0 mm", -0.001: "0 mm", -1.25: "-1.25 mm", 12.3456: "12.35 mm"} {
		if got := mm(v); got != want {
			t.Errorf("mm(%v) = %q, want %q", v, got, want)
		}
	}
	near(t, "up", up(186.69, 1), 187)
	near(t, "up from a whole step", up(187.0000001, 1), 187)
	near(t, "down", down(89.67, 0.5), 89.5)
	near(t, "down from a whole step", down(89.4999999, 0.5), 89.5)
}

func TestHeading(t *testing.T) {
	for want, d := range map[string]r2.Point{
		"forward":               {X: 1},
		"to the rear":           {X: -2, Y: 0.1},
		"to the left":           {Y: 3},
		"to the right":          {Y: -1},
		"forward and left":      {X: 1, Y: 1},
		"to the rear and right": {X: -1, Y: -0.8},
		"away":                  {},
	} {
		if got := heading(d); got != want {
			t.Errorf("heading(%v) = %q, want %q", d, got, want)
		}
	}
	if got := looking(r2.Point{X: -1, Y: -0.8}); got != "the rear and right" {
		t.Errorf("looking to the rear and right is %q", got)
	}
}

func TestCall(t *testing.T) {
	p := &Pass{}
	for id, want := range map[string]string{
		"plates.base":               "the base plate",
		"plates.arm.front-left":     "the front left arm",
		"posts.main[2]":             "post main[2]",
		"stacks.main.flight-board":  "the flight board",
		"stacks.main.esc4-30.5-45a": "the esc4-30.5-45a",
		"stacks.main":               "stack main",
		"mounts.receiver":           "the receiver",
		"mounts.esc.rear-right":     "the rear right esc",
		"rotors.front-left.motor":   "the front left motor",
		"battery":                   "the battery",
	} {
		if got := p.call(id); got != want {
			t.Errorf("call(%q) = %q, want %q", id, got, want)
		}
	}
	if got := speak([]string{"a", "b", "c"}); got != "a, b and c" {
		t.Errorf("speak = %q", got)
	}
}
