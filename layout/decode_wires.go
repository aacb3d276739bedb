package layout

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// motorLeadsWord is the entry that stands for the leads of all motors.
const motorLeadsWord = "motor leads"

// wireDecoder reads the section wires. It works when all names are known.
type wireDecoder struct {
	*decoder
	ix    *index
	ends  *endIndex
	uses  map[string]*wireUse // by "component.pad": who is joined to it already
	names map[string]read.Pos
}

type wireUse struct {
	entry *read.Node
	count int
}

// wires reads the wires. They are a list, so that an entry needs no name.
func (d *decoder) wires(n *read.Node, ix *index) {
	if n == nil {
		return
	}
	items := n.Items()
	if n.Kind() != read.List {
		hint := "write each entry on a line that begins with -"
		if n.Kind() == read.Scalar && n.Raw() == motorLeadsWord {
			hint = "write [" + motorLeadsWord + "]"
		}
		d.diags.At(n, "`wires:` is a list of what is joined, not "+n.Describe(), "lines such as `- motor leads` or `- {from: battery, to: BOARD}`", hint)
		return
	}
	w := &wireDecoder{decoder: d, ix: ix, ends: d.endIndex(), uses: map[string]*wireUse{}, names: map[string]read.Pos{}}
	for _, it := range items {
		if s := w.entry(it); s != nil {
			d.b.Wires = append(d.b.Wires, s)
		}
	}
	d.reportStrays()
}

// entry reads one entry; nil after a mistake.
func (w *wireDecoder) entry(n *read.Node) *WireSpec {
	before := w.diags.Count()
	s := &WireSpec{Pos: n.Pos()}
	if n.Kind() == read.Scalar {
		if n.Raw() != motorLeadsWord {
			w.diags.At(n, n.Describe()+" does not say what is joined", "`motor leads`, or {from: ..., to: ...}", read.DidYouMean(n.Raw(), []string{motorLeadsWord}))
			return nil
		}
		s.Motors = true
		w.motorLeads(n, s, nil)
		return w.good(s, before)
	}
	f := w.diags.Fields(n, "an entry of the wires")
	if !f.OK() {
		return nil
	}
	leads := f.Get(motorLeadsWord)
	order := f.Get("order")
	s.Motors = leads != nil || hasKey(n, motorLeadsWord)
	from, to := f.Get("from"), f.Get("to")
	w.common(f, s)
	ways := f.Get("ways")
	if ways != nil {
		s.Ways = w.wayList(ways)
	}
	switch {
	case s.Motors:
		for _, k := range []struct {
			key  string
			node *read.Node
		}{{"from", from}, {"to", to}, {"ways", ways}} {
			if k.node != nil {
				w.diags.At(k.node, "`motor leads:` says both ends already, so `"+k.key+":` has no meaning", "{motor leads: BOARD}, with the part that drives the motors", "delete one of the two")
				s.Ways = nil
			}
		}
	case from == nil && to == nil && !slip(n, "from", "to", motorLeadsWord):
		f.Lack("from", "an entry of the wires needs `from:` and `to:`", "{from: battery, to: BOARD}, or motor leads", "")
	case slip(n, motorLeadsWord): // that is the one mistake
		f.Also("from", "to")
	default:
		f.Need("from", "where it begins, such as battery or BOARD.PAD")
		f.Need("to", "where it ends, such as BOARD or mounts.NAME")
	}
	f.Done()
	if s.Motors {
		if leads.Kind() != read.Null {
			s.To = w.end(leads)
		}
		if w.diags.Count() == before && (s.To != nil || leads.Kind() == read.Null) {
			w.motorLeads(n, s, order)
		}
		return w.good(s, before)
	}
	if from != nil {
		s.From = w.end(from)
	}
	if to != nil {
		s.To = w.end(to)
	}
	if w.diags.Count() == before && s.From != nil && s.To != nil {
		w.joined(n, s, from, to, ways, order)
	}
	return w.good(s, before)
}

func hasKey(n *read.Node, key string) bool {
	return slices.ContainsFunc(n.Entries(), func(e read.Entry) bool { return e.Key == key })
}

func (w *wireDecoder) good(s *WireSpec, before int) *WireSpec {
	if w.diags.Count() > before || !s.Motors && (s.From == nil || s.To == nil) {
		return nil
	}
	return s
}

