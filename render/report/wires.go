package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"dryfit/layout"
)

// WiresText writes the cut list for people: every wire with its ends, gauge, colour, length
// to cut, what to strip, and the totals by gauge and sleeve.
func WiresText(w io.Writer, asm *layout.Assembly) error {
	list := asm.CutList()
	var b strings.Builder
	if len(list.Lines) == 0 {
		fmt.Fprintf(&b, "%s: no wires, so nothing to cut; say what is joined under `wires:`\n", asm.Name)
		_, err := io.WriteString(w, b.String())
		return err
	}
	cut, length, grams := list.Total(false)
	leads, used, leadGrams := list.Total(true)
	fmt.Fprintf(&b, "%s: %s in %s", asm.Name, plural(len(list.Lines), "wire"), plural(len(asm.Circuits), "circuit"))
	if cut > 0 {
		fmt.Fprintf(&b, "; %d to cut, %s m, %s g", cut, metres(length), oneDecimal(grams))
	}
	if leads > 0 {
		fmt.Fprintf(&b, "; %d %s, %s m, %s g", leads, comesWith(leads), metres(used), oneDecimal(leadGrams))
	}
	b.WriteString("\n\n")
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "no\tcircuit\tway\tfrom\tto\tgauge\tcolour\tcut mm\tstrip mm\tg\t")
	circuit := 0
	for i := range list.Lines {
		l := &list.Lines[i]
		no, name := "", ""
		if l.No != circuit {
			circuit = l.No
			no, name = strconv.Itoa(l.No), l.Circuit.Label
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", no, name, l.Wire.Way, endText(l.Wire.From), endText(l.Wire.To),
			layout.GaugeText(l.Wire.Gauge)+chosen(l.Wire), dash(l.Wire.Colour), cutText(l), stripText(l.Wire), wireGrams(l), lineNote(l))
	}
	t.Flush()
	if len(list.Gauges) > 0 {
		b.WriteString("\ntotals\n")
	}
	t = tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, g := range list.Gauges {
		with := "to cut"
		if g.Lead {
			with = comesWith(g.Wires)
		}
		fmt.Fprintf(t, "  %s\t%s\t%s m\t%s g\t%s\n", layout.GaugeText(g.Gauge), plural(g.Wires, "wire"), metres(g.MM), oneDecimal(g.Grams), with)
	}
	for _, s := range list.Sleeves {
		fmt.Fprintf(t, "  %s\t%s\t%s m\t\tsleeve\n", s.Sleeve.Name, plural(s.Pieces, "piece"), metres(s.MM))
	}
	t.Flush()
	b.WriteString("\n" + Wrap("", "", "Lengths run from bared end to bared end, slack and strips included, and are rounded up to whole millimetres; ± is the worst case of "+
		"what the build says. Cut one of each, lay it in, then cut the rest. Totals are sums of the lengths above, with nothing for waste.", 96) + "\n")
	if anyChosen(&list) {
		b.WriteString("* the gauge is chosen by use; the build names none\n")
	}
	b.WriteString("\n")
	for _, s := range Cautions() {
		b.WriteString(Wrap("Caution: ", "  ", s, 96) + "\n")
	}
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// Cautions are the warnings that go with wiring a craft, one sentence or two each.
func Cautions() []string {
	return []string{
		"check polarity with a meter at every plug and pad before the first connection; red is the pack's plus, black is ground.",
		"power up for the first time through a current limit, propellers off, the pack within reach.",
		"lithium packs burn: solder no lead that is joined to one, keep them away from the iron.",
		"irons and fresh joints burn, flux fumes harm: stand, fresh air, eye protection.",
	}
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

func comesWith(n int) string {
	if n == 1 {
		return "comes with its part"
	}
	return "come with their parts"
}

// metres prints a sum of whole millimetres in metres, exactly.
func metres(mm float64) string { return strconv.FormatFloat(mm/1000, 'f', 3, 64) }

// endText names where a wire ends: the part, then the pad or way.
func endText(t *layout.Terminal) string {
	if t == nil {
		return "–"
	}
	owner := ""
	if t.Owner != nil {
		owner = t.Owner.Label
	}
	return strings.TrimSpace(owner + " " + t.FullLabel())
}

func chosen(w *layout.Wire) string {
	if w.Chosen {
		return " *"
	}
	return ""
}

func anyChosen(l *layout.CutList) bool {
	for i := range l.Lines {
		if l.Lines[i].Wire.Chosen {
			return true
		}
	}
	return false
}

// cutText prints the length to cut with its tolerance: "112 ±3", "112 +4 −2".
func cutText(l *layout.CutLine) string {
	switch {
	case l.Circuit.Route == nil:
		return "–"
	case !l.Routed:
		return "no way"
	}
	return strconv.FormatFloat(l.Cut, 'f', 0, 64) + tolerance(l.Plus, l.Minus)
}

func tolerance(plus, minus float64) string {
	p, m := math.Ceil(plus-1e-6), math.Ceil(minus-1e-6)
	switch {
	case p <= 0 && m <= 0:
		return ""
	case p > m-0.5 && p < m+0.5:
		return fmt.Sprintf(" ±%.0f", p)
	}
	return fmt.Sprintf(" +%.0f −%.0f", p, m)
}

func stripText(w *layout.Wire) string {
	if w.StripA <= 0 && w.StripB <= 0 {
		return "–"
	}
	return figureOr(w.StripA) + " / " + figureOr(w.StripB)
}

func wireGrams(l *layout.CutLine) string {
	if !l.Routed {
		return "–"
	}
	return strconv.FormatFloat(l.Grams, 'f', 2, 64)
}

// lineNote says what is special about a wire: a lead that comes with its part and what is
// left of it, the plug within the run, the sleeve, the ground that was added.
func lineNote(l *layout.CutLine) string {
	var out []string
	if l.Lead != nil {
		with := "comes with " + l.Lead.Label
		switch {
		case l.Circuit.Kind == layout.CoaxCircuit:
			with += ", never cut: at least so long"
		case l.Bought <= 0:
			with += ", length not known"
		case !l.Routed:
			with += fmt.Sprintf(", %s long", figureOr(l.Bought))
		case l.Spare < 0:
			with += fmt.Sprintf(", %s long: %s TOO SHORT", figureOr(l.Bought), figureOr(-l.Spare))
		default:
			with += fmt.Sprintf(", %s long: %s spare", figureOr(l.Bought), zeroOr(l.Spare))
		}
		out = append(out, with)
	}
	if l.Circuit.Mate != nil {
		out = append(out, "to the "+l.Circuit.Mate.Name+" on the lead of "+l.Circuit.From.Label)
	}
	if s := l.Circuit.Spec; s != nil && s.Sleeve != nil {
		out = append(out, "in "+s.Sleeve.Name)
	}
	if l.Wire.Return {
		out = append(out, "ground added")
	}
	return strings.Join(out, "; ")
}

func zeroOr(v float64) string {
	if v <= 0 {
		return "0"
	}
	return figureOr(v)
}

// WiresCSV writes the cut list as comma-separated values (RFC 4180), one line a wire under a
// line of headings. Lengths in mm, masses in g.
func WiresCSV(w io.Writer, asm *layout.Assembly) error {
	c := csv.NewWriter(w)
	rows := [][]string{{"no", "circuit", "way", "from", "to", "carries", "gauge", "wire", "colour", "cut mm", "plus mm", "minus mm",
		"strip from mm", "strip to mm", "sleeve", "mass g", "comes with", "bought mm", "spare mm", "note"}}
	list := asm.CutList()
	for i := range list.Lines {
		l := &list.Lines[i]
		lead, bought, spare := "", "", ""
		if l.Lead != nil {
			lead, bought = l.Lead.ID, blankZero(l.Bought)
			if l.Bought > 0 && l.Routed {
				spare = strconv.FormatFloat(l.Spare, 'f', -1, 64)
			}
		}
		cut, plus, minus, grams := "", "", "", ""
		if l.Routed {
			cut, plus, minus, grams = strconv.FormatFloat(l.Cut, 'f', 0, 64), blankZero(l.Plus), blankZero(l.Minus), blankZero(l.Grams)
		}
		sleeve, gauge := "", ""
		if s := l.Circuit.Spec; s != nil && s.Sleeve != nil {
			sleeve = s.Sleeve.Name
		}
		if l.Wire.Gauge != nil {
			gauge = l.Wire.Gauge.Name
		}
		rows = append(rows, []string{
			strconv.Itoa(l.No), l.Circuit.Label, l.Wire.Way, idOf(l.Wire.From), idOf(l.Wire.To), string(l.Wire.Role), layout.GaugeText(l.Wire.Gauge), gauge, l.Wire.Colour,
			cut, plus, minus, blankZero(l.Wire.StripA), blankZero(l.Wire.StripB), sleeve, grams, lead, bought, spare, lineNote(l),
		})
	}
	if err := c.WriteAll(rows); err != nil {
		return err
	}
	c.Flush()
	return c.Error()
}

func idOf(t *layout.Terminal) string {
	if t == nil {
		return ""
	}
	return t.ID
}

type jsonCutList struct {
	Dryfit  int             `json:"dryfit"`
	Name    string          `json:"name"`
	Wires   []jsonCutLine   `json:"wires"`
	Gauges  []jsonGauge     `json:"gauges"`
	Sleeves []jsonSleeveSum `json:"sleeves"`
}

type jsonCutLine struct {
	No      int      `json:"no"`
	ID      string   `json:"id"`
	Circuit string   `json:"circuit"`
	Way     string   `json:"way"`
	From    string   `json:"from"`
	To      string   `json:"to"`
	Carries string   `json:"carries"`
	Gauge   string   `json:"gauge"`
	Chosen  bool     `json:"gauge-chosen,omitempty"`
	Colour  string   `json:"colour,omitempty"`
	Routed  bool     `json:"routed"`
	Cut     *float64 `json:"cut,omitempty"`
	Length  *float64 `json:"length,omitempty"`
	Plus    *float64 `json:"plus,omitempty"`
	Minus   *float64 `json:"minus,omitempty"`
	StripA  *float64 `json:"strip-from,omitempty"`
	StripB  *float64 `json:"strip-to,omitempty"`
	Sleeve  string   `json:"sleeve,omitempty"`
	Grams   *float64 `json:"grams,omitempty"`
	Lead    string   `json:"comes-with,omitempty"`
	Bought  *float64 `json:"bought,omitempty"`
	Spare   *float64 `json:"spare,omitempty"`
	Mate    string   `json:"mate,omitempty"`
	Return  bool     `json:"ground-added,omitempty"`
}

type jsonGauge struct {
	Gauge string   `json:"gauge"`
	Wire  string   `json:"wire"`
	Lead  bool     `json:"comes-with-parts"`
	Wires int      `json:"wires"`
	MM    *float64 `json:"length"`
	Grams *float64 `json:"grams"`
}

type jsonSleeveSum struct {
	Sleeve string   `json:"sleeve"`
	Pieces int      `json:"pieces"`
	MM     *float64 `json:"length"`
}

// WiresJSON returns the cut list for programs: every wire and the totals. Lengths mm, masses
// g; `cut` is `length` rounded up to whole mm.
func WiresJSON(asm *layout.Assembly) ([]byte, error) {
	list := asm.CutList()
	out := jsonCutList{Dryfit: 1, Name: asm.Name, Wires: []jsonCutLine{}, Gauges: []jsonGauge{}, Sleeves: []jsonSleeveSum{}}
	for i := range list.Lines {
		out.Wires = append(out.Wires, jsonLine(&list.Lines[i]))
	}
	for _, g := range list.Gauges {
		out.Gauges = append(out.Gauges, jsonGauge{layout.GaugeText(g.Gauge), g.Gauge.Name, g.Lead, g.Wires, round(g.MM), round(g.Grams)})
	}
	for _, s := range list.Sleeves {
		out.Sleeves = append(out.Sleeves, jsonSleeveSum{s.Sleeve.Name, s.Pieces, round(s.MM)})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(out); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func jsonLine(l *layout.CutLine) jsonCutLine {
	j := jsonCutLine{
		No: l.No, ID: l.Wire.ID, Circuit: l.Circuit.ID, Way: l.Wire.Way, From: idOf(l.Wire.From), To: idOf(l.Wire.To), Carries: string(l.Wire.Role),
		Gauge: layout.GaugeText(l.Wire.Gauge), Chosen: l.Wire.Chosen, Colour: l.Wire.Colour, Routed: l.Routed, Return: l.Wire.Return,
	}
	if l.Wire.StripA > 0 {
		j.StripA = round(l.Wire.StripA)
	}
	if l.Wire.StripB > 0 {
		j.StripB = round(l.Wire.StripB)
	}
	if l.Routed {
		j.Cut, j.Length, j.Plus, j.Minus, j.Grams = round(l.Cut), round(l.Length), round(l.Plus), round(l.Minus), round(l.Grams)
	}
	if l.Lead != nil {
		j.Lead = l.Lead.ID
		if l.Bought > 0 {
			j.Bought = round(l.Bought)
			if l.Routed {
				j.Spare = round(l.Spare)
			}
		}
	}
	if l.Circuit.Mate != nil {
		j.Mate = l.Circuit.Mate.Name
	}
	if s := l.Circuit.Spec; s != nil && s.Sleeve != nil {
		j.Sleeve = s.Sleeve.Name
	}
	return j
}
