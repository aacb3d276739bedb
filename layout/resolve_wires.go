package layout

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/shapes"
)

// placeWires makes the circuits of the build's wires, in file order, those at the rotors in
// the order of the rotors.
func (r *resolver) placeWires() {
	w := &wirePlacer{resolver: r, labels: map[string]int{}, used: map[string]*Circuit{}, terms: map[string]*Terminal{}}
	for _, s := range r.b.Wires {
		x, bad := r.b.expand(s)
		if bad != nil {
			r.fail(s.Pos, "wires", bad.message, bad.want, bad.hint) // the decoder has refused it already
			continue
		}
		w.runs(s, x)
		if n := len(r.asm.Circuits); n > maxCircuits {
			r.fail(s.Pos, "wires", fmt.Sprintf("more than %d circuits are more than this tool routes", maxCircuits), "", "join what runs together in one entry with `ways:`")
			return
		}
	}
}

// maxCircuits bounds what one craft may have: ten times what the largest need.
const maxCircuits = 400

type wirePlacer struct {
	*resolver
	labels map[string]int
	used   map[string]*Circuit // pads that bear one wire, by terminal ID
	terms  map[string]*Terminal
}

// runs makes the circuits of one entry.
func (w *wirePlacer) runs(s *WireSpec, x *expansion) {
	group := make([]int, len(x.runs))
	if x.chosen {
		group = w.choose(s, x)
	}
	for i, run := range x.runs {
		from, to, all := run.from, run.to, run.links
		switch {
		case s.Motors:
			to = x.groupOf[group[i]]
			all = w.phases(w.comps[from], w.comps[to], x.padsOf[group[i]])
		case x.chosen:
			var bad *fault
			if all, bad = x.again(x.groups[group[i]]); bad != nil {
				w.fail(s.Pos, "wires", bad.message, bad.want, bad.hint)
				return
			}
		}
		a, b := w.comps[from], w.comps[to]
		if a == nil || b == nil {
			continue
		}
		label := s.Name
		switch {
		case s.Motors:
			label = "motor"
			if s.Name != "" {
				label = s.Name
			}
		case label == "":
			label = endLabel(s.From) + "-" + endLabel(s.To)
		}
		if run.rotor != "" {
			label += "-" + run.rotor
		}
		w.circuit(s, label, a, b, all)
	}
}

// endLabel is a short name of an end for the name of a circuit.
func endLabel(e *EndSpec) string {
	t := e.On
	switch {
	case t.Item != "" && t.Kind == TargetBoard:
		return t.Item
	case t.Kind == TargetBattery && t.Name == "":
		return "battery"
	case t.Kind == TargetRotor:
		return t.Rotor
	case t.Rotor != "":
		return t.Name + "-" + t.Rotor
	}
	return t.Name
}

// choose picks a group of pads for each run so that the straight distances sum to the
// least; what `order:` says holds first. Equal sums go by the names of rotors and groups.
func (w *wirePlacer) choose(s *WireSpec, x *expansion) []int {
	rows := make([]int, len(x.runs))
	for i := range rows {
		rows[i] = i
	}
	slices.SortFunc(rows, func(a, b int) int { return strings.Compare(x.runs[a].rotor, x.runs[b].rotor) })
	cols := make([]int, len(x.groups))
	for i := range cols {
		cols[i] = i
	}
	slices.SortStableFunc(cols, func(a, b int) int { return strings.Compare(x.groups[a], x.groups[b]) })
	cost := make([][]float64, len(rows))
	for i, row := range rows {
		cost[i] = make([]float64, len(cols))
		at, z := w.runEnd(s, x, &x.runs[row])
		for j, col := range cols {
			var mid r2.Point
			height := 0.0
			c := w.comps[x.groupOf[col]]
			n := float64(len(x.padsOf[col]))
			for k := range x.padsOf[col] {
				if c == nil {
					continue
				}
				t := w.terminalOf(c, &x.padsOf[col][k])
				mid = mid.Add(t.At.Mul(1 / n))
				height += t.Z.Nominal() / n
			}
			cost[i][j] = vec(mid, height).Sub(vec(at, z)).Norm()
		}
		for _, o := range s.Order {
			if o.Rotor == x.runs[row].rotor {
				if j := slices.IndexFunc(cols, func(c int) bool { return x.groups[c] == o.Pad }); j >= 0 {
					cost[i] = only(cost[i], j)
				}
			}
		}
	}
	out := make([]int, len(x.runs))
	for i, j := range assign(cost) {
		out[rows[i]] = cols[j]
	}
	return out
}

