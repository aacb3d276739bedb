package render

import (
	"cmp"
	"slices"
	"strconv"

	"dryfit/layout"
	"dryfit/shapes"
)

// The schematic is laid out in layers from the pack to the peripherals, after Sugiyama, Tagawa
// and Toda (1981, Methods for visual understanding of hierarchical system structures): parts
// are put into layers so that no wire joins two of one layer; wires that pass a layer get a
// place in it; orders within layers are improved by barycentres and swaps; heights follow
// from what each node wants to face; the vertical parts of wires get tracks of their own.

// snode is a box of the schematic, or the place that a circuit takes in a layer it passes.
type snode struct {
	comp  *layout.Component // nil: passed through
	layer int
	left  []*sgroup // from top to bottom
	right []*sgroup
	row   int // of its top on the grid
}

// sgroup is a row of pads, or a plug, on one side of a node. The order within is fixed but for
// a row that may be read from either end.
type sgroup struct {
	name string
	plug bool // drawn with a frame and its name
	pins []*spin
}

// spin is a pad or a way of a plug with the wires that leave it to one side.
type spin struct {
	term  *layout.Terminal // nil in a node that is passed
	label string
	ends  []*send
}

// send is the end of a link at a node.
type send struct {
	node *snode
	link *slink
	row  int // below the top of the node
}

// slink is a piece of a wire between neighbouring layers.
type slink struct {
	wire  *swire
	a, b  *send // left and right
	track int   // of its vertical part, -1: straight
}

// swire is a wire of the schematic.
type swire struct {
	no      int // of the circuit, from 0
	circuit *layout.Circuit
	wire    *layout.Wire
	links   []*slink // from left to right
	flipped bool     // it runs from right to left: From is on the right
}

// schematic is the graph with its layers.
type schematic struct {
	nodes  []*snode
	layers [][]*snode
	wires  []*swire
}

// newSchematic builds the graph of all circuits whose wires have both ends.
func newSchematic(asm *layout.Assembly) *schematic {
	s := &schematic{}
	at := map[string]*snode{}
	for _, c := range asm.Components {
		if slices.ContainsFunc(asm.Circuits, func(k *layout.Circuit) bool { return k.From == c || k.To == c }) {
			n := &snode{comp: c}
			at[c.ID] = n
			s.nodes = append(s.nodes, n)
		}
	}
	var pairs [][2]*snode
	for _, c := range asm.Circuits {
		if c.From == nil || c.To == nil || c.From == c.To {
			continue
		}
		pairs = append(pairs, [2]*snode{at[c.From.ID], at[c.To.ID]})
	}
	s.assignLayers(pairs)
	for no, c := range asm.Circuits {
		if c.From == nil || c.To == nil || at[c.From.ID] == nil || at[c.To.ID] == nil || c.From == c.To {
			continue
		}
		s.addCircuit(no, c, at[c.From.ID], at[c.To.ID])
	}
	s.layers = nil
	for _, n := range s.nodes {
		for len(s.layers) <= n.layer {
			s.layers = append(s.layers, nil)
		}
		s.layers[n.layer] = append(s.layers[n.layer], n)
	}
	return s
}

// controllerLayer leaves a layer free behind the speed controllers.
const controllerLayer = 4

// classLayer is the layer of those kinds of parts that power comes through, -1 for others.
func classLayer(c *layout.Component) int {
	if c.Part == nil {
		return -1
	}
	switch c.Part.Kind {
	case shapes.Battery:
		return 0
	case shapes.PowerBoard:
		return 1
	case shapes.EscFour, shapes.EscSingle, shapes.AllInOne:
		return 2
	case shapes.Controller:
		return controllerLayer
	}
	return -1
}

// beforeIts reports whether a part stands before what it is joined to: motors and capacitors
// before what drives or holds them.
func beforeIts(c *layout.Component) bool {
	return c.Part != nil && (c.Part.Kind == shapes.MotorKind || c.Part.Kind == shapes.Capacitor)
}

