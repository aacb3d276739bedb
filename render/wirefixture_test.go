package render_test

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// wireClass is a class of wire: gauge, outside and g/m.
func wireClass(awg, od, grams float64) *shapes.Part {
	name := fmt.Sprintf("wire-%g", awg)
	return &shapes.Part{Name: name, Kind: shapes.WireKind, Title: fmt.Sprintf("silicone wire %g AWG", awg),
		Wire: &shapes.Wire{Gauge: awg, OD: &shapes.Dim{Name: "outside", Value: od}, MassPerM: &shapes.Dim{Value: grams}}}
}

// along is a leg on a level through the given points, z mm high.
func along(level string, z float64, pts ...r2.Point) layout.Leg {
	l := layout.Leg{Kind: layout.LegAlong, Level: level, Z0: z, Z1: z}
	for i := 1; i < len(pts); i++ {
		s := geom.Seg{A: pts[i-1], B: pts[i]}
		l.Path.Segs = append(l.Path.Segs, s)
		l.Path.Length += s.Length()
	}
	l.Length = l.Path.Length
	return l
}

// drop is an upright leg.
func drop(at r2.Point, from, to float64) layout.Leg {
	return layout.Leg{Kind: layout.LegDrop, At: at, Z0: from, Z1: to, Length: math.Abs(to - from)}
}

// pin is one end of a wire to be.
type pin struct {
	name, way string
	at        r2.Point
	role      shapes.Role
}

// circuit joins two parts of the craft with wires of one gauge, one for each pair of pins,
// along the given legs. Each wire is cut 10 mm longer than the route.
func (c *craft) circuit(name string, kind layout.CircuitKind, from, to *layout.Component, gauge *shapes.Part, a, b []pin, colours []string, legs ...layout.Leg) *layout.Circuit {
	k := &layout.Circuit{ID: "wires." + name, Label: name, Kind: kind, From: from, To: to, Slack: dim(10), Spec: &layout.WireSpec{}}
	n := len(a)
	k.OD = &shapes.Dim{Value: gauge.Wire.OD.Value * []float64{1, 1, 2, 2.15}[min(n, 3)], Plus: 0.1, Minus: 0.1}
	if n > 3 {
		k.OD.Value = 1.15 * gauge.Wire.OD.Value * math.Sqrt(float64(n))
	}
	k.Route = &layout.Route{Legs: legs}
	for _, l := range legs {
		k.Route.Length += l.Length
	}
	end := func(p pin, of *layout.Component) *layout.Terminal {
		id := of.ID + "." + p.name
		if p.way != "" {
			id += "." + p.way
		}
		return &layout.Terminal{ID: id, Owner: of, Name: p.name, Way: p.way, Role: p.role, At: p.at, Pad: &shapes.Pad{Name: p.name}}
	}
	for i := range a {
		w := &layout.Wire{ID: fmt.Sprintf("%s.%d", k.ID, i+1), Way: string(a[i].role), From: end(a[i], from), To: end(b[i], to), Role: a[i].role,
			Gauge: gauge, Colour: colours[i], StripA: 3, StripB: 3}
		if kind == layout.MotorCircuit {
			w.Way = fmt.Sprintf("phase %d", i+1)
		}
		w.Cut = layout.Of(&shapes.Dim{Name: "routed", Value: k.Route.Length + 10, Plus: 2, Minus: 2})
		w.Grams = layout.Fixed(w.Cut.Nominal() / 1000 * gauge.Wire.MassPerM.Value)
		k.Wires = append(k.Wires, w)
	}
	c.asm.Circuits = append(c.asm.Circuits, k)
	return k
}

func (c *craft) find(id string) *layout.Component {
	for _, k := range c.asm.Components {
		if k.ID == id {
			return k
		}
	}
	panic("no component " + id)
}

// row is n pins of one pad, side by side.
func row(name string, mid, step r2.Point, role shapes.Role, n int) []pin {
	var out []pin
	for i := range n {
		out = append(out, pin{name, fmt.Sprint(i + 1), mid.Add(step.Mul(float64(i) - float64(n-1)/2)), role})
	}
	return out
}

