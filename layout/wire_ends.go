package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/shapes"
)

// outlet is one conductor's end at a part: a pad, one of a row of pads, one way of a plug,
// or a lead that hangs on the part. It is known from the part alone, before anything is
// placed.
type outlet struct {
	of   string // name of the pad, port or lead: "m1", "controller"
	way  string // "2" within a row, "telemetry" within a plug; "" of a single pad
	role shapes.Role
	pad  *shapes.Pad
	port *shapes.Port
	pin  *shapes.Pin
	num  int      // from 0 within the row or plug
	at   r2.Point // part frame, for choosing the nearest; of leads the part's origin
	lead bool     // hangs on the part
	// short is its name within the set of pads that it is meant as one of: "rx" for the pad
	// receiver-rx in the set receiver.
	short string
}

// name is what people call it: the way of a plug, else the pad.
func (o *outlet) name() string {
	if o.short != "" {
		return o.short
	}
	if o.pin != nil || o.lead && o.role != shapes.MotorRole {
		return o.way
	}
	return o.of
}

// full names it within its part: "controller.telemetry", "m1.2", "ground".
func (o *outlet) full() string {
	if o.way == "" {
		return o.of
	}
	return o.of + "." + o.way
}

// bears tells how many wires it can bear: pads of supplies and of what is fed take several, as
// a pack pad takes a capacitor's leg beside the lead and a light passes its supply on; all others
// and the ways of plugs bear one.
func (o *outlet) bears() int {
	if o.pin != nil || o.port != nil {
		return 1
	}
	if power(o.role) || o.role == shapes.GroundRole {
		return math.MaxInt
	}
	return 1
}

// Names of the leads that hang on parts which have no pads.
const (
	motorLeads  = "leads"
	packLead    = "lead"
	antennaLead = "coax"
)

// outletsOf lists where wires can end at a part: its pads by name, the ways of its ports,
// and the leads that hang on motors, packs and antennas.
func outletsOf(p *shapes.Part) []outlet {
	if p == nil {
		return nil
	}
	var out []outlet
	for i := range p.Pads {
		pad := &p.Pads[i]
		n := max(1, pad.Ways)
		for k := range n {
			o := outlet{of: pad.Name, role: pad.Role, pad: pad, num: k, at: padPlace(pad, k)}
			if n > 1 {
				o.way = fmt.Sprint(k + 1)
			}
			out = append(out, o)
		}
	}
	for i := range p.Ports {
		port := &p.Ports[i]
		if port.Button || port.Card {
			continue
		}
		for k := range port.Pins {
			pin := &port.Pins[k]
			if pin.Name == shapes.UnusedPin {
				continue
			}
			out = append(out, outlet{of: port.Name, way: pin.Name, role: pin.Role, port: port, pin: pin, num: k, at: port.At})
		}
		if len(port.Pins) == 0 && coaxPlug(port.Plug) {
			out = append(out, outlet{of: port.Name, role: shapes.AntennaRole, port: port, at: port.At})
		}
	}
	switch {
	case p.Kind == shapes.MotorKind && len(p.Pads) == 0:
		for k := range 3 {
			out = append(out, outlet{of: motorLeads, way: fmt.Sprint(k + 1), role: shapes.MotorRole, num: k, lead: true})
		}
	case p.Kind == shapes.Battery && len(p.Pads) == 0:
		out = append(out, outlet{of: packLead, way: "pack", role: shapes.PackRole, lead: true},
			outlet{of: packLead, way: "ground", role: shapes.GroundRole, num: 1, lead: true})
	case p.Kind == shapes.AntennaKind:
		out = append(out, outlet{of: antennaLead, role: shapes.AntennaRole, lead: true})
	}
	return out
}

// padPlace is the middle of the k-th pad of a row, in the part's frame. The row is centred
// on its place, its first pad first along its direction.
func padPlace(pad *shapes.Pad, k int) r2.Point {
	n := max(1, pad.Ways)
	return pad.At.Add(bearing(pad.Row).Mul((float64(k) - float64(n-1)/2) * pad.Pitch))
}