// runEnd is the middle of the end of a run that is not chosen.
func (w *wirePlacer) runEnd(s *WireSpec, x *expansion, run *run) (r2.Point, float64) {
	id, ends := run.from, []outlet{}
	if s.Motors {
		if c := w.comps[id]; c != nil {
			ends = outletsOf(c.Part)
		}
	} else {
		if x.atFrom {
			id = run.to
		}
		for _, l := range run.links {
			if x.atFrom {
				ends = append(ends, l.b)
			} else {
				ends = append(ends, l.a)
			}
		}
	}
	c := w.comps[id]
	if c == nil || len(ends) == 0 {
		return r2.Point{}, 0
	}
	var mid r2.Point
	z := 0.0
	for k := range ends {
		t := w.terminalOf(c, &ends[k])
		mid = mid.Add(t.At.Mul(1 / float64(len(ends))))
		z += t.Z.Nominal() / float64(len(ends))
	}
	return mid, z
}

// phases joins the three leads of a motor to three pads in the order in which they do not
// cross: as they come, or the other way round when that is shorter in all. Which lead goes
// to which pad only sets which way the motor turns, and firmware can reverse it.
func (w *wirePlacer) phases(motor, esc *Component, pads []outlet) []link {
	if motor == nil || esc == nil {
		return nil
	}
	leads := outletsOf(motor.Part)
	length := func(flip bool) float64 {
		sum := 0.0
		for k := range leads {
			q := k
			if flip {
				q = len(pads) - 1 - k
			}
			sum += w.terminalOf(motor, &leads[k]).At.Sub(w.terminalOf(esc, &pads[q]).At).Norm()
		}
		return sum
	}
	flip := length(true) < length(false)-1e-9
	var out []link
	for k := range leads {
		q := k
		if flip {
			q = len(pads) - 1 - k
		}
		out = append(out, link{a: leads[k], b: pads[q]})
	}
	return out
}

// terminalOf is the one terminal of an outlet.
func (w *wirePlacer) terminalOf(c *Component, o *outlet) *Terminal {
	id := c.ID + "." + o.full()
	if t := w.terms[id]; t != nil {
		return t
	}
	t := w.terminal(c, o)
	w.terms[id] = t
	return t
}

