package rules

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/layout"
)

// mm writes a length for a sentence: at most two decimals, no trailing zeros, with its
// unit.
func mm(v float64) string { return num(v) + " mm" }

// num writes a number with at most two decimals, without trailing zeros or "-0".
func num(v float64) string {
	r := math.Round(v*100) / 100
	if r == 0 {
		r = 0 // drops the sign of a negative zero
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// up rounds v up to the next multiple of step. What lies within 1e-6 above a multiple
// counts as that multiple.
func up(v, step float64) float64 { return math.Ceil((v-1e-6)/step) * step }

// down rounds v down to a multiple of step, likewise.
func down(v, step float64) float64 { return math.Floor((v+1e-6)/step) * step }

// spoken turns a name of the file into words: "front-left" into "front left".
func spoken(name string) string { return strings.ReplaceAll(name, "-", " ") }

// speak joins words as a sentence does: "a", "a and b", "a, b and c".
func speak(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// heading says a direction in plan as a person in the seat would: "forward", "left",
// "to the rear and right".
func heading(d r2.Point) string {
	const share = 0.38 // sin of 22.5°: a direction belongs to the nearest of eight
	n := d.Norm()
	if n < 1e-12 {
		return "away"
	}
	var words []string
	switch x := d.X / n; {
	case x > share:
		words = append(words, "forward")
	case x < -share:
		words = append(words, "to the rear")
	}
	switch y := d.Y / n; {
	case y > share:
		words = append(words, "left")
	case y < -share:
		words = append(words, "right")
	}
	if len(words) == 1 && (words[0] == "left" || words[0] == "right") {
		words[0] = "to the " + words[0]
	}
	return speak(words)
}

// looking says where something in plan looks: "forward", "the left", "the rear and right".
func looking(d r2.Point) string { return strings.TrimPrefix(heading(d), "to ") }

// turning says which way a rotor turns, seen from above.
func turning(clockwise bool) string {
	if clockwise {
		return "clockwise"
	}
	return "counter-clockwise"
}

// component returns the component of that ID, nil if there is none.
func (p *Pass) component(id string) *layout.Component {
	for _, c := range p.Asm.Components {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// plate returns the plate of that component ID, nil if there is none.
func (p *Pass) plate(id string) *layout.Plate {
	for _, pl := range p.Asm.Plates {
		if pl.Component != nil && pl.ID == id {
			return pl
		}
	}
	return nil
}

// call is what a sentence calls a component: its ID without the group in front, in
// words. "mounts.esc.front-left" is "the front left esc", "plates.base" "the base
// plate".
func (p *Pass) call(id string) string {
	words := strings.Split(id, ".")
	group := words[0]
	rest := words
	if len(words) > 1 {
		rest = words[1:]
	}
	switch group {
	case "plates":
		if len(rest) == 2 { // one of the arm plates
			return "the " + spoken(rest[1]) + " " + spoken(rest[0])
		}
		return "the " + spoken(strings.Join(rest, " ")) + " plate"
	case "rotors":
		return "the " + spoken(strings.Join(rest, " "))
	case "screws":
		return "the " + spoken(strings.Join(rest, " ")) + " screws"
	case "posts":
		if end, ok := strings.CutSuffix(rest[len(rest)-1], "-screws"); ok {
			return "the " + end + " screws of the " + spoken(rest[0]) + " posts"
		}
		return "post " + strings.Join(rest, ".")
	case "stacks":
		if len(rest) < 2 {
			return "stack " + strings.Join(rest, ".")
		}
		name := strings.Join(rest[1:], ".")
		if len(rest) > 2 { // a class of the catalogue with a point in its name
			return "the " + name
		}
		return "the " + spoken(name)
	case "mounts":
		if len(rest) == 2 {
			return "the " + spoken(rest[1]) + " " + spoken(rest[0])
		}
		return "the " + spoken(strings.Join(rest, " "))
	case "battery":
		return "the battery"
	case "batteries":
		return "the " + spoken(strings.Join(rest, " ")) + " battery"
	case "cameras":
		return "the " + spoken(strings.Join(rest, " ")) + " camera"
	case "antennas":
		return "the " + spoken(strings.Join(rest, " ")) + " antenna"
	}
	return "the " + spoken(rest[len(rest)-1])
}
