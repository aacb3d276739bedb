package layout

import (
	"fmt"
	"strings"

	"dryfit/shapes"
)

// NetKind says what drives a net.
type NetKind string

// Kinds of nets.
const (
	PackNet   NetKind = "pack"   // at a pack's voltage
	RailNet   NetKind = "rail"   // at a regulated voltage
	GroundNet NetKind = "ground" // the return of everything
	UnfedNet  NetKind = "unfed"  // takes a supply, and nothing gives one
	OtherNet  NetKind = "other"  // signals, phases, antennas
)

// Net is all that is at one potential: what wires join, and the pads of one part that are
// one inside it. Inside a part all its pack pads are one, all its grounds, and each rail.
type Net struct {
	Kind   NetKind
	Packs  []*Pack     // that drive it
	Gives  []*NetPlace // regulated rails that drive it
	Places []*NetPlace // in file order of the wires
	Wires  []*NetWire  // in file order
}

// NetPlace is one part's share of a net.
type NetPlace struct {
	Owner     *Component
	Role      shapes.Role
	Terminals []*Terminal // those that are wired
	Net       *Net
}

// NetWire is a wire between two places of a net.
type NetWire struct {
	Circuit *Circuit
	Wire    *Wire
	A, B    *NetPlace
}

// Rated is the voltage that the net's rail gives, 0 for all but rails.
func (n *Net) Rated() float64 {
	if n.Kind != RailNet {
		return 0
	}
	return n.Gives[0].Role.Gives()
}

// String names the net in words: "the pack", "5 V of flight-board".
func (n *Net) String() string {
	switch n.Kind {
	case PackNet:
		return "the pack"
	case RailNet:
		return fmt.Sprintf("%g V of %s", n.Rated(), n.Gives[0].Owner.Label)
	case GroundNet:
		return "ground"
	case UnfedNet:
		return "what feeds " + n.Places[0].Owner.Label
	}
	var words []string
	for _, p := range n.Places {
		for _, t := range p.Terminals {
			words = append(words, p.Owner.Label+"."+t.Label())
		}
	}
	return strings.Join(words, " to ")
}

// Label is what a terminal is called within its part: the way of a plug, "m1.2" in a row of
// pads, else the pad.
func (t *Terminal) Label() string {
	switch {
	case t.Pin != nil && t.Way != "":
		return t.Way
	case t.Way != "" && t.Pad != nil:
		return t.Name + "." + t.Way
	}
	return t.Name
}

// Takes reports whether the place takes a supply rather than gives one or carries a signal.
// A pack's own leads give.
func (p *NetPlace) Takes() bool {
	if p.Owner.Part != nil && p.Owner.Part.Kind == shapes.Battery {
		return false
	}
	return p.Role == shapes.FeedRole || p.Role == shapes.PackRole
}

// placeOf says which share of its part a terminal belongs to, and what that does. Feeds are
// one by name only: a part may take two supplies.
func placeOf(t *Terminal) (key string, role shapes.Role) {
	switch v := t.Role.Gives(); {
	case v > 0 && !makes(t.Owner.Part, v):
		// It passes on what it is fed.
		if name, ok := passedOn(t.Owner.Part, v); ok {
			return t.Owner.ID + " feed " + name, shapes.FeedRole
		}
		return t.Owner.ID + " " + string(t.Role), t.Role
	case v > 0, t.Role == shapes.PackRole, t.Role == shapes.GroundRole:
		return t.Owner.ID + " " + string(t.Role), t.Role
	case t.Role == shapes.FeedRole:
		name := t.Name
		if t.Pin != nil {
			name += "." + t.Way
		}
		return t.Owner.ID + " feed " + name, t.Role
	}
	return t.ID, t.Role
}

// makes reports whether a part has a regulator for this voltage.
func makes(p *shapes.Part, volts float64) bool {
	if p == nil {
		return false
	}
	for _, r := range p.Rails {
		if abs(r.Volts-volts) < 0.05 {
			return true
		}
	}
	return false
}

