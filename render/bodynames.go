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

// taken says for the title what is taken off.
func (b *bodyPlan) taken() string {
	var names []string
	if len(b.lids) > 0 {
		names = append(names, b.lids[0].Name)
	}
	for _, p := range b.asm.Packs {
		if b.off[p.ID] {
			names = append(names, p.Label)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return ", " + strings.Join(names, " and ") + " taken off"
}

// bodyTables list the rows of the parts list that the detail shows, in two columns, with
// the heights that their pieces take up, without the foam, ties and sleeves that hold them.
func (d *drawing) bodyTables(b *bodyPlan) [2]table {
	var rows []row
	for _, r := range d.rows {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, c := range b.those(r.all) {
			for _, x := range c.Bodies {
				if x.Kind != layout.LeadBody && x.Kind != layout.CushionBody {
					lo, hi = math.Min(lo, x.Bottom.Nominal()), math.Max(hi, x.Top.Nominal())
				}
			}
		}
		if lo <= hi {
			rows = append(rows, row{cells: [][]string{{strconv.Itoa(r.no)}, {r.name}, {level2(lo)}, {level2(hi)}}})
		}
	}
	cols := []column{{"No.", 9, Middle}, {"Part", 45, Left}, {"from", 17, Right}, {"to", 17, Right}}
	half := (len(rows) + 1) / 2
	return [2]table{
		{id: "body.list", title: "Shown here", cols: cols, rows: rows[:half]},
		{id: "body.list-2", title: "Heights in mm", cols: cols, rows: rows[half:]},
	}
}

// bodyNotes say what is taken off, what the arms carry and where the stacks stand. Screws
// go with what they hold and are not named.
func (d *drawing) bodyNotes(b *bodyPlan) []string {
	var off, arms []string
	for _, r := range d.rows {
		if len(b.those(r.all)) > 0 || r.all[0].Kind == "screws" {
			continue
		}
		s := r.name + " (" + strconv.Itoa(r.no) + ")"
		switch {
		case slices.ContainsFunc(r.all, func(c *layout.Component) bool { return onArm(d.asm, c.ID) }):
			arms = append(arms, s)
		case slices.ContainsFunc(r.all, func(c *layout.Component) bool { return b.off[c.ID] }):
			off = append(off, s)
		}
	}
	var out []string
	if len(off) > 0 {
		out = append(out, "Taken off: "+strings.Join(off, ", ")+", with their screws. Two-dot chain lines show where roof and pack are.")
	}
	if len(arms) > 0 {
		out = append(out, "On the arms, see the top view: "+strings.Join(arms, ", ")+".")
	}
	for _, s := range d.asm.Stacks {
		if !b.stackShown(s) {
			continue
		}
		c := s.Pose.Apply(r2.Point{})
		where := "on the middle of the craft"
		if c.Norm() > 0.005 {
			where = fmt.Sprintf("at x %s, y %s from the middle of the craft", figure(c.X), figure(c.Y))
		}
		out = append(out, fmt.Sprintf("Stack %s stands %s. Heights count from the datum of the side view.", s.Name, where))
	}
	return out
}

// roofNames names the outlines of what is taken off.
func (b *bodyPlan) roofNames(p *placer, v *view) {
	for i := range b.scene.shadows {
		s := &b.scene.shadows[i]
		if s.shown != Sweep || s.body.Kind != layout.PlateBody && s.body.Kind != layout.PackBody {
			continue
		}
		var targets []r2.Point
		for _, o := range s.sides {
			if o.Seg.Length()*v.scale > 8 {
				for _, t := range [...]float64{0.5, 0.25, 0.75, 0.1, 0.9} {
					targets = append(targets, v.point(o.Seg.At(t)))
				}
			}
		}
		id := "body." + s.id
		name := s.id[strings.LastIndexByte(s.id, '.')+1:]
		p.note(Head{Layer: Dimension, ID: id, Group: id}, []string{name + ", taken off"}, thin(targets, 12), 7, true)
	}
}

// portNames names the ports at the rooms of their plugs, with their owner where two ports
// have one name.
func (b *bodyPlan) portNames(p *placer, v *view) {
	name := func(q *layout.PortPlace) string { return strings.TrimPrefix(q.ID, q.Owner.ID+".") }
	for _, q := range b.asm.Ports {
		if !b.shows(q) {
			continue
		}
		s := name(q)
		if slices.ContainsFunc(b.asm.Ports, func(o *layout.PortPlace) bool { return o != q && b.shows(o) && name(o) == s }) {
			s += ", " + q.Owner.Label
		}
		targets := []r2.Point{v.point(q.Mouth)}
		if long, _ := plugRoom(q); q.Up == 0 && long > 0 {
			targets = []r2.Point{v.point(q.Mouth.Add(q.Dir.Mul(long * 0.7))), v.point(q.Mouth.Add(q.Dir.Mul(long * 0.4)))}
		}
		id := "body." + q.ID
		p.note(Head{Layer: Dimension, ID: id, Group: id}, []string{s}, targets, 6, true)
	}
}

// zoneNames names what stands on boards, where the part says what it is.
// They are the first to go where there is no room.
func (b *bodyPlan) zoneNames(p *placer, v *view) {
	p.spare = true
	defer func() { p.spare = false }()
	for i := range b.scene.shadows {
		s := &b.scene.shadows[i]
		_, name, ok := strings.Cut(s.body.ID, ".zone.")
		if !ok || s.body.Kind != layout.ZoneBody {
			continue
		}
		var seen, all []r2.Point
		for _, q := range samples(s) {
			all = append(all, v.point(q))
			if b.scene.seenAt(i, q) {
				seen = append(seen, v.point(q))
			}
		}
		if len(seen) == 0 {
			seen = all
		}
		id := "body." + s.body.ID
		p.note(Head{Layer: Dimension, ID: id, Group: "body." + s.id}, []string{name}, thin(seen, 6), 6, true)
	}
}