// common reads the keys that all entries have.
func (w *wireDecoder) common(f *read.Fields, s *WireSpec) {
	if n := f.Get("name"); n != nil {
		if name, ok := w.diags.Name(n); ok {
			if strings.Contains(name, ".") {
				w.diags.At(n, read.Quote(name)+` is no name for wires: it has a "."`, "small letters, digits and hyphens", "")
			} else if first, twice := w.names[name]; twice {
				w.diags.AtRelated(n, "two entries of the wires have the name "+read.Quote(name), "each name once", "", read.Related{Pos: first, Text: "the first one"})
			} else {
				s.Name, w.names[name] = name, n.Pos()
			}
		}
	}
	s.Gauge = w.gauge(f.Get("gauge"))
	s.Colour = w.colours(f.Get("colours"))
	s.Sleeve = w.part(f.Get("sleeve"), "a sleeve", shapes.SleeveKind)
	label := s.Name
	if label == "" {
		label = "wire"
	}
	if n := f.Get("length"); n != nil {
		s.Length = w.dim(n, label+" as bought", shapes.SizeMM())
	}
	if n := f.Get("slack"); n != nil {
		s.Slack = w.dim(n, label+" slack", shapes.LengthMM().Between(0, 500))
	}
	s.Loose = f.Bool("loose", false)
	s.Edge = f.Enum("edge", "", "sleeve", "tape", "chamfer")
	w.vias(f.Get("via"), s)
	if n := f.Get("ties"); n != nil {
		items, ok := w.diags.List(n)
		switch {
		case !ok:
		case len(items) == 2 && items[0].Kind() != read.List:
			s.Ties = append(s.Ties, w.point(n))
		default:
			for _, it := range items {
				s.Ties = append(s.Ties, w.point(it))
			}
		}
	}
}

// gauge finds the wire that is stocked in a gauge: `12 AWG`, a copper section such as
// 0.5 mm², or the name of a wire.
func (w *wireDecoder) gauge(n *read.Node) *shapes.Part {
	if n == nil {
		return nil
	}
	if n.Kind() == read.Scalar && w.lib.Has(n.Raw()) {
		return w.part(n, "a wire", shapes.WireKind)
	}
	awg, ok := shapes.ParseGauge(w.diags, n)
	if !ok {
		return nil
	}
	if p := stockedGauge(w.lib, awg, 0.25); p != nil {
		return p
	}
	var have []string
	near, least := "", 1e9
	for _, p := range gauges(w.lib) {
		have = append(have, fmt.Sprintf("%g", p.Wire.Gauge))
		if d := abs(p.Wire.Gauge - awg); d < least {
			near, least = fmt.Sprintf("%g AWG", p.Wire.Gauge), d
		}
	}
	w.diags.At(n, n.Describe()+" is not a gauge that wire is sold in here", "one of "+strings.Join(have, ", ")+" AWG", "the nearest is "+near+"; a wire of your own goes under `parts:`")
	return nil
}

// wireColours are the words of IEC 60757 for the colours of cores.
func wireColours() []string {
	return []string{"black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white", "pink", "turquoise"}
}

func (w *wireDecoder) colours(n *read.Node) []ColourSpec {
	if n == nil {
		return nil
	}
	if n.Kind() != read.Map {
		w.diags.At(n, "`colours:` is a map from ways to colours, not "+n.Describe(), "such as {video: yellow}", "")
		return nil
	}
	var out []ColourSpec
	for _, e := range n.Entries() {
		if word, ok := w.diags.Enum(e.Value, wireColours()...); ok {
			out = append(out, ColourSpec{Way: e.Key, Colour: word, Pos: e.KeyPos})
		}
	}
	slices.SortFunc(out, func(a, b ColourSpec) int { return strings.Compare(a.Way, b.Way) })
	return out
}

// wayList reads the ways that are joined: a list of names, or a single one.
func (w *wireDecoder) wayList(n *read.Node) []string {
	items := []*read.Node{n}
	if n.Kind() != read.Scalar {
		var ok bool
		if items, ok = w.diags.List(n); !ok {
			return nil
		}
		if len(items) == 0 {
			w.diags.At(n, "the list of ways is empty", "such as [supply, video]", "without `ways:` all that both ends have are joined")
		}
	}
	var out []string
	for _, it := range items {
		name, ok := w.diags.Name(it)
		if !ok {
			continue
		}
		if slices.Contains(out, name) {
			w.diags.At(it, "the way "+read.Quote(name)+" stands twice", "each way once", "")
			continue
		}
		out = append(out, name)
	}
	return out
}

