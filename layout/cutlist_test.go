package layout

import (
	"math"
	"testing"

	"dryfit/shapes"
)

// twoCircuits are a motor's three leads, 150 mm as bought, of which 111.2 ±3 are used, and a
// pair of 28 AWG in a sleeve, 40.0 mm by the route and 62.000 to cut.
func twoCircuits() *Assembly {
	thick := &shapes.Part{Name: "wire-20", Wire: &shapes.Wire{Gauge: 20}}
	thin := &shapes.Part{Name: "wire-28", Wire: &shapes.Wire{Gauge: 28}}
	sleeve := &shapes.Part{Name: "sleeve-1-8-in", Sleeve: &shapes.Sleeve{Supplied: &shapes.Dim{Value: 3.18}}}
	motor, board := &Component{ID: "rotors.front-left.motor"}, &Component{ID: "stacks.main.esc-board"}
	cut := Of(&shapes.Dim{Value: 111.2, Plus: 3, Minus: 3})
	a := &Circuit{From: motor, To: board, Kind: MotorCircuit, Hung: &shapes.Dim{Value: 150}, Route: &Route{Length: 98.2}, Spec: &WireSpec{}}
	for range 3 {
		a.Wires = append(a.Wires, &Wire{Gauge: thick, Cut: cut, Grams: Fixed(0.75)})
	}
	b := &Circuit{From: board, To: motor, Kind: SupplyCircuit, Route: &Route{Length: 40}, Spec: &WireSpec{Sleeve: sleeve}}
	for range 2 {
		b.Wires = append(b.Wires, &Wire{Gauge: thin, Cut: Fixed(62), Grams: Fixed(0.118)})
	}
	return &Assembly{Circuits: []*Circuit{a, b}}
}

// By hand: 111.2 mm are cut at 112, which leaves 150 − 112 = 38 of the lead; three make
// 336 mm and 2.25 g. 62.000 mm stay 62: two make 124 mm and 0.236 g. One sleeve of 40 mm.
func TestCutListByHand(t *testing.T) {
	list := twoCircuits().CutList()
	if len(list.Lines) != 5 {
		t.Fatalf("%d lines, want 5", len(list.Lines))
	}
	for i, want := range []struct {
		no               int
		cut, spare, plus float64
		lead             bool
	}{{1, 112, 38, 3, true}, {1, 112, 38, 3, true}, {1, 112, 38, 3, true}, {2, 62, 0, 0, false}, {2, 62, 0, 0, false}} {
		l := &list.Lines[i]
		if l.No != want.no || math.Abs(l.Cut-want.cut)+math.Abs(l.Spare-want.spare)+math.Abs(l.Plus-want.plus) > 1e-9 || (l.Lead != nil) != want.lead {
			t.Errorf("line %d: no %d, cut %v, spare %v, plus %v, lead %v; want %+v", i, l.No, l.Cut, l.Spare, l.Plus, l.Lead != nil, want)
		}
	}
	if len(list.Gauges) != 2 || list.Gauges[0].Lead || !list.Gauges[1].Lead {
		t.Fatalf("gauges %+v: want what is cut, then the leads", list.Gauges)
	}
	for i, want := range []struct {
		wires     int
		mm, grams float64
	}{{2, 124, 0.236}, {3, 336, 2.25}} {
		g := list.Gauges[i]
		if g.Wires != want.wires || math.Abs(g.MM-want.mm) > 1e-9 || math.Abs(g.Grams-want.grams) > 1e-9 {
			t.Errorf("%s: %d wires, %v mm, %v g; want %+v", g.Gauge.Name, g.Wires, g.MM, g.Grams, want)
		}
	}
	if len(list.Sleeves) != 1 || list.Sleeves[0].Pieces != 1 || list.Sleeves[0].MM < 40 || list.Sleeves[0].MM > 40 {
		t.Errorf("sleeves %+v, want one of 40 mm", list.Sleeves)
	}
	wires, mm, grams := list.Total(false)
	if wires != 2 || math.Abs(mm-124) > 1e-9 || math.Abs(grams-0.236) > 1e-9 {
		t.Errorf("to cut: %d wires, %v mm, %v g", wires, mm, grams)
	}
}

// A circuit without a way has lines but counts in no total; a lead that is too short has a
// negative spare: 150 − 160 = −10.
func TestCutListWithoutWay(t *testing.T) {
	asm := twoCircuits()
	asm.Circuits[1].Route.Blocked = &Blocked{}
	for _, w := range asm.Circuits[0].Wires {
		w.Cut = Fixed(159.5)
	}
	list := asm.CutList()
	if len(list.Lines) != 5 || list.Lines[3].Routed || list.Lines[3].Cut > 0 {
		t.Errorf("lines %+v", list.Lines)
	}
	if len(list.Gauges) != 1 || !list.Gauges[0].Lead || len(list.Sleeves) != 0 {
		t.Errorf("totals count what has no way: %+v %+v", list.Gauges, list.Sleeves)
	}
	if s := list.Lines[0].Spare; math.Abs(s+10) > 1e-9 {
		t.Errorf("spare %v, want -10", s)
	}
}

// A pack's lead ends at its plug: what is cut from there on comes from stock.
func TestCutListOfAPack(t *testing.T) {
	asm := twoCircuits()
	c := asm.Circuits[0]
	c.Kind, c.Mate = PackCircuit, &shapes.Part{Name: "xt60"}
	if l := asm.CutList().Lines[0]; l.Lead != nil || l.Spare > 0 {
		t.Errorf("the wire beyond the pack's plug counts as its lead: %+v", l)
	}
}

func TestWholeMM(t *testing.T) {
	for _, c := range []struct{ in, want float64 }{{0, 0}, {62, 62}, {62.0000001, 62}, {62.001, 63}, {111.2, 112}} {
		if got := WholeMM(c.in); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v becomes %v, want %v", c.in, got, c.want)
		}
	}
}
