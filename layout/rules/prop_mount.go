package rules

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dryfit/layout"
	"dryfit/shapes"
)

const (
	boreSlack   = 0.1 // mm, the most that bore and shaft may differ
	nutThread   = 5.0 // mm of thread that a prop nut must find beyond hub and washer
	rootDrop    = 2.0 // mm that common blade roots hang below their seat and common bells clear
	washerM5    = 1.0 // mm, ISO 7089
	washerM6    = 1.6 // mm, ISO 7089
	washerOther = 0.5 // mm, ISO 7089 for M3
)

// propMount asks whether the prop goes on the motor and holds there.
var propMount = &Rule{
	Name:     "prop-mount",
	Group:    "rotors",
	Question: "does the prop go on the motor and does its nut hold",
	Why: "A bore that is too wide lets the prop run out of true. A stub that is too short lets the nut slip off and the prop flies away, " +
		"one with too little thread stops the nut before it clamps. A deep blade root rubs on the bell.",
	Need: "One mount that both have, with bore and shaft within 0.1 mm. Nut mounts: stub less hub less washer at least 5 mm for the nut, " +
		"and the unthreaded part of the stub no longer than hub and washer, else the nut bottoms on it. A flange nut with insert, the " +
		"usual one, needs no washer; plain and left-handed nuts are counted with one of ISO 7089 (M5: 1 mm). Blade roots that hang no " +
		"more than 2 mm below their seat clear common bells; for deeper ones the shoulder of the bell must be known. Usual figures of the trade. A need " +
		"given in the build takes the place of the 5 mm.",
	How: "Figures of the two parts compared, in mm, once for every pairing of motor, prop and nut in the build.",
	Fix: "the right prop or a ring adapter; a thinner or thicker hub, a washer in or out, a lower nut; a spacer that grips",
	Run: runPropMount,
}

// mountKind is a mount split into how it holds and the shaft that it takes in mm.
type mountKind struct {
	how   string // "press", "t", "nut"
	shaft float64
}

// readMount splits "press-1.0", "t-1.5" or "m5".
func readMount(s string) (mountKind, bool) {
	s = strings.ToLower(s)
	if size, ok := strings.CutPrefix(s, "m"); ok {
		v, err := strconv.ParseFloat(size, 64)
		return mountKind{"nut", v}, err == nil
	}
	how, size, ok := strings.Cut(s, "-")
	if !ok {
		return mountKind{}, false
	}
	v, err := strconv.ParseFloat(size, 64)
	return mountKind{how, v}, err == nil
}

// say is the mount in words.
func (m mountKind) say() string {
	switch m.how {
	case "press":
		return "a press fit on a " + mm(m.shaft) + " shaft"
	case "t":
		return "two screws beside a " + mm(m.shaft) + " shaft"
	case "nut":
		return "a nut on an M" + num(m.shaft) + " stub"
	}
	return m.how
}

// pairing is one combination of motor, prop and nut with the rotors that have it.
type pairing struct {
	motor, prop *shapes.Part
	nut         string
	below       bool
	rotors      []*layout.Rotor
}

// pairings lists the combinations in the order of the rotors.
func pairings(asm *layout.Assembly) []pairing {
	var out []pairing
next:
	for _, r := range asm.Rotors {
		if motorOf(r) == nil || propOf(r) == nil {
			continue
		}
		for i := range out {
			o := &out[i]
			if o.motor.Name == r.Motor.Part.Name && o.prop.Name == r.Prop.Part.Name && o.nut == r.Nut && o.below == r.Below {
				o.rotors = append(o.rotors, r)
				continue next
			}
		}
		out = append(out, pairing{r.Motor.Part, r.Prop.Part, r.Nut, r.Below, []*layout.Rotor{r}})
	}
	return out
}

// near says which rotors a pairing is about.
func (k *pairing) near(all int) string {
	if len(k.rotors) == all && all > 1 {
		return fmt.Sprintf("all %d rotors", all)
	}
	var names []string
	for _, r := range k.rotors {
		names = append(names, spoken(r.Name))
	}
	return speak(names)
}

func runPropMount(p *Pass) {
	list := pairings(p.Asm)
	if len(list) == 0 {
		p.Nothing("the build has no rotor with a motor and a prop")
		return
	}
	for i := range list {
		k := &list[i]
		mount, ok := p.boreFinding(k)
		if ok && mount.how == "nut" {
			p.nutFindings(k, mount)
		}
		if ok {
			p.rootFinding(k)
		}
	}
}