// behindIts reports whether a part hangs on single speed controllers alone. It stands behind
// them: before them its wires would cross all supplies that go from a power board to the other
// controllers, behind them the signals pass between the boxes.
func behindIts(n *snode, near []*snode) bool {
	return len(near) > 0 && !slices.ContainsFunc(near, func(o *snode) bool {
		return o.comp.Part == nil || o.comp.Part.Kind != shapes.EscSingle
	})
}

// assignLayers gives every node its layer: packs, power boards, speed controllers, flight
// controllers, then the rest by how many wires away from a controller they are.
func (s *schematic) assignLayers(pairs [][2]*snode) {
	near := map[*snode][]*snode{}
	for _, p := range pairs {
		for k := range 2 {
			if !slices.Contains(near[p[k]], p[1-k]) {
				near[p[k]] = append(near[p[k]], p[1-k])
			}
		}
	}
	powerBoard := slices.ContainsFunc(s.nodes, func(n *snode) bool { return classLayer(n.comp) == 1 })
	hub := -1
	for _, n := range s.nodes {
		n.layer = classLayer(n.comp)
		if n.layer == 0 && !powerBoard {
			n.layer = 1 // beside the motors
		}
		if n.comp.Part != nil && (n.comp.Part.Kind == shapes.Controller || n.comp.Part.Kind == shapes.AllInOne) {
			hub = max(hub, n.layer)
		}
	}
	for _, n := range s.nodes {
		if beforeIts(n.comp) && len(near[n]) > 0 {
			least := near[n][0].layer
			for _, o := range near[n] {
				if o.layer >= 0 && (least < 0 || o.layer < least) {
					least = o.layer
				}
			}
			if behindIts(n, near[n]) {
				n.layer = least + 1
				continue
			}
			n.layer = max(least-1, 0)
		}
	}
	// The rest, ring by ring, from the controllers outwards; without one from all that has a layer.
	var ring []*snode
	for _, n := range s.nodes {
		if n.layer >= 0 && !beforeIts(n.comp) && (hub < 0 || n.layer == hub) {
			ring = append(ring, n)
		}
	}
	spread := func() {
		for len(ring) > 0 {
			var next []*snode
			for _, n := range ring {
				for _, o := range near[n] {
					if o.layer < 0 {
						o.layer = n.layer + 1
						next = append(next, o)
					}
				}
			}
			ring = next
		}
	}
	spread()
	for _, n := range s.nodes { // what hangs on a speed controller or the pack alone
		if n.layer >= 0 && !beforeIts(n.comp) {
			ring = append(ring, n)
		}
	}
	spread()
	for _, n := range s.nodes {
		n.layer = max(n.layer, 0)
	}
	s.partNeighbours(pairs, near)
	s.closeGaps()
}

// partNeighbours moves one of two joined nodes of one layer to the next: the one with fewer
// neighbours, of two with as many a camera or antenna.
func (s *schematic) partNeighbours(pairs [][2]*snode, near map[*snode][]*snode) {
	for range len(s.nodes) * len(s.nodes) {
		moved := false
		for _, p := range pairs {
			if p[0].layer != p[1].layer {
				continue
			}
			n := p[1]
			if a, b := len(near[p[0]]), len(near[p[1]]); a < b || a == b && outermost(p[0].comp) && !outermost(p[1].comp) {
				n = p[0]
			}
			n.layer++
			moved = true
		}
		if !moved {
			return
		}
	}
}

// outermost reports whether a part is a last one of its line.
func outermost(c *layout.Component) bool {
	return c.Part != nil && (c.Part.Kind == shapes.CameraKind || c.Part.Kind == shapes.AntennaKind)
}

// closeGaps renumbers the layers so that none is empty.
func (s *schematic) closeGaps() {
	var used []int
	for _, n := range s.nodes {
		used = append(used, n.layer)
	}
	slices.Sort(used)
	used = slices.Compact(used)
	for _, n := range s.nodes {
		n.layer, _ = slices.BinarySearch(used, n.layer)
	}
}

