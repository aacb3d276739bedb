package render

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/layout"
)

// partRow is a row of the parts list: all pieces of one class that serve as one thing.
type partRow struct {
	no     int
	name   string
	class  string
	count  int
	grams  float64
	guess  bool
	weighs bool
	all    []*layout.Component
}

// partRows gathers the components by kind and part, in file order.
func partRows(asm *layout.Assembly) []partRow {
	var rows []partRow
	at := map[string]int{}
	for _, c := range asm.Components {
		key := c.Kind + "|" + c.ID
		if arm := armOf(asm, c); arm != "" {
			key = c.Kind + "|" + strings.TrimSuffix(c.ID, "."+arm)
		} else if c.Part != nil && c.Kind != "plate" {
			key = c.Kind + "|" + c.Part.Name
		}
		if c.Kind == "screws" || c.Kind == "wires" { // lists of their own tell them apart
			key = c.Kind
		}
		i, ok := at[key]
		if !ok {
			i = len(rows)
			at[key] = i
			rows = append(rows, partRow{no: i + 1, name: nameOf(c), class: classOf(asm, c)})
		}
		r := &rows[i]
		r.count += max(c.Count, 1)
		r.all = append(r.all, c)
		if g := c.Mass.Grams.Nominal(); g > 0 || c.Kind == "wires" { // leads that are cut shorter weigh less
			r.grams += g
			r.weighs = true
			r.guess = r.guess || c.Mass.Guess
		}
	}
	for i := range rows {
		if rows[i].all[0].Kind == "screws" {
			rows[i].name, rows[i].class = "screws", "screws, nuts and washers: see the hardware list"
			continue
		}
		if rows[i].all[0].Kind == "wires" {
			rows[i].name, rows[i].class = "wires", "beside the leads that parts come with: see the cut list"
			continue
		}
		if len(rows[i].all) > 1 {
			rows[i].name = commonName(rows[i].all)
		}
	}
	return rows
}

func nameOf(c *layout.Component) string {
	if c.Label != "" {
		return c.Label
	}
	return c.ID
}

// armOf returns the rotor that an arm plate belongs to, "" for everything else.
func armOf(asm *layout.Assembly, c *layout.Component) string {
	for _, p := range asm.Plates {
		if p.Component == c {
			return p.ArmOf
		}
	}
	return ""
}

// commonName is the word that a row of several things goes by: their name if they share
// one, else the entry of the build file that they come from, else their kind.
func commonName(all []*layout.Component) string {
	entry := func(id string) string {
		w := strings.Split(id, ".")
		if len(w) < 3 || w[0] != "plates" && w[0] != "mounts" {
			return ""
		}
		return w[1]
	}
	name, from := nameOf(all[0]), entry(all[0].ID)
	for _, c := range all[1:] {
		if nameOf(c) != name {
			name = ""
		}
		if entry(c.ID) != from {
			from = ""
		}
	}
	switch {
	case name != "":
		return name
	case from != "":
		return from
	}
	return all[0].Kind
}

func classOf(asm *layout.Assembly, c *layout.Component) string {
	for _, p := range asm.Plates {
		if p.Component == c {
			s := ""
			if p.Material != nil {
				s = p.Material.Name
			}
			if p.Thickness != nil {
				s += " " + figure(p.Thickness.Value) + " mm"
			}
			return s
		}
	}
	if c.Part == nil {
		return c.Kind
	}
	if c.Part.Title != "" {
		return c.Part.Title
	}
	return c.Part.Name
}

// partTable is the parts list.
func partTable(rows []partRow) table {
	t := table{id: "parts", title: "Parts list", cols: []column{
		{"No.", 11, Middle}, {"Count", 14, Right}, {"Part", 52, Left}, {"Class", 75, Left}, {"Mass g", 24, Right},
	}}
	sum, missing, guess := 0.0, false, false
	for _, r := range rows {
		m := "–"
		if r.weighs {
			m = fmt.Sprintf("%.1f", r.grams)
			if r.guess {
				m = "≈ " + m
			}
		} else {
			missing = true
		}
		sum += r.grams
		guess = guess || r.guess
		t.rows = append(t.rows, row{cells: [][]string{
			{strconv.Itoa(r.no)}, {strconv.Itoa(r.count)}, {r.name}, wrap(r.class, small, 75-2*cellPad, 2), {m},
		}})
	}
	total := fmt.Sprintf("%.1f", sum)
	if guess {
		total = "≈ " + total
	}
	words := "all of the above"
	if missing {
		words += " whose mass is known"
	}
	t.rows = append(t.rows, row{cells: [][]string{nil, nil, {"Total"}, {words}, {total}}})
	return t
}