// newWired is the craft of the bench with wires: motor leads along the arms, the pack's pair
// from the roof over the rear edge, a harness between the boards, a receiver, and a pair
// under the flight board.
func newWired() *craft {
	c := newCraft()
	battery := c.find("battery").Part
	battery.Kind, battery.Pack = shapes.Battery, &shapes.Pack{Cells: 6, CellFull: 4.2, Capacity: dim(1300), Discharge: 100}
	for i, k := range c.asm.Components {
		kinds := map[string]shapes.Kind{"rotors.front-left.motor": shapes.MotorKind, "stacks.main.esc-board": shapes.EscFour, "stacks.main.flight-board": shapes.Controller, "mounts.receiver": shapes.Receiver}
		if kind, ok := kinds[k.ID]; ok {
			c.asm.Components[i].Part.Kind = kind
		}
	}
	esc, fc := c.find("stacks.main.esc-board"), c.find("stacks.main.flight-board")
	motorWire, packWire, thin := wireClass(20, 1.8, 6.6), wireClass(12, 4.5, 43.1), wireClass(28, 1.2, 1.9)
	phase := []string{"blue", "violet", "brown"}
	for i, r := range c.asm.Rotors {
		u := r.At.Normalize()
		s := r2.Point{X: math.Copysign(1, r.At.X), Y: math.Copysign(1, r.At.Y)}
		pad := xy(13*s.X, 16*s.Y)
		k := c.circuit("motor-"+r.Name, layout.MotorCircuit, r.Motor, esc, motorWire,
			row("leads", r.At.Sub(u.Mul(13)), xy(-u.Y, u.X).Mul(2), shapes.MotorRole, 3),
			row(fmt.Sprintf("m%d", i+1), pad, xy(3.4, 0), shapes.MotorRole, 3), phase,
			along("plates.base.top", 7, r.At.Sub(u.Mul(13)), u.Mul(40), pad.Add(xy(3*s.X, 8*s.Y))),
			drop(pad.Add(xy(3*s.X, 8*s.Y)), 7, 12),
			along("over stacks.main.esc-board", 12, pad.Add(xy(3*s.X, 8*s.Y)), pad))
		k.Hung = &shapes.Dim{Value: 150}
		k.Route.Ties = []layout.TiePlace{{At: u.Mul(75), Z: 7, To: "plates.base", Along: 22}, {At: u.Mul(50), Z: 7, To: "plates.base", Along: 47}}
	}
	k := c.circuit("pack", layout.PackCircuit, c.find("battery"), esc, packWire,
		[]pin{{"lead", "pack", xy(-46, 3), shapes.PackRole}, {"lead", "ground", xy(-46, -3), shapes.GroundRole}},
		[]pin{{"pack", "", xy(-17, 4), shapes.PackRole}, {"ground", "", xy(-17, -4), shapes.GroundRole}}, []string{"red", "black"},
		along("plates.roof.top", 34, xy(-46, 0), xy(-57, 0)), drop(xy(-57, 0), 34, 9),
		along("plates.base.top", 7, xy(-57, 0), xy(-55, 12), xy(-35, 12), xy(-24, 0), xy(-17, 0)))
	k.Mate = &shapes.Part{Name: "xt60"}
	k.Hung = &shapes.Dim{Value: 60}
	k.Route.Edges = []layout.EdgePlace{{Plate: "plates.roof", At: xy(-55, 0), Sharp: true, Along: 9}}
	k.Spec.Sleeve = &shapes.Part{Name: "sleeve-1-2-in", Kind: shapes.SleeveKind, Sleeve: &shapes.Sleeve{Supplied: dim(12.7)}}
	ways := []pin{{"fc", "ground", xy(-3.6, 17), shapes.GroundRole}, {"fc", "battery", xy(-2.4, 17), shapes.PackRole}, {"fc", "m1", xy(-1.2, 17), shapes.SignalRole},
		{"fc", "m2", xy(0, 17), shapes.SignalRole}, {"fc", "m3", xy(1.2, 17), shapes.SignalRole}, {"fc", "m4", xy(2.4, 17), shapes.SignalRole}}
	var up []pin
	for _, p := range ways {
		p.name = "esc"
		p.at = p.at.Add(xy(8, 0))
		up = append(up, p)
	}
	c.circuit("esc-harness", layout.HarnessKind, esc, fc, thin, ways, up, []string{"black", "red", "white", "grey", "green", "yellow"},
		along("over stacks.main.esc-board", 12, xy(-0.6, 17), xy(-0.6, 21), xy(7.4, 21)), drop(xy(7.4, 21), 12, 19),
		along("over stacks.main.flight-board", 19, xy(7.4, 21), xy(7.4, 17)))
	rx := c.find("mounts.receiver")
	c.circuit("receiver", layout.SignalCircuit, fc, rx, thin,
		[]pin{{"rx", "supply", xy(-16, -8), shapes.Supply5Role}, {"rx", "ground", xy(-16, -10), shapes.GroundRole}, {"rx", "signal", xy(-16, -12), shapes.SignalRole}},
		[]pin{{"supply", "", xy(-41, -4), shapes.FeedRole}, {"ground", "", xy(-41, -2), shapes.GroundRole}, {"signal", "", xy(-41, 0), shapes.SignalRole}},
		[]string{"orange", "black", "green"},
		along("over stacks.main.flight-board", 19, xy(-16, -10), xy(-24, -10)), drop(xy(-24, -10), 19, 8),
		along("plates.base.top", 6, xy(-24, -10), xy(-30, 16), xy(-36, 16), xy(-38, -2), xy(-41, -2)))
	return c
}

// wireFaults are findings about wires: a lead that a prop reaches, on the arm of the front left
// motor, and a way that meets another in the plug between the boards.
func wireFaults() []layout.Outcome {
	return []layout.Outcome{
		{Rule: "wire-sweep", Status: layout.Judged, Findings: []layout.Finding{{
			Rule: "wire-sweep", Verdict: layout.Fail, Subjects: []string{"wires.motor-front-left", "rotors.front-left.prop"}, Unit: shapes.MM,
			HasMeasure: true, Measured: -3, Needed: 2, Margin: -5, Worst: -5.5, HasPlace: true,
			A: r3.Vector{X: 45, Y: 45, Z: 7}, B: r3.Vector{X: 45, Y: 45, Z: 21},
			Message: "Between its ties the lead can rise 3 mm into the disc.", Fix: "Tie it down once more."}}},
		{Rule: "pin-order", Status: layout.Judged, Findings: []layout.Finding{{
			Rule: "pin-order", Verdict: layout.Fail, Subjects: []string{"wires.esc-harness.3"}, HasPlace: true,
			A: r3.Vector{X: 6.8, Y: 17, Z: 19}, B: r3.Vector{X: 6.8, Y: 17, Z: 19},
			Message: "m1 meets m4.", Fix: "Swap the ways in the plug."}}},
	}
}
