package render

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// supplyTables sum up what packs and rails give and bear, and what is lost along supply leads;
// none for a build whose wires carry no supply.
func supplyTables(asm *layout.Assembly) []table {
	s := asm.Supply()
	t := table{id: "supply", title: "Supply, currents in A", cols: []column{
		{"Supply", 48, Left}, {"Volts", 24, Left}, {"Gives", 16, Right}, {"Hover", 16, Right}, {"Full", 16, Right}, {"For", 56, Left},
	}}
	for _, p := range s.Packs {
		names := []string{}
		for _, q := range p.Packs {
			names = append(names, q.Label)
		}
		t.rows = append(t.rows, row{cells: [][]string{
			wrap(strings.Join(names, ", "), small, 48-2*cellPad, 8), {fmt.Sprintf("%s / %s", figure(p.Full), figure(p.Sag))},
			{amps(p.Steady)}, {amps(p.HoverA)}, {amps(p.FullA)}, {"full / under load, steady"},
		}})
	}
	for _, r := range s.Rails {
		gives := "–"
		if r.Rail != nil {
			gives = amps(layout.Of(r.Rail.Amps))
		}
		var loads []string
		for _, l := range r.Loads {
			loads = append(loads, l.Owner.Label+" "+amps(l.Amps))
		}
		t.rows = append(t.rows, row{cells: [][]string{
			{r.Owner.Label}, {figure(r.Volts)}, {gives}, {amps(r.Load)}, {amps(r.Load)}, wrap(strings.Join(loads, ", "), small, 56-2*cellPad, 10),
		}})
	}
	if len(t.rows) == 0 {
		return nil
	}
	out := []table{t}
	if drops := dropTable(asm, s); len(drops.rows) > 0 {
		out = append(out, drops)
	}
	return out
}

// dropTable lists for each circuit that carries a supply the current of its wires and what is
// lost along them, there and back.
func dropTable(asm *layout.Assembly, s *layout.Supply) table {
	t := table{id: "drops", title: "Lost along supply leads at full throttle", cols: []column{
		{"No.", 11, Middle}, {"Circuit", 72, Left}, {"Wires", 41, Left}, {"A each", 24, Right}, {"V lost", 28, Right},
	}}
	for no, c := range asm.Circuits {
		var out, back, most layout.Form
		known, any := true, false
		for _, u := range s.Leads {
			if u.Circuit != c {
				continue
			}
			any = true
			known = known && u.Routed
			if u.Full.Nominal() > most.Nominal() {
				most = u.Full
			}
			if u.Wire.Role == shapes.GroundRole {
				if u.Drop.Nominal() > back.Nominal() {
					back = u.Drop
				}
			} else if u.Drop.Nominal() > out.Nominal() {
				out = u.Drop
			}
		}
		if !any || len(most.Missing()) == 0 && most.Nominal() < 0.005 {
			continue // nothing to tell, such as the pulses of a capacitor
		}
		drop := "not known"
		if sum := out.Add(back); known && len(sum.Missing()) == 0 {
			drop = strconv.FormatFloat(sum.Nominal(), 'f', 3, 64)
		}
		t.rows = append(t.rows, row{cells: [][]string{{strconv.Itoa(no + 1)}, {fit(c.Label, small, 72-2*cellPad)}, {bundleText(c)}, {amps(most)}, {drop}}})
	}
	return t
}

// amps prints a current with two decimals below ten, "?" where a figure is missing.
func amps(f layout.Form) string {
	if len(f.Missing()) > 0 {
		return "?"
	}
	v := f.Nominal()
	if math.Abs(v) < 10 {
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	return strconv.FormatFloat(v, 'f', 1, 64)
}

// height is what a table takes with its title and head.
func (t *table) height() float64 {
	h := titleHeight + headHeight + 0.5
	for _, r := range t.rows {
		h += r.height()
	}
	return h
}

// schemTables puts the tables of the supply under the boxes, side by side where the sheet is
// wide, and returns those that find no room and the height of what it put there.
func schemTables(l *List, area geom.Rect, tables []table) (left []table, used float64) {
	x := area.Lo.X
	for i := range tables {
		t := &tables[i]
		if h := t.height(); h > area.Size().Y || x+tableW > area.Hi.X {
			left = append(left, *t)
		} else {
			t.draw(l, r2.Point{X: x, Y: area.Hi.Y - h}, h, 0)
			used = math.Max(used, h)
			x += tableW + 6
		}
	}
	return slices.Clip(left), used
}
