package layout

import (
	"cmp"
	"slices"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// afterRefs checks what needs all references: who carries whom, and what is said about
// pairs of rotors.
func (d *decoder) afterRefs() {
	d.carrierRings(d.carrierLinks())
	d.lowestPlate()
	d.pairSides()
	d.bareRotors()
}

// bareRotors puts the motors of a build without plates on a level of their own, so that
// props can be checked against each other before anything else is drawn.
func (d *decoder) bareRotors() {
	if d.b.Rotors == nil || len(d.b.Plates) > 0 {
		return
	}
	for _, r := range d.b.Rotors.Rotors {
		if r.Height == nil {
			r.Height = &shapes.Dim{Name: r.Name + " height", Unit: shapes.MM, Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true, Pos: r.Pos}
		}
	}
}

// carrierLink says that one thing is carried by another.
type carrierLink struct {
	from, to string
	t        *Target // the reference that says so
}

// carrierLinks lists who is carried by whom, in the order of the references in the file.
func (d *decoder) carrierLinks() []carrierLink {
	var out []carrierLink
	add := func(from string, t *Target) {
		if t == nil || t.Kind == TargetArms {
			return
		}
		whole := *t
		whole.Rotor = "" // the copies of a thing share their carrier
		if whole.Kind == TargetBoard {
			whole.Kind = TargetStack
		}
		out = append(out, carrierLink{from, whole.ID(), t})
	}
	b := d.b
	for _, p := range b.Plates {
		add("plates."+p.Name, p.On)
		add("plates."+p.Name, p.Under)
	}
	for _, p := range b.Posts {
		add("posts."+p.Name, p.From)
	}
	for _, s := range b.Stacks {
		add("stacks."+s.Name, s.From)
	}
	for _, m := range b.Mounts {
		add("mounts."+m.Name, m.On)
	}
	for _, p := range b.Batteries {
		add(p.ID(), p.On)
	}
	slices.SortStableFunc(out, func(a, b carrierLink) int {
		return cmp.Or(cmp.Compare(a.t.Pos.Line, b.t.Pos.Line), cmp.Compare(a.t.Pos.Col, b.t.Pos.Col))
	})
	return out
}

// carrierRings reports each ring of carriers once, at its first reference.
func (d *decoder) carrierRings(links []carrierLink) {
	next := map[string]carrierLink{}
	for _, l := range links {
		next[l.from] = l // each thing has one carrier
	}
	seen := map[string]bool{}
	for _, l := range links {
		if seen[l.from] {
			continue
		}
		ring := []string{l.from}
		at := l.to
		for at != l.from && len(ring) <= len(next) {
			n, ok := next[at]
			if !ok {
				break
			}
			ring = append(ring, at)
			at = n.to
		}
		if at != l.from {
			continue
		}
		short := make([]string, len(ring))
		for i, id := range ring {
			seen[id] = true
			short[i] = strings.TrimPrefix(id, "plates.")
		}
		msg := short[0] + " is carried by itself: " + strings.Join(append(short, short[0]), " on ")
		hint := "one of them must be carried by something else"
		if len(ring) == 1 {
			msg, hint = short[0]+" cannot be carried by itself", "name what carries it"
		}
		d.diags.At(d.nodes[l.t], msg, "", hint)
	}
}

// lowestPlate checks that at most one plate stands on nothing.
func (d *decoder) lowestPlate() {
	var free []read.Entry
	for _, e := range d.plateEntries {
		if !d.placed[e.Key] {
			free = append(free, e)
		}
	}
	if len(free) < 2 || d.lost["plates"] {
		return
	}
	slices.SortStableFunc(free, func(a, b read.Entry) int {
		return cmp.Or(cmp.Compare(a.KeyPos.Line, b.KeyPos.Line), cmp.Compare(a.KeyPos.Col, b.KeyPos.Col))
	})
	for _, e := range free[1:] {
		d.diags.AtKey(d.root, e, "neither "+free[0].Key+" nor "+e.Key+" says where it stands, and only the lowest plate may leave that out",
			"`on:` or `under:` with a plate or a set of posts", "such as `on: posts.main`")
	}
}

// pairSides checks that the rotors of a pair are on either side of their arm.
func (d *decoder) pairSides() {
	if d.b.Rotors == nil {
		return
	}
	for _, r := range d.b.Rotors.Rotors {
		o := d.b.Rotors.find(r.Coaxial)
		if o == nil || o.Name < r.Name || o.Below != r.Below {
			continue
		}
		d.diags.At(d.root.Get("rotors"), r.Name+" and "+o.Name+" share an axis and a side of their arm", "one `side: above` and one `side: below`", "")
	}
}
