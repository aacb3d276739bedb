// Package starter writes the build file that a person starts from: a craft of a stated
// size, with classes of the catalogue chosen by figures of the trade and a geometry worked
// out from their sizes. It checks clean as it is written, and every figure in it is there to
// be replaced by a measured one.
package starter

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dryfit/shapes"
)

// ESC says where the speed controllers sit.
type ESC string

// Places of speed controllers.
const (
	FourInOne ESC = "four-in-one" // boards in the stack, one for every four motors
	OnArms    ESC = "arms"        // a single one on each arm, a power board in the stack
)

// Options is what a starter build is made from.
type Options struct {
	Prop   string // inches: one of Props
	Rotors int    // one of Rotors
	ESC    ESC
	Cells  int    // of the pack: one of Cells(Prop); 0: UsualCells(Prop)
	Name   string // of the craft, for the drawings; "": a plain one by size
	Camera bool   // with a video camera, its transmitter and antenna
}

// Props lists the props that a starter build is made for, in inches as written on them.
func Props() []string {
	var out []string
	for _, s := range sizes() {
		out = append(out, s.prop)
	}
	return out
}

// Rotors lists the numbers of rotors.
func Rotors() []int { return []int{3, 4, 6, 8} }

// Cells lists the cells in series that the motor classes for a prop are wound for, as
// far as packs of that many are sold; nil for a prop that is not one of Props.
func Cells(prop string) []int {
	s, ok := sizeOf(prop)
	if !ok {
		return nil
	}
	lib, err := shapes.Builtin()
	if err != nil {
		return nil
	}
	var out []int
	for cells := fewestCells; cells <= mostCells; cells++ {
		if _, ok := motorFor(lib, s, cells); ok {
			out = append(out, cells)
		}
	}
	return out
}

// UsualCells is the number of cells that is most often flown with a prop: 3 up to
// 2.5 inch, 4 up to 4 inch, 6 above (figures of the trade); 0 for an unknown prop.
func UsualCells(prop string) int {
	list := Cells(prop)
	s, _ := sizeOf(prop)
	usual := 6
	switch {
	case s.inch <= 2.5:
		usual = 3
	case s.inch <= 4:
		usual = 4
	}
	for i := len(list) - 1; i >= 0; i-- {
		if list[i] <= usual {
			return list[i]
		}
	}
	return 0
}

// Mistake is an option that no starter build can be made from.
type Mistake struct {
	Option string // "prop", "rotors", "escs", "cells" or "name"
	Text   string // what is wrong and what may be given
}

// Error says which option is wrong and what it takes.
func (m *Mistake) Error() string { return m.Text }

// check completes the options or tells the first one that is of no use.
func (o Options) check() (Options, error) {
	if _, ok := sizeOf(o.Prop); !ok {
		text := fmt.Sprintf("there is no starter for a prop of %s inch; sizes in inch: %s", strconv.Quote(o.Prop), strings.Join(Props(), ", "))
		if v, err := strconv.ParseFloat(strings.TrimSpace(o.Prop), 64); err == nil && v > 12 {
			text += fmt.Sprintf(" (%s mm is %.3g inch)", o.Prop, v/25.4)
		}
		return o, &Mistake{"prop", text}
	}
	if !slices.Contains(Rotors(), o.Rotors) {
		return o, &Mistake{"rotors", fmt.Sprintf("a starter has 3, 4, 6 or 8 rotors, not %d", o.Rotors)}
	}
	if o.ESC != FourInOne && o.ESC != OnArms {
		return o, &Mistake{"escs", fmt.Sprintf("%q is no place for speed controllers: %s (boards in the stack) or %s (one on each arm)", string(o.ESC), FourInOne, OnArms)}
	}
	if o.Cells == 0 {
		o.Cells = UsualCells(o.Prop)
	}
	if list := Cells(o.Prop); !slices.Contains(list, o.Cells) {
		var words []string
		for _, c := range list {
			words = append(words, strconv.Itoa(c))
		}
		return o, &Mistake{"cells", fmt.Sprintf("motors for %s-inch props are not made for a pack of %d cells; cells: %s", o.Prop, o.Cells, strings.Join(words, ", "))}
	}
	if o.Name == "" {
		o.Name = fmt.Sprintf("my %s-inch craft", o.Prop)
	}
	if strings.ContainsFunc(o.Name, func(r rune) bool { return r < ' ' || r == 0x7f || r == '\ufffd' }) || strings.TrimSpace(o.Name) == "" || len(o.Name) > 60 {
		return o, &Mistake{"name", "a name is one line of 1 to 60 characters"}
	}
	return o, nil
}

// Write returns a commented build file for the options. The same options give the same
// bytes. The error is a *Mistake, or a fault of the catalogue.
func Write(o Options) ([]byte, error) {
	o, err := o.check()
	if err != nil {
		return nil, err
	}
	lib, err := shapes.Builtin()
	if err != nil {
		return nil, err
	}
	c, err := choose(lib, o)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	if err := page.Execute(&buf, newSheet(o, c, newPlan(o, c))); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}
