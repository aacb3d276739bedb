package rules

import (
	"fmt"
	"sort"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
)

// rotorHands asks whether turns, blades and nuts are handed to suit each other.
var rotorHands = &Rule{
	Name:     "rotor-hands",
	Group:    "rotors",
	Question: "are turns, blades and nuts handed to suit each other",
	Why: "With two neighbours that turn alike the craft spins about itself or flips on take-off, and so it does with a prop of the wrong hand. " +
		"A plain nut unwinds on the motor that turns with its thread and throws the prop.",
	Need: "Round the craft neighbours turn against each other, and so do the two rotors of a pair on one axis. A prop's hand is that of its rotor. " +
		"A plain right-handed nut is not for a motor that turns clockwise seen from the nut's side, nor a left-handed one for a motor that " +
		"turns the other way; a nut with insert, the usual one, holds on both.",
	How: "Turns as said in the build, seen from above; neighbours by bearing from the middle of the rotors. An odd ring cannot alternate and is " +
		"told as it is. A motor below its arm shows its nut from below, where its turn looks the other way round. No numbers, so no tolerance.",
	Fix: "change a turn, swap the props, take nuts with insert or a left-handed stud",
	Run: runRotorHands,
}

func runRotorHands(p *Pass) {
	if len(p.Asm.Rotors) == 0 {
		p.Nothing("the build has no rotors")
		return
	}
	before := len(p.findings)
	p.checkRing()
	for _, r := range p.Asm.Rotors {
		p.checkAxis(r)
		p.checkBlade(r)
		p.checkNut(r)
	}
	if len(p.findings) > before {
		return
	}
	left, right := 0, 0
	for _, r := range p.Asm.Rotors {
		if r.Clockwise {
			right++
		} else {
			left++
		}
	}
	first := p.Asm.Rotors[0]
	word := "neighbours turn against each other"
	if n := len(ring(p.Asm.Rotors)); n < 2 {
		word = "there is no neighbour to turn against"
	} else if n%2 == 1 {
		word = "an odd ring cannot alternate all round"
	}
	p.Report(layout.Finding{
		Verdict:  layout.OK,
		Subjects: []string{motorID(first)},
		Near:     "all rotors",
		Message:  fmt.Sprintf("%d clockwise and %d counter-clockwise rotors: %s, and no blade or nut is of the wrong hand", right, left, word),
		Pos:      first.Pos,
	})
}

// ring returns the rotors in order of their bearing from the middle of them all, one of
// each pair on one axis.
func ring(all []*layout.Rotor) []*layout.Rotor {
	var mid r2.Point
	var out []*layout.Rotor
next:
	for _, r := range all {
		for _, o := range out {
			if o.At.Sub(r.At).Norm() < 1e-6 {
				continue next
			}
		}
		out = append(out, r)
		mid = mid.Add(r.At)
	}
	if len(out) > 0 {
		mid = mid.Mul(1 / float64(len(out)))
	}
	bearing := func(r *layout.Rotor) s1.Angle { return geom.Heading(r.At.Sub(mid)) }
	sort.SliceStable(out, func(i, j int) bool {
		return bearing(out[i]) < bearing(out[j])
	})
	return out
}

// checkRing reports neighbours that turn alike. On an odd ring one pair of neighbours
// must, so only a second such pair is a fault.
func (p *Pass) checkRing() {
	list := ring(p.Asm.Rotors)
	n := len(list)
	if n < 2 {
		return
	}
	var alike [][2]*layout.Rotor
	for i, a := range list {
		b := list[(i+1)%n]
		if n == 2 && i == 1 {
			break
		}
		if a.Clockwise == b.Clockwise {
			alike = append(alike, [2]*layout.Rotor{a, b})
		}
	}
	if n%2 == 1 && len(alike) == 1 {
		return
	}
	times := func(r *layout.Rotor) (n int) {
		for _, pair := range alike {
			if pair[0] == r || pair[1] == r {
				n++
			}
		}
		return n
	}
	for _, pair := range alike {
		a, b := pair[0], pair[1]
		if times(a) > times(b) {
			a, b = b, a // the one that is at odds with both its neighbours is the one to change
		}
		p.reportAlike(a, b)
	}
}