// addCircuit adds the wires of a circuit and, in the layers between its ends, the places
// through which they pass.
func (s *schematic) addCircuit(no int, c *layout.Circuit, from, to *snode) {
	a, b, flipped := from, to, false
	if a.layer > b.layer {
		a, b, flipped = b, a, true
	}
	if a.layer == b.layer {
		return
	}
	hops := []*snode{a}
	for k := a.layer + 1; k < b.layer; k++ {
		n := &snode{layer: k, left: []*sgroup{{}}, right: []*sgroup{{}}}
		hops = append(hops, n)
		s.nodes = append(s.nodes, n)
	}
	hops = append(hops, b)
	for _, w := range c.Wires {
		if w.From == nil || w.To == nil {
			continue
		}
		sw := &swire{no: no, circuit: c, wire: w, flipped: flipped}
		ta, tb := w.From, w.To
		if flipped {
			ta, tb = tb, ta
		}
		for k := 0; k+1 < len(hops); k++ {
			l := &slink{wire: sw, track: -1}
			l.a, l.b = &send{node: hops[k], link: l}, &send{node: hops[k+1], link: l}
			hops[k].attach(l.a, pick(k == 0, ta), sw, false)
			hops[k+1].attach(l.b, pick(k+2 == len(hops), tb), sw, true)
			sw.links = append(sw.links, l)
		}
		s.wires = append(s.wires, sw)
	}
	for _, n := range hops {
		for _, side := range [2][]*sgroup{n.left, n.right} {
			for _, g := range side {
				slices.SortStableFunc(g.pins, func(a, b *spin) int { return cmp.Compare(pinPlace(a), pinPlace(b)) })
			}
		}
	}
}

// pinPlace is where a pin stands in its plug or row as they are made, so that wires which are
// exchanged are seen to cross; 0 where that is not known.
func pinPlace(p *spin) int {
	t := p.term
	if t == nil {
		return 0
	}
	if t.Port != nil && t.Port.Port != nil {
		return 1 + slices.IndexFunc(t.Port.Port.Pins, func(q shapes.Pin) bool { return q.Name == t.Way })
	}
	n, err := strconv.Atoi(t.Way)
	if err != nil {
		return 0
	}
	return n
}

func pick(yes bool, t *layout.Terminal) *layout.Terminal {
	if yes {
		return t
	}
	return nil
}

// attach puts an end on one side of a node: at its pad, which is added to its row or plug, or
// in a new lane of a node that is passed.
func (n *snode) attach(e *send, t *layout.Terminal, w *swire, left bool) {
	side := &n.right
	if left {
		side = &n.left
	}
	if t == nil {
		g := (*side)[0]
		g.pins = append(g.pins, &spin{ends: []*send{e}})
		return
	}
	name, plug := t.Name, t.Port != nil
	if plug {
		name += plugWord
	}
	if m := w.circuit.Mate; m != nil && n.comp.Part != nil && n.comp.Part.Pack != nil {
		name, plug = m.Name+plugWord, true
	}
	var g *sgroup
	for _, o := range *side {
		if o.name == name && o.plug == plug {
			g = o
		}
	}
	if g == nil {
		g = &sgroup{name: name, plug: plug}
		*side = append(*side, g)
	}
	for _, p := range g.pins {
		if p.term == t && p.label == pinLabel(t, w) {
			p.ends = append(p.ends, e)
			return
		}
	}
	g.pins = append(g.pins, &spin{term: t, label: pinLabel(t, w), ends: []*send{e}})
}

// plugWord tells the name of a plug from that of a part or pad.
const plugWord = " plug"

// pinLabel names a pad or way within its box; of leads that hang on a part, what they carry.
func pinLabel(t *layout.Terminal, w *swire) string {
	switch {
	case t.Pad == nil && t.Pin == nil, w.circuit.Mate != nil && t.Owner.Part != nil && t.Owner.Part.Pack != nil:
		return w.wire.Way
	case t.Port != nil && t.Way != "":
		return t.Way
	}
	if l := t.Label(); l != "" {
		return l
	}
	return w.wire.Way
}
