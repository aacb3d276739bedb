package layout

import (
	"slices"
	"strings"

	"dryfit/shapes"
)

// linksByWays joins what `ways:` lists: names of pads or of ways, or what they carry. What
// is named at one end only goes to what the other end has for it.
func linksByWays(from, to *side, ways []string) ([]link, *fault) {
	var out []link
	usedA, usedB := map[string]bool{}, map[string]bool{}
	free := func(all []outlet, used map[string]bool) []outlet {
		var out []outlet
		for _, o := range all {
			if !used[o.full()] {
				out = append(out, o)
			}
		}
		return out
	}
	for i, w := range ways {
		a, b := free(pick(from, w), usedA), free(pick(to, w), usedB)
		switch {
		case len(a) == 0 && len(b) == 0:
			return nil, &fault{at: 3, item: i, message: "neither " + from.text + " nor " + to.text + " has a way " + quoted(w), want: "names of pads or ways, or what they carry",
				hint: hasWords(from) + "; " + hasWords(to)}
		case len(a) == 0:
			a = through(b, free(from.some, usedA), free(from.all, usedA))
		case len(b) == 0:
			b = through(a, free(to.some, usedB), free(to.all, usedB))
		}
		if len(a) > 1 && len(b) >= 1 {
			a = narrow(a, b)
		}
		if len(b) > 1 && len(a) >= 1 {
			b = narrow(b, a)
		}
		switch {
		case len(a) == 0:
			return nil, &fault{at: 1, message: from.owner + " has nothing for " + quoted(w) + " of " + to.owner, want: "a part with such a pad or way", hint: hasWords(from)}
		case len(b) == 0:
			return nil, &fault{at: 2, message: to.owner + " has nothing for " + quoted(w) + " of " + from.owner, want: "a part with such a pad or way", hint: hasWords(to)}
		case len(a) == len(b) && a[0].pad != nil && a[0].pad.Ways == len(a):
			for k := range a {
				out = append(out, link{a: a[k], b: b[k]})
			}
		case len(a) > 1:
			return nil, severalWays(1, i, w, from, a)
		case len(b) > 1:
			return nil, severalWays(2, i, w, to, b)
		case !mayJoin(a[0].role, b[0].role):
			return nil, cannotJoin(from, to, &a[0], &b[0])
		default:
			out = append(out, link{a: a[0], b: b[0]})
		}
		usedA[out[len(out)-1].a.full()], usedB[out[len(out)-1].b.full()] = true, true
	}
	return out, nil
}

func severalWays(at, item int, w string, s *side, among []outlet) *fault {
	f := ambiguous(at, s, &among[0], among)
	f.message = s.owner + " has more than one pad that " + quoted(w) + " can mean"
	return f
}

func quoted(s string) string { return `"` + s + `"` }

// pick lists what a way may mean at one side: a name of the pad or port that is named, of
// the part, or what it carries; `supply` stands for every supply and what takes one.
func pick(s *side, w string) []outlet {
	for _, among := range [][]outlet{s.some, s.all} {
		var byName, byWhat []outlet
		for _, o := range among {
			switch {
			case o.name() == w || o.of == w || o.full() == w:
				byName = append(byName, o)
			case string(o.role) == w, w == "supply" && power(o.role) && o.role != shapes.PackRole:
				byWhat = append(byWhat, o)
			}
		}
		if len(byName) > 0 {
			return byName
		}
		if len(byWhat) > 0 {
			return byWhat
		}
	}
	return nil
}

