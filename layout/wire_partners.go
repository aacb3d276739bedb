package layout

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/shapes"
)

// power tells the roles that carry a supply.
func power(r shapes.Role) bool {
	return r == shapes.PackRole || r == shapes.FeedRole || r.Gives() > 0
}

// mayJoin tells whether a wire between the two can be meant at all. Whether it is wise is
// for the rules.
func mayJoin(a, b shapes.Role) bool {
	switch {
	case a == b || a == "" || b == "":
		return true
	case power(a) && power(b):
		return a == shapes.FeedRole || b == shapes.FeedRole
	}
	return false
}

// motorOutput tells the pads of a board that lead to the speed controller or motor of one
// rotor: m1, m2, ...
func motorOutput(name string) bool {
	rest, ok := strings.CutPrefix(name, "m")
	return ok && onlyDigits(rest)
}

// crossed tells that two ways are the two ends of one serial line: what one part sends
// (tx) the other receives (rx).
func crossed(a, b string) bool {
	swap := strings.NewReplacer("tx", "rx", "rx", "tx")
	return a != b && swap.Replace(a) == b
}

// sided tells the ways of serial lines, which never go to their own like.
func sided(name string) bool {
	return strings.NewReplacer("tx", "rx", "rx", "tx").Replace(name) != name
}

// sameWay tells that two ways belong together by their names.
func sameWay(a, b string) bool {
	if sided(a) || sided(b) {
		return crossed(a, b)
	}
	return a == b
}

func carries(r shapes.Role) string {
	switch r {
	case "":
		return "nothing that is said"
	case shapes.PackRole:
		return "the pack"
	case shapes.GroundRole:
		return "ground"
	case shapes.MotorRole:
		return "a motor's phase"
	case shapes.SignalRole:
		return "a signal"
	case shapes.VideoRole:
		return "video"
	case shapes.AntennaRole:
		return "an antenna"
	case shapes.FeedRole:
		return "what it is fed"
	}
	return fmt.Sprintf("%g V", r.Gives())
}

// partners lists what an outlet can be joined to: by its name if that is there, else by
// what it carries. A supply goes to what bears its voltage. What is soldered goes to a pad
// rather than into a plug.
func partners(o *outlet, among []outlet) []outlet {
	if o.port == nil {
		var pads []outlet
		for _, q := range among {
			if q.port == nil {
				pads = append(pads, q)
			}
		}
		if found := partnersOf(o, pads); len(found) > 0 {
			return found
		}
	}
	return partnersOf(o, among)
}

func partnersOf(o *outlet, among []outlet) []outlet {
	var same, role []outlet
	for _, q := range among {
		switch {
		case !mayJoin(o.role, q.role):
		case sameWay(o.name(), q.name()):
			same = append(same, q)
		case sided(o.name()) && sided(q.name()):
		case !takes(o, &q) || !takes(&q, o):
		default:
			role = append(role, q)
		}
	}
	if len(same) > 0 {
		return same
	}
	return role
}

// takes tells whether a bears the regulated voltage that b gives, as far as a says what it
// bears.
func takes(a, b *outlet) bool {
	v := b.role.Gives()
	if v <= 0 || a.role != shapes.FeedRole {
		return true
	}
	var span *shapes.Span
	switch {
	case a.pad != nil:
		span = a.pad.Takes
	case a.pin != nil:
		span = a.pin.Takes
	}
	return span == nil || v >= span.Lo-0.05 && v <= span.Hi+0.05
}

// likePlug finds the port of a part whose ways are called like those of a plug: at least half
// of them, and more than of any other port; nil for none.
func likePlug(one, other *side) *side {
	count := map[string]int{}
	best, most := "", 0
	for _, o := range other.all {
		if o.pin != nil && slices.ContainsFunc(one.some, func(a outlet) bool { return sameWay(a.name(), o.name()) && mayJoin(a.role, o.role) }) {
			count[o.of]++
		}
	}
	for _, name := range outletNames(other.all) {
		switch {
		case count[name] > most:
			best, most = name, count[name]
		case count[name] == most:
			best = ""
		}
	}
	if best == "" || 2*most < len(one.some) {
		return nil
	}
	s := *other
	s.some, _ = named(other.all, best)
	s.text, s.named, s.port = other.owner+"."+best, true, s.some[0].port
	return &s
}

// sameRow keeps, for one of a row of pads, the one of each other row that has its number.
func sameRow(o *outlet, among []outlet) []outlet {
	if o.role != shapes.MotorRole {
		return among
	}
	var out []outlet
	for _, q := range among {
		if q.num == o.num {
			out = append(out, q)
		}
	}
	return out
}

// inputsFirst drops a board's outputs to speed controllers where something else can be
// meant.
func inputsFirst(among []outlet) []outlet {
	var out []outlet
	for _, q := range among {
		if !motorOutput(strings.TrimSuffix(q.of, "-ground")) {
			out = append(out, q)
		}
	}
	if len(out) == 0 {
		return among
	}
	return out
}

func byRole(all []outlet, r shapes.Role) []outlet {
	var out []outlet
	for _, o := range all {
		if o.role == r {
			out = append(out, o)
		}
	}
	return out
}
