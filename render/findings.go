package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// numbered is a finding that the drawing shows, with its number.
type numbered struct {
	no int
	f  layout.Finding
}

// numberFindings gives numbers to all findings that do not hold, fail first, then tight,
// then unknown, each in the rules' order. Excused ones are left out: they are named in
// the notes.
func numberFindings(outcomes []layout.Outcome) []numbered {
	var out []numbered
	for _, v := range [...]layout.Verdict{layout.Fail, layout.Tight, layout.Unknown} {
		for _, o := range outcomes {
			for _, f := range o.Findings {
				if f.Verdict == v && f.Excuse == nil {
					out = append(out, numbered{len(out) + 1, f})
				}
			}
		}
	}
	return out
}

// fromSide reports whether a finding is better seen from the side: its two points differ
// more in height than in plan.
func fromSide(f *layout.Finding) bool {
	d := f.B.Sub(f.A)
	return math.Abs(d.Z) > math.Hypot(d.X, d.Y)+1e-6
}

// markFinding draws a finding where it is: the two points joined by a dimension line of
// the verdict's kind, and near it the number with the measured and the needed value.
func markFinding(p *placer, v *view, n numbered) {
	st := StyleOf(n.f.Verdict)
	id := fmt.Sprintf("finding-%d", n.no)
	h := Head{Layer: st.Layer, ID: id, Group: id}
	a, b := v.space(n.f.A), v.space(n.f.B)
	if d := b.Sub(a).Norm(); d > 0.8 {
		p.add(Dim{Head: h, A: a, B: b, P: a, Q: b, Bare: true, Outside: d < 2*arrowLen+1})
	} else {
		p.add(Circle{Head: h, C: a.Add(b).Mul(0.5), R: 1.3})
	}
	mark := Mark{Head: h, No: n.no, Verdict: n.f.Verdict}
	s := against(&n.f)
	w, tall := mark.size()
	mid := a.Add(b).Mul(0.5)
	// The figures stand beside the mark, or under it where that is nearer.
	beside := wish{half: r2.Point{X: w + 0.2, Y: tall + 0.2}, targets: []r2.Point{mid}, least: 8, leader: true}
	under := beside
	tw := TextWidth(s, small)
	if s != "" {
		beside.half.X += (tw + 1.2) / 2
		under.half = r2.Point{X: max(w, tw/2) + 0.2, Y: tall + linePitch/2 + 0.2}
	}
	at := p.find(beside)
	half := beside.half
	stacked := false
	if s != "" {
		if q := p.find(under); q.cost+4 < at.cost {
			at, half, stacked = q, under.half, true
		}
	}
	end := edgePoint(at.at, half, mid)
	lead := h
	lead.Layer = Leader
	p.lead = append(p.lead, geom.Seg{A: end, B: mid})
	p.add(Line{Head: lead, A: end, B: mid})
	text := Text{Head: h, Size: small, S: s, Ink: st.Ink}
	if stacked {
		mark.At = r2.Point{X: at.at.X, Y: at.at.Y - linePitch/2}
		text.At = r2.Point{X: at.at.X, Y: at.at.Y + half.Y - 1.1}
		text.Align = Middle
	} else {
		mark.At = r2.Point{X: at.at.X - half.X + w + 0.2, Y: at.at.Y}
		text.At = r2.Point{X: mark.At.X + w + 1.2, Y: at.at.Y + small/2}
	}
	p.add(mark)
	if s != "" {
		p.add(text)
	}
}

// against prints a finding's measured value, if known, and the needed one as a single
// limit (ISO 129-1: "min.", "max.").
func against(f *layout.Finding) string {
	if !f.HasMeasure {
		return ""
	}
	limit := "min."
	if f.AtMost {
		limit = "max."
	}
	need := value(f.Needed, f.Unit) + " " + limit
	if f.Verdict == layout.Unknown {
		return need // the question mark is in the mark
	}
	return measured(f) + " (" + need + ")"
}

// value prints a figure with its unit, millimetres without.
func value(v float64, u shapes.Unit) string {
	s := figure(v)
	if u == shapes.MM || u == "" {
		return s
	}
	if u == shapes.Deg {
		return s + "°"
	}
	return s + " " + string(u)
}

// measured prints what was measured with two decimals, so that figures in a column can
// be compared.
func measured(f *layout.Finding) string {
	s := strings.Replace(fmt.Sprintf("%.2f", f.Measured), "-", "−", 1)
	switch f.Unit {
	case shapes.MM, "":
		return s
	case shapes.Deg:
		return s + "°"
	}
	return s + " " + string(f.Unit)
}