// through lists the partners of the ways found at one end at the other, first among those
// of the pad or port named there.
func through(found, some, all []outlet) []outlet {
	for _, among := range [][]outlet{some, all} {
		var out []outlet
		for i := range found {
			for _, q := range partners(&found[i], among) {
				if !slices.ContainsFunc(out, func(o outlet) bool { return o.full() == q.full() }) {
					out = append(out, q)
				}
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// narrow keeps those that have a partner among the others.
func narrow(all, others []outlet) []outlet {
	var out []outlet
	for i := range all {
		if len(partners(&all[i], others)) > 0 {
			out = append(out, all[i])
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

// withGround adds the return that goes with a supply: the ground nearest to it at either
// end, of the same plug if it is plugged.
func withGround(from, to *side, all []link) ([]link, *fault) {
	var feed *link
	for i := range all {
		switch r := all[i].role(); {
		case r == shapes.GroundRole:
			return all, nil
		case power(r) && feed == nil:
			feed = &all[i]
		}
	}
	if feed == nil {
		return all, nil
	}
	if returnsBySwitch(from, all) || returnsBySwitch(to, all) {
		return all, nil
	}
	for i, s := range []*side{from, to} {
		if twoLegs(s) {
			return nil, &fault{at: i + 1, message: "the current of " + s.owner + " returns over its signal, which is not joined", want: "both of its pads",
				hint: "name them in `ways:`, such as [supply, signal]"}
		}
	}
	a, okA := nearestGround(&feed.a, from)
	b, okB := nearestGround(&feed.b, to)
	switch {
	case !okA && !okB:
		return nil, &fault{message: "a supply needs its ground, and neither " + from.owner + " nor " + to.owner + " has a pad or way for it", want: "a pad or way with role ground at both ends",
			hint: "write it under `pads:` or `pins:` of the two parts"}
	case !okA:
		return nil, &fault{at: 1, message: "a supply needs its ground, and " + from.owner + " has no pad or way for it", want: "a pad or way with role ground", hint: hasWords(from)}
	case !okB:
		return nil, &fault{at: 2, message: "a supply needs its ground, and " + to.owner + " has no pad or way for it", want: "a pad or way with role ground", hint: hasWords(to)}
	}
	// Behind the supply that it belongs to.
	i := slices.IndexFunc(all, func(l link) bool { return l.a.full() == feed.a.full() && l.b.full() == feed.b.full() })
	return slices.Insert(all, i+1, link{a: a, b: b, added: true}), nil
}

// returnsBySwitch tells that an end is a part with two legs, a supply and a signal, that are
// both joined: such as a buzzer, whose current returns through the controller's switch.
func returnsBySwitch(s *side, all []link) bool { return len(all) == 2 && twoLegs(s) }

// twoLegs tells the parts that have a supply and a signal and nothing else.
func twoLegs(s *side) bool {
	return len(s.all) == 2 && len(byRole(s.all, shapes.FeedRole)) == 1 && len(byRole(s.all, shapes.SignalRole)) == 1
}

// nearestGround finds the ground that goes with a supply at one side: of the same plug; else
// the pad that is called after it (m1-ground for m1, ground-9 for supply-9); else the nearest
// pad that is not called after another one. Of equally near ones it is the first by name.
func nearestGround(o *outlet, s *side) (outlet, bool) {
	var best outlet
	found, least := false, 0.0
	for _, q := range s.all {
		if q.role != shapes.GroundRole {
			continue
		}
		d := q.at.Sub(o.at).Norm()
		switch {
		case q.of == o.of:
			d = -2
		case q.pad != nil && (q.of == o.of+"-ground" || q.of != o.of && q.of == strings.Replace(o.of, "supply", "ground", 1)):
			d = -1
		case q.port != nil:
			d += 2000 // a way of another plug only where there is no pad
		case ofAnother(q.of, s.all):
			d += 1000
		}
		if !found || d < least-1e-9 {
			best, found, least = q, true, d
		}
	}
	return best, found
}

// ofAnother tells that a ground is called after another pad of its part, or is one of a set.
func ofAnother(name string, all []outlet) bool {
	after, ok := strings.CutSuffix(name, "-ground")
	return ok && slices.ContainsFunc(all, func(o outlet) bool { return o.of == after || o.of != name && strings.HasPrefix(o.of, after+"-") })
}