// passedOn finds the feed of a part that bears a voltage which the part gives on without
// having a regulator for it.
func passedOn(p *shapes.Part, volts float64) (name string, ok bool) {
	if p == nil {
		return "", false
	}
	bears := func(role shapes.Role, e *shapes.Electric) bool {
		span := e.Takes
		if span == nil {
			span = p.Volts
		}
		return role == shapes.FeedRole && (span == nil || span.Lo <= volts && volts <= span.Hi)
	}
	for i := range p.Pads {
		if q := &p.Pads[i]; bears(q.Role, &q.Electric) {
			return q.Name, true
		}
	}
	for i := range p.Ports {
		for k := range p.Ports[i].Pins {
			if q := &p.Ports[i].Pins[k]; bears(q.Role, &q.Electric) {
				return p.Ports[i].Name + "." + q.Name, true
			}
		}
	}
	return "", false
}

// Nets returns what the wires of the build join, in the order in which the wires first
// reach each net. Pads without a wire are in none.
func (a *Assembly) Nets() []*Net {
	var places []*NetPlace
	root := []int{} // union-find over places
	at := map[string]int{}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	place := func(t *Terminal) int {
		key, role := placeOf(t)
		i, ok := at[key]
		if !ok {
			i = len(places)
			at[key] = i
			places = append(places, &NetPlace{Owner: t.Owner, Role: role})
			root = append(root, i)
		}
		for _, u := range places[i].Terminals {
			if u == t {
				return i
			}
		}
		places[i].Terminals = append(places[i].Terminals, t)
		return i
	}
	type joined struct {
		wire *NetWire
		at   int
	}
	var wires []joined
	for _, c := range a.Circuits {
		for _, w := range c.Wires {
			if w.From == nil || w.To == nil {
				continue
			}
			i, j := place(w.From), place(w.To)
			wires = append(wires, joined{&NetWire{Circuit: c, Wire: w, A: places[i], B: places[j]}, i})
			if ri, rj := find(i), find(j); ri < rj {
				root[rj] = ri
			} else {
				root[ri] = rj
			}
		}
	}
	var nets []*Net
	byRoot := map[int]*Net{}
	for i, p := range places {
		r := find(i)
		n := byRoot[r]
		if n == nil {
			n = &Net{}
			byRoot[r] = n
			nets = append(nets, n)
		}
		n.Places = append(n.Places, p)
		p.Net = n
	}
	for _, w := range wires {
		n := byRoot[find(w.at)]
		n.Wires = append(n.Wires, w.wire)
	}
	for _, n := range nets {
		a.classify(n)
	}
	return nets
}

func (a *Assembly) classify(n *Net) {
	ground, taken := 0, 0
	for _, p := range n.Places {
		switch {
		case p.Role == shapes.GroundRole:
			ground++
		case p.Role.Gives() > 0:
			n.Gives = append(n.Gives, p)
		case p.Takes():
			taken++
		case p.Role == shapes.PackRole:
			for _, k := range a.Packs {
				if k.Component == p.Owner {
					n.Packs = append(n.Packs, k)
				}
			}
		}
	}
	switch {
	case len(n.Packs) > 0:
		n.Kind = PackNet
	case len(n.Gives) > 0:
		n.Kind = RailNet
	case taken > 0:
		n.Kind = UnfedNet
	case ground > 0:
		n.Kind = GroundNet
	default:
		n.Kind = OtherNet
	}
}

// beyond returns the places of the net that no source reaches once every wire between a and
// b is taken away, and how many wires these are. In a ring it is empty.
func (n *Net) beyond(a, b *NetPlace) (cut []*NetPlace, lanes int) {
	reached := map[*NetPlace]bool{}
	var queue []*NetPlace
	for _, p := range n.Places {
		gives := p.Role.Gives() > 0
		for _, k := range n.Packs {
			gives = gives || k.Component == p.Owner
		}
		if gives {
			reached[p] = true
			queue = append(queue, p)
		}
	}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for _, w := range n.Wires {
			if w.between(a, b) {
				continue
			}
			for _, q := range []*NetPlace{w.A, w.B} {
				if (w.A == p || w.B == p) && !reached[q] {
					reached[q] = true
					queue = append(queue, q)
				}
			}
		}
	}
	for _, w := range n.Wires {
		if w.between(a, b) {
			lanes++
		}
	}
	for _, p := range n.Places {
		if !reached[p] {
			cut = append(cut, p)
		}
	}
	return cut, lanes
}

func (w *NetWire) between(a, b *NetPlace) bool { return w.A == a && w.B == b || w.A == b && w.B == a }
