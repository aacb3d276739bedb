package render

import (
	"fmt"
	"math/rand"
	"testing"

	"dryfit/layout"
	"dryfit/shapes"
)

// bench puts parts and circuits together for the schematic; only what it reads is filled in.
type bench struct {
	asm *layout.Assembly
}

func (b *bench) part(name string, kind shapes.Kind) *layout.Component {
	c := &layout.Component{ID: name, Label: name, Part: &shapes.Part{Name: name, Kind: kind}}
	b.asm.Components = append(b.asm.Components, c)
	return c
}

// join adds a circuit with one wire for each pair of pads.
func (b *bench) join(from, to *layout.Component, pads ...[2]string) *layout.Circuit {
	c := &layout.Circuit{ID: fmt.Sprintf("wires.%d", len(b.asm.Circuits)+1), From: from, To: to, Kind: layout.SignalCircuit}
	for i, p := range pads {
		end := func(of *layout.Component, pad string) *layout.Terminal {
			return &layout.Terminal{ID: of.ID + "." + pad, Owner: of, Name: pad, Pad: &shapes.Pad{Name: pad}}
		}
		c.Wires = append(c.Wires, &layout.Wire{ID: fmt.Sprintf("%s.%d", c.ID, i+1), From: end(from, p[0]), To: end(to, p[1]), Role: shapes.SignalRole, Colour: "green"})
	}
	b.asm.Circuits = append(b.asm.Circuits, c)
	return c
}

// Layers run from the pack to the peripherals: battery and motor before the speed controller,
// then the flight controller, the sender and its camera, the camera a layer further on
// because it is joined to the sender too.
func TestLayersOfTheSchematic(t *testing.T) {
	b := &bench{&layout.Assembly{}}
	camera, sender := b.part("camera", shapes.CameraKind), b.part("sender", shapes.VideoTx)
	battery, esc, fc, motor := b.part("battery", shapes.Battery), b.part("esc", shapes.EscFour), b.part("fc", shapes.Controller), b.part("motor", shapes.MotorKind)
	b.join(motor, esc, [2]string{"a", "m1"})
	b.join(battery, esc, [2]string{"lead", "pack"})
	b.join(esc, fc, [2]string{"s", "s"})
	b.join(fc, sender, [2]string{"v", "v"})
	b.join(camera, fc, [2]string{"p", "p"})
	b.join(camera, sender, [2]string{"q", "q"})
	s := newSchematic(b.asm)
	want := map[string]int{"battery": 0, "motor": 0, "esc": 1, "fc": 2, "sender": 3, "camera": 4}
	passed := 0
	for _, n := range s.nodes {
		if n.comp == nil {
			passed++
			if n.layer != 3 {
				t.Errorf("a circuit passes layer %d, want 3: from the flight controller to the camera", n.layer)
			}
			continue
		}
		if n.layer != want[n.comp.ID] {
			t.Errorf("%s in layer %d, want %d", n.comp.ID, n.layer, want[n.comp.ID])
		}
	}
	if passed != 1 {
		t.Errorf("%d places that are passed, want 1", passed)
	}
}

// A power board feeds four speed controllers and the flight controller, which drives them; each
// drives a motor and has a capacitor. With motors behind the controllers it can be drawn without a
// crossing: supplies fan out, motors and signals leave each controller on its other side, the
// signals run between the motors.
func TestSingleControllersCrossNothing(t *testing.T) {
	b := &bench{&layout.Assembly{}}
	board, fc := b.part("power", shapes.PowerBoard), b.part("fc", shapes.Controller)
	b.join(b.part("battery", shapes.Battery), board, [2]string{"+", "in"}, [2]string{"-", "in-ground"})
	for i := range 4 {
		esc := b.part(fmt.Sprintf("esc-%d", i), shapes.EscSingle)
		motor, can := b.part(fmt.Sprintf("motor-%d", i), shapes.MotorKind), b.part(fmt.Sprintf("can-%d", i), shapes.Capacitor)
		b.join(motor, esc, [2]string{"a", "a"}, [2]string{"b", "b"}, [2]string{"c", "c"})
		b.join(can, esc, [2]string{"+", "can"}, [2]string{"-", "can-ground"})
		b.join(board, esc, [2]string{fmt.Sprintf("o%d", i), "in"}, [2]string{fmt.Sprintf("g%d", i), "in-ground"})
		b.join(esc, fc, [2]string{"signal", fmt.Sprintf("s%d", i)})
	}
	b.join(board, fc, [2]string{"out", "pack"}, [2]string{"out-ground", "ground"})
	s := newSchematic(b.asm)
	s.order()
	if n := s.crossings(); n != 0 {
		t.Errorf("%d crossings left, want none", n)
	}
	g := s.grid(1, 200)
	if n := len(bridge(g.wireLines(s), func(int) float64 { return 0.4 }, 0.5)); n != 0 {
		t.Errorf("%d crossings on the sheet, want none", n)
	}
}

// Three motors on pads listed in the other order: the boxes are exchanged, and no wire crosses.
func TestOrderUndoesCrossings(t *testing.T) {
	b := &bench{&layout.Assembly{}}
	esc := b.part("esc", shapes.EscFour)
	for i := range 3 {
		m := b.part(fmt.Sprintf("motor-%d", i), shapes.MotorKind)
		for k := range 3 {
			b.join(m, esc, [2]string{fmt.Sprintf("l%d", k), fmt.Sprintf("p%d%d", 2-i, k)})
		}
	}
	s := newSchematic(b.asm)
	s.order()
	if n := s.crossings(); n != 0 {
		t.Errorf("%d crossings left, want none", n)
	}
}

