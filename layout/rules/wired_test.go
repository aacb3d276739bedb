package rules

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// Assemblies made by hand, for rules that judge routed lengths: there the length of a way is
// what the test says, and not what a router finds.

// bench makes such an assembly piece by piece.
type bench struct{ asm *layout.Assembly }

func newBench() *bench { return &bench{&layout.Assembly{Needs: map[string]layout.Need{}}} }

var benchPos = read.Pos{File: "bench.yaml", Line: 1, Col: 1}

func (b *bench) part(id string, p *shapes.Part) *layout.Component {
	p.Name = id
	c := &layout.Component{ID: "mounts." + id, Label: id, Kind: "part", Part: p, Pos: benchPos, Count: 1}
	b.asm.Components = append(b.asm.Components, c)
	return c
}

// pack is a battery of so many cells with a lead of so many mm of 12 AWG.
func (b *bench) pack(cells int, lead float64) *layout.Component {
	c := b.part("battery", &shapes.Part{Kind: shapes.Battery, Pack: &shapes.Pack{Cells: cells, CellFull: 4.2, Plug: "xt60", LeadGauge: 12, LeadLength: &shapes.Dim{Name: "pack lead", Value: lead, Unit: shapes.MM}}})
	b.asm.Packs = append(b.asm.Packs, &layout.Pack{Component: c})
	return c
}

// copper is a wire of so many Ω per km and outside of so many mm.
func copper(ohm, od float64) *shapes.Part {
	return &shapes.Part{Name: "copper", Kind: shapes.WireKind, Wire: &shapes.Wire{
		Gauge: 12, OD: &shapes.Dim{Name: "outside", Value: od, Unit: shapes.MM}, OhmPerKm: ohm,
		Amps: &shapes.Dim{Name: "amps", Value: 1000}, Burst: &shapes.Dim{Name: "burst", Value: 1000},
	}}
}

// path is a straight level way.
func path(from, to r2.Point, z float64) *layout.Route {
	length := to.Sub(from).Norm()
	return &layout.Route{Length: length, Legs: []layout.Leg{{Kind: layout.LegAlong, Z0: z, Z1: z, Length: length, Path: geom.Path{Length: length, Segs: []geom.Seg{{A: from, B: to}}}}}}
}

// join wires two parts with the roles given at both ends, on a way with that cut length.
func (b *bench) join(kind layout.CircuitKind, from, to *layout.Component, roles []shapes.Role, gauge *shapes.Part, route *layout.Route, cut float64) *layout.Circuit {
	c := &layout.Circuit{
		ID: "wires." + from.Label + "-" + to.Label, Label: from.Label + "-" + to.Label, Kind: kind, From: from, To: to, Spec: &layout.WireSpec{},
		OD: &shapes.Dim{Name: "bundle", Value: 2 * gauge.Wire.OD.Value}, Slack: &shapes.Dim{Name: "slack"}, Route: route, Pos: benchPos,
	}
	for _, r := range roles {
		end := func(o *layout.Component, at r2.Point) *layout.Terminal {
			t := &layout.Terminal{ID: o.ID + "." + string(r), Owner: o, Name: string(r), Role: r, At: at, Pos: benchPos}
			for _, d := range b.asm.Circuits {
				for _, w := range d.Wires {
					for _, u := range []*layout.Terminal{w.From, w.To} {
						if u.ID == t.ID {
							return u
						}
					}
				}
			}
			return t
		}
		w := &layout.Wire{ID: c.ID + "." + string(r), Way: string(r), From: end(from, r2.Point{}), To: end(to, r2.Point{X: 1}), Role: r, Gauge: gauge}
		if route != nil {
			w.Cut = layout.Fixed(cut)
		}
		c.Wires = append(c.Wires, w)
	}
	if from.Part.Pack != nil {
		c.Hung = from.Part.Pack.LeadLength
		c.Mate = &shapes.Part{Name: "xt60", Kind: shapes.Connector, Plug: &shapes.Plug{Family: "xt60", Ways: 2, Rated: 30, Peak: 60}}
	}
	b.asm.Circuits = append(b.asm.Circuits, c)
	return c
}

