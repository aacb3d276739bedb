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
	"dryfit/render/report"
	"dryfit/shapes"
)

// numbered is what the drawing shows under one number: a finding, with those of the same
// rule, verdict and figures at other places (a cross has most of its findings four times).
type numbered struct {
	no  int
	all []layout.Finding // at least one
}

func (n *numbered) first() *layout.Finding { return &n.all[0] }

// numberFindings gives the findings that do not hold the numbers that the report gives them.
func numberFindings(outcomes []layout.Outcome) []numbered {
	var out []numbered
	for _, n := range report.Number(outcomes) {
		same := numbered{no: n.No}
		for _, f := range n.All {
			same.all = append(same.all, *f)
		}
		out = append(out, same)
	}
	return out
}

// fromSide reports whether a finding is better seen from the side: its two points differ
// more in height than in plan.
func fromSide(f *layout.Finding) bool {
	d := f.B.Sub(f.A)
	return math.Abs(d.Z) > math.Hypot(d.X, d.Y)+1e-6
}

// inPlan reports whether a finding is better seen from above.
func inPlan(f *layout.Finding) bool { return !fromSide(f) }

// place is a finding at one place of a view.
type place struct {
	no      int
	head    Head
	f       *layout.Finding
	figures string     // what stands beside the number
	at      []r2.Point // where its leader may end
}

// drawFindings draws all findings that seen chooses: the two points of each finding joined
// by a dimension line of the verdict's kind, or a ring where they are one. The figures
// belong to the first place under a number; the others get the number alone. Labels are
// placed later by [placer.label], when all lines are drawn.
func drawFindings(l *List, v *view, prefix string, found []numbered, seen func(*layout.Finding) bool) []place {
	var out []place
	for _, n := range found {
		places := 0
		for i := range n.all {
			f := &n.all[i]
			if !finitePlace(f) || !seen(f) {
				continue
			}
			st := StyleOf(f.Verdict)
			id := fmt.Sprintf("%sfinding-%d", prefix, n.no)
			pl := place{no: n.no, f: f, head: Head{Layer: st.Layer, ID: id, Group: id}}
			if fromSide(f) == (v.facing == fromRight) {
				pl.figures = against(f)
			}
			if places++; places > 1 {
				pl.head.ID = fmt.Sprintf("%s.%d", id, places)
			}
			a, b := v.space(f.A), v.space(f.B)
			mid := a.Add(b).Mul(0.5)
			if slices.ContainsFunc(out, func(q place) bool { return q.no == n.no && q.at[0].Sub(mid).Norm() < 1 }) {
				continue // the far side of the craft, behind the near one
			}
			if d := b.Sub(a).Norm(); d > 0.8 {
				l.add(Dim{Head: pl.head, A: a, B: b, P: a, Q: b, Bare: true, Outside: d < 2*arrowLen+1})
			} else {
				ring := pl.head
				if st.Shape == Diamond {
					ring.Layer = TightMark
				}
				l.add(Circle{Head: ring, C: mid, R: 1.3})
			}
			pl.at = []r2.Point{mid}
			out = append(out, pl)
		}
	}
	return out
}

// labelAll places the labels of all findings, in the order of their numbers. The figures of
// a number stand at that one of its places where they fit best.
func (p *placer) labelAll(places []place) {
	for len(places) > 0 {
		n := 1
		for n < len(places) && places[n].no == places[0].no {
			n++
		}
		same := places[:n]
		places = places[n:]
		best, found := 0, p.seek(&same[0], true)
		for i := 1; i < n && found.cost > 12; i++ {
			if f := p.seek(&same[i], true); f.cost < found.cost {
				best, found = i, f
			}
		}
		p.put(&same[best], found)
		for i := range same {
			if i != best {
				p.put(&same[i], p.seek(&same[i], false))
			}
		}
	}
}

// seat is a place found for a finding's number and figures.
type seat struct {
	spot
	half    r2.Point
	figures string
	stacked bool // the figures stand under the number, not beside it
}

// seek finds a place for a finding's number, with its figures or alone.
func (p *placer) seek(f *place, figures bool) seat {
	w, tall := Mark{No: f.no, Verdict: f.f.Verdict}.size()
	alone := wish{half: r2.Point{X: w + 0.2, Y: tall + 0.2}, targets: f.at, least: 8, leader: true}
	if !figures || f.figures == "" {
		return seat{spot: p.find(alone), half: alone.half}
	}
	tw := TextWidth(f.figures, small)
	beside, under := alone, alone
	beside.half.X += (tw + 1.2) / 2
	under.half = r2.Point{X: max(w, tw/2) + 0.2, Y: tall + linePitch/2 + 0.2}
	best := seat{p.find(beside), beside.half, f.figures, false}
	if q := p.find(under); q.cost+4 < best.cost {
		best = seat{q, under.half, f.figures, true}
	}
	if !best.free {
		// A crowd: the figures stand in the table.
		if q := p.find(alone); q.free {
			q.cost += covered / 2
			best = seat{q, alone.half, "", false}
		}
	}
	return best
}