// The ways of a plug keep their order, so that two that are exchanged are seen to cross; the
// pads of a row may be turned as a whole, and then only an exchange of two crosses.
func TestExchangedWaysCross(t *testing.T) {
	for _, c := range []struct {
		name string
		plug bool
		to   [3]int
		want int
	}{
		{"as they come", true, [3]int{0, 1, 2}, 0},
		{"two ways of a plug", true, [3]int{1, 0, 2}, 1},
		{"a row the other way round", false, [3]int{2, 1, 0}, 0},
		{"two of a row", false, [3]int{1, 0, 2}, 1},
		{"a plug the other way round", true, [3]int{2, 1, 0}, 3},
	} {
		b := &bench{&layout.Assembly{}}
		esc, fc := b.part("esc", shapes.EscFour), b.part("fc", shapes.Controller)
		k := b.join(esc, fc, [2]string{"a", "b"}, [2]string{"a", "b"}, [2]string{"a", "b"})
		// All pads of each end are named first in their true order.
		for _, w := range k.Wires {
			w.From.Pad, w.To.Pad = nil, nil
		}
		ends := [3]*layout.Terminal{k.Wires[0].To, k.Wires[1].To, k.Wires[2].To}
		for i, w := range k.Wires {
			w.To = ends[c.to[i]]
			w.From.Way, w.To.Way = fmt.Sprint(i), fmt.Sprint(c.to[i])
			if c.plug {
				w.From.Port, w.To.Port = &layout.PortPlace{}, &layout.PortPlace{}
				w.From.Pin, w.To.Pin = &shapes.Pin{}, &shapes.Pin{}
				w.From.Port.Port = &shapes.Port{Pins: []shapes.Pin{{Name: "0"}, {Name: "1"}, {Name: "2"}}}
				w.To.Port.Port = w.From.Port.Port
			} else {
				w.From.Pad, w.To.Pad = &shapes.Pad{Ways: 3}, &shapes.Pad{Ways: 3}
			}
		}
		s := newSchematic(b.asm)
		s.order()
		if n := s.crossings(); n != c.want {
			t.Errorf("%s: %d crossings, want %d", c.name, n, c.want)
		}
	}
}

// Over random crafts: boxes of a layer do not overlap, no two wires lie on each other, every
// wire begins and ends at its boxes, and the layout is the same when made again.
func TestSchematicWiresKeepApart(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	kinds := []shapes.Kind{shapes.Battery, shapes.EscFour, shapes.Controller, shapes.MotorKind, shapes.MotorKind, shapes.Receiver, shapes.VideoTx, shapes.CameraKind, shapes.Capacitor, shapes.GPS, shapes.PowerBoard, shapes.EscSingle, shapes.EscSingle, shapes.MotorKind}
	for round := range 60 {
		b := &bench{&layout.Assembly{}}
		var parts []*layout.Component
		for i, k := range kinds[:3+r.Intn(len(kinds)-2)] {
			parts = append(parts, b.part(fmt.Sprintf("part-%d", i), k))
		}
		for range 2 + r.Intn(12) {
			x, y := parts[r.Intn(len(parts))], parts[r.Intn(len(parts))]
			var pads [][2]string
			for range 1 + r.Intn(5) {
				pads = append(pads, [2]string{fmt.Sprintf("p%d", r.Intn(8)), fmt.Sprintf("q%d", r.Intn(8))})
			}
			b.join(x, y, pads...)
		}
		lay := func() (*schematic, schemGrid) {
			s := newSchematic(b.asm)
			s.order()
			return s, s.grid(1, 80)
		}
		s, g := lay()
		again, h := lay()
		for i, w := range s.wires {
			if a, c := fmt.Sprint(g.points(w)), fmt.Sprint(h.points(again.wires[i])); a != c {
				t.Fatalf("round %d: wire %d runs %s once and %s then", round, i, a, c)
			}
		}
		for _, layer := range s.layers {
			for i := 1; i < len(layer); i++ {
				if g.box(layer[i-1]).Hi.Y > g.box(layer[i]).Lo.Y {
					t.Fatalf("round %d: two boxes of a layer overlap", round)
				}
			}
		}
		type run struct {
			wire       int
			upright    bool
			at, lo, hi float64
		}
		var runs []run
		for i, w := range s.wires {
			pts := g.points(w)
			for k := 1; k < len(pts); k++ {
				p, q := pts[k-1], pts[k]
				if p.X == q.X {
					runs = append(runs, run{i, true, p.X, min(p.Y, q.Y), max(p.Y, q.Y)})
				} else if p.Y == q.Y {
					runs = append(runs, run{i, false, p.Y, min(p.X, q.X), max(p.X, q.X)})
				} else {
					t.Fatalf("round %d: wire %d runs askew", round, i)
				}
			}
		}
		for i, a := range runs {
			for _, c := range runs[i+1:] {
				if a.wire != c.wire && a.upright == c.upright && a.at-c.at < 0.1 && c.at-a.at < 0.1 && min(a.hi, c.hi) > max(a.lo, c.lo)-1e-9 {
					t.Fatalf("round %d: wires %d and %d lie on each other: %+v %+v", round, a.wire, c.wire, a, c)
				}
			}
		}
	}
}
