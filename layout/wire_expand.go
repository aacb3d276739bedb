package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dryfit/shapes"
)

// expansion is what an entry of the wires means: one run of wires, or one for each rotor.
type expansion struct {
	runs []run
	// chosen tells that each run goes to another pad or way of one part, and that which one is
	// chosen by place: groups are their names, rotors those that the runs belong to.
	chosen  bool
	rotors  []string
	groups  []string
	known   []string                         // all groups that `order:` may name
	groupOf []string                         // component that each group belongs to
	padsOf  [][]outlet                       // of each group
	atFrom  bool                             // the groups are at the entry's `from:` end
	again   func(of string) ([]link, *fault) // the wires of a run that goes to this group
}

// run is what one circuit joins.
type run struct {
	from, to string // component IDs
	rotor    string
	links    []link
}

// expand works out what an entry means, as far as the parts say it. It does not look at
// where anything is.
func (b *Build) expand(s *WireSpec) (*expansion, *fault) {
	if s.Motors {
		return b.expandMotors(s)
	}
	from, to := b.sideOf(s.From), b.sideOf(s.To)
	fromEach, toEach := b.each(s.From.On), b.each(s.To.On)
	switch {
	case fromEach && toEach:
		all, bad := links(from, to, s.Ways)
		if bad != nil {
			return nil, bad
		}
		x := &expansion{}
		for _, r := range b.axes() {
			x.runs = append(x.runs, run{from: s.From.On.ID() + "." + r, to: s.To.On.ID() + "." + r, rotor: r, links: all})
		}
		return x, nil
	case fromEach || toEach:
		return b.expandEach(s, from, to, fromEach)
	}
	all, bad := links(from, to, s.Ways)
	if bad != nil {
		return nil, bad
	}
	return &expansion{runs: []run{{from: s.From.On.ID(), to: s.To.On.ID(), links: all}}}, nil
}

// each tells whether a target means one copy at each rotor.
func (b *Build) each(t *Target) bool {
	return t.Kind == TargetMount && t.Rotor == "" && b.perRotor(t.Name, 0)
}

// axes lists the rotors that carry a copy of what stands on the arms: the first on each
// axis.
func (b *Build) axes() []string {
	var out []string
	if b.Rotors == nil {
		return nil
	}
	for _, r := range b.Rotors.Rotors {
		if o := b.Rotors.find(r.Coaxial); o != nil && slices.Contains(out, o.Name) {
			continue
		}
		out = append(out, r.Name)
	}
	return out
}

func (b *Build) sideOf(e *EndSpec) *side {
	p := b.partAt(e.On)
	s := &side{text: e.Text, owner: e.On.Text, all: outletsOf(p)}
	s.some = s.all
	if e.At != "" {
		s.named = true
		s.some, s.set = named(s.all, e.At)
		if p != nil {
			s.port = p.Port(e.At)
		}
	}
	return s
}

// expandEach joins one part to the copies of another, one at each rotor. Where the part has
// outputs m1, m2, ... that suit, each copy gets one of its own.
func (b *Build) expandEach(s *WireSpec, from, to *side, fromEach bool) (*expansion, *fault) {
	one, copies := from, to
	if fromEach {
		one, copies = to, from
	}
	x := &expansion{atFrom: !fromEach}
	rotors := b.axes()
	joined := func(of *side) ([]link, *fault) {
		if fromEach {
			return links(from, of, s.Ways)
		}
		return links(of, to, s.Ways)
	}
	wanted := copies.some
	if len(s.Ways) > 0 {
		wanted = nil
		for _, w := range s.Ways {
			wanted = append(wanted, pick(copies, w)...)
		}
	}
	var groups []string
	pads := map[string][]outlet{}
	if one.loose() || !one.named {
		for _, o := range one.some {
			if n := o.name(); motorOutput(n) && len(partners(&o, wanted)) > 0 {
				if pads[n] == nil {
					groups = append(groups, n)
				}
				pads[n] = append(pads[n], o)
			}
		}
	}
	for _, n := range groups {
		if soldered := slices.DeleteFunc(slices.Clone(pads[n]), func(o outlet) bool { return o.port != nil }); len(soldered) > 0 {
			pads[n] = soldered // what the plug of the same name leads to as well
		}
	}
	if len(groups) == 0 {
		all, bad := joined(one)
		if bad != nil {
			return nil, bad
		}
		for _, r := range rotors {
			x.runs = append(x.runs, x.runAt(s, r, fromEach, all))
		}
		return x, nil
	}
	slices.SortFunc(groups, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), strings.Compare(a, b)) }) // m2 before m10
	if len(groups) < len(rotors) {
		return nil, &fault{message: fmt.Sprintf("%s has %d outputs (%s) for %d of %s", one.owner, len(groups), strings.Join(groups, ", "), len(rotors), copies.owner), want: "one output for each"}
	}
	x.known = groups
	if len(groups) > len(rotors) && pads[groups[0]][0].role == shapes.SignalRole {
		// Outputs are counted from the first: firmware drives those.
		var first []string
		for i, g := range groups {
			if i < len(rotors) || slices.ContainsFunc(s.Order, func(o DrivenBy) bool { return o.Pad == g }) {
				first = append(first, g)
			}
		}
		groups = first
	}
	x.chosen, x.rotors, x.groups = true, rotors, groups
	for _, g := range groups {
		x.padsOf = append(x.padsOf, pads[g])
		x.groupOf = append(x.groupOf, idOfSide(s, !fromEach))
	}
	x.again = func(of string) ([]link, *fault) {
		narrowed := *one
		narrowed.some, narrowed.named, narrowed.port, narrowed.set = pads[of], true, nil, false
		if one.port == nil {
			narrowed.text = one.owner + "." + of
		}
		return joined(&narrowed)
	}
	all, bad := x.again(groups[0])
	if bad != nil {
		return nil, bad
	}
	for _, r := range rotors {
		x.runs = append(x.runs, x.runAt(s, r, fromEach, all))
	}
	return x, nil
}

