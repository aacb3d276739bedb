package layout

import (
	"math"
	"slices"

	"dryfit/shapes"
)

// gauges lists the wires of a library by gauge, thickest first; coax is not among them.
func gauges(lib *shapes.Library) []*shapes.Part {
	var out []*shapes.Part
	for _, p := range lib.ByKind(shapes.WireKind) {
		if p.Wire != nil && !p.Wire.Coax {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(a, b *shapes.Part) int {
		switch {
		case a.Wire.Gauge < b.Wire.Gauge:
			return -1
		case a.Wire.Gauge > b.Wire.Gauge:
			return 1
		}
		return 0
	})
	return out
}

// stockedGauge returns the wire whose gauge is nearest to awg and no further than within
// from it, nil for none.
func stockedGauge(lib *shapes.Library, awg, within float64) *shapes.Part {
	var best *shapes.Part
	for _, p := range gauges(lib) {
		if d := abs(p.Wire.Gauge - awg); d <= within && (best == nil || d < abs(best.Wire.Gauge-awg)-1e-9) {
			best = p
		}
	}
	return best
}

// Gauges by use, AWG, as the trade takes them: signals and 5 V 26 to 30, the supply of a
// video transmitter 24 to 26.
const (
	signalGauge = 28
	videoSupply = 26
	legGauge    = 20 // wire on a capacitor's legs: as thick as they are
)

// ampsGauge is the gauge that builders take for a steady current on short leads: the
// supply leads of speed controllers, 22 to 24 AWG up to 12 A, 18 to 20 up to 20 A, 16 to 18
// up to 35 A, 14 to 16 up to 50 A and 14 above.
func ampsGauge(amps float64) float64 {
	switch {
	case amps <= 0:
		return signalGauge
	case amps <= 1:
		return signalGauge
	case amps <= 2.5:
		return videoSupply
	case amps <= 12:
		return 22
	case amps <= 20:
		return 18
	case amps <= 35:
		return 16
	case amps <= 50:
		return 14
	}
	return 12
}

// phaseGauge is the gauge of a motor's leads by its current, where its class does not say
// it: 24 to 26 AWG up to 12 A, 20 to 22 up to 20 A, 18 to 20 above, 16 from 60 A.
func phaseGauge(amps float64) float64 {
	switch {
	case amps <= 12:
		return 24
	case amps <= 20:
		return 22
	case amps <= 35:
		return 20
	case amps <= 60:
		return 18
	}
	return 16
}

// chooseGauge is the wire for one conductor of a circuit by use.
func (r *resolver) chooseGauge(l *link, from, to *Component) *shapes.Part {
	role := l.role()
	awg := float64(signalGauge)
	a, b := from.Part, to.Part
	switch {
	case role == shapes.AntennaRole:
		return r.coaxFor(a, b)
	case role == shapes.MotorRole:
		awg = phaseGauge(0)
		if a != nil && a.Motor != nil {
			awg = a.Motor.LeadGauge
			if awg <= 0 {
				awg = phaseGauge(value(a.Motor.MaxCurrent))
			}
		}
	case role == shapes.PackRole, role == shapes.GroundRole && l.packReturn():
		awg = packGauge(a, b)
	case power(role) || role == shapes.GroundRole:
		for _, p := range []*shapes.Part{a, b} {
			if p != nil && p.Kind == shapes.VideoTx {
				awg = videoSupply
			}
		}
		awg = min(awg, ampsGauge(value(drawOf(l, a, b))))
	}
	if awg < signalGauge && (r.smallPlug(l.a.port) || r.smallPlug(l.b.port)) {
		awg = signalGauge // what crimps into the small plugs: 26 to 30 AWG
	}
	return stockedGauge(r.b.Parts, awg, 40)
}

// smallPlug tells the plugs of signal wires, up to 3 A a way, from those of packs.
func (r *resolver) smallPlug(p *shapes.Port) bool {
	if p == nil {
		return false
	}
	plug := r.shared(p.Plug)
	return plug == nil || plug.Plug == nil || plug.Plug.Rated <= 3
}

// packReturn tells whether a ground carries a pack's current: it lies beside a pack wire.
func (l *link) packReturn() bool { return l.beside == shapes.PackRole }

func drawOf(l *link, a, b *shapes.Part) *shapes.Dim {
	if l.b.pad != nil && l.b.pad.Draws != nil {
		return l.b.pad.Draws
	}
	if l.b.role == shapes.FeedRole && b != nil {
		return b.Draw
	}
	if l.a.role == shapes.FeedRole && a != nil {
		return a.Draw
	}
	return nil
}

// packGauge is the gauge of a lead at pack voltage: that of the pack's own lead where there
// is one, a speed controller's by its current, else by what the part draws.
func packGauge(a, b *shapes.Part) float64 {
	for _, p := range []*shapes.Part{a, b} {
		if p != nil && p.Pack != nil && p.Pack.LeadGauge > 0 {
			return p.Pack.LeadGauge
		}
	}
	for _, p := range []*shapes.Part{a, b} {
		if p != nil && p.Kind == shapes.Capacitor {
			return legGauge
		}
	}
	for _, p := range []*shapes.Part{b, a} {
		if p != nil && p.Kind == shapes.EscSingle && p.Amps != nil {
			return ampsGauge(value(p.Amps))
		}
	}
	for _, p := range []*shapes.Part{b, a} {
		if p == nil {
			continue
		}
		switch p.Kind {
		case shapes.EscFour, shapes.AllInOne, shapes.PowerBoard:
			if p.Amps != nil && (a == nil || b == nil || board(a) && board(b)) {
				return ampsGauge(4 * value(p.Amps))
			}
		default:
			if p.Draw != nil {
				return ampsGauge(value(p.Draw))
			}
		}
	}
	return 24
}

func board(p *shapes.Part) bool {
	switch p.Kind {
	case shapes.EscFour, shapes.AllInOne, shapes.PowerBoard:
		return true
	}
	return false
}

// coaxFor is the cable of an antenna: as thick as its own stem where that is a cable, else
// the thin one of the small plugs.
func (r *resolver) coaxFor(a, b *shapes.Part) *shapes.Part {
	want := 1.13
	for _, p := range []*shapes.Part{a, b} {
		if p != nil && p.Antenna != nil && p.Antenna.RodD != nil && p.Antenna.RodD.Value < 3 {
			want = p.Antenna.RodD.Value
		}
	}
	var best *shapes.Part
	for _, p := range r.b.Parts.ByKind(shapes.WireKind) {
		if p.Wire != nil && p.Wire.Coax && (best == nil || abs(value(p.Wire.OD)-want) < abs(value(best.Wire.OD)-want)-1e-9) {
			best = p
		}
	}
	if best == nil {
		return stockedGauge(r.b.Parts, signalGauge, 40)
	}
	return best
}

// roundFactor is the diameter of the smallest circle round n equal circles of diameter 1
// (proven for n up to 13; the classical packings of equal circles in a circle).
func roundFactor(n int) float64 {
	table := []float64{0, 1, 2, 2.1547, 2.4142, 2.7013, 3, 3, 3.3048, 3.6131, 3.8130, 3.9238, 4.0296, 4.2361}
	if n < len(table) {
		return table[n]
	}
	// More of them lie about as 3 parts of wire to 1 of air.
	return math.Sqrt(float64(n) / bundlePacking)
}

// bundlePacking is the share of a bundle's section that mixed wires fill: loosely laid
// round wires fill about three quarters.
const bundlePacking = 0.75

// bundleOD is the diameter round wires that run together, as [WiresOD] says, and round the sleeve over them.
func bundleOD(name string, wires []*shapes.Part, sleeve *shapes.Part) *shapes.Dim {
	ods := make([]*shapes.Dim, len(wires))
	for i, p := range wires {
		ods[i] = p.Wire.OD
	}
	out := WiresOD(name, ods)
	if !out.Missing && sleeve != nil && sleeve.Sleeve != nil {
		out.Value += 2 * value(sleeve.Sleeve.Wall)
	}
	return out
}

// WiresOD is the diameter in mm round wires of these outsides that run together; 0 for none, missing where one of
// them is. Equal wires lie as the smallest circle round equal circles; unequal ones fill [bundlePacking] of the
// section, and the bundle is at least as wide as its two thickest.
func WiresOD(name string, ods []*shapes.Dim) *shapes.Dim {
	out := &shapes.Dim{Name: name, Unit: shapes.MM, Source: shapes.Catalogue, TolSource: shapes.Catalogue, HasTol: true, Range: true}
	equal := true
	for _, d := range ods {
		equal = equal && d == ods[0]
		if d == nil || d.Missing {
			out.Missing = true
			return out
		}
	}
	size := func(of func(d *shapes.Dim) float64) float64 {
		var sum, first, second float64
		for _, o := range ods {
			d := of(o)
			sum += d * d
			if d > first {
				first, second = d, first
			} else if d > second {
				second = d
			}
		}
		if equal {
			return roundFactor(len(ods)) * first
		}
		return max(math.Sqrt(sum/bundlePacking), first+second)
	}
	typ := size(func(d *shapes.Dim) float64 { return d.Value })
	out.Value = typ
	out.Plus = size(func(d *shapes.Dim) float64 { return d.Value + d.Plus }) - typ
	out.Minus = typ - size(func(d *shapes.Dim) float64 { return d.Value - d.Minus })
	return out
}

// leastBend is the least inside radius of a bundle's bends, mm: that of its stiffest wire,
// three times its diameter where its class does not say.
func leastBend(wires []*shapes.Part) float64 {
	bend := 0.0
	for _, p := range wires {
		b := 3 * value(p.Wire.OD)
		if p.Wire.MinBend != nil && !p.Wire.MinBend.Missing {
			b = p.Wire.MinBend.Value
		}
		bend = max(bend, b)
	}
	return bend
}

// colourOf is the colour of a wire by its function. Red for the pack's positive side and
// black for ground are the trade's; the others are our choice. n counts the signals before
// it in the circuit.
func colourOf(l *link, n int) string {
	switch l.role() {
	case shapes.PackRole:
		return "red"
	case shapes.GroundRole:
		return "black"
	case shapes.MotorRole:
		return []string{"yellow", "blue", "brown"}[l.a.num%3]
	case shapes.Supply5Role:
		return "orange"
	case shapes.Supply9Role, shapes.Supply12, shapes.FeedRole:
		return "violet"
	case shapes.Supply3Role:
		return "pink"
	case shapes.VideoRole:
		return "yellow"
	case shapes.AntennaRole:
		return "grey"
	}
	return []string{"white", "blue", "green", "brown", "grey", "turquoise"}[n%6]
}

// Slack in mm that builders leave over what is routed: a soldered lead 10 (5..20), one with
// a plug 20 (10..40), so that it can be soldered once more or pulled off.
func slackOf(label string, plugged bool) *shapes.Dim {
	d := &shapes.Dim{Name: label + " slack", Value: 10, Plus: 10, Minus: 5, Unit: shapes.MM, Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true, Range: true, Conf: "K", Kind: "trade"}
	if plugged {
		d.Value, d.Plus, d.Minus = 20, 20, 10
	}
	return d
}

// stripLength is what is bared at a soldered end, mm: 3 (2..5).
const stripLength = 3.0
