package render

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dryfit/layout"
)

// padPanel is a part, or several of a kind that are wired alike, with all its pads and ways of
// plugs that bear a wire.
type padPanel struct {
	parts []*layout.Component
	pads  []panelPad
}

// panelPad is a pad or way with the wires on it.
type panelPad struct {
	term  *layout.Terminal // of the first part
	wires []panelWire
}

// panelWire is a wire on a pad: of like parts one of each.
type panelWire struct {
	nos  []int    // of the circuits, from 1
	core core     // how its colour is drawn
	far  []string // names of the parts at the other end
}

// padPanels gathers the pads of all parts that wires are soldered to or plugged into, in the order
// of the parts. Leads that hang on a part have no pad there and are not shown.
func padPanels(asm *layout.Assembly) []*padPanel {
	var out []*padPanel
	like := map[string]*padPanel{}
	for _, c := range asm.Components {
		pads := padsOf(asm, c)
		if len(pads) == 0 {
			continue
		}
		key := wiredAs(c, pads)
		if p := like[key]; p != nil && key != "" {
			p.join(c, pads)
			continue
		}
		p := &padPanel{parts: []*layout.Component{c}, pads: pads}
		like[key] = p
		out = append(out, p)
	}
	return out
}

// padsOf lists the wired pads of a part by their names.
func padsOf(asm *layout.Assembly, c *layout.Component) []panelPad {
	var out []panelPad
	for i, k := range asm.Circuits {
		for _, w := range k.Wires {
			for _, last := range [2]bool{false, true} {
				t, far := terminalOf(w, last), terminalOf(w, !last)
				if t == nil || t.Owner != c || t.Pad == nil && t.Pin == nil && t.Port == nil {
					continue
				}
				wire := panelWire{nos: []int{i + 1}, core: coreOf(w.Colour), far: []string{"–"}}
				if far != nil && far.Owner != nil {
					wire.far[0] = nameOf(far.Owner)
				}
				n := slices.IndexFunc(out, func(p panelPad) bool { return p.term.ID == t.ID })
				if n < 0 {
					out = append(out, panelPad{term: t})
					n = len(out) - 1
				}
				out[n].wires = append(out[n].wires, wire)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b panelPad) int { return strings.Compare(a.term.FullLabel(), b.term.FullLabel()) })
	return out
}

// wiredAs is equal for parts of a kind of which the same pads bear wires of the same colours, and
// "" for a part of no kind.
func wiredAs(c *layout.Component, pads []panelPad) string {
	if c.Part == nil || c.Part.Name == "" {
		return ""
	}
	s := fmt.Sprintf("%s %v", c.Part.Name, c.Flip)
	for _, p := range pads {
		s += "|" + p.term.FullLabel()
		for _, w := range p.wires {
			s += " " + w.core.code
		}
	}
	return s
}

// join adds a part that is wired alike.
func (p *padPanel) join(c *layout.Component, pads []panelPad) {
	p.parts = append(p.parts, c)
	for i := range pads {
		for k, w := range pads[i].wires {
			o := &p.pads[i].wires[k]
			o.nos, o.far = append(o.nos, w.nos...), append(o.far, w.far...)
		}
	}
}

// title names the parts.
func (p *padPanel) title() string {
	var names []string
	for _, c := range p.parts {
		names = append(names, nameOf(c))
	}
	if len(names) > 1 {
		if s := shared(names); s != "" {
			return fmt.Sprintf("%s, all %d wired alike", s, len(names))
		}
	}
	return strings.Join(names, ", ")
}

// numbers prints the numbers of circuits, those that follow each other as a range.
func numbers(nos []int) string {
	nos = slices.Clone(nos)
	slices.Sort(nos)
	nos = slices.Compact(nos)
	var out []string
	for i := 0; i < len(nos); {
		j := i
		for j+1 < len(nos) && nos[j+1] == nos[j]+1 {
			j++
		}
		s := strconv.Itoa(nos[i])
		switch {
		case j == i+1:
			s += "," + strconv.Itoa(nos[j])
		case j > i:
			s += "–" + strconv.Itoa(nos[j])
		}
		out = append(out, s)
		i = j + 1
	}
	return strings.Join(out, ",")
}

// shared returns what names have in common: all, the words they end in, or what they have before a
// point; "" for none.
func shared(names []string) string {
	same := func(of func(string) string) string {
		s := of(names[0])
		if slices.ContainsFunc(names, func(n string) bool { return of(n) != s }) {
			return ""
		}
		return s
	}
	for _, of := range [...]func(string) string{
		func(n string) string { return n },
		func(n string) string { _, tail, _ := strings.Cut(n, " "); return tail },
		func(n string) string { head, _, ok := strings.Cut(n, "."); return head[:len(head)*b2i(ok)] },
	} {
		if s := same(of); s != "" {
			return s
		}
	}
	return ""
}
