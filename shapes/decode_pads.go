package shapes

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/shapes/read"
)

// Roles lists what a pad or a pin may carry, in the order in which messages name them.
func Roles() []string {
	return []string{"pack", "ground", "motor", "signal", "video", "supply-5", "supply-9", "supply-12", "supply-3.3", "antenna", "feed"}
}

// Pad returns the pad called name, nil if the part has none.
func (p *Part) Pad(name string) *Pad {
	for i := range p.Pads {
		if p.Pads[i].Name == name {
			return &p.Pads[i]
		}
	}
	return nil
}

// maxWays bounds a row of pads, maxPads those of a part.
const (
	maxWays = 40
	maxPads = 300
)

// pads reads the places to solder to. One of an inherited name is changed key by key;
// `none` drops it.
func (d *decoder) pads(f *read.Fields, p *Part) {
	entries := f.Named("pads")
	if len(entries) > maxPads {
		d.ds.At(f.Get("pads"), fmt.Sprintf("%d pads are more than a part has", len(entries)), fmt.Sprintf("at most %d", maxPads), "")
		return
	}
	for _, e := range entries {
		at := slices.IndexFunc(p.Pads, func(q Pad) bool { return q.Name == e.Key })
		if e.Value.Raw() == "none" {
			if at < 0 {
				d.ds.At(e.Value, "there is no pad "+e.Key+" to drop", "", "")
				continue
			}
			p.Pads = append(p.Pads[:at:at], p.Pads[at+1:]...)
			continue
		}
		pad := Pad{Name: e.Key, Ways: 1}
		if at >= 0 {
			pad = p.Pads[at]
		}
		pad.Pos = e.KeyPos
		if !d.pad(e.Value, &pad, at >= 0) {
			continue
		}
		if at >= 0 {
			p.Pads[at] = pad
		} else {
			p.Pads = append(p.Pads, pad)
		}
	}
	slices.SortFunc(p.Pads, func(a, b Pad) int { return strings.Compare(a.Name, b.Name) })
}

func (d *decoder) pad(n *read.Node, pad *Pad, inherited bool) bool {
	f := d.ds.Fields(n, "a pad")
	if !f.OK() {
		return false
	}
	at := f.Get("at")
	if at == nil && !inherited {
		at = f.Need("at", "[x, y] from the middle of the part")
	}
	if at != nil {
		pad.At, _ = d.pair(at, OffsetMM())
	}
	if f.Has("face") {
		pad.Face = d.face(f)
	}
	pad.Role = Role(f.Enum("role", string(pad.Role), Roles()...))
	before := d.ds.Count()
	pad.Ways = f.Int("ways", 1, maxWays, pad.Ways)
	if pad.Ways == 1 && d.ds.Count() == before && !misspelt(n, "ways") {
		f.Refuse("pitch", "a single pad has no `pitch:`", "write `ways: 3` for a row of three, or delete `pitch:`")
		f.Refuse("row", "a single pad does not lie in a row", "write `ways: 3` for a row of three, or delete `row:`")
	}
	pad.Pitch = d.plain(f, "pitch", pad.Pitch, SizeMM().Between(0.5, 40))
	pad.Row = d.plain(f, "row", pad.Row, AngleDeg())
	if pad.Ways > 1 && pad.Pitch <= 0 && f.Get("pitch") == nil {
		f.Lack("pitch", fmt.Sprintf("%d pads in a row need `pitch:`", pad.Ways), "mm from the middle of one pad to the next, such as 3.3", "")
	}
	if q := f.Get("facing"); q != nil {
		if v, ok := ParsePlain(d.ds, q, AngleDeg()); ok {
			pad.Facing, pad.HasFacing = v, true
		}
	}
	d.dim(f, "size", &pad.Size, SizeMM().Between(0.3, 30))
	d.nameDim(pad.Size, pad.Name+" size")
	d.electric(f, &pad.Electric, pad.Role, pad.Name)
	f.Done()
	return true
}

// electric reads what a pad or pin bears.
func (d *decoder) electric(f *read.Fields, e *Electric, role Role, name string) {
	if n := f.Get("takes"); n != nil {
		if s, ok := ParseSpan(d.ds, n, VoltageV()); ok {
			e.Takes = &s
		}
	}
	if n := f.Get("draws"); n != nil {
		e.Draws = d.dimAt(n, name+" draws", CurrentA())
		if role != FeedRole && role != PackRole && role != "" {
			d.ds.At(n, "only what is fed draws a current: this carries "+roleWords(role), "role: feed, or role: pack", "delete `draws:`, or mend `role:`")
			e.Draws = nil
		}
	}
}

// misspelt tells whether a key of the map is a misspelling of this one: that is reported, and
// what seems to follow from its absence need not be.
func misspelt(n *read.Node, key string) bool {
	return slices.ContainsFunc(n.Entries(), func(e read.Entry) bool { return e.Key != key && read.Nearest(e.Key, []string{key}) != "" })
}

func roleWords(r Role) string {
	if r == "" {
		return "nothing that is said"
	}
	return string(r)
}