// coaxPlug tells the plugs of antennas.
func coaxPlug(plug string) bool {
	switch plug {
	case "micro-coax", "mmcx", "sma", "rp-sma":
		return true
	}
	return false
}

// outletNames lists the names of pads, ports and leads of a part.
func outletNames(all []outlet) []string {
	var out []string
	for i := range all {
		if !slices.Contains(out, all[i].of) {
			out = append(out, all[i].of)
		}
	}
	return out
}

// named keeps the outlets of one pad, row or port; of none of that name, those of the set of
// pads whose names begin with it: receiver stands for receiver-supply, receiver-ground and so
// on. set tells that it is one.
func named(all []outlet, of string) (found []outlet, set bool) {
	for _, o := range all {
		if o.of == of {
			found = append(found, o)
		}
	}
	if len(found) > 0 {
		return found, false
	}
	for _, o := range all {
		if rest, ok := strings.CutPrefix(o.of, of+"-"); ok && o.pad != nil && o.pad.Ways <= 1 {
			o.short = rest
			found = append(found, o)
		}
	}
	return found, len(found) > 1
}

// link is one wire of an entry.
type link struct {
	a, b   outlet
	added  bool        // the ground that goes with a supply
	beside shapes.Role // of a ground: what it is the return of, "" for none
}

// role is what the wire carries: what gives rather than what takes.
func (l *link) role() shapes.Role {
	switch {
	case l.a.role == "" || l.a.role == shapes.FeedRole && l.b.role != "":
		return l.b.role
	}
	return l.a.role
}

// way is what the wire is called.
func (l *link) way() string {
	switch {
	case l.role() == shapes.MotorRole:
		return "phase " + fmt.Sprint(l.a.num+1)
	case l.role() == shapes.AntennaRole:
		return "coax"
	case l.a.pin != nil || l.a.lead:
		return l.a.name()
	case l.b.pin != nil || l.b.lead:
		return l.b.name()
	case l.role() == shapes.GroundRole:
		return "ground"
	case l.role() == shapes.PackRole:
		return "pack"
	}
	return l.a.name()
}

// side is one end of an entry, as far as its part says.
type side struct {
	text  string // as written: "flight-board.supply-9"
	owner string // as written, without the pad: "flight-board"
	all   []outlet
	some  []outlet // those of the pad or port that is named, else all
	named bool
	port  *shapes.Port // the named port
	set   bool         // a set of pads is named
}

// loose tells that not every way of what is named must go to the other end: of a plug or a
// set of pads, those go that have a partner there.
func (s *side) loose() bool { return s.port != nil || s.set }

// fault says what is wrong with an entry: at which of its ends (0 the entry, 1 from, 2 to,
// 3 the way with number item), and in words.
type fault struct {
	at                  int
	item                int
	message, want, hint string
}

// links works out which wires an entry means. Without `ways:` these are: between two
// plugs, every name that both have; from a pad, that pad's; between two parts, what only
// one pair can mean. A supply gets its ground.
func links(from, to *side, ways []string) ([]link, *fault) {
	var out []link
	var bad *fault
	switch {
	case len(ways) > 0:
		out, bad = linksByWays(from, to, ways)
	case from.loose() && to.loose():
		out, bad = linksOfPlugs(from, to)
	case from.named && to.named:
		out, bad = linksOfNamed(from, to)
	case from.named:
		out, bad = linksOfOne(from, to, false)
	case to.named:
		out, bad = linksOfOne(to, from, true)
	default:
		out, bad = linksOfParts(from, to)
	}
	if bad != nil {
		return nil, bad
	}
	return withGround(from, to, out)
}