// checkAxis reports the two rotors of a pair on one axis if they turn alike, once.
func (p *Pass) checkAxis(r *layout.Rotor) {
	for _, o := range p.Asm.Rotors {
		if o == r {
			return // the pair is told at the later of the two
		}
		if o.At.Sub(r.At).Norm() < 1e-6 && o.Clockwise == r.Clockwise {
			p.reportAlike(o, r)
		}
	}
}

// reportAlike tells that a and b turn alike; b is the one to change.
func (p *Pass) reportAlike(a, b *layout.Rotor) {
	how := "neighbours"
	if a.At.Sub(b.At).Norm() < 1e-6 {
		how = "on one axis"
	}
	p.Report(layout.Finding{
		Verdict:  layout.Fail,
		Subjects: []string{motorID(b), motorID(a)},
		HasPlace: true,
		A:        lift(a.At, a.Seat.Nominal()),
		B:        lift(b.At, b.Seat.Nominal()),
		Near:     spoken(a.Name) + " and " + spoken(b.Name),
		Message: fmt.Sprintf("the %s and %s rotors are %s and both turn %s",
			spoken(a.Name), spoken(b.Name), how, turning(a.Clockwise)),
		Fix: fmt.Sprintf("let the %s rotor turn %s", spoken(b.Name), turning(!b.Clockwise)),
		Pos: b.Pos,
	})
}

// checkBlade reports a prop of the other hand than its rotor's turn. The hand is that
// of the blades seen from above with the lift upwards, so it is the same for motors
// below their arm.
func (p *Pass) checkBlade(r *layout.Rotor) {
	want := turning(r.Clockwise)
	if r.Hand == "" || r.Hand == want {
		return
	}
	at := lift(r.At, r.Seat.Nominal())
	p.Report(layout.Finding{
		Verdict:  layout.Fail,
		Subjects: []string{propID(r), motorID(r)},
		HasPlace: true, A: at, B: at,
		Near:    spoken(r.Name),
		Message: fmt.Sprintf("the %s rotor turns %s and carries a %s prop, which blows upwards", spoken(r.Name), want, r.Hand),
		Fix:     fmt.Sprintf("fit a %s prop there, or turn the motor %s", want, r.Hand),
		Pos:     r.Pos,
	})
}

// checkNut reports a nut without insert on a motor that unwinds it. A nut lags behind
// when its motor speeds up: a right-handed one is unwound by a motor that turns
// clockwise as seen from the nut.
func (p *Pass) checkNut(r *layout.Rotor) {
	motor := motorOf(r)
	if motor == nil || !heldByNut(motor.Mounts) || r.Nut == "" || r.Nut == "insert" {
		return
	}
	leftHanded := motor.LeftHand || r.Nut == "left-hand"
	clockwise := r.Clockwise != r.Below
	if clockwise == leftHanded {
		return
	}
	hand, turn := "right-handed", turning(clockwise)
	if leftHanded {
		hand = "left-handed"
	}
	seen := ""
	if r.Below {
		seen = ", seen from its nut below,"
	}
	other := "a left-handed stud with its nut"
	if leftHanded {
		other = "a right-handed stud with its nut"
	}
	at := lift(r.At, r.Seat.Nominal())
	p.Report(layout.Finding{
		Verdict:  layout.Fail,
		Subjects: []string{motorID(r), propID(r)},
		HasPlace: true, A: at, B: at,
		Near:    spoken(r.Name),
		Message: fmt.Sprintf("the %s motor turns %s%s and unwinds its plain %s nut", spoken(r.Name), turn, seen, hand),
		Fix:     fmt.Sprintf("take a nut with insert there (`nut: insert`), or %s", other),
		Pos:     r.Pos,
	})
}

func heldByNut(mounts []string) bool {
	for _, s := range mounts {
		if m, ok := readMount(s); ok && m.how == "nut" {
			return true
		}
	}
	return false
}