// mountFinding starts a finding on a pairing at its first rotor.
func (p *Pass) mountFinding(k *pairing) layout.Finding {
	r := k.rotors[0]
	at := lift(r.At, r.Seat.Nominal())
	return layout.Finding{
		Subjects: []string{propID(r), motorID(r)},
		HasPlace: true, A: at, B: at,
		Near: k.near(len(p.Asm.Rotors)),
		Pos:  r.Pos,
	}
}

// boreFinding judges mount and bore. It returns the mount that both parts share, and
// false if there is none.
func (p *Pass) boreFinding(k *pairing) (mountKind, bool) {
	f := p.mountFinding(k)
	motor, prop := k.motor.Motor, k.prop.Prop
	if len(motor.Mounts) == 0 || len(prop.Mounts) == 0 {
		who := k.motor.Name
		if len(motor.Mounts) > 0 {
			who = k.prop.Name
		}
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{known(nil, who+" mounts")}
		f.Message = fmt.Sprintf("%s does not say how props are held, so nobody can tell whether %s goes on %s", who, k.prop.Name, k.motor.Name)
		f.Fix = fmt.Sprintf("say `mounts:` for %s, such as [m5] or [t-1.5]", who)
		p.Report(f)
		return mountKind{}, false
	}
	var shared []mountKind
	for _, a := range motor.Mounts {
		for _, b := range prop.Mounts {
			if m, ok := readMount(a); ok && strings.EqualFold(a, b) {
				shared = append(shared, m)
			}
		}
	}
	if len(shared) == 0 {
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("%s is held by %s, %s takes %s", k.motor.Name, sayMounts(motor.Mounts), k.prop.Name, sayMounts(prop.Mounts))
		f.Fix = fmt.Sprintf("take a prop for %s, or another motor", sayMounts(motor.Mounts))
		p.Report(f)
		return mountKind{}, false
	}
	best, off := shared[0], math.Inf(1)
	bore := 0.0
	for _, m := range shared {
		for _, b := range prop.Bores {
			if d := math.Abs(b - m.shaft); d < off-1e-9 {
				best, off, bore = m, d, b
			}
		}
	}
	if math.IsInf(off, 1) {
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{known(nil, k.prop.Name+" bore")}
		f.Message = fmt.Sprintf("the bore of %s is missing; %s has %s", k.prop.Name, k.motor.Name, best.say())
		f.Fix = fmt.Sprintf("measure the bore of %s and say it in `bores:`", k.prop.Name)
		p.Report(f)
		return best, true
	}
	f.AtMost = true
	f = f.Judge(layout.Fixed(off), layout.Fixed(boreSlack))
	f.Message = fmt.Sprintf("the %s bore of %s goes on %s of %s, %s apart and at most %s allowed",
		mm(bore), k.prop.Name, best.say(), k.motor.Name, mm(off), mm(boreSlack))
	if f.Verdict == layout.Fail {
		f.Message = fmt.Sprintf("the %s bore of %s does not suit %s of %s: they differ by %s, at most %s allowed",
			mm(bore), k.prop.Name, best.say(), k.motor.Name, mm(off), mm(boreSlack))
		f.Fix = fmt.Sprintf("take a prop with a bore of %s", mm(best.shaft))
		if bore > best.shaft {
			f.Fix += fmt.Sprintf(", or a ring adapter from %s to %s", mm(bore), mm(best.shaft))
		}
	}
	p.Report(f)
	return best, true
}