func (w *wireDecoder) vias(n *read.Node, s *WireSpec) {
	if n == nil {
		return
	}
	items := []*read.Node{n}
	if n.Kind() == read.List && !(len(n.Items()) == 2 && n.Items()[0].Kind() == read.Scalar && isNumber(n.Items()[0])) {
		items = n.Items()
	}
	for _, it := range items {
		v := &ViaSpec{Pos: it.Pos()}
		switch it.Kind() {
		case read.List:
			v.At, v.HasAt = w.point(it), true
		case read.Scalar:
			v.Hole = w.viaHole(it)
			if v.Hole == nil {
				continue
			}
		default:
			w.diags.At(it, it.Describe()+" is no place to pass", "[x, y], or an opening of a plate such as base.wire-slot", "")
			continue
		}
		s.Via = append(s.Via, v)
	}
}

func isNumber(n *read.Node) bool {
	_, why, _ := read.ParseNumber(n.Raw())
	return why == ""
}

// viaHole finds the opening that a wire passes.
func (w *wireDecoder) viaHole(n *read.Node) *Target {
	t := w.ix.find(n.Raw())
	switch {
	case t != nil && t.Kind == TargetHole:
		found := *t
		found.Text, found.Pos = n.Raw(), n.Pos()
		return &found
	case t != nil:
		w.diags.At(n, read.Quote(n.Raw())+" is "+t.describe()+", not an opening", "an opening of a plate that has a name, such as base.wire-slot", "")
	case w.letPass(n.Raw()) || w.strayName(n.Raw()):
	default:
		w.diags.At(n, read.Quote(n.Raw())+" is no opening that this build has", "an opening of a plate that has a name, such as base.wire-slot",
			firstOf(read.DidYouMean(n.Raw(), w.ix.texts(TargetHole)), "give the hole entry a `name:`"))
	}
	return nil
}

func firstOf(words ...string) string {
	for _, w := range words {
		if w != "" {
			return w
		}
	}
	return ""
}

// joined checks what an entry with two ends means.
func (w *wireDecoder) joined(n *read.Node, s *WireSpec, from, to, ways, order *read.Node) {
	if s.From.On.ID() == s.To.On.ID() && (s.From.At == s.To.At || s.From.At == "" || s.To.At == "") {
		w.diags.At(to, "this joins "+s.To.Text+" to itself", "another part, or another pad of it", "")
		return
	}
	before := w.diags.Count()
	run, bad := w.b.expand(s)
	if bad != nil {
		at := []*read.Node{n, from, to, ways}[bad.at]
		if bad.at == 3 && ways.Kind() == read.List && bad.item < len(ways.Items()) {
			at = ways.Items()[bad.item]
		}
		w.diags.At(at, bad.message, bad.want, bad.hint)
		return
	}
	w.order(order, s, run)
	w.colourWays(s, run.runs[0].links) // all runs have the same ways
	if w.diags.Count() > before {
		return
	}
	for _, c := range run.runs {
		for _, l := range c.links {
			w.use(n, from, c.from, &l.a, run)
			w.use(n, to, c.to, &l.b, run)
		}
	}
}

// colourWays checks that `colours:` names ways of the entry.
func (w *wireDecoder) colourWays(s *WireSpec, all []link) {
	for _, c := range s.Colour {
		if !slices.ContainsFunc(all, func(l link) bool { return l.called(c.Way) }) {
			var words []string
			for i := range all {
				words = append(words, all[i].way())
			}
			w.diags.Add(read.Diag{Pos: c.Pos, Path: "wires", Line: w.b.line(c.Pos), Message: "no wire of this entry is called " + read.Quote(c.Way),
				Want: "one of " + strings.Join(words, ", "), Hint: read.DidYouMean(c.Way, words)})
		}
	}
}

// use notes that a wire ends at an outlet, and reports the one that is too many.
func (w *wireDecoder) use(entry, at *read.Node, owner string, o *outlet, run *expansion) {
	if run.chosen && motorOutput(o.of) || run.chosen && motorOutput(o.name()) {
		return // which one it is will be known when everything is placed
	}
	key := owner + "." + o.full()
	u := w.uses[key]
	if u == nil {
		w.uses[key] = &wireUse{entry: entry, count: 1}
		return
	}
	u.count++
	if u.count <= o.bears() {
		return
	}
	if at == nil {
		at = entry
	}
	w.diags.AtRelated(at, o.full()+" of "+shortOwner(owner)+" bears one wire and is joined already", "another pad or way", "", read.Related{Pos: u.entry.Pos(), Text: "joined here"})
	u.count = -1 << 30 // told once
}