// linksOfPlugs joins two plugs, or sets of pads, by the names of their ways. The supply may
// be called differently at both ends: what gives it goes to what takes it.
func linksOfPlugs(from, to *side) ([]link, *fault) {
	var out []link
	for _, a := range from.some {
		same := slices.IndexFunc(to.some, func(b outlet) bool { return sameWay(a.name(), b.name()) && mayJoin(a.role, b.role) })
		if same < 0 && power(a.role) {
			feeds := func(b outlet) bool { return power(b.role) && mayJoin(a.role, b.role) && takes(&b, &a) && takes(&a, &b) }
			if same = slices.IndexFunc(to.some, feeds); same >= 0 && slices.ContainsFunc(to.some[same+1:], feeds) {
				same = -1 // more than one can be meant
			}
		}
		if same >= 0 {
			out = append(out, link{a: a, b: to.some[same]})
		}
	}
	if len(out) == 0 {
		return nil, &fault{message: "the plugs " + from.text + " and " + to.text + " have no way of the same name", want: "ways that are called alike at both ends",
			hint: from.text + " has " + wayNames(from.some) + "; " + to.text + " has " + wayNames(to.some)}
	}
	return out, nil
}

func wayNames(all []outlet) string {
	var out []string
	for i := range all {
		out = append(out, all[i].name())
	}
	if len(out) == 0 {
		return "none that its part lists"
	}
	return strings.Join(out, ", ")
}

// linksOfNamed joins pads that are named at both ends: one to one, or row to row.
func linksOfNamed(from, to *side) ([]link, *fault) {
	a, b := from.some, to.some
	if len(a) == len(b) && !from.loose() && !to.loose() {
		var out []link
		for i := range a {
			if !mayJoin(a[i].role, b[i].role) {
				return nil, cannotJoin(from, to, &a[i], &b[i])
			}
			out = append(out, link{a: a[i], b: b[i]})
		}
		return out, nil
	}
	// One of the two is a plug: its ways that the other end can take.
	var out []link
	for _, p := range a {
		if q := partners(&p, b); len(q) == 1 {
			out = append(out, link{a: p, b: q[0]})
		}
	}
	switch {
	case len(out) > 0:
		return out, nil
	case len(a) == 1 && len(b) == 1:
		return nil, cannotJoin(from, to, &a[0], &b[0])
	case !from.loose() && !to.loose():
		return nil, &fault{at: 2, message: fmt.Sprintf("%s has %d pads in a row, %s has %d", from.text, len(a), to.text, len(b)), want: "as many pads at both ends"}
	}
	return nil, &fault{message: "nothing of " + from.text + " goes to " + to.text, want: "ways that carry the same",
		hint: from.text + " has " + wayNames(a) + "; " + to.text + " has " + wayNames(b)}
}

func cannotJoin(from, to *side, a, b *outlet) *fault {
	return &fault{at: 2, message: fmt.Sprintf("%s of %s carries %s and %s of %s %s: they cannot be joined", a.full(), from.owner, carries(a.role), b.full(), to.owner, carries(b.role)),
		want: "two ends that carry the same, or a supply and what it feeds"}
}

// linksOfOne joins what is named at one end to what the other part has for it: to the plug
// whose ways are called alike, if what is named is a plug.
func linksOfOne(one, other *side, swapped bool) ([]link, *fault) {
	at := 2
	if swapped {
		at = 1
	}
	if one.port != nil {
		if s := likePlug(one, other); s != nil {
			if swapped {
				return linksOfPlugs(s, one)
			}
			return linksOfPlugs(one, s)
		}
	}
	var out []link
	used := map[string]*outlet{}
	for i := range one.some {
		o := &one.some[i]
		free := sameRow(o, partners(o, other.all))
		if o.role == shapes.GroundRole && len(free) > 1 && one.loose() {
			continue // added as the return, from the nearest
		}
		if len(free) > 1 {
			free = inputsFirst(free)
		}
		switch {
		case len(free) > 1:
			return nil, ambiguous(at, other, o, free)
		case len(free) == 0 && !one.loose():
			return nil, &fault{at: at, message: fmt.Sprintf("%s has nothing for %s of %s, which carries %s", other.owner, o.full(), one.owner, carries(o.role)),
				want: "a part with such a pad or way", hint: hasWords(other)}
		case len(free) == 0:
			continue
		}
		if first := used[free[0].full()]; first != nil && free[0].bears() == 1 {
			if sameWay(first.name(), free[0].name()) {
				continue
			}
			return nil, &fault{at: 3 - at, message: fmt.Sprintf("both %s and %s of %s can go to %s of %s", first.name(), o.name(), one.text, free[0].full(), other.owner),
				want: "`ways:` with those that are joined, such as [" + first.name() + "]"}
		}
		used[free[0].full()] = o
		l := link{a: *o, b: free[0]}
		if swapped {
			l.a, l.b = l.b, l.a
		}
		out = append(out, l)
	}
	if len(out) == 0 {
		return nil, &fault{at: at, message: "nothing of " + one.text + " can only mean one pad of " + other.owner, want: "the pad or port, such as " + example(other), hint: hasWords(other)}
	}
	return out, nil
}