func idOfSide(s *WireSpec, from bool) string {
	if from {
		return s.From.On.ID()
	}
	return s.To.On.ID()
}

func (x *expansion) runAt(s *WireSpec, rotor string, fromEach bool, all []link) run {
	r := run{from: s.From.On.ID(), to: s.To.On.ID(), rotor: rotor, links: all}
	if fromEach {
		r.from += "." + rotor
	} else {
		r.to += "." + rotor
	}
	return r
}

// driver is a part whose pads drive motors.
type driver struct {
	id    string
	text  string
	rotor string // of copies on the arms
	all   []outlet
}

// expandMotors joins the leads of every motor to pads that drive motors: of the part that
// is named, else of all that have some.
func (b *Build) expandMotors(s *WireSpec) (*expansion, *fault) {
	var drivers []driver
	var each, central []string
	add := func(t *Target, text string) {
		p := b.partAt(t)
		var all []outlet
		for _, o := range outletsOf(p) {
			if o.role == shapes.MotorRole && !o.lead && (s.To == nil || s.To.At == "" || s.To.At == o.of) {
				all = append(all, o)
			}
		}
		if len(all) == 0 {
			return
		}
		if b.each(t) {
			each = append(each, text)
			for _, r := range b.axes() {
				drivers = append(drivers, driver{t.ID() + "." + r, text, r, all})
			}
			return
		}
		central = append(central, text)
		drivers = append(drivers, driver{t.ID(), text, t.Rotor, all})
	}
	if s.To != nil {
		add(s.To.On, s.To.Text)
		if len(drivers) == 0 {
			return nil, &fault{message: s.To.Text + " has no pads that drive a motor", want: "a speed controller with pads of role motor, three in a row",
				hint: "write them under `pads:` of its part, such as m1: {at: [7, 17], role: motor, ways: 3, pitch: 3.3}"}
		}
	} else {
		for _, st := range b.Stacks {
			for _, it := range st.Items {
				if it.Kind == ItemBoard {
					add(&Target{Kind: TargetBoard, Name: st.Name, Item: it.Name}, it.Name)
				}
			}
		}
		for _, m := range b.Mounts {
			add(&Target{Kind: TargetMount, Name: m.Name}, m.Name)
		}
		switch {
		case len(drivers) == 0:
			return nil, &fault{message: "no part of this build has pads that drive a motor", want: "a speed controller with pads of role motor, three in a row",
				hint: "write them under `pads:` of its part, such as m1: {at: [7, 17], role: motor, ways: 3, pitch: 3.3}"}
		case len(each) > 0 && len(central) > 0:
			return nil, &fault{message: "both " + strings.Join(central, ", ") + " and " + strings.Join(each, ", ") + " have pads that drive motors", want: "{motor leads: PART} with the one that does"}
		}
	}
	x := &expansion{chosen: true}
	for _, r := range b.Rotors.Rotors {
		x.rotors = append(x.rotors, r.Name)
	}
	for _, d := range drivers {
		for _, name := range outletNames(d.all) {
			pads, _ := named(d.all, name)
			if len(pads) != 3 {
				return nil, &fault{message: fmt.Sprintf("the pad %s of %s is for %d, and a motor has three leads", name, d.text, len(pads)), want: "`ways: 3` with a `pitch:`",
					hint: "three pads lie in a row round the place that `at:` names"}
			}
			label := name
			if d.rotor != "" && len(each) > 0 {
				label = d.rotor
				if len(each) > 1 {
					label = d.text + "." + d.rotor
				}
			} else if len(central) > 1 {
				label = d.text + "." + name
			}
			x.groups = append(x.groups, label)
			x.groupOf = append(x.groupOf, d.id)
			x.padsOf = append(x.padsOf, pads)
		}
	}
	if len(x.groups) < len(x.rotors) {
		return nil, &fault{message: fmt.Sprintf("%d motors, and %s to drive them: %s", len(x.rotors), countOf(len(x.groups), "set of pads", "sets of pads"), strings.Join(x.groups, ", ")), want: "three pads for every motor",
			hint: "a further board, or pads that its part does not list yet"}
	}
	x.known = x.groups
	for _, r := range x.rotors {
		x.runs = append(x.runs, run{from: "rotors." + r + ".motor", rotor: r})
	}
	return x, nil
}

func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// called tells whether a wire goes by this name in `colours:` and the like.
func (l *link) called(word string) bool {
	return word == strings.ReplaceAll(l.way(), " ", "-") || word == string(l.role()) || word == l.a.name() || word == l.b.name() ||
		word == "supply" && power(l.role()) && l.role() != shapes.PackRole
}
