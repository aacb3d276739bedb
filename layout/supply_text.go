package layout

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dryfit/shapes"
)

// SupplyCautions are the lines to print where a supply is described: what can hurt someone
// or burn at the first connection. Local codes and the pack's own sheet come first.
func SupplyCautions() []string {
	return []string{
		"Take the props off for every test under power on the bench.",
		"Check polarity with a meter at the pads, and that pack and ground are not joined, before the first pack is plugged in.",
		"First power-up through a current-limited supply or a fused lead, with a hand on the plug.",
		"Lithium packs: charge them attended and away from what burns, never use a swollen or dented one, and never let the two leads touch while soldering; solder with the pack away.",
		"A hot iron and flux fumes: eye protection and moving air. Local codes decide, and licensed practice where they ask for it.",
	}
}

// say notes what the currents rest on.
func (s *Supply) say() {
	if len(s.motors) == 0 {
		return
	}
	s.Assumed = append(s.Assumed,
		fmt.Sprintf("full throttle of several motors takes %g %% of the sum of their peaks (%s to %s): peaks are measured one by one, on a fresh pack with the largest usual prop",
			100*togetherShare, trimmed(100*togetherShare-s.share.Minus), trimmed(100*togetherShare+s.share.Plus)),
		"hovering takes (mass / greatest thrust) to the power 1.5 of it: power of an ideal rotor",
		fmt.Sprintf("a pack gives steadily half of what its label says, and falls to %g V a cell under load", SagPerCell),
		fmt.Sprintf("regulators give on %g %% of what they take and hold their voltage to %g %%", 100*converterShare, 100*railTol),
		fmt.Sprintf("wires at %g °C (%g to %g)", warmWire, warmWire-warmMinus, warmWire+warmPlus))
	s.Assumed = append(s.Assumed, s.limitLines()...)
}

// limitLines tell which packs the firmware holds.
func (s *Supply) limitLines() []string {
	var out []string
	for _, u := range s.Packs {
		if u.Limited {
			out = append(out, fmt.Sprintf("the firmware holds %s to %s, as the build says; set it before the first flight", u.Packs[0].Label, amps(u.FullA)))
		}
	}
	return out
}

// Lines returns the supply summary as lines of text, for reports and for the sheet of who is
// joined to whom: packs, expected currents, rails with their loads, and what each supply
// lead drops at full throttle. It has no lines for a build with neither wires nor packs.
// Cautions and assumptions are not among them: see [SupplyCautions] and Assumed.
func (s *Supply) Lines() []string {
	var out []string
	for _, u := range s.Packs {
		var names []string
		for _, k := range u.Packs {
			names = append(names, k.Label)
		}
		steady := "its discharge rate is not said"
		if len(u.Steady.Missing()) == 0 {
			steady = "gives " + amps(u.Steady) + " steadily"
		}
		out = append(out, fmt.Sprintf("%s: %s V full (%s), %s V sagging, %s", strings.Join(names, " and "), trimmed(u.Full), u.FullName, trimmed(u.Sag), steady))
		if len(s.motors) > 0 {
			out = append(out, fmt.Sprintf("  hovering %s, full throttle %s", amps(u.HoverA), amps(u.FullA)))
		}
	}
	for _, u := range s.Rails {
		give := "what it gives is not said"
		if u.Rail != nil && !u.Rail.Amps.Missing {
			give = "of " + amps(Of(u.Rail.Amps))
		}
		out = append(out, fmt.Sprintf("%s V of %s: %s %s", trimmed(u.Volts), u.Owner.Label, amps(u.Load), give))
		for _, l := range u.Loads {
			line := "  " + l.Owner.Label + " " + amps(l.Amps)
			if l.Why != "" {
				line += " " + l.Why
			}
			out = append(out, line)
		}
	}
	for _, c := range s.asm.Circuits {
		if line := s.leadLine(c); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// leadLine tells the greatest current of a supply circuit and what it drops there and back.
func (s *Supply) leadLine(c *Circuit) string {
	var most *LeadUse
	for _, u := range s.LeadsOf(c) {
		if u.Wire.Role != shapes.GroundRole && (most == nil || u.Full.Nominal() > most.Full.Nominal()) {
			most = u
		}
	}
	if most == nil {
		return ""
	}
	line := fmt.Sprintf("%s, %s: hovering %s, full throttle %s", c.Label, gaugeName(most.Wire.Gauge), amps(most.Hover), amps(most.Full))
	if drop, ok := s.DropThereAndBack(c); ok {
		line += fmt.Sprintf(", drops %s mV there and back", trimmed(1000*drop.Nominal()))
	} else {
		line += ", length not known"
	}
	return line
}

func gaugeName(p *shapes.Part) string {
	if p == nil || p.Wire == nil || p.Wire.Gauge <= 0 {
		return "no gauge"
	}
	return trimmed(p.Wire.Gauge) + " AWG"
}

// DropThereAndBack returns the voltage in V that a supply circuit loses at full throttle: on
// its way there with the greatest drop and on its ground. ok is false where it carries no
// supply or its length is not known.
func (s *Supply) DropThereAndBack(c *Circuit) (Form, bool) {
	var there, back *LeadUse
	for _, u := range s.LeadsOf(c) {
		if !u.Routed {
			return Form{}, false
		}
		into := &there
		if u.Wire.Role == shapes.GroundRole {
			into = &back
		}
		if *into == nil || u.Drop.Nominal() > (*into).Drop.Nominal() {
			*into = u
		}
	}
	switch {
	case there == nil:
		return Form{}, false
	case back == nil:
		return there.Drop, true
	}
	return there.Drop.Add(back.Drop), true
}

// amps writes a current, with what is missing for it.
func amps(f Form) string {
	if m := f.Missing(); len(m) > 0 {
		return "? A (no " + m[0].Name + ")"
	}
	return trimmed(f.Nominal()) + " A"
}

// trimmed writes a number for reading: two decimals under 10, one under 100, else none; no
// trailing zeros and no -0.
func trimmed(v float64) string {
	n := 2
	switch a := math.Abs(v); {
	case a >= 100:
		n = 0
	case a >= 10:
		n = 1
	}
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