// circuit makes one circuit.
func (w *wirePlacer) circuit(s *WireSpec, label string, from, to *Component, all []link) {
	if len(all) == 0 {
		return
	}
	w.labels[label]++
	if n := w.labels[label]; n > 1 {
		label = fmt.Sprintf("%s-%d", label, n)
	}
	c := &Circuit{ID: "wires." + label, Label: label, From: from, To: to, Spec: s, Pos: s.Pos}
	setBeside(all)
	signals := 0
	var parts []*shapes.Part
	for i := range all {
		l := &all[i]
		wire := &Wire{
			ID: c.ID + "." + wayID(l), Way: l.way(), From: w.terminalOf(from, &l.a), To: w.terminalOf(to, &l.b),
			Role: l.role(), Gauge: s.Gauge, Return: l.added, Colour: colourOf(l, signals),
		}
		if wire.Role == shapes.SignalRole || wire.Role == "" {
			signals++
		}
		if wire.Gauge == nil {
			wire.Gauge, wire.Chosen = w.chooseGauge(l, from, to), true
		}
		for _, q := range s.Colour {
			if l.called(q.Way) {
				wire.Colour = q.Colour
			}
		}
		wire.StripA, wire.StripB = stripOf(&l.a), stripOf(&l.b)
		parts = append(parts, wire.Gauge)
		c.Wires = append(c.Wires, wire)
		w.joinOnce(s, c, wire.From, &l.a)
		w.joinOnce(s, c, wire.To, &l.b)
	}
	c.Kind = kindOf(c)
	c.OD = bundleOD(label+" bundle", parts, s.Sleeve)
	c.Bend = leastBend(parts)
	c.Slack = s.Slack
	c.FromPlug, c.ToPlug = c.Wires[0].From.Port, c.Wires[0].To.Port
	if c.Slack == nil {
		c.Slack = slackOf(label, c.FromPlug != nil || c.ToPlug != nil)
	}
	switch {
	case c.Kind == MotorCircuit:
		if c.Hung = s.Length; c.Hung == nil && from.Part.Motor != nil {
			c.Hung = from.Part.Motor.LeadLength
		}
	case from.Part.Pack != nil:
		w.packLead(c, from.Part.Pack, c.ToPlug)
	case to.Part.Pack != nil:
		w.packLead(c, to.Part.Pack, c.FromPlug)
	case s.Length != nil:
		c.Hung = s.Length
	}
	w.asm.Circuits = append(w.asm.Circuits, c)
}

// packLead notes what hangs on a pack, and the pair of plugs behind it; there is none where the
// pack's own plug goes into the part.
func (w *wirePlacer) packLead(c *Circuit, p *shapes.Pack, far *PortPlace) {
	c.Hung = p.LeadLength
	if far == nil || far.Port.Plug != p.Plug {
		c.Mate = w.shared(p.Plug)
	}
}

// setBeside notes of each ground what it is the return of: of the supply before it, else of
// the first one.
func setBeside(all []link) {
	var last shapes.Role
	for _, l := range all {
		if power(l.role()) && last == "" {
			last = l.role()
		}
	}
	for i := range all {
		switch r := all[i].role(); {
		case power(r):
			last = r
		case r == shapes.GroundRole:
			all[i].beside = last
		}
	}
}

func wayID(l *link) string {
	if l.role() == shapes.MotorRole {
		return fmt.Sprint(l.a.num + 1)
	}
	return strings.ReplaceAll(l.way(), " ", "-")
}

// stripOf is what is bared at an end: nothing in a plug, which is crimped, or on a lead
// that hangs on its part.
func stripOf(o *outlet) float64 {
	if o.port != nil || o.lead {
		return 0
	}
	return stripLength
}

// joinOnce reports a second wire on what bears one.
func (w *wirePlacer) joinOnce(s *WireSpec, c *Circuit, t *Terminal, o *outlet) {
	if o.bears() > 1 || o.lead && o.role == shapes.PackRole {
		return
	}
	if other := w.used[t.ID]; other != nil {
		w.fail(s.Pos, "wires", fmt.Sprintf("%s bears one wire, and both %s and %s end there", t.ID, other.Label, c.Label), "another pad or way for one of them", "")
		return
	}
	w.used[t.ID] = c
}

// kindOf tells what a circuit is for by what its wires carry.
func kindOf(c *Circuit) CircuitKind {
	has := map[shapes.Role]bool{}
	supply := false
	for _, w := range c.Wires {
		has[w.Role] = true
		supply = supply || w.Role.Gives() > 0 || w.Role == shapes.FeedRole
	}
	other := has[shapes.SignalRole] || has[shapes.VideoRole] || has[""]
	switch {
	case has[shapes.MotorRole]:
		return MotorCircuit
	case has[shapes.AntennaRole]:
		return CoaxCircuit
	case len(c.Wires) > 0 && c.Wires[0].From.Port != nil && c.Wires[0].To.Port != nil:
		return HarnessKind
	case has[shapes.PackRole] && !other && !supply:
		return PackCircuit
	case supply && !other && !has[shapes.PackRole]:
		return SupplyCircuit
	}
	return SignalCircuit
}
