package layout

import (
	"slices"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// endIndex finds what wires may end at by the names that builders write: the full one
// (mounts.receiver) or the last step of it where only one thing has it (receiver).
type endIndex struct {
	byText map[string][]Target
	order  []string
}

func (ix *endIndex) add(t Target, texts ...string) {
	for _, text := range texts {
		if text == "" {
			continue
		}
		if _, there := ix.byText[text]; !there {
			ix.order = append(ix.order, text)
		}
		if !slices.ContainsFunc(ix.byText[text], func(o Target) bool { return o.ID() == t.ID() }) {
			ix.byText[text] = append(ix.byText[text], t)
		}
	}
}

// endIndex collects what wires may end at.
func (d *decoder) endIndex() *endIndex {
	ix := &endIndex{byText: map[string][]Target{}}
	b := d.b
	for _, s := range b.Stacks {
		for _, it := range s.Items {
			if it.Kind == ItemBoard {
				ix.add(Target{Kind: TargetBoard, Name: s.Name, Item: it.Name}, it.Name, s.Name+"."+it.Name, "stacks."+s.Name+"."+it.Name)
			}
		}
	}
	for _, m := range b.Mounts {
		ix.add(Target{Kind: TargetMount, Name: m.Name}, m.Name, "mounts."+m.Name)
		if b.Rotors != nil && b.perRotor(m.Name, 0) {
			for _, r := range b.Rotors.Rotors {
				ix.add(Target{Kind: TargetMount, Name: m.Name, Rotor: r.Name}, m.Name+"."+r.Name, "mounts."+m.Name+"."+r.Name)
			}
		}
	}
	for _, p := range b.Batteries {
		ix.add(Target{Kind: TargetBattery, Name: p.Name}, p.Name, p.ID())
	}
	for _, c := range b.Cameras {
		ix.add(Target{Kind: TargetCamera, Name: c.Name}, c.Name, "cameras."+c.Name)
	}
	for _, a := range b.Antennas {
		ix.add(Target{Kind: TargetAntenna, Name: a.Name}, a.Name, "antennas."+a.Name)
	}
	if b.Rotors != nil {
		for _, r := range b.Rotors.Rotors {
			ix.add(Target{Kind: TargetRotor, Rotor: r.Name, Item: "motor"}, "rotors."+r.Name+".motor", "rotors."+r.Name)
		}
	}
	return ix
}

const endForm = "a board, a mounted part, the battery, a camera or an antenna, with a dot and a pad or port behind it where more than one can be meant"

// end finds what one end of an entry means; nil after a mistake.
func (w *wireDecoder) end(n *read.Node) *EndSpec {
	text, ok := w.diags.Text(n)
	if !ok {
		return nil
	}
	e := &EndSpec{Text: text, Pos: n.Pos()}
	if t := w.ix.find(text); t != nil && len(w.ends.byText[text]) == 0 && !w.letPass(text) {
		w.diags.At(n, read.Quote(text)+" is "+t.describe()+": no wire ends there", endForm, "")
		return nil
	}
	owner := text
	found := w.ends.byText[text]
	for len(found) == 0 {
		cut := strings.LastIndex(owner, ".")
		if cut < 0 {
			break
		}
		owner = owner[:cut]
		e.At = text[cut+1:]
		found = w.ends.byText[owner]
	}
	switch {
	case len(found) == 0:
		w.noEnd(n, text)
		return nil
	case len(found) > 1:
		var words []string
		for i := range found {
			words = append(words, found[i].ID())
		}
		w.diags.At(n, read.Quote(owner)+" can mean "+strings.Join(words, " or "), "one of "+strings.Join(words, ", "), "write the whole name")
		return nil
	}
	t := found[0]
	t.Text, t.Pos = owner, n.Pos()
	e.On = &t
	e.At = strings.TrimPrefix(strings.TrimPrefix(text, owner), ".")
	p := w.b.partAt(&t)
	if p == nil || w.faulty[p.Name] {
		return nil // the part has been reported
	}
	if e.At == "" {
		return e
	}
	all := outletsOf(p)
	names := outletNames(all)
	if found, set := named(all, e.At); set || len(found) > 0 && found[0].of == e.At {
		return e
	}
	w.noOutlet(n, e, p, owner, names)
	return nil
}

func (w *wireDecoder) noOutlet(n *read.Node, e *EndSpec, p *shapes.Part, owner string, names []string) {
	if port := p.Port(e.At); port != nil {
		switch {
		case port.Button:
			w.diags.At(n, e.At+" of "+owner+" is a button: no wire ends there", "a pad or port", "")
		case port.Card:
			w.diags.At(n, e.At+" of "+owner+" is a slot for a card: no wire ends there", "a pad or port", "")
		default:
			w.diags.At(n, "nobody has said what the ways of "+e.At+" of "+owner+" carry", "`pins:` of the port, in order from the one marked 1",
				"such as `ports: {"+e.At+": {pins: [ground, supply-5, rx, tx]}}` of the part "+p.Name)
		}
		return
	}
	want := "one of " + strings.Join(names, ", ")
	if len(names) == 0 {
		want = "a part with pads or ports; write them under `pads:` or `ports:` of " + p.Name
	}
	w.diags.At(n, owner+" has no pad or port "+read.Quote(e.At), want, read.DidYouMean(e.At, names))
}

// noEnd reports a name that nothing bears.
func (w *wireDecoder) noEnd(n *read.Node, text string) {
	if w.strayName(text) || w.letPass(text) || w.letPass("mounts."+text) || w.lost["mounts"] || w.lost["battery"] || w.lost["batteries"] || w.lost["cameras"] || w.lost["antennas"] {
		return
	}
	owner, at, _ := strings.Cut(text, ".")
	hint := read.DidYouMean(text, w.ends.order)
	if near := read.Nearest(owner, w.ends.order); hint == "" && near != "" {
		hint = "did you mean " + near + "?"
		if at != "" {
			hint = "did you mean " + near + "." + at + "?"
		}
	}
	name := owner
	if rest, _, found := strings.Cut(at, "."); found || len(w.ends.byText[owner]) == 0 && reserved(owner) {
		name = owner + "." + rest
	}
	w.strays = append(w.strays, stray{name, n, text, endForm, hint})
}

// strayName tells that a name in front of a reference has been reported.
func (d *decoder) strayName(text string) bool {
	for i, c := range text {
		if c == '.' && d.reported[text[:i]] {
			return true
		}
	}
	return d.reported[text]
}

// partAt returns the part behind what a wire may end at, nil if there is none.
func (b *Build) partAt(t *Target) *shapes.Part {
	switch t.Kind {
	case TargetBoard:
		for _, s := range b.Stacks {
			if s.Name == t.Name {
				if it := s.Item(t.Item); it != nil {
					return it.Part
				}
			}
		}
	case TargetMount:
		for _, m := range b.Mounts {
			if m.Name == t.Name {
				return m.Part
			}
		}
	case TargetBattery:
		for _, p := range b.Batteries {
			if p.Name == t.Name {
				return p.Part
			}
		}
	case TargetCamera:
		for _, c := range b.Cameras {
			if c.Name == t.Name {
				return c.Part
			}
		}
	case TargetAntenna:
		for _, a := range b.Antennas {
			if a.Name == t.Name {
				return a.Part
			}
		}
	case TargetRotor:
		if b.Rotors != nil {
			if r := b.Rotors.find(t.Rotor); r != nil {
				return r.Motor
			}
		}
	}
	return nil
}

// perRotor tells whether a mount has one copy at each rotor: it stands on the arms, or on a
// mount that does.
func (b *Build) perRotor(name string, depth int) bool {
	if depth > len(b.Mounts) {
		return false
	}
	for _, m := range b.Mounts {
		if m.Name != name || m.On == nil {
			continue
		}
		switch m.On.Kind {
		case TargetArms:
			return true
		case TargetMount:
			return m.On.Rotor == "" && b.perRotor(m.On.Name, depth+1)
		}
	}
	return false
}