// signed prints a margin with its sign and two decimals.
func signed(v float64) string {
	s := fmt.Sprintf("%+.2f", v)
	if s == "-0.00" || s == "+0.00" {
		return "0.00"
	}
	return strings.Replace(s, "-", "−", 1)
}

// findingColumns are the columns of the findings table; together tableW wide.
var findingColumns = [...]column{
	{"No.", 13, Middle}, {"Rule and verdict", 34, Left}, {"Measured", 19, Right}, {"Needed", 25, Right}, {"Margin", 19, Right}, {"What, where, what to do", 66, Left},
}

// findingTable lists the numbered findings.
func findingTable(list []numbered) table {
	t := table{id: "findings", title: "Findings", cols: findingColumns[:]}
	text := findingColumns[5].width - 2*cellPad
	for _, n := range list {
		f := &n.f
		cells := [][]string{nil, {f.Rule, f.Verdict.String()}, {"–"}, {"–"}, {"–"}, nil}
		if f.HasMeasure {
			limit := " min."
			if f.AtMost {
				limit = " max."
			}
			cells[3] = []string{value(f.Needed, f.Unit) + limit}
			if f.Verdict != layout.Unknown {
				cells[2] = []string{measured(f)}
				cells[4] = []string{signed(f.Margin)}
				if f.Verdict == layout.Tight {
					cells[4] = append(cells[4], "worst", signed(f.Worst))
				}
			} else {
				cells[2] = []string{"not known"}
			}
		}
		what := f.Message
		if f.Near != "" {
			what = strings.TrimSuffix(what, ".") + " (" + f.Near + ")."
		}
		cells[5] = wrap(what, small, text, 5)
		if f.Fix != "" {
			cells[5] = append(cells[5], wrap("→ "+f.Fix, small, text, 4)...)
		}
		if len(cells[5]) == 0 {
			cells[5] = wrap(strings.Join(f.Subjects, ", "), small, text, 3)
		}
		t.rows = append(t.rows, row{cells: cells, mark: n.no, verdict: f.Verdict})
	}
	return t
}

// marginTable lists the smallest margins of a build in which everything holds: of every
// rule the least one, at most most rows.
func marginTable(outcomes []layout.Outcome, most int) table {
	t := table{id: "margins", title: "Everything holds; the smallest margins", cols: []column{
		{"Rule", 38, Left}, {"Between", 58, Left}, {"Measured", 20, Right}, {"Needed", 25, Right}, {"Margin", 17, Right}, {"Worst", 18, Right},
	}}
	var least []layout.Finding
	for _, o := range outcomes {
		at := -1
		for i, f := range o.Findings {
			if f.Verdict == layout.OK && f.HasMeasure && (at < 0 || f.Worst < o.Findings[at].Worst) {
				at = i
			}
		}
		if at >= 0 {
			least = append(least, o.Findings[at])
		}
	}
	// Margins of different units are compared by their share of the need.
	slices.SortStableFunc(least, func(a, b layout.Finding) int { return cmp.Compare(ease(&a), ease(&b)) })
	for _, f := range least[:min(most, len(least))] {
		limit := " min."
		if f.AtMost {
			limit = " max."
		}
		t.rows = append(t.rows, row{cells: [][]string{
			{f.Rule}, wrap(strings.Join(shortNames(f.Subjects), ", "), small, 58-2*cellPad, 2),
			{measured(&f)}, {value(f.Needed, f.Unit) + limit}, {signed(f.Margin)}, {signed(f.Worst)},
		}})
	}
	return t
}

// ease is the worst margin as a share of the need.
func ease(f *layout.Finding) float64 {
	return f.Worst / math.Max(math.Abs(f.Needed), 1)
}

// shortNames drops the words that all IDs of a kind begin with.
func shortNames(ids []string) []string {
	out := make([]string, len(ids))
	for i, s := range ids {
		for _, p := range [...]string{"stacks.", "mounts.", "rotors.", "plates.", "cameras.", "antennas."} {
			s = strings.TrimPrefix(s, p)
		}
		out[i] = s
	}
	return out
}

// finitePlace reports whether a finding can be drawn.
func finitePlace(f *layout.Finding) bool {
	ok := func(v r3.Vector) bool {
		return !math.IsNaN(v.X+v.Y+v.Z) && !math.IsInf(v.X+v.Y+v.Z, 0)
	}
	return f.HasPlace && ok(f.A) && ok(f.B)
}