// put draws a finding's number, its figures and the leader.
func (p *placer) put(f *place, s seat) {
	h := f.head
	w, _ := Mark{No: f.no, Verdict: f.f.Verdict}.size()
	end := edgePoint(s.at, s.half, s.target)
	lead := h
	lead.Layer = Leader
	p.lead = append(p.lead, geom.Seg{A: end, B: s.target})
	p.add(Line{Head: lead, A: end, B: s.target})
	text := Text{Head: h, Size: small, S: s.figures, Ink: StyleOf(f.f.Verdict).Ink}
	mark := Mark{Head: h, No: f.no, Verdict: f.f.Verdict}
	if s.stacked {
		mark.At = r2.Point{X: s.at.X, Y: s.at.Y - linePitch/2}
		text.At = r2.Point{X: s.at.X, Y: s.at.Y + s.half.Y - 1.1}
		text.Align = Middle
	} else {
		mark.At = r2.Point{X: s.at.X - s.half.X + w + 0.2, Y: s.at.Y}
		text.At = r2.Point{X: mark.At.X + w + 1.2, Y: s.at.Y + small/2}
	}
	p.add(mark)
	if s.figures != "" {
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

// margin prints a margin with its sign and its unit, millimetres without.
func margin(v float64, u shapes.Unit) string {
	switch u {
	case shapes.MM, "":
		return signed(v)
	case shapes.Deg:
		return signed(v) + "°"
	}
	return signed(v) + " " + string(u)
}

// findingColumns are the columns of the findings table; together tableW wide.
var findingColumns = [...]column{
	{"No.", 10, Middle}, {"Rule and verdict", 39, Left}, {"Measured", 19, Right}, {"Needed", 22, Right}, {"Margin", 19, Right}, {"What, where, what to do", 67, Left},
}

// findingTable lists the numbered findings.
func findingTable(list []numbered) table {
	t := table{id: "findings", title: "Findings", cols: findingColumns[:]}
	text := findingColumns[5].width - 2*cellPad
	for _, n := range list {
		f := n.first()
		cells := [][]string{nil, append(wrap(f.Rule, small, findingColumns[1].width-2*cellPad, 2), f.Verdict.String()), {"–"}, {"–"}, {"–"}, nil}
		if f.HasMeasure {
			limit := " min."
			if f.AtMost {
				limit = " max."
			}
			cells[3] = wrap(value(f.Needed, f.Unit)+limit, small, findingColumns[3].width-2*cellPad, 2)
			if f.Verdict != layout.Unknown {
				cells[2] = []string{measured(f)}
				cells[4] = []string{margin(f.Margin, f.Unit)}
				if f.Verdict == layout.Tight {
					cells[4] = append(cells[4], "worst", margin(f.Worst, f.Unit))
				}
			} else {
				cells[2] = []string{"not known"}
			}
		}
		what := strings.TrimSuffix(f.Message, ".")
		if f.Near != "" && !strings.Contains(what, f.Near) {
			what += " (" + f.Near + ")"
		}
		cells[5] = wrap(what, small, text, 9)
		if len(n.all) > 1 {
			cells[5] = append(cells[5], wrap(elsewhere(n.all), small, text, 4)...)
		}
		if f.Fix != "" {
			cells[5] = append(cells[5], wrap("→ "+f.Fix, small, text, 9)...)
		}
		if len(cells[5]) == 0 {
			cells[5] = wrap(strings.Join(f.Subjects, ", "), small, text, 3)
		}
		t.rows = append(t.rows, row{cells: cells, mark: n.no, verdict: f.Verdict})
	}
	return t
}

// elsewhere names the other places of a number.
func elsewhere(all []layout.Finding) string {
	var names []string
	for _, f := range all[1:] {
		switch {
		case f.Near != "":
			names = append(names, f.Near)
		case len(f.Subjects) > 0:
			names = append(names, shortNames(f.Subjects[:1])...)
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	if len(names) == 0 {
		return fmt.Sprintf("%d places in all", len(all))
	}
	return "Also: " + strings.Join(names, "; ")
}

// marginTable lists the smallest margins of a build in which everything holds: of every
// rule the least one, at most most rows.
func marginTable(outcomes []layout.Outcome, most int) table {
	t := table{id: "margins", title: "Everything holds; the smallest margins", cols: []column{
		{"Rule", 39, Left}, {"Between", 48, Left}, {"Measured", 22, Right}, {"Needed", 25, Right}, {"Margin", 21, Right}, {"Worst", 21, Right},
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
			{f.Rule}, wrap(strings.Join(shortNames(f.Subjects), ", "), small, 48-2*cellPad, 5),
			{measured(&f)}, {value(f.Needed, f.Unit) + limit}, {margin(f.Margin, f.Unit)}, {margin(f.Worst, f.Unit)},
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
