package layout

import (
	"fmt"
	"math"
	"sort"

	"dryfit/geom"
	"dryfit/shapes"
)

// LeadUse is what one conductor of a circuit carries.
type LeadUse struct {
	Circuit     *Circuit
	Wire        *Wire
	Net         *Net // of the supply that it belongs to; of grounds the supply's that they return
	Hover, Full Form // A
	Lanes       int  // equal conductors that share the current, at least 1
	// Ring says that there is a second way round for the current, so that this lead is
	// reckoned with all of it.
	Ring bool
	// Length is the conductor in mm, the lead that comes with a part included; Routed is false
	// where nobody knows it.
	Length Form
	Routed bool
	Ohm    Form // Ω at the warmth that [warmth] gives
	Drop   Form // V at full throttle along this conductor alone
}

// Warmth of wires: what their resistance is reckoned at. Copper gains 0.393 % a kelvin over
// what it has at 20 °C; wires under load are 40 to 60 K warmer than the air.
const (
	copperPerKelvin = 0.00393
	warmWire        = 60.0 // °C
	warmPlus        = 40.0 // to 100 °C
	warmMinus       = 40.0 // to 20 °C
	ohmTol          = 0.05 // strand counts vary by 5 % between makers
)

// findLeads works out what every conductor of a supply carries. What a ground carries is
// what the supplies of its circuit do.
func (s *Supply) findLeads() {
	for _, c := range s.asm.Circuits {
		var sum struct{ hover, full Form }
		var net *Net
		ring, grounds := false, 0
		first := len(s.Leads)
		for _, w := range c.Wires {
			n := s.NetOf(w.From)
			if w.Role == shapes.GroundRole {
				grounds++
				continue
			}
			if n == nil || n.Kind != PackNet && n.Kind != RailNet {
				continue
			}
			u := s.leadOf(n, c, w)
			sum.hover, sum.full = sum.hover.Add(u.Hover), sum.full.Add(u.Full)
			net, ring = n, ring || u.Ring
			s.Leads = append(s.Leads, u)
		}
		if net == nil {
			continue
		}
		for _, w := range c.Wires {
			if w.Role != shapes.GroundRole {
				continue
			}
			k := 1 / float64(grounds)
			u := &LeadUse{Circuit: c, Wire: w, Net: net, Hover: sum.hover.Scale(k), Full: sum.full.Scale(k), Lanes: grounds, Ring: ring}
			s.measure(u)
			s.Leads = append(s.Leads, u)
		}
		added := s.Leads[first:]
		at := func(u *LeadUse) int {
			for i, w := range c.Wires {
				if w == u.Wire {
					return i
				}
			}
			return -1
		}
		sort.SliceStable(added, func(i, j int) bool { return at(added[i]) < at(added[j]) })
	}
}

func (s *Supply) leadOf(n *Net, c *Circuit, w *Wire) *LeadUse {
	u := &LeadUse{Circuit: c, Wire: w, Net: n, Lanes: 1}
	for _, e := range n.Wires {
		if e.Wire != w {
			continue
		}
		cut, lanes := n.beyond(e.A, e.B)
		if len(cut) == 0 && e.A != e.B {
			cut, u.Ring = n.Places, true
		}
		var d draw
		for _, p := range cut {
			q, _ := s.placeDraw(p, nil)
			d = d.plus(q)
		}
		u.Lanes = max(1, lanes)
		k := 1 / float64(u.Lanes)
		full, _ := limited(n, s.atFull(d))
		u.Hover, u.Full = d.atHover().Scale(k), full.Scale(k)
	}
	s.measure(u)
	return u
}

// measure fills in length, resistance and drop.
func (s *Supply) measure(u *LeadUse) {
	var hung Form
	var hungOhm Form
	u.Length, hung, u.Routed = u.Circuit.Conductor(u.Wire)
	warm := s.warmth()
	u.Ohm = u.Length.Times(ohmPerMM(u.Wire.Gauge)).Times(warm)
	if pack := hungGauge(u.Circuit); pack > 0 {
		hungOhm = hung.Times(solidOhmPerMM(pack)).Times(warm)
	} else {
		hungOhm = hung.Times(ohmPerMM(u.Wire.Gauge)).Times(warm)
	}
	u.Length, u.Ohm = u.Length.Add(hung), u.Ohm.Add(hungOhm)
	u.Drop = u.Full.Times(u.Ohm)
}

