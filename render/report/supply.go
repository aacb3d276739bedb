package report

import (
	"strings"

	"dryfit/layout"
	"dryfit/shapes"
)

// writeSupply tells what the supply of a wired build has to bear, what that rests on, and
// the cautions before its first pack. A build without wires has none.
func writeSupply(b *strings.Builder, asm *layout.Assembly) {
	if len(asm.Circuits) == 0 {
		return
	}
	s := asm.Supply()
	lines := s.Lines()
	if len(lines) == 0 {
		return
	}
	b.WriteString("\nsupply\n")
	for _, l := range lines {
		text := strings.TrimLeft(l, " ")
		pad := strings.Repeat(" ", 2+len(l)-len(text))
		b.WriteString(Wrap(pad, pad+"  ", text, Width) + "\n")
	}
	for _, l := range s.Assumed {
		b.WriteString(Wrap("  assumed: ", "    ", l, Width) + "\n")
	}
	for _, l := range layout.SupplyCautions() {
		b.WriteString(Wrap("  caution: ", "    ", l, Width) + "\n")
	}
}

type jsonSupply struct {
	Packs    []jsonPackUse `json:"packs,omitempty"`
	Rails    []jsonRailUse `json:"rails,omitempty"`
	Leads    []jsonLeadUse `json:"leads,omitempty"`
	Nets     []jsonNet     `json:"nets,omitempty"`
	Assumed  []string      `json:"assumed,omitempty"`
	Cautions []string      `json:"cautions,omitempty"`
}

type jsonPackUse struct {
	Packs  []string    `json:"packs"`
	Full   float64     `json:"full-volts"`
	Sag    float64     `json:"sagging-volts"`
	Steady jsonCurrent `json:"steady"`
	Hover  jsonCurrent `json:"hover"`
	Max    jsonCurrent `json:"full-throttle"`
}

type jsonRailUse struct {
	Owner string      `json:"owner"`
	Volts float64     `json:"volts"`
	Gives jsonCurrent `json:"gives"`
	Load  jsonCurrent `json:"load"`
	Loads []jsonLoad  `json:"loads,omitempty"`
}

type jsonLoad struct {
	Owner string      `json:"owner"`
	Amps  jsonCurrent `json:"amps"`
	Why   string      `json:"why,omitempty"`
}

type jsonLeadUse struct {
	Wire  string       `json:"wire"`
	Hover jsonCurrent  `json:"hover"`
	Max   jsonCurrent  `json:"full-throttle"`
	MM    *jsonCurrent `json:"length,omitempty"`
	Drop  *jsonCurrent `json:"drop,omitempty"` // V along this conductor alone
}

// jsonCurrent is a figure with its extremes at worst case, in A, or in V and mm where its
// key says so. With a figure missing it holds nothing but that figure's name.
type jsonCurrent struct {
	Nominal *float64 `json:"nominal,omitempty"`
	Least   *float64 `json:"least,omitempty"`
	Most    *float64 `json:"most,omitempty"`
	Missing []string `json:"missing,omitempty"`
}

type jsonNet struct {
	Kind   string   `json:"kind"`
	Volts  float64  `json:"volts,omitempty"`
	Places []string `json:"places"`
}

func currentJSON(f layout.Form) jsonCurrent {
	var c jsonCurrent
	for _, d := range f.Missing() {
		c.Missing = append(c.Missing, d.Name)
	}
	if len(c.Missing) > 0 {
		return c
	}
	lo, hi := f.Worst()
	c.Nominal, c.Least, c.Most = round(f.Nominal()), round(lo), round(hi)
	return c
}

// supplyJSON is the supply of a wired build, nil for one without wires.
func supplyJSON(asm *layout.Assembly) *jsonSupply {
	if len(asm.Circuits) == 0 {
		return nil
	}
	s := asm.Supply()
	out := &jsonSupply{Assumed: s.Assumed, Cautions: layout.SupplyCautions()}
	for _, u := range s.Packs {
		p := jsonPackUse{Full: *round(u.Full), Sag: *round(u.Sag), Steady: currentJSON(u.Steady), Hover: currentJSON(u.HoverA), Max: currentJSON(u.FullA)}
		for _, k := range u.Packs {
			p.Packs = append(p.Packs, k.ID)
		}
		out.Packs = append(out.Packs, p)
	}
	for _, u := range s.Rails {
		r := jsonRailUse{Owner: u.Owner.ID, Volts: u.Volts, Load: currentJSON(u.Load)}
		rated := &shapes.Dim{Name: u.Owner.Label + " amps", Missing: true}
		if u.Rail != nil {
			rated = u.Rail.Amps
		}
		r.Gives = currentJSON(layout.Of(rated))
		for _, l := range u.Loads {
			r.Loads = append(r.Loads, jsonLoad{l.Owner.ID, currentJSON(l.Amps), l.Why})
		}
		out.Rails = append(out.Rails, r)
	}
	for _, u := range s.Leads {
		l := jsonLeadUse{Wire: u.Wire.ID, Hover: currentJSON(u.Hover), Max: currentJSON(u.Full)}
		if u.Routed {
			length, drop := currentJSON(u.Length), currentJSON(u.Drop)
			l.MM, l.Drop = &length, &drop
		}
		out.Leads = append(out.Leads, l)
	}
	for _, n := range s.Nets {
		if n.Kind == layout.OtherNet {
			continue
		}
		j := jsonNet{Kind: string(n.Kind), Volts: n.Rated()}
		for _, p := range n.Places {
			for _, t := range p.Terminals {
				j.Places = append(j.Places, t.ID)
			}
		}
		out.Nets = append(out.Nets, j)
	}
	return out
}