func ambiguous(at int, s *side, o *outlet, among []outlet) *fault {
	var words []string
	for _, q := range among {
		words = append(words, s.owner+"."+q.of)
	}
	slices.Sort(words)
	words = slices.Compact(words)
	return &fault{at: at, message: fmt.Sprintf("%s has more than one pad for %s, which carries %s", s.owner, o.full(), carries(o.role)),
		want: "one of " + strings.Join(words, ", ")}
}

func hasWords(s *side) string {
	names := outletNames(s.all)
	if len(names) == 0 {
		return "the part of " + s.owner + " lists no pads and no ways of its ports: write them under `pads:` or `pins:`"
	}
	return s.owner + " has " + strings.Join(names, ", ")
}

func example(s *side) string {
	if names := outletNames(s.all); len(names) > 0 {
		return s.owner + "." + names[0]
	}
	return s.owner + ".ground"
}

// linksOfParts joins two parts of which no pad is named: what carries the same at both,
// where only one of each can be meant. An antenna's cable and a pack's pair go by themselves.
func linksOfParts(from, to *side) ([]link, *fault) {
	if out, bad := onlyPairs(from, to, func(r shapes.Role) bool { return r == shapes.AntennaRole }); bad != nil || len(out) > 0 {
		return out, bad
	}
	out, bad := onlyPairs(from, to, power)
	if bad != nil {
		return nil, bad
	}
	if len(out) == 1 && out[0].role() == shapes.PackRole {
		return out, nil
	}
	for _, role := range []shapes.Role{shapes.VideoRole, shapes.SignalRole} {
		more, bad := onlyPairs(from, to, func(r shapes.Role) bool { return r == role })
		if bad != nil {
			return nil, bad
		}
		out = append(out, more...)
	}
	if len(out) == 0 {
		return nil, &fault{message: "nothing of " + from.text + " goes to " + to.text + " that only one pad can mean", want: "the pads or ports, such as " + example(from) + " and " + example(to),
			hint: hasWords(from) + "; " + hasWords(to)}
	}
	return out, nil
}

// onlyPairs joins the outlets of two parts that carry what is asked for, each of which has one
// partner at the other part.
func onlyPairs(from, to *side, of func(shapes.Role) bool) ([]link, *fault) {
	var out []link
	joined := map[string][]outlet{} // of the far end: what can go there
	for _, a := range inputsFirst(from.all) {
		if !of(a.role) {
			continue
		}
		b := inputsFirst(partners(&a, to.all))
		if len(b) > 1 {
			return nil, ambiguous(2, to, &a, b)
		}
		if len(b) == 1 {
			joined[b[0].full()] = append(joined[b[0].full()], a)
			out = append(out, link{a: a, b: b[0]})
		}
	}
	for i := range out {
		if all := joined[out[i].b.full()]; len(all) > 1 {
			return nil, ambiguous(1, from, &out[i].b, all)
		}
	}
	return out, nil
}