// anchors returns sheet points on a row's components in a view, the best that there are:
// samples of bodies that nothing hides, else points near their edges that nothing hides,
// else what is seen of their foam, ties and sleeves, else bodies with hidden edges, else any
// (swept ones, and those drawn only where they are seen).
func anchors(v *view, all []*layout.Component) []r2.Point { return thin(anchorsOf(v, all), 6) }

// anchorsOf returns all points that anchors chooses from.
func anchorsOf(v *view, all []*layout.Component) []r2.Point {
	sc := v.scene
	var clear, rim, soft, covered, rest []r2.Point
	for i := range sc.shadows {
		s := &sc.shadows[i]
		if !slices.ContainsFunc(all, func(c *layout.Component) bool { return c.ID == s.id }) {
			continue
		}
		off := func(q r2.Point) bool {
			return v.cut != nil && (q.X < v.cut.lo || q.X > v.cut.hi) || v.gone(q)
		}
		for _, q := range samples(s) {
			if off(q) {
				continue
			}
			switch p := v.point(q); {
			case s.shown != Sweep && sc.seenAt(i, q):
				if s.body.Kind == layout.CushionBody {
					soft = append(soft, p)
				} else {
					clear = append(clear, p)
				}
			case s.shown != Sweep && s.hidden:
				covered = append(covered, p)
			default:
				rest = append(rest, p)
			}
		}
		if s.shown == Sweep || s.body.Kind == layout.CushionBody || len(clear) > 0 {
			continue
		}
		for _, q := range s.inner.rim {
			if !off(q) && sc.seenAt(i, q) {
				rim = append(rim, v.point(q))
			}
		}
	}
	for _, p := range [...][]r2.Point{clear, rim, soft, covered, rest} {
		if len(p) > 0 {
			return p
		}
	}
	return nil
}

// thin keeps at most n of the points, evenly.
func thin(p []r2.Point, n int) []r2.Point {
	if len(p) <= n {
		return p
	}
	out := make([]r2.Point, 0, n)
	for i := range n {
		out = append(out, p[i*len(p)/n])
	}
	return out
}

// samples returns points inside a shadow, away from its edges where there is room. They are
// found once and kept with the shadow.
func samples(s *shadow) []r2.Point {
	s.inner.once.Do(func() { s.inner.points, s.inner.rim = findSamples(s) })
	return s.inner.points
}

// findSamples also returns the points that it found nearer to the edges, if there are better
// ones.
func findSamples(s *shadow) (points, rim []r2.Point) {
	size := s.box.Size()
	off := math.Min(2.5, 0.3*math.Min(size.X, size.Y))
	var deep, out, edge []r2.Point
	for _, fy := range [...]float64{0.5, 0.3, 0.7, 0.12, 0.88} {
		for _, fx := range [...]float64{0.5, 0.25, 0.75, 0.08, 0.92} {
			q := r2.Point{X: s.box.Lo.X + fx*size.X, Y: s.box.Lo.Y + fy*size.Y}
			if !s.covers(q) {
				continue
			}
			out = append(out, q)
			clear := true
			for _, l := range s.loops {
				if _, d := l.Nearest(q); d < off {
					clear = false
					break
				}
			}
			if clear {
				deep = append(deep, q)
			} else {
				edge = append(edge, q)
			}
		}
	}
	if len(deep) > 0 {
		return deep, edge
	}
	return out, nil
}

// seenAt reports whether nothing nearer covers the inner point q of shadow i.
func (sc *scene) seenAt(i int, q r2.Point) bool {
	s := &sc.shadows[i]
	for j := range sc.shadows {
		o := &sc.shadows[j]
		if j == i || !o.hides || !o.box.Contains(q) || o.near <= s.far {
			continue
		}
		if sc.view == fromAbove {
			if o.near > s.near+same && o.covers(q) {
				return false
			}
			continue
		}
		if o.covers(q) && o.depthAt(q, sc.view) > s.depthAt(q, sc.view)+same {
			return false
		}
	}
	return true
}

// shareSeen is the part of a row's area in a view that can be seen, 0..1.
func shareSeen(v *view, all []*layout.Component) float64 {
	seen, total := 0, 0
	for i := range v.scene.shadows {
		s := &v.scene.shadows[i]
		if s.shown == Sweep {
			continue
		}
		for _, c := range all {
			if s.id != c.ID {
				continue
			}
			for _, q := range samples(s) {
				total++
				if v.scene.seenAt(i, q) {
					seen++
				}
			}
		}
	}
	if total == 0 {
		return 0
	}
	return float64(seen) / float64(total)
}