// hungGauge is the gauge in AWG of the lead that a pack brings, 0 if the circuit has none.
func hungGauge(c *Circuit) float64 {
	if c.Mate == nil {
		return 0
	}
	for _, e := range []*Component{c.From, c.To} {
		if e.Part != nil && e.Part.Pack != nil {
			return e.Part.Pack.LeadGauge
		}
	}
	return 0
}

// Conductor returns the length of one conductor in mm: what is cut for it, and the lead that
// a pack brings, which lies before its plug. ok is false where the circuit has no route; the
// form then lacks a dimension.
func (c *Circuit) Conductor(w *Wire) (cut, hung Form, ok bool) {
	if c.Mate != nil && c.Hung != nil {
		hung = Of(c.Hung)
	}
	if c.Route == nil || c.Route.Blocked != nil || w.Cut.Nominal() <= 0 {
		return Of(missingFigure("routed length of "+c.Label, shapes.MM)), hung, false
	}
	return w.Cut, hung, true
}

// warmth is the factor of resistance by temperature.
func (s *Supply) warmth() Form {
	t := &shapes.Dim{
		Name: "warmth of the wire", Value: warmWire, Plus: warmPlus, Minus: warmMinus, HasTol: true,
		Source: shapes.Assumed, TolSource: shapes.Assumed,
	}
	return Of(t).Scale(copperPerKelvin).Shift(1 - 20*copperPerKelvin)
}

// ohmPerMM is the resistance of a wire at 20 °C in Ω per mm: of its class, else of the solid
// conductor.
func ohmPerMM(p *shapes.Part) Form {
	if p == nil || p.Wire == nil {
		return Of(missingFigure("resistance of a wire", ""))
	}
	if p.Wire.OhmPerKm <= 0 {
		return solidOhmPerMM(p.Wire.Gauge)
	}
	return perMM(p.Name, p.Wire.OhmPerKm)
}

// solidOhmPerMM is that of a gauge: diameter 0.127·92^((36 − n)/39) mm (ASTM B258), copper of
// 0.017241 Ω·mm²/m.
func solidOhmPerMM(awg float64) Form {
	d := 0.127 * math.Pow(92, (36-awg)/39)
	return perMM(fmt.Sprintf("wire of %g AWG", awg), 17.241/geom.DiscArea(d))
}

func perMM(name string, ohmPerKm float64) Form {
	return Of(&shapes.Dim{
		Name: name + " resistance in Ω per km", Value: ohmPerKm, Plus: ohmTol * ohmPerKm, Minus: ohmTol * ohmPerKm, HasTol: true,
		Source: shapes.Catalogue, TolSource: shapes.Assumed, Conf: "K", Kind: "trade",
	}).Scale(1e-6)
}

// LeadsOf returns the supply conductors of a circuit in its order, none for circuits that
// carry no supply.
func (s *Supply) LeadsOf(c *Circuit) []*LeadUse {
	var out []*LeadUse
	for _, u := range s.Leads {
		if u.Circuit == c {
			out = append(out, u)
		}
	}
	return out
}

// MotorAmps returns what a motor takes hovering and at full throttle; ok is false for what is
// no motor of a rotor.
func (s *Supply) MotorAmps(motor *Component) (hover, full Form, ok bool) {
	for _, u := range s.motors {
		if u.motor == motor {
			return u.hover, u.full, true
		}
	}
	return Form{}, Form{}, false
}

// Driver returns the speed controller that a motor is wired to, nil for none.
func (s *Supply) Driver(motor *Component) *Component {
	for _, u := range s.motors {
		if u.motor == motor {
			return u.esc
		}
	}
	return nil
}