func sayMounts(list []string) string {
	var words []string
	for _, s := range list {
		if m, ok := readMount(s); ok {
			words = append(words, m.say())
		} else {
			words = append(words, s)
		}
	}
	if len(words) < 2 {
		return speak(words)
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// washer is the thickness counted under a prop nut.
func washer(nut string, m mountKind) float64 {
	if nut != "plain" && nut != "left-hand" {
		return 0
	}
	switch {
	case m.shaft > 5.5:
		return washerM6
	case m.shaft > 4:
		return washerM5
	}
	return washerOther
}

// nutFindings judges what is left of the stub for the nut, and whether its thread
// reaches down to the hub.
func (p *Pass) nutFindings(k *pairing, m mountKind) {
	motor, prop := k.motor.Motor, k.prop.Prop
	stub := known(motor.Stub, k.motor.Name+" stub")
	thread := known(motor.ThreadedPart, k.motor.Name+" threaded part")
	hub := known(prop.HubT, k.prop.Name+" hub thickness")
	wash := washer(k.nut, m)
	with := ""
	if wash > 0 {
		with = " and a washer of " + mm(wash)
	}

	f := p.mountFinding(k)
	r := k.rotors[0]
	far := 1.0
	if r.Below {
		far = -1
	}
	left := layout.Of(stub).Sub(layout.Of(hub)).Shift(-wash)
	f.A.Z += far * (hub.Value + wash)
	f.B.Z += far * stub.Value
	f = f.Judge(left, p.Need(nutThread))
	f.Message = fmt.Sprintf("beyond a hub of %s%s the stub of %s has %s left for the nut, %s needed",
		mm(hub.Value), with, k.motor.Name, mm(f.Measured), mm(f.Needed))
	switch f.Verdict {
	case layout.Unknown:
		f.Message = fmt.Sprintf("how much of the stub of %s is left for the nut over %s hangs on a dimension that is missing", k.motor.Name, k.prop.Name)
		f.Fix = "measure " + dimNames(f.Missing)
	case layout.Fail, layout.Tight:
		f.Fix = fmt.Sprintf("take a prop with a hub of %s or thinner, or a stub of %s or longer",
			mm(down(hub.Value+f.Worst, 0.1)), mm(up(stub.Value-f.Worst, 0.1)))
		if wash > 0 {
			f.Fix += ", or a flange nut in place of nut and washer"
		}
	}
	p.Report(f)

	g := p.mountFinding(k)
	grip := layout.Of(hub).Shift(wash)
	shank := layout.Of(stub).Sub(layout.Of(thread))
	g.A.Z += far * (hub.Value + wash)
	g.B.Z += far * shank.Nominal()
	g = g.Judge(grip, shank)
	g.Message = fmt.Sprintf("the nut clamps %s of hub%s, and the stub of %s is without thread for its first %s",
		mm(hub.Value), with, k.motor.Name, mm(g.Needed))
	switch g.Verdict {
	case layout.Unknown:
		g.Message = fmt.Sprintf("whether the thread of %s reaches down to the hub of %s hangs on a dimension that is missing", k.motor.Name, k.prop.Name)
		g.Fix = "measure " + dimNames(g.Missing)
	case layout.Fail:
		g.Message += fmt.Sprintf(": the nut stops %s above the hub", mm(-g.Margin))
		g.Fix = fmt.Sprintf("put a metal washer of %s under the nut, or take a thicker hub", mm(up(-g.Worst, 0.1)))
	case layout.Tight:
		g.Fix = fmt.Sprintf("have a metal washer of %s at hand, and see that the nut pulls the hub tight", mm(up(-g.Worst, 0.1)))
	}
	p.Report(g)
}

// rootFinding judges the blade roots over the shoulder of the bell.
func (p *Pass) rootFinding(k *pairing) {
	motor, prop := k.motor.Motor, k.prop.Prop
	if !isMissing(prop.HubD) && !isMissing(motor.BellD) && prop.HubD.Value >= motor.BellD.Value {
		return // the bell is no wider than the hub: no blade passes over it
	}
	f := p.mountFinding(k)
	f.AtMost = true
	drop := layout.Of(known(prop.BelowHub, k.prop.Name+" below hub"))
	room, whose := layout.Fixed(rootDrop), "common bells clear"
	if motor.Shoulder != nil {
		room, whose = layout.Of(motor.Shoulder), "the bell of "+k.motor.Name+" clears"
	}
	f = f.Judge(drop, room)
	sink := 1.0
	if k.below {
		sink = -1
	}
	f.B.Z -= sink * f.Measured
	f.Message = fmt.Sprintf("the blade roots of %s hang %s below their seat, %s %s", k.prop.Name, mm(f.Measured), whose, mm(f.Needed))
	spacer := fmt.Sprintf("a metal spacer of %s that grips on both sides, or another prop", mm(up(-f.Worst, 0.5)))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether the blade roots of %s clear the bell hangs on a dimension that is missing", k.prop.Name)
		f.Fix = "measure " + dimNames(f.Missing) + " with the hub on a flat table"
	case f.Verdict == layout.Fail && motor.Shoulder == nil:
		// Deeper than common, and nobody said how far this bell falls away: not a proof.
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{known(nil, k.motor.Name+" shoulder below its prop seat")}
		f.Fix = "measure how far the bell falls away below the prop seat and say it as `shoulder:`; if the prop rubs when turned by hand, take " + spacer
	case f.Verdict == layout.Fail:
		f.Fix = "take " + spacer
	case f.Verdict == layout.Tight:
		f.Fix = "put the prop on and turn it by hand before the first flight; if it rubs, take " + spacer
	}
	p.Report(f)
}
