package layout

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/shapes"
)

// weighWires makes a component of each circuit that has a way, with the mass that it adds
// and the middle of its way.
//
// A motor's mass includes its leads as they are bought, so its circuit adds what is used of
// them less what comes with it: mostly less than nothing, as they are cut shorter. A pack's
// mass includes its own lead and half of the pair of plugs; its circuit adds the wire behind
// the plug and the other half. Antennas weigh with their cable, and their circuits add
// nothing.
func (r *resolver) weighWires() {
	var each []Form
	for _, c := range r.asm.Circuits {
		if c.Route == nil || c.Route.Blocked != nil || c.Kind == CoaxCircuit {
			continue
		}
		if c.Mate == nil && (c.From.Part.Pack != nil && c.ToPlug != nil || c.To.Part.Pack != nil && c.FromPlug != nil) {
			continue // the pack's own lead goes all the way
		}
		var grams Form
		for _, w := range c.Wires {
			grams = grams.Add(w.Grams)
			if c.Kind == MotorCircuit {
				if m, bought := w.Gauge.Wire.MassPerM, boughtLead(c.From.Part); m != nil && bought != nil {
					grams = grams.Plus(bought, -m.Value/1000)
				}
			}
		}
		if c.Mate != nil && c.Mate.Plug != nil {
			grams = grams.Plus(c.Mate.Plug.MassPair, 0.5)
		}
		at, z := c.Route.middle()
		q := &Component{
			ID: c.ID, Label: c.Label, Kind: "wires", Pos: c.Pos, Count: len(c.Wires), Base: Fixed(z),
			Mass: Mass{Grams: grams, X: at.X, Y: at.Y, Z: z, Guess: true},
		}
		q.Pose.Shift = at
		r.add(q, "")
		each = append(each, grams)
	}
	r.asm.WireMass = Form{}
	for _, g := range each {
		r.asm.WireMass = r.asm.WireMass.Add(g)
	}
	if n := r.asm.WireMass.Nominal(); n > 0 && r.b.Allowance != nil && !r.b.Allowance.Missing {
		_, left := r.asm.allowanceLeft(r.b.Allowance)
		r.note("mass: %s g of wire are counted one by one; of the %s g allowed for wire, solder and ties %s g stay for solder and ties",
			mm(round2(n)), mm(round2(r.b.Allowance.Value)), mm(round2(left.Value)))
	}
}

func round2(v float64) float64 { return float64(int64(v*100+0.5)) / 100 }

// boughtLead is the length of the leads that a motor's mass includes, nil when it is not known.
func boughtLead(p *shapes.Part) *shapes.Dim {
	if p == nil || p.Motor == nil || p.Motor.LeadLength == nil || p.Motor.LeadLength.Missing {
		return nil
	}
	return p.Motor.LeadLength
}

// middle is the middle of a route by length, of every piece its own.
func (r *Route) middle() (r2.Point, float64) {
	t := newTrack(r)
	var at r2.Point
	z, sum := 0.0, 0.0
	for i := range t.spans {
		sp := &t.spans[i]
		d := sp.to - sp.from
		p := sp.at
		if sp.flat {
			p = sp.seg.At(0.5)
		}
		at = at.Add(p.Mul(d))
		z += d * (sp.z0 + sp.z1) / 2
		sum += d
	}
	if sum <= 0 {
		if len(r.Legs) > 0 {
			return r.Legs[0].At, r.Legs[0].Z0
		}
		return at, 0
	}
	return at.Mul(1 / sum), z / sum
}

// Mass in g of the solder of one joint of a power lead, 0.3 to 0.5 as the trade counts it for
// leads of 16 AWG and thicker, and of the ties of a craft, 1 to 2: what an allowance stands for
// when every wire is counted by itself. A thinner lead takes solder by its section.
const (
	solderJoint = 0.4
	solderGauge = 14.0
	tieMass     = 1.5
)

// solderOf is the solder of one joint of a wire. Three gauges are half a section.
func solderOf(p *shapes.Part) float64 {
	if p == nil || p.Wire == nil || p.Wire.Gauge <= solderGauge+2 {
		return solderJoint
	}
	return solderJoint * math.Pow(2, -(p.Wire.Gauge-solderGauge)/3)
}

// allowanceLeft is what is left of an allowance for wire, solder and ties beside the wires
// that are counted one by one: their mass is taken out of it, but not what solder and ties
// weigh by themselves. Its tolerance shrinks with it.
func (a *Assembly) allowanceLeft(whole *shapes.Dim) (taken float64, left *shapes.Dim) {
	wires := max(0, a.WireMass.Nominal())
	if wires <= 0 || whole.Value <= 0 {
		return 0, whole
	}
	least := tieMass
	for _, c := range a.Circuits {
		if c.Kind == MotorCircuit || c.Kind == PackCircuit {
			for _, w := range c.Wires {
				for _, bared := range []float64{w.StripA, w.StripB} {
					if bared > 0 {
						least += solderOf(w.Gauge)
					}
				}
			}
		}
	}
	rest := max(whole.Value-wires, min(least, whole.Value))
	d := *whole
	d.Value = rest
	d.Plus, d.Minus = whole.Plus*rest/whole.Value, whole.Minus*rest/whole.Value
	return whole.Value - rest, &d
}
