package render

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dryfit/layout"
)

// circuitTable lists the circuits under the numbers that they have on the sheets.
func circuitTable(asm *layout.Assembly) table {
	t := table{id: "circuits", title: "Circuits", cols: []column{
		{"No.", 11, Middle}, {"From", 38, Left}, {"To", 38, Left}, {"Wires", 27, Left}, {"Ways", 46, Left}, {"Route", 16, Right},
	}}
	for i, c := range asm.Circuits {
		from, to := "–", "–"
		if c.From != nil {
			from = c.From.Label
		}
		if c.To != nil {
			to = c.To.Label
		}
		long := "no way"
		if routed(c) {
			long = strconv.FormatFloat(c.Route.Length, 'f', 0, 64)
		}
		end := func(name string, last bool) []string {
			if pads := padNames(c, last); pads != "" {
				name += ": " + pads
			}
			return wrap(name, small, 38-2*cellPad, 10)
		}
		t.rows = append(t.rows, row{cells: [][]string{
			{strconv.Itoa(i + 1)}, end(from, false), end(to, true), wrap(bundleText(c), small, 27-2*cellPad, 5),
			wrap(wayText(c), small, 46-2*cellPad, 20), {long},
		}})
	}
	return t
}

// padNames lists the names of the pads at one end, each once.
func padNames(c *layout.Circuit, last bool) string {
	var names []string
	for _, w := range c.Wires {
		if t := terminalOf(w, last); t != nil && t.Name != "" && !slices.Contains(names, t.Name) {
			names = append(names, t.Name)
		}
	}
	return strings.Join(names, ", ")
}

// wayText lists the ways with their colours.
func wayText(c *layout.Circuit) string {
	var out []string
	for _, w := range c.Wires {
		out = append(out, w.Way+" "+coreOf(w.Colour).code)
	}
	return strings.Join(out, ", ")
}

// wireTables are the cut list and its totals, for the lists.
func wireTables(asm *layout.Assembly) []table {
	list := asm.CutList()
	if len(list.Lines) == 0 {
		return nil
	}
	t := table{id: "wires", title: "Wires to cut, lengths in mm", cols: []column{
		{"No.", 9, Middle}, {"From", 45, Left}, {"To", 42, Left}, {"AWG", 12, Left}, {"Colour", 14, Middle}, {"Strip", 12, Middle}, {"Cut", 29, Right}, {"g", 13, Right},
	}}
	for i := range list.Lines {
		c := &list.Lines[i]
		cut, grams := "no way", "–"
		if c.Routed {
			cut = strconv.FormatFloat(c.Cut, 'f', 0, 64) + plusMinus(c.Plus, c.Minus)
			grams = fmt.Sprintf("%.2f", c.Grams)
		}
		if c.Lead != nil {
			cut += " L"
		}
		gauge := strings.TrimSuffix(layout.GaugeText(c.Wire.Gauge), " AWG")
		if c.Circuit.Kind == layout.CoaxCircuit {
			gauge = "coax"
		}
		strip := "–"
		if c.Wire.StripA > 0 || c.Wire.StripB > 0 {
			strip = figure(c.Wire.StripA) + "/" + figure(c.Wire.StripB)
		}
		t.rows = append(t.rows, row{cells: [][]string{
			{strconv.Itoa(c.No)}, wrap(endWords(c.Wire, false), small, 45-2*cellPad, 5), wrap(endWords(c.Wire, true), small, 42-2*cellPad, 5),
			{gauge}, {coreOf(c.Wire.Colour).code}, {strip}, {cut}, {grams},
		}})
	}
	sums := table{id: "wire-totals", title: "Wire and sleeve to have", cols: []column{
		{"What", 60, Left}, {"Pieces", 24, Right}, {"Length, m", 30, Right}, {"Mass, g", 26, Right}, {"", 36, Left},
	}}
	for _, g := range list.Gauges {
		with := "to cut"
		if g.Lead {
			with = "come with parts"
		}
		sums.rows = append(sums.rows, row{cells: [][]string{{layout.GaugeText(g.Gauge)}, {strconv.Itoa(g.Wires)},
			{fmt.Sprintf("%.3f", g.MM/1000)}, {fmt.Sprintf("%.1f", g.Grams)}, {with}}})
	}
	for _, s := range list.Sleeves {
		sums.rows = append(sums.rows, row{cells: [][]string{{s.Sleeve.Name}, {strconv.Itoa(s.Pieces)}, {fmt.Sprintf("%.3f", s.MM/1000)}, {"–"}, wrap(sleeved(asm, s.Sleeve.Name), small, 36-2*cellPad, 10)}})
	}
	return []table{t, sums}
}

// wireNotes say how to read the cut list.
func wireNotes(asm *layout.Assembly) []string {
	if len(asm.Circuits) == 0 {
		return nil
	}
	out := []string{"Wires: cut lengths run from bared end to bared end, slack and strips included, rounded up to whole millimetres. Lay one in before you cut its likes."}
	list := asm.CutList()
	if slices.ContainsFunc(list.Lines, func(l layout.CutLine) bool { return l.Lead != nil }) {
		out = append(out, "L: a lead that comes with its part; the length is what to leave of it. `dryfit wires` says what is spare.")
	}
	out = append(out, "Letters of colours are those of IEC 60757.")
	return append(out, wiringCautions()...)
}

// sleeved says which circuits lie in sleeves of one size.
func sleeved(asm *layout.Assembly, name string) string {
	var nos []string
	for i, c := range asm.Circuits {
		if c.Spec != nil && c.Spec.Sleeve != nil && c.Spec.Sleeve.Name == name && routed(c) {
			nos = append(nos, strconv.Itoa(i+1))
		}
	}
	return "over " + strings.Join(nos, ", ")
}

// endWords names one end of a wire: the part and the pad, or of a lead that hangs on the part what
// it carries.
func endWords(w *layout.Wire, last bool) string {
	t := terminalOf(w, last)
	switch {
	case t == nil:
		return "–"
	case t.Owner == nil:
		return t.FullLabel()
	case t.Pad == nil && t.Pin == nil:
		return t.Owner.Label + " " + w.Way
	}
	return t.Owner.Label + " " + t.FullLabel()
}

func plusMinus(plus, minus float64) string {
	p, m := math.Ceil(plus-1e-6), math.Ceil(minus-1e-6)
	switch {
	case p <= 0 && m <= 0:
		return ""
	case math.Abs(p-m) < 0.5:
		return fmt.Sprintf(" ±%.0f", p)
	}
	return fmt.Sprintf(" +%.0f −%.0f", p, m)
}