// shortOwner is a component's ID as people write it.
func shortOwner(id string) string {
	for _, p := range []string{"stacks.", "mounts.", "cameras.", "antennas.", "batteries."} {
		if rest, ok := strings.CutPrefix(id, p); ok {
			if p == "stacks." {
				if _, item, ok := strings.Cut(rest, "."); ok {
					return item
				}
			}
			return rest
		}
	}
	return id
}

// order reads which pad drives which rotor.
func (w *wireDecoder) order(n *read.Node, s *WireSpec, run *expansion) {
	if n == nil || len(run.rotors) == 0 && run.chosen { // rotors that could not be read are reported
		return
	}
	if !run.chosen {
		w.diags.At(n, "`order:` says which pad drives which rotor, and this entry does not go to the rotors", "", "delete it")
		return
	}
	if n.Kind() != read.Map {
		w.diags.At(n, "`order:` is a map from rotors to pads, not "+n.Describe(), "such as {front-left: m3}", "")
		return
	}
	taken := map[string]read.Pos{}
	for _, e := range n.Entries() {
		if !slices.Contains(run.rotors, e.Key) {
			w.diags.AtKey(n, e, read.Quote(e.Key)+" is not a rotor of this layout", "one of "+strings.Join(run.rotors, ", "), read.DidYouMean(e.Key, run.rotors))
			continue
		}
		pad, ok := w.diags.Text(e.Value)
		if !ok {
			continue
		}
		if !slices.Contains(run.known, pad) {
			w.diags.At(e.Value, read.Quote(pad)+" drives no motor", "one of "+strings.Join(run.known, ", "), read.DidYouMean(pad, run.known))
			continue
		}
		if first, twice := taken[pad]; twice {
			w.diags.AtRelated(e.Value, pad+" drives two rotors", "each pad once", "", read.Related{Pos: first, Text: "the first one"})
			continue
		}
		taken[pad] = e.Value.Pos()
		s.Order = append(s.Order, DrivenBy{Rotor: e.Key, Pad: pad, Pos: e.KeyPos})
	}
	slices.SortFunc(s.Order, func(a, b DrivenBy) int { return strings.Compare(a.Rotor, b.Rotor) })
}

// motorLeads checks the entry of all motors.
func (w *wireDecoder) motorLeads(n *read.Node, s *WireSpec, order *read.Node) {
	if w.b.Rotors == nil {
		if !w.lost["rotors"] {
			w.diags.At(n, "there are no rotors, so there are no motor leads", "", "add `rotors:`, or delete the entry")
		}
		return
	}
	run, bad := w.b.expand(s)
	if bad != nil {
		if s.To != nil || !w.partsLost() {
			w.diags.At(n, bad.message, bad.want, bad.hint)
		}
		return
	}
	before := w.diags.Count()
	w.order(order, s, run)
	for _, c := range s.Colour {
		if !slices.Contains([]string{"phase-1", "phase-2", "phase-3"}, c.Way) {
			w.diags.Add(read.Diag{Pos: c.Pos, Path: "wires", Line: w.b.line(c.Pos), Message: "no wire of this entry is called " + read.Quote(c.Way), Want: "phase-1, phase-2 or phase-3"})
		}
	}
	if w.diags.Count() > before {
		return
	}
	if u := w.uses[motorLeadsWord]; u != nil {
		w.diags.AtRelated(n, "the motor leads stand twice", "one entry for all motors", "", read.Related{Pos: u.entry.Pos(), Text: "the first one"})
		return
	}
	w.uses[motorLeadsWord] = &wireUse{entry: n, count: 1}
}

// partsLost tells that a board or mounted part has been reported, so that what it has is not
// known.
func (w *wireDecoder) partsLost() bool {
	lost := func(p *shapes.Part) bool { return p == nil || w.faulty[p.Name] }
	for _, s := range w.b.Stacks {
		for _, it := range s.Items {
			if it.Kind == ItemBoard && lost(it.Part) {
				return true
			}
		}
	}
	return slices.ContainsFunc(w.b.Mounts, func(m *MountSpec) bool { return lost(m.Part) })
}