func supplyPair() []shapes.Role { return []shapes.Role{shapes.PackRole, shapes.GroundRole} }

// told runs a rule and holds its findings to what is wanted, each "verdict margin" or
// "verdict", in the order of reports.
func (b *bench) told(t *testing.T, rule *Rule, want string) layout.Outcome {
	t.Helper()
	out := Run(b.asm, []*Rule{rule})[0]
	if out.Status == layout.Crashed {
		t.Fatalf("%s crashed: %s", rule.Name, out.Reason)
	}
	for i := range out.Findings {
		checkFinding(t, b.asm, &out.Findings[i])
	}
	if got := verdicts(out); got != want {
		t.Errorf("%s: %s, want %s", rule.Name, got, want)
		for _, f := range out.Findings {
			t.Logf("%v %.4f worst %.4f: %s; %s", f.Verdict, f.Margin, f.Worst, f.Message, f.Fix)
		}
	}
	return out
}

// load is a part that draws so many A from the pack.
func (b *bench) load(id string, amps float64) *layout.Component {
	return b.part(id, &shapes.Part{Kind: shapes.Block, Volts: &shapes.Span{Lo: 5, Hi: 30}, Draw: &shapes.Dim{Name: id + " draw", Value: amps, Unit: shapes.Amp}})
}

func TestWireDrop(t *testing.T) {
	// 20 A over 100 mm cut and the pack's own 80 of 12 AWG: 5.211 Ω/km at 20 °C (π/4·2.053² = 3.3088 mm², 17.241/3.3088),
	// 5 Ω/km of the wire. Warm, at 60 °C: 1 + 40·0.00393 = 1.1572. One way: (100·5 + 80·5.2106)e-6·1.1572 = 0.00106096 Ω;
	// there and back 20·2 times: 0.042438 V of 0.3: 0.2576 left.
	b := newBench()
	b.join(layout.PackCircuit, b.pack(4, 80), b.load("board", 20), supplyPair(), copper(5, 4.5), path(r2.Point{}, r2.Point{X: 180}, 0), 100)
	b.told(t, wireGauge, "ok 0.26")
	// A board on 300 mm of 50 Ω/km: 20·2·(300·50 + 80·5.2106)e-6·1.1572 = 0.7136: 0.4136 too much.
	b = newBench()
	b.join(layout.PackCircuit, b.pack(4, 80), b.load("board", 20), supplyPair(), copper(50, 1.5), path(r2.Point{}, r2.Point{X: 380}, 0), 300)
	out := b.told(t, wireGauge, "fail -0.41")
	if len(out.Findings) == 0 || !strings.Contains(out.Findings[0].Fix, "8 AWG") {
		t.Errorf("the way out: %+v", out.Findings)
	}
	// Nobody knows the length.
	b = newBench()
	b.join(layout.PackCircuit, b.pack(4, 80), b.load("board", 20), supplyPair(), copper(5, 4.5), nil, 0)
	b.told(t, wireGauge, "unknown")
}

func TestGaugeWords(t *testing.T) {
	// Half the resistance is 1.414 times the diameter: log(1.4142)/log(92)·39 = 2.989 steps: from 20 down to 17.01, even: 16.
	if got := thicker(20, math.Sqrt2); got != ", about 16 AWG" {
		t.Errorf("%q", got)
	}
	// One more in current is always one gauge at least.
	if got := thicker(20, 1); got != ", about 18 AWG" {
		t.Errorf("%q", got)
	}
	if got := thicker(9, 2); got != ", or two side by side" {
		t.Errorf("%q", got)
	}
	if bunched(1) < 1 || bunched(2) > 0.81 || bunched(50) < 0.49 {
		t.Error("shares of bundles")
	}
}