// pins reads the ways of a plug in order. A way is a text of its name with its role
// behind it ("telemetry signal"), where the role may be left out when the name is a role
// (ground) or the way carries a signal; "unused"; or a map with name, role, takes, draws.
func (d *decoder) pins(n *read.Node, port *Port) {
	items, ok := d.ds.List(n)
	if !ok {
		return
	}
	port.Pins = nil
	seen := map[string]*read.Node{}
	for _, it := range items {
		pin, ok := d.pin(it)
		if !ok {
			continue
		}
		if first := seen[pin.Name]; first != nil && pin.Name != UnusedPin {
			d.ds.AtRelated(it, "the way "+read.Quote(pin.Name)+" stands twice", "each name once, such as ground and ground-2", "",
				read.Related{Pos: first.Pos(), Text: "the first one"})
		}
		seen[pin.Name] = it
		port.Pins = append(port.Pins, pin)
	}
	if port.Plug == "" || len(items) == 0 || d.source != Given {
		return
	}
	if plug, ok := d.lib.Find(port.Plug); ok && plug.Plug != nil && plug.Plug.Ways > 0 && plug.Plug.Ways != len(items) {
		d.ds.At(n, fmt.Sprintf("%d ways are listed, and the plug %s has %d", len(items), port.Plug, plug.Plug.Ways),
			"one name a way, from the one marked 1", "write unused for a way that carries nothing")
	}
}

// UnusedPin is the name of a way of a plug that carries nothing.
const UnusedPin = "unused"

func (d *decoder) pin(n *read.Node) (Pin, bool) {
	if n.Kind() == read.Map {
		f := d.ds.Fields(n, "a way of a plug")
		pin := Pin{Name: f.Name("name", "")}
		if !f.Has("name") {
			f.Need("name", "what it is called, such as telemetry")
		}
		pin.Role = Role(f.Enum("role", string(roleOfName(pin.Name)), Roles()...))
		d.electric(f, &pin.Electric, pin.Role, pin.Name)
		f.Done()
		return pin, pin.Name != ""
	}
	text, ok := d.ds.Text(n)
	if !ok {
		return Pin{}, false
	}
	words := strings.Fields(text)
	if len(words) == 0 || len(words) > 2 {
		d.ds.At(n, n.Describe()+" is not a way of a plug", "a name with its role behind it, such as `telemetry signal`", "")
		return Pin{}, false
	}
	pin := Pin{Name: words[0], Role: roleOfName(words[0])}
	if len(words) == 2 {
		if !slices.Contains(Roles(), words[1]) {
			d.ds.At(n, read.Quote(words[1])+" is not what a way can carry", "one of "+strings.Join(Roles(), ", "), read.DidYouMean(words[1], Roles()))
			return Pin{}, false
		}
		pin.Role = Role(words[1])
	} else if strings.HasPrefix(pin.Name, "supply") && pin.Role == SignalRole {
		d.ds.At(n, read.Quote(pin.Name)+" does not say what it gives or takes", "`"+pin.Name+" supply-5` for what gives 5 V, `"+pin.Name+" feed` for what takes it", "")
		return Pin{}, false
	}
	return pin, true
}

// roleOfName is the role of a way that says none: its name where that is a role, else a
// signal.
func roleOfName(name string) Role {
	switch {
	case slices.Contains(Roles(), name):
		return Role(name)
	case name == UnusedPin || name == "":
		return ""
	}
	return SignalRole
}

// rails reads the regulated supplies that a part makes, by their voltage: a current, or
// {amps:, dropout:}. One of an inherited voltage is replaced; `none` drops it, or all.
func (d *decoder) rails(f *read.Fields, p *Part) {
	n := f.Get("rails")
	if n == nil {
		return
	}
	if n.Raw() == "none" {
		p.Rails = nil
		return
	}
	if n.Kind() != read.Map {
		d.ds.At(n, "`rails:` is a map from volts to amperes, not "+n.Describe(), "such as {5: 2 A}", "")
		return
	}
	for _, e := range n.Entries() {
		q, err := ParseQuantity(e.Key, Volt)
		if err != nil || q.HasTol || q.Unknown || q.Value <= 0 || q.Value > 60 {
			d.ds.AtKey(n, e, read.Quote(e.Key)+" is not the voltage of a rail", "a voltage from 1 to 60 V, such as 5", "")
			continue
		}
		at := slices.IndexFunc(p.Rails, func(r Rail) bool { return r.Volts > q.Value-0.05 && r.Volts < q.Value+0.05 })
		if at >= 0 {
			p.Rails = append(p.Rails[:at:at], p.Rails[at+1:]...)
		}
		if e.Value.Raw() == "none" {
			continue
		}
		name := trim(q.Value) + " V rail"
		r := Rail{Volts: q.Value, Pos: e.KeyPos}
		if e.Value.Kind() == read.Map && e.Value.Get("typ") == nil && e.Value.Get("range") == nil {
			g := d.ds.Fields(e.Value, "a rail")
			if a := g.Need("amps", "the current that it gives steadily, such as 2 A"); a != nil {
				r.Amps = d.dimAt(a, name, CurrentA())
			}
			if v := g.Get("dropout"); v != nil {
				r.Dropout = d.dimAt(v, name+" dropout", VoltageV())
			}
			g.Done()
		} else {
			r.Amps = d.dimAt(e.Value, name, CurrentA())
		}
		if r.Amps == nil {
			r.Amps = d.lacking(name, Amp)
		}
		p.Rails = append(p.Rails, r)
	}
	slices.SortFunc(p.Rails, func(a, b Rail) int {
		if a.Volts < b.Volts {
			return -1
		}
		return 1
	})
}
